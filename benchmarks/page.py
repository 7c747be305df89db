"""The page's speeds with a large shop, beside a server of plain files in the same run.

    python -m benchmarks.page SAMPLE [--designs 5000] [--listings 50000] [--requests 10000] [--folder DIR]

SAMPLE is a shop that ``hundredfold demo`` made. Prints, as medians: the first page, the wall, a search as
typed, a place as dragged, the next proof sheet (each by HTTP, and in Chromium from key or mouse to the
changed page), the same number of bytes from the plain server, and the page's memory over many requests.
"""

import argparse
import http.server
import os
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx
import psutil

from benchmarks.pageshop import large_shop
from hundredfold.workshop.views.review import review_view
from hundredfold.workshop.views.wall import wall_view

_TIMES = 15
_RUN = "from hundredfold.cli.main import run; run()"
_FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking")


@contextmanager
def opened(shop: Path) -> Iterator[tuple[str, psutil.Process]]:
    """The page as a seller starts it, in a process of its own: its first address."""
    command = [sys.executable, "-c", _RUN, "open", "--no-browser", "--shop", str(shop)]
    wide = {**os.environ, "COLUMNS": "400"}  # the address in one line
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=wide)
    assert process.stdout is not None
    line = process.stdout.readline()
    try:
        yield line.split(" at ")[1].strip(), psutil.Process(process.pid)
    finally:
        process.terminate()
        process.wait(30)


@contextmanager
def plain_files(folder: Path) -> Iterator[str]:
    """Python's own server of files on the loopback address."""

    class Quiet(http.server.SimpleHTTPRequestHandler):
        protocol_version = "HTTP/1.1"
        wbufsize = -1
        disable_nagle_algorithm = True  # else each answer waits 40 ms for its first part to be acknowledged

        def __init__(self, *args: object, **names: object) -> None:
            super().__init__(*args, directory=str(folder), **names)  # type: ignore[arg-type]

        def log_message(self, *args: object) -> None:
            return

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Quiet)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}"
    finally:
        server.shutdown()


def median_ms(act: Callable[[int], object], times: int = _TIMES) -> float:
    """The median time of an act, given its number."""
    took = []
    for number in range(times):
        start = time.perf_counter()
        act(number)
        took.append((time.perf_counter() - start) * 1000)
    return statistics.median(took)


