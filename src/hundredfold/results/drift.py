"""What is charged by now beside what prices were reckoned with: fees, goods, postage."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from hundredfold.kernel.findings import Finding
from hundredfold.results.amounts import PLACES
from hundredfold.results.checks import DRIFT
from hundredfold.results.earned import Earned
from hundredfold.results.piece import PARTS

LEAST_PIECES, LEAST_SHARE = 5, Decimal("0.02")  # common practice, no source
_COIN = Decimal(100)  # ten-thousandths: a hundredth of a unit


@dataclass(frozen=True)
class Drift:
    """A charge that is not what it was reckoned as: a piece, in units of currency, in the newest month."""

    what: str  # fee, postage, base-cost
    about: str  # a channel, or a blank in a channel
    month: str
    currency: str
    pieces: int
    planned: Decimal
    charged: Decimal

    @property
    def more(self) -> Decimal:
        """By how much it is more, a piece."""
        return self.charged - self.planned


def drifts(results: Iterable[Earned], blank_of: Callable[[str], str]) -> list[Drift]:
    """What was really charged otherwise than planned, in the newest month that tells it."""
    fee, goods, delivery = PARTS.index("fee"), PARTS.index("goods"), PARTS.index("delivery")
    heaps: dict[tuple[str, str], dict[str, list[Earned]]] = {}
    for one in results:
        if one.planned_costs is None or not one.units:
            continue
        blank = f"{blank_of(one.sku)} in {one.channel}"
        for name, part, about in (
            ("fee", fee, one.channel),
            ("base-cost", goods, blank),
            ("postage", delivery, blank),
        ):
            if PARTS[part] not in one.estimated and (one.costs[part] or one.planned_costs[part]):
                heaps.setdefault((name, about), {}).setdefault(one.month, []).append(one)
    found = (_drift(name, about, months) for (name, about), months in sorted(heaps.items()))
    return [one for one in found if one is not None]


def _drift(name: str, about: str, months: dict[str, list[Earned]]) -> Drift | None:
    part = PARTS.index({"fee": "fee", "base-cost": "goods", "postage": "delivery"}[name])
    month = max(months)
    rows = months[month]
    pieces = sum(one.units for one in rows)
    charged = sum((one.costs[part] for one in rows), Decimal(0)) / pieces
    planned = sum((one.planned_costs[part] for one in rows if one.planned_costs), Decimal(0)) / pieces
    if pieces < LEAST_PIECES or abs(charged - planned) <= max(LEAST_SHARE * planned, _COIN):
        return None
    scale = Decimal(1).scaleb(-PLACES)
    return Drift(name, about, month, rows[0].currency, pieces, planned * scale, charged * scale)


_WORDS = {"fee": "fees", "postage": "postage", "base-cost": "the goods"}


def drift_findings(found: Sequence[Drift]) -> Iterator[Finding]:
    """Each drift as a finding, with what to reprice."""
    for one in found:
        direction = "more" if one.more > 0 else "less"
        what = (
            f"{_WORDS[one.what]} cost {one.charged:.2f} {one.currency} a piece in {one.month} "
            f"({one.pieces} pieces), "
            f"{abs(one.more):.2f} {direction} than the {one.planned:.2f} that prices were reckoned with"
        )
        place = (
            f"channels/{one.about}.toml"
            if one.what == "fee"
            else f"the file of {one.about.partition(' in ')[0]}"
        )
        fix = f"put the new figure into {place}; `hundredfold month` then plans the prices that change"
        numbers = {"charged": float(one.charged), "planned": float(one.planned), "pieces": one.pieces}
        if one.what == "fee":
            yield DRIFT.finds("fee", one.about, what, fix, numbers)
        elif one.what == "postage":
            yield DRIFT.finds("postage", one.about, what, fix, numbers)
        else:
            yield DRIFT.finds("base-cost", one.about, what, fix, numbers)
