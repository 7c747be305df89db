"""Checks of a blank before any art: the catalogue finds them, here they are explained."""

from collections.abc import Iterator

from hundredfold.catalogue.suitability import blank_findings
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.profile import COMMON
from hundredfold.proofing.registry import Check, Hit, check
from hundredfold.proofing.subjects import BlankSubject


def _of_catalogue(name: str, title: str, code: str, severity: Severity, **told: str) -> Check[BlankSubject]:
    """A check whose finding the catalogue makes; ``told`` is what ``check`` asks of each."""

    def found(bare: BlankSubject) -> Iterator[Hit]:
        for finding in blank_findings(bare.blank):
            if finding.check == name:
                yield Hit(finding.code, finding.what, finding.fix, finding.numbers)

    found.__doc__ = title
    return check(name, subject=BlankSubject, codes={code: severity}, limits=(), **told)(found)


process_and_material = _of_catalogue(
    "catalogue/process-and-material",
    "The blank's material can take its process.",
    "cannot-take",
    Severity.STOP,
    why="Dye sublimation bonds to polyester and polyester coatings only, a laser marks coats and metal "
    "only. On any other material the print washes out or never appears.",
    example="A cotton tote bag entered with the process sublimation.",
    fix="Correct the process or the material in the blank's file.",
    known_limits="Goes by the names of material and process in the blank's file; it cannot see the goods.",
    source=COMMON,
)
nothing_to_sell = _of_catalogue(
    "catalogue/nothing-to-sell",
    "At least one variant of the blank can be sold now.",
    "none-offered",
    Severity.STOP,
    why="A blank whose every variant is out of stock or discontinued cannot be delivered, so it is not "
    "listed.",
    example="The partner's newest list marks all sizes of a bag as discontinued.",
    fix="Import the partner's newest list, or take the blank out of the channel.",
    known_limits="Knows only what the last import said.",
    source="follows from the blank's variants; no threshold",
)
wrap_and_girth = _of_catalogue(
    "catalogue/wrap-and-girth",
    "No print area is wider than the way round the body.",
    "wider-than-round",
    Severity.WARN,
    why="A wrap wider than the way round the body prints over itself, or shows that pixels, dpi or diameter "
    "were entered wrongly.",
    example="A wrap of 300 mm on a mug of 82 mm, which is 258 mm round.",
    fix="Check the area's pixels and dpi and the body's diameter against the partner's sheet.",
    known_limits="Tapered sides are left out.",
    source="the girth of a cylinder, pi times its diameter",
)
capacity_and_body = _of_catalogue(
    "catalogue/capacity-and-body",
    "The stated capacity fits inside the body.",
    "more-than-outside",
    Severity.WARN,
    why="A listing that promises more than the cup can hold is returned, and rightly so.",
    example="445 ml stated for a mug whose outside encloses 390 ml.",
    fix="Check diameter, height and capacity against the partner's sheet.",
    known_limits="Compares with a cylinder round the body; handles and bulges are not modelled.",
    source="the volume of a cylinder",
)
bare_material = _of_catalogue(
    "catalogue/bare-material",
    "No colour is bare glass or bare metal.",
    "shown-as-coat",
    Severity.NOTE,
    why="Pictures are made for coats of a colour. Clear glass shows what is behind it and bare steel what is "
    "around it; a grey coat in their place promises other goods.",
    example="A tumbler in a colour called Stainless.",
    fix="Look at the pictures, and use the partner's own for such a colour.",
    known_limits="Goes by a few English words in the colour's name; steel and silver are not among them, "
    "since coats are called so.",
    source=COMMON,
)
measures_of_sizes = _of_catalogue(
    "catalogue/measures-of-sizes",
    "Goods in several sizes say of which size their measures are.",
    "size-unknown",
    Severity.NOTE,
    why="One listing serves every size. A picture that tells one size's measures for all of them brings "
    "goods back.",
    example="A shirt from S to XXL whose file gives a width of 530 mm.",
    fix="Name the size in [body], and give every size its measures in [sizes].",
    known_limits="Tapered goods are left out: their print areas tell each size's diameter.",
    source="follows from the blank's sizes and measures; no threshold",
)
