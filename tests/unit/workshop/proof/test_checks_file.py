"""The file of check settings as its page describes it, and what ``explain`` knows."""

import re
from pathlib import Path

import pytest

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.repair.changes import Kind
from hundredfold.workshop.proof.checkpages import explained, known_checks
from hundredfold.workshop.proof.everycheck import EVERY_CHECK
from hundredfold.workshop.proof.onedesign import asked_of
from hundredfold.workshop.proof.repairing import rules_of
from hundredfold.workshop.shop.folder import Shop, open_shop
from hundredfold.workshop.shop.newshop import new_shop

PAGE = Path(__file__).parents[4] / "docs" / "checks" / "README.md"


def shop_with(folder: Path, text: str) -> Shop:
    new_shop(folder)
    settings = folder / "shop.toml"
    settings.write_text(f'checks_profile = "checks.toml"\n{settings.read_text("utf-8")}', "utf-8")
    (folder / "checks.toml").write_text(text, "utf-8")
    return open_shop(folder)


def test_the_file_on_the_page_is_taken_as_it_stands(tmp_path: Path) -> None:
    (example,) = re.findall(r"```toml\n(.*?)```", PAGE.read_text("utf-8"), flags=re.S)
    printer, _, rest = example.partition("\n")
    assert printer.startswith("printer = ")  # needs a profile of a real printer
    shop = shop_with(tmp_path / "shop", rest)
    profile = asked_of(shop).profile
    assert profile.limits.dpi_floor == 120
    assert profile.severities["art/stray-specks", "specks"][0] is Severity.NOTE
    assert list(profile.off) == ["art/touches-edge"]
    assert rules_of(shop, profile.limits).kinds == (Kind.OUTLINE, Kind.RECOLOUR)


@pytest.mark.parametrize("record", EVERY_CHECK, ids=lambda one: one.id)
def test_every_finding_is_explained(record: CheckRecord, tmp_path: Path) -> None:
    page = explained(record.id, tmp_path)
    for heading in (
        "What it looks at",
        "Why it matters",
        "Example",
        "How to fix it",
        "Known limits",
        "Source",
    ):
        assert f"## {heading}\n\n" in page


def test_the_list_holds_them_all_and_a_slip_is_answered(tmp_path: Path) -> None:
    assert len(known_checks()) == len({name for name, _, _ in known_checks()}) == len(EVERY_CHECK)
    with pytest.raises(ShopError, match="pack/fiel") as caught:
        explained("pack/fiel", tmp_path)
    assert "pack/file" in caught.value.fix
