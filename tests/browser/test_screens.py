"""axe-core over every screen, light and dark, wide and narrow: WCAG 2.0 to 2.2 A and AA, best practice."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from browsing import chromium, listening, served
from monthshop import START, hundredfold, month, month_shop
from playwright.sync_api import Browser, Page

from hundredfold.web.rendering import ROOMS
from hundredfold.workshop.shop.newshop import new_shop

# In a run of their own (-m big): every screen four times over takes minutes of a busy machine.
pytestmark = [pytest.mark.xdist_group("browser"), pytest.mark.big]
LOOKS = [(1440, "light"), (1440, "dark"), (390, "light"), (390, "dark")]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


def faults(page: Page) -> list[str]:
    found = Axe().run(page)
    return [
        f"{one['id']}: {one['help']}: {[node['html'][:120] for node in one['nodes'][:3]]}"
        for one in found.response["violations"]
    ]


def judged(browser: Browser, shop: Path, paths: list[str]) -> dict[str, list[str]]:
    """What axe, the console and the width of each page have to say."""
    told: dict[str, list[str]] = {}
    with served(shop) as address:
        base = address.partition("/start")[0]
        for width, scheme in LOOKS:
            context = browser.new_context(viewport={"width": width, "height": 900}, color_scheme=scheme)  # type: ignore[arg-type]
            page = context.new_page()
            heard = listening(page)
            page.goto(address)
            for path in paths:
                page.goto(base + path)
                page.wait_for_function("[...document.images].every((one) => one.complete || one.loading)")
                wide = page.evaluate("document.documentElement.scrollWidth")
                sideways = [f"{wide} pixels wide"] if wide > width else []
                # Of a page that is not there the browser itself says so.
                said = [words for words in heard if path != "/nowhere" or "404" not in words]
                if found := [*faults(page), *sideways, *said]:
                    told[f"{path} {width} {scheme}"] = found
                heard.clear()
            context.close()
    return told


def test_the_first_steps(browser: Browser, tmp_path: Path) -> None:
    shop = tmp_path / "shop"
    assert judged(browser, shop, ["/"]) == {}
    new_shop(shop)
    assert judged(browser, shop, [f"/begin/{number}" for number in range(1, 7)]) == {}


def test_every_screen_of_a_month(browser: Browser, tmp_path: Path) -> None:
    shop = month_shop(tmp_path / "shop", 3, blanks=("mug-445",))
    hundredfold("proof", "--shop", str(shop))
    month(shop, 2)
    clubs = shop / "words" / "clubs.csv"
    clubs.write_text("".join(clubs.read_text("utf-8").splitlines(keepends=True)[:3]), "utf-8")
    design = next(iter(_designs(shop)))
    here = [*(address for address, _ in ROOMS), "/designs?q=zzz", "/checks", "/nowhere"]
    of_one = [f"/designs/{design}", f"/designs/{design}/place/MUG-445", f"/review/{design}/MUG-445"]
    days = [
        f"/calendar/{START}",
        f"/packs/northfold/{START}",
        "/layouts/clubs.csv",
        f"/designs/{design}/words",
    ]
    paths = [*here, *of_one, *days, "/blanks/MUG-445", "/channels/northfold", "/prices/MUG-445"]
    paths += ["/mend?file=shop.toml"]
    assert judged(browser, shop, paths) == {}


def _designs(shop: Path) -> list[str]:
    _, told = hundredfold("history", "--shop", str(shop), "--last", "1000")
    entries = [entry for one in told["decisions"] for entry in one["entries"]]  # type: ignore[attr-defined]
    return [entry["data"]["design"] for entry in entries if entry["happened"] == "planned"]
