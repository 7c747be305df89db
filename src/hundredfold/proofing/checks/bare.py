"""Checks of a blank before any art: the catalogue finds them, here they are explained."""

from collections.abc import Iterator

from hundredfold.catalogue.suitability import blank_findings
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.profile import COMMON
from hundredfold.proofing.registry import Check, Hit, check
from hundredfold.proofing.subjects import Bare


def _of_catalogue(name: str, title: str, code: str, severity: Severity, **told: str) -> Check[Bare]:
    """A check whose finding the catalogue makes; ``told`` is what ``check`` asks of each."""

    def found(bare: Bare) -> Iterator[Hit]:
        for finding in blank_findings(bare.blank):
            if finding.check == name:
                yield Hit(finding.code, finding.what, finding.fix, finding.numbers)

    found.__doc__ = title
    return check(name, subject=Bare, codes={code: severity}, limits=(), **told)(found)


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
