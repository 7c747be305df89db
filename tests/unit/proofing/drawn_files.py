"""Art files drawn for tests, as the bytes a drawing program would save."""

import io
from collections.abc import Callable
from typing import Any, Self

import fontpkg
import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter, ImageFont

Pixels = NDArray[np.uint8]
Floats = NDArray[Any]
NAVY, BLACK, WHITE, RED, CREAM = "#1b2a4e", "#141414", "#ffffff", "#b01e2e", "#f6efe0"
FINER = 3  # masks are drawn at so many times the size and averaged


class Drawing:
    """Layers of flat ink with exact coverage at their edges, straight alpha."""

    def __init__(self, width: int = 1000, height: int = 1000) -> None:
        self.size = (width, height)
        self.colour: Floats = np.zeros((height, width, 3), np.float32)
        self.alpha: Floats = np.zeros((height, width, 1), np.float32)

    def lay(self, cover: NDArray[Any], ink: str | NDArray[Any]) -> Self:
        """Ink over what is there; ``cover`` is 0-1, ``ink`` a colour or a picture of colours."""
        rows, columns = np.flatnonzero(cover.any(axis=1)), np.flatnonzero(cover.any(axis=0))
        if not rows.size:
            return self
        part = np.s_[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
        top = cover[part].astype(np.float32)[..., np.newaxis]
        paint = rgb(ink) if isinstance(ink, str) else ink[part]
        below = self.alpha[part] * (1 - top)
        whole = top + below
        self.colour[part] = (paint * top + self.colour[part] * below) / np.maximum(whole, 1e-9)
        self.alpha[part] = whole
        return self

    def mask(self, draw: Callable[[ImageDraw.ImageDraw, float], object]) -> Floats:
        """Coverage of what ``draw`` draws with fill 255, at FINER times the size."""
        picture = Image.new("L", (self.size[0] * FINER, self.size[1] * FINER), 0)
        draw(ImageDraw.Draw(picture), FINER)
        return np.asarray(picture.reduce(FINER), np.float32) / 255

    def disc(self, x: float, y: float, r: float, ink: str) -> Self:
        box = [(x - r) * FINER, (y - r) * FINER, (x + r) * FINER, (y + r) * FINER]
        return self.lay(self.mask(lambda pen, _: pen.ellipse(box, fill=255)), ink)

    def box(self, left: float, top: float, right: float, bottom: float, ink: str) -> Self:
        corners = [v * FINER for v in (left, top, right - 1 / FINER, bottom - 1 / FINER)]
        return self.lay(self.mask(lambda pen, _: pen.rectangle(corners, fill=255)), ink)

    def lines(self, points: list[tuple[float, float]], width: float, ink: str) -> Self:
        scaled = [(x * FINER, y * FINER) for x, y in points]
        return self.lay(
            self.mask(lambda pen, _: pen.line(scaled, fill=255, width=round(width * FINER), joint="curve")),
            ink,
        )

    def words(
        self, text: str, top: float, width: float, ink: str, ring: tuple[float, str] | None = None,
        family: str = "Anton", x: float | None = None,
    ) -> Self:  # fmt: skip
        """A centred line of words so wide; ``ring`` is an outline of that width and colour."""
        middle = self.size[0] / 2 if x is None else x
        path = str(fontpkg.path(family, nearest=True))
        size = 1000 * width / ImageFont.truetype(path, 1000).getlength(text)
        font = ImageFont.truetype(path, round(size * FINER))
        at = (middle * FINER, top * FINER)
        if ring:
            wide = round(ring[0] * FINER)
            self.lay(
                self.mask(lambda pen, _: pen.text(at, text, 255, font, "mt", stroke_width=wide)), ring[1]
            )
        return self.lay(self.mask(lambda pen, _: pen.text(at, text, 255, font, "mt")), ink)

    def arch(self, text: str, radius: float, height: float, ink: str, family: str = "Alfa Slab One") -> Self:
        """Letters over the middle of the drawing, each turned to stand on a circle."""
        font = ImageFont.truetype(str(fontpkg.path(family, nearest=True)), round(height * FINER))
        size = (self.size[0] * FINER, self.size[1] * FINER)
        middle = (size[0] / 2, size[1] / 2)
        start = -font.getlength(text) / 2
        whole = Image.new("L", size, 0)
        for letter in text:
            width = font.getlength(letter)
            half = round(2 * height * FINER)  # a square about the middle of the letter's foot
            one = Image.new("L", (2 * half, 2 * half), 0)
            ImageDraw.Draw(one).text((half, half), letter, 255, font, "ms")
            turn = (start + width / 2) / (radius * FINER)
            one = one.rotate(-np.degrees(turn), Image.Resampling.BILINEAR)
            x, y = middle[0] + radius * FINER * np.sin(turn), middle[1] - radius * FINER * np.cos(turn)
            whole.paste(255, (round(x) - half, round(y) - half), one)
            start += width
        return self.lay(np.asarray(whole.reduce(FINER), np.float32) / 255, ink)

    def softened(self, radius: float) -> Self:
        """The whole drawing's alpha blurred, its colour kept."""
        alpha = Image.fromarray(np.rint(self.alpha[..., 0] * 255).astype(np.uint8))
        self.alpha = np.asarray(alpha.filter(ImageFilter.GaussianBlur(radius)))[..., np.newaxis] / np.float32(
            255
        )
        return self

    @property
    def pixels(self) -> Pixels:
        """Height x width x RGBA, transparent where bare."""
        shown = np.dstack([self.colour, self.alpha * 255])
        shown[self.alpha[..., 0] == 0] = 0
        return np.asarray(np.rint(shown), np.uint8)


def rgb(code: str) -> NDArray[np.float32]:
    return np.array([int(code[i : i + 2], 16) for i in (1, 3, 5)], np.float32)


def badge(width: int = 800, height: int = 800, ink: str = NAVY, light: str = CREAM) -> Drawing:
    """A filled disc with two bold words on it: reads from afar."""
    drawing = Drawing(width, height)
    r = min(width, height) * 0.46
    drawing.disc(width / 2, height / 2, r, ink)
    drawing.words("MUDDY", height / 2 - 0.55 * r, 1.3 * r, light)
    return drawing.words("BOOTS", height / 2 + 0.12 * r, 1.3 * r, light)


def slogan(
    width: int = 1000, height: int = 700, ink: str = NAVY, ring: tuple[float, str] | None = None
) -> Drawing:
    """Two lines of bold words on nothing."""
    drawing = Drawing(width, height)
    drawing.words("SEA SWIM", 0.08 * height, 0.86 * width, ink, ring)
    return drawing.words("CLUB", 0.52 * height, 0.55 * width, ink, ring)


def png(art: Drawing | Pixels, **options: Any) -> bytes:
    return saved(_picture(art), "PNG", compress_level=1, **options)


def jpeg(art: Drawing | Pixels, ground: str = WHITE, **options: Any) -> bytes:
    picture = _picture(art)
    flat = Image.new("RGB", picture.size, ground)
    flat.paste(picture, mask=picture if picture.mode == "RGBA" else None)
    return saved(flat, "JPEG", quality=92, **options)


def saved(picture: Image.Image, kind: str, **options: Any) -> bytes:
    out = io.BytesIO()
    picture.save(out, kind, **options)
    return out.getvalue()


def _picture(art: Drawing | Pixels) -> Image.Image:
    return Image.fromarray(art.pixels if isinstance(art, Drawing) else art)


def svg(body: str, width: int = 1000, height: int = 1000) -> bytes:
    head = f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}">'
    return f"{head}{body}</svg>".encode()


