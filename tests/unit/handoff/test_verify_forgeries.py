"""A pack changed by someone who makes every digest fit again: what can be told, is told, and named."""

import copy
import hashlib
import io
import json
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal
from functools import cache
from typing import Any

import pytest
from goods import DAY, InMemory, TinyPack, channel, design, gbp, mug, png, sheet, shirt, written
from hypothesis import given, settings
from hypothesis import strategies as st

from hundredfold.catalogue.channels import CapCounts, Channel
from hundredfold.catalogue.sheets import TableKind
from hundredfold.handoff.recording import packed_event
from hundredfold.handoff.verifying import verify
from hundredfold.handoff.writing import sealed
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.money import Money
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import PackKey, SkuKey
from hundredfold.ledger.state import LedgerState

KEY = PackKey("north-print", DAY.isoformat())
Files = dict[str, bytes]


def pack_of(to: Channel) -> TinyPack:
    pack = TinyPack(to)
    pack.add(design(), mug())
    pack.add(design("sea", "sea swimmer"), shirt())
    return pack


@cache
def made() -> tuple[Files, list[Event]]:
    """A good pack and the events of a shop that made it."""
    pack = pack_of(channel())
    files, packed = written(pack, [mug(), shirt()])
    events = [
        Event(
            Happened.SKU_GIVEN,
            row.sku,
            SkuKey(KEY.channel, row.listing.design, row.listing.blank, row.colour, row.size).as_data(),
        )
        for row in packed.rows
    ]
    return files, [*events, packed_event(KEY, packed, pack.planned, {})]


def state_of(events: list[Event]) -> LedgerState:
    return fold([replace(event, number=n) for n, event in enumerate(events, start=1)])


def fooled(files: Files, events: list[Event]) -> LedgerState:
    """The shop as if its ledger had recorded this very manifest."""
    digest = hashlib.sha256(files["manifest.json"]).hexdigest()
    return state_of([*events[:-1], replace(events[-1], data={**events[-1].data, "manifest": digest})])


def resealed(files: Files, change: Callable[[Any], None]) -> Files:
    manifest = json.loads(files["manifest.json"])
    del manifest["sha256"]
    change(manifest)
    return {**files, "manifest.json": sealed(manifest)}


def codes(found: tuple[Finding, ...]) -> set[str]:
    return {f"{f.check} {f.code}" for f in found}


def test_the_shop_knows_its_own_pack() -> None:
    files, events = made()
    assert verify(InMemory(files), state_of(events)) == ()
    out = [*events, Event(Happened.HANDING_OVER, str(KEY)), Event(Happened.HANDED_OVER, str(KEY))]
    assert verify(InMemory(files), state_of(out)) == ()


def test_any_resealed_manifest_is_not_the_recorded_one() -> None:
    files, events = made()
    forged = resealed(files, lambda m: m["terms"]["limits"].update(title_chars=999))
    assert verify(InMemory(forged)) == ()  # nothing in the pack itself can tell
    (found,) = verify(InMemory(forged), state_of(events))
    assert (found.code, found.item) == ("other-manifest", "manifest.json")


