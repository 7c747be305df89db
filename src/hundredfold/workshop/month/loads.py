"""The planned listings as packs to write, and what has to be made for them in which order."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from hundredfold.ledger.keys import PackKey
from hundredfold.planning.listings import Plan, PlannedListing
from hundredfold.runner.tasks import Task
from hundredfold.workshop.month.packing import Load
from hundredfold.workshop.month.preparing import Prepared
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.steps.making import Groups, pieces_of

# Designs whose pictures are made in one go: enough to be worth loading a plate, few enough to see progress.
PICTURES_TOGETHER = 8


def loads_of(bench: Bench, prepared: Prepared) -> dict[PackKey, list[Load]]:
    """The planned listings by pack, packs in order of day, then channel."""
    loads: dict[PackKey, list[Load]] = {}
    grouping = _Grouping(prepared.plan)
    for planned in prepared.plan.listings:
        offer = prepared.offers.get(planned.key)
        if offer is None:
            continue
        design = offer.design
        small = prepared.gathered.small.get(design.id, "")
        key = PackKey(planned.key.channel, planned.day.isoformat())
        pieces = pieces_of(offer, small, grouping.of(planned, design.path))
        loads.setdefault(key, []).append(Load(planned, offer, pieces))
    return dict(sorted(loads.items(), key=lambda pair: (pair[0].day, pair[0].channel)))


class _Grouping:
    """Which tasks are made together.

    The first day's are groups of their own, so that its packs need not wait for the rest. After that, all
    print files of a design come from one decoding, and pictures of one blank, a handful of designs at a
    time, from one loading of its plate; whatever the channel, so that one mock-up serves every size.
    """

    def __init__(self, plan: Plan) -> None:
        self._first = plan.listings[0].day if plan.listings else None
        self._on_blank: Counter[str] = Counter()
        self._part: dict[tuple[str, str], int] = {}

    def of(self, planned: PlannedListing, path: str) -> Groups:
        blank = planned.key.blank
        if planned.day == self._first:
            return Groups(f"{path}, first day", f"pictures of {blank}, first day")
        if (blank, path) not in self._part:
            self._part[blank, path] = self._on_blank[blank] // PICTURES_TOGETHER
            self._on_blank[blank] += 1
        return Groups(path, f"pictures of {blank}, {self._part[blank, path]}")


def tasks_of(loads: Mapping[PackKey, Sequence[Load]]) -> Iterable[Task]:
    """Every task, those of one group together, groups in order of the first day that needs them."""
    groups: dict[str, list[Task]] = {}
    for pack in loads.values():
        for load in pack:
            for task in load.pieces.tasks:
                groups.setdefault(task.group, []).append(task)
    return [task for group in groups.values() for task in group]
