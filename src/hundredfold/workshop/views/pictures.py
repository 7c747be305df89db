"""Pictures to look at: flat art and mock-ups at an asked width, by the packs' own compositor."""

import hashlib
from collections.abc import Iterable
from dataclasses import asdict, dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.designs.alpha import over
from hundredfold.designs.design import Design
from hundredfold.designs.facts import Box, DesignFacts, EdgeColour, InkColour
from hundredfold.designs.nudge import Nudge
from hundredfold.kernel.colour import Srgb, contrast_ratio, linear_of, relative_luminance
from hundredfold.kernel.errors import ShopError
from hundredfold.placement.layout import AreaLayout, lay_out
from hundredfold.proofing.designproof import usual_layout
from hundredfold.proofing.repair.changes import changed
from hundredfold.runner.recipes import canonical_json
from hundredfold.workshop.proof.figures import FIGURE_PX, figure
from hundredfold.workshop.steps.allsteps import PICTURE
from hundredfold.workshop.steps.smallart import crop_in_small, read_small_art
from hundredfold.workshop.views.artbook import ArtBook, KnownArt

Bytes = NDArray[np.uint8]
WIDTHS = (96, 160, 240, 320, 500, 750)  # any other is taken to the next of these
LARGE_PX = 750
AS_DRAWN = -1
_QUALITY = 84
# Flat art lies on warm paper. Where much of it would not be seen there, it lies on a dark sheet instead.
_PAPER, _DARK = Srgb.parse("#f6f5f1"), Srgb.parse("#1d2430")
_FAINT = 1.4  # contrast below which art vanishes on the paper at a thumb's size (our choice)
_MUCH, _MUCH_OF_OUTLINE = 0.15, 0.3  # of the ink, and of the art's outline
_EDGE = 0.06  # of the dark sheet, around the art


@dataclass(frozen=True)
class PictureAsked:
    """A picture, named by everything it follows from. ``key`` is the same for the same pixels."""

    key: str
    art: KnownArt
    facts: DesignFacts
    width: int
    repair: int
    blank: Blank | None = None
    colour: BlankColour | None = None
    nudge: Nudge | None = None


def nearest_width(width: int) -> int:
    """The width that is made for one that is asked."""
    return next((one for one in WIDTHS if one >= width), WIDTHS[-1])


def flat_art(book: ArtBook, design: str, width: int, repair: int = AS_DRAWN) -> PictureAsked:
    """The art itself. Raises ShopError ``unknown-design`` and ``not-measured``."""
    art, facts = _known(book, design)
    width = nearest_width(width)
    more = [_repair(book, art, repair), pale(facts)]
    return PictureAsked(_key("art", art, width, more), art, facts, width, repair)


def pale(facts: DesignFacts) -> bool:
    """Whether much of the art would vanish on paper and be seen on a dark sheet."""
    outline = _faint(facts.outline, _PAPER)
    worse = _faint(facts.outline, _DARK) >= outline
    return _faint(facts.inks, _PAPER) >= _MUCH and outline >= _MUCH_OF_OUTLINE and not worse


def _faint(colours: Iterable[InkColour | EdgeColour], ground: Srgb) -> float:
    """The share that is too like the ground."""
    return sum(one.share for one in colours if _contrast(Srgb.parse(one.hex), ground) < _FAINT)


def _contrast(one: Srgb, other: Srgb) -> float:
    light = (relative_luminance(linear_of(colour)) for colour in (one, other))
    return float(contrast_ratio(*light))


def mock_up_of(
    book: ArtBook,
    design: str,
    blank: str,
    colour: str,
    width: int,
    repair: int = AS_DRAWN,
    nudge: Nudge | None = None,
) -> PictureAsked:
    """The art on a blank's colour; ``nudge`` tries a place and size before it is decided.

    Raises ShopError ``unknown-design``, ``unknown-blank``, ``unknown-colour``, ``not-measured``.
    """
    art, facts = _known(book, design)
    shop = book.shop()
    goods = shop.blank(blank)
    painted = next((one for one in goods.colours if one.code == colour), None)
    if painted is None:
        fix = f"take one of {', '.join(one.code for one in goods.colours)}"
        raise ShopError("unknown-colour", f'{goods.name} has no colour "{colour[:40]}"', fix)
    width = nearest_width(width)
    given = nudge if nudge is not None else art.nudges.get(blank)
    named = (
        asdict(goods.body),
        goods.process.value,
        asdict(painted),
        list(map(asdict, goods.areas[:1])),
        goods.plate,
    )
    placed = asdict(given) if given is not None else None
    key = _key(
        "mock-up", art, width, [_repair(book, art, repair), repr(named), placed, list(PICTURE.version)]
    )
    return PictureAsked(key, art, facts, width, repair, goods, painted, given)


def bare_blank(blank: Blank, width: int) -> bytes:
    """A blank in its first colour without art, as WebP. Raises ShopError ``no-plate`` or ``bad-plate``."""
    area = (blank.areas_for(blank.body.size) or blank.areas)[0]
    clear = np.zeros((8, 8, 4), np.uint8)
    ink = Box(0, 0, 8, 8)
    layout = lay_out(ink, blank, replace(area, for_sizes=()))
    return webp(_shrunk(figure(blank, blank.colours[0], layout, ink, clear), nearest_width(width)))


