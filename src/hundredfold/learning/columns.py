"""Which field each column of a table holds, how sure that is, and why in words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from hundredfold.learning.fields import Field, FieldCatalogue, Way
from hundredfold.learning.lexicon import GENERIC
from hundredfold.learning.meaning import Meaning, meaning_of, meanings_of
from hundredfold.learning.neighbours import as_order, as_stock_list, with_neighbours
from hundredfold.learning.numbering import number_them
from hundredfold.learning.seen import Proposal, SeenColumn, Surety
from hundredfold.learning.values import TELLING, choices_kind, fits

_SURE, _LIKELY = 0.88, 0.55
_GUESSED, _SECOND_READING, _UNNUMBERED = 0.85, 0.97, 0.85  # what doubtful words of a heading are worth
_EXAMPLES_ALONE = 0.6  # what examples are worth against a heading
_OTHER_UNIT = 0.6  # a weight in mm
_UNSAID = 0.8  # a material in % is shares of it, a retail in USD is a price
_APART = 0.08  # how far the next best must lie behind for a proposal to be sure
_UNKNOWN_WEIGHT, _GENERIC_WEIGHT, _DECISIVE_WEIGHT, _MILD_WEIGHT = 0.7, 0.15, 2.0, 0.35
# Notions that turn a heading of these others into another field: a price without tax is no price, a maker's
# address no maker. Beside anything else they say little.
_MONEY = frozenset({"price", "cost", "sell", "gross"})
_NAMES = frozenset({"sku", "reference", "code", "item", "name", "seller", "blank"})
_PEOPLE = frozenset({"maker", "responsible"})
_ART = frozenset({"artwork", "design", "print", "file", "picture", "area"})
# A print's width is no width of the goods.
_MEASURES = frozenset({"width", "height", "depth", "diameter", "weight", "capacity"})
_DECISIVE = {
    "old": _MONEY,
    "net": _MONEY,
    "buy": _MONEY,
    "basic": frozenset({"colour"}),
    "parent": _NAMES | {"price"},
    "supplier": _NAMES,
    "responsible": frozenset({"maker", "name", "address", "contact", "supplier"}),
    "address": _PEOPLE,
    "contact": _PEOPLE,
    "front": _ART,
    "back": _ART,
    "second": frozenset({"colour", "hex"}),
    **dict.fromkeys(("print", "artwork", "design", "area"), _MEASURES),
}
# Notions that colour another without changing it: a long description, a shop's category, a garment's colour.
_MILD = frozenset({"sell", "seller", "long", "short", "main", "other", "blank", "type", "time", "gross"})
_LENGTHS, _MASSES, _VOLUMES = (
    ("mm", "cm", "in", "m"),
    ("g", "kg", "oz", "lb"),
    ("ml", "cl", "l", "fl oz", "oz"),
)
_UNITS_OF = {
    **dict.fromkeys(("width", "height", "depth", "diameter"), _LENGTHS),
    "weight": _MASSES,
    "capacity": _VOLUMES,
    "size": (*_LENGTHS, *_VOLUMES),
}
# Fields whose headings are used for other things as well: sure only where choices or examples fit.
_LOOSE = frozenset(
    {
        "age group",
        "artwork",
        "base cost",
        "blank code",
        "blank name",
        "category",
        "condition",
        "date",
        "design name",
        "dispatch days",
        "form",
        "gender",
        "niche",
        "pack quantity",
        "partner code",
        "pictures",
        "print position",
        "row kind",
        "search words",
        "stock",
    }
)


@dataclass(frozen=True)
class _Score:
    field: Field
    score: float
    why: tuple[str, ...] = ()
    witnessed: bool = False  # choices, examples or the shop's own values say so too
    guessed: bool = False  # a word of the heading was taken for the short form of another


def propose(
    columns: Sequence[SeenColumn],
    catalogue: FieldCatalogue,
    known: Mapping[str, frozenset[str]] | None = None,
    chosen: Mapping[int, str] | None = None,
) -> tuple[Proposal, ...]:
    """A proposal for each column, in order.

    ``known`` holds the shop's own values by field name (its SKUs, titles, partner codes…): a column whose
    examples are among them is that field whatever it is called. ``chosen`` are a person's own words by column
    index: they are kept, and nothing else takes their field.
    """
    grouped = zip(columns, with_neighbours(columns), strict=True)
    ranked = {column.index: _ranked(near, catalogue, known or {}) for column, near in grouped}
    by_index = {column.index: column for column in columns}
    taken: dict[int, Proposal] = {}
    used: set[str] = set()
    for index, name in (chosen or {}).items():
        if index in by_index:
            taken[index] = Proposal(by_index[index], name, None, Surety.SURE, 1.0, ("you said so",))
            used.add(name)
    order = sorted(
        ((one.score, -index, one) for index, scores in ranked.items() for one in scores),
        key=lambda each: (-each[0], -each[1]),
    )
    for score, minus, one in order:
        index = -minus
        if index in taken or (one.field.name in used and not one.field.numbered) or score < _LIKELY:
            continue
        taken[index] = _proposal(by_index[index], one, ranked[index])
        used.add(one.field.name)
    proposals = [taken.get(c.index) or _gap(c, ranked[c.index], used) for c in columns]
    if not any(one.name == "sku" for one in catalogue.fields):
        return number_them(as_order(proposals), catalogue)
    kept = {column.index for column in columns if _is_kept(column, taken, known or {}, chosen or {})}
    return number_them(as_stock_list(as_order(proposals), kept), catalogue)


def _is_kept(
    column: SeenColumn,
    taken: Mapping[int, Proposal],
    known: Mapping[str, frozenset[str]],
    chosen: Mapping[int, str],
) -> bool:
    """Whether a person, or the shop's own values, said what fills a column."""
    told = taken.get(column.index)
    return column.index in chosen or (
        told is not None and bool(known.get(told.field, frozenset()) & {*column.examples})
    )


