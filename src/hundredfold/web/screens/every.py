"""All screens; a new one is a line here, and in ``rendering.ROOMS`` where it is a room of its own."""

from starlette.routing import BaseRoute

from hundredfold.web.screens import (
    blanks,
    calendar,
    channels,
    design,
    designs,
    explaining,
    first,
    history,
    layouts,
    mend,
    month,
    packs,
    pictures,
    prices,
    review,
    undoing,
    words,
    working,
)

SCREENS: tuple[BaseRoute, ...] = (
    *month.ROUTES,
    *first.ROUTES,
    *designs.ROUTES,
    *design.ROUTES,
    *words.ROUTES,
    *layouts.ROUTES,
    *review.ROUTES,
    *calendar.ROUTES,
    *packs.ROUTES,
    *prices.ROUTES,
    *blanks.ROUTES,
    *channels.ROUTES,
    *history.ROUTES,
    *explaining.ROUTES,
    *mend.ROUTES,
    *working.ROUTES,
    *pictures.ROUTES,
    *undoing.ROUTES,
)