def grain(height: int, width: int, low: int = 40, high: int = 220) -> Pixels:
    """An opaque picture like a photograph: soft shapes and grain, no flat border."""
    chance = np.random.default_rng(11)
    coarse = Image.fromarray(chance.integers(low, high, (9, 9, 3), np.uint8))
    soft = np.asarray(coarse.resize((width, height), Image.Resampling.BICUBIC), np.int16)
    noisy = soft + chance.integers(-6, 7, (height, width, 3), np.int16)
    return np.dstack([np.clip(noisy, 0, 255).astype(np.uint8), np.full((height, width), 255, np.uint8)])


def indexed() -> bytes:
    picture = Image.fromarray(badge().pixels)
    return saved(picture.quantize(64, method=Image.Quantize.FASTOCTREE), "PNG")


def grey_with_alpha() -> bytes:
    return saved(Image.fromarray(badge(ink="#202020", light="#f4f4f4").pixels).convert("LA"), "PNG")


def tiff() -> bytes:
    return saved(Image.fromarray(badge().pixels), "TIFF", compression="tiff_lzw", dpi=(300, 300))


def webp() -> bytes:
    return saved(Image.fromarray(badge().pixels), "WEBP", lossless=True, method=0)


def turned_jpeg() -> bytes:
    """A wide photograph that a camera stored on its side, with the tag that says so."""
    exif = Image.Exif()
    exif[0x0112] = 6
    return jpeg(np.rot90(grain(800, 1000)), exif=exif)


