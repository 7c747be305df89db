"""A month as a new user makes it, with no terminal: by mouse, by touch on a narrow screen, by keys alone."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from browsing import chromium, listening, served
from monthshop import hundredfold
from openmoji import write_designs
from playwright.sync_api import Browser, Page, expect

from hundredfold.workshop.shop.history import history

# In a run of their own (-m big): a browser takes minutes of a busy machine. Every wait has its condition and
# its end, and the browser is ended from outside after LONGEST_S.
pytestmark = [pytest.mark.xdist_group("browser"), pytest.mark.big]
MINUTES_MS = 15 * 60_000
WIDE, NARROW = {"width": 1440, "height": 900}, {"width": 390, "height": 844}
Press = Callable[[Page, str], None]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as opened:
        yield opened


def art(folder: Path, number: int) -> list[Path]:
    """OpenMoji drawings with a line of lettering as a seller has them: files in a folder."""
    folder.mkdir()
    write_designs(folder, number, 720)
    return sorted(folder.iterdir())


def by_mouse(page: Page, what: str) -> None:
    page.locator(what).first.click()


def by_touch(page: Page, what: str) -> None:
    page.locator(what).first.tap()


def by_keys(page: Page, what: str) -> None:
    """Reach a thing with Tab alone, and press it."""
    target = page.locator(what).first
    target.wait_for(state="attached")
    for _ in range(400):
        if target.evaluate("one => one === document.activeElement"):
            kind = target.evaluate("one => one.type")
            page.keyboard.press("Space" if kind == "checkbox" else "Enter")
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"no Tab leads to {what}")


def first_run(page: Page, press: Press, files: list[Path]) -> None:
    page.locator("[name=name]").focus()
    page.keyboard.type("Tin & Twine")
    press(page, "button:has-text('Make the shop')")
    expect(page.get_by_role("heading", level=1)).to_have_text("Bring your designs.")
    page.set_input_files("[name=files]", files)
    page.wait_for_selector(".heap img", timeout=MINUTES_MS)
    page.wait_for_selector("[data-work=rests]", state="attached", timeout=MINUTES_MS)
    press(page, "button:has-text('Go on with these')")
    expect(page.get_by_role("heading", level=1)).to_have_text("What do you decorate?")
    press(page, "[value=MUG-445]")
    press(page, "button:has-text('Take these')")
    press(page, "[value=northfold]")
    press(page, "button:has-text('Take these')")
    expect(page.get_by_role("heading", level=1)).to_have_text("What must a sale earn?")
    page.locator("[name=target]").fill("3.50")
    press(page, "button:has-text('Keep this')")
    press(page, "button:has-text('Prepare the month')")
    page.wait_for_selector(".ticket h2:has-text('Next:')", timeout=MINUTES_MS)
    page.wait_for_selector("[data-work=rests]", state="attached", timeout=MINUTES_MS)


def review(page: Page, press: Press, base: str) -> None:
    page.goto(f"{base}/review")
    assert "wants a look" in page.inner_text("h1") or "want a look" in page.inner_text("h1")
    press(page, "a:has-text('first proof sheet')")
    press(page, "button[value=keep]")
    expect(page.locator(".undobar:not(.lost)")).to_contain_text("kept")


def take_a_repair(page: Page, press: Press, base: str) -> None:
    page.goto(f"{base}/designs")
    links = page.locator("#wall a").evaluate_all("all => all.map(one => one.href)")
    for link in links:
        page.goto(link)
        if page.locator("button:has-text('Take this repair')").count():
            press(page, "button:has-text('Take this repair')")
            expect(page.locator(".undobar:not(.lost)")).to_contain_text("Taken")
            return
    raise AssertionError("lettering that is lost on a colour asks for a repair")


def give_a_place(page: Page, press: Press, base: str) -> None:
    page.goto(f"{base}/designs")
    press(page, "#wall a")
    press(page, "a:has-text('Place and size')")
    before = page.inner_text("#words")
    page.locator("[name=scale]").fill("70")
    expect(page.locator("#words")).not_to_have_text(before)
    press(page, "button[value=keep]")
    expect(page.locator(".undobar:not(.lost)")).to_contain_text("kept")


def edit_a_title(page: Page, press: Press, base: str) -> None:
    """Of a design that has listings: which, the calendar says."""
    page.goto(f"{base}/calendar")
    page.goto(base + str(page.locator(".cal .n a").first.get_attribute("href")))
    key = str(page.locator("[name=listing]").first.get_attribute("value"))
    page.goto(f"{base}/designs/{key.split('/')[2]}")
    press(page, "a:has-text('Title, points, story')")
    title = page.locator("textarea[name=title]")
    title.fill("A mug that keeps its promise")
    press(page, "button:has-text('Keep these words')")
    expect(page.locator(".undobar:not(.lost)")).to_contain_text("kept")
    expect(page.locator("textarea[name=title]")).to_have_value("A mug that keeps its promise")
    expect(page.locator(".wordfields .mark")).to_contain_text("Yours")


def look_at_prices(page: Page, base: str) -> None:
    """What a dearer blank would change, with nothing kept."""
    page.goto(f"{base}/prices")
    before = page.inner_text("h1")
    page.locator("[name=cost]").focus()
    for _ in range(10):
        page.keyboard.press("ArrowRight")
    expect(page.locator("h1")).not_to_have_text(before)


def pin_a_listing(page: Page, press: Press, base: str) -> None:
    page.goto(f"{base}/calendar")
    page.goto(base + str(page.locator(".cal .n a").first.get_attribute("href")))
    press(page, "[name=listing]")
    press(page, "button:has-text('Pin to this day')")
    expect(page.locator(".undobar:not(.lost)")).to_contain_text("pinned to this day")


def look_at_blanks(page: Page, base: str) -> None:
    page.goto(f"{base}/blanks")
    page.goto(base + str(page.locator(".goodslist a").first.get_attribute("href")))
    expect(page.locator(".areadraw").first).to_be_visible()


def undo(page: Page) -> None:
    page.locator("body").press("u")
    expect(page.locator(".undobar:not(.lost)")).to_contain_text("as it was before")


def hand_over(page: Page, press: Press, base: str) -> None:
    page.goto(f"{base}/packs")
    press(page, "a:has-text('See the pack')")
    press(page, "button:has-text('Prove it and hand it over')")
    expect(page.locator(".undobar:not(.lost)")).to_contain_text("handed over", timeout=MINUTES_MS)
    page.goto(f"{base}/packs")
    expect(page.locator("main")).to_contain_text("Handed over")


def prepare_again(page: Page, press: Press, base: str) -> None:
    page.goto(base)
    press(page, "button:has-text('Prepare')")
    page.wait_for_selector("[data-work=going]", state="attached")
    page.wait_for_selector("[data-work=rests]", state="attached", timeout=MINUTES_MS)
    expect(page.locator(".ticket h2").first).to_contain_text("Next:")


def whole_month(page: Page, press: Press, shop: Path, files: list[Path]) -> None:
    heard = listening(page)
    with served(shop) as address:
        base = address.partition("/start")[0]
        page.goto(address)
        first_run(page, press, files)
        review(page, press, base)
        take_a_repair(page, press, base)
        give_a_place(page, press, base)
        undo(page)
        edit_a_title(page, press, base)
        look_at_blanks(page, base)
        look_at_prices(page, base)
        pin_a_listing(page, press, base)
        prepare_again(page, press, base)
        hand_over(page, press, base)
        for path in ("/", "/designs", "/review", "/calendar", "/packs", "/history"):
            page.goto(f"{base}{path}")
            assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"], path  # type: ignore[index]
    assert heard == []
    assert hundredfold("verify", "--shop", str(shop))[0] == 0
    kinds = [entry.event.happened.value for entry in history(shop, last=500)]
    wanted = {"chosen", "repaired", "placed", "undone", "worded", "planned", "packed", "handed over"}
    assert wanted <= set(kinds)


def test_a_whole_month_by_mouse(browser: Browser, tmp_path: Path) -> None:
    page = browser.new_page(viewport=WIDE)  # type: ignore[arg-type]
    whole_month(page, by_mouse, tmp_path / "shop", art(tmp_path / "art", 3))


@pytest.mark.big
@pytest.mark.parametrize("way", ["mouse", "touch", "keys"])
def test_a_whole_month_of_sixty_designs(browser: Browser, tmp_path: Path, way: str) -> None:
    if way == "touch":
        page = browser.new_context(viewport=NARROW, has_touch=True, is_mobile=True).new_page()  # type: ignore[arg-type]
    else:
        page = browser.new_page(viewport=WIDE)  # type: ignore[arg-type]
    press = {"mouse": by_mouse, "touch": by_touch, "keys": by_keys}[way]
    number = 60 if way == "mouse" else 3
    whole_month(page, press, tmp_path / "shop", art(tmp_path / "art", number))


def test_a_second_start_finds_the_first(tmp_path: Path) -> None:
    from hundredfold.workshop.shop.newshop import new_shop

    new_shop(tmp_path / "shop")
    with served(tmp_path / "shop") as first, served(tmp_path / "shop") as second:
        assert re.match(r"http://127\.0\.0\.1:\d+/start\?key=", first)
        assert second == first
