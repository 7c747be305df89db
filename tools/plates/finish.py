"""Make plates of raw renders: ``python -m tools.plates.finish RAW OUT [NAME ...]``.

Open Image Denoise (PyPI: pyoidn) takes out the last noise; renders use a box filter because it needs
independent pixels. Without it the renders are packed as they are.
"""

import argparse
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tools.plates import layers

Floats = NDArray[np.float32]


def denoised(image: Floats, guides: Sequence[Floats] | None = None) -> Floats:
    """The render without its last noise; ``guides`` are noise-free shares (0-1) and normals, where known."""
    import pyoidn

    aux = [np.ascontiguousarray(np.clip(guide, -1, 1), np.float32) for guide in guides or ()]
    plain = np.ascontiguousarray(np.maximum(image, 0), np.float32)
    return np.asarray(pyoidn.denoise(plain, *aux, hdr=True, clean_aux=bool(aux)), np.float32)


def as_it_is(image: Floats, guides: Sequence[Floats] | None = None) -> Floats:
    """The render with its noise."""
    return image


def main() -> None:
    """Parse, clean and pack."""
    parser = argparse.ArgumentParser()
    parser.add_argument("raw", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("names", nargs="*")
    parser.add_argument("--no-denoise", action="store_true")
    asked = parser.parse_args()
    asked.out.mkdir(parents=True, exist_ok=True)
    for path in sorted(asked.raw.glob("*.npz")):
        if asked.names and not any(path.name.startswith(name) for name in asked.names):
            continue
        data = layers.finished(dict(np.load(path)), as_it_is if asked.no_denoise else denoised)
        (asked.out / f"{path.stem}.plate").write_bytes(data)
        print(f"{path.stem}: {len(data) / 1e6:.2f} MB", flush=True)


if __name__ == "__main__":
    main()
