"""A shop answers while a month runs on it, and each answer is of one moment."""

import os
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest
from monthshop import FEW_BLANKS, START, hundredfold, month_shop

from hundredfold.store.lock import Holder
from hundredfold.store.shopstore import open_store
from hundredfold.workshop.views.designs import design_view, designs_view, proofs_view
from hundredfold.workshop.views.months import calendar_view, month_view, plan_view
from hundredfold.workshop.views.packs import packs_view
from hundredfold.workshop.views.shop import running_view, shop_view

PATIENCE_S = 240


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = month_shop(tmp_path_factory.mktemp("looking") / "shop", designs=4, blanks=FEW_BLANKS)
    code, told = hundredfold("month", "--shop", str(folder), "--start", START, "--days", "2")
    assert code == 0, told
    return folder


def holder(shop: Path) -> Holder | None:
    with closing(open_store(shop / ".hundredfold" / "shop.db")) as store:
        return store.lock.holder()


def ask(*words: str) -> dict[str, object]:
    code, told = hundredfold(*words)
    assert code in (0, 1), told
    return told


def test_a_shop_answers_while_a_month_runs(shop: Path) -> None:
    blank = shop / "blanks" / "mug-325.toml"
    blank.write_text(blank.read_text("utf-8").replace("#f7f6f2", "#f3f2ee"), "utf-8")
    script = "import sys; from hundredfold.cli.main import main; sys.exit(main(sys.argv[1:]))"
    words = ["month", "--shop", str(shop), "--start", START, "--days", "30"]
    command = [sys.executable, "-c", script, *words]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    run = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        patience = time.monotonic() + PATIENCE_S
        while holder(shop) is None and run.poll() is None and time.monotonic() < patience:
            time.sleep(0.05)
        plan, why = ask("plan", "--shop", str(shop)), ask("why", "mug-325", "--shop", str(shop))
        proof, price = ask("proof", "--shop", str(shop)), ask("price", "--shop", str(shop))
        now = running_view(shop)
        assert run.poll() is None, "the month was over before it was asked"
    finally:
        code = run.wait(PATIENCE_S)
    assert code == 0
    assert now is not None
    assert (now.command, now.pid) == ("month", run.pid)
    assert now.stage
    assert plan["plan"]
    as_of = plan["as_of"]
    assert isinstance(as_of, dict)
    assert "'month' has been at work since" in as_of["note"]
    assert proof["designs"]
    assert why["history"]
    assert price["prices"]
    assert running_view(shop) is None


def test_every_view_of_a_month_that_ended(shop: Path) -> None:
    whole, plan = shop_view(shop), plan_view(shop)
    assert whole.month is not None
    assert whole.month.packs
    assert whole.month == month_view(shop)
    assert plan is not None
    assert plan.as_of is not None
    assert not plan.as_of.older_than_files
    packs = packs_view(shop).packs
    assert {one.pack for one in packs if one.state == "made"} == set(whole.month.packs)
    assert whole.next_pack == packs[0].pack
    calendar = calendar_view(shop)
    assert sum(day.listings for day in calendar.days) == sum(one.listings for one in packs)
    designs = designs_view(shop).designs
    assert len(designs) == 4
    one = design_view(shop, designs[0].path)
    assert one.proof is not None
    assert (one.proof.passed, one.proof.stopped) == (designs[0].passed, designs[0].stopped)
    assert {listing.planned for listing in one.listings} <= {line.day for line in plan.plan}


def test_the_proof_kept_by_a_month_is_the_proof_told_anew(shop: Path) -> None:
    kept = proofs_view(shop)
    told = ask("proof", "--shop", str(shop))
    designs = told["designs"]
    assert isinstance(designs, list)
    assert [one["design"] for one in designs] == [one.design for one in kept.designs]
    assert [(one["passed"], one["worst"]) for one in designs] == [(p.passed, p.worst) for p in kept.designs]


def test_a_changed_file_makes_what_is_kept_old(shop: Path) -> None:
    limits = shop / "checks.toml"
    old = limits.read_text("utf-8")
    limits.write_text(old + "# a note\n", "utf-8")
    plan = plan_view(shop)
    assert plan is not None
    assert plan.as_of is not None
    assert plan.as_of.older_than_files
    assert "files have changed" in plan.as_of.note
    limits.write_text(old, "utf-8")


def test_what_a_month_with_problems_found_is_kept(tmp_path: Path) -> None:
    folder = month_shop(tmp_path / "shop", designs=2, blanks=FEW_BLANKS)
    (folder / "designs" / "broken.png").write_bytes(b"not a picture")
    code, _ = hundredfold("month", "--shop", str(folder), "--start", START, "--days", "2")
    assert code == 1
    month, plan = month_view(folder), plan_view(folder)
    assert month is not None
    assert month.problems
    assert month.findings[0].severity == "stop"  # the worst comes first
    assert "broken.png" in month.findings[0].item
    assert plan is not None
    assert plan.plan
    assert proofs_view(folder).designs
    (folder / ".hundredfold" / "cache").rename(tmp_path / "gone")  # may be deleted at any time
    assert month_view(folder) is None
