"""Layouts and words: a word list as a sheet, every row set as it is typed, what looks worst first."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from starlette.responses import JSONResponse, Response

from hundredfold.designs.layouts.rows import LAYOUT, NAME, TRAVELLING
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.said import Said
from hundredfold.web.screens.working import seen
from hundredfold.workshop.shop.folder import require_shop
from hundredfold.workshop.shop.starterlayouts import take_starters
from hundredfold.workshop.typeset.liveset import (
    SetRow,
    SheetOfWords,
    begin_list,
    keep_list,
    layout_names,
    open_list,
    pixels_of,
    sample_row,
    set_words,
    word_lists,
)
from hundredfold.workshop.views.pictures import nearest_width, webp
from hundredfold.workshop.work.background import Work

_PAGE = 40  # rows drawn at once
_HELD = 300  # rows kept as they were set, some 50 kB each
_LOOK = 100  # the weight of a look among findings
_SPARE = 3  # empty rows at the foot


@dataclass(frozen=True)
class DrawnRow:
    """A row of the sheet, set."""

    number: int
    cells: tuple[str, ...]
    done: SetRow | None  # None: not set yet; the script asks for it, or ``?all=1``


def lists(ask: Ask) -> Shown:
    """The word lists, and the layouts that they fill."""
    names = layout_names(ask.shop)
    found = word_lists(ask.shop)
    values = {"lists": found, "layouts": names, "work": seen(ask), "sentence": _lists_sentence(found, names)}
    return Shown("layouts.html", values)


def _lists_sentence(found: tuple[object, ...], names: tuple[str, ...]) -> str:
    if not names:
        return "No layout yet."
    if not found:
        return "Begin a word list."
    return f"{counted(len(found), 'word list')}, {counted(len(names), 'layout')}."


def sheet(ask: Ask) -> Shown:
    """One list as a sheet: what looks worst first, or in the list's own order.

    A row takes up to a second to be set, so the page does not wait for those that never were.
    """
    words = open_list(ask.shop, ask.parts["list"])
    own = ask.query.get("order") == "own"
    start = _whole(ask.query.get("from", "")) if own else 0
    chosen = words.rows[start : start + _PAGE] if own else words.rows
    look_up = _set if ask.query.get("all") == "1" else _known
    rows = [DrawnRow(number, cells, look_up(ask, words, number, cells)) for number, cells in chosen]
    if not own:
        rows = sorted(rows, key=lambda one: (-_badness(one), one.number))[:_PAGE]
    look = sum(_badness(one) >= _LOOK for one in rows)
    after = max((number for number, _ in words.rows), default=1)
    values = {
        "words": words,
        "rows": rows,
        "spare": range(after + 1, after + 1 + _SPARE),
        "layouts": layout_names(ask.shop),
        "own": own,
        "start": start,
        "page": _PAGE,
        "work": seen(ask),
        "wide": {LAYOUT, "palette", "picture", NAME, *TRAVELLING},
        "sentence": _sheet_sentence(words, look),
        "first": next(iter(rows), None),
        "unknown": sum(one.done is None for one in rows),
    }
    return Shown("words.html", values)


def _sheet_sentence(words: SheetOfWords, look: int) -> str:
    if not words.rows:
        return "The list is empty yet."
    rows = counted(len(words.rows), "row")
    wants = "wants" if look == 1 else "want"
    return (
        f"{rows}; {look} {wants} a look, shown first." if look else f"{rows}; what looks worst comes first."
    )


def _badness(one: DrawnRow) -> int:
    return one.done.badness if one.done else 0


def _whole(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0


def _set(ask: Ask, words: SheetOfWords, number: int, cells: tuple[str, ...]) -> SetRow:
    """The row set; the same row of the same shop is set once."""
    held, key = ask.keeping.rows, _key(ask, words, cells)
    found = held.get(key)
    if found is None:
        found = set_words(ask.shop, words.file, number, dict(zip(words.headers, cells, strict=False)))
        held[key] = found
        if len(held) > _HELD:
            held.popitem(last=False)
    return found


def _known(ask: Ask, words: SheetOfWords, number: int, cells: tuple[str, ...]) -> SetRow | None:
    return ask.keeping.rows.get(_key(ask, words, cells))


def _key(ask: Ask, words: SheetOfWords, cells: tuple[str, ...]) -> str:
    return hashlib.sha256(repr((words.file, words.headers, cells, _stamp(ask))).encode()).hexdigest()


def _stamp(ask: Ask) -> tuple[object, ...]:
    """What a set row follows from beside its cells."""
    paths = require_shop(ask.shop)
    found = [*sorted(paths.layouts.glob("*.svg")), paths.art, paths.fonts]
    return tuple((one.name, one.stat().st_mtime_ns) for one in found if one.exists())


def picture(ask: Ask) -> Response:
    """A row as it is set; its cells come with the address, so that words not kept yet are set too."""
    words = open_list(ask.shop, ask.parts["list"])
    cells = tuple(ask.query.get(f"c{n}", "") for n in range(len(words.headers)))
    width = nearest_width(_whole(ask.query.get("w", "160")))
    said = json.dumps([words.file, words.headers, cells, width, _stamp(ask)])
    key = hashlib.sha256(said.encode()).hexdigest()

    def draw() -> bytes:
        return _drawn(ask, _set(ask, words, _whole(ask.parts["row"]), cells), width)

    return ask.keeping.pictures.drawn(key, ask.tag, draw)


def _drawn(ask: Ask, done: SetRow, width: int) -> bytes:
    """The set row; an empty sheet where it cannot be set, since what is wrong is said beside it."""
    if done.filled is None or not done.filled.svg:
        return webp(np.zeros((5, 4, 4), np.uint8))
    return webp(pixels_of(ask.shop, done, width))


def told(ask: Ask) -> Response:
    """What is to be known of a row as it is typed, for the page's script."""
    words = open_list(ask.shop, ask.parts["list"])
    cells = tuple(ask.query.get(f"c{n}", "") for n in range(len(words.headers)))
    done = _set(ask, words, _whole(ask.parts["row"]), cells)
    found = [{"severity": severity, "what": what, "fix": fix} for severity, what, fix in done.findings]
    answer = {"found": found, "bad": done.badness, "set": done.filled is not None and bool(done.filled.svg)}
    return JSONResponse(answer, headers={"cache-control": "no-store"})


