"""Checks of a blank as it is described, before any art: what may be found, as plain data."""

from hundredfold.kernel.checks import COMMON, CheckRecord
from hundredfold.kernel.findings import Severity

_BLANK = "a blank, before any art"

PROCESS_AND_MATERIAL = CheckRecord(
    id="catalogue/process-and-material",
    title="The blank's material can take its process.",
    looks_at=_BLANK,
    codes={"cannot-take": Severity.STOP},
    why="Dye sublimation bonds to polyester and polyester coatings only, a laser marks coats and metal "
    "only. On any other material the print washes out or never appears.",
    example="A cotton tote bag entered with the process sublimation.",
    fix="Correct the process or the material in the blank's file.",
    known_limits="Goes by the names of material and process in the blank's file; it cannot see the goods.",
    source=COMMON,
)
NOTHING_TO_SELL = CheckRecord(
    id="catalogue/nothing-to-sell",
    title="At least one variant of the blank can be sold now.",
    looks_at=_BLANK,
    codes={"none-offered": Severity.STOP},
    why="A blank whose every variant is out of stock or discontinued cannot be delivered, so it is not "
    "listed.",
    example="The partner's newest list marks all sizes of a bag as discontinued.",
    fix="Import the partner's newest list, or take the blank out of the channel.",
    known_limits="Knows only what the last import said.",
    source="follows from the blank's variants; no threshold",
)
WRAP_AND_GIRTH = CheckRecord(
    id="catalogue/wrap-and-girth",
    title="No print area is wider than the way round the body.",
    looks_at=_BLANK,
    codes={"wider-than-round": Severity.WARN},
    why="A wrap wider than the way round the body prints over itself, or shows that pixels, dpi or diameter "
    "were entered wrongly.",
    example="A wrap of 300 mm on a mug of 82 mm, which is 258 mm round.",
    fix="Check the area's pixels and dpi and the body's diameter against the partner's sheet.",
    known_limits="Tapered sides are left out.",
    source="the girth of a cylinder, pi times its diameter",
)
CAPACITY_AND_BODY = CheckRecord(
    id="catalogue/capacity-and-body",
    title="The stated capacity fits inside the body.",
    looks_at=_BLANK,
    codes={"more-than-outside": Severity.WARN},
    why="A listing that promises more than the cup can hold is returned, and rightly so.",
    example="445 ml stated for a mug whose outside encloses 390 ml.",
    fix="Check diameter, height and capacity against the partner's sheet.",
    known_limits="Compares with a cylinder round the body; handles and bulges are not modelled.",
    source="the volume of a cylinder",
)
BARE_MATERIAL = CheckRecord(
    id="catalogue/bare-material",
    title="No colour is bare glass or bare metal.",
    looks_at=_BLANK,
    codes={"shown-as-coat": Severity.NOTE},
    why="Pictures are made for coats of a colour. Clear glass shows what is behind it and bare steel what is "
    "around it; a grey coat in their place promises other goods.",
    example="A tumbler in a colour called Stainless.",
    fix="Look at the pictures, and use the partner's own for such a colour.",
    known_limits="Goes by a few English words in the colour's name; steel and silver are not among them, "
    "since coats are called so.",
    source=COMMON,
)
BORROWED_MEASURES = CheckRecord(
    id="catalogue/borrowed-measures",
    title="Every measure of the blank is its own.",
    looks_at=_BLANK,
    codes={"not-measured": Severity.WARN},
    why="What a price list leaves out is lent by a like blank, so that art can be placed and pictured. Its "
    "measures are a guess about these goods: a wrong diameter or a wrong distance from the rim misplaces the "
    "art, and a buyer who was told another's height sends the goods back.",
    example="A mug of 300 ml added with --like MUG-325, whose diameter is then the 325 ml mug's.",
    fix="Measure one, or ask the partner; write it in [body], and take its name out of `borrowed`.",
    known_limits="Buyers are told no borrowed measure; placing and pictures go by it until it is replaced.",
    source="follows from the blank's file; no threshold",
)
MEASURES_OF_SIZES = CheckRecord(
    id="catalogue/measures-of-sizes",
    title="Goods in several sizes say of which size their measures are.",
    looks_at=_BLANK,
    codes={"size-unknown": Severity.NOTE},
    why="One listing serves every size. A picture that tells one size's measures for all of them brings "
    "goods back.",
    example="A shirt from S to XXL whose file gives a width of 530 mm.",
    fix="Name the size in [body], and give every size its measures in [sizes].",
    known_limits="Tapered goods are left out: their print areas tell each size's diameter.",
    source="follows from the blank's sizes and measures; no threshold",
)
