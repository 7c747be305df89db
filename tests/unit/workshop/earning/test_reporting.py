"""What was earned: as planned to the penny where the world is, and as told where it is not."""

from decimal import Decimal
from pathlib import Path

import pytest
from soldshop import price_of, sold_shop, write_report

from hundredfold.kernel.money import Money
from hundredfold.ledger.keys import SkuKey
from hundredfold.pricing.sale import Sums, coin
from hundredfold.workshop.earning.adding import AS_IT_IS, Added, ReportHints, add_report
from hundredfold.workshop.earning.reporting import sales_view
from hundredfold.workshop.earning.whose import tie
from hundredfold.workshop.records.earned import SalesView
from hundredfold.workshop.shop.desk import desk


def add(root: Path, path: Path, channel: str, asked: ReportHints = AS_IT_IS) -> Added:
    with desk(root, "sales add") as opened:
        return add_report(opened, path, channel, asked)


def money(sums: Sums, coins: Decimal) -> str:
    return Money(coins * coin(sums.currency), sums.currency).plain()


def charged_rows(
    root: Path, key: SkuKey, sku: str, pieces: int, extra: Decimal = Decimal(0)
) -> list[dict[str, object]]:
    """An order report of a world that charges what the price was reckoned with; ``extra`` more a piece."""
    price = price_of(root, key)
    split = price.sums.split(price.coins)
    return [
        {
            "Order no": f"Q-{number}",
            "Date": "2027-01-15",
            "SKU": sku,
            "Pieces": 1,
            "Sold for": money(price.sums, Decimal(price.coins)),
            "Postage paid by buyer": money(price.sums, price.sums.charged),
            "Stall fee": money(price.sums, split.fee + split.fee_tax + extra * 100),
            "Card fee": money(price.sums, split.payment),
        }
        for number in range(pieces)
    ]


COLUMNS = ReportHints(
    {"order": "Order no", "paid": "Sold for", "fee": "Stall fee", "payment": "Card fee", "units": "Pieces"}
)


@pytest.mark.parametrize("channel", ["northfold", "quayside"])
def test_a_world_as_planned_earns_the_planned_profit_to_the_penny(tmp_path: Path, channel: str) -> None:
    root = tmp_path / "shop"
    for number, (sku, key) in enumerate(sold_shop(root).items()):
        if key.channel != channel:
            continue
        rows = charged_rows(root, key, sku, 3)
        for row in rows:
            row["Order no"] = f"{number}-{row['Order no']}"
        assert add(root, write_report(tmp_path / f"{number}.csv", rows), channel, COLUMNS).unusable == 0
    with desk(root, "") as opened:
        currency = opened.shop.channel(channel).currency
        settings = opened.shop.settings
        sums = opened.store.sales.sums()
    view = sales_view(root, "month")
    keys = [key for key in sold_shop(root).values() if key.channel == channel]
    wanted = sum((price_of(root, key).profit.amount * 3 for key in keys), Decimal(0))
    assert len(sums) == len(keys) > 3
    assert view.total is not None
    assert view.total.profit == settings.convert(Money(wanted, currency), "GBP").plain()
    assert view.total.planned == view.total.profit
    assert view.total.why == ()
    assert set(view.total.estimated) <= {"goods", "delivery"}, "fees were told"


