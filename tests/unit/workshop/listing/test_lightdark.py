"""Of the light and the dark version of a row, each colour of a blank goes to the better one alone."""

from dataclasses import replace

from goods import design, mug

from hundredfold.catalogue.blanks import BlankColour
from hundredfold.kernel.colour import Srgb
from hundredfold.ledger.keys import ListingKey
from hundredfold.ledger.state import Listed, Standing
from hundredfold.workshop.listing.lightdark import better_versions
from hundredfold.workshop.listing.offers import Proof

SHADES = {"white": "#ffffff", "sand": "#d9c7a5", "grey": "#b5b5b5", "navy": "#1b2a4e", "black": "#111111"}
BLANK = replace(mug(), colours=tuple(BlankColour(c, c, Srgb.parse(shade)) for c, shade in SHADES.items()))


def proof(name: str, version: str, row: str = "clubs.csv 2 badge", **scores: float) -> Proof:
    of = replace(design(name, "proud beekeeper"), row=row, version=version)
    colours = tuple(sorted(scores, key=lambda colour: -scores[colour]))
    return Proof(of, BLANK, {}, colours, colours[:2], scores)


def split(*proved: Proof, listed: dict[ListingKey, Listed] | None = None) -> list[tuple[str, ...]]:
    return [one.colours for one in better_versions(proved, listed or {})]


def test_each_colour_goes_to_the_better_version() -> None:
    light = proof("bee", "light", white=0.9, sand=0.8, navy=0.4)
    dark = proof("bee-dark", "dark", navy=0.9, black=0.8, sand=0.3)
    assert split(light, dark) == [("white", "sand"), ("navy", "black")]
    assert split(dark, light) == [("navy", "black"), ("white", "sand")]


def test_near_scores_do_not_split_a_blank() -> None:
    """The version for such goods stays unless the other is clearly better."""
    light = proof("bee", "light", white=0.80, sand=0.85, grey=0.5, navy=0.85)
    dark = proof("bee-dark", "dark", white=0.85, sand=0.80, grey=0.7, navy=0.80)
    assert split(light, dark) == [("sand", "white"), ("navy", "grey")]


def test_rows_and_designs_of_their_own_do_not_compete() -> None:
    light = proof("bee", "light", white=0.9)
    other, own = proof("hive", "dark", "clubs.csv 3 badge", white=1.0), proof("drawn", "", "", white=1.0)
    again = proof("drawn-too", "", "", white=0.5)
    assert split(light, other, own, again) == [("white",)] * 4


def test_a_version_whose_best_went_to_the_other_has_its_next_best() -> None:
    light = proof("bee", "light", white=0.7, sand=0.6, grey=0.5)
    dark = proof("bee-dark", "dark", white=1.0, sand=0.9, grey=0.4)
    assert [one.best for one in better_versions((light, dark), {})] == [("grey",), ("white", "sand")]


def test_a_colour_that_is_out_stays_where_it_is() -> None:
    light, dark = proof("bee", "light", navy=0.4), proof("bee-dark", "dark", navy=0.9)
    key = ListingKey("quayside", light.design.id, BLANK.code)
    live = Listed(Standing.LIVE, 1, ("navy",))
    assert split(light, dark, listed={key: live}) == [("navy",), ()]
    assert split(light, dark, listed={key: replace(live, standing=Standing.ENDED)}) == [(), ("navy",)]
