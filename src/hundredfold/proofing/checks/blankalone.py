"""Checks of a blank before any art: the catalogue knows and finds them, here they join the proof."""

from collections.abc import Callable, Iterator

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.suitability import BLANK_CHECKS
from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Finding
from hundredfold.proofing.registry import Check, Hit
from hundredfold.proofing.subjects import BlankSubject


def _of_catalogue(record: CheckRecord, find: Callable[[Blank], Iterator[Finding]]) -> Check[BlankSubject]:
    def found(bare: BlankSubject) -> Iterator[Hit]:
        for one in find(bare.blank):
            yield Hit(one.code, one.what, one.fix, one.numbers)

    return Check(record, BlankSubject, found)


CHECKS = tuple(_of_catalogue(record, find) for record, find in BLANK_CHECKS)
