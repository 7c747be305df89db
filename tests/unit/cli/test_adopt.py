"""Two hundred live listings of the sample shop, adopted from a seller's own CSV."""

import csv
import json
from pathlib import Path

import pytest

from hundredfold.cli.main import main
from hundredfold.designs.names import title_from
from hundredfold.ledger.fold import fold
from hundredfold.store.shopstore import open_store
from hundredfold.workshop.shop.newshop import new_shop

Capture = pytest.CaptureFixture[str]


def test_adopt(tmp_path: Path, capsys: Capture) -> None:
    folder = tmp_path / "shop"
    shop = new_shop(folder, sample=True)
    designs = sorted((folder / "designs").glob("*.svg"))
    pairs = [(design, blank) for design in designs for blank in shop.blanks][:200]
    live = folder / "reports" / "live.csv"
    with live.open("w", newline="", encoding="utf-8-sig") as file:
        table = csv.writer(file, delimiter=";")
        table.writerow(["Seller SKU", "Item name", "Listing id"])
        for n, (design, blank) in enumerate(pairs):
            table.writerow([f"OLD-{n:03}", f"{title_from(design.name)} | {blank.name}", 7000 + n])
        table.writerow(["OLD-999", "something nobody remembers", ""])
    asked = ["adopt", str(live), "--channel", "quayside", "--shop", str(folder)]
    assert main(asked) == 1
    out = capsys.readouterr().out
    assert "warn: live.csv, row 202, OLD-999: its blank cannot be told" in out
    assert "adopted 200 rows as 200 listings; known already 0, not live 0, not told 1" in out
    store = open_store(folder / ".hundredfold" / "shop.db")
    state = fold(store.events())
    assert (len(state.listed), state.identifiers["OLD-007"]) == (200, "7007")
    store.close()
    assert main([*asked, "--json"]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert (answer["adopted"], answer["known"]) == (0, 200)
    assert main(["adopt", str(live), "--shop", str(folder)]) == 2
    assert "say which: --channel northfold" in capsys.readouterr().err