ROW_FIELDS = (
    "action", "sku", "role", "design", "blank", "colour", "size", "price", "currency", "artwork", "pictures",
    "part", "line", "cells",
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_a_changed_field_of_a_row_is_named(data: st.DataObject) -> None:
    """Even where seal and ledger were made to fit."""
    files, events = made()
    field = data.draw(st.sampled_from(ROW_FIELDS))
    number = data.draw(st.integers(0, 3))

    def change(manifest: Any) -> None:
        row, other = manifest["rows"][number], manifest["rows"][(number + 2) % 4]
        if isinstance(row[field], int):
            row[field] += data.draw(st.sampled_from([1, 7]))
        elif field == "action":
            row[field] = data.draw(st.sampled_from(["change", "end"]))
        elif field == "role":
            row[field] = "head"
        else:
            row[field] = other[field] if row[field] != other[field] else "x"

    forged = resealed(files, change)
    if forged != files:
        sku = json.loads(files["manifest.json"])["rows"][number]["sku"]
        found = verify(InMemory(forged), fooled(forged, events))
        assert found
        if field not in ("sku", "part", "line"):
            assert any(sku in f.item or f"rows.{number + 1}." in f.item for f in found), (field, found)


@pytest.mark.parametrize(
    ("by", "code"),
    [
        ("1.00", "above-least"),
        ("-1.00", "below-target"),
        ("0.04", "wrong-ending"),
        ("99.00", "above-ceiling"),
    ],
)
@pytest.mark.parametrize("kind", list(TableKind))
def test_another_price_everywhere_is_named(by: str, code: str, kind: TableKind) -> None:
    pack = pack_of(channel(sheet=sheet(kind), max_price=gbp("60.00")))
    first = pack.rows[0]
    assert first.price is not None
    pack.rows[0] = replace(first, price=Money(first.price.amount + Decimal(by), "GBP"))
    files, _ = written(pack, [mug(), shirt()])
    found = verify(InMemory(files))
    assert f"pack/price {code}" in codes(found)
    assert {f.item for f in found} == {first.sku}


def test_a_price_equal_to_the_ceiling_passes_and_a_penny_over_it_does_not() -> None:
    dearest = max(row.price.amount for row in pack_of(channel()).rows if row.price is not None)
    files, _ = written(pack_of(channel(max_price=Money(dearest, "GBP"))), [mug(), shirt()])
    assert codes(verify(InMemory(files))) == set()
    lower = str(dearest - Decimal("0.01"))
    found = verify(InMemory(resealed(files, lambda m: m["terms"].update(ceiling=lower))))
    assert "pack/price above-ceiling" in codes(found)


def test_a_price_changed_in_the_table_only_is_named_by_line_and_column() -> None:
    files, _ = made()
    table = files["listings.csv"].replace(b"12.95", b"11.95", 1)
    forged = resealed(
        {**files, "listings.csv": table}, lambda m: m["parts"][0]["table"].update(sha256=sha(table))
    )
    found = verify(InMemory(forged))
    line = "listings.csv, line 2, PG-NP-PROUDBEEKEEPER-MUG325-WHITE"
    assert [(f.code, f.item) for f in found] == [
        ("wrong-cell", f"{line}, column Price"),
        ("row-changed", line),
    ]


def test_a_lost_row_is_named() -> None:
    files, _ = made()
    lines = files["listings.csv"].split(b"\r\n")
    table = b"\r\n".join(lines[:2] + lines[3:])
    forged = resealed(
        {**files, "listings.csv": table}, lambda m: m["parts"][0]["table"].update(sha256=sha(table))
    )
    assert {"pack/table row-count", "pack/table row-missing", "pack/table wrong-cell"} <= codes(
        verify(InMemory(forged))
    )


def sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def rezipped(files: Files, change: Callable[[dict[str, bytes]], None]) -> Files:
    """The art archive with other members, every digest made to fit."""
    with zipfile.ZipFile(io.BytesIO(files["artwork.zip"])) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    change(members)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name in sorted(members):
            info = zipfile.ZipInfo(name)
            info.create_system = 3
            archive.writestr(info, members[name])

    def fit(manifest: Any) -> None:
        entry = manifest["parts"][0]["archives"][0]
        entry["sha256"] = sha(out.getvalue())
        for member in entry["members"]:
            if member["name"] in members:
                member.update(sha256=sha(members[member["name"]]), bytes=len(members[member["name"]]))

    return resealed({**files, "artwork.zip": out.getvalue()}, fit)


WRAP = "proud-beekeeper-MUG-325-wrap-40x20.png"


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (png(41, 20, 300), "wrong-pixels"), (png(40, 20, 72), "wrong-dpi"), (b"GIF89a", "not-a-picture"),
        (png(40, 20, 300)[:-12], "not-a-picture"),
        (png(40, 20, 300).replace(b"IDAT", b"IDOT"), "not-a-picture"),
    ],
)  # fmt: skip
def test_art_that_is_not_what_it_should_be(data: bytes, code: str) -> None:
    files, _ = made()
    found = verify(InMemory(rezipped(files, lambda members: members.update({WRAP: data}))))
    assert [(f.code, f.item) for f in found] == [(code, f"artwork.zip, {WRAP}")]


def test_members_lost_added_or_unused() -> None:
    files, _ = made()
    lost = verify(InMemory(rezipped(files, lambda members: members.__delitem__(WRAP))))
    assert [(f.code, f.item) for f in lost] == [("missing", f"artwork.zip, {WRAP}")]
    more = verify(InMemory(rezipped(files, lambda members: members.update(extra=b"x"))))
    assert [(f.code, f.item) for f in more] == [("unlisted", "artwork.zip, extra")]
    unused = resealed(files, lambda m: m["rows"][2].update(artwork=m["rows"][0]["artwork"]))
    assert {"pack/member unused", "pack/row no-area"} <= codes(verify(InMemory(unused)))


def test_art_of_another_area_is_named() -> None:
    """Small and large shirts print on areas of different sizes."""
    pack = pack_of(channel())
    small, large = pack.rows[2], pack.rows[3]
    pack.rows[3] = replace(large, artwork=small.artwork)
    files, _ = written(pack, [mug(), shirt()])
    found = verify(InMemory(files))
    assert [(f.code, f.item) for f in found] == [("wrong-pixels", f"{large.sku}, front")]
    assert found[0].what == "sea-TEE-front-24x30.png is 24 x 30 px; the print area is 30 x 36 px"


