"""The verbs for finished packs, through the command line, on a shop folder with packs made."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from shops import make_pack

from hundredfold.cli.main import main
from hundredfold.store.shopstore import open_store
from hundredfold.workshop.shop.newshop import new_shop

Capture = pytest.CaptureFixture[str]
TODAY = datetime.now(UTC).astimezone().date()
PACK = f"north-print/{TODAY}"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    root = tmp_path / "shop"
    new_shop(root, sample=False)
    store = open_store(root / ".hundredfold" / "shop.db")
    make_pack(root, store, TODAY)
    make_pack(root, store, TODAY + timedelta(days=1), "sea-swimmer")
    store.close()
    return root


def test_verify(shop: Path, capsys: Capture) -> None:
    assert main(["verify", "--shop", str(shop)]) == 0
    assert capsys.readouterr().out == "verified 2 packs: 2 without any remark\n"
    table = shop / "packs" / PACK / "listings.csv"
    table.write_bytes(table.read_bytes().replace(b"12.95", b"11.95", 1))
    assert main(["verify", PACK, "--shop", str(shop)]) == 1
    out = capsys.readouterr().out
    assert f"stop: {PACK}: listings.csv, line 2, PG-NP-PROUDBEEKEEPER-MUG325-WHITE, column Price: " in out
    assert main(["verify", "--shop", str(shop), "--json"]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert (answer["sound"], len(answer["packs"][PACK])) == (False, 3)


def test_deliver(shop: Path, capsys: Capture) -> None:
    assert main(["deliver", "--shop", str(shop)]) == 0
    out = capsys.readouterr().out
    assert out.startswith(f"handed over {PACK}: 4 files, ")
    assert (shop / "delivered" / PACK / "manifest.json").is_file()
    assert main(["deliver", "--shop", str(shop)]) == 0
    assert capsys.readouterr().out == "nothing to hand over today\n"
    assert main(["deliver", PACK, "--shop", str(shop)]) == 1
    assert "was handed over already" in capsys.readouterr().err
    assert main(["deliver", "--all", "--shop", str(shop), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert [each["handed_over"] for each in answer["packs"]] == [True]


def test_settle_needs_both(shop: Path, capsys: Capture) -> None:
    assert main(["deliver", "--settle", PACK, "--shop", str(shop)]) == 2
    assert "--settle and --happened go together" in capsys.readouterr().err
    assert main(["deliver", "--settle", PACK, "--happened", "no", "--shop", str(shop)]) == 2
    assert "is not an unsure hand-over" in capsys.readouterr().err


def test_answer_for_a_channel_there_is_not(shop: Path, capsys: Capture) -> None:
    assert main(["answer", "x.csv", "--channel", "nowhere", "--shop", str(shop)]) == 2
    assert "nowhere" in capsys.readouterr().err
