"""What was sold and what it cost, as reports told it."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

_MONEY = ("paid", "postage", "discount", "tax", "fee", "payment", "advert", "refund")
_SUMS = (
    "units", *_MONEY, "refund_units", "base_cost", "base_cost_units", "delivery", "tax_withheld", "other",
    "views", "clicks", "advert_views", "advert_clicks",
)  # fmt: skip


def upgrade() -> None:
    """An older shop has none until its first report."""
    op.create_table(
        "sales_files",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=True),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("channel", sa.String(40), nullable=False),
        sa.Column("at", sa.String(27), nullable=False),
        sqlite_autoincrement=True,
    )
    op.create_index("sales_files_by_digest", "sales_files", ["digest"])
    _items()
    _entries()
    op.create_table(
        "sales_sums",
        sa.Column("month", sa.String(7), primary_key=True),
        sa.Column("channel", sa.String(40), primary_key=True),
        sa.Column("sku", sa.Text, primary_key=True),
        sa.Column("currency", sa.String(3), primary_key=True),
        *(sa.Column(name, sa.BigInteger, nullable=True) for name in _SUMS),
    )


def _items() -> None:
    op.create_table(
        "order_items",
        sa.Column("channel", sa.String(40), primary_key=True),
        sa.Column("key", sa.Text, primary_key=True),
        sa.Column("sku", sa.Text, nullable=False),
        sa.Column("day", sa.String(10), nullable=False),
        sa.Column("units", sa.Integer, nullable=True),
        sa.Column("currency", sa.String(3), nullable=False),
        *(sa.Column(name, sa.BigInteger, nullable=True) for name in _MONEY),
        sa.Column("file", sa.Integer, nullable=False),
        sa.Column("order_no", sa.Text, nullable=False),
        sa.Column("line", sa.Integer, nullable=False),
    )

    op.create_index("order_items_by_order", "order_items", ["channel", "order_no"])


def _entries() -> None:
    op.create_table(
        "money_entries",
        sa.Column("channel", sa.String(40), primary_key=True),
        sa.Column("key", sa.Text, primary_key=True),
        sa.Column("item", sa.Text, nullable=False),
        sa.Column("field", sa.String(20), nullable=False),
        sa.Column("sku", sa.Text, nullable=False),
        sa.Column("day", sa.String(10), nullable=False),
        sa.Column("units", sa.Integer, nullable=False),
        sa.Column("currency", sa.String(3), nullable=False),
        sa.Column("amount", sa.BigInteger, nullable=False),
        sa.Column("file", sa.Integer, nullable=False),
        sa.Column("order_no", sa.Text, nullable=False),
        sa.Column("line", sa.Integer, nullable=False),
    )
    op.create_index("money_entries_by_order", "money_entries", ["channel", "order_no"])
