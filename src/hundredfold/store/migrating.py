"""Brings the tables of an older shop up to date."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection


def migrate(connection: Connection, to: str = "head") -> None:
    """Run the missing migrations inside the connection's transaction: all of them or none."""
    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations").replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, to)
