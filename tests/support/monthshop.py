"""A whole shop with small art, for tests that run the month: the sample at a fifth of its resolution."""

import contextlib
import hashlib
import io
import json
import re
from collections.abc import Collection
from pathlib import Path

from openmoji import write_designs

from hundredfold.cli.main import main
from hundredfold.workshop.shop.newshop import new_shop

START = "2027-01-01"
FEW_BLANKS = ("mug-325", "mug-445", "t-shirt")
SHRINK = 5
PICTURE_PX = 120


def month_shop(root: Path, designs: int, width_px: int = 360, blanks: Collection[str] = ()) -> Path:
    """The sample shop with OpenMoji art for designs, a fifth of every resolution, and few pictures.

    ``blanks`` keeps only the blank files of these names, for tests that run many months.
    """
    new_shop(root, sample=True)
    for path in (root / "blanks").glob("*.toml"):
        if blanks and path.stem not in blanks:
            path.unlink()
    for path in (root / "designs").iterdir():
        path.unlink()
    write_designs(root / "designs", designs, width_px)
    for path in sorted((root / "blanks").glob("*.toml")):
        small = re.sub(r"(?m)^(\s*(?:width_px|height_px|dpi) = )(\d+)", _shrunk, path.read_text("utf-8"))
        path.write_text(small, "utf-8")
    for path in sorted((root / "channels").glob("*.toml")):
        text = re.sub(r"(?m)^((?:width_px|height_px) = )\d+", rf"\g<1>{PICTURE_PX}", path.read_text("utf-8"))
        text = re.sub(r"(?m)^(min_side_px = )\d+", r"\g<1>0", text)
        path.write_text(re.sub(r"(?m)^(max_count = )\d+", r"\g<1>1", text), "utf-8")
    settings = (root / "shop.toml").read_text("utf-8")
    settings = settings.replace("colours_to_list = 4", "colours_to_list = 2")
    (root / "shop.toml").write_text(settings.replace("[month]", 'checks_profile = "checks.toml"\n\n[month]'))
    (root / "checks.toml").write_text(
        '[limits]\ndpi_floor = {value = 5, reason = "tests print small"}\n'
        'dpi_target = {value = 10, reason = "tests print small"}\n'
    )
    return root


def _shrunk(found: re.Match[str]) -> str:
    return found[1] + str(max(1, int(found[2]) // SHRINK))


def hundredfold(*arguments: str) -> tuple[int, dict[str, object]]:
    """Run one command in this process with ``--json``; its exit code and its document."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        code = main([*arguments, "--json"])
    return code, json.loads(out.getvalue())


def month(shop: Path, days: int = 30) -> dict[str, object]:
    """Run the month and expect that it went well."""
    code, told = hundredfold("month", "--shop", str(shop), "--start", START, "--days", str(days))
    assert code == 0, told
    return told


def counts(told: dict[str, object]) -> tuple[int, int, int]:
    """Made, reused, failed."""
    held = told["counts"]
    assert isinstance(held, dict)
    return held["made"], held["reused"], held["failed"]


def digests(folder: Path) -> dict[str, str]:
    """The sha256 of every file below a folder."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
