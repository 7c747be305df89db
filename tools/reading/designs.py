"""Seeded designs as on decorated goods: lettering with outlines, rings, shapes, wear, arcs, shadows."""

from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from tools.reading.fonts import FONTS, HELD_OUT, load_font
from tools.reading.lettering import Line, Mask, around, bent, grown, line_mask, padded, stacked
from tools.reading.words import cased, saying

WIDTH = 720  # pixels across the art: three times the widest thumbnail
BLANKS: dict[str, tuple[int, int, int]] = {
    "white": (253, 253, 251), "natural": (239, 230, 211), "ash": (211, 211, 208), "sand": (205, 181, 146),
    "mint": (169, 216, 196), "pink": (242, 184, 198), "yellow": (244, 201, 52), "heather": (154, 156, 158),
    "red": (179, 32, 44), "royal": (37, 70, 163), "forest": (31, 74, 51), "navy": (27, 37, 64),
    "charcoal": (58, 59, 61), "black": (20, 20, 20),
}  # fmt: skip
NAMES = tuple(BLANKS)
RINGS = ((255, 255, 255), (17, 17, 17), (27, 37, 64), (179, 32, 44), (169, 216, 196))
STYLES = {
    "plain": 0.26, "outline": 0.16, "double": 0.07, "shadow": 0.07, "ring": 0.08, "shape": 0.10,
    "knockout": 0.04, "worn": 0.08, "arc": 0.06, "shaded": 0.05, "soft": 0.03,
}  # fmt: skip
OUTLINED = ("outline", "double")
MORE_OUTLINED = {"outline": 0.55, "double": 0.35, "shadow": 0.1}
# A seed's mix of styles, and whether its fonts are only the ones that are fitted on.
MIXES: dict[int, tuple[dict[str, float], bool]] = {20262: (MORE_OUTLINED, True), 20263: (STYLES, True)}
Colour = NDArray[np.float32]  # sRGB-encoded 0-255


@dataclass(frozen=True)
class Labelled:
    """One design of the labelled set."""

    number: int
    rgba: NDArray[np.uint8]  # straight alpha, sRGB-encoded
    lines: tuple[Line, ...]
    font: str
    style: str
    focus: int  # the blank colour the ink was drawn close to, or -1
    ink: tuple[int, int, int]
    letter_px: float  # character-weighted line height, art pixels


def generator(seed: int, number: int) -> np.random.Generator:
    """The design's own stream: a design does not depend on the ones before it."""
    return np.random.default_rng([seed, number])


def any_colour(rng: np.random.Generator) -> Colour:
    """An ink: mostly saturated or dark or light, as sellers pick."""
    kind = rng.random()
    if kind < 0.18:
        return np.full(3, rng.uniform(0, 50), np.float32)
    if kind < 0.34:
        return np.full(3, rng.uniform(225, 255), np.float32)
    hsv = np.array([[[rng.uniform(0, 180), rng.uniform(70, 255), rng.uniform(60, 255)]]], np.uint8)
    return np.asarray(cv2.cvtColor(hsv, cv2.COLOR_HSV2RGB)[0, 0], np.float32)


def inks(rng: np.random.Generator) -> tuple[int, Colour, Colour, Colour]:
    """Focus blank (or -1), fill, second and third colour. Half of the fills lie near a blank's colour."""
    focus, fill = -1, any_colour(rng)
    if rng.random() < 0.5:
        focus = int(rng.integers(len(NAMES)))
        base = np.array(BLANKS[NAMES[focus]], np.float32)
        toward = np.zeros(3) if rng.random() < 0.5 else np.full(3, 255.0)
        if rng.random() < 0.4:
            toward = any_colour(rng)
        fill = (base + (toward - base) * rng.uniform(0.03, 0.45)).astype(np.float32)
    second = np.array(RINGS[int(rng.integers(len(RINGS)))], np.float32)
    if rng.random() < 0.4:
        second = any_colour(rng)
    if rng.random() < 0.12:  # an outline close to its fill: the letter's shape drowns in it
        second = np.clip(fill + rng.uniform(-45, 45, 3), 0, 255).astype(np.float32)
    return focus, fill, second, any_colour(rng)


