"""A hundred findings of a design are told as the few things they are."""

from dataclasses import replace

from proofing_subjects import MUG, SHIRT, all_findings, art_facts, facts, in_ink

from hundredfold.designs.design import Design
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.art.facts import ArtFacts
from hundredfold.proofing.designproof import DesignProof, prove
from hundredfold.proofing.grouping import GroupedFinding, grouped_findings
from hundredfold.workshop.steps.gathering import same_pixels

SLOGAN = Design("d1", "dip.png", in_ink(facts(3600, 4500), "#14213d"), "Dip", ())


def small_art(letters_px: float) -> ArtFacts:
    lines = tuple(replace(line, letter_px=letters_px) for line in art_facts().lines)
    return replace(art_facts("#14213d"), lines=lines)


def proof(letters_px: float = 400.0) -> DesignProof:
    return prove(SLOGAN, small_art(letters_px), [MUG, SHIRT])


def test_colours_are_listed_once_below_one_sentence() -> None:
    (told,) = grouped_findings(proof())
    assert (told.finding.check, told.finding.code, told.count) == ("blank/outline-contrast", "lost", 2)
    (place,) = told.places
    assert set(place.colours) == {"navy", "black"}
    assert not place.every
    assert "Ceramic mug 325 ml in black" in told.sentence()
    assert "Ceramic mug 325 ml in navy" in told.sentence()


def test_worst_first_and_every_finding_is_in_one_of_them() -> None:
    whole = proof(letters_px=40.0)
    told = grouped_findings(whole)
    severities = [one.finding.severity for one in told]
    assert severities == sorted(severities, reverse=True)
    assert severities[0] is Severity.STOP
    assert sum(one.count for one in told) == len(all_findings(whole))


def test_a_blank_in_all_its_colours_is_named_without_them() -> None:
    pale = replace(SLOGAN, facts=in_ink(SLOGAN.facts, "#ffffff"))
    told = grouped_findings(prove(pale, art_facts("#ffffff"), [MUG]))
    assert told[0].sentence().endswith(": every colour of Ceramic mug 325 ml.")


def test_many_blanks_are_cut_short_where_asked() -> None:
    one = grouped_findings(proof())[0]
    many = GroupedFinding(one.finding, one.places * 5, 10)
    assert many.sentence(most=2).count("navy") == 2
    assert many.sentence(most=2).endswith("; 3 more blanks.")
    assert many.sentence(most=4).endswith("; 1 more blank.")


def test_one_picture_in_two_files_is_told_of_the_second() -> None:
    again = replace(SLOGAN, id="d2", path="dip copy.webp")
    other = replace(SLOGAN, id="d3", path="other.png", facts=replace(SLOGAN.facts, pixel_digest="q" * 64))
    (found,) = same_pixels([SLOGAN, again, other])
    assert (found.check, found.code, found.item) == ("designs/copy", "same-pixels", "dip copy.webp")
    assert "dip.png" in found.what


def test_one_places_number_is_not_told_of_all() -> None:
    tiny = replace(MUG, code="TINY", name="Tiny mug", areas=(replace(MUG.areas[0], dpi=330),))
    (told,) = (
        one
        for one in grouped_findings(prove(SLOGAN, small_art(64.0), [MUG, tiny]))
        if one.finding.code == "small"
    )
    least = {
        one.blank.name: f"{f.numbers['letters_mm']:.1f} mm"
        for one in prove(SLOGAN, small_art(64.0), [MUG, tiny]).blanks
        for f in one.findings
        if f.code == "small"
    }
    assert len(set(least.values())) == 2
    assert f"{least['Tiny mug']} tall" in told.sentence()
    assert told.sentence().endswith(f", at worst on Tiny mug; also on {MUG.name}.")


def test_of_a_blanks_colours_the_worst_gives_its_number() -> None:
    told = grouped_findings(proof())[0]
    black = next(f for f in all_findings(proof()) if f.code == "lost" and "black" in f.item)
    navy = next(f for f in all_findings(proof()) if f.code == "lost" and "navy" in f.item)
    assert black.what != navy.what
    assert told.at in (f"at worst on {MUG.name} in black", f"at worst on {MUG.name} in navy")
    (other,) = {"black", "navy"} - {told.at.rpartition(" ")[2]}
    assert told.sentence().endswith(f"{told.at}; also on {MUG.name} in {other}.")
    assert told.finding.what == (black if "black" in told.at else navy).what
