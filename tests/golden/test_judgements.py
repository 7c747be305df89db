"""Which colours of which blank a few designs may be listed on, pinned beside the version of the checks.

A month keeps its judgements by that version. A pin that breaks means that the same facts are judged, laid
out or ranked otherwise: raise the version of JUDGED (workshop/steps/allsteps.py), then pin the new digest.
"""

import hashlib
import platform
import re
from pathlib import Path

import pytest
from monthshop import FEW_BLANKS, month_shop

from hundredfold.runner.tasks import Counts
from hundredfold.workshop.listing.offers import Proof, short_proofs
from hundredfold.workshop.proof.listable import judge_all
from hundredfold.workshop.proof.onedesign import asked_of, proved, read_all, sold_blanks
from hundredfold.workshop.shop.bench import bench
from hundredfold.workshop.steps.allsteps import JUDGED
from hundredfold.workshop.steps.gathering import gather

PINNED = ((7,), "a8947c6eb930394b")


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return month_shop(tmp_path_factory.mktemp("judged") / "shop", 3, blanks=FEW_BLANKS)


def judged(shop: Path) -> tuple[tuple[Proof, ...], tuple[Proof, ...], Counts]:
    """What is remembered, what is judged anew, and what was made."""
    with bench(shop, "month") as tools:
        runner, told = tools.runner(), lambda _done, _all: None
        gathered, blanks, asked = gather(tools, runner), sold_blanks(tools.shop), asked_of(tools.shop)
        readings, _ = read_all(runner, gathered, blanks, asked, told)
        kept, outcome = judge_all(tools, runner, gathered, readings, {}, blanks, asked, told)
        anew = tuple(
            short
            for proof in proved(tools.vault, gathered, readings, blanks, asked, {})
            for short in short_proofs(proof, blanks)
        )
        return kept, anew, outcome.counts


def named(proofs: tuple[Proof, ...]) -> list[tuple[object, ...]]:
    return [
        (p.design.id, p.blank.code, p.colours, p.best, p.scores, p.layouts if p.colours else {})
        for p in proofs
    ]


def test_judgements_are_those_of_their_version(shop: Path) -> None:
    kept, anew, _ = judged(shop)
    assert named(kept) == named(anew)
    text = repr([(p.design.path, p.blank.code, p.colours, p.best) for p in kept])
    digest = hashlib.sha256(text.encode()).hexdigest()[:16]
    if platform.machine().lower() in ("x86_64", "amd64"):
        assert (JUDGED.version, digest) == PINNED


def changed(path: Path, pattern: str, new: str) -> str:
    old = path.read_text("utf-8")
    text, count = re.subn(pattern, new, old)
    assert count
    path.write_text(text, "utf-8")
    return old


def test_only_what_bears_on_a_judgement_has_it_made_again(shop: Path) -> None:
    judged(shop)
    blank, limits = shop / "blanks" / "mug-325.toml", shop / "checks.toml"
    old = changed(blank, r'base_cost = "[\d.]+"', 'base_cost = "9.99"')
    assert judged(shop)[2] == Counts(made=0, reused=3)
    blank.write_text(old, "utf-8")
    for path, pattern, new in (
        (blank, "#f7f6f2", "#203040"),
        (limits, "dpi_target = {value = 10", "dpi_target = {value = 9999"),
    ):
        old = changed(path, pattern, new)
        kept, anew, counts = judged(shop)
        assert counts.made == 3
        assert named(kept) == named(anew)
        path.write_text(old, "utf-8")