def test_a_dearer_fee_is_seen_and_told_with_what_to_reprice(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    sku, key = next((s, k) for s, k in sold_shop(root).items() if k.channel == "northfold")
    add(
        root,
        write_report(tmp_path / "r.csv", charged_rows(root, key, sku, 6, Decimal("0.30"))),
        "northfold",
        COLUMNS,
    )
    view = sales_view(root)
    assert view.total is not None
    assert Decimal(view.total.planned) - Decimal(view.total.profit) == Decimal("1.80")
    assert [(one.part, one.amount) for one in view.total.why] == [("fee", "-1.80")]
    drift = view.drifts[0]
    assert (drift.what, drift.about, drift.pieces) == ("fee", "northfold", 6)
    assert Decimal(drift.charged) - Decimal(drift.planned) == Decimal("0.30")
    assert [(one.check, one.code) for one in view.findings] == [("sales/drift", "fee")]
    assert "channels/northfold.toml" in view.findings[0].fix


def test_a_bill_takes_the_place_of_the_planned_cost(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    sku, key = next((s, k) for s, k in sold_shop(root).items() if k.channel == "northfold")
    add(root, write_report(tmp_path / "r.csv", charged_rows(root, key, sku, 6)), "northfold", COLUMNS)
    before = sales_view(root)
    billed = [
        {
            "Order": f"Q-{n}",
            "Date": "2027-01-20",
            "SKU": sku,
            "Quantity": 1,
            "Production cost": "4.95",
            "Shipping": "4.45",
        }
        for n in range(6)
    ]
    assert add(root, write_report(tmp_path / "bill.csv", billed), "northfold").form == "bill"
    view = sales_view(root)
    assert view.total is not None
    assert before.total is not None
    assert (view.total.costs["goods"], view.total.costs["delivery"]) == ("29.70", "26.70")
    assert view.total.estimated == ()
    assert {(one.check, one.code) for one in view.findings} == {
        ("sales/drift", "base-cost"),
        ("sales/drift", "postage"),
    }


def test_refunds_and_adverts_as_they_were(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    sku, key = next((s, k) for s, k in sold_shop(root).items() if k.channel == "northfold")
    add(root, write_report(tmp_path / "r.csv", charged_rows(root, key, sku, 2)), "northfold", COLUMNS)
    before = sales_view(root).total
    adverts = [
        {"Day": "2027-01-15", "SKU": sku, "Impressions": 900, "Clicks": 9, "Spend": "1.25", "Sales": "29.90"}
    ]
    assert add(root, write_report(tmp_path / "a.csv", adverts), "northfold").form == "adverts"
    back = [{"Order": "Q-0", "Date": "2027-01-25", "SKU": sku, "Type": "Refund", "Amount": "-5.00"}]
    assert add(root, write_report(tmp_path / "b.csv", back), "northfold").form == "money"
    after = sales_view(root).total
    assert before is not None
    assert after is not None
    assert (after.costs["adverts"], after.costs["returns"], after.views) == ("1.25", "5.00", 0)
    assert Decimal(before.profit) - Decimal(after.profit) == Decimal("6.25")


def test_what_belongs_to_no_listing_is_kept_aside_and_tied_later(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    sku, key = next((s, k) for s, k in sold_shop(root).items() if k.channel == "northfold")
    rows = charged_rows(root, key, "OLD-BEE-1", 2)
    found = add(root, write_report(tmp_path / "r.csv", rows), "northfold", COLUMNS)
    assert [(one.check, one.item) for one in found.findings if one.code == "sku"] == [
        ("sales/unknown", "OLD-BEE-1")
    ]
    view = sales_view(root)
    assert view.untied == (("OLD-BEE-1", 2),)
    assert view.lines[0].name == "not tied to a listing"
    with desk(root, "tie") as opened:
        tie(opened.store, opened.ledger(), "OLD-BEE-1", sku)
    tied = sales_view(root)
    assert tied.untied == ()
    assert tied.lines[0].name.endswith(f" on {key.blank} in northfold")


def test_a_currency_without_a_rate_is_told(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    sku, key = next((s, k) for s, k in sold_shop(root).items() if k.channel == "northfold")
    rows = [{**row, "Currency": "SEK"} for row in charged_rows(root, key, sku, 1)]
    add(root, write_report(tmp_path / "r.csv", rows), "northfold", COLUMNS)
    view: SalesView = sales_view(root)
    assert [(one.check, one.code, one.item) for one in view.findings] == [("sales/rate", "missing", "SEK")]
    assert view.total is None


@pytest.mark.parametrize(
    ("by", "name"),
    [
        ("design", "a-cut-above-narrowboat-crew-seal"),
        ("blank", "MUG-325"),
        ("colour", "MUG-325, white"),
        ("channel", "northfold"),
        ("month", "2027-01"),
        ("layout", "none"),
        ("niche", "none"),
        ("occasion", "none"),
    ],
)
def test_results_under_every_heading(tmp_path: Path, by: str, name: str) -> None:
    root = tmp_path / "shop"
    sku, key = next((s, k) for s, k in sold_shop(root).items() if k.channel == "northfold")
    add(root, write_report(tmp_path / "r.csv", charged_rows(root, key, sku, 1)), "northfold", COLUMNS)
    assert [one.name for one in sales_view(root, by).lines] == [name]
