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


def test_rot_in_a_day_handed_over_is_told_and_left_alone(shop: Path) -> None:
    """What has gone out is not written again: nobody could tell any more what the partner got."""
    assert hundredfold("deliver", "--all", "--shop", str(shop))[0] == 0
    pack = next(iter(sorted(shop.glob("packs/*/*/artwork.zip"))))
    rot(pack)
    rotten = pack.read_bytes()
    code, told = hundredfold("verify", "--shop", str(shop))
    assert code == 1
    assert "changed" in str(told)
    hundredfold("month", "--shop", str(shop), "--start", START, "--days", "1")
    assert pack.read_bytes() == rotten
    assert hundredfold("verify", "--shop", str(shop))[0] == 1


def test_rot_anywhere_in_the_cache_stops_one_month_at_most(shop: Path) -> None:
    """Facts, proofs, small art, print files, pictures: every kept byte at once."""
    whole = {path: path.read_bytes() for path in sorted(shop.glob("packs/*/*/*"))}
    for kept in shop.glob(".hundredfold/cache/??/*"):
        rot(kept)
    for path in whole:
        path.unlink()
    told = ""
    for _ in range(4):  # an output made from another that rotted waits for the next run
        code, document = hundredfold("month", "--shop", str(shop), "--start", START, "--days", "1")
        if code == 0:
            break
        told = str(document)
        assert "again" in told
    assert code == 0, told
    assert {path: path.read_bytes() for path in sorted(shop.glob("packs/*/*/*"))} == whole
