"""Equal files give equal packs, whatever the language, time zone and hash seed, and however often stopped."""

import os
import shutil
from pathlib import Path

import pytest
from monthshop import FEW_BLANKS, START, digests, hundredfold, month_shop
from runs import interrupted_at, started

DAYS = "3"
HERE = {"PYTHONHASHSEED": "1", "LC_ALL": "C", "LANG": "C", "TZ": "UTC"}
# An undotted capital of i, a decimal comma and a date that is ahead, where the system knows them.
FAR_AWAY = {
    "PYTHONHASHSEED": "2",
    "LC_ALL": "tr_TR.UTF-8",
    "LANG": "de_DE.UTF-8",
    "TZ": "Pacific/Kiritimati",
}


@pytest.mark.skipif(os.name == "nt", reason="process groups are a thing of Unix")
def test_two_shops_of_equal_files_have_equal_packs(tmp_path: Path) -> None:
    calm = month_shop(tmp_path / "calm", 3, blanks=FEW_BLANKS)
    other = Path(shutil.copytree(calm, tmp_path / "a shop with a longer name" / "stopped"))
    month = ("--start", START, "--days", DAYS)
    process = started("month", "--shop", str(calm), *month, **HERE)
    said = process.communicate(timeout=300)[1]
    assert process.returncode == 0, said
    codes = [
        interrupted_at(started("month", "--shop", str(other), *month, **FAR_AWAY), moment)[0]
        for moment in ("reading designs", "judging every design", "making")
    ]
    assert codes[0] == 130
    assert set(codes) <= {0, 130}  # on a busy machine a run may be over before the press arrives
    process = started("month", "--shop", str(other), *month, **FAR_AWAY)
    said = process.communicate(timeout=300)[1]
    assert process.returncode == 0, said
    whole = digests(calm / "packs")
    assert len({name.rsplit("/", 1)[0] for name in whole}) == 2 * int(DAYS)
    assert digests(other / "packs") == whole
    code, told = hundredfold("verify", "--shop", str(other))
    assert code == 0, told