def paint(layers: list[tuple[Mask, Colour | NDArray[np.float32]]]) -> NDArray[np.uint8]:
    """Layers from bottom to top, over one another, as straight RGBA."""
    height, width = layers[0][0].shape
    colour, alpha = np.zeros((height, width, 3), np.float32), np.zeros((height, width, 1), np.float32)
    for mask, ink in layers:
        a = mask[..., None]
        colour = ink * a + colour * (1 - a)
        alpha = a + alpha * (1 - a)
    straight = np.where(alpha > 0, colour / np.maximum(alpha, 1e-6), 0)
    return np.concatenate([straight, alpha * 255], 2).round().clip(0, 255).astype(np.uint8)


def icon(rng: np.random.Generator, size: int) -> Mask:
    """A small drawn thing beside the words: star, heart, leaf, wave or hexagon."""
    y, x = np.mgrid[0:size, 0:size] / (size - 1) * 2 - 1
    angle, reach = np.arctan2(y, x), np.hypot(x, y)
    kind = int(rng.integers(5))
    if kind == 0:
        inside = reach < 0.6 + 0.35 * np.cos(5 * angle + np.pi / 2)
    elif kind == 1:
        inside = (x**2 + (y * -1.1 + 0.1 - 0.6 * np.sqrt(np.abs(x))) ** 2) < 0.7
    elif kind == 2:
        inside = (np.hypot(x - 0.5, y) < 1.0) & (np.hypot(x + 0.5, y) < 1.0) & (np.abs(x - 0.02) > 0.04)
    elif kind == 3:
        inside = np.abs((y * 3 + 0.4 * np.sin(x * 9)) % 1.2 - 0.6) < 0.22
    else:
        inside = (
            np.max([np.abs(x * np.cos(t) + y * np.sin(t)) for t in (0, np.pi / 3, 2 * np.pi / 3)], 0) < 0.8
        )
        inside &= ~(reach < 0.35)
    return np.asarray(cv2.GaussianBlur(inside.astype(np.float32), (0, 0), 0.7), np.float32)


def wear(rng: np.random.Generator, shape: tuple[int, int]) -> Mask:
    """Worn print: 1 where ink stays."""
    grain = rng.uniform(0.8, 2.6)
    fine = cv2.GaussianBlur(rng.standard_normal(shape).astype(np.float32), (0, 0), grain)
    noise = (
        fine + 0.6 * cv2.GaussianBlur(rng.standard_normal(shape).astype(np.float32), (0, 0), grain * 6) * 6
    )
    threshold = np.quantile(noise, rng.uniform(0.06, 0.3))
    return np.asarray(noise > threshold, np.float32)


def lay_out(
    rng: np.random.Generator, style: str, texts: list[str], masks: list[Mask]
) -> tuple[Mask, list[Line], Mask | None]:
    """The lettering's mask, its lines and, for a ring badge, the ring's mask."""
    if style == "ring" and len(texts) >= 1:
        return ring_badge(rng, texts, masks)
    if style == "arc":
        masks = [bent(masks[0], rng.uniform(0.08, 0.28)), *masks[1:]]
    longest = max(m.shape[1] / m.shape[0] for m in masks)
    narrow = rng.uniform(0.3, 0.7) if rng.random() < 0.4 else 1.0  # small words under a wide element
    widths = []
    for mask in masks:
        natural = (mask.shape[1] / mask.shape[0]) / longest
        full = WIDTH * (natural ** rng.uniform(0.0, 0.9))
        small = rng.random() < 0.2
        limit = 330 * mask.shape[1] / mask.shape[0]
        scale = narrow * (rng.uniform(0.35, 0.6) if small else 1.0)
        widths.append(round(min(max(full * scale, 90), WIDTH, limit)))
    canvas, boxes = stacked(masks, widths, rng.uniform(0.12, 0.5), WIDTH)
    if narrow < 1:
        thick, gap = int(rng.integers(4, 14)), int(rng.integers(14, 40))
        canvas = np.pad(canvas, ((thick + gap, thick + gap), (0, 0)))
        canvas[:thick], canvas[-thick:] = 1, 1
        boxes = [(left, top + thick + gap, right, bottom + thick + gap) for left, top, right, bottom in boxes]
    return canvas, [Line(text, tuple(map(int, box))) for text, box in zip(texts, boxes, strict=True)], None  # type: ignore[arg-type]


