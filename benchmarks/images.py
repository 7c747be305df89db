"""Processor time, bytes, likeness and memory of print files and pictures, ours beside two peers, in one run.

``python -m benchmarks.images`` takes a couple of minutes; ``--designs 100 --kind flat`` is the full size.
"""

import argparse
import json
import os
import resource
import shutil
import subprocess
import sys
import tempfile
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, dataclass
from multiprocessing import get_context
from pathlib import Path

import numpy as np
from PIL import Image

from benchmarks.art import prepared
from benchmarks.contenders import CONTENDERS
from benchmarks.jobs import TASKS

ONE_THREAD = dict.fromkeys(("VIPS_CONCURRENCY", "OMP_NUM_THREADS", "MAGICK_THREAD_LIMIT"), "1")


@dataclass(frozen=True)
class Figure:
    """One contender at one task: processor seconds without start-up, peak memory, bytes written."""

    cpu_s: float
    peak_mb: float
    print_bytes: int
    picture_bytes: int


def cpu_seconds() -> float:
    """Of this process and of every child it has waited for."""
    uses = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(use.ru_utime + use.ru_stime for use in uses)


def run_one(contender: str, task: str, arts: list[Path], out: Path) -> None:
    """In a process of its own: do the work, print the figure as JSON."""
    start = cpu_seconds()
    for art in arts:
        folder = out / art.stem
        folder.mkdir(parents=True, exist_ok=True)
        CONTENDERS[contender](art, TASKS[task], folder)
    spent = cpu_seconds() - start
    peak = max(resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    names = {f"{area.name}" for area in TASKS[task].areas}
    sizes = {path: path.stat().st_size for art in arts for path in (out / art.stem).iterdir()}
    prints = sum(size for path, size in sizes.items() if path.stem in names)
    print(json.dumps(asdict(Figure(spent, peak / 1024, prints, sum(sizes.values()) - prints))))


def measured(contender: str, task: str, arts: list[Path], out: Path) -> Figure:
    """The figure of one contender, from a fresh process."""
    command = [
        sys.executable,
        "-m",
        "benchmarks.images",
        "--child",
        contender,
        task,
        str(out),
        *map(str, arts),
    ]
    done = subprocess.run(command, check=True, stdout=subprocess.PIPE, env={**os.environ, **ONE_THREAD})
    return Figure(**json.loads(done.stdout))


def likeness(first: Path, second: Path) -> float:
    """PSNR in dB of the PNGs of two folders, laid over mid grey: the worst. In a process of its own, because
    Linux counts a parent's memory as its new child's."""
    command = [sys.executable, "-m", "benchmarks.images", "--likeness", str(first), str(second)]
    return float(subprocess.run(command, check=True, stdout=subprocess.PIPE).stdout)


def worst_psnr(first: Path, second: Path) -> float:
    """PSNR in dB of two pictures laid over mid grey, the worst of what both folders hold."""
    worst = float("inf")
    for path in sorted(first.rglob("*.png")):
        one, other = (_over_grey(folder / path.relative_to(first)) for folder in (first, second))
        error = float(((one - other) ** 2).mean())
        worst = min(worst, 10 * np.log10(255**2 / error) if error else float("inf"))
    return worst


def _over_grey(path: Path) -> np.ndarray[tuple[int, ...], np.dtype[np.float32]]:
    with Image.open(path) as image:
        grey = Image.new("RGBA", image.size, (128, 128, 128, 255))
        grey.alpha_composite(image.convert("RGBA"))
        return np.asarray(grey.convert("RGB"), np.float32)


def compare(task: str, arts: list[Path], folder: Path, contenders: list[str]) -> None:
    """One table: a line for each contender, ratios to ours."""
    figures = {name: measured(name, task, arts, folder / name) for name in contenders}
    base = figures["Hundredfold"]
    print(f"\n{task}, {len(arts)} designs")
    print(
        f"{'':24}{'CPU s/design':>13}{'x ours':>8}{'print MB':>10}{'ours/it':>9}{'peak MB':>9}{'PSNR dB':>9}"
    )
    for name, figure in figures.items():
        like = "" if name == "Hundredfold" else f"{likeness(folder / 'Hundredfold', folder / name):.1f}"
        print(
            f"{name:24}{figure.cpu_s / len(arts):13.2f}{figure.cpu_s / base.cpu_s:8.1f}"
            f"{figure.print_bytes / 1e6:10.2f}{base.print_bytes / figure.print_bytes:9.2f}"
            f"{figure.peak_mb:9.0f}{like:>9}",
            flush=True,
        )


def main() -> None:
    """Parse, prepare the art, compare."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--designs", type=int, default=4, help="drawn designs of 3600 x 4500 (default 4)")
    parser.add_argument("--kind", choices=("both", "flat", "photo"), default="both")
    parser.add_argument("--task", choices=tuple(TASKS), action="append", help="default: all three")
    parser.add_argument("--tuned", action="store_true", help="also peers with our fast PNG settings")
    parser.add_argument("--folder", type=Path, help="keep art and results here")
    parser.add_argument("--likeness", nargs=2, type=Path, help=argparse.SUPPRESS)
    parser.add_argument("--child", nargs=argparse.REMAINDER, help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.likeness:
        print(worst_psnr(*options.likeness))
        return
    if options.child:
        contender, task, out, *arts = options.child
        run_one(contender, task, [Path(art) for art in arts], Path(out))
        return
    contenders = [name for name in CONTENDERS if options.tuned or "fast" not in name]
    if shutil.which("convert") is None:
        contenders = [name for name in contenders if "ImageMagick" not in name]
        print("ImageMagick is not installed: left out")
    with tempfile.TemporaryDirectory() as temporary:
        folder = options.folder or Path(temporary)
        with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as apart:  # memory, as in likeness()
            flat, photos = apart.submit(prepared, folder / "art", options.designs).result()
        for kind, arts in (("flat", flat), ("photo", photos)):
            if options.kind in ("both", kind):
                print(f"\n== {kind} art ==")
                for task in options.task or TASKS:
                    compare(task, arts, folder / kind / task, contenders)


if __name__ == "__main__":
    main()
