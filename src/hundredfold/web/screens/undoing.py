"""Undo: the last decision taken back, from whatever page it was said on."""

from hundredfold.web.asking import Ask, action
from hundredfold.web.said import Said
from hundredfold.workshop.shop.history import undo


def take_back(ask: Ask) -> Said:
    """Take a decision back. Raises as ``workshop.shop.history.undo`` does."""
    rows = undo(ask.shop, [ask.form.whole("decision")])
    back = ask.form.text("back", "/")
    number = rows[0].decision if rows else 0
    return Said("It is as it was before.", back, number)


ROUTES = (action("/undo", take_back),)
