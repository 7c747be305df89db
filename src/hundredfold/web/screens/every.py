"""All screens; a new one is a line here, and in ``rendering.ROOMS`` where it is a room of its own."""

from starlette.routing import BaseRoute

from hundredfold.web.screens import (
    calendar,
    design,
    designs,
    first,
    history,
    mend,
    month,
    packs,
    pictures,
    review,
    undoing,
    working,
)

SCREENS: tuple[BaseRoute, ...] = (
    *month.ROUTES,
    *first.ROUTES,
    *designs.ROUTES,
    *design.ROUTES,
    *review.ROUTES,
    *calendar.ROUTES,
    *packs.ROUTES,
    *history.ROUTES,
    *mend.ROUTES,
    *working.ROUTES,
    *pictures.ROUTES,
    *undoing.ROUTES,
)
