"""Each line of words is judged by its own ink: the rest of the art does not speak for it."""

import json
from dataclasses import replace

import numpy as np
import pytest
from drawn_files import CREAM, NAVY, Drawing
from proofing_subjects import BLACK, MUG, RED, SHIRT, WHITE, art_facts, facts, in_ink, placed
from proofing_subjects import NAVY as NAVY_CLOTH

from hundredfold.catalogue.blanks import BlankColour
from hundredfold.designs.design import Design
from hundredfold.designs.facts import Box
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.proofing.art.facts import (
    ArtFacts,
    EdgeWindow,
    TextLine,
    art_facts_as_json,
    art_facts_from_json,
)
from hundredfold.proofing.art.packing import measure_for_proof, unpack, unpack_art
from hundredfold.proofing.designproof import prove, ranked
from hundredfold.proofing.grouping import grouped_findings
from hundredfold.proofing.profile import STANDARD, Limits, Profile
from hundredfold.proofing.readings import Look
from hundredfold.proofing.runchecks import judge
from hundredfold.proofing.sheet.ring import ringed
from hundredfold.proofing.subjects import Evidence
from hundredfold.proofing.wordlines import line_standings, place_of
from hundredfold.workshop.steps.readingtrees import reading_trees

TREES = reading_trees()
ART = in_ink(facts(3600, 4500), "#b01e2e")
YELLOW = "#f2c230"


def line(ink: str, top: int, share: float = 1.0, sure: float = 0.99) -> TextLine:
    windows = (EdgeWindow(ink, ink, share),) if share else ()
    return TextLine(400, top, 2400, top + 500, 400.0, 9, sure, windows)


def art(*lines: TextLine, rest: str = YELLOW, lost_rest: str = "", share: float = 0.0) -> ArtFacts:
    """Lines of words beside a rest that is most of the outline."""
    windows = [EdgeWindow(rest, rest, 1 - share)]
    return replace(art_facts(), windows=(*windows, EdgeWindow(lost_rest or rest, lost_rest or rest, share)),
                   lines=lines)  # fmt: skip


def found(deep: ArtFacts, colour: BlankColour, limits: Limits = STANDARD.limits) -> list[Finding]:
    area = placed(ART, SHIRT)
    told = judge("a.png", ART, SHIRT, colour, area, evidence=Evidence(deep), profile=Profile(limits))
    return [one for one in told if one.check == "blank/words-contrast"]


NAVY_LINE, YELLOW_LINE, CREAM_LINE = line("#1b2a4e", 900), line(YELLOW, 2000), line("#f6efe0", 3200)


def test_a_lost_line_is_a_stop_that_says_which_line_and_where() -> None:
    (one,) = found(art(YELLOW_LINE, NAVY_LINE, CREAM_LINE), NAVY_CLOTH)
    assert (one.check, one.code, one.severity) == ("blank/words-contrast", "lost", Severity.STOP)
    assert one.what.startswith("the top line of words is lost on this colour (1.")
    ink = ART.ink
    assert one.numbers["top"] == pytest.approx((900 - ink.top) / ink.height, abs=0.001)
    assert one.numbers["right"] == pytest.approx((2400 - ink.left) / ink.width, abs=0.001)
    assert one.numbers["lost_share"] == 1.0


def test_a_line_that_stands_out_or_stands_on_a_shape_of_its_own_is_let_pass() -> None:
    assert not found(art(YELLOW_LINE, CREAM_LINE), NAVY_CLOTH)
    assert not found(art(line("#1b2a4e", 900, share=0.0), YELLOW_LINE), NAVY_CLOTH)


def test_a_part_of_a_line_is_a_warning() -> None:
    both = replace(YELLOW_LINE, windows=(EdgeWindow(YELLOW, YELLOW, 0.7), *line("#1b2a4e", 0, 0.3).windows))
    (one,) = found(art(both), NAVY_CLOTH)
    assert (one.code, one.severity) == ("part-lost", Severity.WARN)
    assert "the only line of words is lost in part" in one.what


def test_what_may_be_ornament_is_a_stop_only_with_much_of_the_art() -> None:
    maybe = line("#1b2a4e", 900, sure=0.0)
    (little,) = found(art(maybe, YELLOW_LINE), NAVY_CLOTH)
    assert little.severity is Severity.WARN
    assert little.what.startswith("what may be the top line of words is lost")
    (much,) = found(art(maybe, YELLOW_LINE, lost_rest="#1b2a4e", share=0.35), NAVY_CLOTH)
    assert (much.code, much.severity) == ("lost", Severity.STOP)


def test_dark_inks_run_together_where_light_ones_of_that_contrast_are_faint() -> None:
    """About 1.4 both, dark green on black and orange on mustard, by the WCAG formula."""
    dark = line_standings([line("#1f3d2b", 0)], Look("#202022", False, "", 0), Limits())[0]
    light = line_standings([line("#e4762b", 0)], Look("#dcaa38", False, "", 0), Limits())[0]
    assert dark.contrast == pytest.approx(light.contrast, abs=0.07)
    assert (dark.lost, light.lost) == (1.0, 0.0)
    assert light.faint(Limits())


