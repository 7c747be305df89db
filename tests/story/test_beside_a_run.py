"""Short works beside a month that goes on: taken at once, never lost, in this month or told for the next."""

import re
import shutil
import threading
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from monthshop import START, counts, digests, hundredfold, month, month_shop

from hundredfold.ledger.choices import Answer
from hundredfold.ledger.events import Happened
from hundredfold.workshop.month.closing import MonthReport
from hundredfold.workshop.month.preparing import Telling
from hundredfold.workshop.month.run import month as run_month
from hundredfold.workshop.shop.beginning import set_settings
from hundredfold.workshop.shop.bench import bench
from hundredfold.workshop.shop.desk import Turn, desk
from hundredfold.workshop.views.choosing import choose_by_name

JUDGING = "judging "


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    shop = month_shop(tmp_path_factory.mktemp("made") / "shop", 2, blanks=("mug-325",))
    month(shop, 1)
    return shop


@pytest.fixture
def shop(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "shop"))


def month_with(shop: Path, at: str, work: Callable[[], None]) -> MonthReport:
    """Run a month that works afresh, and do this once its stage with these words begins."""
    done: list[str] = []

    def stage(words: str) -> None:
        if words.startswith(at) and not done:
            done.append(words)
            work()

    blank = shop / "blanks" / "mug-325.toml"  # a month that is finished would not run
    blank.write_text(blank.read_text("utf-8").replace("#f7f6f2", "#f6f5f1"), "utf-8")
    with bench(shop, "month", turn=Turn.RUN) as tools:
        report = run_month(tools, date.fromisoformat(START), 1, Telling(stage))
    assert done, f"no stage {at!r}"
    return report


def art_names(shop: Path) -> list[str]:
    return [path.name for path in sorted((shop / "designs").iterdir())]


def refused(shop: Path) -> int:
    code, told = hundredfold("choose", "refuse", art_names(shop)[-1], "--shop", str(shop))
    assert code == 0, told
    number = told["decision"]
    assert isinstance(number, int)
    return number


def late(report: MonthReport) -> list[str]:
    return [line for line in report.summary if "comes with the next run" in line]


@pytest.mark.parametrize("at", ["reading", JUDGING])
def test_a_choice_is_taken_at_once_and_told(shop: Path, at: str) -> None:
    numbers: list[int] = []
    report = month_with(shop, at, lambda: numbers.append(refused(shop)))
    assert late(report) == [
        "1 decision came in while this run went on (hundredfold history): "
        "what of it is not in these packs comes with the next run of the month"
    ]
    code, told = hundredfold("history", "--shop", str(shop))
    assert code == 0
    assert numbers[0] in [one["decision"] for one in told["decisions"]]  # type: ignore[attr-defined]
    again = month(shop, 1)
    rows = "".join(path.read_text() for path in shop.glob("packs/*/*/manifest.json"))
    assert Path(art_names(shop)[-1]).stem not in rows  # the refused design is in no pack now
    assert not [line for line in again["summary"] if "next run" in line]  # type: ignore[attr-defined]
    before = digests(shop / "packs")
    assert counts(month(shop, 1))[0] == 0
    assert digests(shop / "packs") == before


def test_a_choice_taken_back_beside_a_run(shop: Path) -> None:
    number = refused(shop)
    report = month_with(shop, JUDGING, lambda: undone(shop, number))
    assert len(late(report)) == 1


def undone(shop: Path, number: int) -> None:
    code, told = hundredfold("undo", str(number), "--shop", str(shop))
    assert code == 0, told


def test_what_the_run_stands_on_is_not_taken_back_under_it(shop: Path) -> None:
    with desk(shop, "") as opened:
        plan = opened.store.events(kinds={Happened.PLANNED})[0].decision

    def refuse() -> None:
        code, told = hundredfold("undo", str(plan), "--shop", str(shop))
        assert (code, told["error"]["slug"]) == (1, "shop-in-use")  # type: ignore[index]

    assert not late(month_with(shop, JUDGING, refuse))


def test_an_answer_and_a_settled_doubt_come_in_beside_a_run(shop: Path, tmp_path: Path) -> None:
    assert hundredfold("deliver", "--all", "--shop", str(shop))[0] == 0
    with desk(shop, "") as opened:
        channel = sorted({key.channel for key in opened.ledger().packs})[0]
        sku = sorted(s for s, key in opened.ledger().owners.items() if key.listing.channel == channel)[0]
    answers = tmp_path / "answers.csv"
    answers.write_text(f"SKU;Status\n{sku};refused\n")

    def answer() -> None:
        code, told = hundredfold("answer", str(answers), "--channel", channel, "--shop", str(shop))
        assert told["refused"] == 1, (code, told)

    report = month_with(shop, JUDGING, answer)
    assert len(late(report)) == 1
    with desk(shop, "") as opened:
        assert opened.ledger().answers[sku][0] == "refused"


def test_a_price_changed_beside_a_run_is_in_it_or_told(shop: Path) -> None:
    def dearer() -> None:
        set_settings(shop, {"target_profit": "9.00"})

    report = month_with(shop, JUDGING, dearer)
    (said,) = late(report)
    assert re.match(r"shop\.toml was changed while this run went on: ", said)
    before = digests(shop / "packs")
    assert counts(month(shop, 1))[0] > 0
    assert digests(shop / "packs") != before


def test_a_pack_is_not_handed_over_beside_a_run(shop: Path) -> None:
    def deliver() -> None:
        code, told = hundredfold("deliver", "--all", "--shop", str(shop))
        assert (code, told["error"]["slug"]) == (1, "shop-in-use")  # type: ignore[index]

    month_with(shop, JUDGING, deliver)


def test_many_short_works_at_once_beside_a_run_lose_none(shop: Path) -> None:
    numbers: list[int] = []
    names = [path.name for path in (shop / "designs").iterdir()]

    def several() -> None:
        def one() -> None:
            numbers.append(choose_by_name(shop, names[:1], Answer.REFUSE, ("", "", ""), ""))

        threads = [threading.Thread(target=one) for _ in range(8)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()

    month_with(shop, JUDGING, several)
    assert len(set(numbers)) == 8
    with desk(shop, "") as opened:
        chosen = opened.store.events(kinds={Happened.CHOSEN})
    assert {row.decision for row in chosen} == set(numbers)