def tight(art: Drawing) -> bytes:
    picture = Image.fromarray(art.pixels)
    return saved(picture.crop(picture.getbbox()), "PNG")


def specked(count: int) -> bytes:
    art = badge()
    for place in range(count):
        art.disc(40 + 70 * place, 30 + 11 * (place % 3), 1.0, NAVY)
    return png(art)


def shaded(levels: int, noise: int = 0) -> bytes:
    """A disc in a gradient from dark to light, in so many levels."""
    art = Drawing()
    step = np.round(np.linspace(0, 1, 1000) * levels) / levels
    shade = 50 + 150 * np.broadcast_to(step[:, np.newaxis], (1000, 1000))
    shade = shade + np.random.default_rng(5).integers(-noise, noise + 1, (1000, 1000))
    paint = np.dstack([shade * 0.5, shade * 0.7, shade]).clip(0, 255)
    cover = art.mask(lambda pen, k: pen.ellipse([50 * k, 50 * k, 950 * k, 950 * k], fill=255))
    return png(art.lay(cover, paint))


def shadowed() -> bytes:
    """Bold words with a wide soft shadow behind them."""
    shadow = slogan(ink="#30405a").softened(18)
    words = slogan(ink="#f2c230")
    return png(
        Drawing(1000, 700).lay(shadow.alpha[..., 0] * 0.8, "#30405a").lay(words.alpha[..., 0], "#f2c230")
    )


def cut_out(rim_px: float) -> bytes:
    """Yellow words cut out of a white page: a rim of white is left round them, half transparent."""
    words = slogan(ink="#e0a020").alpha[..., 0]
    wide = Drawing(1000, 700)
    wide.alpha = words[..., np.newaxis].copy()
    spread = wide.softened(rim_px).alpha[..., 0]
    halo = np.clip(spread * 1.2, 0, 0.85)
    return png(Drawing(1000, 700).lay(halo, WHITE).lay(words >= 0.999, "#e0a020"))


def hatched(width: float, gap: float = 40.0) -> bytes:
    """Bold words above a field of fine lines."""
    art = Drawing()
    art.words("TIDE", 60, 800, NAVY)
    for row in range(9):
        y = 560 + row * gap
        art.lines([(100, y), (900, y)], width, NAVY)
    return png(art)


def barred(gap: float) -> bytes:
    """Bold words above a block cut by thin gaps."""
    art = Drawing()
    art.words("TIDE", 60, 800, NAVY)
    art.box(100, 540, 900, 940, NAVY)
    bare = art.alpha[..., 0].copy()
    for row in range(1, 8):
        y = 540 + row * 50
        bare *= 1 - Drawing().box(100, y, 900, y + gap, NAVY).alpha[..., 0]
    art.alpha = bare[..., np.newaxis]
    return png(art)


def two_lines(small: float, ink: str = NAVY, low: str = NAVY) -> bytes:
    """A huge word above a line of small ones so wide."""
    art = Drawing(1000, 800)
    art.words("KELP", 40, 900, ink)
    return png(art.words("gathered before breakfast", 690, small, low, family="Oswald"))


def tiny_words(more: str = "") -> bytes:
    """Lines of thin small words and nothing else."""
    art = Drawing(1000, 700)
    for row in range(9):
        art.words(
            ("we went down to the water before anyone was awake" + more).upper(),
            40 + 70 * row,
            940,
            NAVY,
            family="Oswald",
        )
    return png(art)


def flower(words: str = "", width: float = 0.0) -> bytes:
    """A picture of five petals, with a line of words below if asked."""
    art = Drawing(1000, 1000)
    for turn in np.arange(5) * 2 * np.pi / 5:
        art.disc(500 + 200 * np.sin(turn), 400 - 200 * np.cos(turn), 165, RED)
    art.disc(500, 400, 110, "#e2a32b")
    if words:
        art.words(words, 850, width, NAVY, family="Oswald")
    return png(art)


