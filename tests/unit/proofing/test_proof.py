"""A design proved on blanks: colours ranked, the best few marked, what does not depend on colour said "
"once."""

from dataclasses import replace

import numpy as np
import pytest
from proofing_subjects import (
    BLACK,
    CREAM,
    FLASK,
    MUG,
    NAVY,
    RED,
    SHIRT,
    WHITE,
    all_findings,
    art_facts,
    blank,
    colour,
    facts,
    in_ink,
)

from hundredfold.catalogue.blanks import BlankVariant, Body, PrintArea
from hundredfold.designs.design import Design
from hundredfold.designs.facts import DesignFacts
from hundredfold.placement.layout import lay_out
from hundredfold.proofing.art.packing import measure_for_proof, unpack
from hundredfold.proofing.designproof import Asked, BlankProof, DesignProof, looks_wanted, prove
from hundredfold.proofing.readings import chances_as_json, chances_from_json, read_looks
from hundredfold.proofing.thumb import art_px, art_share
from hundredfold.workshop.steps.readingtrees import reading_trees

TREES = reading_trees()


def design(art: DesignFacts) -> Design:
    return Design("d1", "proud-beekeeper.png", art, "Proud beekeeper", ("bee",))


def on(proof: DesignProof, code: str) -> BlankProof:
    return next(one for one in proof.blanks if one.blank.code == code)


def test_dark_art_is_best_on_light_colours_and_barred_from_dark_ones() -> None:
    proof = prove(design(in_ink(facts(3600, 4500), "#101828")), None, [SHIRT])
    shirt = on(proof, "TEE")
    assert shirt.colours[0].colour == WHITE
    assert {one.colour for one in shirt.colours if one.stopped} == {NAVY, BLACK}
    assert shirt.listable[0] == "white"
    assert set(shirt.listable) == {"white", "red"}
    assert [one.colour for one in shirt.colours if one.best] == [WHITE, RED]
    assert not shirt.stopped


def test_only_colours_that_differ_are_marked() -> None:
    near = tuple(colour(f"white {n}", f"#fffff{n}") for n in range(5))
    wide = replace(MUG, colours=(*near, CREAM), variants=blank(colours=(*near, CREAM)).variants)
    marked = [one.colour for one in on(prove(design(facts()), None, [wide]), "MUG-325").colours if one.best]
    assert len(marked) == 2
    assert CREAM in marked


def test_as_many_are_marked_as_asked() -> None:
    proof = prove(design(in_ink(facts(3600, 4500), "#ffffff")), None, [SHIRT], Asked(best=2))
    assert sum(one.best for one in on(proof, "TEE").colours) == 2


def test_colours_that_cannot_be_had_are_not_judged() -> None:
    gone = replace(MUG, variants=tuple(v for v in MUG.variants if v.colour != "cream"))
    assert [one.colour for one in on(prove(design(facts()), None, [gone]), "MUG-325").colours] == [WHITE]


def test_art_that_is_wrong_itself_is_judged_nowhere() -> None:
    proof = prove(design(replace(facts(), ink_share=0.0, inks=(), outline=())), None, [MUG, SHIRT])
    assert proof.stopped
    assert proof.blanks == ()
    assert [one.code for one in all_findings(proof)] == ["no-ink"]


def test_sizes_repeat_a_finding_once_at_its_worst() -> None:
    areas = (
        PrintArea("front", 3000, 3600, 300, for_sizes=("M",)),
        PrintArea("front", 6000, 7200, 300, for_sizes=("XXL",)),
    )
    variants = tuple(BlankVariant("white", size, f"T-{size}", MUG.postage) for size in ("M", "XXL"))
    shirt = replace(SHIRT, areas=areas, variants=variants)
    proof = prove(design(in_ink(facts(2500, 3000), "#000000")), None, [shirt])
    assert [one.code for one in on(proof, "TEE").findings] == ["below-floor"]


def test_deep_facts_bring_their_checks() -> None:
    small = replace(art_facts(), lines=(replace(art_facts().lines[0], letter_px=20.0),))
    proof = prove(design(facts()), small, [MUG])
    assert "too-small" in [one.code for one in on(proof, "MUG-325").findings]
    assert on(proof, "MUG-325").stopped
    assert on(proof, "MUG-325").listable == ()


def test_words_are_read_from_pixels_and_engraved_in_one_tone() -> None:
    from test_lettering import lettered

    pixels = lettered("Oswald", "SEA SWIMMER", 260, "#141414")
    rows, columns = np.nonzero(pixels[:, :, 3])
    box = replace(facts().ink, left=int(columns.min()), top=int(rows.min()))
    box = replace(box, right=int(columns.max()) + 1, bottom=int(rows.max()) + 1)
    kept = unpack(measure_for_proof(pixels, box, TREES), TREES)
    art = replace(in_ink(facts(1800, 900), "#141414"), ink=box)
    wide = replace(FLASK, areas=(PrintArea("side", 1800, 700, 300),))
    blanks = [SHIRT, wide]
    read = read_looks(kept, looks_wanted(design(art), blanks))
    assert chances_from_json(chances_as_json(read)) == read
    proof = prove(design(art), kept.art, blanks, Asked(), read)
    chances = {one.colour.name: one.chance or 0.0 for one in on(proof, "TEE").colours}
    assert chances["white"] > 0.9
    assert chances["black"] < 0.3
    engraved = {one.colour.name: one.chance or 0.0 for one in on(proof, "FLASK").colours}
    assert min(engraved.values()) > 0.8


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        # A mug of 82 mm with its handle is 116 mm across and fills 84 % of the frame; art of 70 mm round it
        # shows 82 sin(70 / 82) = 61.8 mm.
        (Body(diameter_mm=82, height_mm=95), 61.8 * 0.84 / 116.4),
        (Body(diameter_mm=82, height_mm=200), 61.8 * 0.84 / 200),
        (Body(width_mm=500, height_mm=400), 70 * 0.84 / 500),
    ],
)
def test_share_of_a_picture_that_is_not_there(body: Body, expected: float) -> None:
    area = PrintArea("wrap", round(70 / 25.4 * 300), 1050, 300)
    thing = replace(MUG, body=body, areas=(area,))
    art = facts(3000, 3000)
    layout = lay_out(replace(art.ink, right=art.ink.left + 1400), thing, area)
    layout = replace(layout, placements=(replace(layout.placements[0], width_px=area.width_px),))
    assert art_share(thing, layout) == pytest.approx(expected, rel=0.01)
    assert art_px(thing, layout, 160) == round(expected * 160)


def test_a_blank_that_cannot_be_had_is_no_finding_of_a_design() -> None:
    """It is told once, of the blank: every design of a shop repeated it."""
    gone = replace(MUG, variants=tuple(replace(one, in_stock=False) for one in MUG.variants))
    (proof,) = prove(design(facts()), art_facts(), [gone]).blanks
    assert proof.findings == ()
    assert proof.stopped
    assert proof.listable == ()
