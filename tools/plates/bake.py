"""Render plates: ``python -m tools.plates.bake OUT --size 1500 --spp 1536 --variant cuda_ad_rgb [NAME ...]``.

Variants: ``scalar_rgb`` (any machine), ``llvm_ad_rgb`` (CPU, LLVM 16 or newer), ``cuda_ad_rgb`` (NVIDIA).
Seeds are fixed; the same variant, sizes and versions give the same plates. OUT gets raw renders; finish.py
makes plates of them. See README.md here.
"""

import argparse
import time
from pathlib import Path

import mitsuba as mi
import numpy as np

from tools.plates.baked_cloth import bake_textile
from tools.plates.baked_round import bake_round
from tools.plates.baker import Baker
from tools.plates.views import ROUND, VIEWS


def main() -> None:
    """Parse and bake."""
    parser = argparse.ArgumentParser()
    parser.add_argument("out", type=Path)
    parser.add_argument("names", nargs="*")
    parser.add_argument("--size", type=int, default=1500)
    parser.add_argument("--spp", type=int, default=1024)
    parser.add_argument("--variant", default="scalar_rgb")
    asked = parser.parse_intermixed_args()
    mi.set_variant(asked.variant)
    asked.out.mkdir(parents=True, exist_ok=True)
    baker = Baker(asked.size, asked.spp)
    for wanted in asked.names or list(VIEWS):
        name, _, only = wanted.partition("/")
        bake = bake_round if name in ROUND else bake_textile
        begin = time.perf_counter()
        for view, raw in bake(baker, name, [v for v in VIEWS[name] if only in ("", v.name)]):
            np.savez(asked.out / f"{name}.{view}.npz", **raw)
            print(f"{name} {view}: {time.perf_counter() - begin:.1f} s", flush=True)


if __name__ == "__main__":
    main()
