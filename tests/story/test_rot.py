"""A byte that rots under an unchanged time stamp, in the cache or in a pack: found, mended by the month."""

import os
from pathlib import Path

import pytest
from monthshop import START, hundredfold, month, month_shop


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    shop = month_shop(tmp_path / "shop", 1, blanks=("mug-325",))
    month(shop, 1)
    return shop


def rot(path: Path) -> None:
    """One bit changes, and no time stamp says so."""
    seen, mode = os.stat(path), path.stat().st_mode
    path.chmod(0o600)
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 1
    with path.open("r+b") as file:
        file.write(data)
    path.chmod(mode)
    os.utime(path, ns=(seen.st_atime_ns, seen.st_mtime_ns))


def test_what_verify_finds_the_next_month_mends(shop: Path) -> None:
    pack = next(iter(sorted(shop.glob("packs/*/*/artwork.zip"))))
    whole = pack.read_bytes()
    rot(pack)
    assert hundredfold("verify", "--shop", str(shop))[0] == 1
    month(shop, 1)
    assert pack.read_bytes() == whole
    assert hundredfold("verify", "--shop", str(shop))[0] == 0


def test_rot_in_the_cache_stops_one_month_at_most(shop: Path) -> None:
    pack = next(iter(sorted(shop.glob("packs/*/*/artwork.zip"))))
    whole = pack.read_bytes()
    pack.unlink()
    for kept in shop.glob(".hundredfold/cache/??/*"):
        if kept.read_bytes() in whole:
            rot(kept)
    arguments = ("month", "--shop", str(shop), "--start", START, "--days", "1")
    code, told = hundredfold(*arguments)
    if code:
        assert "run the month again" in str(told)
    month(shop, 1)
    assert pack.read_bytes() == whole
