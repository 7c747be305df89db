"""Catalogues of fields: what a purpose wants to find in a table, each field as the notions that say it."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Way:
    """One way of saying a field: all these notions together. ``trust`` under 1 where it may mean another."""

    notions: frozenset[str]
    trust: float = 1.0


@dataclass(frozen=True)
class Field:
    """A field of ours. ``looks`` names the kind of value it holds (``learning/values.py``).

    ``numbered`` fields may stand in several columns: ``Picture 1`` to ``Picture 8``.
    """

    name: str
    ways: tuple[Way, ...]
    looks: str = ""
    numbered: bool = False
    whole: str = ""  # the field of all of them in one cell: "pictures" of "picture"


@dataclass(frozen=True)
class FieldCatalogue:
    """The fields of one purpose, in the order in which equals are preferred."""

    purpose: str
    fields: tuple[Field, ...]

    def field(self, name: str) -> Field:
        """The field of this name. Raises KeyError."""
        for field in self.fields:
            if field.name == name:
                return field
        raise KeyError(name)


def field_of(line: str) -> Field:
    """``name: way, way~0.8 | looks #whole``; a way is notions apart by spaces, # marks a numbered field."""
    name, _, rest = line.partition(":")
    ways, _, looks = rest.partition("|")
    kind, numbered, whole = looks.partition("#")
    each = tuple(_way(way) for way in ways.split(",") if way.strip())
    return Field(name.strip(), each, kind.strip(), bool(numbered), whole.strip())


def _way(text: str) -> Way:
    words, _, trust = text.strip().partition("~")
    return Way(frozenset(words.split()), float(trust or 1))


def catalogue_of(purpose: str, lines: Iterable[str]) -> FieldCatalogue:
    """A catalogue from lines as ``field_of`` reads them."""
    return FieldCatalogue(purpose, tuple(field_of(line) for line in lines if line.strip()))
