"""What a run found out (plan, findings, the month) is kept for whoever looks at the shop."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """An older shop has none until its next run."""
    op.create_table(
        "kept",
        sa.Column("name", sa.Text, primary_key=True),
        sa.Column("output", sa.String(64), nullable=False),
        sa.Column("files", sa.String(64), nullable=False),
        sa.Column("run", sa.Integer, nullable=False),
        sa.Column("at", sa.String(27), nullable=False),
    )
