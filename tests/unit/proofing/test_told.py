"""A hundred findings of a design are told as the few things they are."""

from dataclasses import replace

from proofing_subjects import MUG, SHIRT, art_facts, facts, in_ink

from hundredfold.designs.design import Design
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.proof import DesignProof, prove
from hundredfold.proofing.told import Told, told_of
from hundredfold.workshop.gathering import same_pixels

SLOGAN = Design("d1", "dip.png", in_ink(facts(3600, 4500), "#14213d"), "Dip", ())


def proof(letters_px: float = 400.0) -> DesignProof:
    lines = tuple(replace(line, letter_px=letters_px) for line in art_facts().lines)
    return prove(SLOGAN, replace(art_facts("#14213d"), lines=lines), [MUG, SHIRT])


def test_colours_are_listed_once_below_one_sentence() -> None:
    (told,) = told_of(proof())
    assert (told.finding.check, told.finding.code, told.count) == ("blank/outline-contrast", "lost", 2)
    (place,) = told.places
    assert set(place.colours) == {"navy", "black"}
    assert not place.every
    assert told.sentence().endswith(": Ceramic mug 325 ml in black and navy.")


def test_worst_first_and_every_finding_is_in_one_of_them() -> None:
    whole = proof(letters_px=40.0)
    told = told_of(whole)
    severities = [one.finding.severity for one in told]
    assert severities == sorted(severities, reverse=True)
    assert severities[0] is Severity.STOP
    assert sum(one.count for one in told) == len(whole.all_findings())


def test_a_blank_in_all_its_colours_is_named_without_them() -> None:
    pale = replace(SLOGAN, facts=in_ink(SLOGAN.facts, "#ffffff"))
    told = told_of(prove(pale, art_facts("#ffffff"), [MUG]))
    assert told[0].sentence().endswith(": every colour of Ceramic mug 325 ml.")


def test_many_blanks_are_cut_short_where_asked() -> None:
    one = told_of(proof())[0]
    many = Told(one.finding, one.places * 5, 10)
    assert many.sentence(most=2).count("navy") == 2
    assert many.sentence(most=2).endswith("; 3 more blanks.")
    assert many.sentence(most=4).endswith("; 1 more blank.")


def test_one_picture_in_two_files_is_told_of_the_second() -> None:
    again = replace(SLOGAN, id="d2", path="dip copy.webp")
    other = replace(SLOGAN, id="d3", path="other.png", facts=replace(SLOGAN.facts, pixel_digest="q" * 64))
    (found,) = same_pixels([SLOGAN, again, other])
    assert (found.check, found.code, found.item) == ("designs/copy", "same-pixels", "dip copy.webp")
    assert "dip.png" in found.what
