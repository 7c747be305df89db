"""Worn print: a mask of specks and scratches, drawn from a seed."""

from functools import lru_cache

import numpy as np
from lxml import etree

from hundredfold.designs.layouts.drawing import SVG, Drawing, local, number
from hundredfold.designs.layouts.elements import elements, take

_STRONGEST = 0.6
_SPECKS_AT_FULL = 4200


@lru_cache(maxsize=32)
def worn_mask(
    name: str, view: tuple[float, float, float, float], mm_per_unit: float, strength: float, seed: int
) -> str:
    """An SVG ``<mask>`` that lets print through except at specks; ``strength`` (0 to 0.6) sets how many.

    Specks are 0.15 to 1.5 mm across, most of them small, and lie in drifts: print wears where it rubs.
    """
    rng = np.random.default_rng(seed)
    left, top, width, height = view
    count = int(_SPECKS_AT_FULL * min(max(strength, 0.0), _STRONGEST) / _STRONGEST)
    drifts = rng.random((9, 2)) * [width, height] + [left, top]
    spread = 0.16 * max(width, height)
    home = drifts[rng.integers(0, len(drifts), count)] + rng.normal(0, spread, (count, 2))
    loose = rng.random((count, 2)) * [width, height] + [left, top]
    centres = np.where(rng.random((count, 1)) < 0.65, home, loose)
    radii = np.clip(rng.lognormal(-1.1, 0.55, count), 0.075, 0.75) / mm_per_unit
    corners = 7
    angles = np.linspace(0, 2 * np.pi, corners, endpoint=False)
    wobble = radii[:, None] * (0.55 + 0.65 * rng.random((count, corners)))
    stretch = 1 + 1.6 * (rng.random((count, 1)) < 0.12)
    across, along = np.cos(angles) * wobble * stretch, np.sin(angles) * wobble
    turn = rng.random((count, 1)) * 2 * np.pi
    cos, sin = np.cos(turn), np.sin(turn)
    points = np.stack([across * cos - along * sin, across * sin + along * cos], axis=2) + centres[:, None]
    data = "".join("M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in speck) + "Z" for speck in points)
    box = f'x="{left:g}" y="{top:g}" width="{width:g}" height="{height:g}"'
    return (
        f'<mask xmlns="http://www.w3.org/2000/svg" id="{name}" maskUnits="userSpaceOnUse" {box}>'
        f'<rect {box} fill="#fff"/><path d="{data}" fill="#000"/></mask>'
    )


def wear(root: etree._Element, drawing: Drawing) -> None:
    """Give every element of ``root`` that asks for it the mask of its worn print."""
    masks: dict[str, str] = {}
    for element in list(elements(root)):
        asked = take(element, "data-distress")
        if asked is None:
            continue
        if asked.startswith("#"):
            element.set("mask", f"url({asked})")
            continue
        parts = asked.replace(",", " ").split() or ["0"]
        share, seed = number(parts[0]), int(number(parts[1])) if len(parts) > 1 else 1
        name = f"worn-{share:g}-{seed}".replace(".", "_")
        masks[name] = worn_mask(name, drawing.view, drawing.mm_per_unit, share, seed)
        if element is root:
            element = _wrapped(root)
        element.set("mask", f"url(#{name})")
    for text in masks.values():
        root.insert(0, etree.fromstring(text))


def _wrapped(root: etree._Element) -> etree._Element:
    """The whole drawing as one group: the root itself takes no mask."""
    group = etree.Element(f"{{{SVG}}}g")
    for child in list(root):
        if local(child) not in ("defs", "style"):
            group.append(child)
    root.append(group)
    return group
