"""Checks of a blank before any art: the catalogue finds them, here they are explained."""

from collections.abc import Iterator

from hundredfold.catalogue.suitability import blank_findings
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.profile import COMMON
from hundredfold.proofing.registry import Hit, check
from hundredfold.proofing.subjects import Bare


def _found(bare: Bare, check_id: str) -> Iterator[Hit]:
    for finding in blank_findings(bare.blank):
        if finding.check == check_id:
            yield Hit(finding.code, finding.what, finding.fix, finding.numbers)


@check(
    "catalogue/process-and-material",
    subject=Bare,
    codes={"cannot-take": Severity.STOP},
    why="Dye sublimation bonds to polyester and polyester coatings only, a laser marks coats and metal "
    "only. On any "
    "other material the print washes out or never appears.",
    example="A cotton tote bag entered with the process sublimation.",
    fix="Correct the process or the material in the blank's file.",
    known_limits="Goes by the names of material and process in the blank's file; it cannot see the goods.",
    source=COMMON,
)
def process_and_material(bare: Bare) -> Iterator[Hit]:
    """The blank's material can take its process."""
    yield from _found(bare, "catalogue/process-and-material")


@check(
    "catalogue/nothing-to-sell",
    subject=Bare,
    codes={"none-offered": Severity.STOP},
    why="A blank whose every variant is out of stock or discontinued cannot be delivered, so it is not "
    "listed.",
    example="The partner's newest list marks all sizes of a bag as discontinued.",
    fix="Import the partner's newest list, or take the blank out of the channel.",
    known_limits="Knows only what the last import said.",
    source="follows from the blank's variants; no threshold",
)
def nothing_to_sell(bare: Bare) -> Iterator[Hit]:
    """At least one variant of the blank can be sold now."""
    yield from _found(bare, "catalogue/nothing-to-sell")


@check(
    "catalogue/wrap-and-girth",
    subject=Bare,
    codes={"wider-than-round": Severity.WARN},
    why="A wrap wider than the way round the body prints over itself, or shows that pixels, dpi or "
    "diameter were "
    "entered wrongly.",
    example="A wrap of 300 mm on a mug of 82 mm, which is 258 mm round.",
    fix="Check the area's pixels and dpi and the body's diameter against the partner's sheet.",
    known_limits="Tapered sides are left out.",
    source="the girth of a cylinder, pi times its diameter",
)
def wrap_and_girth(bare: Bare) -> Iterator[Hit]:
    """No print area is wider than the way round the body."""
    yield from _found(bare, "catalogue/wrap-and-girth")


@check(
    "catalogue/capacity-and-body",
    subject=Bare,
    codes={"more-than-outside": Severity.WARN},
    why="A listing that promises more than the cup can hold is returned, and rightly so.",
    example="445 ml stated for a mug whose outside encloses 390 ml.",
    fix="Check diameter, height and capacity against the partner's sheet.",
    known_limits="Compares with a cylinder round the body; handles and bulges are not modelled.",
    source="the volume of a cylinder",
)
def capacity_and_body(bare: Bare) -> Iterator[Hit]:
    """The stated capacity fits inside the body."""
    yield from _found(bare, "catalogue/capacity-and-body")
