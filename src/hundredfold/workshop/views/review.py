"""The proof sheets: a design on a blank, all colours together; which of them want a look, worst first."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.choices import Answer, Choice, ChoiceKey
from hundredfold.proofing.grouping import listed
from hundredfold.workshop.records.proofs import ProofSums
from hundredfold.workshop.steps.kept import PROOFS
from hundredfold.workshop.views.artbook import ArtBook
from hundredfold.workshop.views.looking import Glance, Remembered, look_at
from hundredfold.workshop.views.onedesign import NO_REPAIR, BlankSeen, ColourSeen, blank_seen
from hundredfold.workshop.views.proofsums import ProofSum, SheetSum, proof_at, proof_sums


@dataclass(frozen=True)
class SheetLine:
    """A proof sheet in the row of those to look at. ``follows`` are blanks that are settled along with it."""

    design: str
    title: str
    blank: str
    name: str
    stopped: int
    colours: int
    colour: str  # one that shows what is wrong
    follows: tuple[str, ...] = ()


@dataclass(frozen=True)
class ReviewView:
    """All proof sheets counted, and those that want a look, worst first."""

    total: int
    passing: tuple[SheetLine, ...]
    left_out: tuple[SheetLine, ...]  # every fault is a colour left out by itself: nothing to decide
    following: tuple[SheetLine, ...]
    open: tuple[SheetLine, ...]
    settled: int


def review_view(folder: Path) -> ReviewView:
    """Count the proof sheets. Raises as ``look_at`` does."""
    return _review(look_at(folder))


@dataclass(frozen=True)
class _Wanted:
    """Proof sheets of one design that say the same: one decision settles them."""

    design: str
    lines: tuple[SheetLine, ...]


@dataclass(frozen=True)
class _Sorted:
    """All proof sheets as the proofs alone sort them: nothing here asks what was chosen."""

    passing: tuple[SheetLine, ...]
    left_out: tuple[SheetLine, ...]
    wanted: tuple[_Wanted, ...]


_reviews: Remembered[ReviewView] = Remembered()
_sorts: Remembered[_Sorted] = Remembered()


def _review(look: Glance) -> ReviewView:
    return _reviews.of(look, _with_choices)


def _with_choices(look: Glance) -> ReviewView:
    every = _sorts.of(look, _sort, look.present, look.shop, look.moment.kept)
    retired, choices = look.state.retired, look.state.choices
    following: list[SheetLine] = []
    wanted: list[SheetLine] = []
    settled = 0
    for group in every.wanted:
        if group.design in retired:
            continue
        open_ = [one for one in group.lines if not _is_settled(choices, group.design, one.blank)]
        settled += len(group.lines) - len(open_)
        if open_:
            wanted.append(replace(open_[0], follows=tuple(one.blank for one in open_[1:])))
            following += open_[1:]
    wanted.sort(key=lambda one: (-one.stopped / max(1, one.colours), one.title, one.blank))
    passing = tuple(one for one in every.passing if one.design not in retired)
    left_out = tuple(one for one in every.left_out if one.design not in retired)
    total = len(passing) + len(left_out) + len(following) + len(wanted) + settled
    return ReviewView(total, passing, left_out, tuple(following), tuple(wanted), settled)


def _sort(look: Glance) -> _Sorted:
    found = look.kept(ProofSums, PROOFS)
    repairs = found[0].repairs if found else {}
    names = {blank.code: blank.name for blank in look.shop.blanks}
    passing, left_out, wanted = [], [], []
    for proof in proof_sums(look):
        groups: dict[str, list[SheetLine]] = {}
        for sheet in proof.sheets:
            line = _line(proof, sheet, names)
            if line is None:
                continue
            if not sheet.stopped and not sheet.warned:
                passing.append(line)
            elif not sheet.warned and not (repairs.get(proof.design) and sheet.curable):
                left_out.append(line)
            else:
                groups.setdefault(sheet.sign, []).append(line)
        wanted += [_Wanted(proof.id, tuple(lines)) for lines in groups.values()]
    return _Sorted(tuple(passing), tuple(left_out), tuple(wanted))


def _line(proof: ProofSum, sheet: SheetSum, names: Mapping[str, str]) -> SheetLine | None:
    if sheet.blank not in names or not sheet.colour:
        return None
    total = sheet.passed + sheet.stopped
    return SheetLine(
        proof.id, proof.title, sheet.blank, names[sheet.blank], sheet.stopped, total, sheet.colour
    )


def _is_settled(choices: Mapping[ChoiceKey, Choice], design: str, blank: str) -> bool:
    return any(
        (found := choices.get(key)) is not None and found.answer in (Answer.ALLOW, Answer.REFUSE)
        for key in (ChoiceKey(design, blank), ChoiceKey(design))
    )


@dataclass(frozen=True)
class SheetView:
    """One proof sheet with what the program would do, and its neighbours in the row."""

    design: str
    path: str
    title: str
    blank: BlankSeen
    sentence: str
    fix: str
    repair: int
    repair_words: str
    worst: str  # colour
    place: int  # in the row, from 1; 0 where it is not in it
    of_all: int
    follows: tuple[str, ...]
    next: SheetLine | None


def sheet_view(folder: Path, book: ArtBook, design: str, blank: str) -> SheetView:
    """One proof sheet. Raises ShopError ``unknown-design``, ``unknown-blank`` and what opening raises."""
    look = look_at(folder)
    art = book.art(design)
    goods = look.shop.blank(blank)
    proof = proof_at(look, art.path)
    record = next((one for one in proof.blanks if one.blank == blank), None) if proof else None
    if proof is None or record is None:
        what = f"{art.path} has no proof on {goods.name} yet"
        raise ShopError("not-measured", what, "let the designs be proofed, then look again")
    advice = [one for _, one in book.advice(art)]
    seen = blank_seen(goods, record, art, advice, look.state.choices)
    row = _review(look).open
    here = next((n for n, one in enumerate(row) if (one.design, one.blank) == (art.id, blank)), None)
    after = [one for n, one in enumerate(row) if n != here]
    bad = [one for one in seen.colours if one.state != "passes"]
    worst = bad[-1] if bad else None
    repair = next((one.repair for one in seen.colours if one.repair != NO_REPAIR), NO_REPAIR)
    return SheetView(
        art.id,
        art.path,
        proof.title,
        seen,
        _sentence(seen),
        worst.fix if worst else "",
        repair,
        advice[repair].words if repair != NO_REPAIR else "",
        worst.code if worst else "",
        0 if here is None else here + 1,
        len(row),
        row[here].follows if here is not None else (),
        _next(after, here),
    )


_NAMED = 3  # colours named one by one


def _sentence(seen: BlankSeen) -> str:
    """What becomes of the colours of this blank, so that it agrees with every one of them; "" where all pass.

    The reason stands with each colour: two colours may be stopped by two things.
    """
    out = [one for one in seen.colours if one.state == "stop"]
    faint = [one for one in seen.colours if one.state == "look"]
    mended = [one for one in out if one.repair != NO_REPAIR]
    lost = [one for one in out if one.repair == NO_REPAIR]
    parts = []
    if lost:
        whole = len(lost) == len(seen.colours)
        are = "is" if len(lost) == 1 else "are"
        parts.append("No colour of it can be sold" if whole else f"{_named(lost)} {are} left out")
    if mended:
        parts.append(f"a repair saves {_named(mended)}")
    if faint:
        parts.append(f"{_named(faint)} {'wants' if len(faint) == 1 else 'want'} a look")
    return "; ".join(parts)


def _named(colours: Sequence[ColourSeen]) -> str:
    return listed([one.name for one in colours]) if len(colours) <= _NAMED else f"{len(colours)} colours"


def _next(after: list[SheetLine], here: int | None) -> SheetLine | None:
    if not after:
        return None
    return after[here] if here is not None and here < len(after) else after[0]


def settling(sheet: SheetView, struck: tuple[str, ...], refuse: bool = False) -> Iterator[Choice]:
    """The choices that settle a proof sheet: its blank judged, colours struck, those that follow judged too.

    Colours that were struck and are no more are left to the proof again.
    """
    answer = Answer.REFUSE if refuse else Answer.ALLOW
    for one in sheet.blank.colours:
        key = ChoiceKey(sheet.design, sheet.blank.code, one.code)
        if one.code in struck and not refuse:
            yield Choice(key, Answer.REFUSE, "struck on the proof sheet")
        elif one.struck:
            yield Choice(key, Answer.OPEN)
    for blank in (sheet.blank.code, *sheet.follows):
        yield Choice(ChoiceKey(sheet.design, blank), answer, "judged on the proof sheet")
