"""What is live already is taken in from a table, by the designs that lie in the shop."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from shops import small_shop

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Happened
from hundredfold.ledger.keys import ListingKey
from hundredfold.ledger.state import Standing
from hundredfold.runner.cache import Vault
from hundredfold.runner.memo import PathMemo
from hundredfold.store.shopstore import open_store
from hundredfold.workshop.handover.adopting import adopt_file
from hundredfold.workshop.shop.bench import Bench


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    root = tmp_path / "shop"
    (root / "designs").mkdir(parents=True)
    (root / "designs" / "proud-beekeeper.png").write_bytes(b"bees")
    (root / "designs" / "sea-swimmer.png").write_bytes(b"swims")
    store = open_store(root / ".hundredfold" / "shop.db")
    shop = small_shop(root)
    yield Bench(shop, store, Vault(shop.paths.cache), PathMemo(root, store.builds), 1)
    store.close()


def table(bench: Bench, text: str) -> Path:
    file = bench.shop.paths.root / "live.csv"
    file.write_text(text, "utf-8")
    return file


def test_what_is_live_is_never_planned_as_new(bench: Bench) -> None:
    file = table(
        bench,
        "Seller SKU,Item name,Colour,Listing id\n"
        "OLD-1,Proud Beekeeper ceramic mug 325 ml,Navy,7001\n"
        "OLD-2,Sea Swimmer ceramic mug 325 ml,White,7002\n",
    )
    found, decision = adopt_file(bench, file)
    seen = {row.data["path"]: row.subject for row in bench.store.events(kinds={Happened.DESIGN_SEEN})}
    assert set(seen) == {"designs/proud-beekeeper.png", "designs/sea-swimmer.png"}
    state = bench.ledger()
    bees = ListingKey("north-print", seen["designs/proud-beekeeper.png"], "MUG-325")
    swims = ListingKey("north-print", seen["designs/sea-swimmer.png"], "MUG-325")
    assert {key: (one.standing, one.colours) for key, one in state.listed.items()} == {
        bees: (Standing.LIVE, ("navy",)),
        swims: (Standing.LIVE, ("white",)),
    }
    assert state.identifiers == {"OLD-1": "7001", "OLD-2": "7002"}
    adopted = bench.store.events(kinds={Happened.ADOPTED})
    assert ({row.decision for row in adopted}, len(found.events)) == ({decision}, 2)
    again, none = adopt_file(bench, file, "north-print")
    assert (again.events, none) == ((), 0)
    assert len(bench.store.events(kinds={Happened.DESIGN_SEEN})) == 2


def test_columns_told_once_are_remembered_for_the_channel(bench: Bench) -> None:
    text = "Thing,Goods,Paint\nOLD-1,Proud Beekeeper ceramic mug 325 ml,Navy\n"
    file = table(bench, text)
    with pytest.raises(ShopError) as caught:
        adopt_file(bench, file, columns={"sku": "Nope"})
    assert caught.value.slug == "no-such-column"
    found, decision = adopt_file(bench, file, columns={"sku": "Thing", "title": "Goods", "colour": "Paint"})
    assert (len(found.events), decision > 0) == (1, True)
    table(bench, text.replace("OLD-1", "OLD-2").replace("Navy", "White"))
    assert [row.subject for row in adopt_file(bench, file)[0].events] == ["OLD-2"]


def test_a_pattern_of_skus_tells_which_design_is_meant(bench: Bench) -> None:
    file = table(bench, "SKU\nsea-swimmer_MUG-325_proud-beekeeper_navy\n")
    pattern = "sea-swimmer_{blank}_{design}_{colour}"
    found, _ = adopt_file(bench, file, sku_pattern=pattern)
    seen = {row.subject: row.data["path"] for row in bench.store.events(kinds={Happened.DESIGN_SEEN})}
    assert [seen[str(row.data["design"])] for row in found.events] == ["designs/proud-beekeeper.png"]
    with pytest.raises(ShopError) as caught:
        adopt_file(bench, table(bench, "SKU\nanother\n"), sku_pattern="{blnk}-{design}")
    assert caught.value.slug == "bad-sku-pattern"


def test_another_channel_than_the_shops(bench: Bench) -> None:
    with pytest.raises(ShopError) as caught:
        adopt_file(bench, table(bench, "SKU\nX\n"), "nowhere")
    assert caught.value.slug == "unknown-channel"
