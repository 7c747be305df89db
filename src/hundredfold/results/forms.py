"""What kind of report a table is, by the columns it has."""

from enum import StrEnum

from hundredfold.results.mapping import ReportMapping

_PRICED = ("paid", "price", "unit price")


class ReportForm(StrEnum):
    """The kinds of report there are."""

    ORDERS = "orders"  # a row an item of an order, with columns for its amounts
    MONEY = "money"  # a row a movement of money, with a type
    ADVERTS = "adverts"  # what adverts cost a SKU on a day
    VIEWS = "views"  # how often a listing was looked at
    BILL = "bill"  # what the partner who makes the goods charged


def form_of(mapping: ReportMapping, bill: bool = False) -> ReportForm | None:
    """The form of a report; None where its columns are not enough to reckon with."""
    order = mapping.has("order", "transaction")
    if bill or (mapping.has("base cost") and not mapping.has("fee", "payment")):
        return ReportForm.BILL if mapping.has("base cost", "total", "amount", *_PRICED) else None
    seen = mapping.has("views", "clicks")
    if not order and mapping.has("advert") and (seen or not mapping.has("paid")):
        return ReportForm.ADVERTS
    if not order and mapping.has("views") and not mapping.has("amount", *_PRICED):
        return ReportForm.VIEWS
    if mapping.has("amount") and mapping.has("kind", "what") and not mapping.has(*_PRICED):
        return ReportForm.MONEY
    return ReportForm.ORDERS if mapping.has("total", "amount", "refund", *_PRICED) else None
