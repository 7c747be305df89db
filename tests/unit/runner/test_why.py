"""Reasons and origins, in words."""

from pathlib import Path

import pytest
from runner_doubles import MemoryRows, maker, task

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.cache import Vault
from hundredfold.runner.recipes import Recipe
from hundredfold.runner.running import Runner
from hundredfold.runner.space import check_space, free_space
from hundredfold.runner.tasks import Task
from hundredfold.runner.why import Names, explain_item, explain_shortly, reasons
from hundredfold.runner.workers import InProcess, Workers

BEE = task("bee", colour="navy")


def made(tmp_path: Path, *tasks: Task) -> tuple[MemoryRows, Vault]:
    rows, vault = MemoryRows(), Vault(tmp_path / "cache")
    Runner(vault, rows, 7, workers=Workers(InProcess)).run(tasks, maker)
    return rows, vault


def test_a_current_item_has_no_reason(tmp_path: Path) -> None:
    rows, vault = made(tmp_path, BEE)
    assert reasons(rows, vault, BEE.item, BEE.recipe) == ()


def test_reasons_name_what_changed(tmp_path: Path) -> None:
    rows, vault = made(tmp_path, BEE)
    new = task("bee", art="1", colour="black").recipe
    assert reasons(rows, vault, BEE.item, new) == ("design art changed", "colour: navy -> black")
    assert reasons(rows, vault, "nothing", new) == ("never made before",)


def test_a_lost_file_is_a_reason(tmp_path: Path) -> None:
    rows, vault = made(tmp_path, BEE)
    vault.path_of(rows.made_for(BEE.item)[0].output).unlink()
    assert reasons(rows, vault, BEE.item, BEE.recipe) == (
        "its file is missing from the cache, or was damaged",
    )


def test_an_earlier_failure_is_a_reason(tmp_path: Path) -> None:
    bad = task("small")
    bad = Task(bad.item, bad.recipe, bad.group, "small")
    rows, vault = made(tmp_path, bad)
    assert reasons(rows, vault, bad.item, bad.recipe) == ("it failed last time: too few pixels",)


def test_the_chain_of_an_item_goes_down_to_the_seller_s_file(tmp_path: Path) -> None:
    rows, vault = made(tmp_path, BEE)
    output = rows.made_for(BEE.item)[0].output
    picture = Recipe("picture", (2,), {}, {"size": {"width_px": 800}}, {"print file": output})
    Runner(vault, rows, 8, workers=Workers(InProcess)).run(
        [Task("bee picture", picture, "bee", "picture")], maker
    )
    art = BEE.recipe.inputs["design art"]
    lines = explain_item(
        rows, "bee picture", Names(lambda digest: ("designs/bee.png",) if digest == art else ())
    )
    assert lines == (
        "bee picture, picture 2: made in run 8, last used in run 8",
        "  size width px: 800",
        f"  print file: {output[:12]}",
        "    bee on front, print-file 1: made in run 7, last used in run 7",
        "      area: front",
        "      colour: navy",
        "      libraries: libvips 8.18",
        "      design art: designs/bee.png",
    )


def test_why_the_last_run_made_it_is_told(tmp_path: Path) -> None:
    rows, vault = made(tmp_path, BEE)
    assert explain_shortly(rows, BEE.item) == (
        "bee on front, print-file 1: made in run 7, last used in run 7",
    )
    changed = task("bee", art="1", colour="black")
    Runner(vault, rows, 8, workers=Workers(InProcess)).run([changed], maker)
    Runner(vault, rows, 9, workers=Workers(InProcess)).run([changed], maker)
    assert explain_shortly(rows, BEE.item) == (
        "bee on front, print-file 1: made in run 8, last used in run 9",
        "  made again then: design art changed; colour: navy -> black",
    )
    vault.path_of(rows.made_for(BEE.item)[0].output).unlink()
    Runner(vault, rows, 10, workers=Workers(InProcess)).run([changed], maker)
    assert explain_shortly(rows, BEE.item)[1] == (
        "  made again then: its file was missing from the cache, or was damaged"
    )


def test_needed_space_is_checked_with_both_figures(tmp_path: Path) -> None:
    free = free_space(tmp_path / "not" / "there yet")
    check_space(tmp_path, 0)
    check_space(tmp_path, 1000, reserve_bytes=0)
    with pytest.raises(ShopError, match=r"this needs .* of disk, and .* are free") as caught:
        check_space(tmp_path, free * 2 + 10**9, reserve_bytes=0)
    assert caught.value.slug == "disk-full"