def test_a_changed_limit_judges_the_same_facts_anew() -> None:
    (one,) = found(art(line("#d88878", 900), rest="#1b2a4e"), WHITE, Limits(faint_words_contrast=3.5))
    assert (one.code, one.severity) == ("weak", Severity.WARN)
    (one,) = found(
        art(line("#d88878", 900), rest="#1b2a4e"),
        WHITE,
        Limits(lost_words_contrast=3.5, lost_words_difference=60),
    )
    assert one.code == "lost"


def test_dye_on_cream_loses_cream_words() -> None:
    deep = art(line("#fbf6ea", 900), line("#1b2a4e", 2000), rest="#1b2a4e")
    told = judge("a.png", ART, MUG, MUG.colours[1], placed(ART, MUG), evidence=Evidence(deep))
    (one,) = [one for one in told if one.check == "blank/words-contrast"]
    assert one.code == "lost"
    assert "no white ink" in one.what


def test_dark_and_light_lines_are_told_apart() -> None:
    proof = prove(Design("d1", "a.png", ART, "A", ()), art(NAVY_LINE, CREAM_LINE), [SHIRT])
    told = {t.finding.numbers["where"]: t.places[0].colours for t in grouped_findings(proof)}
    assert set(told["the top line of words"]) == {"navy", "black"}
    assert told["the bottom line of words"] == ("white",)


def test_a_colour_with_a_faint_line_is_best_only_where_none_is_clean() -> None:
    faint = art(line("#e0a83a", 900), rest="#1b2a4e")
    shirt = replace(SHIRT, colours=(WHITE, RED), variants=(SHIRT.variants[0], SHIRT.variants[3]))
    limits = Profile(Limits(faint_words_contrast=2.5))
    design = Design("d1", "a.png", in_ink(ART, "#e0a83a"), "A", ())
    (blank,) = prove(design, faint, [shirt]).blanks
    colours = [replace(one, findings=()) for one in blank.colours]
    weak = replace(colours[0], findings=tuple(found(faint, WHITE, limits.limits)))
    assert weak.faint
    assert [one.best for one in ranked([weak, colours[1]], 2)] == [True, False]
    assert ranked([weak, colours[1]], 2)[0].colour == colours[1].colour
    assert [one.best for one in ranked([weak], 2)] == [True]


def test_places_are_counted_by_rows() -> None:
    beside = replace(YELLOW_LINE, left=2500, right=3000)
    lines = [NAVY_LINE, YELLOW_LINE, beside, CREAM_LINE]
    assert [place_of(one, lines) for one in lines] == [
        "the top line of words", "the middle line of words", "the middle line of words",
        "the bottom line of words",
    ]  # fmt: skip
    four = [line(YELLOW, top) for top in (0, 1000, 2000, 3000)]
    assert place_of(four[2], four) == "line 3 of 4 of the words"


def measured(drawing: Drawing) -> ArtFacts:
    pixels = drawing.pixels
    rows, columns = (np.flatnonzero((pixels[..., 3] > 127).any(axis)) for axis in (1, 0))
    ink = Box(int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1)
    return unpack_art(measure_for_proof(pixels, ink, TREES))


def test_the_ink_of_each_line_is_measured_where_it_ends_at_the_blank() -> None:
    drawing = Drawing(1000, 800).words("MUDDY BOOTS", 60, 800, NAVY)
    drawing.box(60, 455, 940, 690, NAVY).words("HAPPY HEART", 480, 760, CREAM)
    bare, on_panel = measured(drawing).lines
    assert sum(one.share for one in bare.windows) == pytest.approx(1, abs=0.01)
    assert {one.dark for one in bare.windows} == {NAVY}
    assert on_panel.windows == ()
    assert min(bare.sure, on_panel.sure) > 0.8


def test_a_word_in_another_ink_is_of_its_line() -> None:
    drawing = Drawing(800, 400).words("COLD", 60, 400, NAVY, x=240).words("SEA", 60, 280, YELLOW, x=620)
    (one,) = measured(drawing).lines
    shares = {window.dark: window.share for window in one.windows}
    assert shares[NAVY] == pytest.approx(0.58, abs=0.08)
    assert shares[YELLOW] == pytest.approx(0.42, abs=0.08)


def test_lines_survive_json() -> None:
    deep = art(NAVY_LINE, CREAM_LINE)
    assert art_facts_from_json(json.dumps(json.loads(art_facts_as_json(deep)))) == deep
    packed = measure_for_proof(
        Drawing(600, 300).words("MUDDY BOOTS", 60, 500, NAVY).pixels, Box(50, 60, 550, 200), TREES
    )
    assert unpack(packed, TREES).art == unpack_art(packed)


def test_the_ring_is_drawn_round_the_words_of_a_finding() -> None:
    (one,) = found(art(NAVY_LINE, CREAM_LINE), BLACK)
    plain = np.full((500, 400, 4), 255, np.uint8)
    drawn = ringed(plain, [one])
    ys, xs = np.nonzero((drawn != plain).any(axis=2))
    sides = [float(one.numbers[side]) for side in ("left", "top", "right", "bottom")]
    assert xs.min() < sides[0] * 400 < sides[2] * 400 < xs.max()
    assert ys.min() < sides[1] * 500 < sides[3] * 500 < ys.max()
    assert ringed(plain, []) is plain
