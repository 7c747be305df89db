"""Workers without a folder in common with the shop make the same month: only bytes travel."""

from datetime import date
from pathlib import Path

import pytest
from farworkers import FarWorkers
from monthshop import digests, month, month_shop

from hundredfold.runner.tasks import Counts
from hundredfold.runner.workers import Workers
from hundredfold.workshop.month.closing import MonthReport
from hundredfold.workshop.month.run import month as prepare_month
from hundredfold.workshop.shop.bench import bench

BLANKS = ("mug-325", "t-shirt")


def far_month(shop: Path) -> tuple[MonthReport, list[FarWorkers]]:
    started: list[FarWorkers] = []

    def start() -> FarWorkers:
        started.append(FarWorkers(shop))
        return started[-1]

    workers = Workers(start, share_folders=False, small_groups=0, count=2)
    with bench(shop, "month", workers=workers) as tools:
        return prepare_month(tools, date(2027, 1, 1), 3), started


def test_workers_far_away_make_the_same_packs(tmp_path: Path) -> None:
    near = month_shop(tmp_path / "near", 3, blanks=BLANKS)
    month(near, 3)
    far = month_shop(tmp_path / "far", 3, blanks=BLANKS)
    report, started = far_month(far)
    assert not report.problems
    assert digests(far / "packs") == digests(near / "packs")
    assert len(digests(far / "packs")) > 3
    assert sum(each.calls for each in started) >= 4 * 3  # measuring, reading, judging, making
    report, started = far_month(far)
    assert (report.counts.made, started) == (0, [])


def test_art_that_goes_away_meanwhile_is_one_designs_failure(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop = month_shop(tmp_path / "shop", 2, blanks=("mug-325",))
    lost = sorted((shop / "designs").iterdir())[1]  # read once the workers have started for the first
    start = FarWorkers.__init__

    def losing(self: FarWorkers, forbidden: Path) -> None:
        lost.write_bytes(b"other bytes")
        start(self, forbidden)

    monkeypatch.setattr(FarWorkers, "__init__", losing)
    report, _ = far_month(shop)
    (finding,) = [one for one in report.to_do if one.check == "designs/unusable-file"]
    assert finding.item == f"designs/{lost.name}"
    assert finding.what == "the file changed while the run was using it"
    assert finding.fix == "run the command again"
    assert report.counts != Counts()
