"""From what was told of a partner's columns to the [sheet] of a channel's file; what a newer form changed."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from hundredfold.catalogue.sheets import CellKind, Column, Sheet
from hundredfold.learning.seen import Proposal, Surety
from hundredfold.learning.words import fold, letter_of, split_words

# What fills a column of each field of learning/fieldlists.py; ``#`` is the field's number.
FILLS: dict[str, str] = {
    "sku": "{sku}", "family sku": "{family sku}", "row kind": "{role}", "action": "{action}",
    "title": "{title}",
    "story": "{story}", "point": "{point #}", "search words": "{search words}",
    "search word": "{search word #}",
    "price": "{price}", "price without tax": "{price without tax}",
    "reference price": "{value reference price}",
    "currency": "{currency}", "tax rate": "{value tax rate}", "stock": "{stock}",
    "design name": "{design title}",
    "niche": "{niche}", "occasion": "{occasion}", "blank code": "{blank}", "blank name": "{blank name}",
    "category": "{value category}", "brand": "{value brand}", "form": "{form}", "material": "{material}",
    "materials percent": "{value materials}", "process": "{process}", "print position": "{areas}",
    "partner code": "{partner code}", "colour": "{colour name}", "colour family": "{colour}",
    "size": "{size}",
    "language": "{language}", "date": "{date}", "artwork": "{artwork}", "artwork front": "{artwork front}",
    "artwork back": "{artwork back}", "picture": "{picture #}", "pictures": "{pictures}",
    "barcode": "{barcode}",
    "customs code": "{value customs code}", "origin": "{value origin}", "weight": "{value weight}",
    "width": "{width}", "height": "{height}", "depth": "{value depth}", "diameter": "{diameter}",
    "capacity": "{capacity}", "care": "{value care}", "age group": "{value age}", "gender": "{value gender}",
    "maker": "{value maker}", "maker address": "{value maker address}",
    "maker contact": "{value maker contact}",
    "responsible name": "{value responsible}", "responsible address": "{value responsible address}",
    "responsible contact": "{value responsible contact}", "safety": "{value safety}",
    "condition": "{value condition}", "postage": "{value postage}", "dispatch days": "{value dispatch days}",
    "pack quantity": "{value pack quantity}", "base cost": "{value base cost}",
}  # fmt: skip
_IF_EMPTY = {"brand": "{shop}"}
_NUMBERS = frozenset({"stock", "price", "price without tax", "tax rate"})
# A partner's words for what a row is and asks; common practice, no source.
_MEANS = {
    "action": {
        "new": "new add create insert neu anlegen hinzufugen creer ajouter nouveau alta nuevo crear anadir"
        " nuovo aggiungi creare",
        "change": "change update amend modify edit partialupdate partial andern aktualisieren modifier"
        " modification modificar modificacion modifica aggiorna replace",
        "end": "end delete remove withdraw loschen entfernen supprimer retirer baja eliminar borrar elimina"
        " eliminare cancella rimuovi",
    },
    "row kind": {
        "head": "parent head master family vater eltern padre genitore configurable group produit produkt",
        "member": "child member variant variation kind enfant hijo hija figlio variante declinaison simple",
        "single": "single standalone simple unique einzeln singolo product",
    },
}


@dataclass(frozen=True)
class LearnedColumn:
    """A column of the sheet, where it came from, and the partner's words for ours that it needs."""

    column: Column
    proposal: Proposal
    kept: bool = False  # the seller's own line of an earlier file
    words: Mapping[str, str] | None = None
    wordless: tuple[str, ...] = ()  # words of ours that none of the choices is


@dataclass(frozen=True)
class MovedColumn:
    """What a newer form changed: ``was`` and ``now`` are column letters, "" where there is none."""

    header: str
    was: str
    now: str


def learn_columns(
    proposals: Sequence[Proposal], ours: Mapping[str, Iterable[str]], kept: Mapping[int, Column]
) -> tuple[LearnedColumn, ...]:
    """A column for each of the partner's, in their order.

    ``ours`` are the shop's own words by field (colours, sizes, processes), ``kept`` the seller's lines.
    """
    fields = [one.field for one in proposals]
    return tuple(
        LearnedColumn(kept[one.column.index], one, kept=True)
        if one.column.index in kept
        else _column(one, ours, "picture" in fields)
        for one in proposals
    )


