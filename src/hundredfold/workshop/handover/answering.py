"""Reads a channel's acceptance file into the ledger."""

from collections.abc import Mapping
from pathlib import Path

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.answers import Answers, read_answers
from hundredfold.ledger.answerwords import own_words
from hundredfold.workshop.shop.channelfiles import channel_of, columns_of, only_grid, remember_columns
from hundredfold.workshop.shop.desk import Desk


def answer(
    desk: Desk,
    file: Path,
    channel: str,
    columns: Mapping[str, str] | None = None,
    words: Mapping[str, str] | None = None,
) -> Answers:
    """Take in a file of answers; reading the same file again changes nothing.

    ``words`` are the channel's own for accepted and refused; they are remembered, as the columns are.
    Raises ShopError ``unknown-channel``, ``no-such-column``, ``bad-column``, ``which-channel`` and what
    reading raises.
    """
    code = channel_of(desk.shop, channel)
    grid = only_grid(file)
    asked = columns_of(desk.store, "answer", code, grid, columns or {})
    said = {**_earlier(desk, code), **(words or {})}
    try:
        meant = own_words(said)
    except ValueError as error:
        fix = 'write it like --word "on the stall=accepted"'
        raise ShopError("bad-column", str(error), fix) from None
    found = read_answers(grid, code, desk.ledger(), asked, meant)
    remember_columns(desk.store, "answer", code, asked)
    if words:
        desk.store.set_setting(f"words answer {code}", said)
    desk.store.append(found.events)
    return found


def _earlier(desk: Desk, code: str) -> dict[str, str]:
    held = desk.store.setting(f"words answer {code}")
    return {str(word): str(meant) for word, meant in held.items()} if isinstance(held, dict) else {}
