"""Every check there is: of the proof, and of every other room. ``explain`` and docs/checks read this list."""

from collections.abc import Mapping
from types import MappingProxyType

from hundredfold.catalogue import values
from hundredfold.designs import checks as designs
from hundredfold.handoff import checks as packs
from hundredfold.handoff import judge_checks as judged
from hundredfold.kernel.checks import CheckRecord
from hundredfold.ledger import answers
from hundredfold.mockups import rules
from hundredfold.planning import checks as planning
from hundredfold.pricing import price
from hundredfold.proofing.checks.every import CHECKS
from hundredfold.results import checks as sales
from hundredfold.screening import blocked
from hundredfold.store import places
from hundredfold.workshop.shop import checks as workshop

# In the order of the work: from the shop and its words to what a channel answered.
_ROOMS = (places, workshop, values, designs, blocked, rules, price, planning, packs, judged, answers, sales)


def _gather() -> tuple[CheckRecord, ...]:
    found = [one.record for one in CHECKS]
    for module in _ROOMS:
        found += [value for value in vars(module).values() if isinstance(value, CheckRecord)]
    if len({one.id for one in found}) != len(found):
        raise ValueError("two checks share an id")
    return tuple(found)


EVERY_CHECK: tuple[CheckRecord, ...] = _gather()
BY_ID: Mapping[str, CheckRecord] = MappingProxyType({one.id: one for one in EVERY_CHECK})
