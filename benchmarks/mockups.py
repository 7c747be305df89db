"""What mock-ups cost: beside their JPEG, beside plain floats and a direct render; and thousands in a row.

    python -m benchmarks.mockups one             # a minute; with Mitsuba installed also a direct render
    python -m benchmarks.mockups many            # 600 pictures on two processes, memory sampled
    python -m benchmarks.mockups many --pictures 6000

Processor time is the least of several repeats, in this process, on one thread. See docs/benchmarks.md.
"""

import argparse
import hashlib
import multiprocessing
import os
import tempfile
import time
from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_COMPLETED, ProcessPoolExecutor, wait
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

import numpy as np
import psutil
from numpy.typing import NDArray

from benchmarks.art import prepared
from benchmarks.picturepeers import plain_art, plain_picture, plain_view, rendered
from hundredfold.catalogue.blanks import Blank, Form
from hundredfold.designs.decode import Picture
from hundredfold.designs.facts import Box
from hundredfold.mockups.compose import base_of, mock_up
from hundredfold.mockups.files import as_jpeg
from hundredfold.mockups.ink import Ink
from hundredfold.mockups.registry import Role, plate_for, roles_of, view_of
from hundredfold.mockups.warp import fetch_for, seen_art
from hundredfold.placement.layout import Where, Wish, lay_out
from hundredfold.placement.place import Placement, fill_in
from hundredfold.workshop.artwork import read_picture
from hundredfold.workshop.memory import keep_freed_memory
from hundredfold.workshop.newshop import new_shop
from hundredfold.workshop.pictures import PictureWanted, picture_all, picture_work
from hundredfold.workshop.plates import Shot, load_plate
from hundredfold.workshop.shopfolder import Shop
from hundredfold.workshop.smallart import read_small_art, small_art

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
    """The sample's blanks and channels, without designs."""
    return new_shop(folder / "shop", sample=True, drawn=lambda: ())


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
    where = Where.HANDLE_RIGHT if blank.form is Form.MUG else Where.MIDDLE
    return lay_out(box, blank, area, Wish(where=where)).placements


def one_row(blank: Blank, kind: str, file: Path) -> None:
    """One line of the table: a blank's main view with one design."""
    area, colour = blank.areas[0], blank.colours[0]
    entry = plate_for(blank, area)
    load_plate.cache_clear()
    read, plate = least_ms(lambda: load_plate(entry.name, view_of(entry, Role.MAIN)), 1)
    mapped, fetch = least_ms(lambda: fetch_for(plate, area, blank.body), 3)
    based, base = least_ms(lambda: base_of(plate, colour, blank.process), 3)
    opened, art = least_ms(lambda: read_small_art(str(file)))
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


@dataclass(frozen=True)
class Done:
    """What a group came to: pictures, their digest, and the worker's processor seconds so far."""

    pictures: int
    digest: str
    worker: int
    cpu_s: float


def a_group(wanted: Sequence[PictureWanted]) -> Done:
    """In a worker: make a group's pictures, keep nothing."""
    keep_freed_memory()
    made = picture_all(picture_work(wanted))
    digest = hashlib.sha256(b"".join(made)).hexdigest()[:12]
    return Done(len(made), digest, os.getpid(), time.process_time())


def groups_of(shop: Shop, files: Sequence[Path], pictures: int) -> list[tuple[PictureWanted, ...]]:
    """Groups as a month makes them, blank after blank, until there are so many pictures."""
    art = read_small_art(str(files[0]))
    groups: list[tuple[PictureWanted, ...]] = []
    count = turn = 0
    while count < pictures:
        blank = shop.blanks[turn % len(shop.blanks)]
        entry = plate_for(blank, blank.areas[0])
        placements = laid(blank, art)
        start = turn // len(shop.blanks) * TOGETHER
        group = [
            PictureWanted(
                str(files[(start + k) % len(files)]), Shot(blank, blank.areas[0], colour, role),
                placements, channel.pictures,
            )
            for channel in shop.channels
            for k in range(TOGETHER)
            for role in roles_of(entry)
            for colour in (blank.colours if role is Role.MAIN else blank.colours[:1])
        ]  # fmt: skip
        groups.append(tuple(group[: pictures - count]))
        count, turn = count + len(group), turn + 1
    return groups


def own_mb(processes: Sequence[psutil.Process]) -> list[float]:
    """Memory of each: its share of shared pages counted once (PSS) where the system tells."""
    found = []
    for process in processes:
        full = process.memory_full_info()
        found.append(getattr(full, "pss", full.rss) / 2**20)
    return found


@dataclass
class Watch:
    """Memory of this process and its workers, and what was done by then."""

    pictures: int
    began: float
    told: int = 0

    def __post_init__(self) -> None:
        self._me = psutil.Process()
        self.seen: list[float] = []

    def look(self, done: int) -> None:
        """Sample; print a line twelve times in all."""
        workers = [one for one in self._me.children() if "--multiprocessing-fork" in one.cmdline()]
        used = own_mb([self._me, *workers])
        self.seen.append(sum(used))
        if done >= self.told:
            self.told = done + max(self.pictures // 12, 1)
            each = " + ".join(f"{mb:.0f}" for mb in used)
            passed = time.monotonic() - self.began
            print(f"{passed:7.0f} s {done:6} pictures {each:>24} = {sum(used):5.0f}", flush=True)

    def most(self, third: int) -> float:
        """The most at once in a third of the time."""
        each = max(len(self.seen) // 3, 1)
        return max(self.seen[third * each : (third + 1) * each], default=0.0)


def many(folder: Path, pictures: int, workers: int) -> None:
    """Thousands of pictures in a row on several processes; their memory as time goes by."""
    shop = sample_shop(folder)
    with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as apart:
        drawn, photos = apart.submit(small_copies, folder, TOGETHER - 1).result()  # its memory goes with it
    groups = groups_of(shop, [*drawn, *photos], pictures)
    print(f"{pictures} pictures in {len(groups)} groups, {workers} processes; MB: this one + workers = all")
    watch = Watch(pictures, time.monotonic())
    cpu: dict[int, float] = {}
    with ProcessPoolExecutor(workers, mp_context=multiprocessing.get_context("spawn")) as pool:
        futures = [pool.submit(a_group, group) for group in groups]
        done, left = 0, set(futures)
        while left:
            finished, left = wait(left, _SAMPLED_EVERY_S, FIRST_COMPLETED)
            for future in finished:
                got = future.result()
                done += got.pictures
                cpu[got.worker] = max(got.cpu_s, cpu.get(got.worker, 0.0))
            if left:
                watch.look(done)
    wall, busy = time.monotonic() - watch.began, sum(cpu.values())
    thirds = ", ".join(f"{watch.most(third):.0f} MB" for third in range(3))
    print(f"most at once in the first, second and last third: {thirds}")
    print(f"{busy / pictures * 1000:.1f} ms of processor a picture, {busy / wall:.2f} processors busy")
    every = hashlib.sha256("".join(future.result().digest for future in futures).encode())
    print(f"all their bytes: {every.hexdigest()[:16]}")


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