def keep(ask: Ask) -> Said:
    """Write the rows that the form holds. Raises as ``keep_list`` does."""
    form, name = ask.form, ask.form.text("list")
    words = open_list(ask.shop, name)
    rows, width = _rows_of(form.fields), len(words.headers)
    kept = {number: [cells.get(n, "") for n in range(width)] for number, cells in rows.items()}
    known = {number for number, _ in words.rows}
    kept = {number: cells for number, cells in kept.items() if number in known or any(cells)}
    gone = [number for number, cells in kept.items() if not any(cells)]
    changed = keep_list(ask.shop, name, form.text("digest"), kept, gone)
    back = f"/layouts/{name}"
    said = f"{counted(changed, 'row')} of {name} kept." if changed else "Nothing was changed."
    if form.text("what") == "make":
        ask.keeping.work.start(Work.TYPESET, name)
        return Said(said if changed else "", back)
    return Said(said, back)


def _rows_of(fields: Mapping[str, object]) -> dict[int, dict[int, str]]:
    """The cells ``r4.0`` of a form, by row and column."""
    rows: dict[int, dict[int, str]] = {}
    for name, values in fields.items():
        row, _, column = name.removeprefix("r").partition(".")
        if name.startswith("r") and row.isdecimal() and column.isdecimal() and len(row) < 7 > len(column):
            text = next(iter(values), "") if isinstance(values, list | tuple) else ""
            rows.setdefault(int(row), {})[int(column)] = str(text)
    return rows


def begin(ask: Ask) -> Said:
    """Begin a list for a layout. Raises as ``begin_list`` does."""
    name = begin_list(ask.shop, ask.form.text("name"), ask.form.text("layout"))
    return Said(f"{name} is begun, with the columns of its layout.", f"/layouts/{name}")


def starters(ask: Ask) -> Said:
    """Take the layouts that come with the program."""
    written, kept = take_starters(require_shop(ask.shop).layouts)
    there = f", {len(kept)} were there already" if kept else ""
    return Said(f"{counted(len(written), 'layout')} taken{there}.", "/layouts")


def sample(ask: Ask) -> Response:
    """A layout with words of ours in it, to choose it by."""
    name = ask.parts["layout"]
    if name not in layout_names(ask.shop):
        raise ShopError("no-layout", "the shop has no such layout", "look at the layouts again")
    width = nearest_width(_whole(ask.query.get("w", "240")))
    key = hashlib.sha256(repr(("layout", name, width, _stamp(ask))).encode()).hexdigest()

    def draw() -> bytes:
        return _drawn(ask, set_words(ask.shop, "sample", 1, sample_row(ask.shop, name)), width)

    return ask.keeping.pictures.drawn(key, ask.tag, draw)


ROUTES = (
    screen("/layouts", lists),
    screen("/layouts/{list}", sheet),
    screen("/layouts/{list}/{row}.webp", picture),
    screen("/layouts/{list}/{row}.json", told),
    screen("/layout/{layout}.webp", sample),
    action("/layouts/keep", keep),
    action("/layouts/begin", begin),
    action("/layouts/starters", starters),
)
