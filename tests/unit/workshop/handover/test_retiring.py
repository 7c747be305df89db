"""Designs sold no more by a person's word; what is live and lost its file is told and ends nothing."""

import contextlib
import hashlib
from dataclasses import replace
from pathlib import Path

import pytest
from goods import design
from shops import small_shop

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey, SkuKey
from hundredfold.ledger.state import LedgerState, Listed, Standing
from hundredfold.store.shopstore import Store, open_store
from hundredfold.workshop.handover.retiring import (
    Retired,
    live_of,
    missing_design,
    missing_findings,
    named_designs,
    retire,
    retired_findings,
)
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.steps.identity import KnownDesign


def known(*paths: str) -> dict[str, KnownDesign]:
    return {f"D{n}": KnownDesign(f"D{n}", path, f"{n:064x}") for n, path in enumerate(paths)}


KNOWN = known("designs/bees.png", "designs/swim/bees.svg", "designs/bells.png", "designs/D2")


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("designs/bees.png", ["D0"]),
        ("bees.png", ["D0"]),
        ("bees", ["D0", "D1"]),
        ("bees.svg", ["D1"]),
        ("D2", ["D2"]),  # an id before a file of that name
        ("bells", ["D2"]),
    ],
)
def test_a_design_is_named_by_its_path_its_file_or_its_name(name: str, found: list[str]) -> None:
    assert [one.id for one in named_designs(name, KNOWN)] == found


def test_a_name_that_nothing_had() -> None:
    with pytest.raises(ShopError) as caught:
        named_designs("bels.png", KNOWN)
    assert caught.value.slug == "unknown-design"
    assert caught.value.what == 'no design is or was called "bels.png"'
    assert caught.value.fix == 'did you mean "bells.png"?'


def live(*places: tuple[str, str, str], standing: Standing = Standing.LIVE) -> dict[ListingKey, Listed]:
    return {ListingKey(*place): Listed(standing, 1) for place in places}


STATE = LedgerState(
    listed={
        **live(
            ("north", "D0", "MUG-325"), ("north", "D0", "TEE"), ("south", "D1", "OLD"), ("north", "D3", "OLD")
        ),
        **live(("south", "D0", "MUG-325"), ("north", "D2", "GONE"), standing=Standing.ENDED),
    }
)


def test_the_live_listings_of_each_design() -> None:
    assert live_of(STATE) == {
        "D0": [ListingKey("north", "D0", "MUG-325"), ListingKey("north", "D0", "TEE")],
        "D1": [ListingKey("south", "D1", "OLD")],
        "D3": [ListingKey("north", "D3", "OLD")],
    }


def test_a_lost_file_of_what_is_live_is_told_with_how_much_stays_up(tmp_path: Path) -> None:
    shop = small_shop(tmp_path)
    told = list(missing_findings(shop, KNOWN, replace(STATE, retired={"D3": 9})))
    assert [(f.check, f.code, f.item, f.severity, f.numbers) for f in told] == [
        ("designs/gone", "file-missing", "designs/bees.png", Severity.WARN, {"live": 2}),
        ("designs/gone", "file-missing", "designs/swim/bees.svg", Severity.WARN, {"live": 1}),
        ("catalogue/blank-gone", "file-missing", "OLD", Severity.WARN, {"live": 2}),
    ]
    assert told[0].what == "its file is no longer there; 2 live listings stay up"
    assert told[0].fix.endswith(": hundredfold retire bees.png")
    assert told[1].what == "its file is no longer there; 1 live listing stays up"
    assert told[2].what == "its file is no longer in the blanks folder; 2 live listings stay up"
    assert "discontinued = true" in told[2].fix
    assert list(missing_findings(shop, {}, LedgerState())) == []


@pytest.mark.parametrize(("lost", "codes"), [(3, ["file-missing"] * 3), (4, ["files-missing"])])
def test_a_moved_folder_is_one_finding(tmp_path: Path, lost: int, codes: list[str]) -> None:
    paths = [f"designs/{name}.png" for name in ("bees", "bells", "boats", "choir")[:lost]]
    state = LedgerState(
        listed=live(*(("north", f"D{n}", "TEE") for n in range(lost)), ("south", "D0", "TEE"))
    )
    told = list(missing_findings(small_shop(tmp_path), known(*paths), state))
    assert [f.code for f in told] == codes
    if lost > 3:
        assert (told[0].item, told[0].numbers) == ("designs", {"designs": 4, "live": 5})
        assert told[0].what.startswith("the files of 4 designs are no longer there (designs/bees.png")
        assert told[0].what.endswith("; 5 live listings stay up")
        assert told[0].fix.endswith(": hundredfold retire --gone")


def test_a_retired_design_whose_file_is_there_is_told() -> None:
    state = LedgerState(retired={"bees": 12})
    (told,) = retired_findings([design("wasps"), design("bees")], state)
    assert (told.check, told.code, told.item) == ("designs/retired", "still-there", "designs/bees.png")
    assert told.what == "it is retired, so it is not listed"
    assert told.fix.endswith(": hundredfold undo --row 12")


def test_a_design_without_its_file_is_known_by_name() -> None:
    found = missing_design(KNOWN["D0"])
    assert (found.id, found.path, found.facts.digest) == ("D0", "designs/bees.png", f"{0:064x}")


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """Bees are there and live twice; wasps are live and gone; moths were only seen, and are gone."""
    root = tmp_path / "shop"
    new_shop(root, sample=False)
    (root / "designs" / "bees.png").write_bytes(b"bees")
    with record(root) as store:
        for name in ("bees", "wasps", "moths"):
            data = {"path": f"designs/{name}.png", "digest": hashlib.sha256(name.encode()).hexdigest()}
            store.append([Event(Happened.DESIGN_SEEN, name, data)])
        for design_id, blank in (("bees", "MUG"), ("bees", "TEE"), ("wasps", "MUG")):
            key = SkuKey("north", design_id, blank, "navy", "")
            store.append([Event(Happened.ADOPTED, f"{design_id}-{blank}", key.as_data())])
    return root


def record(root: Path) -> "contextlib.closing[Store]":
    return contextlib.closing(open_store(root / ".hundredfold" / "shop.db"))


def retired(root: Path) -> dict[str, int]:
    with record(root) as store:
        return dict(fold(store.events()).retired)


def test_retiring_is_one_decision_and_is_done_once(root: Path) -> None:
    both = retire(root, ["wasps.png", "bees", "designs/bees.png"])
    decision = both[0].decision
    assert both == (Retired("designs/bees.png", 2, decision), Retired("designs/wasps.png", 1, decision))
    assert decision > 0
    assert set(retired(root)) == {"bees", "wasps"}
    with record(root) as store:
        rows = store.events(kinds={Happened.RETIRED})
    assert [row.data for row in rows] == [{"path": "designs/bees.png"}, {"path": "designs/wasps.png"}]
    assert retire(root, ["bees"]) == ()
    assert retire(root, ["moths"]) == (Retired("designs/moths.png", 0, retired(root)["moths"]),)


def test_what_is_gone_and_live_is_retired_when_asked(root: Path) -> None:
    assert retire(root, []) == ()
    assert [(one.path, one.live) for one in retire(root, [], gone=True)] == [("designs/wasps.png", 1)]
    assert set(retired(root)) == {"wasps"}
    with pytest.raises(ShopError):
        retire(root, ["nobody"], gone=True)


def test_what_only_moved_is_not_gone(root: Path) -> None:
    (root / "designs" / "swim").mkdir()
    (root / "designs" / "swim" / "renamed.png").write_bytes(b"wasps")
    assert retire(root, [], gone=True) == ()
