"""A thousand walks over the page's own links and buttons: nothing breaks, and everything leads back."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from monthshop import digests, hundredfold, month, month_shop
from pages import opened
from walking import GOES_OUT, NEVER, PLAIN_FILES, walk

from hundredfold.ledger.state import LedgerState
from hundredfold.workshop.views.history import history_view
from hundredfold.workshop.views.looking import look_at

pytestmark = pytest.mark.xdist_group("page")
STEPS = 14


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = month_shop(tmp_path_factory.mktemp("walks") / "shop", 2, blanks=("mug-445",))
    hundredfold("proof", "--shop", str(folder))
    month(folder, 2)
    return folder


def standing(shop: Path) -> LedgerState:
    return replace(look_at(shop).state, last_number=0)


def take_back(client: object, shop: Path, since: int) -> int:
    """Undo every decision since, the newest first; how many there were."""
    made = [one for one in history_view(shop, last=100_000).decisions if one.decision > since]
    for one in reversed(made):
        now = {each.decision: each for each in history_view(shop, last=100_000).decisions}[one.decision]
        if now.stands and now.can_be_undone:
            answer = client.post("/history/undo", data={"decision": str(one.decision)})  # type: ignore[attr-defined]
            assert answer.status_code == 303, answer.text[:400]
    return len(made)


def walked(shop: Path, folder: Path, seeds: range, together: int) -> tuple[int, int]:
    """Walks from the same month, so many one after the other in a copy of it; every second copy may also hand
    packs over and change plain files, and is not led back. How many presses and decisions."""
    presses = decided = 0
    for first in seeds[::together]:
        here = folder / str(first)
        shutil.copytree(shop, here)
        client = opened(here)
        before, art = standing(here), digests(here / "designs")
        inside = first // together % 2 == 0
        never = NEVER | PLAIN_FILES | GOES_OUT if inside else NEVER
        for seed in range(first, min(first + together, seeds.stop)):
            since = max(one.decision for one in history_view(here, last=100_000).decisions)
            told = walk(client, seed, STEPS, never)
            presses += len(told)
            if inside:
                decided += take_back(client, here, since)
                assert standing(here) == before, told
                assert digests(here / "designs") == art, told
        code, said = hundredfold("verify", "--shop", str(here))
        assert code == 0, (told, said)
        shutil.rmtree(here)
    return presses, decided


def test_fifty_walks(shop: Path, tmp_path: Path) -> None:
    presses, decided = walked(shop, tmp_path, range(50), together=5)
    assert presses == 50 * STEPS
    assert decided > 20


def test_what_was_decided_and_taken_back_makes_the_same_packs(shop: Path, tmp_path: Path) -> None:
    here = tmp_path / "shop"
    shutil.copytree(shop, here)
    packs = digests(here / "packs")
    client = opened(here)
    since = max(one.decision for one in history_view(here, last=100_000).decisions)
    for seed in range(1000, 1004):
        walk(client, seed, STEPS, NEVER | PLAIN_FILES | GOES_OUT)
    take_back(client, here, since)
    month(here, 2)
    assert digests(here / "packs") == packs


@pytest.mark.big
@pytest.mark.parametrize("part", range(20))
def test_a_thousand_walks(shop: Path, tmp_path: Path, part: int) -> None:
    walked(shop, tmp_path, range(part * 50, part * 50 + 50), together=1)
