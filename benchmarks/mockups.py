"""What mock-ups cost: beside their JPEG, beside plain floats and a direct render; and thousands in a row.

    python -m benchmarks.mockups one             # a minute; with Mitsuba installed also a direct render
    python -m benchmarks.mockups many            # 600 pictures by the month's runner on two workers
    python -m benchmarks.mockups many --pictures 6000

Processor time is the least of several repeats, in this process, on one thread. See docs/benchmarks.md.
"""

import argparse
import hashlib
import multiprocessing
import os
import resource
import tempfile
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import cache, partial
from itertools import pairwise
from pathlib import Path
from typing import TypeVar

import numpy as np
import psutil
from numpy.typing import NDArray

from benchmarks.art import prepared
from benchmarks.picturepeers import plain_art, plain_picture, plain_view, rendered
from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.forms import Form
from hundredfold.designs.decode import Picture
from hundredfold.designs.facts import Box
from hundredfold.mockups.compose import base_of, mock_up
from hundredfold.mockups.files import as_jpeg
from hundredfold.mockups.ink import Ink
from hundredfold.mockups.registry import Role, plate_for, roles_of, view_of
from hundredfold.mockups.warp import fetch_for, seen_art
from hundredfold.placement.layout import ArtSpot, Wish, lay_out
from hundredfold.placement.place import Placement, fill_in
from hundredfold.runner.allocator import keep_freed_memory
from hundredfold.runner.recipes import Recipe
from hundredfold.runner.running import Runner, Watching
from hundredfold.runner.tasks import Task
from hundredfold.runner.workers import Workers, spawn_pool
from hundredfold.workshop.shop.bench import bench
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.steps.allsteps import PICTURE, make
from hundredfold.workshop.steps.artwork import read_picture
from hundredfold.workshop.steps.pictures import PictureWanted
from hundredfold.workshop.steps.plates import Shot, load_plate
from hundredfold.workshop.steps.smallart import read_small_art, small_art

Bytes = NDArray[np.uint8]
T = TypeVar("T")
ONE_THREAD = dict.fromkeys(("VIPS_CONCURRENCY", "OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"), "1")
FORMS = (Form.MUG, Form.TUMBLER, Form.T_SHIRT, Form.CUSHION)
TOGETHER = 12  # designs in a group, as in a month
_SAMPLED_EVERY_S = 0.5


def least_ms(do: Callable[[], T], repeats: int = 5) -> tuple[float, T]:
    """Processor milliseconds of the quickest of several repeats, and what came of it."""
    least = float("inf")
    for _ in range(repeats):
        start = time.process_time()
        made = do()
        least = min(least, time.process_time() - start)
    return least * 1000, made


def sample_shop(folder: Path) -> Shop:
    """The sample, as it is made."""
    return new_shop(folder / "shop", sample=True)


def small_copies(folder: Path, designs: int) -> tuple[list[Path], list[Path]]:
    """Small copies of drawn designs and of a photo-like one, as a month makes them first."""
    drawn, photos = prepared(folder / "art", designs)
    copies: tuple[list[Path], list[Path]] = ([], [])
    for arts, made in zip((drawn, photos), copies, strict=True):
        for art in arts:
            path = folder / f"small-{art.name}"
            read: Picture = read_picture(art.read_bytes(), art.name)
            path.write_bytes(small_art(read.pixels))
            made.append(path)
    return copies


def laid(blank: Blank, art: Bytes) -> tuple[Placement, ...]:
    """The art where a seller would have it: on a mug's face, over the whole of a cushion."""
    box, area = Box(0, 0, art.shape[1], art.shape[0]), blank.areas[0]
    if blank.form is Form.CUSHION:
        return (fill_in(box, area, Box(0, 0, area.width_px, area.height_px)),)
    where = ArtSpot.HANDLE_RIGHT if blank.form is Form.MUG else ArtSpot.MIDDLE
    return lay_out(box, blank, area, Wish(where=where)).placements


