"""What a check looks at, why it matters, and how to mend what it finds."""

from hundredfold.kernel.errors import ShopError
from hundredfold.web.asking import Ask, Shown, screen
from hundredfold.workshop.proof.everycheck import BY_ID, EVERY_CHECK


def checks(ask: Ask) -> Shown:
    """All checks, by what they look at."""
    areas: dict[str, list[object]] = {}
    for one in EVERY_CHECK:
        areas.setdefault(one.id.partition("/")[0], []).append(one)
    return Shown("checks.html", {"areas": areas, "count": len(EVERY_CHECK)})


def check(ask: Ask) -> Shown:
    """One check."""
    found = BY_ID.get(f"{ask.parts['area']}/{ask.parts['check']}")
    if found is None:
        raise ShopError("unknown-check", "no check has this name", "see all checks")
    return Shown("check.html", {"check": found})


ROUTES = (screen("/checks", checks), screen("/checks/{area}/{check}", check))
