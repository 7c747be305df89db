"""Lines of lettering are found, and their letters are as tall as the font says."""

import fontpkg
import numpy as np
import pytest
from fontTools.ttLib import TTFont
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from hundredfold.designs.facts import Box
from hundredfold.proofing.art.facts import TextLine
from hundredfold.proofing.art.measuring import measure_art
from hundredfold.proofing.art.packing import measure_for_proof, unpack_art
from hundredfold.workshop.steps.readingtrees import reading_trees

TREES = reading_trees()
FAMILIES = ("Oswald", "Anton", "Lilita One", "Rowdies", "Alfa Slab One", "Lobster", "Pacifico")


def lettered(
    family: str, text: str, size: int, ink: str = "#1b2a4e", ground: str | None = None
) -> NDArray[np.uint8]:
    """Words in the middle of a file of 1800 x 900 px, on nothing or on a filled shape."""
    picture = Image.new("RGBA", (1800, 900), (0, 0, 0, 0))
    pen = ImageDraw.Draw(picture)
    if ground:
        pen.rounded_rectangle((60, 60, 1740, 840), 200, fill=ground)
    font = ImageFont.truetype(str(fontpkg.path(family, nearest=True)), size)
    pen.text((900, 450), text, font=font, fill=ink, anchor="mm")
    return np.asarray(picture)


def lines_of(pixels: NDArray[np.uint8]) -> tuple[TextLine, ...]:
    alpha = pixels[:, :, 3]
    rows, columns = np.flatnonzero(alpha.max(axis=1) > 5), np.flatnonzero(alpha.max(axis=0) > 5)
    box = Box(int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1)
    return measure_art(pixels, box).lines


def lines_of_art(pixels: NDArray[np.uint8]) -> tuple[TextLine, ...]:
    """What the reader has confirmed, with its certainty."""
    rows, columns = (np.flatnonzero((pixels[..., 3] > 5).any(axis)) for axis in (1, 0))
    box = Box(int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1)
    return unpack_art(measure_for_proof(pixels, box, TREES)).lines


def heights_px(family: str, size: int) -> tuple[float, float]:
    """x-height and cap height in pixels, from the font's OS/2 table."""
    font = TTFont(fontpkg.path(family, nearest=True))
    per_unit = size / font["head"].unitsPerEm
    return font["OS/2"].sxHeight * per_unit, font["OS/2"].sCapHeight * per_unit


@pytest.mark.parametrize("family", FAMILIES)
def test_capitals_are_as_tall_as_the_font_says(family: str) -> None:
    (line,) = lines_of(lettered(family, "HIVE MIND", 160))
    assert line.letter_px == pytest.approx(heights_px(family, 160)[1], rel=0.25)


@pytest.mark.parametrize("family", FAMILIES)
def test_lower_case_is_about_as_tall_as_its_x_height(family: str) -> None:
    (line,) = lines_of(lettered(family, "some more room", 160))
    assert line.letter_px == pytest.approx(heights_px(family, 160)[0], rel=0.25)


@pytest.mark.parametrize("size", [40, 90, 200])
def test_height_follows_size(size: int) -> None:
    (line,) = lines_of(lettered("Oswald", "SEA SWIMMER", size))
    assert line.letter_px == pytest.approx(heights_px("Oswald", size)[1], rel=0.15)
    assert 8 <= line.letters <= 12


def test_words_on_a_filled_shape_are_found() -> None:
    found = lines_of(lettered("Oswald", "BELL RINGER", 160, "#ffffff", ground="#1b2a4e"))
    assert any(line.letter_px == pytest.approx(heights_px("Oswald", 160)[1], rel=0.2) for line in found)


def test_two_lines_are_two_lines() -> None:
    picture = Image.fromarray(lettered("Oswald", "ALLOTMENT", 200))
    font = ImageFont.truetype(str(fontpkg.path("Oswald", nearest=True)), 70)
    ImageDraw.Draw(picture).text((900, 640), "GROWN WITH MUDDY HANDS", font=font, fill="#1b2a4e", anchor="mm")
    first, second = lines_of(np.asarray(picture))
    assert first.letter_px / second.letter_px == pytest.approx(200 / 70, rel=0.15)


def fan(rays: int, letter: str = "") -> NDArray[np.uint8]:
    """Bars, or a letter again and again, that stand on a half circle like the rays of a sun."""
    picture = Image.new("RGBA", (1800, 1800), (0, 0, 0, 0))
    font = ImageFont.truetype(str(fontpkg.path("Anton", nearest=True)), 130)
    one = Image.new("RGBA", (260, 260), (0, 0, 0, 0))
    pen = ImageDraw.Draw(one)
    if letter:
        pen.text((130, 130), letter, font=font, fill="#d9962e", anchor="mm")
    else:
        pen.rectangle((112, 70, 148, 190), fill="#d9962e")
    for turn in np.linspace(-80, 80, rays):
        at = 900 - 670 * np.sin(np.radians(turn)), 900 - 670 * np.cos(np.radians(turn))
        turned = one.rotate(float(turn), Image.Resampling.BICUBIC)
        picture.alpha_composite(turned, (round(at[0]) - 130, round(at[1]) - 130))
    return np.asarray(picture)


def test_rays_are_no_words_and_letters_on_the_same_arch_are() -> None:
    for rays in (24, 30, 36):
        assert not any(line.sure for line in lines_of_art(fan(rays)))
        assert any(line.sure > 0.5 for line in lines_of_art(fan(rays // 2, "R")))


@pytest.mark.parametrize("family", ["Anton", "Oswald", "Bebas Neue", "Alfa Slab One"])
def test_words_of_upright_letters_are_words(family: str) -> None:
    (line,) = lines_of_art(lettered(family, "little willie will fill it", 110))
    assert line.sure > 0.8


def test_a_plain_shape_is_not_a_line_of_words() -> None:
    picture = Image.new("RGBA", (900, 900), (0, 0, 0, 0))
    ImageDraw.Draw(picture).ellipse((100, 100, 800, 800), fill="#b01e2e")
    assert lines_of(np.asarray(picture)) == ()
