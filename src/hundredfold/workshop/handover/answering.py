"""Reads a channel's acceptance file into the ledger."""

from collections.abc import Mapping
from pathlib import Path

from hundredfold.ledger.answers import Answers, read_answers
from hundredfold.workshop.shop.channelfiles import channel_of, columns_of, only_grid, remember_columns
from hundredfold.workshop.shop.desk import Desk


def answer(desk: Desk, file: Path, channel: str, columns: Mapping[str, str] | None = None) -> Answers:
    """Take in a file of answers; reading the same file again changes nothing.

    Raises ShopError ``unknown-channel``, ``no-such-column``, ``which-channel`` and what reading raises.
    """
    code = channel_of(desk.shop, channel)
    grid = only_grid(file)
    asked = columns_of(desk.store, "answer", code, grid, columns or {})
    found = read_answers(grid, code, desk.ledger(), asked)
    remember_columns(desk.store, "answer", code, asked)
    desk.store.append(found.events)
    return found
