"""Each way in which a pack can be wrong, forged so that its digests fit, with the code it is told by."""

import io
import json
import struct
import zipfile
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

import pytest
from goods import InMemory, TinyPack, channel, design, mug, png, sheet, shirt, written
from test_verify_forgeries import WRAP, Files, codes, made, pack_of, resealed, rezipped, sha, state_of

from hundredfold.catalogue.sheets import TableKind
from hundredfold.handoff.judge_terms import Expected
from hundredfold.handoff.verifying import verify
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import SkuKey

Change = Callable[[Any], None]


def first(m: Any) -> Any:
    return m["rows"][0]


def member(m: Any) -> Any:
    return m["parts"][0]["archives"][0]["members"][0]


def area_of(m: Any, name: str) -> Any:
    return next(one for one in m["terms"]["areas"] if one["blank"] == name)


# A bottle with pictures of a travel mug.
LONG = {
    "goods_mm": ["73.00", "260.00"], "drawn_mm": ["80.00", "170.00"],
    "goods_ends_mm": ["73.00", "73.00"], "drawn_ends_mm": ["73.00", "73.00"],
}  # fmt: skip
MANIFESTS: tuple[tuple[str, str, Change], ...] = (
    ("pack/manifest", "wrong-field", lambda m: m.update(date="yesterday")),
    ("pack/manifest", "wrong-lines", lambda m: first(m).update(line=9)),
    ("pack/manifest", "wrong-count", lambda m: m["parts"][0]["table"].update(rows=9)),
    ("pack/file", "named-twice", lambda m: m["parts"].append(m["parts"][0])),
    ("pack/file", "too-large", lambda m: m["terms"]["sheet"].update(max_bytes=10)),
    ("pack/row", "sku-twice", lambda m: m["rows"][1].update(sku=first(m)["sku"])),
    ("pack/row", "no-part", lambda m: first(m).update(part=2)),
    ("pack/row", "art-not-wanted", lambda m: first(m).update(action="end")),
    ("pack/row", "no-art", lambda m: first(m).update(artwork={})),
    ("pack/row", "no-area", lambda m: first(m).update(artwork={"sleeve": WRAP})),
    ("pack/row", "art-missing", lambda m: first(m).update(artwork={"wrap": "gone.png"})),
    ("pack/row", "wrong-pixels", lambda m: area_of(m, "MUG-325").update(width_px=41)),
    ("pack/row", "wrong-dpi", lambda m: area_of(m, "MUG-325").update(dpi=200)),
    ("pack/row", "wrong-kind", lambda m: area_of(m, "MUG-325").update(file_kind="tiff")),
    ("pack/row", "art-too-large", lambda m: area_of(m, "MUG-325").update(max_bytes=1)),
    ("pack/row", "too-many-pictures", lambda m: m["terms"]["pictures"].update(max_count=0)),
    ("pack/row", "picture-missing", lambda m: first(m)["pictures"][0].update(file="gone.jpg")),
    ("pack/row", "drawn-wrong", lambda m: area_of(m, "MUG-325").update(pictured=LONG)),
    ("pack/row", "picture-size", lambda m: m["terms"]["pictures"].update(width_px=17)),
    ("pack/row", "picture-too-large", lambda m: m["terms"]["pictures"].update(max_bytes=1)),
    ("pack/cap", "past-daily-cap", lambda m: m["terms"]["cap"].update(a_day=1)),
    ("pack/member", "wrong-size", lambda m: member(m).update(bytes=1)),
    ("pack/member", "changed", lambda m: member(m).update(sha256="0" * 64)),
    ("pack/member", "wrong-pixels", lambda m: member(m).update(width_px=39)),
    ("pack/member", "wrong-dpi", lambda m: member(m).update(dpi=299)),
    ("pack/price", "price-not-wanted", lambda m: first(m).update(action="end")),
    ("pack/price", "no-price", lambda m: first(m).update(price="")),
    ("pack/price", "wrong-currency", lambda m: first(m).update(currency="USD")),
    ("pack/price", "no-cost", lambda m: m["terms"].update(costs=[])),
    ("pack/price", "not-whole", lambda m: first(m).update(price="12.955")),
    ("pack/price", "above-ceiling", lambda m: m["terms"].update(ceiling="1.00")),
    ("pack/table", "too-many-rows", lambda m: m["terms"]["sheet"].update(max_rows=1)),
    ("pack/table", "byte-order-mark", lambda m: m["terms"]["sheet"].update(byte_order_mark=True)),
    ("pack/table", "line-above", lambda m: m["terms"]["sheet"].update(lines_above=[["Form 7"]])),
    ("pack/table", "header", lambda m: m["terms"]["sheet"]["columns"][0].update(header="Does")),
    ("pack/table", "row-missing", lambda m: first(m).update(line=99)),
    ("pack/table", "row-changed", lambda m: first(m).update(cells="0" * 64)),
    ("pack/table", "wrong-cell", lambda m: first(m).update(revision=7, action="change")),
    ("pack/table", "text-too-long", lambda m: m["terms"]["limits"].update(title_chars=1)),
    ("pack/terms", "area-twice", lambda m: m["terms"]["areas"].append(m["terms"]["areas"][0])),
)  # fmt: skip