def framed_photo() -> bytes:
    """A print like a photograph inside transparent air."""
    pixels = np.zeros((1000, 1000, 4), np.uint8)
    pixels[60:940, 60:940] = grain(880, 880)
    return png(pixels)


def boxed() -> bytes:
    art = Drawing().box(120, 120, 880, 880, WHITE)
    return png(art.disc(500, 500, 300, NAVY).words("TIDE", 400, 420, CREAM))


def cropped_right() -> bytes:
    """Words whose last letter runs into the border of the file."""
    art = Drawing(1000, 700)
    return png(art.words("SEA SWIM", 60, 860, NAVY).words("CLUBHOUSE", 360, 900, NAVY, x=590))


def half_lost() -> bytes:
    """One word in the blank's own colour, one that stands out."""
    art = Drawing(1000, 700)
    return png(art.words("SALTY", 40, 560, "#22304f").words("AND BLUE", 390, 900, "#f2c230"))


def captain(line: str, panel: str = "") -> bytes:
    """A bold crest that shows anywhere, and a line of words below it, on a panel of its own if asked."""
    art = Drawing(1000, 1000)
    for turn in np.arange(24) * 2 * np.pi / 24:
        art.disc(500 + 330 * np.sin(turn), 370 - 330 * np.cos(turn), 30, "#e4762b")
    art.disc(500, 370, 280, RED).words("TOWER", 230, 420, CREAM).words("CAPTAIN", 390, 420, CREAM)
    if panel:
        art.disc(500, 860, 90, panel).box(200, 770, 800, 950, panel)
    return png(art.words("please stand up", 800, 520, line, family="Oswald"))


def allotment(arch: str, ring: str = "") -> bytes:
    """An arch of words over a bold sun, with a bold line below; the arch on a ring of its own if asked."""
    art = Drawing(1000, 1000)
    if ring:
        art.disc(500, 500, 490, ring)
    art.arch("ALLOTMENT LIFE", 340, 110, arch)
    art.disc(500, 430, 140, "#e4762b").words("PLOT POT", 600, 500, "#c4501b")
    return png(art.words("AND REPEAT", 770, 560, "#c4501b"))


def two_inks() -> bytes:
    """A line of words whose second word has another ink, over a bold line in the first."""
    art = Drawing(800, 800).words("COLD", 60, 400, "#f2c230", x=240).words("SEA", 60, 280, "#22304f", x=620)
    return png(art.words("AND WARM", 330, 640, "#f2c230").words("HEART", 570, 400, "#f2c230"))


def knocked_out() -> bytes:
    """Words cut out of a panel, so that the blank shows through."""
    art = Drawing().disc(500, 500, 460, NAVY)
    words = Drawing().words("SEA SWIM", 270, 720, BLACK).words("CLUB", 520, 400, BLACK)
    art.alpha = art.alpha * (1 - words.alpha)
    return png(art)


def ringed(ring: str) -> bytes:
    """A wreath of leaves round a bold word."""
    art = Drawing(1000, 1000)
    for turn in np.arange(20) * 2 * np.pi / 20:
        art.disc(500 + 420 * np.sin(turn), 500 - 420 * np.cos(turn), 40, ring)
    return png(art.words("MORNING", 320, 560, "#f2c230").words("TIDE", 500, 400, "#f2c230"))


def mixed(white_width: float) -> bytes:
    """Navy words above a white cloud in a navy line."""
    art = Drawing(1000, 1000)
    art.words("SKY", 60, 620, NAVY)
    art.box(500 - white_width / 2 - 24, 600, 500 + white_width / 2 + 24, 940, NAVY)
    return png(art.box(500 - white_width / 2, 624, 500 + white_width / 2, 916, WHITE))


def band() -> bytes:
    art = Drawing(1400, 300)
    return png(art.words("RING THE CHANGES", 30, 1340, NAVY))


def column() -> bytes:
    art = Drawing(420, 1200)
    for row, word in enumerate(("ONE", "MORE", "DIP")):
        art.words(word, 60 + 370 * row, 380 if word != "DIP" else 330, NAVY)
    return png(art)