def one_row(blank: Blank, kind: str, file: Path) -> None:
    """One line of the table: a blank's main view with one design."""
    area, colour = blank.areas[0], blank.colours[0]
    entry = plate_for(blank, area)
    load_plate.cache_clear()
    read, plate = least_ms(lambda: load_plate(entry.name, view_of(entry, Role.MAIN)), 1)
    mapped, fetch = least_ms(lambda: fetch_for(plate, area, blank.body), 3)
    based, base = least_ms(lambda: base_of(plate, colour, blank.process), 3)
    opened, art = least_ms(lambda: read_small_art(file.read_bytes()))
    placements = laid(blank, art)
    ink = Ink(art)
    averaged, _ = least_ms(lambda: seen_art(Ink(art), placements, fetch))
    seeing, seen = least_ms(lambda: seen_art(ink, placements, fetch), 9)
    composing, picture = least_ms(lambda: mock_up(base, seen), 9)
    coding, _ = least_ms(lambda: as_jpeg(picture), 9)
    view = plain_view(plate, area, blank.body, fetch.box)
    plain_ink = plain_art(art)
    plainly, other = least_ms(lambda: plain_picture(view, base, colour, plain_ink, placements[0]), 3)
    error = float(((picture.astype(float) - other) ** 2).mean())
    like = "" if base.white is not None else f"{10 * np.log10(255**2 / max(error, 1e-9)):.1f}"
    first, further = seeing + composing + coding, composing + coding
    print(
        f"{blank.name[:22]:23}{kind:7}{coding:6.1f}{further:8.1f}{further / coding:6.1f}x{first:8.1f}"
        f"{first / coding:6.1f}x{opened + averaged - seeing:9.1f}{plainly + coding:9.0f}"
        f"{(plainly + coding) / first:6.1f}x{like:>6}{read:8.0f}{mapped:6.0f}{based:6.0f}",
        flush=True,
    )


def one(folder: Path, samples: int) -> None:
    """Ratios of single pictures, 1500 x 1500."""
    keep_freed_memory()
    shop = sample_shop(folder)
    drawn, photos = small_copies(folder, 1)
    print("Processor ms: a JPEG; a further and a first colour of a design with their JPEG, in JPEGs; opening")
    print(
        "and averaging the art, once a view; plain floats with JPEG, in our first colours, PSNR of the two;"
    )
    print("plate read and mapped, once a view; base, once a colour.")
    print(
        f"{'':30}{'JPEG':>6}{'further':>8}{'':7}{'first':>8}{'':7}{'opening':>9}{'plain':>9}{'':7}{'dB':>6}"
        f"{'read':>8}{'map':>6}{'base':>6}"
    )
    for form in FORMS:
        blank = next(blank for blank in shop.blanks if blank.form is form)
        for kind, file in (("drawn", drawn[0]), ("photo", photos[0])):
            one_row(blank, kind, file)
    render = rendered(375, samples)
    if render is None:
        print("Mitsuba is not installed: no direct render")
        return
    needed = render.samples_for(40)
    seconds = render.seconds_a_million * 1500 * 1500 * needed / 1e6
    print(
        f"Direct render, scalar: {render.seconds_a_million:.2f} s a million samples. "
        f"Noise at {samples} a pixel {render.psnr_db:.1f} dB.\n"
        f"40 dB need {needed:.0f} samples: {seconds:,.0f} s for 1500 x 1500 (extrapolated)"
    )


Group = tuple[tuple[Path, PictureWanted], ...]  # the small copy's file, and what is made of it


def groups_of(shop: Shop, files: Sequence[Path], pictures: int) -> list[Group]:
    """Groups as a month makes them, blank after blank, until there are so many pictures."""
    art = read_small_art(files[0].read_bytes())
    groups: list[Group] = []
    count = turn = 0
    while count < pictures:
        blank = shop.blanks[turn % len(shop.blanks)]
        entry = plate_for(blank, blank.areas[0])
        placements = laid(blank, art)
        start = turn // len(shop.blanks) * TOGETHER
        group = [
            (
                files[(start + k) % len(files)],
                PictureWanted(Shot(blank, blank.areas[0], colour, role), placements, channel.pictures),
            )
            for channel in shop.channels
            for k in range(TOGETHER)
            for role in roles_of(entry)
            for colour in (blank.colours if role is Role.MAIN else blank.colours[:1])
        ]  # fmt: skip
        groups.append(tuple(group[: pictures - count]))
        count, turn = count + len(group), turn + 1
    return groups


