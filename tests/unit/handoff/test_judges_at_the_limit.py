"""What just fits a limit passes, and one more is told, with the numbers."""

import csv
import io
import json
from collections.abc import Callable
from typing import Any

import pytest
from goods import InMemory
from test_verify_forgeries import Files, made, resealed

from hundredfold.handoff.verifying import verify
from hundredfold.kernel.findings import Finding


def manifest(files: Files) -> Any:
    return json.loads(files["manifest.json"])


def told(change: Callable[[Any], None]) -> list[Finding]:
    return list(verify(InMemory(resealed(made()[0], change))))


def codes(change: Callable[[Any], None]) -> set[str]:
    return {finding.code for finding in told(change)}


def table_lines() -> list[list[str]]:
    return list(csv.reader(io.StringIO(made()[0]["listings.csv"].decode(), newline="")))


FIRST = manifest(made()[0])
ROW = FIRST["rows"][0]
ART = next(one for one in FIRST["parts"][0]["archives"] if one["kind"] == "artwork")
PICTURES = next(one for one in FIRST["parts"][0]["archives"] if one["kind"] == "pictures")
MEMBERS = {member["name"]: member for archive in (ART, PICTURES) for member in archive["members"]}
ART_BYTES = MEMBERS[ROW["artwork"]["wrap"]]["bytes"]
PICTURE_BYTES = max(member["bytes"] for member in PICTURES["members"])
ZIPS = {one["file"]: len(made()[0][one["file"]]) for one in (ART, PICTURES)}
TABLE = len(made()[0]["listings.csv"])
LISTINGS = len({(row["design"], row["blank"]) for row in FIRST["rows"]})


def area(m: Any) -> Any:
    return next(one for one in m["terms"]["areas"] if one["blank"] == ROW["blank"])


def set_in(*path: str) -> Callable[[Any, int], None]:
    def change(m: Any, value: int) -> None:
        for name in path[:-1]:
            m = m[name]
        m[path[-1]] = value

    return change


def area_bytes(m: Any, value: int) -> None:
    area(m).update(max_bytes=value)


def cap_of(counts: str) -> Callable[[Any, int], None]:
    return lambda m, value: m["terms"]["cap"].update(counts=counts, a_day=value)


