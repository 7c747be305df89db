"""Are the pictures of goods of any measures right? Random bodies and print areas, dots where they should be.

    python -m tools.bodies --bodies 200 --seed 5

Each body is one of the forms with its measures drawn at random, and with it a print area. Where no check
stops it, a picture is made of art that is black dots, and each dot is looked for in the pixels. Where it
should be is computed here from the plate's file alone: a pinhole, circles, the unrolled side of a cone; none
of the program's geometry is used. A place is compared in shares of the body, so that its error is in
millimetres of the goods.
"""

import argparse
import json
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from importlib.resources import files
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, BlankColour, BlankVariant, Body, Cone, Orientation, PrintArea
from hundredfold.catalogue.forms import Form, PlateSet
from hundredfold.catalogue.processes import Material, Process
from hundredfold.designs.facts import Box, DesignFacts
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.money import Money
from hundredfold.mockups.registry import Role, plate_for, view_of
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import Placement
from hundredfold.proofing.checks.pictured import art_cut_off
from hundredfold.proofing.profile import STANDARD
from hundredfold.proofing.runchecks import judge_blank
from hundredfold.proofing.subjects import Evidence, Placed
from hundredfold.workshop.proof.picturedareas import sights_of
from hundredfold.workshop.steps.plates import Pictures, Shot

Floats = NDArray[np.float64]

ART_PX, DOT_PX, LOOK_PX = 1600, 4.0, 12  # longer side of the art; of the frame: a dot's radius, and round it
FACING = np.radians(50)  # further round, a dot is a line
RIGHT_MM = 0.3
_FREE = Money(Decimal(1), "GBP")


@dataclass(frozen=True)
class Tried:
    """One body: what stopped it, else how far its dots are from where they should be (mm of the goods)."""

    form: Form
    measures: str
    stopped: str
    dots: int = 0
    error_mm: float = 0.0


def random_blank(rng: np.random.Generator) -> Blank:
    """A blank of some form: mostly of a plate's shape in another size, some of another shape."""
    form = list(Form)[rng.integers(len(Form))]
    sets = form.traits.plates
    made = sets[rng.integers(len(sets))]
    size = rng.uniform(0.7, 1.4)
    wide = made.wide_mm * size
    high = made.high_mm * size * (1 + rng.choice([0.0, rng.uniform(-0.028, 0.028), rng.uniform(-0.5, 0.5)]))
    area, body = _on_cloth(rng, wide, high) if made.side is None else _round(rng, made, wide, high)
    white = BlankColour("white", "White", Srgb(250, 250, 250))
    variant = BlankVariant("white", "", "X", _FREE)
    return Blank(
        "BODY", "Body", form, Material.COATED_CERAMIC, Process.SUBLIMATION, Orientation.ANY,
        (area,), (white,), (variant,), _FREE, body,
    )  # fmt: skip


def _on_cloth(rng: np.random.Generator, wide: float, high: float) -> tuple[PrintArea, Body]:
    across, down = wide * rng.uniform(0.3, 1.05), high * rng.uniform(0.3, 1.05)
    return _area(across, down), Body(width_mm=wide, height_mm=high)


def _round(rng: np.random.Generator, made: PlateSet, wide: float, high: float) -> tuple[PrintArea, Body]:
    side = made.side
    assert side is not None
    top = (made.high_mm - side.foot_mm - side.height_mm) / made.high_mm * high  # rim to the printed side
    whole = side.height_mm / made.high_mm * high
    clearance = top + rng.uniform(-0.05, 0.5) * whole
    tall = (whole + top - clearance) * rng.uniform(0.4, 1.03)
    body = Body(diameter_mm=wide, height_mm=high, rim_clearance_mm=clearance)
    taper = (side.top_mm - side.bottom_mm) / side.height_mm * made.high_mm / high * wide / made.wide_mm
    taper *= rng.choice([1.0, rng.uniform(0.9, 1.1), rng.uniform(0.0, 2.5)])
    if taper < 1e-6:
        return _area(np.pi * wide * rng.uniform(0.3, 0.9), tall), body
    upper = side.top_mm * wide / made.wide_mm - taper * (clearance - top)
    cone = Cone(upper, upper - taper * tall, tall)
    radius, half, slant = _sector(cone)
    swing = np.pi * rng.uniform(0.3, 0.95) * half
    box = 2 * radius * np.sin(swing), radius - (radius - slant) * np.cos(swing)
    return _area(*box, cone=cone), body