def tasks_of(groups: Sequence[Group]) -> Iterator[Task]:
    """Groups as build tasks; each picture has a recipe of its own, since none is to be reused."""
    for number, group in enumerate(groups):
        for place, (file, wanted) in enumerate(group):
            digest = digest_of(file)
            recipe = Recipe(PICTURE.name, (1,), {}, {"place": f"{number}/{place}"}, {"small art": digest})
            yield Task(f"picture {number}/{place}", recipe, f"pictures {number}", wanted, (digest,))


@cache
def digest_of(file: Path) -> str:
    """The sha256 of a file."""
    return hashlib.sha256(file.read_bytes()).hexdigest()


def own_mb() -> list[float]:
    """Memory of this process and of its workers: a shared page counted in shares (PSS) where that is told."""
    me, found = psutil.Process(), []
    for process in (me, *me.children(recursive=True)):
        try:
            full = process.memory_full_info()
        except psutil.Error:  # it ended meanwhile
            continue
        found.append(getattr(full, "pss", full.rss) / 2**20)
    return found


class Watch:
    """Samples the memory of all processes while pictures are made, and says how far they are."""

    def __init__(self, pictures: int) -> None:
        self._began, self._done, self._every = time.monotonic(), 0, max(pictures // 12, 1)
        self._told, self._over = 0, threading.Event()
        self._thread = threading.Thread(target=self._look)
        self.seen: list[tuple[int, float]] = []  # pictures done by then, MB of all processes

    def __enter__(self) -> "Watch":
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._over.set()
        self._thread.join()

    def progress(self, done: int, _all: int) -> None:
        """What the runner tells."""
        self._done = done

    def most(self, first: int, last: int) -> float:
        """The most at once between two numbers of finished pictures."""
        return max((mb for done, mb in self.seen if first <= done < last), default=0.0)

    def _look(self) -> None:
        while not self._over.wait(_SAMPLED_EVERY_S):
            used = own_mb()
            self.seen.append((self._done, sum(used)))
            if self._done >= self._told:
                self._told = self._done + self._every
                passed, each = time.monotonic() - self._began, " + ".join(f"{mb:.0f}" for mb in used)
                print(f"{passed:7.0f} s {self._done:6} pictures {each:>36} = {sum(used):5.0f}", flush=True)


def cpu_s() -> float:
    """User and system seconds of this process and of its children that ended."""
    used = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in used)


def many(folder: Path, pictures: int, workers: int) -> None:
    """Thousands of pictures in a row as the month makes them: its runner, its workers, kept in its cache."""
    shop = sample_shop(folder)
    with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as apart:
        drawn, photos = apart.submit(small_copies, folder, TOGETHER - 1).result()  # its memory goes with it
    groups = groups_of(shop, [*drawn, *photos], pictures)
    print(f"{pictures} pictures in {len(groups)} groups, {workers} workers; MB: this process + others = all")
    with bench(shop.paths.root, "month") as tools:
        pool = partial(spawn_pool, workers)
        rows, run = tools.store.builds, tools.run_number
        runner = Runner(tools.vault, rows, run, workers=Workers(pool, small_groups=0, count=workers))
        runner.knows({digest_of(file): file for file in (*drawn, *photos)})
        began, before = time.monotonic(), cpu_s()
        with Watch(pictures) as watch:
            made = runner.run(list(tasks_of(groups)), make, Watching(progress=watch.progress))
        wall, busy = time.monotonic() - began, cpu_s() - before
    print(f"{made.counts.line()}; {pictures / wall:.1f} pictures a second, {wall:.0f} s")
    print(
        f"{busy / pictures * 1000:.1f} ms of processor a picture; {busy / wall:.2f} processors busy, "
        f"{busy / wall / workers:.0%} of {workers}"
    )
    marks = sorted({0, pictures, *(mark for mark in (1000, 3000) if mark < pictures)})
    for first, last in pairwise(marks):
        print(f"from {first} to {last} pictures at most {watch.most(first, last):.0f} MB at once")
    every = sorted((name, output.digest) for name, output in made.outputs.items())
    print(f"all their bytes: {hashlib.sha256(repr(every).encode()).hexdigest()[:16]}")


def main() -> None:
    """Parse and run."""
    os.environ.update(ONE_THREAD)
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("what", choices=("one", "many"))
    parser.add_argument("--pictures", type=int, default=600)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--samples", type=int, default=8, help="of the direct render, a pixel")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        if asked.what == "one":
            one(Path(folder), asked.samples)
        else:
            many(Path(folder), asked.pictures, asked.workers)


if __name__ == "__main__":
    main()
