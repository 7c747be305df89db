"""The migrations make the tables that the code believes in, and each is explained."""

from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy.dialects import postgresql
from sqlalchemy.exc import IntegrityError
from sqlalchemy.schema import CreateTable

from hundredfold.store import migrations
from hundredfold.store.database import Database
from hundredfold.store.migrating import migrate
from hundredfold.store.places import risky_place
from hundredfold.store.schema import HEAD, metadata
from hundredfold.store.shopstore import open_store


def test_the_migrations_lead_to_the_tables(tmp_path: Path) -> None:
    store = open_store(tmp_path / "shop.db")
    with store.database.reading() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, metadata) == []


def test_head_is_the_newest_migration() -> None:
    assert migrations.__file__ is not None
    assert ScriptDirectory(str(Path(migrations.__file__).parent)).get_current_head() == HEAD


def test_an_older_shops_rows_learn_what_was_decided_together(tmp_path: Path) -> None:
    database = Database(tmp_path / "shop.db")
    rows = [(1, "10"), (2, "11"), (3, "11"), (4, "12")]
    with database.writing() as connection:
        migrate(connection, "0002")
        for number, second in rows:
            connection.exec_driver_sql(
                "INSERT INTO events (number, at, happened, subject, data)"
                " VALUES (?, ?, 'adopted', 'A', '{}')",
                (number, f"2026-11-25T13:05:{second}.000000Z"),
            )
    database.close()
    with closing(open_store(tmp_path / "shop.db")) as store:
        assert [event.decision for event in store.events()] == [1, 2, 2, 4]
        with (
            pytest.raises(IntegrityError, match="never changed"),  # the guard stands again
            store.database.writing() as connection,
        ):
            connection.exec_driver_sql("UPDATE events SET decision = 9")


def test_every_table_and_column_is_explained() -> None:
    for table in metadata.sorted_tables:
        assert table.comment, table
        assert [column.name for column in table.columns if not column.comment] == []


@pytest.mark.parametrize("table", metadata.sorted_tables, ids=str)
def test_tables_can_be_made_on_a_server(table: object) -> None:
    ddl = str(CreateTable(table).compile(dialect=postgresql.dialect()))  # type: ignore[arg-type, no-untyped-call]
    assert ddl.lstrip().startswith("CREATE TABLE")


def test_a_folder_of_this_computer_is_no_risk(tmp_path: Path) -> None:
    assert risky_place(tmp_path) is None


def test_a_folder_kept_in_step_is_warned_of(tmp_path: Path) -> None:
    shop = tmp_path / "synced" / "shops" / "puddlewick"
    shop.mkdir(parents=True)
    (tmp_path / "synced" / ".stfolder").mkdir()
    warning = risky_place(shop)
    assert warning is not None
    assert warning.code == "kept-in-step"
    assert str(tmp_path / "synced") in warning.what


def test_a_network_drive_is_warned_of(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    class Part:
        mountpoint = str(tmp_path.resolve())
        fstype = "CIFS"

    monkeypatch.setattr("psutil.disk_partitions", lambda all: [Part()])  # noqa: A006
    warning = risky_place(tmp_path)
    assert warning is not None
    assert warning.code == "network"
    assert "network drive (cifs)" in warning.what