def _area(wide: float, high: float, cone: Cone | None = None) -> PrintArea:
    return PrintArea("front", round(wide / 25.4 * 300), round(high / 25.4 * 300), 300, cone=cone)


def _sector(cone: Cone) -> tuple[float, float, float]:
    """Of the unrolled side: its outer radius, what its angle is of the turn round the body, and its slant."""
    drop = (cone.top_diameter_mm - cone.bottom_diameter_mm) / 2
    slant = float(np.hypot(cone.height_mm, drop))
    return cone.top_diameter_mm / 2 * slant / drop, drop / slant, slant


def tried(blank: Blank, rng: np.random.Generator) -> Tried:
    """Judge the blank, and measure its picture where nothing about its pictures stops it."""
    (area,) = blank.areas
    it = f"{blank.body.diameter_mm or blank.body.width_mm:.1f} x {blank.body.height_mm:.1f} mm"
    scale = ART_PX / max(area.width_px, area.height_px)
    art = Box(0, 0, round(area.width_px * scale), round(area.height_px * scale))
    whole = Placement(area, art, 0, 0, area.width_px, area.height_px, 300)
    stop = _stop(blank, whole)
    if stop:
        return Tried(blank.form, it, stop)
    errors = list(_errors(blank, whole, rng))
    return Tried(blank.form, it, "", len(errors), max(errors, default=0.0))


def _stop(blank: Blank, whole: Placement) -> str:
    shape = [found for found in judge_blank(blank) if found.check == "picture/other-shape"]
    if shape:
        return shape[0].check
    (sight,) = sights_of([blank]).values()
    facts = replace(DesignFacts.unmeasured("dots"), ink=whole.crop)
    laid = AreaLayout(whole.area, (whole,))
    placed = Placed("dots", facts, blank, laid, STANDARD.limits, Evidence(sight=sight))
    return art_cut_off.id if list(art_cut_off.run(placed, STANDARD)) else ""


def _errors(blank: Blank, whole: Placement, rng: np.random.Generator) -> Iterator[float]:
    """Of each dot that faces the camera, millimetres on the goods from where it should be."""
    plate = _Plate(blank, whole.area)
    x, y, frame = plate.places(rng)
    kept: list[int] = []
    for k in range(len(x)):
        if all(np.hypot(*(frame[k] - frame[one])) > 4 * LOOK_PX for one in kept):
            kept.append(k)
    kept = kept[:12]
    art = np.zeros((whole.crop.height, whole.crop.width, 4), np.uint8)
    for k in kept:
        # As large on the art as makes a round dot in the frame: small, so that a slant matters little.
        scale = whole.crop.width / whole.area.width_px
        wide = max(1.5, DOT_PX * plate.area_px_per_frame(x[k], y[k]) * scale)
        below = whole.crop.height / whole.area.height_px
        spot = (round((x[k] * scale - 0.5) * 16), round((y[k] * below - 0.5) * 16))
        cv2.circle(art, spot, round(wide * 16), (0, 0, 0, 255), -1, cv2.LINE_AA, 4)
    shot, none = Shot(blank, whole.area, blank.colours[0]), np.zeros_like(art)
    made, bare = (Pictures(each).picture(shot, (whole,)).astype(np.float64).mean(2) for each in (art, none))
    dark = bare - made
    for k in kept:
        found = _centre(dark, frame[k])
        if found is not None:
            yield float(np.hypot(*plate.millimetres(x[k], y[k], found - frame[k])))


