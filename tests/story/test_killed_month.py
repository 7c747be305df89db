"""A month killed at any moment goes on from there and ends with the bytes of a calm one."""

import os
import random
import shutil
import signal
import subprocess
import time
from pathlib import Path

import pytest
from monthshop import START, digests, hundredfold, month_shop
from runs import started

DAYS = "2"


def month_of(shop: Path) -> "subprocess.Popen[str]":
    return started("month", "--shop", str(shop), "--start", START, "--days", DAYS)


def killed_after(process: "subprocess.Popen[str]", seconds: float) -> bool:
    """Kill it and its workers after so long; whether it was still at work."""
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        if process.poll() is not None:
            return False
        time.sleep(0.005)
    os.killpg(process.pid, signal.SIGKILL)
    process.wait()
    return True


@pytest.mark.skipif(os.name == "nt", reason="kill -9 is a thing of Unix")
@pytest.mark.parametrize("kills", [5, pytest.param(20, marks=pytest.mark.big)])
def test_killed_months_end_as_a_calm_one(tmp_path: Path, kills: int) -> None:
    calm = month_shop(tmp_path / "calm", 3, blanks=("mug-325", "t-shirt"))
    troubled = tmp_path / "troubled"
    shutil.copytree(calm, troubled)
    before = time.monotonic()
    assert month_of(calm).wait() == 0
    whole = time.monotonic() - before
    rng = random.Random(kills)
    done = 0
    while done < kills:
        # Spread over the whole run: each in its own slice, since a run that goes on has less left to do.
        moment = whole * (done + rng.random()) / kills
        if killed_after(month_of(troubled), moment):
            done += 1
        else:  # it was quicker than the calm run, which a busy machine held up
            whole *= 0.9
        if (troubled / "packs").is_dir() and digests(troubled / "packs") == digests(calm / "packs"):
            shutil.rmtree(troubled / "packs")
            shutil.rmtree(troubled / ".hundredfold")
    assert month_of(troubled).wait() == 0
    assert digests(troubled / "packs") == digests(calm / "packs")
    code, told = hundredfold("verify", "--shop", str(troubled))
    assert code == 0, told
