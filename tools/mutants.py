"""Break lines of a room one at a time and see whether a test notices; docs/tests.md has what came of it.

    python -m tools.mutants /tmp/broken --room planning --sample 100 --seed 1

Needs mutmut (``python -m pip install mutmut==3.8.1``), which nothing else needs. Lines are broken in a clone
of the last commit. The clone is kept: a second run breaks the same lines of it.
"""

import argparse
import json
import random
import subprocess
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

# The tests that a room's broken lines are shown to: its own, and those of the rooms that pin it.
ROOMS = {
    "ledger": ("ledger", "planning"),
    "planning": ("planning",),
    "pricing": ("pricing",),
    "handoff": ("handoff",),
    "runner": ("runner",),
    "workshop/handover": ("workshop/handover",),
}
_NO_TEST = (5, 33)
# mutmut's exit codes: a test failed, ran out of time, or the process died.
_NOTICED = frozenset((1, 3, 24, -24, 36, 152, 255, -9, -11))
_CONFIG = """
[tool.mutmut]
source_paths = ["src"]
only_mutate = {files}
also_copy = ["tests", "tools", "requirements", "docs"]
pytest_add_cli_args = ["-p", "no:cacheprovider", "-p", "no:xdist", "-o", "addopts="]
pytest_add_cli_args_test_selection = {tests}
track_dependencies = false
"""
# A failing example need not be made smaller, and the same ones are drawn for every broken line.
_PROFILE = """

from hypothesis import Phase, settings  # noqa: E402

_PHASES = [Phase.explicit, Phase.generate]
settings.register_profile("broken", phases=_PHASES, derandomize=True, database=None, deadline=None)
settings.load_profile("broken")
"""


def prepare(into: Path, rooms: Sequence[str]) -> None:
    """A clone that knows which files to break and which tests to show them to."""
    subprocess.run(["git", "clone", "-q", ".", str(into)], check=True)
    files = json.dumps([f"src/hundredfold/{room}/*.py" for room in rooms])
    tests = json.dumps(sorted({f"tests/unit/{name}" for room in rooms for name in ROOMS[room]}))
    with (into / "pyproject.toml").open("a", encoding="utf-8") as project:
        project.write(_CONFIG.format(files=files, tests=tests))
    with (into / "tests" / "conftest.py").open("a", encoding="utf-8") as conftest:
        conftest.write(_PROFILE)


def mutmut(into: Path, workers: int, names: Iterable[str]) -> None:
    """Break these lines. Fails where the tests fail on the lines as they are."""
    command = [sys.executable, "-m", "mutmut", "run", "--max-children", str(workers), *names]
    subprocess.run(command, cwd=into, check=False)


def results(into: Path, room: str) -> dict[str, int | None]:
    """Every broken line of a room by name, with the exit code of its tests; None where they did not run."""
    found: dict[str, int | None] = {}
    for path in sorted((into / "mutants" / "src" / "hundredfold" / room).glob("*.meta")):
        found |= json.loads(path.read_text("utf-8"))["exit_code_by_key"]
    return found


def drawn(into: Path, room: str, sample: int, seed: int) -> list[str]:
    """The sample of a room: ``random.Random(seed).sample`` of its broken lines, sorted by name."""
    names = sorted(results(into, room))
    return random.Random(seed).sample(names, min(sample, len(names)))


def told(into: Path, room: str, names: Sequence[str]) -> Iterable[str]:
    """The room's row of the table, and what survived."""
    codes = results(into, room)
    ran = [name for name in names if codes[name] is not None]
    noticed = [name for name in ran if codes[name] in _NOTICED]
    share = 100 * len(noticed) / max(1, len(ran))
    yield f"| {room} | {len(codes)} | {len(ran)} | {len(noticed)} | {share:.0f} % |"
    for name in sorted(set(ran) - set(noticed)):
        yield f"    {name}{'  (no test runs it)' if codes[name] in _NO_TEST else ''}"


def main() -> None:
    """Prepare, break, tell."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("into", type=Path, help="the clone; made where it is not there")
    parser.add_argument("--room", action="append", choices=sorted(ROOMS), help="may be given several times")
    parser.add_argument("--sample", type=int, default=100, help="lines broken in each room")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    rooms = asked.room or sorted(ROOMS)
    if not asked.into.exists():
        prepare(asked.into, rooms)
    if not all(results(asked.into, room) for room in rooms):
        mutmut(asked.into, asked.workers, ["none of them"])  # writes all of them and times the tests
    names = {room: drawn(asked.into, room, asked.sample, asked.seed) for room in rooms}
    mutmut(asked.into, asked.workers, [name for each in names.values() for name in each])
    print("| room | lines to break | broken | noticed | share |\n| --- | --- | --- | --- | --- |")
    for room in rooms:
        print(*told(asked.into, room, names[room]), sep="\n")


if __name__ == "__main__":
    main()
