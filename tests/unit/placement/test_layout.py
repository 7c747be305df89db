"""Placement: sizes, places, keep-outs and patterns, in pixels of the print area."""

from dataclasses import replace
from math import ceil, pi

import pytest

from hundredfold.catalogue.blanks import Blank, Body, Cone, Orientation, PrintArea
from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.processes import Material, Process
from hundredfold.designs.facts import Box
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.money import Money
from hundredfold.kernel.units import mm_to_px
from hundredfold.placement.area import KeepOuts, safe_box
from hundredfold.placement.layout import AreaLayout, ArtSpot, Size, Wish, lay_out, usual_wish
from hundredfold.placement.onto_cone import lies_on_side
from hundredfold.placement.place import fit
from hundredfold.placement.rim import nearest_to_rim_mm

AREA = PrintArea(name="wrap", width_px=2480, height_px=1005, dpi=300, safe_margin_mm=3)
INK = Box(100, 50, 1100, 850)
MUG = Blank(
    code="MUG", name="Mug", form=Form.MUG, material=Material.COATED_CERAMIC, process=Process.SUBLIMATION,
    orientation=Orientation.ANY, areas=(AREA,), colours=(), variants=(), postage=Money.parse("1.00", "GBP"),
    body=Body(diameter_mm=82, height_mm=95, rim_clearance_mm=6), drinkware=True,
)  # fmt: skip


def only(layout: AreaLayout) -> tuple[int, int, int, int]:
    (placed,) = layout.placements
    return placed.left_px, placed.top_px, placed.width_px, placed.height_px


def test_fit_is_centred_inside_the_safe_area() -> None:
    placed = fit(INK, AREA)
    inset = round(mm_to_px(3, 300))
    assert (placed.top_px, placed.height_px) == (inset, 1005 - 2 * inset)
    assert placed.left_px * 2 + placed.width_px == pytest.approx(2480, abs=1)
    assert placed.effective_dpi == pytest.approx(300 * 800 / placed.height_px, rel=1e-3)


def test_fill_covers_the_whole_area_and_crops_evenly() -> None:
    layout = lay_out(INK, MUG, AREA, Wish(size=Size.FILL))
    assert only(layout) == (0, 0, 2480, 1005)
    crop = layout.placements[0].crop
    assert crop.width == 1000
    assert crop.height == round(1000 * 1005 / 2480)
    assert crop.top - INK.top == pytest.approx(INK.bottom - crop.bottom, abs=1)


def test_span_takes_the_whole_width() -> None:
    wide = Box(0, 0, 3000, 600)
    assert only(lay_out(wide, MUG, AREA, Wish(where=ArtSpot.ROUND))) == (0, 254, 2480, 496)


@pytest.mark.parametrize(("where", "turn"), [(ArtSpot.HANDLE_RIGHT, 1), (ArtSpot.HANDLE_LEFT, -1)])
def test_a_face_is_a_quarter_turn_from_the_middle(where: ArtSpot, turn: int) -> None:
    left, _, width, _ = only(lay_out(INK, MUG, AREA, Wish(where=where)))
    centre_mm = (left + width / 2 - 1240) * 25.4 / 300
    assert centre_mm == pytest.approx(turn * pi * 82 / 4, abs=0.1)
    assert left + width <= safe_box(AREA).right
    assert left >= safe_box(AREA).left


def test_both_sides_are_mirror_places() -> None:
    first, second = lay_out(INK, MUG, AREA, Wish(where=ArtSpot.BOTH)).placements
    assert first.left_px + second.left_px + first.width_px == pytest.approx(2480, abs=1)
    assert usual_wish(MUG).where is ArtSpot.BOTH


def test_keep_outs_shrink_the_room() -> None:
    keep = KeepOuts(seam_mm=10, handle_mm=15, rim_mm=20)
    room = safe_box(AREA, keep, rim_clearance_mm=6)
    assert room.left == round(mm_to_px(15, 300))
    assert room.top == ceil(mm_to_px(14, 300))
    with pytest.raises(ShopError, match="leave nothing"):
        safe_box(AREA, KeepOuts(seam_mm=200))


def test_pattern_reaches_every_edge_and_closes_the_wrap() -> None:
    layout = lay_out(Box(0, 0, 400, 400), MUG, AREA, Wish(where=ArtSpot.PATTERN, tile_mm=20, gap_mm=4))
    tiles = layout.placements
    assert min(t.top_px for t in tiles) == 0
    assert max(t.top_px + t.height_px for t in tiles) == 1005
    lefts = sorted({t.left_px for t in tiles})
    assert len(lefts) % 2 == 0
    steps = {b - a for a, b in zip(lefts, [*lefts[1:], lefts[0] + 2480], strict=True)}
    assert max(steps) - min(steps) <= 1
    for tile in tiles:
        assert tile.scale == pytest.approx(tile.height_px / tile.crop.height, rel=0.2)


def test_wrong_requests_say_what_to_do() -> None:
    with pytest.raises(ShopError, match="no pixel is inked"):
        lay_out(Box(0, 0, 0, 0), MUG, AREA)
    with pytest.raises(ShopError, match="no round body"):
        lay_out(INK, replace(MUG, body=Body()), AREA, Wish(where=ArtSpot.BOTH))