def by_http(shop: Path, address: str, aside: Path) -> None:
    """Each request by itself, beside the plain server's answer of the same bytes."""
    wall = wall_view(shop)
    design = wall.designs[len(wall.designs) // 2].id
    sheets = review_view(shop).open[: _TIMES + 1]
    blank = next(one.blank for one in sheets)
    at = {one.blank: one.design for one in sheets}[blank]
    words = ("b", "be", "bee", "beek", "s", "sw", "swi", "swim", "c", "ch", "choi", "alto", "x", "p", "pl")
    paths: dict[str, Callable[[int], str]] = {
        "first page": lambda _: "/",
        "wall": lambda _: "/designs",
        "search, a letter more": lambda n: f"/designs/part?q={words[n % len(words)]}",
        "one design": lambda _: f"/designs/{design}",
        "place dragged": lambda n: f"/designs/{at}/place/{blank}/tried.json?scale=80&right={n}&down=0",
        "next proof sheet": lambda n: (
            f"/review/{sheets[n % len(sheets)].design}/{sheets[n % len(sheets)].blank}"
        ),
        "calendar": lambda _: "/calendar",
        "packs": lambda _: "/packs",
    }
    with (
        httpx.Client(base_url=address.partition("/start")[0], timeout=120) as page,
        plain_files(aside) as files,
    ):
        page.get(address)
        for name, path in paths.items():
            start = time.perf_counter()
            first = page.get(path(0))
            cold = (time.perf_counter() - start) * 1000
            assert first.status_code == 200, (name, first.status_code)
            ours = median_ms(_getting(page, path))
            (aside / "plain").write_bytes(first.content)
            with httpx.Client(base_url=files) as plain:
                theirs = median_ms(_getting(plain, lambda _: "/plain"))
            size = len(first.content) / 1000
            beside = f"{ours / theirs:.1f} x a plain file of {size:.0f} kB in {theirs:.1f} ms"
            print(f"{name}: {ours:.0f} ms ({beside}); the first time {cold:.0f} ms", flush=True)


def _getting(client: httpx.Client, path: Callable[[int], str]) -> Callable[[int], object]:
    return lambda n: client.get(path(n))


def decisions(shop: Path, address: str) -> None:
    """Proof sheets settled one after the other: from the key to the next sheet, the decision written."""
    base = address.partition("/start")[0]
    with httpx.Client(base_url=base, timeout=120, headers={"origin": base}) as page:
        page.get(address)
        seal = page.get("/review").text.partition('data-seal="')[2].partition('"')[0]
        sheet = next(iter(review_view(shop).open))
        where = [f"/review/{sheet.design}/{sheet.blank}"]

        def settle(_: int) -> None:
            design, blank = where[0].split("/")[2:]
            form = {"seal": seal, "design": design, "blank": blank, "what": "keep"}
            where[0] = page.post("/review/settle", data=form).headers["location"]
            page.get(where[0])

        print(f"a decision and the next proof sheet: {median_ms(settle):.0f} ms", flush=True)


def memory(address: str, process: psutil.Process, requests: int) -> None:
    """Resident memory after each tenth of many requests, over pages and pictures alike."""
    with httpx.Client(base_url=address.partition("/start")[0], timeout=120) as page:
        page.get(address)
        wall = page.get("/designs").text
        pictures = [part.partition('"')[0] for part in wall.split('src="')[1:] if part.startswith("/art/")]
        seen = []
        for number in range(requests):
            if number % max(1, requests // 10) == 0:
                seen.append(process.memory_info().rss / 2**20)
            page.get(
                ("/designs/part?q=a", "/work.json", pictures[number % len(pictures)], "/static/style.css")[
                    number % 4
                ]
            )
        seen.append(process.memory_info().rss / 2**20)
    print(f"memory over {requests:,} requests, MiB: {', '.join(f'{one:.0f}' for one in seen)}", flush=True)


def in_chromium(shop: Path, address: str) -> None:
    """From the key or the mouse to the changed page, as the browser itself measures it."""
    from playwright.sync_api import sync_playwright

    base = address.partition("/start")[0]
    sheet = next(iter(review_view(shop).open))
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=list(_FLAGS))
        page = browser.new_page(viewport={"width": 1440, "height": 900})
        page.goto(address)
        page.goto(f"{base}/")
        timing = "performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"
        first = []
        for _ in range(5):
            page.goto(f"{base}/")
            first.append(float(page.evaluate(timing)))
        print(f"Chromium, first page to its content: {statistics.median(first):.0f} ms")
        page.goto(f"{base}/designs")
        print(f"Chromium, a letter typed to the wall changed: {page.evaluate(_TYPED):.0f} ms")
        page.goto(f"{base}/designs/{sheet.design}/place/{sheet.blank}")
        print(f"Chromium, a drag to the words changed: {page.evaluate(_DRAGGED):.0f} ms")
        page.goto(f"{base}/review/{sheet.design}/{sheet.blank}")
        with page.expect_navigation(wait_until="load"):
            page.keyboard.press("l")
        print(f"Chromium, the next proof sheet to its content: {page.evaluate(timing):.0f} ms")
        browser.close()


_CHANGED = """
const changed = (node) => new Promise((done) => {
  const watch = { childList: true, characterData: true, subtree: true };
  new MutationObserver((_, one) => (one.disconnect(), done())).observe(node, watch);
});
const median = async (node, acts) => {
  const took = [];
  for (const act of acts) {
    const answer = changed(node);
    const start = performance.now();
    act();
    await answer;
    took.push(performance.now() - start);
  }
  return took.sort((a, b) => a - b)[Math.floor(took.length / 2)];
};
const input = (field, text) => () => {
  field.value = text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
};
"""
_TYPED = f"""async () => {{{_CHANGED}
  const field = document.querySelector("#find input[type=search]");
  const words = ["b", "be", "bee", "bees", "s", "sw", "swi", "swim", "a"];
  return median(document.querySelector("#wall"), words.map((text) => input(field, text)));
}}"""
_DRAGGED = f"""async () => {{{_CHANGED}
  const field = document.querySelector("#place").elements.scale;
  const sizes = [62, 65, 68, 71, 74, 77, 80, 83, 86];
  return median(document.querySelector("#words"), sizes.map((text) => input(field, text)));
}}"""


def main() -> None:
    """Make the shop, open it, measure."""
    asking = argparse.ArgumentParser(description=__doc__)
    asking.add_argument("sample", type=Path)
    asking.add_argument("--designs", type=int, default=5000)
    asking.add_argument("--listings", type=int, default=50_000)
    asking.add_argument("--requests", type=int, default=10_000)
    asking.add_argument("--folder", type=Path, default=None)
    asking.add_argument("--no-browser", action="store_true")
    asked = asking.parse_args()
    with tempfile.TemporaryDirectory() as aside:
        shop = (asked.folder or Path(aside)) / "large"
        if not shop.is_dir():
            large_shop(asked.sample, shop, asked.designs, asked.listings)
        with opened(shop) as (address, process):
            by_http(shop, address, Path(aside))
            decisions(shop, address)
            memory(address, process, asked.requests)
            if not asked.no_browser:
                in_chromium(shop, address)


if __name__ == "__main__":
    main()
