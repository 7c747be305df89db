"""Whatever a seller writes into designs and sheets, what the writer lets out the verifier passes."""

from dataclasses import replace

import pytest
from goods import InMemory, TinyPack, channel, design, mug, sheet, shirt, written
from hypothesis import example, given, settings
from hypothesis import strategies as st

from hundredfold.catalogue.sheets import Column, TableKind
from hundredfold.handoff.verifying import verify

PLAIN = (
    "=1+1",
    "'=1",
    "'",
    "-5",
    "+44 20",
    "@home",
    '"',
    ",",
    ";",
    "00123",
    "1e5",
    "TRUE",
    "#N/A",
    " x ",
    "<b>&amp;</b>",
)
ODD = (
    "a\r\nb",
    "\tx",
    "\x00",
    "\ufeff",
    "\u202egnp",
    "é",
    "e\u0301",
    "👩\u200d🌾",
    "＝1",
    "_x0041_",
    "_x005F_",
    "\ud800",
)
nasty = st.sampled_from((*PLAIN, *ODD))
texts = st.one_of(nasty, st.text(max_size=30), st.lists(nasty, min_size=2, max_size=3).map(" ".join))

of_files = texts.filter(
    lambda text: "\ud800" not in text
)  # a channel's file is UTF-8, which has no half letters


@pytest.mark.parametrize("kind", list(TableKind))
@settings(max_examples=120, deadline=None)
@given(titles=st.lists(texts, min_size=1, max_size=3), fields=st.lists(of_files, min_size=3, max_size=3))
@example(titles=["'=1"], fields=["=cmd", "'", "\x00"])
@example(titles=["=1+1", "=0000000000000000000"], fields=["=1+1"] * 3)  # too long with the apostrophe
@example(titles=["bee", "=" + "x" * 24], fields=["", "", ""])  # the same, in a column with its own limit
def test_what_is_written_is_sound(kind: TableKind, titles: list[str], fields: list[str]) -> None:
    columns = (
        *sheet().columns, Column("Extra", "{extra one}"), Column("Mixed", "{extra two}{sku} {{x}}"),
        Column("Title again", "{design title}", max_chars=25),
    )  # fmt: skip
    to = channel(
        daily_cap=50,
        sheet=sheet(kind, columns=columns, families=len(titles) > 1, byte_order_mark=len(fields[0]) > 3),
        extra={"shop": fields[0], "one": fields[1], "two": fields[2], "action new": fields[0]},
    )
    pack = TinyPack(to)
    for n, title in enumerate(titles):
        pack.add(replace(design(f"d{n}", title), keywords=(title,)), mug() if n % 2 else shirt())
    files, packed = written(pack, [mug(), shirt()])
    assert {finding.code for finding in packed.findings} <= {"too-long", "required-empty"}
    if not packed.rows:
        return
    assert verify(InMemory(files)) == ()
