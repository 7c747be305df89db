"""From raw renders to a plate's planes: response polynomials, clean silhouettes, the table's shadow.

Three albedos a give ``I = G + E a + Q a^2`` exactly; goods in two colours are rendered with each alone, too:
``I = G + E a + Q a^2 + E2 s + Q2 s^2 + X a s``. All planes are grey, since the stage is. One render follows
the same paths of light for its three albedos, so differences between them have little noise.
"""

import io
import json
import zipfile
from collections.abc import Callable
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import distance_transform_edt

from hundredfold.mockups.camera import Camera

Floats = NDArray[np.float32]
Clean = Callable[..., Floats]  # (image, shares and normals of what pixels see, if known)
BODY_ALBEDOS = (0.0, 0.4, 0.8)
BRIGHTEST = 1.6  # what is lighter burns out in any case
# Linear brightness of a white print area, before the tone's shoulder.
LOOK = {"side": 0.85, "cloth": 0.87, "shaped": 0.84}


def smooth(plane: Floats, step: float) -> Floats:
    """A minor plane without its noise: light bounced by neighbours varies slowly, except where parts meet.

    These planes are differences of renders and never negative; their noise would only add speckles.
    """
    kept = np.maximum(cv2.bilateralFilter(plane.astype(np.float32), 15, step, 5.0), 0)
    return np.asarray(cv2.bilateralFilter(kept, 15, step / 2, 5.0), np.float32)


def answers(render: Floats) -> tuple[NDArray[Any], NDArray[Any], NDArray[Any]]:
    """From albedos 0, 0.4 and 0.8 in the three channels: gloss, E + 0.8 Q, and Q."""
    dark, middle, light = (render[..., k] for k in range(3))
    low, high = (middle - dark) / 0.4, (light - dark) / 0.8
    return dark, high, (high - low) / 0.4


def responses(gloss: Floats, full: Floats, curve: Floats) -> dict[str, Floats]:
    """The planes of goods in one colour."""
    bounce = smooth(curve, 0.03)
    return {"gloss": gloss, "response": np.maximum(full - 0.8 * bounce, 0), "bounce": bounce}


def pair_responses(
    both: tuple[Floats, ...], body: tuple[Floats, ...], second: tuple[Floats, ...], second_share: Floats
) -> dict[str, Floats]:
    """The six planes of goods in two colours; ``second_share`` tells whose colour a pixel is.

    What either colour adds to the other's parts is but bounced light, which varies slowly.
    """
    ours, theirs = responses(*body), responses(*second)
    cross = smooth(both[2] - body[2] - second[2], 0.03)
    response = np.where(second_share >= 1, smooth(ours["response"], 0.03), ours["response"])
    second_response = np.where(second_share <= 0, smooth(theirs["response"], 0.03), theirs["response"])
    # What both colours together give is rendered, not added up: where they meet, no seam in one colour.
    added = response + second_response + 0.8 * (ours["bounce"] + theirs["bounce"] + cross)
    left = both[1] - added
    return {
        "gloss": both[0], "bounce": ours["bounce"], "second_bounce": theirs["bounce"], "cross": cross,
        "response": np.maximum(response + left * (1 - second_share), 0),
        "second_response": np.maximum(second_response + left * second_share, 0),
    }  # fmt: skip


def exposed(planes: dict[str, Floats], printable: Floats, look: float) -> tuple[dict[str, Floats], float]:
    """Planes scaled so that a white print area comes out as bright as a white product should."""
    white = planes["gloss"] + 0.86 * (planes["response"] + 0.86 * planes["bounce"])
    if "cross" in planes:
        white = white + 0.86 * (planes["second_response"] + 0.86 * planes["cross"])
    gain = look / float(np.percentile(white[printable > 0.9], 60))
    return {name: plane * np.float32(gain) for name, plane in planes.items()}, gain


def spread(plane: Floats, known: NDArray[np.bool_]) -> Floats:
    """Values outside ``known`` taken from the nearest known pixel: colour without a backdrop mixed in."""
    index = distance_transform_edt(~known, return_distances=False, return_indices=True)
    return np.asarray(plane[tuple(index)])


def alone(render: Floats, cleaned: Floats, cover: Floats) -> Floats:
    """The goods without what shows beside them in the outline's pixels, carried on a little beyond it.

    Where goods fill less than a fifth of a pixel, neighbours speak for it.
    """
    share = cover[..., None]
    behind = spread(cleaned, cover <= 0)
    goods = np.maximum(render - (1 - share) * behind, 0) / np.maximum(share, 0.2)
    weight = np.where(share > 0.2, share * share, 0).astype(np.float32)
    near = cv2.GaussianBlur(goods * weight, (0, 0), 1.0) / np.maximum(_blurred(weight), 1e-6)
    filled = np.where(share > 0.2, goods, near)
    return spread(filled.astype(np.float32), _blurred(weight)[..., 0] > 0.01)


