"""The judge: two independent OCR engines read a thumbnail, and how much of the text they got right.

Needs the development group ``reading`` (rapidocr, onnxruntime, tesserocr) and Tesseract's English data.
"""

import os
from functools import cache
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from tools.reading.spelling import letters, share_found

LEGIBLE, UNREADABLE = 0.8, 0.5  # share of the letters right, by the better engine
TESSDATA = os.environ.get("TESSDATA_PREFIX", "/usr/share/tesseract-ocr/5/tessdata")
RAPID_LONGEST = 480  # Det limit_type=max; the engine's default enlarges and reads small pictures worse


@cache
def rapid() -> Any:
    """The second engine, one thread."""
    from rapidocr import RapidOCR

    return RapidOCR(
        params={
            "Det.limit_type": "max",
            "Det.limit_side_len": RAPID_LONGEST,
            "EngineConfig.onnxruntime.intra_op_num_threads": 1,
            "EngineConfig.onnxruntime.inter_op_num_threads": 1,
            "Global.log_level": "error",
        }
    )


@cache
def tesseract() -> Any:
    """The first engine."""
    import tesserocr

    return tesserocr.PyTessBaseAPI(path=TESSDATA, lang="eng")


def enlarged(picture: NDArray[np.uint8], longest: int, most: float) -> NDArray[np.uint8]:
    """Cubic enlargement up to ``most`` times and a longest side; a larger picture is left alone."""
    scale = min(most, longest / max(picture.shape[:2]))
    if scale <= 1:
        return picture
    return np.asarray(cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_CUBIC), np.uint8)


def by_tesseract(picture: NDArray[np.uint8]) -> list[str]:
    """What Tesseract reads, as one block and as sparse text."""
    import tesserocr
    from PIL import Image

    api, found = tesseract(), []
    image = Image.fromarray(enlarged(picture, 900, 3.0))
    for mode in (tesserocr.PSM.SINGLE_BLOCK, tesserocr.PSM.SPARSE_TEXT):
        api.SetPageSegMode(mode)
        api.SetImage(image)
        found.append(api.GetUTF8Text())
    return found


def by_rapid(picture: NDArray[np.uint8]) -> list[str]:
    """What the second engine reads."""
    seen = rapid()(np.ascontiguousarray(enlarged(picture, RAPID_LONGEST, 2.0)[..., ::-1]), use_cls=False)
    return [" ".join(seen.txts)] if seen.txts else [""]


def line_scores(lines: list[str], text: str) -> list[float]:
    """For each line the share of its letters found, 0-1. Extra marks elsewhere do not count against it."""
    return [share_found(line, text) for line in lines]


def weighted(lines: list[str], scores: list[float]) -> float:
    """Character-weighted mean of the lines' scores."""
    weights = [len(letters(line)) for line in lines]
    return sum(w * s for w, s in zip(weights, scores, strict=True)) / max(1, sum(weights))


def judged(picture: NDArray[np.uint8], lines: list[str]) -> dict[str, list[float]]:
    """Line scores by engine; of Tesseract's two page modes the better."""
    found = {}
    for name, engine in (("tesseract", by_tesseract), ("rapidocr", by_rapid)):
        readings = [line_scores(lines, text) for text in engine(picture)]
        found[name] = max(readings, key=lambda scores: weighted(lines, scores))
    return found
