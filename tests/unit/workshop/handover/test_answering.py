from collections.abc import Iterator
from pathlib import Path

import pytest
import xlsxwriter
from shops import KEY, stocked

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.workshop.handover.answering import answer
from hundredfold.workshop.handover.delivering import deliver, settle
from hundredfold.workshop.handover.verifying import verify_packs
from hundredfold.workshop.shop.channelfiles import columns_from
from hundredfold.workshop.shop.desk import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = stocked(tmp_path / "shop")
    deliver(opened.shop, opened.store, KEY, tmp_path / "out")
    yield opened
    opened.store.close()


def test_a_csv_of_answers(desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "answers.csv"
    skus = sorted(desk.ledger().existing)
    file.write_text("Ref;Status;Id\n" + "".join(f"{sku};ok;N-{n}\n" for n, sku in enumerate(skus)), "utf-8")
    found = answer(desk, file, "")
    assert (found.accepted, found.findings) == (4, ())
    assert desk.ledger().identifiers == {sku: f"N-{n}" for n, sku in enumerate(skus)}
    assert answer(desk, file, "north-print").known == 4


def test_columns_told_once_are_remembered(desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "answers.csv"
    sku = sorted(desk.ledger().existing)[0]
    file.write_text(f"Thing,Verdict\n{sku},ok\n", "utf-8")
    with pytest.raises(ShopError):
        answer(desk, file, "", {"sku": "Thing", "status": "Nope"})
    assert answer(desk, file, "", {"sku": "Thing", "status": "Verdict"}).accepted == 1
    assert answer(desk, file, "").known == 1
    file.write_text(f"Thing,State\n{sku},ok\n", "utf-8")
    assert answer(desk, file, "").known == 1  # what the table no longer has is looked for by its usual names


def test_a_workbook_must_have_one_worksheet(desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "answers.xlsx"
    book = xlsxwriter.Workbook(file)
    for name in ("One", "Two"):
        book.add_worksheet(name).write_row(0, 0, ["SKU", "Status"])
    book.close()
    with pytest.raises(ShopError) as caught:
        answer(desk, file, "")
    assert caught.value.slug == "several-worksheets"


def test_an_unknown_channel(desk: Desk, tmp_path: Path) -> None:
    with pytest.raises(ShopError) as caught:
        answer(desk, tmp_path / "x.csv", "nowhere")
    assert caught.value.slug == "unknown-channel"


def test_a_field_there_is_not(desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "answers.csv"
    file.write_text("Ref,Status\n", "utf-8")
    with pytest.raises(ShopError) as caught:
        answer(desk, file, "", {"staus": "Status"})
    assert (caught.value.slug, caught.value.fix) == ("bad-column", 'did you mean "status"?')


def test_columns_are_given_as_field_and_header() -> None:
    assert columns_from(["SKU= Your ref ", "status=x=y"]) == {"sku": "Your ref", "status": "x=y"}
    for wrong in ("sku", "=x", "sku="):
        with pytest.raises(ShopError) as caught:
            columns_from([wrong])
        assert caught.value.slug == "bad-column"


def test_an_answer_for_a_doubtful_pack_says_that_it_arrived(tmp_path: Path) -> None:
    desk = stocked(tmp_path / "shop")
    desk.store.append([Event(Happened.HANDING_OVER, str(KEY), {"destination": "/out"})])
    sku = desk.ledger().packs[KEY].rows[0].sku
    file = tmp_path / "answers.csv"
    file.write_text(f"Ref;Status\n{sku};ok\n", "utf-8")
    (told,) = answer(desk, file, "").findings
    assert f"deliver --settle {KEY} --happened yes" in told.what
    (doubt,) = verify_packs(desk.shop, desk.ledger()).packs[str(KEY)]
    assert doubt.code == "unsure"
    settle(desk.shop.paths, desk.store, KEY, happened=True)
    assert answer(desk, file, "").accepted == 1
    desk.store.close()
