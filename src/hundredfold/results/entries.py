"""What is kept of reports: items of orders, and entries of money. Never who bought.

Amounts are whole ten-thousandths of the currency's unit (``amounts.UNIT``). ``None`` says that the report
does not tell; a later report that does tell fills it in, and what it says of what is held already counts in
its place.
"""

from typing import NamedTuple

# What an item of an order may hold; costs are positive.
ITEM_MONEY = ("paid", "postage", "discount", "tax", "fee", "payment", "advert", "refund")


class OrderItem(NamedTuple):
    """One SKU of one order. ``key`` is the order and the item in it."""

    key: str
    sku: str
    day: str  # YYYY-MM-DD
    units: int | None
    currency: str
    paid: int | None = None
    postage: int | None = None
    discount: int | None = None
    tax: int | None = None
    fee: int | None = None
    payment: int | None = None
    advert: int | None = None
    refund: int | None = None
    order: str = ""
    row: int = 0


class MoneyEntry(NamedTuple):
    """Money taken or given back, or a count of views: ``field`` says which. Costs are positive."""

    key: str
    item: str  # the order item's key; "" where it belongs to none
    field: str
    sku: str
    day: str
    units: int
    currency: str
    amount: int
    order: str = ""
    row: int = 0


class SalesSum(NamedTuple):
    """What one SKU came to in one month, channel and currency; None where no report tells.

    Amounts are ten-thousandths of a unit, costs positive; units, views and clicks are counts.
    """

    month: str  # YYYY-MM
    channel: str
    sku: str
    currency: str
    units: int | None = None
    paid: int | None = None
    postage: int | None = None
    discount: int | None = None
    tax: int | None = None
    fee: int | None = None
    payment: int | None = None
    advert: int | None = None
    refund: int | None = None
    refund_units: int | None = None
    base_cost: int | None = None
    base_cost_units: int | None = None
    delivery: int | None = None
    tax_withheld: int | None = None
    other: int | None = None
    views: int | None = None
    clicks: int | None = None
    advert_views: int | None = None
    advert_clicks: int | None = None


SUM_KEYS = SalesSum._fields[:4]
SUM_FIELDS = SalesSum._fields[4:]
