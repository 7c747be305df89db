"""Any byte of any file of a pack, flipped: the verifier must say so and name the file."""

import re
from functools import cache

import pytest
from goods import InMemory, TinyPack, channel, design, mug, sheet, shirt, written
from hypothesis import given, settings
from hypothesis import strategies as st

from hundredfold.catalogue.channels import CapCounts
from hundredfold.catalogue.sheets import TableKind
from hundredfold.handoff.judge_terms import Expected
from hundredfold.handoff.verifying import verify
from hundredfold.kernel.findings import Severity

KINDS = ["csv", "xlsx"]


@cache
def tiny(kind: str) -> dict[str, bytes]:
    to = channel(daily_cap=20, sheet=sheet(TableKind(kind), families=kind == "csv", byte_order_mark=True))
    pack = TinyPack(to)
    pack.add(design(), mug())
    pack.add(design("sea-swimmer", "sea swimmer, in a hurry"), shirt())
    files, packed = written(pack, [mug(), shirt()])
    assert packed.findings == ()
    return files


def notice(files: dict[str, bytes], name: str, place: int, flip: int) -> None:
    data = bytearray(files[name])
    data[place] ^= flip
    found = verify(InMemory({**files, name: bytes(data)}))
    stops = [f for f in found if f.severity is Severity.STOP and f.item.startswith(name)]
    assert stops, f"byte {place} of {name} ^ {flip:#x} was not named: {found}"


@pytest.mark.parametrize("kind", KINDS)
def test_a_good_pack_passes(kind: str) -> None:
    assert verify(InMemory(tiny(kind))) == ()


def test_a_good_pack_passes_under_the_shop_s_files() -> None:
    to = channel(daily_cap=20, sheet=sheet(TableKind.XLSX, byte_order_mark=True))
    assert verify(InMemory(tiny("xlsx")), expected=Expected(to, (mug(), shirt()))) == ()
    other = channel(daily_cap=19, cap_counts=CapCounts.LISTINGS)
    found = verify(InMemory(tiny("xlsx")), expected=Expected(other, (mug(),)))
    assert {re.sub(".*, ", "", f.item) for f in found} == {"daily cap", "areas", "table"}


@pytest.mark.parametrize("kind", KINDS)
def test_every_byte_of_the_manifest_counts(kind: str) -> None:
    files = tiny(kind)
    for place in range(0, len(files["manifest.json"]), 7):
        notice(files, "manifest.json", place, 1)


@settings(max_examples=400, deadline=None)
@given(data=st.data(), kind=st.sampled_from(KINDS), flip=st.integers(1, 255))
def test_any_flip_anywhere_is_named(data: st.DataObject, kind: str, flip: int) -> None:
    files = tiny(kind)
    name = data.draw(st.sampled_from(sorted(files)))
    notice(files, name, data.draw(st.integers(0, len(files[name]) - 1)), flip)


@settings(max_examples=200, deadline=None)
@given(data=st.data(), kind=st.sampled_from(KINDS))
def test_any_cut_or_addition_is_named(data: st.DataObject, kind: str) -> None:
    files = tiny(kind)
    name = data.draw(st.sampled_from(sorted(files)))
    place = data.draw(st.integers(0, len(files[name])))
    more = data.draw(st.binary(max_size=4))
    changed = files[name][:place] + more + files[name][data.draw(st.integers(place, len(files[name]))) :]
    if changed != files[name]:
        found = verify(InMemory({**files, name: changed}))
        assert any(f.item.startswith(name) for f in found if f.severity is Severity.STOP)


@pytest.mark.parametrize("kind", KINDS)
def test_a_lost_file_is_named(kind: str) -> None:
    for name in tiny(kind):
        left = {n: d for n, d in tiny(kind).items() if n != name}
        assert any(f.item == name and f.code == "missing" for f in verify(InMemory(left)))


def test_a_stray_file_is_pointed_out_but_does_not_stop() -> None:
    (found,) = verify(InMemory({**tiny("csv"), "Thumbs.db": b"x"}))
    assert (found.severity, found.code, found.item) == (Severity.WARN, "left-by-system", "Thumbs.db")
