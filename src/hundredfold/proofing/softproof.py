"""Soft proof through a printer's ICC profile: what its inks cannot reach, by LittleCMS and CIEDE2000.

LittleCMS' own gamut alarm is not used: its default alarm colour is mid-grey, which art may hold, and its
threshold is its own. The round trip tells by how much each colour misses.
"""

import io
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageCms

from hundredfold.designs.facts import InkColour
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.difference import ciede2000
from hundredfold.kernel.errors import ShopError
from hundredfold.proofing.subjects import Gamut

ALARM = Srgb(255, 0, 255)
_INTENT = ImageCms.Intent.RELATIVE_COLORIMETRIC


class Printer:
    """A printer's profile, opened once. ``icc`` is the profile file's content.

    Raises ShopError ``bad-profile`` when it is none, or not one for printing.
    """

    def __init__(self, icc: bytes, name: str = "the printer's profile") -> None:
        try:
            profile = ImageCms.ImageCmsProfile(io.BytesIO(icc))
            self._to_ink, self._to_lab = _transforms(profile)
            self._from_ink = ImageCms.buildTransform(profile, _SRGB, _mode(profile), "RGB", _INTENT)
        except (ImageCms.PyCMSError, OSError, KeyError) as error:
            raise ShopError(
                "bad-profile",
                f"{name} is not a profile that art can be printed through ({error})",
                "ask the partner for the ICC profile of the printer, RGB or CMYK, with both directions",
            ) from error
        self.icc = icc
        self.name = ImageCms.getProfileDescription(profile).strip() or name

    def __reduce__(self) -> tuple[type["Printer"], tuple[bytes, str]]:
        return (type(self), (self.icc, self.name))  # opened profiles do not travel to workers

    def misses(self, encoded: NDArray[np.uint8]) -> NDArray[np.float64]:
        """CIEDE2000 between sRGB-encoded colours (height x width x 3) and what the inks make of them.

        Relative colorimetric without black point compensation; Lab is rounded to 8 bits on the way.
        """
        picture = Image.fromarray(encoded)
        wanted = _through(picture, _SRGB_TO_LAB)
        reached = _through(_through(picture, self._to_ink), self._to_lab)
        return ciede2000(_lab_of(wanted), _lab_of(reached))

    def shown(self, encoded: NDArray[np.uint8], alarm_from: float | None = None) -> NDArray[np.uint8]:
        """The picture as the inks print it, sRGB-encoded; misses of at least ``alarm_from`` in ALARM."""
        printed = _through(_through(Image.fromarray(encoded), self._to_ink), self._from_ink)
        seen = np.array(printed)
        if alarm_from is not None:
            seen[self.misses(encoded) >= alarm_from] = ALARM
        return seen

    def gamut(self, inks: Sequence[InkColour], noticed: float) -> Gamut:
        """Share of the ink that misses by at least ``noticed`` CIEDE2000, and its mean miss."""
        if not inks:
            return Gamut(0.0, 0.0, self.name)
        colours = np.array([[Srgb.parse(ink.hex) for ink in inks]], dtype=np.uint8)
        shares = np.array([ink.share for ink in inks])
        misses = self.misses(colours)[0]
        out = misses >= noticed
        mean = float((misses * shares)[out].sum() / shares[out].sum()) if out.any() else 0.0
        return Gamut(round(float(shares[out].sum() / shares.sum()), 4), round(mean, 2), self.name)


_SRGB = ImageCms.createProfile("sRGB")
_LAB = ImageCms.createProfile("LAB")
_SRGB_TO_LAB = ImageCms.buildTransform(_SRGB, _LAB, "RGB", "LAB", _INTENT)


def _mode(profile: ImageCms.ImageCmsProfile) -> str:
    return {"CMYK": "CMYK", "RGB": "RGB"}[profile.profile.xcolor_space.strip()]


def _transforms(
    profile: ImageCms.ImageCmsProfile,
) -> tuple[ImageCms.ImageCmsTransform, ImageCms.ImageCmsTransform]:
    mode = _mode(profile)
    to_ink = ImageCms.buildTransform(_SRGB, profile, "RGB", mode, _INTENT)
    return to_ink, ImageCms.buildTransform(profile, _LAB, mode, "LAB", _INTENT)


def _through(picture: Image.Image, transform: ImageCms.ImageCmsTransform) -> Image.Image:
    changed = ImageCms.applyTransform(picture, transform)
    assert changed is not None  # None comes back only when the picture is changed in place
    return changed


def _lab_of(picture: Image.Image) -> NDArray[np.float64]:
    stored = np.asarray(picture)
    light = stored[..., :1].astype(np.float64) * (100.0 / 255.0)
    return np.concatenate([light, stored[..., 1:].view(np.int8).astype(np.float64)], axis=-1)
