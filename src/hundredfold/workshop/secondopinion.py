"""A second opinion on reading: OCR reads the art large, then the thumbnail. Needs the extra ``ocr``."""

from collections.abc import Callable
from functools import cache
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.proofing.reading.spelling import letters, share_found

Picture = NDArray[np.uint8]  # height x width x 3, sRGB-encoded RGB
Reader = Callable[[Picture], list[str]]
LONGEST = 480  # pixels; larger pictures are shrunk by the engine, and small ones read worse enlarged to more
LEAST_LETTERS = 3  # fewer read large: there is nothing to compare with


def second_opinion(large: Picture, thumbnail: Picture, reader: Reader | None = None) -> float | None:
    """Share (0-1) of the letters read in the large picture that are read in the thumbnail too.

    None when hardly anything is read in the large picture. Raises ShopError ``ocr-missing`` when no reader
    is given and the optional engine is not installed.
    """
    read = reader or engine()
    wanted = [line for line in read(large) if letters(line)]
    total = sum(len(letters(line)) for line in wanted)
    if total < LEAST_LETTERS:
        return None
    seen = " ".join(read(enlarged(thumbnail)))
    return sum(len(letters(line)) * share_found(line, seen) for line in wanted) / total


def enlarged(picture: Picture) -> Picture:
    """Twice the size at most, up to the engine's own longest side."""
    scale = min(2.0, LONGEST / max(picture.shape[:2]))
    if scale <= 1:
        return picture
    return np.asarray(cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_CUBIC), np.uint8)


@cache
def engine() -> Reader:
    """The optional OCR engine, loaded once. Raises ShopError ``ocr-missing`` when it is not installed."""
    try:
        from rapidocr import RapidOCR
    except ImportError as missing:
        raise ShopError(
            "ocr-missing",
            "a second opinion needs an OCR engine, which is not installed",
            'install it with: pip install "hundredfold[ocr]"',
            exit_code=ExitCode.TOOL_MISSING,
        ) from missing
    ocr: Any = RapidOCR(
        params={"Det.limit_type": "max", "Det.limit_side_len": LONGEST, "Global.log_level": "error"}
    )

    def read(picture: Picture) -> list[str]:
        found = ocr(np.ascontiguousarray(picture[..., ::-1]), use_cls=False)
        return list(found.txts or ())

    return read
