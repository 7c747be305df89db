"""A month whose record is on a PostgreSQL server: the same packs, and the same second run."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from monthshop import counts, digests, hundredfold, month, month_shop
from postgres import cluster, missing, new_database

pytestmark = [
    pytest.mark.skipif(bool(missing()), reason=missing() or "there is one"),
    pytest.mark.xdist_group("postgresql"),
]


@pytest.fixture(scope="module")
def url() -> Iterator[str]:
    with cluster() as server:
        yield new_database(server, "puddlewick")


def on_server(shop: Path, url: str) -> Path:
    settings = shop / "shop.toml"
    settings.write_text(f'database = "{url}"\n' + settings.read_text("utf-8"), "utf-8")
    return shop


def test_a_month_on_a_server_is_the_month_of_a_file(tmp_path: Path, url: str) -> None:
    plain = month_shop(tmp_path / "plain", 2, blanks=("mug-325",))
    served = on_server(month_shop(tmp_path / "served", 2, blanks=("mug-325",)), url)
    assert counts(month(served, 2)) == counts(month(plain, 2))
    assert digests(served / "packs") == digests(plain / "packs")
    assert not (served / ".hundredfold" / "shop.db").exists()
    assert counts(month(served, 2))[0] == 0
    code, told = hundredfold("history", "--shop", str(served))
    assert code == 0
    assert told["decisions"]


def test_a_backup_of_such_a_shop_says_whose_work_it_is(tmp_path: Path, url: str) -> None:
    served = on_server(month_shop(tmp_path / "served", 1, blanks=("mug-325",)), url)
    code, told = hundredfold("backup", "--shop", str(served), str(tmp_path / "all.zip"))
    assert code == 2
    assert "pg_dump" in str(told)
    assert not (tmp_path / "all.zip").exists()
