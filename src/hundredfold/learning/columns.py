"""Which field each column of a table holds, how sure that is, and why in words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from hundredfold.learning.fields import Field, FieldCatalogue, Way
from hundredfold.learning.lexicon import GENERIC
from hundredfold.learning.meaning import Meaning, meaning_of
from hundredfold.learning.numbering import number_them
from hundredfold.learning.seen import Proposal, SeenColumn, Surety
from hundredfold.learning.values import choices_kind, fits

_SURE, _LIKELY = 0.85, 0.55
_UNKNOWN_WEIGHT, _GENERIC_WEIGHT, _DECISIVE_WEIGHT = 0.7, 0.15, 2.0
# Notions that turn a header into another field: a price without tax is no price, a maker's address no maker.
_DECISIVE = frozenset(
    {
        "old",
        "net",
        "basic",
        "parent",
        "supplier",
        "responsible",
        "address",
        "contact",
        "front",
        "back",
        "second",
        "buy",
    }
)


@dataclass(frozen=True)
class _Score:
    field: Field
    score: float
    why: tuple[str, ...] = ()


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
    ranked = {column.index: _ranked(column, catalogue, known or {}) for column in columns}
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
    return number_them(proposals, catalogue)


def _ranked(
    column: SeenColumn, catalogue: FieldCatalogue, known: Mapping[str, frozenset[str]]
) -> list[_Score]:
    leaf, group = meaning_of(column.header or column.key), meaning_of(column.group)
    spare = meaning_of(column.key) if column.header else Meaning()
    choices = choices_kind(column.allowed) if column.allowed else ""
    scores = []
    for one in catalogue.fields:
        score, why = _by_header(one, leaf, group)
        if spare.notions:
            other, other_why = _by_header(one, spare, group)
            score, why = (other * 0.95, other_why) if other * 0.95 > score else (score, why)
        score, why = _by_values(one, column, choices, score, why)
        score, why = _by_own(one, column, known, score, why)
        if score > 0:
            scores.append(_Score(one, min(score, 1.0), why))
    return sorted(scores, key=lambda each: -each.score)


def _by_header(one: Field, leaf: Meaning, group: Meaning) -> tuple[float, tuple[str, ...]]:
    if not leaf.notions:
        return 0.0, ()
    best = max((_covered(way, leaf, group) for way in one.ways), default=0.0)
    if leaf.currency and one.looks == "money":
        best = min(1.0, best * 1.05)
    if leaf.percent and one.looks in ("money", "measure"):
        best *= 0.4
    if best and "price" not in leaf.known and leaf.percent and one.name == "tax rate":
        best = min(1.0, best * 1.2)
    return best, (f'its heading says "{one.name}"',) if best else ()


def _covered(way: Way, leaf: Meaning, group: Meaning) -> float:
    """The share of what the header says that this way of saying the field explains."""
    if not way.notions <= leaf.known | group.known or not way.notions & leaf.known:
        return 0.0
    own = [notion for notion in leaf.known if notion in way.notions]
    spare = [notion for notion in leaf.known if notion not in way.notions]
    hit = sum(_weight(notion) for notion in own) + sum(_weight(n) for n in way.notions - leaf.known)
    miss = sum(_weight(notion) for notion in spare) + _UNKNOWN_WEIGHT * len(leaf.unknown)
    borrowed = 0.97 if way.notions - leaf.known else 1.0
    return way.trust * borrowed * hit / (hit + miss)


def _weight(notion: str) -> float:
    if notion in _DECISIVE:
        return _DECISIVE_WEIGHT
    return _GENERIC_WEIGHT if notion in GENERIC else 1.0


def _by_values(
    one: Field, column: SeenColumn, choices: str, score: float, why: tuple[str, ...]
) -> tuple[float, tuple[str, ...]]:
    if choices and one.looks == choices:
        listed = ", ".join(column.allowed[:3])
        if score:
            return score + (1 - score) * 0.6, (*why, f"its choices are {listed}")
        return (0.7, (f"its choices are {listed}",)) if not meaning_of(column.header).notions else (0.0, ())
    if not score:
        if one.looks in ("barcode",) and fits(one.looks, column.examples) > 0:
            return 0.6, (f"its example {column.examples[0]} is a barcode",)
        return 0.0, ()
    if column.allowed and choices and one.looks in ("money", "measure", "picture", "file", "story"):
        return score * 0.5, why
    values = column.examples
    if not choices and column.allowed:
        values = column.allowed
    fit = fits(one.looks, values) if one.looks else 0.0
    if fit > 0:
        return score + (1 - score) * 0.25, (
            *why,
            "its example fits" if column.examples else "its choices fit",
        )
    if fit < 0:
        return score * 0.55, (*why, f'but its example is "{values[0][:40]}"')
    return score, why


def _by_own(
    one: Field, column: SeenColumn, known: Mapping[str, frozenset[str]], score: float, why: tuple[str, ...]
) -> tuple[float, tuple[str, ...]]:
    own = known.get(one.name, frozenset())
    values = [value for value in column.examples if value]
    if own and values and sum(value in own for value in values) >= max(1, 0.8 * len(values)):
        return max(0.95, score), (*why, f'its "{values[0][:40]}" is one of yours')
    return score, why


def _proposal(column: SeenColumn, one: _Score, ranked: Sequence[_Score]) -> Proposal:
    meaning = meaning_of(column.header or column.key)
    rival = next((other for other in ranked if other.field is not one.field), None)
    surety = Surety.SURE if one.score >= _SURE else Surety.LIKELY
    why = one.why
    if surety is Surety.SURE and rival is not None and rival.score > one.score - 0.03:
        surety, why = Surety.LIKELY, (*why, f'it could be "{rival.field.name}" as well')
    number = meaning.number if one.field.numbered else None
    return Proposal(
        column, one.field.name, number, surety, one.score, why, meaning.unit, meaning.currency
    )  # fmt: skip


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
