"""The first tables: ledger, runs, outputs, failures, file digests, settings, lock."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

_REFUSAL = "ledger rows are never changed or deleted; append the inverse"


def upgrade() -> None:
    """Make the tables and the triggers that keep the ledger append-only."""
    _ledger()
    _build()
    _rest()
    _append_only()


def _ledger() -> None:
    op.create_table(
        "events",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=True),
        sa.Column("at", sa.String(27), nullable=False),
        sa.Column("happened", sa.String(40), nullable=False),
        sa.Column("subject", sa.Text, nullable=False),
        sa.Column("data", sa.Text, nullable=False),
        sa.Column("undoes", sa.Integer, nullable=True),
        sqlite_autoincrement=True,
    )
    op.create_index("events_by_subject", "events", ["subject"])
    op.create_index("events_by_undoes", "events", ["undoes"])
    op.create_table(
        "runs",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=True),
        sa.Column("command", sa.Text, nullable=False),
        sa.Column("started", sa.String(27), nullable=False),
        sa.Column("ended", sa.String(27), nullable=True),
        sa.Column("summary", sa.Text, nullable=False),
        sqlite_autoincrement=True,
    )


def _build() -> None:
    op.create_table(
        "made",
        sa.Column("item", sa.Text, primary_key=True),
        sa.Column("step", sa.String(80), primary_key=True),
        sa.Column("key", sa.String(64), nullable=False),
        sa.Column("recipe", sa.Text, nullable=False),
        sa.Column("output", sa.String(64), nullable=False),
        sa.Column("bytes", sa.BigInteger, nullable=False),
        sa.Column("run", sa.Integer, nullable=False),
    )
    op.create_index("made_by_output", "made", ["output"])
    op.create_table(
        "step_runs",
        sa.Column("step", sa.String(80), primary_key=True),
        sa.Column("run", sa.Integer, primary_key=True, autoincrement=False),
    )
    op.create_table(
        "failures",
        sa.Column("item", sa.Text, primary_key=True),
        sa.Column("step", sa.String(80), primary_key=True),
        sa.Column("key", sa.String(64), nullable=False),
        sa.Column("recipe", sa.Text, nullable=False),
        sa.Column("sentence", sa.Text, nullable=False),
        sa.Column("log", sa.Text, nullable=False),
        sa.Column("run", sa.Integer, nullable=False),
    )
    op.create_table(
        "stamps",
        sa.Column("path", sa.Text, primary_key=True),
        sa.Column("size", sa.BigInteger, nullable=False),
        sa.Column("mtime_ns", sa.BigInteger, nullable=False),
        sa.Column("inode", sa.String(40), nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.Column("hashed_ns", sa.BigInteger, nullable=False),
    )
    op.create_index("stamps_by_digest", "stamps", ["digest"])


def _rest() -> None:
    op.create_table(
        "settings",
        sa.Column("name", sa.String(120), primary_key=True),
        sa.Column("value", sa.Text, nullable=False),
    )
    op.create_table(
        "runner_lock",
        sa.Column("id", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("host", sa.Text, nullable=False),
        sa.Column("pid", sa.Integer, nullable=False),
        sa.Column("process_started", sa.String(27), nullable=False),
        sa.Column("taken", sa.String(27), nullable=False),
        sa.Column("command", sa.Text, nullable=False),
        sa.CheckConstraint("id = 1", name="one_lock"),
    )


def _append_only() -> None:
    if op.get_bind().dialect.name == "postgresql":
        op.execute(
            "CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS "
            f"$$ BEGIN RAISE EXCEPTION '{_REFUSAL}'; END $$"
        )
        op.execute(
            "CREATE TRIGGER events_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON events "
            "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()"
        )
        return
    for change in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER events_no_{change.lower()} BEFORE {change} ON events "
            f"BEGIN SELECT RAISE(ABORT, '{_REFUSAL}'); END"
        )