def ring_badge(
    rng: np.random.Generator, texts: list[str], masks: list[Mask]
) -> tuple[Mask, list[Line], Mask]:
    """Words round a ring, the rest in the middle."""
    height = rng.uniform(0.09, 0.14) * WIDTH
    radius = WIDTH * 0.47 - height * 1.25
    first = fitted(masks[0], height, 2 * np.pi * radius * rng.uniform(0.35, 0.62))
    words, box = around(first, WIDTH, radius, under=False)
    lines = [Line(texts[0], box)]
    ring = two_rings(rng.uniform(3, 10), radius, height)
    if len(texts) > 1:
        lines += set_in_middle(words, int(1.35 * (radius - height * 0.4)), texts[1:], masks[1:])
    return words, lines, ring


def fitted(mask: Mask, height: float, longest: float) -> Mask:
    """The line scaled to a height, less where it would be longer than there is room, in pixels."""
    scale = height / mask.shape[0]
    line = np.asarray(cv2.resize(mask, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA), np.float32)
    if line.shape[1] <= longest:
        return line
    size = (int(longest), max(8, int(line.shape[0] * longest / line.shape[1])))
    return np.asarray(cv2.resize(line, size, interpolation=cv2.INTER_AREA), np.float32)


def two_rings(width: float, radius: float, height: float) -> Mask:
    """A badge's rings, one at the rim, one half as thick inside words so high at that radius, in pixels."""
    y, x = np.mgrid[0:WIDTH, 0:WIDTH].astype(np.float32) - WIDTH / 2
    distance = np.hypot(x, y)
    rim = np.clip(width - np.abs(distance - WIDTH * 0.485) + 0.5, 0, 1)
    inner = np.clip(width / 2 - np.abs(distance - radius + height * 0.35) + 0.5, 0, 1)
    return np.asarray(np.maximum(rim, inner), np.float32)


def set_in_middle(words: Mask, room: int, texts: list[str], masks: list[Mask]) -> list[Line]:
    """Set lines into the middle of a badge, in a square of ``room`` pixels; where they are then."""
    widths = [min(room, int(mask.shape[1] / mask.shape[0] * room * 0.45)) for mask in masks]
    inner, boxes = stacked(masks, widths, 0.3, room)
    inner = inner[:room]
    top, left = (WIDTH - inner.shape[0]) // 2, (WIDTH - room) // 2
    place = words[top : top + inner.shape[0], left : left + room]
    np.maximum(place, inner, out=place)
    return [
        Line(text, (box[0] + left, box[1] + top, box[2] + left, box[3] + top))
        for text, box in zip(texts, boxes, strict=True)
    ]


def decorate(
    rng: np.random.Generator,
    style: str,
    words: Mask,
    ring: Mask | None,
    colours: tuple[Colour, Colour, Colour],
) -> NDArray[np.uint8]:
    """Colour the lettering in the style."""
    fill, second, third = colours
    height, width = words.shape
    layers: list[tuple[Mask, Colour | NDArray[np.float32]]] = []
    if style in OUTLINED:
        thick = float(np.exp(rng.uniform(np.log(2), np.log(16))))
        if style == "double":
            layers.append((grown(words, thick * rng.uniform(1.6, 2.6)), third))
        layers.append((grown(words, thick), second))
    if style == "shadow":
        by = int(rng.integers(3, 12))
        layers.append((np.roll(words, (by, by), (0, 1)), second))
    if style in ("shape", "knockout"):
        layers.append((body(rng, (height, width)), second))
    if style == "ring" and ring is not None:
        if rng.random() < 0.35:
            y, x = np.mgrid[0:height, 0:width] - np.array([height / 2, width / 2])[:, None, None]
            layers.append((np.clip(width * 0.49 - np.hypot(x, y), 0, 1).astype(np.float32), second))
        layers.append((ring, third if rng.random() < 0.4 else fill))
    if style == "shaded":
        ramp = np.linspace(0, 1, height, dtype=np.float32)[:, None, None]
        layers.append((words, fill * (1 - ramp) + third * ramp))
    elif style != "knockout":
        layers.append((words, fill))
    rgba = paint(layers)
    if style == "knockout":
        rgba[..., 3] = (rgba[..., 3] * (1 - words)).astype(np.uint8)
    if style == "worn":
        rgba[..., 3] = (rgba[..., 3] * wear(rng, words.shape)).astype(np.uint8)
    if style == "soft":
        rgba[..., 3] = (rgba[..., 3] * rng.uniform(0.35, 0.8)).astype(np.uint8)
    return rgba


