"""Pictures of every screen of the page, for docs/: ``python -m tools.screenshots SHOP OUT``.

SHOP is a shop with a month prepared (``hundredfold demo``). Each screen is taken at 1440 and 390 px, light
and dark; beside them OUT gets ``screens.csv``: bytes and requests of each screen at a first load, and what
its console said. Needs Chromium (Debian's) and playwright (development only).
"""

import argparse
import csv
import os
import shutil
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import cv2
import uvicorn
from playwright.sync_api import Browser, Page, sync_playwright

from hundredfold.web.app import build
from hundredfold.web.gate import START
from hundredfold.web.seal import Seal
from hundredfold.web.serving import hosts
from hundredfold.workshop.typeset.liveset import word_lists
from hundredfold.workshop.views.days import days_view
from hundredfold.workshop.views.packs import packs_view
from hundredfold.workshop.views.review import review_view

FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
WIDTHS = {1440: 900, 390: 844}
THEMES = ("light", "dark")
QUALITY = 72
SMALL_QUALITY = 62
TALLEST = 4000  # of a picture; what is below is more of the same


@dataclass(frozen=True)
class Seen:
    """What one screen cost, and said, at its first load."""

    screen: str
    requests: int
    bytes: int
    console: str


def addresses(shop: Path) -> dict[str, str]:
    """Every screen by its name, with the shop's own first things where a screen is of one thing."""
    found = {
        "month": "/", "designs": "/designs", "review": "/review", "calendar": "/calendar", "packs": "/packs",
        "prices": "/prices", "layouts": "/layouts", "blanks": "/blanks", "channels": "/channels",
        "history": "/history", "begin-1": "/begin/1", "begin-2": "/begin/2", "begin-3": "/begin/3",
        "begin-4": "/begin/4", "begin-5": "/begin/5", "begin-6": "/begin/6",
    }  # fmt: skip
    pack = next(iter(packs_view(shop).packs), None)
    if pack is not None:
        found |= {"pack": f"/packs/{pack.pack}", "day": f"/calendar/{pack.day}"}
    for day in days_view(shop).days:
        for one in day.listings[:1]:
            found |= {"design": f"/designs/{one.design}", "proof": f"/review/{one.design}/{one.blank}"}
            found |= {"listing": f"/designs/{one.design}/words"}
            found |= {"place": f"/designs/{one.design}/place/{one.blank}"}
            found |= {"blank": f"/blanks/{one.blank}", "channel": f"/channels/{day.channel}"}
            break
        else:
            continue
        break
    lists = word_lists(shop)
    if lists:
        found["words"] = f"/layouts/{lists[0].file}"
    wanted = next(iter(review_view(shop).open), None)
    if wanted is not None:
        found["proof"] = f"/review/{wanted.design}/{wanted.blank}"
    return found


@contextmanager
def serving(shop: Path) -> Iterator[str]:
    """The page of a shop on a free port; gives the address that lets a browser in."""
    with socket.socket() as listening:
        listening.bind(("127.0.0.1", 0))
        port = listening.getsockname()[1]
        seal = Seal("screenshots")
        app = build(shop, seal, hosts("127.0.0.1", port))
        server = uvicorn.Server(uvicorn.Config(app, log_level="error", access_log=False))
        running = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        running.start()
        while not server.started:
            time.sleep(0.05)
        try:
            yield f"http://127.0.0.1:{port}{START}?key={seal.key}"
        finally:
            server.should_exit = True
            running.join(20)


def chromium() -> str:
    """Debian's Chromium, or what CHROMIUM names."""
    found = os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser")
    if not found:
        raise SystemExit("Chromium is not installed; say where it is with CHROMIUM")
    return found


def shrink(file: Path) -> None:
    """A picture for the docs: WebP, the wide ones at two thirds, the top alone where it is long."""
    drawn = cv2.imread(str(file))
    assert drawn is not None
    width = drawn.shape[1]
    drawn = drawn[: round(width * (1.4 if width > 1000 else 3))]
    if width > 1000:
        size = (round(width * 2 / 3), round(drawn.shape[0] * 2 / 3))
        drawn = cv2.resize(drawn, size, interpolation=cv2.INTER_AREA)
    cv2.imwrite(str(file.with_suffix(".webp")), drawn, [cv2.IMWRITE_WEBP_QUALITY, SMALL_QUALITY])
    file.unlink()


def take(browser: Browser, start: str, wanted: dict[str, str], out: Path, taken: set[str]) -> list[Seen]:
    """Take the screens that ``wanted`` names in every width and theme that ``taken`` asks for."""
    seen: list[Seen] = []
    base = start.partition(START)[0]
    for width, height in WIDTHS.items():
        for theme in THEMES:
            if f"{width}-{theme}" not in taken:
                continue
            scheme = {"color_scheme": theme}
            context = browser.new_context(viewport={"width": width, "height": height}, **scheme)  # type: ignore[arg-type]
            context.new_page().goto(start)
            for name, address in wanted.items():
                one = _one(context.new_page(), f"{base}{address}", out / f"{name}-{width}-{theme}.jpg", name)
                if (width, theme) == (1440, "light"):
                    seen.append(one)
            context.close()
    return seen


def _one(page: Page, address: str, file: Path, name: str) -> Seen:
    requests: list[object] = []
    said: list[str] = []
    page.on("response", lambda response: requests.append(response))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(address, wait_until="networkidle", timeout=180_000)
    sizes = int(page.evaluate("performance.getEntries().reduce((a, e) => a + (e.transferSize || 0), 0)"))
    height = int(page.evaluate("document.documentElement.scrollHeight"))
    wide = int(page.evaluate("document.documentElement.scrollWidth - innerWidth"))
    if wide > 0:
        said.append(f"{wide} px wider than the window")
    view = page.viewport_size or {"width": 1440, "height": 900}
    page.set_viewport_size({"width": view["width"], "height": min(height, TALLEST)})
    page.wait_for_load_state("networkidle", timeout=180_000)
    page.screenshot(path=str(file), type="jpeg", quality=QUALITY)
    page.close()
    return Seen(name, len(requests), sizes, " | ".join(said))


def main() -> None:
    """Take them all, or those named."""
    asking = argparse.ArgumentParser(description=__doc__)
    asking.add_argument("shop", type=Path)
    asking.add_argument("out", type=Path)
    asking.add_argument("screens", nargs="*", help="only these")
    asking.add_argument("--small", action="store_true", help="small WebP, for docs/")
    asking.add_argument("--as", dest="ways", default="1440-light,1440-dark,390-light,390-dark")
    asked = asking.parse_args()
    asked.out.mkdir(parents=True, exist_ok=True)
    every = addresses(asked.shop)
    wanted = {name: every[name] for name in asked.screens or every}
    with serving(asked.shop) as start, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=FLAGS)
        seen = take(browser, start, wanted, asked.out, set(asked.ways.split(",")))
        browser.close()
    for file in sorted(asked.out.glob("*.jpg")) if asked.small else ():
        shrink(file)
    with (asked.out / "screens.csv").open("w", newline="", encoding="utf-8") as file:
        table = csv.writer(file)
        table.writerow(("screen", "requests", "bytes", "console"))
        table.writerows((one.screen, one.requests, one.bytes, one.console) for one in seen)
    for one in seen:
        print(f"{one.screen}: {one.requests} requests, {one.bytes} bytes {one.console}")


if __name__ == "__main__":
    main()
