"""A settings file with a mistake, shown with its line and mended here."""

from pathlib import Path

from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.said import Said
from hundredfold.workshop.shop.mending import mend, mendable


def show(ask: Ask) -> Shown:
    """The file and what is wrong in it."""
    return Shown("mend.html", mend_values(ask.shop, ask.query.get("file", "")))


def mend_values(shop: Path, name: str) -> dict[str, object]:
    """The file with its mistakes, for the template. Raises as ``mendable`` does."""
    found = mendable(shop, name)
    return {"file": found, "lines": found.text.split("\n")}


def keep(ask: Ask) -> Said:
    """Write it anew. Raises as ``mend`` does."""
    name = ask.form.text("file")
    text = next(iter(ask.form.texts("text")), "")
    left = mend(ask.shop, name, text, ask.form.text("digest"))
    if left:
        return Said(f"{name} is kept; something in it is still wrong.", f"/mend?file={name}")
    return Said(f"{name} is in order.", "/")


ROUTES = (screen("/mend", show), action("/mend/keep", keep))
