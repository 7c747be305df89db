"""Round trips through a coated-paper profile against values published with it, where the profile is here."""

from pathlib import Path

import numpy as np
import pytest

from hundredfold.designs.facts import InkColour
from hundredfold.kernel.colour import Srgb, to_linear
from hundredfold.kernel.difference import colour_difference
from hundredfold.kernel.errors import ShopError
from hundredfold.mockups.printable import as_printed
from hundredfold.proofing.softproof import ALARM, Printer

# ISOcoated_v2_300_bas.icc, (c) basICColor 2007-2010, zlib licence, in Debian's package scribus-data: coated
# paper after ISO 12647-2, FOGRA39, ink limit 300 %.
PROFILE = Path("/usr/share/scribus/profiles/ISOcoated_v2_300_bas.icc")
# CIEDE2000 lost by sRGB colours on the way to these inks and back, relative colorimetric without black point
# compensation. Computed with LittleCMS 2.19; Lab is kept in 8 bits there, so 1 is allowed.
MISSES = {
    "#ff0000": 4.83, "#00ff00": 16.87, "#0000ff": 15.82, "#ffff00": 5.64, "#00ffff": 14.63, "#ff00ff": 17.95,
    "#000000": 7.91, "#808080": 0.0, "#c8785a": 0.35, "#ff6600": 3.38,
}  # fmt: skip

needs_profile = pytest.mark.skipif(not PROFILE.exists(), reason="no coated profile: apt install scribus-data")


@pytest.fixture(scope="module")
def printer() -> Printer:
    return Printer(PROFILE.read_bytes())


@needs_profile
@pytest.mark.parametrize("code", MISSES)
def test_what_a_colour_loses(code: str, printer: Printer) -> None:
    pixel = np.array([[Srgb.parse(code)]], dtype=np.uint8)
    assert float(printer.misses(pixel)[0, 0]) == pytest.approx(MISSES[code], abs=1.0)


@needs_profile
def test_pictures_come_near_to_what_the_profile_prints(printer: Printer) -> None:
    """2,000 random colours: mean CIEDE2000 from the soft proof 4.6 as drawn, 2.5 as pictures show them."""
    drawn = np.random.default_rng(7).integers(0, 256, (1, 2000, 3), dtype=np.uint8)
    art = np.concatenate([drawn, np.full((1, 2000, 1), 255, np.uint8)], axis=2)
    proof = to_linear(printer.shown(drawn) / 255.0)
    bare, shown = (
        colour_difference(to_linear(each / 255.0), proof) for each in (drawn, as_printed(art)[..., :3])
    )
    assert bare.mean() > 4
    assert shown.mean() < 2.8
    assert np.percentile(shown, 95) < 8 < 12 < np.percentile(bare, 95)


@needs_profile
def test_gamut_of_a_designs_inks(printer: Printer) -> None:
    gamut = printer.gamut([InkColour("#00ff00", 0.6), InkColour("#808080", 0.4)], noticed=6.0)
    assert gamut.share == pytest.approx(0.6)
    assert gamut.difference == pytest.approx(16.87, abs=1.0)
    assert "coated" in gamut.profile.lower()


@needs_profile
def test_the_alarm_marks_neon_and_leaves_mid_grey(printer: Printer) -> None:
    picture = np.array([[(0, 255, 0), (127, 127, 127), (200, 120, 90)]], dtype=np.uint8)
    shown = printer.shown(picture, alarm_from=6.0)
    assert tuple(shown[0, 0]) == ALARM
    assert np.abs(shown[0, 1:].astype(int) - picture[0, 1:]).max() <= 4


@pytest.mark.parametrize("data", [b"", b"not a profile", b"\x00" * 400])
def test_what_is_no_profile_is_refused(data: bytes) -> None:
    with pytest.raises(ShopError) as caught:
        Printer(data, "northfold.icc")
    assert caught.value.slug == "bad-profile"
    assert "northfold.icc" in str(caught.value)
