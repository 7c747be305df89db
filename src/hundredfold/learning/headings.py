"""Where a sheet's headings stand, what is said about each column, and where its rows begin."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from hundredfold.learning.fields import FieldCatalogue
from hundredfold.learning.meaning import meaning_of
from hundredfold.learning.seen import SeenColumn
from hundredfold.learning.sheet import Seen
from hundredfold.learning.values import is_barcode
from hundredfold.learning.wordlists import KINDS
from hundredfold.learning.words import fold, split_words

WITHIN = 40  # rows in which headings are looked for
_EXAMPLES = 12
_LEAST_NAME = 4
_AGAIN = 0.3  # of a row that the row below says again
_WHOLE_NUMBER = re.compile(r"[\s%£€$+-]*(?!\d{8})\d{0,7}(-\d{1,7})?[\s%£€$+-]*")  # or a range: 10-49
_STRAY = 0.04  # of a row of headings that may look like values
_MUST = re.compile(
    r"\*|\b(required|mandatory|must|pflicht\w*|erforderlich|obligat\w*|obbligator\w*|requis\w*|requerid\w*|richiest\w*)\b"
)
_MAY = re.compile(
    r"\b(optional\w*|facultati\w*|opcional\w*|opzional\w*|freiwillig|if applicable|conditional\w*)\b"
)
_NOT_MUST = re.compile(r"\b(not|nicht|non|no) (required|mandatory|erforderlich|obligat\w*|requis\w*)")
_MOST = re.compile(
    r"(?:max\w*\.?|up to|bis zu|hochstens|jusqu a|hasta|fino a|<=|limit|length)\D{0,12}(\d{1,5})"
    r"|(\d{1,5})\s*(?:char\w*|zeichen|caract\w*|caratteri|car\.)"
)
_EXAMPLE = re.compile(r"^(e\.?g\.?|example|sample|beispiel|bsp|exemple|ejemplo|esempio)\b")
_KEYLIKE = re.compile(r"^[a-z][a-z0-9]*([_.\-#][a-z0-9]+)+$|^[a-z]+([A-Z][a-z0-9]+)+$|^[a-z]{2,}$")


@dataclass(frozen=True)
class Headings:
    """What was found. Rows are 0-based; ``first_row`` is the first that our rows go to."""

    row: int
    first_row: int
    columns: tuple[SeenColumn, ...]
    key_row: int | None = None
    group_row: int | None = None
    example_rows: tuple[int, ...] = ()


def find_headings(sheet: Seen, catalogue: FieldCatalogue) -> Headings | None:
    """The headings of a sheet; None where no row of it says two of the fields."""
    within = range(min(WITHIN, len(sheet.rows)))
    scored = [
        (0.0 if _said_again(sheet, at) else _heading_score(sheet.rows[at], catalogue), -at) for at in within
    ]
    if not scored:
        return None
    best, minus = max(scored)
    row = -minus
    if best < 2:
        return None
    row, key_row = _with_keys(sheet, row, scored)
    notes, first, examples = _below(sheet, max(row, key_row if key_row is not None else row))
    group_row = _group_row(sheet, row, key_row)
    groups = _spread(sheet, group_row) if group_row is not None else {}
    theirs = _theirs(sheet, min(row, key_row if key_row is not None else row))
    columns = tuple(
        replace(one, theirs=theirs) for one in _columns(sheet, row, key_row, groups, notes, examples)
    )
    return Headings(row, first, columns, key_row, group_row, tuple(examples))


def _theirs(sheet: Seen, row: int) -> frozenset[str]:
    """The words of the file's name and of a title above the headings, where a partner's name stands."""
    titles = [next(iter(cells.values())) for cells in sheet.rows[:row] if len(cells) == 1]
    return frozenset(
        word for text in (sheet.file, *titles) for word in split_words(text) if len(word) >= _LEAST_NAME
    )


def _heading_score(cells: Mapping[int, str], catalogue: FieldCatalogue) -> float:
    """How many of a row's cells read like headings of known fields."""
    score = 0.0
    if not _names(cells):
        return score
    for text in cells.values():
        if len(text) > 60 or _valuelike(text):
            continue
        meaning = meaning_of(text)
        if not meaning.notions:
            continue
        explained = max(
            (
                len(way.notions)
                for one in catalogue.fields
                for way in one.ways
                if way.notions <= meaning.known
            ),
            default=0,
        )
        if explained:
            score += explained / (len(meaning.known) + 0.7 * len(meaning.unknown))
    return score + 0.01 * min(len(cells), 50)


def _said_again(sheet: Seen, at: int) -> bool:
    """Whether a row beside says the same in many cells, as rows of values do and headings do not."""
    cells = sheet.rows[at]
    most = max(
        sum(sheet.text(beside, index) == text for index, text in cells.items()) for beside in (at - 1, at + 1)
    )
    return most >= max(2, _AGAIN * len(cells))


def _names(cells: Mapping[int, str]) -> bool:
    """Whether a row's cells could be names: hardly a price, an address or a barcode among them.

    Whole numbers may be: sizes, and the numbers of pieces that a price list has prices for.
    """
    values = sum(_valuelike(text) and not _WHOLE_NUMBER.fullmatch(text) for text in cells.values())
    return values <= _STRAY * len(cells)


def _valuelike(text: str) -> bool:
    return bool(re.fullmatch(r"[\d.,\s%£€$+-]+", text)) or is_barcode(text) or "://" in text or "@" in text