def _ranked(
    column: SeenColumn, catalogue: FieldCatalogue, known: Mapping[str, frozenset[str]]
) -> list[_Score]:
    choices = choices_kind(column.allowed) if column.allowed else ""
    scores = []
    for one in catalogue.fields:
        said = _by_values(column, choices, _by_names(one, column))
        said = _by_own(column, known, said)
        if said.score > 0:
            scores.append(replace(said, score=min(said.score, 1.0)))
    if max((one.score for one in scores), default=0.0) < _EXAMPLES_ALONE:
        scores += _by_examples_alone(column, catalogue)
    return sorted(scores, key=lambda each: -each.score)


def _by_names(one: Field, column: SeenColumn) -> _Score:
    """What the heading, else the machine's name of the column, says for a field."""
    group = meaning_of(column.group)
    best = _Score(one, 0.0)
    for name, trust in ((column.header or column.key, 1.0), (column.key if column.header else "", 0.95)):
        for place, leaf in enumerate(meanings_of(name, column.theirs)):
            worth = trust * (_SECOND_READING if place else 1.0) * (_GUESSED if leaf.guessed else 1.0)
            score = worth * _by_header(one, leaf, group)
            if score > best.score:
                best = _Score(one, score, (f'its heading says "{one.name}"',), guessed=leaf.guessed)
    return best


def _by_header(one: Field, leaf: Meaning, group: Meaning) -> float:
    if not leaf.notions:
        return 0.0
    best = max((_covered(way, leaf, group) for way in one.ways), default=0.0)
    if leaf.currency and one.looks == "money":
        best = min(1.0, best * 1.05)
    if leaf.currency and one.name == "price" and leaf.known == {"sell"}:
        best = max(best, _UNSAID)
    if leaf.percent and (one.looks in ("money", "measure") or one.name == "material"):
        best *= 0.4
    if leaf.percent and one.name == "materials percent" and "material" in leaf.known:
        best = max(best, _UNSAID)
    if leaf.percent and one.name in ("tax rate", "materials percent") and "price" not in leaf.known:
        best = min(1.0, best * 1.2)
    if leaf.number is not None and not one.numbered:
        best *= _UNNUMBERED
    if leaf.unit and leaf.unit not in _UNITS_OF.get(one.name, (leaf.unit,)):
        best *= _OTHER_UNIT
    return best


def _covered(way: Way, leaf: Meaning, group: Meaning) -> float:
    """The share of what the header says that this way of saying the field explains."""
    if not way.notions <= leaf.known | group.known or not way.notions & leaf.known:
        return 0.0
    spare = [notion for notion in leaf.known if notion not in way.notions]
    hit = sum(_GENERIC_WEIGHT if notion in GENERIC else 1.0 for notion in way.notions)
    miss = sum(_spare_weight(notion, way) for notion in spare) + _UNKNOWN_WEIGHT * len(leaf.unknown)
    borrowed = 0.97 if way.notions - leaf.known else 1.0
    return way.trust * borrowed * hit / (hit + miss)