def test_texts_past_the_channel_s_limits_are_named() -> None:
    pack = pack_of(channel())
    loud = {**pack.rows[0].fields, "title": "x" * 61, "search words": ("ü" * 31,), "points": ("y" * 81,)}
    pack.rows[0] = replace(pack.rows[0], fields=loud)
    files, _ = written(pack, [mug(), shirt()])
    found = verify(InMemory(files))
    assert [(f.code, f.what) for f in found] == [
        ("text-too-long", "61 characters where the channel takes 60"),
        ("text-too-long", "81 characters where the channel takes 80"),
        ("text-too-long", "62 bytes where the channel takes 60"),
    ]


def test_the_daily_cap_is_counted() -> None:
    pack = pack_of(channel(daily_cap=3))
    files, _ = written(pack, [mug(), shirt()])
    assert [f.what for f in verify(InMemory(files))] == ["4 rows where north-print takes 3 a day"]
    by_listing = pack_of(channel(daily_cap=2, cap_counts=CapCounts.LISTINGS))
    assert verify(InMemory(written(by_listing, [mug(), shirt()])[0])) == ()


def test_history() -> None:
    files, events = made()
    rows = json.loads(files["manifest.json"])["rows"]
    sku = rows[0]["sku"]
    yesterday = str(PackKey("north-print", "2026-11-30"))
    row = {
        "channel": "north-print",
        "design": "proud-beekeeper",
        "blank": "MUG-325",
        "sku": sku,
        "revision": 1,
        "action": "new",
    }
    before = [
        Event(Happened.PACKED, yesterday, {"manifest": "x", "rows": [row], "listings": []}),
        Event(Happened.HANDING_OVER, yesterday), Event(Happened.HANDED_OVER, yesterday),
    ]  # fmt: skip
    found = verify(InMemory(files), state_of([*events, *before]))
    assert [(f.code, f.item) for f in found] == [("handed-over-before", sku), ("new-but-exists", sku)]
    adopted = Event(
        Happened.ADOPTED,
        sku,
        {"channel": "north-print", "design": "proud-beekeeper", "blank": "MUG-325", "colour": "white"},
    )
    found = verify(InMemory(files), state_of([*events, adopted]))
    assert [(f.code, f.item) for f in found] == [("new-but-exists", sku)]
    found = verify(InMemory(files), LedgerState())
    assert {f.code for f in found} == {"unknown-pack", "sku-not-given"}
    out = [*events, Event(Happened.HANDING_OVER, str(KEY)), Event(Happened.HANDED_OVER, str(KEY))]
    rate = {"rate": "1.30", "spread": "0", "day": ""}
    forged = resealed(files, lambda m: m["terms"].update(rates={"GBP/USD": rate}))
    found = verify(InMemory(forged), state_of(out))
    assert "handed over and stays as it was" in found[0].what


def leaves(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if isinstance(value, dict | list) and value:
        for key in value if isinstance(value, dict) else range(len(value)):
            yield from leaves(value[key], (*path, key))
    else:
        yield path


def test_every_leaf_of_the_manifest_has_its_kind() -> None:
    """Each value replaced by one of another kind, and each left out, under a seal that fits."""
    files, _ = made()
    whole = json.loads(files["manifest.json"])
    del whole["sha256"]
    for path in list(leaves(whole))[::3]:
        open_ended = isinstance(path[-1], int) or "artwork" in path[-2:-1] or "their_words" in path
        for drop in (False,) if open_ended else (False, True):
            forged = copy.deepcopy(whole)
            place = forged
            for key in path[:-1]:
                place = place[key]
            if drop:
                del place[path[-1]]
            else:
                place[path[-1]] = {"odd": 1}
            assert verify(InMemory({**files, "manifest.json": sealed(forged)})), path


WHOLE = json.loads(made()[0]["manifest.json"])
PATHS = list(leaves({key: value for key, value in WHOLE.items() if key != "sha256"}))


@settings(max_examples=300, deadline=None)
@given(data=st.data())
def test_whatever_stands_in_a_manifest_the_verifier_answers(data: st.DataObject) -> None:
    """Values of the right kind and any content: findings or none, never a crash or a long wait."""
    files, _ = made()

    def change(manifest: Any) -> None:
        for path in data.draw(st.lists(st.sampled_from(PATHS), min_size=1, max_size=3, unique=True)):
            place = manifest
            for key in path[:-1]:
                place = place[key]
            old = place[path[-1]]
            if isinstance(old, bool):
                place[path[-1]] = not old
            elif isinstance(old, int):
                place[path[-1]] = data.draw(st.integers(0, 1 << 52))
            elif isinstance(old, str):
                amounts = st.from_regex(r"[0-9]{1,12}(\.[0-9]{1,4})?", fullmatch=True)
                place[path[-1]] = data.draw(st.one_of(amounts, st.text(max_size=20), st.just("0" * 64)))

    try:
        forged = resealed(files, change)
    except UnicodeEncodeError:
        return  # a lone surrogate cannot be written
    verify(InMemory(forged), LedgerState())
