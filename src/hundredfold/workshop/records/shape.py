"""A record as JSON and back: the fields as they are named, in their order."""

import json
from typing import Any, TypeVar

from pydantic import TypeAdapter

Record = TypeVar("Record")


_ADAPTERS: dict[type[Any], TypeAdapter[Any]] = {}


def _adapter(kind: type[Any]) -> TypeAdapter[Any]:
    if kind not in _ADAPTERS:  # making one costs milliseconds
        _ADAPTERS[kind] = TypeAdapter(kind)
    return _ADAPTERS[kind]


def as_json(record: object) -> dict[str, Any]:
    """The record's one JSON shape, as plain values."""
    document: dict[str, Any] = _adapter(type(record)).dump_python(record, mode="json", by_alias=True)
    return document


def as_bytes(record: object) -> bytes:
    """The same as UTF-8, the same bytes for the same record."""
    return json.dumps(as_json(record), ensure_ascii=False, separators=(",", ":")).encode()


def from_bytes(kind: type[Record], data: bytes) -> Record:
    """The inverse of ``as_bytes``. Raises ValueError for another shape."""
    record: Record = _adapter(kind).validate_json(data)
    return record