def body(rng: np.random.Generator, shape: tuple[int, int]) -> Mask:
    """A filled shape behind the words: rounded panel, ellipse or torn band."""
    height, width = shape
    y, x = np.mgrid[0:height, 0:width].astype(np.float32)
    y, x = np.abs(y / (height - 1) * 2 - 1), np.abs(x / (width - 1) * 2 - 1)
    power = (2.0, 4.0, 12.0)[int(rng.integers(3))]
    return np.asarray(x**power + y**power < 1, np.float32)


def draw(seed: int, number: int, fonts: Path | None = None) -> Labelled:
    """Design ``number`` of a seed. Raises SystemExit when its font's package is not installed."""
    rng = generator(seed, number)
    styles, fitted_only = MIXES.get(seed, (STYLES, False))
    choices = [n for n, font in enumerate(FONTS) if not (fitted_only and font[0] in HELD_OUT)]
    font_index = choices[int(rng.integers(len(choices)))]
    style = str(rng.choice(list(styles), p=list(styles.values())))
    how = str(rng.choice(["upper", "title", "lower"], p=[0.5, 0.35, 0.15]))
    if FONTS[font_index][3] and how == "upper":
        how = "title"  # nobody sets a connected script in capitals
    texts = [cased(line, how) for line in saying(rng)]
    if rng.random() < 0.2 and style != "ring":
        texts = texts[:1]
    font = load_font(font_index, 160, fonts)
    words, lines, ring = lay_out(rng, style, texts, [line_mask(t, font) for t in texts])
    margin = 26 if style in ("outline", "double", "shadow") else 2
    if style in ("shape", "knockout"):
        margin = round(0.14 * max(words.shape))
    focus, *colours = inks(rng)
    extra = 0
    if style not in ("ring", "shape", "knockout") and rng.random() < 0.3:
        size = int(rng.integers(90, 260))
        extra = size + 20
        words = np.pad(words, ((extra, 0), (0, 0)))
        left = (WIDTH - size) // 2
        words[:size, left : left + size] = icon(rng, size)
    words = padded(words, margin)
    rgba = decorate(rng, style, words, None if ring is None else padded(ring, margin), tuple(colours))  # type: ignore[arg-type]
    shift = np.array([margin, margin + extra] * 2)
    lines = [Line(line.text, tuple(int(v) for v in np.array(line.box) + shift)) for line in lines]  # type: ignore[arg-type]
    return cropped(number, rgba, lines, FONTS[font_index][0], style, focus, colours[0])


def cropped(
    number: int, rgba: NDArray[np.uint8], lines: list[Line], font: str, style: str, focus: int, fill: Colour
) -> Labelled:
    """Cut to the ink and scaled to the standard width."""
    inked = rgba[..., 3] > 20
    rows, columns = np.flatnonzero(inked.any(1)), np.flatnonzero(inked.any(0))
    top, left = int(rows[0]), int(columns[0])
    rgba = rgba[top : rows[-1] + 1, left : columns[-1] + 1]
    boxes = [np.array(line.box) - np.array([left, top, left, top]) for line in lines]
    kept = tuple(Line(line.text, tuple(int(v) for v in box)) for line, box in zip(lines, boxes, strict=True))  # type: ignore[arg-type]
    weights = np.array([len(line.text) for line in kept], float)
    heights = np.array([line.box[3] - line.box[1] for line in kept], float)
    ink = (int(fill[0]), int(fill[1]), int(fill[2]))
    letter = float((weights * heights).sum() / weights.sum())
    return Labelled(number, np.ascontiguousarray(rgba), kept, font, style, focus, ink, letter)
