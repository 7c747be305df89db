"""All screens; a new one is a line here, and in ``rendering.ROOMS`` where it is a room of its own."""

from starlette.routing import BaseRoute

from hundredfold.web.screens import (
    calendar,
    designs,
    first,
    history,
    month,
    packs,
    pictures,
    undoing,
    working,
)

SCREENS: tuple[BaseRoute, ...] = (
    *month.ROUTES,
    *first.ROUTES,
    *designs.ROUTES,
    *working.ROUTES,
    *pictures.ROUTES,
    *undoing.ROUTES,
    *calendar.ROUTES,
    *packs.ROUTES,
    *history.ROUTES,
)
