"""Debian's Chromium driving the page of a shop, served as a seller starts it."""

import contextlib
import json
import os
import shutil
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import psutil
import pytest
from playwright.sync_api import Browser, Page, sync_playwright

CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip
PATIENCE_MS = 60_000
LONGEST_S = 25 * 60.0
RUN = "from hundredfold.cli.main import run; run()"


@contextlib.contextmanager
def chromium(most_s: float = LONGEST_S) -> Iterator[Browser]:
    """The browser; a skip with its reason where the computer has none.

    After ``most_s`` seconds it is ended from outside, so that whoever waits for it fails and nothing hangs.
    """
    if not Path(CHROMIUM).exists():
        pytest.skip("Debian's chromium is not installed (tools/test_tools.py installs it)")
    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=CHROMIUM, args=list(FLAGS))
        ours = [one for one in psutil.Process().children(recursive=True) if "chrom" in one.name()]
        watch = threading.Timer(most_s, _end, (ours,))
        watch.daemon = True
        watch.start()
        try:
            yield browser
        finally:
            watch.cancel()
            browser.close()


def _end(processes: list[psutil.Process]) -> None:
    for one in processes:
        with contextlib.suppress(psutil.Error):
            one.kill()


@contextlib.contextmanager
def served(shop: Path) -> Iterator[str]:
    """`hundredfold open` on a folder: the first address, as the terminal shows it."""
    command = [sys.executable, "-c", RUN, "open", "--shop", str(shop), "--no-browser", "--json"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env={**os.environ})
    try:
        assert process.stdout is not None
        text = ""
        while not text.endswith("}\n"):
            line = process.stdout.readline()
            assert line, "the page did not start"
            text += line
        yield str(json.loads(text)["address"])
    finally:
        process.send_signal(signal.SIGINT)
        with contextlib.suppress(subprocess.TimeoutExpired):
            process.wait(30)
        process.kill()


def listening(page: Page) -> list[str]:
    """Everything the console complains of, as it comes."""
    heard: list[str] = []
    page.on("console", lambda said: heard.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: heard.append(str(error)))
    page.set_default_timeout(PATIENCE_MS)
    return heard
