from collections.abc import Iterator
from pathlib import Path

import pytest
from shops import KEY, stocked

from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.handover.delivering import deliver
from hundredfold.workshop.handover.verifying import verify_packs
from hundredfold.workshop.shop.desk import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = stocked(tmp_path / "shop")
    yield opened
    opened.store.close()


def folder(desk: Desk) -> Path:
    return desk.shop.paths.packs / KEY.channel / KEY.day


def test_all_packs_are_sound(desk: Desk) -> None:
    verified = verify_packs(desk.shop, desk.ledger())
    assert verified.packs == {str(KEY): ()}
    assert verified.sound


def test_a_named_pack_and_a_folder(desk: Desk, tmp_path: Path) -> None:
    assert verify_packs(desk.shop, desk.ledger(), [str(KEY)]).sound
    deliver(desk.shop, desk.store, KEY, tmp_path / "out")
    there = str(tmp_path / "out" / KEY.channel / KEY.day)
    assert verify_packs(desk.shop, desk.ledger(), [there]).packs == {there: ()}
    with pytest.raises(ShopError) as caught:
        verify_packs(desk.shop, desk.ledger(), ["north-print/1999-01-01"])
    assert caught.value.slug == "no-such-pack"


def test_a_flipped_byte_a_lost_file_a_lost_pack(desk: Desk) -> None:
    art = folder(desk) / "artwork.zip"
    data = bytearray(art.read_bytes())
    data[60] ^= 1
    art.write_bytes(data)
    found = verify_packs(desk.shop, desk.ledger()).packs[str(KEY)]
    assert {f.item.partition(",")[0] for f in found} == {"artwork.zip"}
    art.unlink()
    (found_one,) = verify_packs(desk.shop, desk.ledger()).packs[str(KEY)]
    assert (found_one.code, found_one.item) == ("missing", "artwork.zip")
    for path in folder(desk).iterdir():
        path.unlink()
    (found_one,) = verify_packs(desk.shop, desk.ledger()).packs[str(KEY)]
    assert (found_one.code, found_one.item) == ("missing", "manifest.json")
    folder(desk).rmdir()
    (found_one,) = verify_packs(desk.shop, desk.ledger()).packs[str(KEY)]
    assert found_one.what == "the whole pack is gone from its folder"


def test_what_a_killed_run_left_is_told_and_swept_by_whoever_holds_the_lock(
    desk: Desk, tmp_path: Path
) -> None:
    left = folder(desk) / ".part-77-0"
    left.write_bytes(b"half")
    (found,) = verify_packs(desk.shop, desk.ledger()).packs[str(KEY)]
    assert (found.code, found.item) == ("unlisted", ".part-77-0")
    assert deliver(desk.shop, desk.store, KEY, tmp_path / "out").done
    assert not left.exists()
