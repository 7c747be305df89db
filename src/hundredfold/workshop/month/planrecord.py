"""A plan as the record that is kept and shown."""

from collections.abc import Iterable, Mapping, Sequence

from hundredfold.kernel.findings import Finding
from hundredfold.ledger.keys import ListingKey
from hundredfold.planning.listings import Plan, PlannedListing
from hundredfold.workshop.listing.offers import Offer
from hundredfold.workshop.records.common import finding_records
from hundredfold.workshop.records.month import PlannedLine, PlanRecord


def plan_record(
    plan: Plan, offers: Mapping[ListingKey, Offer], findings: Iterable[Finding], summary: Sequence[str]
) -> PlanRecord:
    """The plan with what each listing costs, by day, then channel."""
    paths = {offer.design.id: offer.design.path for offer in offers.values()}
    lines = tuple(_line(one, offers.get(one.key), paths) for one in plan.listings)
    left = {str(key): why for key, why in plan.why_left.items()}
    start = plan.start.isoformat()
    return PlanRecord(start, plan.days, lines, left, tuple(summary), finding_records(findings))


def _line(planned: PlannedListing, offer: Offer | None, paths: Mapping[str, str]) -> PlannedLine:
    prices = [price.price for price in offer.prices.values()] if offer else []
    return PlannedLine(
        planned.day.isoformat(),
        planned.key.channel,
        planned.action.value,
        planned.key.blank,
        paths.get(planned.key.design, planned.key.design),
        planned.colours,
        planned.reason,
        planned.rows,
        min(prices).plain() if prices else "",
        max(prices).plain() if prices else "",
        offer.channel.currency if offer else "",
    )
