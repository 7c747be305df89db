"""A finished month stands only as long as every file it was prepared from is as it was read."""

import json
import re
import shutil
from pathlib import Path

import pytest
from monthshop import START, counts, hundredfold, month, month_shop
from PIL import ImageCms

from hundredfold.workshop.shop.bench import bench


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop with a printer's profile; its month is made."""
    shop = month_shop(tmp_path_factory.mktemp("read") / "shop", 2, blanks=("mug-325",))
    (shop / "printer.icc").write_bytes(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    limits = shop / "checks.toml"
    limits.write_text('printer = "printer.icc"\n' + limits.read_text("utf-8"), "utf-8")
    assert counts(month(shop, 2))[0] > 0
    assert counts(month(shop, 2))[0] == 0
    return shop


@pytest.fixture
def shop(printed: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(printed, tmp_path / "shop"))


def finished(shop: Path) -> bool:
    """Whether the month stands as it is, without anything being prepared again."""
    code, told = hundredfold("month", "--shop", str(shop), "--start", START, "--days", "2")
    assert code == 0, told
    with bench(shop, "looking") as tools:
        (last,) = tools.store.runs.completed(1, "month")
    return "reused" in last.summary and prepared_nothing(shop, last.number)


def prepared_nothing(shop: Path, run: int) -> bool:
    """No step was asked for in this run."""
    with bench(shop, "looking") as tools:
        return not any(
            row.run == run for item in items(tools.store) for row in tools.store.builds.made_for(item)
        )


def items(store: object) -> list[str]:
    return sorted({row.item for row in store.builds.made()})  # type: ignore[attr-defined]


def test_rubbish_in_the_place_of_the_printers_profile_is_refused(shop: Path) -> None:
    assert finished(shop)
    (shop / "printer.icc").write_bytes(b"rubbish")
    code, told = hundredfold("month", "--shop", str(shop), "--start", START, "--days", "2")
    assert code != 0
    assert "printer.icc" in json.dumps(told)


def test_a_limit_changed_has_the_month_prepared_again(shop: Path) -> None:
    limits = shop / "checks.toml"
    text, count = re.subn("dpi_floor = {value = 5", "dpi_floor = {value = 6", limits.read_text("utf-8"))
    assert count == 1
    limits.write_text(text, "utf-8")
    assert not finished(shop)
    assert finished(shop)


@pytest.mark.parametrize(
    "name", ["blocked.txt", "designs/notes.pages", "blanks/spare.toml", "designs/x.made.csv"]
)
def test_a_file_that_was_not_there_counts_once_it_is(name: str, shop: Path) -> None:
    source = shop / "blanks" / "mug-325.toml"
    data = source.read_text("utf-8").replace("MUG-325", "SPARE") if name.endswith(".toml") else "muddy bees\n"
    (shop / name).unlink(missing_ok=True)
    month(shop, 2)
    (shop / name).write_text(data, "utf-8")
    assert not finished(shop)


def test_a_file_that_no_month_reads_does_not_count(shop: Path) -> None:
    (shop / "rights.csv").write_text("file,source\n", "utf-8")
    (shop / "reports").mkdir(exist_ok=True)
    (shop / "reports" / "sales.csv").write_text("sku\n", "utf-8")
    assert finished(shop)