def test_the_way_to_the_rim_is_that_of_the_nearest_art() -> None:
    near, free = lay_out(INK, MUG, AREA), lay_out(INK, MUG, AREA, Wish(keep=KeepOuts(rim_mm=20)))
    assert nearest_to_rim_mm(MUG, (free, near)) == pytest.approx(6 + 3, abs=0.1)
    assert nearest_to_rim_mm(MUG, (free,)) == pytest.approx(20, abs=0.1)
    assert nearest_to_rim_mm(replace(MUG, drinkware=False), (near,)) is None
    assert nearest_to_rim_mm(replace(MUG, body=Body(diameter_mm=82)), (near,)) is None
    assert nearest_to_rim_mm(MUG, ()) is None


@pytest.mark.parametrize(
    "wish",
    [Wish(), Wish(where=ArtSpot.BOTH), Wish(where=ArtSpot.ROUND),
     Wish(where=ArtSpot.PATTERN, tile_mm=20), Wish(size=Size.FILL),
     Wish(size=Size.FILL, where=ArtSpot.LEFT), Wish(size=Size.SPAN, where=ArtSpot.BOTH)],
    ids=["fit", "both", "round", "pattern", "fill", "left", "span"],
)  # fmt: skip
def test_a_blank_keeps_its_rim_free_whatever_is_wished(wish: Wish) -> None:
    careful, tall = replace(MUG, rim_keep_out_mm=20.0), Box(0, 0, 400, 900)
    nearest = nearest_to_rim_mm(careful, (lay_out(tall, careful, AREA, wish),))
    assert nearest is not None
    assert nearest >= 20
    loose = nearest_to_rim_mm(MUG, (lay_out(tall, MUG, AREA, wish),))
    assert loose is not None
    assert loose < 20


@pytest.mark.parametrize("file", ["sector", "rectangle"])
def test_a_tapered_side_keeps_its_rim_free_along_the_slant(file: str) -> None:
    cone = Cone(top_diameter_mm=90, bottom_diameter_mm=60, height_mm=100, file=file)
    area = PrintArea("wrap", 3000, 1200, 300, cone=cone)
    cup = replace(MUG, form=Form.TUMBLER, body=Body(rim_clearance_mm=6), areas=(area,))
    careful = replace(cup, rim_keep_out_mm=20.0)
    square = Box(0, 0, 1000, 1000)
    loose = nearest_to_rim_mm(cup, (lay_out(square, cup, area),))
    kept = nearest_to_rim_mm(careful, (lay_out(square, careful, area),))
    assert loose is not None
    assert kept is not None
    assert loose < 20 <= kept + 0.1
    assert kept < 23, "the art is not made smaller than it must be"


def test_where_the_rim_is_unknown_the_band_is_measured_from_the_area() -> None:
    careful = replace(MUG, body=Body(diameter_mm=82, height_mm=95), rim_keep_out_mm=20.0)
    assert lay_out(INK, careful, AREA).top_mm >= 20


def test_usual_art_lies_a_little_above_the_middle_of_its_room() -> None:
    """Two fifths of the free height above it; a shirt's hangs from the top; what fills the height stays."""
    small = Box(0, 0, 900, 450)
    room = safe_box(AREA)
    for form, above in ((Form.MUG, 0.4), (Form.TEA_TOWEL, 0.4), (Form.T_SHIRT, 0.0), (Form.CUSHION, 0.5)):
        blank = replace(MUG, form=form, body=replace(MUG.body, visible_width_mm=50, width_mm=82))
        placed = lay_out(small, blank, AREA, usual_wish(blank)).placements[0]
        free = room.height - placed.height_px
        assert free > 300
        assert placed.top_px - room.top == pytest.approx(free * above, abs=1), form
    tall = Box(0, 0, 300, 900)
    full = lay_out(tall, MUG, AREA, usual_wish(MUG)).placements[0]
    assert (full.top_px, full.height_px) == (room.top, room.height)


def test_art_moved_up_a_tapered_side_stays_on_it() -> None:
    """Near the arc of a strong taper a wide band finds less height at its corners than in its middle."""
    for top_mm, bottom_mm in ((88, 72), (110, 50)):
        cone = Cone(top_diameter_mm=top_mm, bottom_diameter_mm=bottom_mm, height_mm=90)
        area = PrintArea("wrap", 2700, 1400, 300, safe_margin_mm=4, cone=cone)
        body = Body(diameter_mm=top_mm, height_mm=100, visible_width_mm=70)
        cup = replace(MUG, form=Form.TUMBLER, areas=(area,), body=body)
        for wide in (400, 1000, 2000):
            ink = Box(0, 0, wide, 400)
            middle = only(lay_out(ink, cup, area))
            raised = only(lay_out(ink, cup, area, usual_wish(cup)))
            assert lies_on_side(raised, area)
            assert (raised[0], *raised[2:]) == (middle[0], *middle[2:])
            assert raised[1] <= middle[1]
        assert raised[1] < middle[1] - 50  # a band has room above it
    assert not lies_on_side((0, 0, area.width_px, area.height_px), area)
