"""What an output took the place of, and in which run it was made: `why` answers for the last run too."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the two columns; outputs made before have no answer."""
    op.add_column("made", sa.Column("made_in", sa.Integer, nullable=False, server_default="0"))
    op.add_column("made", sa.Column("before", sa.Text, nullable=False, server_default=""))
