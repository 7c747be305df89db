"""The statement: every penny in one line, followed to its report; workbook and PDF opened again."""

import io
import random
from collections import Counter
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest
from openpyxl import load_workbook
from soldshop import write_report

from hundredfold.kernel.errors import ShopError
from hundredfold.results.statement import COLUMNS, Statement, tax_inside
from hundredfold.workshop.earning.adding import AS_IT_IS, ReportHints, add_report
from hundredfold.workshop.earning.stating import period_of, statement_of, statement_view, write_statement
from hundredfold.workshop.shop.desk import desk
from hundredfold.workshop.shop.newshop import new_shop

CENT = Decimal("0.01")


def add(root: Path, path: Path, channel: str, hints: ReportHints = AS_IT_IS) -> None:
    with desk(root, "sales add") as opened:
        assert add_report(opened, path, channel, hints).unusable == 0


def exact(amount: int) -> Decimal:
    return Decimal(amount).scaleb(-4)


class World:
    """One imagined year of a shop: what happened, as pennies, and the reports a channel would write of it."""

    def __init__(self, chance: random.Random, year: int) -> None:
        self.pennies: list[tuple[str, str, int]] = []  # order, column, signed pennies
        self.orders: list[dict[str, object]] = []
        self.moves: list[dict[str, object]] = []
        self.bills: list[dict[str, object]] = []
        self.adverts: list[dict[str, object]] = []
        for number in range(chance.randint(1, 12)):
            self._order(
                chance, f"Y{year}-{number}", f"{year}-{chance.randint(1, 12):02d}-{chance.randint(1, 28):02d}"
            )
        if chance.random() < 0.7:
            spent = chance.randint(1, 5_000)
            self.pennies.append(("", "adverts", -spent))
            self.adverts.append(
                {"Date": f"{year}-06-30", "SKU": "PG-1", "Clicks": 3, "Ad spend": self._text(spent)}
            )

    def _text(self, pennies: int) -> str:
        return f"{Decimal(pennies) * CENT:.2f}"

    def _order(self, chance: random.Random, order: str, day: str) -> None:
        paid, postage = chance.randint(100, 9_999), chance.choice((0, 345, 395))
        discount, fee, card = chance.choice((0, 100)), chance.randint(1, 900), chance.randint(1, 99)
        sku = f"PG-{chance.randint(1, 4)}"
        self.orders.append(
            {
                "Order ID": order, "Order date": day, "SKU": sku, "Quantity": chance.randint(1, 3),
                "Item total": self._text(paid), "Postage": self._text(postage),
                "Discount": self._text(-discount),
            }
        )  # fmt: skip
        told = {"goods sold": paid, "postage charged": postage, "discounts": -discount}
        told |= {"channel fees": -fee, "payment fees": -card}
        for kind, pennies in (("Commission", fee), ("Payment processing fee", card)):
            self.moves.append(
                {"Date": day, "Type": kind, "Order ID": order, "SKU": sku, "Amount": self._text(-pennies)}
            )
        if chance.random() < 0.3:
            told["refunds"] = -chance.randint(1, paid)
            back = self._text(told["refunds"])
            self.moves.append({"Date": day, "Type": "Refund", "Order ID": order, "SKU": sku, "Amount": back})
        if chance.random() < 0.6:
            told |= {"goods bought": -chance.randint(1, 800), "postage paid": -chance.randint(1, 500)}
            self.bills.append(
                {
                    "Order ID": order, "Date": day, "SKU": sku, "Quantity": 1,
                    "Production cost": self._text(-told["goods bought"]),
                    "Shipping": self._text(-told["postage paid"]),
                }
            )  # fmt: skip
        self.pennies += [(order, column, amount) for column, amount in told.items() if amount]


def test_every_penny_of_200_years_stands_in_one_line_once(tmp_path: Path) -> None:
    """Double entry: each amount of each world is in one cell of one line, and sums are the world's own."""
    root = tmp_path / "shop"
    new_shop(root, sample=True)
    chance = random.Random(20270101)
    worlds = {year: World(chance, year) for year in range(2000, 2200)}
    for name, kind in (("orders", "orders"), ("moves", "moves"), ("bills", "bills"), ("adverts", "adverts")):
        rows = [row for world in worlds.values() for row in getattr(world, kind)]
        half = len(rows) // 2 + 7
        add(root, write_report(tmp_path / f"{name}-1.csv", rows[:half]), "northfold")
        add(root, write_report(tmp_path / f"{name}-2.csv", rows[half - 20 :]), "northfold")  # they overlap
    for year, world in worlds.items():
        statement = statement_of(root, year=str(year))
        cells = Counter(
            (line.order, column, amount)
            for line in statement.lines
            for column, amount in zip(COLUMNS, line.amounts, strict=True)
            if amount
        )
        assert cells == Counter((order, column, pennies * 100) for order, column, pennies in world.pennies)
        (part,) = statement.parts
        assert exact(part.profit) == sum(pennies for _, _, pennies in world.pennies) * CENT
        assert part.pieces == sum(int(str(row["Quantity"])) for row in world.orders)