# the code, what sets the limit, the largest limit that is broken, the words
LIMITS: tuple[tuple[str, Callable[[Any, int], None], int, str], ...] = (
    ("art-too-large", area_bytes, ART_BYTES - 1,
     f"has {ART_BYTES} bytes; the print area takes {ART_BYTES - 1}"),
    ("too-many-pictures", set_in("terms", "pictures", "max_count"), len(ROW["pictures"]) - 1,
     f"{len(ROW['pictures'])} pictures where the channel takes {len(ROW['pictures']) - 1}"),
    ("picture-too-large", set_in("terms", "pictures", "max_bytes"), PICTURE_BYTES - 1,
     f"{PICTURE_BYTES} bytes where the channel takes {PICTURE_BYTES - 1}"),
    ("past-daily-cap", cap_of("rows"), len(FIRST["rows"]) - 1,
     f"{len(FIRST['rows'])} rows where north-print takes {len(FIRST['rows']) - 1} a day"),
    ("past-daily-cap", cap_of("listings"), LISTINGS - 1,
     f"{LISTINGS} listings where north-print takes {LISTINGS - 1} a day"),
    ("past-daily-cap", cap_of("families"), LISTINGS - 1,
     f"{LISTINGS} families where north-print takes {LISTINGS - 1} a day"),
    ("too-many-rows", set_in("terms", "sheet", "max_rows"), len(FIRST["rows"]) - 1,
     f"{len(FIRST['rows'])} rows where the channel takes {len(FIRST['rows']) - 1}"),
    ("too-large", set_in("terms", "sheet", "max_bytes"), TABLE - 1,
     f"{TABLE} bytes where the channel takes {TABLE - 1}"),
    ("too-large", set_in("terms", "sheet", "max_archive_bytes"), max(ZIPS.values()) - 1,
     f"{max(ZIPS.values())} bytes where the channel takes {max(ZIPS.values()) - 1}"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("code", "put", "broken", "words"), LIMITS, ids=[f"{n} {one[0]}" for n, one in enumerate(LIMITS)]
)
def test_a_limit_is_the_last_that_passes(
    code: str, put: Callable[[Any, int], None], broken: int, words: str
) -> None:
    found = [finding for finding in told(lambda m: put(m, broken)) if finding.code == code]
    assert found
    assert any(words in finding.what for finding in found), found
    assert code not in codes(lambda m: put(m, broken + 1))


TITLE = max(len(line[3]) for line in table_lines()[1:])
SEARCH = [line[6] for line in table_lines()[1:]]
TEXTS = (
    ("title_chars", TITLE, f"{TITLE} characters where the channel takes {TITLE - 1}"),
    ("search_bytes", max(map(len, SEARCH)), f"{max(map(len, SEARCH))} bytes where"),
    ("search_words", max(len(text.split()) for text in SEARCH), "words where the channel takes"),
    ("search_chars", max(map(len, SEARCH)), f"{max(map(len, SEARCH))} characters where"),
)


@pytest.mark.parametrize(("limit", "fits", "words"), TEXTS, ids=[one[0] for one in TEXTS])
def test_a_text_may_be_as_long_as_its_limit(limit: str, fits: int, words: str) -> None:
    def put(value: int) -> Callable[[Any], None]:
        return lambda m: m["terms"]["limits"].update({limit: value})

    found = [finding for finding in told(put(fits - 1)) if finding.code == "text-too-long"]
    assert found
    assert any(words in finding.what for finding in found), found
    assert "text-too-long" not in codes(put(fits))
    assert "text-too-long" not in codes(put(0))  # none is told


@pytest.mark.parametrize(
    ("counts", "size"),
    [
        ("characters", lambda text: len(text)),
        ("utf-16", lambda text: len(text)),
        ("bytes", lambda text: len(text)),
    ],
)
def test_a_text_is_counted_as_the_channel_counts(counts: str, size: Callable[[str], int]) -> None:
    from hundredfold.handoff.judge_tables import _size

    astral = "👩é"  # two characters; four UTF-16 units less one; six bytes (Unicode 15, table 3-5 and 3-6)
    assert _size(astral, counts) == {"characters": 2, "utf-16": 3, "bytes": 6}[counts]
    assert _size("bee", counts) == size("bee") == 3


def test_what_just_does_not_fit_the_print_area() -> None:
    for name, by, code in (
        ("width_px", 1, "wrong-pixels"), ("height_px", -1, "wrong-pixels"), ("dpi", 1, "wrong-dpi"),
    ):  # fmt: skip
        found = told(lambda m, name=name, by=by: area(m).update({name: area(m)[name] + by}))  # type: ignore[misc]
        assert {finding.code for finding in found if finding.check == "pack/row"} == {code}
    for kind, suffix in (("jpeg", "jpg"), ("jpeg", "jpeg"), ("tiff", "tif"), ("png", "png")):

        def renamed(m: Any, kind: str = kind, suffix: str = suffix) -> None:
            area(m).update(file_kind=kind)
            text = json.dumps(m["rows"] + [m["parts"]]).replace(".png", f".{suffix}")
            *rows, parts = json.loads(text)
            m.update(rows=rows, parts=parts)
            for one in m["terms"]["areas"]:
                one.update(file_kind=kind)

        assert "wrong-kind" not in {f.code for f in told(renamed) if f.check == "pack/row"}, suffix


def test_files_are_named_with_what_is_wrong_with_them() -> None:
    files = dict(made()[0])
    art = bytearray(files[ART["file"]])
    art[-1] ^= 1  # in the end record, outside any member
    (found,) = [
        f for f in verify(InMemory({**files, ART["file"]: bytes(art)})) if f.code in ("changed", "unreadable")
    ]
    assert found.item == ART["file"]
    inside = bytearray(files[ART["file"]])
    place = inside.index(b"IDAT") + 8
    inside[place] ^= 1
    told_of = {(f.check, f.code): f.item for f in verify(InMemory({**files, ART["file"]: bytes(inside)}))}
    assert ("pack/file", "changed") in told_of
    assert told_of["pack/member", "damaged"].startswith(f"{ART['file']}, ")


def test_a_table_that_the_terms_do_not_know_and_a_forms_line() -> None:
    (found,) = [
        f
        for f in told(lambda m: m["terms"]["sheet"].update(lines_above=[["Form 7", ""]]))
        if f.code == "line-above"
    ]
    assert (found.item, found.what) == ("listings.csv, line 1", "not the line the channel's form has here")
    trailing = told(lambda m: m["terms"]["sheet"].update(lines_above=[table_lines()[0] + ["", ""]]))
    assert "line-above" not in {finding.code for finding in trailing}  # empty cells at the end are no cells


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (b'{"a":1,"a":2}', "a key stands twice in one object"),
        (b'{"a":1.5}', "a manifest has no number like 1.5"),
        (b'{"a":NaN}', "a manifest has no number like NaN"),
        (b"\xff", "codec can't decode"),
        (b"[" * 100_000, "recursion"),
    ],
    ids=["twin", "fraction", "nan", "not utf-8", "deep"],
)
def test_what_is_no_manifest_says_why(text: bytes, why: str) -> None:
    (found,) = verify(InMemory({"manifest.json": text}))
    assert (found.code, found.item) == ("unreadable", "manifest.json")
    assert why in found.what


def test_a_wrong_field_is_named_by_its_place() -> None:
    (found,) = told(lambda m: m["rows"][1].update(revision=0))
    assert (found.code, found.item) == ("wrong-field", "manifest.json, rows.2.revision")
    (found,) = told(lambda m: m["terms"].pop("ending"))
    assert found.item == "manifest.json, terms.ending"


def test_a_manifest_from_before_some_limits_had_their_names() -> None:
    """It is read as it would be written now, so that a day that left long ago can still be verified."""

    def older(m: Any) -> None:
        limits = m["terms"]["limits"]
        for new, old in (
            ("points", "bullets"),
            ("point_chars", "bullet_chars"),
            ("story_chars", "description_chars"),
        ):
            limits[old] = limits.pop(new)
        for name in ("search_chars", "search_words", "tags", "tag_chars", "counts"):
            limits.pop(name)

    assert not {finding.code for finding in told(older)} - {"text-too-long"}

    def older_and_short(m: Any) -> None:
        older(m)
        m["terms"]["limits"].update(title_chars=1)

    assert "text-too-long" in codes(older_and_short)
