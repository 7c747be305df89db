"""Rows of the ledger that were decided together share a number, and a run notes how far it is."""

from itertools import groupby

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

_REFUSAL = "ledger rows are never changed or deleted; append the inverse"


def upgrade() -> None:
    """Rows of one append share their time to the microsecond: it tells what older shops decided together."""
    op.add_column("events", sa.Column("decision", sa.Integer, nullable=False, server_default="0"))
    op.create_index("events_by_decision", "events", ["decision"])
    op.add_column("runs", sa.Column("stage", sa.Text, nullable=False, server_default=""))
    op.add_column("runs", sa.Column("settled", sa.Integer, nullable=False, server_default="0"))
    op.add_column("runs", sa.Column("of_all", sa.Integer, nullable=False, server_default="0"))
    op.add_column("runs", sa.Column("noted", sa.String(27), nullable=False, server_default=""))
    server = op.get_bind().dialect.name == "postgresql"
    op.execute(
        "ALTER TABLE events DISABLE TRIGGER events_stay" if server else "DROP TRIGGER events_no_update"
    )
    _number()
    op.execute(
        "ALTER TABLE events ENABLE TRIGGER events_stay"
        if server
        else "CREATE TRIGGER events_no_update BEFORE UPDATE ON events "
        f"BEGIN SELECT RAISE(ABORT, '{_REFUSAL}'); END"
    )


def _number() -> None:
    events = sa.table("events", sa.column("number"), sa.column("at"), sa.column("decision"))
    rows = op.get_bind().execute(sa.select(events.c.number, events.c.at).order_by(events.c.number)).all()
    found = []
    for _, together in groupby(rows, key=lambda row: row.at):
        numbers = [row.number for row in together]
        found += [{"row": number, "first": numbers[0]} for number in numbers]
    if found:
        change = sa.update(events).where(events.c.number == sa.bindparam("row"))
        op.get_bind().execute(change.values(decision=sa.bindparam("first")), found)
