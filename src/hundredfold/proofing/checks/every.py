"""All checks, in the order they are run and documented."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from hundredfold.proofing.checks import (
    blankalone,
    colours,
    contrast,
    decorated,
    designalone,
    fine,
    placed,
    reads,
    words,
)
from hundredfold.proofing.registry import Check


def _gather() -> tuple[Check[Any], ...]:
    found = [
        value
        for module in (blankalone, decorated, designalone, placed, fine, contrast, words, colours, reads)
        for value in vars(module).values()
        if isinstance(value, Check)
    ]
    if len({one.id for one in found}) != len(found):
        raise ValueError("two checks share an id")
    return tuple(found)


CHECKS: tuple[Check[Any], ...] = _gather()
BY_ID: Mapping[str, Check[Any]] = MappingProxyType({one.id: one for one in CHECKS})
# Raised by hand when the same facts are judged, laid out or ranked otherwise: judgements are kept by it.
CHECKS_VERSION = 5

CODES: Mapping[str, tuple[str, ...]] = MappingProxyType({one.id: tuple(one.codes) for one in CHECKS})
