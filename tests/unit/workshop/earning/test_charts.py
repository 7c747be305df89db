"""The report as a drawing, and the verbs that show it."""

import json
import re
from datetime import date
from pathlib import Path

import pytest
import pyvips
from soldshop import sold_shop

from hundredfold.cli.main import main
from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.earning.charts import chart_svg, write_chart
from hundredfold.workshop.earning.imagined import imagine_report
from hundredfold.workshop.earning.reporting import sales_view
from hundredfold.workshop.shop.desk import desk


@pytest.fixture(scope="module")
def sold(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    root = tmp_path_factory.mktemp("sold") / "shop"
    sold_shop(root)
    with desk(root, "demo") as opened:
        report = imagine_report(opened, "quayside", date(2027, 1, 1))
        assert report is not None
        first = report.read_bytes()
        imagine_report(opened, "quayside", date(2027, 1, 1))
    assert report.read_bytes() == first
    assert main(["sales", "add", str(report), "--channel", "quayside", "--shop", str(root)]) == 0
    return root, report


def test_a_bar_a_line_as_long_as_it_earned(sold: tuple[Path, Path], tmp_path: Path) -> None:
    view = sales_view(sold[0], "design")
    drawn = chart_svg(view)
    bars = [float(width) for width in re.findall(r'<rect x="[\d.]+" y="\d+" width="([\d.]+)"', drawn)]
    earned = [float(one.profit) for one in view.lines]
    assert len(bars) == len(earned) > 1
    assert bars == pytest.approx([one * bars[0] / earned[0] for one in earned], abs=0.2)
    assert chart_svg(view) == drawn
    write_chart(view, tmp_path / "a.svg")
    write_chart(view, tmp_path / "a.png")
    assert (tmp_path / "a.svg").read_text(encoding="utf-8") == drawn
    assert pyvips.Image.new_from_file(str(tmp_path / "a.png")).width == 1920
    with pytest.raises(ShopError):
        write_chart(view, tmp_path / "a.gif")


def shown(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, object]:
    capsys.readouterr()
    assert main([*words, "--json"]) == 0
    told: dict[str, object] = json.loads(capsys.readouterr().out)
    return told


def test_the_verbs(sold: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    root, report = sold
    at = ("--shop", str(root))
    view = shown(capsys, "sales", "report", "--by", "month", *at)
    assert [one["name"] for one in view["lines"]] == ["2027-01"]  # type: ignore[attr-defined]
    assert shown(capsys, "sales", "report", "--from", "2027-02", *at)["total"] is None
    again = shown(capsys, "sales", "add", str(report), "--channel", "quayside", *at)
    assert again["files"][0]["seen_before"] is True  # type: ignore[index]
    stated = shown(capsys, "statement", "--month", "2027-01", "--to", str(tmp_path), *at)
    assert [Path(one).suffix for one in stated["files"]] == [".xlsx", ".pdf"]  # type: ignore[attr-defined]
    tied = shown(capsys, "sales", "tie", "OLD-1", next(iter(sold_shop(root))), *at)
    assert tied["sku"] == "OLD-1"
    assert main(["sales", "report", *at]) == 0
    assert "taken from the plan" in capsys.readouterr().out
    assert main(["sales", "report", "--from", "soon", *at]) == 2
    assert main(["sales", "add", str(report), "--day", "soon", "--channel", "quayside", *at]) == 2
