"""`why`, `answer` and `verify` say the same of a pack of which nobody knows whether it arrived."""

import contextlib
from pathlib import Path

from shops import KEY, stocked

from hundredfold.ledger.events import Event, Happened
from hundredfold.workshop.handover.answering import answer
from hundredfold.workshop.handover.verifying import verify_packs
from hundredfold.workshop.month.explaining import _Asking

DOUBT = "whether that arrived is not known"


def test_an_unsure_pack_is_told_alike(tmp_path: Path) -> None:
    desk = stocked(tmp_path / "shop")
    with contextlib.closing(desk.store):
        sku = desk.ledger().packs[KEY].rows[0].sku
        told = _Asking(desk, desk.store.events(), sku).answer()
        assert told.notes == (f"{sku} is in the pack {KEY}",)
        begun = {"destination": "/far", "manifest": desk.ledger().packs[KEY].manifest}
        desk.store.append([Event(Happened.HANDING_OVER, str(KEY), begun)])
        desk.store.append([Event(Happened.UNSURE, str(KEY), {"destination": "/far"})])
        told = _Asking(desk, desk.store.events(), sku).answer()
        assert told.notes == (f"{sku} is in the pack {KEY}, and {DOUBT}",)
        file = tmp_path / "answers.csv"
        file.write_text(f"SKU;Status\n{sku};ok\n", "utf-8")
        (finding,) = answer(desk, file, "").findings
        assert finding.what.startswith(f"{sku} is in {KEY}, and {DOUBT}")
        found = verify_packs(desk.shop, desk.ledger()).packs[str(KEY)]
        assert "unsure" in {one.code for one in found}