@pytest.fixture
def stated(tmp_path: Path) -> tuple[Path, Statement]:
    root = tmp_path / "shop"
    new_shop(root, sample=True)
    world = World(random.Random(5), 2027)
    add(root, write_report(tmp_path / "o.csv", world.orders), "northfold")
    add(root, write_report(tmp_path / "m.csv", world.moves), "northfold")
    add(
        root,
        write_report(tmp_path / "q.csv", [{**row, "Currency": "USD"} for row in world.orders]),
        "quayside",
    )
    return root, statement_of(root, year="2027")


def test_the_workbooks_sums_are_formulas_over_lines_that_name_their_report(
    stated: tuple[Path, Statement], tmp_path: Path
) -> None:
    _, statement = stated
    book, _ = write_statement(statement, tmp_path / "out")
    values, formulas = load_workbook(book, data_only=True), load_workbook(book)
    lines = list(values["Lines"].iter_rows(min_row=2, values_only=True))
    assert len(lines) == len(statement.lines)
    for at, part in enumerate(statement.parts, 2):
        mine = [line for line in lines if line[:2] == (part.channel, part.currency)]
        for row in range(5, 7 + len(COLUMNS)):
            label = values["Profit and loss"].cell(row, 1).value
            value = values["Profit and loss"].cell(row, at).value
            formula = str(formulas["Profit and loss"].cell(row, at).value)
            if label in COLUMNS:
                column = 5 + COLUMNS.index(str(label))
                assert value == pytest.approx(sum(float(str(line[column] or 0)) for line in mine), abs=1e-9)
                assert formula.startswith("=SUMIFS('Lines'!")
        profit = values["Profit and loss"].cell(6 + len(COLUMNS), at).value
        assert Decimal(str(profit)).quantize(CENT) == exact(part.profit).quantize(CENT)
    assert {str(line[-2]) for line in lines} == {"o.csv", "m.csv", "q.csv"}
    assert all(isinstance(line[-1], int) and line[-1] > 1 for line in lines)


def test_the_same_statement_is_the_same_file(stated: tuple[Path, Statement], tmp_path: Path) -> None:
    _, statement = stated
    first = [path.read_bytes() for path in write_statement(statement, tmp_path / "a")]
    again = [path.read_bytes() for path in write_statement(statement, tmp_path / "b")]
    assert first == again
    assert first[1].startswith(b"%PDF")
    assert io.BytesIO(first[0]).read(2) == b"PK"


def test_the_statement_defers_to_local_rules(stated: tuple[Path, Statement]) -> None:
    view = statement_view(stated[1])
    assert "quayside no bill told" in view.caution[0]
    assert "no tax return" in view.caution[-1]
    assert [one.currency for one in view.parts] == ["GBP", "USD"]


def test_a_registered_sellers_tax_is_taken_out_of_sales(tmp_path: Path) -> None:
    root = tmp_path / "shop"
    new_shop(root, sample=True)
    settings = root / "shop.toml"
    settings.write_text(
        settings.read_text().replace('language = "en-GB"', 'language = "en-GB"\ntax_registered = true')
    )
    channel = root / "channels" / "northfold.toml"
    home = '\ndestinations = { home = { tax = "20%" } }\n\n[cap]'
    channel.write_text(channel.read_text("utf-8").replace("\n[cap]", home, 1), "utf-8")
    rows = [{"Order": "A1", "Date": "2027-01-05", "SKU": "PG-1", "Item total": "19.99", "Refund": "0.00"}]
    add(root, write_report(tmp_path / "r.csv", rows), "northfold")
    (part,) = statement_of(root, month="2027-01").parts
    # VAT inside 19.99 at 20 % is 3.33 (the VAT fraction 1/6: HMRC VAT Notice 700, section 7; from memory).
    assert (exact(part.sums[3]), exact(part.sold)) == (Decimal("-3.33"), Decimal("16.66"))


@pytest.mark.parametrize(
    ("gross", "rate"), [("12.00", "0.20"), ("119.00", "0.19"), ("0.01", "0.20"), ("99.99", "0.055")]
)
def test_the_tax_inside(gross: str, rate: str) -> None:
    wanted = (Decimal(gross) * Decimal(rate) / (1 + Decimal(rate))).quantize(CENT, ROUND_HALF_UP)
    assert exact(tax_inside(int(Decimal(gross) * 10_000), Decimal(rate), "GBP")) == wanted


@pytest.mark.parametrize(("month", "year"), [("", ""), ("2027-01", "2027"), ("2027-13", ""), ("", "soon")])
def test_a_time_that_is_none(month: str, year: str) -> None:
    with pytest.raises(ShopError) as caught:
        period_of(month, year)
    assert caught.value.slug == "wrong-use"
    assert period_of("2028-02")[2] == "2028-02-29"
