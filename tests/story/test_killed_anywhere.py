"""Nothing leaves twice, nothing is lost, every doubt is asked: whatever is killed, whoever takes files away.

The far side is played by a process of its own that takes packs at random; what it got is what is counted.
"""

import json
import os
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest
from killing import live_through

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork, which this system lacks")


@pytest.mark.parametrize("kills", [12, pytest.param(2000, marks=pytest.mark.big)])
def test_every_pack_leaves_once(tmp_path: Path, kills: int) -> None:
    counts: Counter[str] = Counter()
    seed = 0
    while counts["killed"] < kills:
        seed += 1
        lived = live_through(tmp_path / str(seed), seed, kills=min(kills, 25))
        counts += lived.counts
        counts["asked"] += lived.asked
    assert counts["killed"] >= kills
    assert counts["deliver killed"] > 0
    if kills > 100:  # pytest -s shows it
        sys.stdout.write(f"{dict(sorted(counts.items()))}\n")


@pytest.mark.parametrize("kills", [10, pytest.param(1000, marks=pytest.mark.big)])
def test_months_killed_anywhere_send_each_row_once(tmp_path: Path, kills: int) -> None:
    """With hand-overs, choices, answers, undos, backups and restores between and beside them."""
    support = Path(__file__).parents[1] / "support"
    command = [sys.executable, str(support / "monthkilling.py"), str(tmp_path), str(kills)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60 + 30 * kills, check=False)
    assert done.returncode == 0, done.stderr[-4000:]
    counts = json.loads(done.stdout)
    assert counts["killed"] >= kills
    assert sum(count for name, count in counts.items() if name.startswith("month") and "killed" in name) > 0
    if kills > 100:  # pytest -s shows it
        sys.stdout.write(f"{counts}\n")
