"""Which files a listing's rows name, and which size its pictures show."""

from dataclasses import replace

from goods import channel, design, mug, shirt, words_of

from hundredfold.catalogue.blanks import Blank, Body, SizeMeasures
from hundredfold.catalogue.channels import LengthUnit
from hundredfold.ledger.keys import ListingKey
from hundredfold.mockups.registry import Role
from hundredfold.placement.layout import lay_out
from hundredfold.workshop.listing.offers import Offer, Proof
from hundredfold.workshop.steps.making import Groups, Pieces, pieces_of
from hundredfold.workshop.steps.pictures import PictureWanted

SMALL, GROUPS = "digest", Groups("prints", "pictures")


def pieces(
    blank: Blank,
    unit: LengthUnit = LengthUnit.MM,
    path: str = "designs/proud-bee.png",
    most: int = 3,
    colours: tuple[str, ...] = ("black",),
) -> Pieces:
    art, market = replace(design(), path=path), channel()
    market = replace(market, pictures=replace(market.pictures, max_count=most, lengths=unit))
    sizes = dict.fromkeys(variant.size for variant in blank.variants)
    layouts = {size: lay_out(art.facts.ink, blank, blank.areas_for(size)[0]) for size in sizes}
    proof = Proof(art, blank, layouts, colours, colours)
    key = ListingKey(market.code, art.id, blank.code)
    return pieces_of(Offer(key, proof, market, colours, words_of(art, blank, market), {}), SMALL, GROUPS)


def shown(made: Pieces) -> dict[Role, tuple[str, ...]]:
    """The sizes whose print area each picture shows, by role."""
    wanted = [task.wanted for task in made.tasks if isinstance(task.wanted, PictureWanted)]
    return {one.shot.role: one.shot.area.for_sizes for one in wanted}


def test_pictures_show_the_size_that_the_body_is_of() -> None:
    of_l = replace(shirt(), body=Body(width_mm=560, height_mm=740, size="L"))
    every = (Role.MAIN, Role.CLOSE_UP, Role.SIZE)
    assert shown(pieces(of_l)) == dict.fromkeys(every, ("L",))
    assert shown(pieces(shirt())) == dict.fromkeys(every, ("S",))  # not told: the first
    assert {len(names) for names in pieces(of_l).artwork.values()} == {1}  # every size its own print file


def test_what_the_size_picture_says_is_in_its_recipe_and_nowhere_else() -> None:
    plain = replace(shirt(), body=Body(width_mm=560, height_mm=740, size="L"))
    told = replace(plain, sizes=(SizeMeasures("S", width_mm=480), SizeMeasures("L", width_mm=560)))

    def keys(made: Pieces) -> dict[str, str]:
        return {task.item: task.recipe.key() for task in made.tasks}

    first, sized, inches = keys(pieces(plain)), keys(pieces(told)), keys(pieces(told, LengthUnit.INCH))
    changed = [item for item in first if sized[item] != first[item]]
    assert len(changed) == 1
    assert "size picture" in changed[0]
    assert changed[0].endswith("in mm")
    assert [item for item in inches if item not in sized] == [changed[0].removesuffix("mm") + "in"]
    assert all(inches[item] == sized[item] for item in inches.keys() & sized.keys())


def test_no_file_name_begins_with_a_mark_that_a_spreadsheet_takes_for_a_formula() -> None:
    for path in ("designs/日本語 水泳.svg", "designs/-=+@.svg", "designs/Ωμέγα.png"):
        names = [piece.member for piece in pieces(shirt(), path=path).pieces]
        assert names
        assert all(name[0].isalnum() and name[0].isascii() for name in names)


def in_colours(*codes: str) -> Blank:
    """A mug in these colours."""
    plain = mug()
    colours = tuple(replace(plain.colours[0], code=code, name=code.title()) for code in codes)
    variants = tuple(replace(plain.variants[0], colour=code, partner_code=code) for code in codes)
    return replace(plain, colours=colours, variants=variants)


def roles(made: Pieces) -> dict[str, list[str]]:
    return {colour: [one.role for one in some] for colour, some in made.pictures.items()}


def test_each_colour_shows_itself() -> None:
    made = pieces(in_colours("white", "navy", "moss"), most=3, colours=("white", "navy", "moss"))
    assert list(roles(made).values()) == [["main", "other side", "size"]] * 3
    for colour, pictures in made.pictures.items():
        assert all(f"-{colour}" in one.file for one in pictures)


def test_the_set_grows_with_what_a_channel_takes() -> None:
    codes = ("white", "navy", "moss", "rust")
    others = ["another colour"] * 3
    full = ["main", "other side", "close-up", "size", "all colours"]
    for most, expected in ((1, full[:1]), (5, full), (8, full + others), (50, full + others)):
        made = pieces(in_colours(*codes), most=most, colours=codes)
        assert roles(made) == dict.fromkeys(codes, expected)
        files = {one.file for pictures in made.pictures.values() for one in pictures}
        assert files <= {piece.member for piece in made.pieces}  # each is made
    together = {pictures[4].file for pictures in made.pictures.values()}
    assert len(together) == 1
    assert roles(pieces(in_colours("white"), most=8, colours=("white",))) == {"white": full[:-1]}