def _known(book: ArtBook, design: str) -> tuple[KnownArt, DesignFacts]:
    art = book.art(design)
    facts = book.facts(art)
    if facts is None or not art.small:
        what = f"{art.path} has not been looked at yet, or could not be read"
        raise ShopError("not-measured", what, "let the designs be proofed, then look again")
    return art, facts


def _repair(book: ArtBook, art: KnownArt, repair: int) -> str:
    proposed = book.advice(art)
    return proposed[repair][0] if 0 <= repair < len(proposed) else ""


def _key(kind: str, art: KnownArt, width: int, more: object) -> str:
    said = canonical_json([kind, art.small, art.facts, width, more])
    return hashlib.sha256(said.encode()).hexdigest()


def made(book: ArtBook, wanted: PictureAsked) -> bytes:
    """The picture as WebP.

    Raises ShopError ``art-missing``, ``no-plate``, ``bad-plate``, ``no-room-for-art``.
    """
    pixels = _ink_of(book, wanted)
    if wanted.blank is None or wanted.colour is None:
        flat = _shrunk(pixels, wanted.width)
        return webp(_on_dark(flat) if pale(wanted.facts) else flat)
    size = FIGURE_PX if wanted.width <= FIGURE_PX else LARGE_PX
    ink = Box(0, 0, pixels.shape[1], pixels.shape[0])
    drawn = _figure(wanted, wanted.blank, wanted.colour, ink, pixels, size)
    return webp(_shrunk(drawn, wanted.width))


def _figure(
    wanted: PictureAsked, blank: Blank, colour: BlankColour, ink: Box, pixels: Bytes, size_px: int
) -> Bytes:
    layout = layout_on(wanted, blank, ink)
    return figure(blank, colour, layout, ink, pixels, size_px)


def layout_on(wanted: PictureAsked, blank: Blank, ink: Box | None = None) -> AreaLayout:
    """Where the art lies on a blank. Raises ShopError ``no-room-for-art`` and its kin."""
    facts = wanted.facts if ink is None else replace(wanted.facts, ink=ink)
    design = Design.named_by_file(wanted.art.id, wanted.art.path, facts)
    if wanted.nudge is not None:
        design = replace(design, nudges={blank.code: wanted.nudge})
    area = replace((blank.areas_for(blank.body.size) or blank.areas)[0], for_sizes=())
    laid = usual_layout(design, blank, area)
    if isinstance(laid, ShopError):
        raise laid
    return laid


def _ink_of(book: ArtBook, wanted: PictureAsked) -> Bytes:
    """The inked part of the small copy, with the repair made where one is shown."""
    data = book.vault.get(wanted.art.small)
    if data is None:
        raise ShopError(
            "art-missing", "the small copy of the art is gone", "let the designs be proofed again"
        )
    small = read_small_art(data)
    if wanted.facts.ink.empty:
        return small
    box = crop_in_small(wanted.facts.ink, wanted.facts)
    inked = np.ascontiguousarray(small[box.top : box.bottom, box.left : box.right])
    advice = book.advice(wanted.art)
    if 0 <= wanted.repair < len(advice) and (change := advice[wanted.repair][1].change) is not None:
        return np.asarray(changed(inked, change), np.uint8)
    return inked


def _shrunk(pixels: Bytes, width: int) -> Bytes:
    longest = max(pixels.shape[:2])
    if longest <= width:
        return pixels
    scale = width / longest
    across, down = max(1, round(pixels.shape[1] * scale)), max(1, round(pixels.shape[0] * scale))
    if pixels.shape[2] == 3:
        return np.asarray(cv2.resize(pixels, (across, down), interpolation=cv2.INTER_AREA), np.uint8)
    alpha = pixels[..., 3:].astype(np.float32) / 255
    held = np.dstack([pixels[..., :3] * alpha, alpha * 255]).astype(np.float32)
    small = cv2.resize(held, (across, down), interpolation=cv2.INTER_AREA)
    cover = np.maximum(small[..., 3:] / 255, 1e-6)
    return np.clip(np.rint(np.dstack([small[..., :3] / cover, small[..., 3:]])), 0, 255).astype(np.uint8)


def _on_dark(art: Bytes) -> Bytes:
    """The art on a dark sheet with a rim."""
    rim = round(max(art.shape[:2]) * _EDGE)
    framed = cv2.copyMakeBorder(art, rim, rim, rim, rim, cv2.BORDER_CONSTANT, value=(0, 0, 0, 0))
    return over(np.asarray(framed, np.uint8), (_DARK.red, _DARK.green, _DARK.blue))[..., :3]


def webp(pixels: Bytes) -> bytes:
    """Pixels as WebP."""
    turn = cv2.COLOR_RGB2BGR if pixels.shape[2] == 3 else cv2.COLOR_RGBA2BGRA
    done, code = cv2.imencode(".webp", cv2.cvtColor(pixels, turn), [cv2.IMWRITE_WEBP_QUALITY, _QUALITY])
    if not done:
        raise ValueError("a picture could not be written as WebP")
    return code.tobytes()