def _blurred(weight: Floats) -> Floats:
    return np.asarray(cv2.GaussianBlur(weight, (0, 0), 1.0), np.float32).reshape(*weight.shape[:2], 1)


def edged(plane: Floats, known: NDArray[np.bool_]) -> Floats:
    """What is not known, and its neighbours, take what lies just within, so that edges stay whole."""
    core = cv2.erode(known.astype(np.uint8), np.ones((3, 3), np.uint8)).astype(np.float32)
    weight = cv2.GaussianBlur(core, (0, 0), 2.5)
    near = cv2.GaussianBlur(plane.astype(np.float32) * core, (0, 0), 2.5) / np.maximum(weight, 1e-6)
    return np.where(core > 0, plane, np.where(weight > 0.005, near, spread(plane, known))).astype(np.float32)


def shadow(render: Floats, stage: Floats, cover: Floats) -> tuple[Floats, Floats]:
    """The table's brightness over the empty stage's: for black goods, and what lighter goods add."""
    size = cover.shape[0]
    empty = cv2.GaussianBlur(stage.mean(2), (0, 0), size / 125)
    free = cover <= 0.0
    # Beyond the table's end there is nothing to be in shadow.
    reach = max(3, size // 25)
    end = cv2.dilate((stage.mean(2) < 0.06).astype(np.uint8), np.ones((reach, reach), np.uint8)) > 0
    ratios = []
    for k in (0, 2):
        ratio = np.where(end, 1.0, render[..., k] / np.maximum(empty, 1e-3))
        ratio = spread(ratio.astype(np.float32), free)
        ratios.append(cv2.GaussianBlur(ratio, (0, 0), size / 1250))
    far = distance_transform_edt(cover <= 0) / size
    fade = np.clip(far / 0.34, 0, 1)
    fade = (fade * fade * (3 - 2 * fade)).astype(np.float32)
    kept = (1 - fade) * to_border(size)
    clean = [faint_gone(np.asarray(1 - r, np.float32)) * kept for r in ratios]
    dark = 1 - clean[0]
    return dark.astype(np.float32), np.maximum((1 - clean[1] - dark) / 0.8, 0).astype(np.float32)


def faint_gone(dark: Floats, knee: float = 0.045) -> Floats:
    """A shadow without its faint far reaches, which would end in a visible border."""
    kept = np.maximum(dark - 0.012, 0)
    return np.asarray(kept * kept / (kept + knee))


def to_border(size: int) -> Floats:
    """1 in the frame, falling to 0 at its border, so that a picture's edge is pure white."""
    near = np.minimum(np.arange(size), np.arange(size)[::-1])
    ramp = np.clip((near - 2) / (0.16 * size), 0, 1)
    ramp = ramp * ramp * (3 - 2 * ramp)
    return np.asarray(np.minimum(ramp[:, None], ramp[None, :]), np.float32)


def coded(plane: Floats) -> tuple[NDArray[np.uint8], float]:
    """Eight bits of the square root, and the peak that 255 stands for."""
    peak = max(float(plane.max()), 1e-6)
    return np.round(np.sqrt(np.clip(plane / peak, 0, 1)) * 255).astype(np.uint8), peak


def finished(raw: dict[str, Any], clean: Clean) -> bytes:
    """A plate file from one view's raw renders, ``clean`` taking out what noise is left."""
    render, empty, printable = clean(raw["render"]), clean(raw["empty"]), raw["printable"]
    cover = raw["shares"][..., 0]
    if "mirror" in raw:
        planes = vessel_planes(raw, clean)
    else:
        planes = {name: edged(plane, cover > 0.97) for name, plane in responses(*answers(render)).items()}
    meta = json.loads(str(raw["meta"]))
    look = meta.pop("look", LOOK["side" if "side" in meta else "cloth"])
    planes, gain = exposed(planes, printable, look)
    dark, bounce = shadow(render, empty, cover)
    meta["gain"] = gain
    if "probe" in raw:
        meta["probe"] = np.round(raw["probe"], 4).tolist()
    return packed(planes, cover, printable, dark, bounce, meta, raw.get("warp"))


def vessel_planes(raw: dict[str, Any], clean: Clean) -> dict[str, Floats]:
    """Planes of goods that mirror: the gloss is taken from the render in which they mirror no white table."""
    cover = raw["shares"][..., 0]
    whole = np.maximum(cover, 1e-6)[..., None]
    guides = [spread((raw[name] / whole).astype(np.float32), cover > 0.05) for name in ("shares", "normals")]
    second = guides[0][..., 1]
    guides = [clean(guide / 2 + 0.5) * 2 - 1 for guide in guides]  # their noise would be taken for detail
    plain = [
        guides[0] * np.array([1, 0, 1], np.float32),
        guides[1],
    ]  # where colours meet, nothing shows in one colour

    def goods(name: str) -> Floats:
        return alone(raw[name], clean(raw[name]), cover)

    def planes_of(name: str, known: list[Floats]) -> tuple[Floats, ...]:
        return tuple(clean(np.repeat(p[..., None], 3, 2), known).mean(2) for p in answers(goods(name)))

    both = planes_of("render", plain)
    planes = (
        pair_responses(both, planes_of("body", guides), planes_of("second", guides), second)
        if "body" in raw
        else responses(*both)
    )
    mirror = clean(goods("mirror"), plain).mean(2)
    clear = guides[0][..., 2] if raw["clear"] else 0  # through glass one sees the white table
    planes["gloss"] = mirror + (planes["gloss"] - mirror) * clear
    known = ~foot(json.loads(str(raw["meta"]))["camera"], cover, guides[1])
    return {name: edged(plane, known) for name, plane in planes.items()}


def foot(camera: dict[str, Any], cover: Floats, normals: Floats) -> NDArray[np.bool_]:
    """The outline's pixels on the table that face down.

    The underside darkens within a pixel there, which would come out as a line of dashes.
    """
    size = len(cover)
    x, y = Camera(**camera).project([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0]], size)
    reach = max(6, round(0.55 * float(x[1] - x[0])))  # about half a millimetre of the goods
    inner = cv2.erode((cover > 0.97).astype(np.uint8), np.ones((2 * reach + 1, 2 * reach + 1), np.uint8)) > 0
    down = normals[..., 2] < -0.25
    return np.asarray(~inner & down & (np.arange(size)[:, None] > y[0] - size / 50))