@pytest.mark.parametrize(("check", "code", "change"), MANIFESTS, ids=[f"{a} {b}" for a, b, _ in MANIFESTS])
def test_a_forged_manifest_is_told_by_this_code(check: str, code: str, change: Change) -> None:
    assert f"{check} {code}" in codes(verify(InMemory(resealed(made()[0], change))))


def with_table(change: Callable[[bytes], bytes], kind: TableKind = TableKind.CSV) -> Files:
    """The pack with another table, whose digest fits."""
    if kind is TableKind.CSV:
        files = made()[0]
    else:
        files, _ = written(pack_of(channel(sheet=sheet(kind))), [mug(), shirt()])
    name = next(name for name in files if name.startswith("listings"))
    table = change(files[name])
    return resealed({**files, name: table}, lambda m: m["parts"][0]["table"].update(sha256=sha(table)))


def added(name: str, data: bytes) -> Callable[[bytes], bytes]:
    def change(book: bytes) -> bytes:
        out = io.BytesIO(book)
        with zipfile.ZipFile(out, "a") as archive:
            archive.writestr(name, data)
        return out.getvalue()

    return change


def with_formula(book: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(book)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            data = old.read(name)
            if name == "xl/worksheets/sheet1.xml":
                data = data.replace(
                    b"</sheetData>", b'<row r="99"><c r="A99"><f>1+1</f></c></row></sheetData>'
                )
            new.writestr(name, data)
    return out.getvalue()


TABLES: tuple[tuple[str, str, Callable[[bytes], bytes], TableKind], ...] = (
    ("pack/table", "unreadable", lambda data: data + b"\xff", TableKind.CSV),
    ("pack/table", "unreadable", lambda data: data[:200], TableKind.XLSX),
    ("pack/table", "line-ends", lambda data: data.replace(b"\r\n", b"\n"), TableKind.CSV),
    ("pack/table", "row-count", lambda data: data + data.split(b"\r\n")[1] + b"\r\n", TableKind.CSV),
    ("pack/table", "row-width", lambda data: data.replace(b"\r\n", b",x\r\n").replace(b",x", b"", 1),
     TableKind.CSV),
    ("pack/table", "required-empty", lambda data: data.replace(b"\r\nadd,", b"\r\n,", 1), TableKind.CSV),
    ("pack/table", "formula", lambda data: data.replace(b"\r\nadd,", b"\r\n=1+1,", 1), TableKind.CSV),
    ("pack/table", "formula", with_formula, TableKind.XLSX),
    ("pack/table", "foreign-part", added("xl/vbaProject.bin", b"x"), TableKind.XLSX),
)  # fmt: skip


@pytest.mark.parametrize(
    ("check", "code", "change", "kind"), TABLES, ids=[f"{b} {d}" for _, b, _, d in TABLES]
)
def test_a_forged_table_is_told_by_this_code(
    check: str, code: str, change: Callable[[bytes], bytes], kind: TableKind
) -> None:
    assert f"{check} {code}" in codes(verify(InMemory(with_table(change, kind))))


def test_a_worksheet_of_another_name() -> None:
    files, _ = written(pack_of(channel(sheet=sheet(TableKind.XLSX))), [mug(), shirt()])
    other = resealed(files, lambda m: m["terms"]["sheet"].update(worksheet="Upload"))
    assert "pack/table wrong-worksheet" in codes(verify(InMemory(other)))


def with_archive(change: Callable[[bytes], bytes]) -> Files:
    files = made()[0]
    data = change(files["artwork.zip"])
    return resealed(
        {**files, "artwork.zip": data}, lambda m: m["parts"][0]["archives"][0].update(sha256=sha(data))
    )


def again(
    order: Callable[[list[str]], list[str]], packed: int = zipfile.ZIP_STORED
) -> Callable[[bytes], bytes]:
    """The archive written anew with its members in another order, or packed."""

    def change(data: bytes) -> bytes:
        out = io.BytesIO()
        with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", packed) as new:
            for name in order(sorted(old.namelist())):
                info = zipfile.ZipInfo(name)
                info.create_system, info.compress_type = 3, packed
                new.writestr(info, old.read(name))
        return out.getvalue()

    return change


def broken_crc(data: bytes) -> bytes:
    """One byte of the first member's content another, sizes and directory as they were."""
    start = 30 + struct.unpack("<H", data[26:28])[0] + struct.unpack("<H", data[28:30])[0]
    return data[: start + 20] + bytes([data[start + 20] ^ 1]) + data[start + 21 :]


ARCHIVES: tuple[tuple[str, str, Callable[[bytes], bytes]], ...] = (
    ("pack/file", "unreadable", lambda data: data[:50]),
    ("pack/file", "padded", lambda data: b"x" + data),
    ("pack/file", "unsorted", again(lambda names: names[::-1])),
    ("pack/member", "missing", again(lambda names: names[1:])),
    ("pack/member", "twice", again(lambda names: [*names[:1], *names])),
    ("pack/member", "not-plain", again(list, zipfile.ZIP_DEFLATED)),
    ("pack/member", "damaged", broken_crc),
)  # fmt: skip


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize(("check", "code", "change"), ARCHIVES, ids=[f"{a} {b}" for a, b, _ in ARCHIVES])
def test_a_forged_archive_is_told_by_this_code(
    check: str, code: str, change: Callable[[bytes], bytes]
) -> None:
    assert f"{check} {code}" in codes(verify(InMemory(with_archive(change))))


def test_members_that_are_not_what_they_are_called() -> None:
    from goods import jpeg

    files = rezipped(made()[0], lambda members: members.update({WRAP: jpeg(40, 20)}))
    assert "pack/member wrong-kind" in codes(verify(InMemory(files)))
    files = rezipped(made()[0], lambda members: members.update({WRAP: b"GIF89a"}))
    assert "pack/member not-a-picture" in codes(verify(InMemory(files)))
    files = rezipped(made()[0], lambda members: members.update({"more.png": png(1, 1, 300)}))
    assert "pack/member unlisted" in codes(verify(InMemory(files)))
    unused = resealed(made()[0], lambda m: m["rows"][2].update(artwork=m["rows"][0]["artwork"]))
    assert "pack/member unused" in codes(verify(InMemory(unused)))


def test_a_manifest_that_is_no_longer_one() -> None:
    files, _ = made()
    data = files["manifest.json"]
    for code, other in {
        "unreadable": data[:-2],
        "not-canonical": data + b"\n",
        "seal-broken": data.replace(b'"north-print"', b'"south-print"', 1),
    }.items():
        assert f"pack/manifest {code}" in codes(verify(InMemory({**files, "manifest.json": other})))
    gone = {name: content for name, content in files.items() if name != "manifest.json"}
    assert codes(verify(InMemory(gone))) == {"pack/manifest missing"}
    lost = {name: content for name, content in files.items() if name != "listings.csv"}
    assert "pack/file missing" in codes(verify(InMemory(lost)))
    more = {**files, "listings.csv": files["listings.csv"] + b"x", "Thumbs.db": b"x", "b.zip": b"x"}
    told = codes(verify(InMemory(more), lies_in="north-print/2026-11-30"))
    assert {"changed", "unlisted", "left-by-system", "other-place"} <= {
        each.removeprefix("pack/file ") for each in told
    }


def test_prices_of_a_good_pack_forged() -> None:
    for price, code in (("1.95", "below-target"), ("12.94", "wrong-ending"), ("99.95", "above-least")):
        files = resealed(made()[0], partial(priced, price))
        assert f"pack/price {code}" in codes(verify(InMemory(files))), code


def priced(price: str, m: Any) -> None:
    first(m).update(price=price)


def test_terms_of_another_day_or_channel() -> None:
    files, _ = made()
    now = Expected(channel(daily_cap=5), (mug(), shirt()))
    assert "pack/terms out-of-date" in codes(verify(InMemory(files), expected=now))
    now = Expected(channel(code="quayside"), (mug(), shirt()))
    assert "pack/terms other-channel" in codes(verify(InMemory(files), expected=now))


def test_what_the_ledger_says_otherwise() -> None:
    files, events = made()
    sku = json.loads(files["manifest.json"])["rows"][0]["sku"]
    for code, history in {
        "unknown-pack": events[:-1],
        "other-manifest": [*events[:-1], replace(events[-1], data={**events[-1].data, "manifest": "0" * 64})],
        "sku-not-given": events[1:],
    }.items():
        assert f"pack/history {code}" in codes(verify(InMemory(files), state_of(history)))
    other = Event(Happened.SKU_GIVEN, sku, SkuKey("north-print", "another", "MUG-325", "white", "").as_data())
    assert "pack/history sku-of-another" in codes(verify(InMemory(files), state_of([other, *events[1:]])))
    change = resealed(files, lambda m: first(m).update(action="change"))
    assert "pack/history never-existed" in codes(verify(InMemory(change), state_of(events)))


def test_what_the_writer_leaves_out_is_told() -> None:
    pack = TinyPack(channel(sheet=sheet(max_rows=1)))
    pack.add(design(), mug())
    _, packed = written(pack, [mug()])
    assert {(f.check, f.code) for f in packed.findings} == {("pack/parts", "past-limit")}
    short = sheet(columns=(replace(sheet().columns[1], max_chars=5), *sheet().columns[3:]))
    pack = TinyPack(channel(sheet=short))
    pack.add(design(), mug())
    _, packed = written(pack, [mug()])
    assert ("pack/cells", "too-long") in {(f.check, f.code) for f in packed.findings}