def _column(one: Proposal, ours: Mapping[str, Iterable[str]], pictures: bool) -> LearnedColumn:
    seen = one.column
    bare = Column(seen.header, required=seen.required and bool(one.field), max_chars=seen.max_chars)
    if not one.field:
        return LearnedColumn(bare, one)
    fill = FILLS[one.field].replace("#", str(one.number or 1))
    if one.field == "pictures" and pictures:
        fill = "{other pictures}"
    column = replace(bare, fill=fill, if_empty=_IF_EMPTY.get(one.field, ""), unit=_unit(one))
    if one.field in _NUMBERS and _numeric(seen.examples):
        column = replace(column, cell=CellKind.NUMBER)
    if one.field == "price" and any("," in example for example in seen.examples):
        column = replace(column, written="1234,50")
    if one.currency and one.field == "price":
        column = replace(column, fill=f"{{price in {one.currency}}}")
    if not seen.allowed:
        return LearnedColumn(column, one)
    words, wordless = their_words(one.field, seen.allowed, ours.get(one.field, ()))
    if not words and one.field not in _MEANS:
        return LearnedColumn(column, one, wordless=wordless)
    return LearnedColumn(replace(column, their_words=one.field), one, words=words, wordless=wordless)


def their_words(
    field: str, allowed: Sequence[str], ours: Iterable[str]
) -> tuple[dict[str, str], tuple[str, ...]]:
    """The choice that says each of our words, and the words that none says. Same words need no line."""
    found: dict[str, str] = {}
    means = _MEANS.get(field)
    if means is not None:
        for word, likely in means.items():
            names = set(likely.split())
            choice = next(
                (c for c in allowed if names & set(split_words(c)) and c not in found.values()), None
            )
            if choice is not None:
                found[word] = choice
        return found, tuple(word for word in means if word not in found and word != "single")
    by_fold = {fold(choice).strip(): choice for choice in allowed}
    wordless = []
    for word in dict.fromkeys(ours):
        choice = by_fold.get(fold(word).strip())
        if choice is None:
            wordless.append(word)
        else:
            found[word] = choice
    same = all(ours == theirs for ours, theirs in found.items())
    return ({} if same and not wordless else found), tuple(wordless)


def _unit(one: Proposal) -> str:
    measured = ("weight", "width", "height", "depth", "diameter", "capacity")
    return one.unit if one.field in measured and one.unit != "px" else ""


def _numeric(examples: Sequence[str]) -> bool:
    return bool(examples) and all(example.replace(".", "", 1).isdigit() for example in examples)


def keep_choices(old: Sheet, headers: Sequence[str]) -> tuple[dict[int, Column], tuple[MovedColumn, ...]]:
    """The seller's lines for the columns of a newer form, by their index there, and what moved.

    A heading that stands several times keeps its order; one that changed in signs or capitals is the same.
    """
    free = list(enumerate(old.columns))
    kept: dict[int, Column] = {}
    moved: list[MovedColumn] = []
    for same in (str.strip, lambda text: " ".join(split_words(text))):
        for index, header in enumerate(headers):
            if index in kept or not header.strip():
                continue
            place = next(
                (each for each in free if each[1].header and same(each[1].header) == same(header)), None
            )
            if place is not None:
                free.remove(place)
                kept[index] = replace(place[1], header=header)
                if place[0] != index:
                    moved.append(MovedColumn(header, letter_of(place[0]), letter_of(index)))
    moved += [MovedColumn(column.header, letter_of(at), "") for at, column in free if column.header]
    moved += [
        MovedColumn(h, "", letter_of(at)) for at, h in enumerate(headers) if h.strip() and at not in kept
    ]
    return kept, tuple(moved)


def gaps(columns: Iterable[LearnedColumn]) -> Iterator[LearnedColumn]:
    """Columns that nothing of ours fills and the seller has not settled."""
    return (one for one in columns if one.proposal.surety is Surety.GAP and not one.kept)