def packed(planes: dict[str, Floats], cover: Floats, printable: Floats, dark: Floats, bounce: Floats,
           meta: dict[str, Any], warp: NDArray[np.uint16] | None = None) -> bytes:  # fmt: skip
    """A plate file: a stored ZIP of meta.json and lossless WebP planes cropped to what they cover."""
    box = _box(cover > 0, 2)
    images: dict[str, NDArray[np.uint8]] = {
        "cover": np.round(cover[box] * 255).astype(np.uint8),
        "printable": np.round(printable[box] * 255).astype(np.uint8),
    }
    peaks: dict[str, float] = {}
    reach = cv2.dilate((cover > 0).astype(np.uint8), np.ones((3, 3), np.uint8)) > 0
    for name, plane in planes.items():
        full = np.minimum(plane, BRIGHTEST)[box] * reach[box]
        images[name], peaks[name] = coded(full)
    shade_box = _box((dark < 0.999) | (cover > 0), 2)
    images["shade"], peaks["shade"] = coded(1 - dark[shade_box])  # coded so, faint shadows fade without steps
    images["glow"], peaks["glow"] = coded(bounce[shade_box])
    meta = {**meta, "box": _corners(box), "shade_box": _corners(shade_box), "peaks": peaks, "format": 2}
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_STORED) as archive:
        add_member(archive, "meta.json", json.dumps(meta, sort_keys=True).encode())
        for name, image in sorted(images.items()):
            add_member(archive, f"{name}.webp", webp(image))
        if warp is not None:
            add_member(
                archive, "warp.png", cv2.imencode(".png", warp, [cv2.IMWRITE_PNG_COMPRESSION, 9])[1].tobytes()
            )
    return buffer.getvalue()


def webp(image: NDArray[np.uint8]) -> bytes:
    """A grey plane as lossless WebP."""
    done, data = cv2.imencode(".webp", cv2.merge([image] * 3), [cv2.IMWRITE_WEBP_QUALITY, 101])
    if not done:
        raise RuntimeError("WebP encoding failed")
    return data.tobytes()


def add_member(archive: zipfile.ZipFile, name: str, data: bytes) -> None:
    """Add a member with a fixed date, so that the same plate gives the same bytes."""
    archive.writestr(zipfile.ZipInfo(name, (2026, 1, 1, 0, 0, 0)), data)


def _box(mask: NDArray[np.bool_], margin: int) -> tuple[slice, slice]:
    rows, columns = np.flatnonzero(mask.any(1)), np.flatnonzero(mask.any(0))
    return (
        slice(max(0, int(rows[0]) - margin), min(mask.shape[0], int(rows[-1]) + 1 + margin)),
        slice(max(0, int(columns[0]) - margin), min(mask.shape[1], int(columns[-1]) + 1 + margin)),
    )


def _corners(box: tuple[slice, slice]) -> list[int]:
    return [box[1].start, box[0].start, box[1].stop, box[0].stop]
