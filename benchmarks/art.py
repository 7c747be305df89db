"""Full-size designs for the benchmarks: OpenMoji sheets and one photo-like picture, drawn once."""

import sys
from pathlib import Path

import cv2
import numpy as np
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "support"))

from openmoji import PIECES, design_png

WIDTH, HEIGHT = 3600, 4500


def prepared(folder: Path, flat: int, photos: int = 1) -> tuple[list[Path], list[Path]]:
    """Paths of ``flat`` drawn designs and of the photo-like ones; files already there are used again."""
    folder.mkdir(parents=True, exist_ok=True)
    names = list(PIECES)
    drawn = [
        folder / f"{place:03d}-{names[place % len(names)].replace(' ', '-')}.png" for place in range(flat)
    ]
    for place, path in enumerate(drawn):
        if not path.exists():
            path.write_bytes(design_png(names[place % len(names)], WIDTH))
    photo_like = [folder / f"photo-{place}.png" for place in range(photos)]
    for place, path in enumerate(photo_like):
        if not path.exists():
            _photo_like(place).save(path, compress_level=3, dpi=(300, 300))
    return drawn, photo_like


def _photo_like(seed: int) -> Image.Image:
    """Cloudy colour at four scales with a little grain, in an oval with a soft rim."""
    rng = np.random.default_rng(seed)
    colour = np.full((HEIGHT, WIDTH, 3), 128, np.float32)
    for size, strength in ((900, 60), (300, 30), (60, 12), (8, 5)):
        coarse = rng.normal(0, strength, (HEIGHT // size + 1, WIDTH // size + 1, 3)).astype(np.float32)
        colour += cv2.resize(coarse, (WIDTH, HEIGHT), interpolation=cv2.INTER_CUBIC)
    colour += rng.normal(0, 2, colour.shape)
    down, across = np.ogrid[-1 : 1 : HEIGHT * 1j, -1 : 1 : WIDTH * 1j]
    alpha = np.clip((1 - np.hypot(down, across)) / 0.1, 0, 1) * 255
    pixels = np.dstack([np.clip(colour, 0, 255), alpha]).astype(np.uint8)
    pixels[pixels[:, :, 3] == 0] = 0
    return Image.fromarray(pixels)
