"""A disk small enough to fill, a shop whose month is made, and at the end what was skipped and why."""

import shutil
import subprocess
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from monthshop import month, month_shop

from hundredfold.runner import workers
from hundredfold.workshop.shop import bench

DESIGNS = 40
CAPS = {"northfold": ("daily = 60", "daily = 24"), "quayside": ("daily = 9", "daily = 4")}


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """A comparison that is not made looks like one that holds: say how many, and what they lacked."""
    reports = terminalreporter.stats.get("skipped", [])
    reasons = Counter(report.longrepr[2].removeprefix("Skipped: ") for report in reports)
    for reason, count in sorted(reasons.items()):
        terminalreporter.write_line(f"skipped {count}: {reason}", yellow=True)


@pytest.fixture(scope="session", autouse=True)
def _made_here() -> Iterator[None]:
    """Commands run in this process make their files in it too: workers cost more than a small month's work.

    Commands started as processes of their own have workers, and so has a test that names them.
    """
    with pytest.MonkeyPatch.context() as patch:
        for module in (workers, bench):
            patch.setattr(module, "LOCAL", workers.Workers(workers.InProcess))
        yield


@pytest.fixture
def tiny_disk(tmp_path: Path) -> Iterator[Callable[[str], Path]]:
    """Mounts a file system with these options (``size=512k,ro``); the test is skipped where we may not."""
    folder = tmp_path / "tiny disk"
    folder.mkdir()
    mounted = False

    def mount(options: str) -> Path:
        nonlocal mounted
        command = ["mount", "-t", "tmpfs", "-o", options, "tmpfs", str(folder)]
        if mounted:
            command = ["mount", "-o", f"remount,{options}", str(folder)]
        try:
            done = subprocess.run(command, capture_output=True, check=False)
        except FileNotFoundError:
            pytest.skip("there is no mount command here")
        if done.returncode:
            pytest.skip("mounting needs the administrator")
        mounted = True
        return folder

    yield mount
    if mounted:
        subprocess.run(["umount", str(folder)], check=True)


@pytest.fixture(scope="session")
def _made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    shop = month_shop(tmp_path_factory.mktemp("made") / "shop", DESIGNS)
    for channel, (usual, less) in CAPS.items():
        path = shop / "channels" / f"{channel}.toml"
        text = path.read_text("utf-8")
        assert usual in text
        path.write_text(text.replace(usual, less), "utf-8")
    month(shop)
    return shop


@pytest.fixture
def made(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A shop of 40 designs and 11 blanks whose 30 days are full, under smaller caps: a copy for each test."""
    grouped = not request.config.getoption("loadgroup", False) or "@" in request.node.nodeid
    assert grouped, "pytest-xdist's groups do not hold, so each worker would make this month"
    return Path(shutil.copytree(request.getfixturevalue("_made"), tmp_path / "shop"))
