"""Draw the sample shop's art into src/hundredfold/sample/. Run: python -m tools.sampleart.draw [--check]

With ``--check`` nothing is written: it names the files that are not what is drawn here, and exits with 1.
"""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from tools.sampleart.finished import sample_designs
from tools.sampleart.pictures import sample_pictures

TARGET = Path(__file__).parents[2] / "src" / "hundredfold" / "sample"


def drawn() -> dict[Path, bytes]:
    """Every file of the sample's ``designs`` and ``art``, and its bytes."""
    rooms = (("designs", sample_designs()), ("art", sample_pictures()))
    return {TARGET / room / name: data for room, files in rooms for name, data in files}


def stale(wanted: dict[Path, bytes]) -> list[Path]:
    """Files that are missing, other than drawn, or drawn no more."""
    there = {path for room in ("designs", "art") for path in (TARGET / room).glob("*")}
    return sorted(
        path for path in there | wanted.keys() if path not in there or path.read_bytes() != wanted.get(path)
    )


def main(arguments: Sequence[str] | None = None) -> int:
    """Write what is stale, or name it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true")
    check = parser.parse_args(arguments).check
    wanted = drawn()
    names = stale(wanted)
    for path in names:
        print(path.relative_to(TARGET))
        if not check and path in wanted:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(wanted[path])
        elif not check:
            path.unlink()
    return int(check and bool(names))


if __name__ == "__main__":
    sys.exit(main())