def _with_keys(sheet: Seen, row: int, scored: Sequence[tuple[float, int]]) -> tuple[int, int | None]:
    """The row for people and the row of machine names beside it, where both stand there."""
    if _keys(sheet.rows[row]):
        for beside in (row - 1, row + 1):
            if 0 <= beside < len(scored) and scored[beside][0] >= 2 and _people(sheet.rows[beside]):
                return beside, row
        return row, None
    for beside in (row + 1, row - 1):
        if 0 <= beside < len(sheet.rows) and _keys(sheet.rows[beside]) and len(sheet.rows[beside]) >= 2:
            alike = len(sheet.rows[beside]) >= 0.7 * len(sheet.rows[row])
            if alike and _distinct(sheet.rows[beside]) and scored[beside][0] >= 1:
                return row, beside
    return row, None


def _people(cells: Mapping[int, str]) -> bool:
    """Whether a row beside machine names could be the names for people: hardly a value among them."""
    return not _keys(cells) and sum(map(_valuelike, cells.values())) <= _STRAY * len(cells)


def _keys(cells: Mapping[int, str]) -> bool:
    texts = [text.strip() for text in cells.values()]
    marked = sum(bool(re.search(r"[_.#]|[a-z][A-Z]", text)) for text in texts)
    return bool(texts) and all(_KEYLIKE.match(text) for text in texts) and marked >= 0.3 * len(texts)


def _distinct(cells: Mapping[int, str]) -> bool:
    return len(set(cells.values())) == len(cells)


def _below(sheet: Seen, row: int) -> tuple[list[int], int, list[int]]:
    """The rows of notes under the headings, the row our own begin at, and the rows of examples."""
    notes: list[int] = []
    at = row + 1
    width = len(sheet.rows[row])
    while at < min(row + 6, len(sheet.rows)) and _is_note(sheet.rows[at], width):
        notes.append(at)
        at += 1
    while notes and not sheet.rows[notes[-1]]:  # empty rows after the notes are rows to fill
        at = notes.pop()
    filled = [line for line in range(at, len(sheet.rows)) if len(sheet.rows[line]) >= max(2, 0.15 * width)]
    return notes, at, filled[:_EXAMPLES]


def _is_note(cells: Mapping[int, str], width: int) -> bool:
    if not cells:
        return False
    texts = [fold(text) for text in cells.values()]
    telling = sum(
        bool(_MUST.search(t) or _MAY.search(t) or _MOST.search(t) or _kind_word(t))
        or (len(t) > 70 and " " in t)
        for t in texts
    )
    if len(texts) == 1 and width > 3:
        return not _valuelike(texts[0]) and len(texts[0]) > 15
    return telling >= 0.5 * len(texts)


def _kind_word(text: str) -> bool:
    return text.strip() in KINDS


def _group_row(sheet: Seen, row: int, key_row: int | None) -> int | None:
    """A row of group headings above: fewer cells than the headings, spread by merging or by gaps."""
    above = min(row, key_row) if key_row is not None else row
    at = above - 1
    if at < 0 or not sheet.rows[at] or at == key_row:
        return None
    cells, below = sheet.rows[at], sheet.rows[row]
    merged = any(span[0] == at and span[2] > span[1] for span in sheet.merged)
    few = 2 <= len(cells) <= 0.6 * len(below)
    if not (merged or few) or any(len(text) > 60 for text in cells.values()):
        return None
    return None if merged and len(cells) == 1 and len(below) > 3 and _whole(sheet, at) else at


def _whole(sheet: Seen, row: int) -> bool:
    """Whether one merged cell runs over nearly all columns: a title, not a group."""
    return any(span[0] == row and span[2] - span[1] + 1 >= 0.8 * sheet.width for span in sheet.merged)


def _spread(sheet: Seen, row: int) -> dict[int, str]:
    """A group's heading for each of its columns: as far as it is merged, else up to the next one."""
    cells = sheet.rows[row]
    spans = {span[1]: span[2] for span in sheet.merged if span[0] == row}
    starts = sorted(cells)
    found: dict[int, str] = {}
    for place, start in enumerate(starts):
        until = starts[place + 1] - 1 if place + 1 < len(starts) else sheet.width - 1
        end = spans.get(start, start if spans else until)
        found |= dict.fromkeys(range(start, end + 1), cells[start])
    return found


def _columns(
    sheet: Seen,
    row: int,
    key_row: int | None,
    groups: Mapping[int, str],
    notes: list[int],
    examples: list[int],
) -> Iterator[SeenColumn]:
    keys = sheet.rows[key_row] if key_row is not None else {}
    last = max([*sheet.rows[row], *keys, -1])
    for index in range(last + 1):
        header = sheet.text(row, index)
        said = [sheet.text(at, index) for at in notes if sheet.text(at, index)]
        said += sheet.notes.get(index, ())
        about = fold(" \n ".join([header, *said]))
        values = [sheet.text(at, index) for at in examples]
        yield SeenColumn(
            index,
            header,
            groups.get(index, ""),
            tuple(said),
            sheet.allowed.get(index, ()),
            tuple(_EXAMPLE.sub("", value).strip(" :") for value in values if value),
            bool(_MUST.search(about)) and not _NOT_MUST.search(about) and not _MAY.search(about),
            index in sheet.hidden_columns,
            most_chars(about),
            keys.get(index, ""),
        )


def most_chars(text: str) -> int | None:
    """The length a note sets ("max. 80 characters"); None where it says none."""
    found = _MOST.search(fold(text))
    if not found:
        return None
    chars = int(found[1] or found[2])
    words = split_words(text)
    sized = {"px", "pixel", "pixels", "kb", "mb", "bytes", "mm", "cm", "dpi"} & set(words)
    return chars if 3 <= chars <= 32_767 and not (sized and not found[2]) else None