def _centre(dark: Floats, about: Floats) -> Floats | None:
    """Centre of the darkness round a place of the frame; None where there is too little."""
    left, top = (int(v) - LOOK_PX for v in about)
    part = dark[top : top + 2 * LOOK_PX + 1, left : left + 2 * LOOK_PX + 1]
    if part.shape != (2 * LOOK_PX + 1,) * 2 or part.sum() < 500:
        return None
    rows, columns = np.mgrid[: part.shape[0], : part.shape[1]] + 0.5
    return np.array([left + (part * columns).sum() / part.sum(), top + (part * rows).sum() / part.sum()])


class _Plate:
    """Where places of a print area stand in the frame, from the plate's file and the blank's measures."""

    def __init__(self, blank: Blank, area: PrintArea) -> None:
        entry = plate_for(blank, area)
        file = files("hundredfold") / "plates" / f"{entry.name}.{view_of(entry, Role.MAIN)}.plate"
        with zipfile.ZipFile(str(file)) as archive:
            self.meta: dict[str, Any] = json.loads(archive.read("meta.json"))
        self.area, self.body = area, blank.body
        self.per_mm = area.dpi / 25.4
        self.wide, self.high = entry.wide_mm, entry.high_mm

    def places(self, rng: np.random.Generator) -> tuple[Floats, Floats, Floats]:
        """Places of the area (pixels) that are seen well, and where they stand in the frame."""
        if "side" in self.meta:
            x, y = rng.uniform(0.03, 0.97, (2, 400)) * [[self.area.width_px], [self.area.height_px]]
            angle, up = self._on_side(x, y)
            eye, middle = self.meta["camera"]["eye"], np.radians(self.meta["side"]["middle_deg"])
            away = np.mod(angle + middle - np.arctan2(eye[1], eye[0]) + np.pi, 2 * np.pi) - np.pi
            tall = self._band_mm()
            seen = (np.abs(away) < FACING) & (up > 0.03 * tall) & (up < 0.97 * tall)
            x, y = x[seen], y[seen]
            return x, y, self._projected(self._points(x, y))
        probe = rng.permutation(np.array(self.meta["probe"]))
        anchor = self.meta["cloth"]["anchor"]
        right = (probe[:, 0] - anchor["x_mm"]) * (self.body.width_mm or self.wide) / self.wide
        down = (anchor["y_mm"] - probe[:, 1]) * (self.body.height_mm or self.high) / self.high
        x = self.area.width_px / 2 + right * self.per_mm
        y = down * self.per_mm + (0 if anchor["from"] == "top" else self.area.height_px / 2)
        on = (x > 60) & (x < self.area.width_px - 60) & (y > 60) & (y < self.area.height_px - 60)
        return x[on], y[on], self._projected(probe[on, 2:])

    def area_px_per_frame(self, x: float, y: float) -> float:
        """Pixels of the area for one of the frame, about."""
        if "side" not in self.meta:
            camera = self.meta["camera"]
            far = np.linalg.norm(np.subtract(camera["eye"], camera["target"]))
            return float(
                2 * far * np.tan(np.radians(camera["fov_deg"]) / 2) / self.meta["size_px"] * self.per_mm
            )
        step = self._projected(self._points(np.array([x, x, x + 1]), np.array([y, y + 1, y])))
        return float(1 / max(np.hypot(*(step[1] - step[0])), np.hypot(*(step[2] - step[0]))))

    def millimetres(self, x: float, y: float, off: Floats) -> Floats:
        """An error in the frame as one along the goods' surface, across and down."""
        if "side" not in self.meta:
            scale = self.area_px_per_frame(x, y) / self.per_mm
            return (
                off * scale * [(self.body.width_mm or 1) / self.wide, (self.body.height_mm or 1) / self.high]
            )
        mm = self.per_mm
        near = self._projected(self._points(np.array([x, x + mm, x]), np.array([y, y, y + mm])))
        return np.asarray(np.linalg.solve(np.stack([near[1] - near[0], near[2] - near[0]], 1), off))

    def _band_mm(self) -> float:
        """Height along the axis of what is printed, by the partner's file."""
        return self.area.height_mm if self.area.cone is None else self.area.cone.height_mm

    def _on_side(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        """Angle round the body from the print's middle, and height (mm) above the print's lower edge."""
        right, down = x / self.per_mm - self.area.width_mm / 2, y / self.per_mm
        cone = self.area.cone
        if cone is None:
            return 2 * right / (self.body.diameter_mm or self.wide), self.area.height_mm - down
        radius, share, slant = _sector(cone)
        swing = np.arcsin(min(self.area.width_mm / 2 / radius, 1.0))
        tall = radius - (radius - slant) * np.cos(
            swing
        )  # of the outline: its lower arc ends lower than its middle
        apex = radius + (self.area.height_mm - tall) / 2  # below the file's upper edge
        away, angle = np.hypot(right, apex - down), np.arctan2(right, apex - down) / share
        return angle, (away - (radius - slant)) / slant * cone.height_mm

    def _points(self, x: Floats, y: Floats) -> Floats:
        """Places in space on the plate's own body, at the same shares of its height."""
        side = self.meta["side"]
        angle, up = self._on_side(x, y)
        high, clearance = self.body.height_mm or self.high, self.body.rim_clearance_mm or 0.0
        z = (high - clearance - self._band_mm() + up) / high * self.high
        share = (z - side["foot_mm"]) / side["height_mm"]
        radius = side["bottom_mm"] + (side["top_mm"] - side["bottom_mm"]) * share
        turn = angle + np.radians(side["middle_deg"])
        return np.stack([radius * np.cos(turn), radius * np.sin(turn), z], 1)

    def _projected(self, points: Floats) -> Floats:
        """A pinhole: similar triangles along the camera's axes."""
        camera, size = self.meta["camera"], self.meta["size_px"]
        eye, target = np.array(camera["eye"]), np.array(camera["target"])
        forward = (target - eye) / np.linalg.norm(target - eye)
        right = np.cross(forward, camera["up"])
        right /= np.linalg.norm(right)
        up = np.cross(right, forward)
        depth = (points - eye) @ forward
        focal = size / 2 / np.tan(np.radians(camera["fov_deg"]) / 2)
        x = size / 2 + focal * ((points - eye) @ right) / depth
        y = size / 2 - focal * ((points - eye) @ up) / depth
        return np.stack([x, y], 1)


def main() -> None:
    """Try bodies and say what came of them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--bodies", type=int, default=200)
    parser.add_argument("--seed", type=int, default=5)
    asked = parser.parse_args()
    rng = np.random.default_rng(asked.seed)
    every = [tried(random_blank(rng), rng) for _ in range(asked.bodies)]
    made = [one for one in every if not one.stopped]
    for one in sorted(made, key=lambda each: -each.error_mm)[:8]:
        print(f"{one.form.value}, {one.measures}: {one.dots} dots, {one.error_mm:.3f} mm")
    unseen = sum(one.dots == 0 for one in made)
    wrong = sum(one.error_mm > RIGHT_MM for one in made)
    for stop in sorted({one.stopped for one in every} - {""}):
        print(f"{sum(one.stopped == stop for one in every)} stopped by {stop}")
    print(
        f"{len(every)} bodies: {len(made)} drawn, {sum(one.dots for one in made)} dots, worst "
        f"{max((one.error_mm for one in made), default=0):.3f} mm; {wrong} over {RIGHT_MM} mm, "
        f"{unseen} without a dot"
    )


if __name__ == "__main__":
    main()