def _spare_weight(notion: str, way: Way) -> float:
    """What it counts against a field that a header says this besides."""
    if notion == "foreign" or way.notions & _DECISIVE.get(notion, frozenset()):
        return _DECISIVE_WEIGHT
    if notion in GENERIC:
        return _GENERIC_WEIGHT
    return _MILD_WEIGHT if notion in _MILD or notion in _DECISIVE else 1.0


def _by_values(column: SeenColumn, choices: str, said: _Score) -> _Score:
    """The score raised or lowered by the column's choices and examples."""
    score, why, looks = said.score, said.why, said.field.looks
    if choices and looks == choices:
        because = f"its choices are {', '.join(column.allowed[:3])}"
        if score:
            return replace(said, score=score + (1 - score) * 0.6, why=(*why, because), witnessed=True)
        alone = 0.7 if not meaning_of(column.header).notions else 0.56
        return replace(said, score=alone, why=(because,))
    if not score:
        return said
    if column.allowed and choices and looks in ("money", "measure", "picture", "file", "story"):
        return replace(said, score=score * 0.5)
    if choices and said.field.name in _LOOSE:
        return replace(said, score=score * 0.55, why=(*why, f"but its choices are {column.allowed[0]}…"))
    values = column.examples if choices or not column.allowed else column.allowed
    fit = fits(looks, values) if looks else 0.0
    if fit > 0:
        because = "its example fits" if column.examples else "its choices fit"
        return replace(said, score=score + (1 - score) * 0.25, why=(*why, because), witnessed=True)
    if fit < 0:
        return replace(said, score=score * 0.5, why=(*why, f'but its example is "{values[0][:40]}"'))
    return said


def _by_examples_alone(column: SeenColumn, catalogue: FieldCatalogue) -> list[_Score]:
    """Where the heading says nothing, or the examples speak against it: what the examples alone tell."""
    for looks, name in TELLING.items():
        if not column.allowed and fits(looks, column.examples) > 0:
            because = f'its example is "{column.examples[0][:40]}"'
            return [_Score(one, _EXAMPLES_ALONE, (because,)) for one in catalogue.fields if one.name == name]
    return []


def _by_own(column: SeenColumn, known: Mapping[str, frozenset[str]], said: _Score) -> _Score:
    own = known.get(said.field.name, frozenset())
    values = [value for value in column.examples if value]
    if own and values and sum(value in own for value in values) >= max(1, 0.8 * len(values)):
        why = (*said.why, f'its "{values[0][:40]}" is one of yours')
        return replace(said, score=max(0.95, said.score), why=why, witnessed=True, guessed=False)
    return said


def _proposal(column: SeenColumn, one: _Score, ranked: Sequence[_Score]) -> Proposal:
    meaning = meaning_of(column.header or column.key)
    surety, why = _surety(one, ranked)
    number = meaning.number if one.field.numbered else None
    return Proposal(
        column, one.field.name, number, surety, one.score, why, meaning.unit, meaning.currency
    )  # fmt: skip


def _surety(one: _Score, ranked: Sequence[_Score]) -> tuple[Surety, tuple[str, ...]]:
    """Sure where the heading says it wholly, its values or choices agree, and nothing else is near."""
    if one.score < _SURE:
        return Surety.LIKELY, one.why
    if one.guessed:
        return Surety.LIKELY, (*one.why, "cut short")
    rival = next((other for other in ranked if not _same(other.field, one.field)), None)
    if rival is not None and rival.score > one.score - _APART:
        return Surety.LIKELY, (*one.why, f'it could be "{rival.field.name}" as well')
    if not one.witnessed:
        return Surety.LIKELY, (*one.why, "but no example or choice bears it out")
    return Surety.SURE, one.why


def _same(one: Field, other: Field) -> bool:
    """Whether two fields are one, or one is the other's list in a single cell."""
    return one is other or one.whole == other.name or other.whole == one.name


def _gap(column: SeenColumn, ranked: Sequence[_Score], used: set[str]) -> Proposal:
    meaning = meaning_of(column.header or column.key)
    twin = next((one for one in ranked if one.score >= _LIKELY and one.field.name in used), None)
    if not column.header and not column.key:
        why = "it has no heading"
    elif twin is not None:
        why = f'it looks like "{twin.field.name}", which another column holds already'
    elif not meaning.notions:
        why = "nothing of yours has that name"
    else:
        why = "its heading could mean several things"
    return Proposal(column, why=(why,), unit=meaning.unit, currency=meaning.currency)
