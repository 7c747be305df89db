"""Colour roles: one layout, one version for light goods and one for dark goods.

The root names colours by role, ``data-light="ink #1d2433, accent #c2352b"`` and ``data-dark="…"``; any
element takes one with ``data-fill`` or ``data-stroke``. More palettes may follow, each after a bar and with a
name, ``… | sea: ink #12324a, accent #f2705a``; a row picks one in its column ``palette``.
"""

import re
from collections.abc import Mapping

from lxml import etree

from hundredfold.designs.layouts.drawing import Drawing
from hundredfold.designs.layouts.elements import elements, line_of, take
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.nearest import did_you_mean

_VERSION_ATTRIBUTES = {"light": "data-light", "dark": "data-dark"}
PAINTED = {"data-fill": "fill", "data-stroke": "stroke", "data-stop": "stop-color"}
_HEX = re.compile(r"#[0-9a-fA-F]{3}(?:[0-9a-fA-F]{3})?")


Palettes = dict[str, dict[str, str]]  # colours by role, by the palette's name; the first is the usual one
UNNAMED = ""


def parse_roles(drawing: Drawing) -> dict[str, Palettes]:
    """Versions and their palettes. Raises ShopError ``bad-layout`` and ``bad-colour``."""
    versions = {
        version: _palettes(drawing, attribute)
        for version, attribute in _VERSION_ATTRIBUTES.items()
        if drawing.root.get(attribute)
    }
    _agree(drawing, versions)
    roles = {role for palettes in versions.values() for colours in palettes.values() for role in colours}
    for element in elements(drawing.root):
        for attribute in PAINTED:
            role = element.get(attribute)
            if role is not None and role not in roles:
                fix = did_you_mean(role, sorted(roles))
                where = Where(drawing.name, line_of(element), field=attribute)
                raise ShopError("bad-layout", f'no colour has the role "{role}"', fix, where)
    return versions


def _agree(drawing: Drawing, versions: Mapping[str, Palettes]) -> None:
    """All palettes name the same roles, and both versions the same palettes."""
    every = [colours for palettes in versions.values() for colours in palettes.values()]
    odd = {role for colours in every for role in set(colours) ^ set(every[0])}
    if odd:
        what = f"not every palette names the same roles: {', '.join(sorted(odd))}"
        raise ShopError("bad-layout", what, "give each role a colour in all of them", Where(drawing.name))
    names = [set(palettes) for palettes in versions.values()]
    if len(names) == 2 and names[0] != names[1]:
        what = f"light and dark goods have different palettes: {', '.join(sorted(names[0] ^ names[1]))}"
        raise ShopError("bad-layout", what, "write each palette for both", Where(drawing.name))


def _palettes(drawing: Drawing, attribute: str) -> Palettes:
    palettes: Palettes = {}
    for part in str(drawing.root.get(attribute)).split("|"):
        name, colon, colours = part.rpartition(":")
        key = name.strip() if colon else UNNAMED
        if key in palettes:
            where = Where(drawing.name, line_of(drawing.root), field=attribute)
            fix = "write it as “first palette | name: second palette”"
            raise ShopError("bad-layout", f"two palettes are called {key!r}", fix, where)
        palettes[key] = _colours(drawing, attribute, colours)
    return palettes


def _colours(drawing: Drawing, attribute: str, text: str) -> dict[str, str]:
    colours: dict[str, str] = {}
    where = Where(drawing.name, line_of(drawing.root), field=attribute)
    for part in text.split(","):
        name, _, value = part.strip().partition(" ")
        if not name or not value:
            fix = 'write it as "ink #1d2433, accent #c2352b"'
            raise ShopError("bad-layout", f"{part.strip()!r} is not a role and a colour", fix, where)
        colours[name] = Srgb.parse(value.strip()).hex
    return colours


def colour_of(name: str, colours: Mapping[str, str], drawing: Drawing) -> str:
    """The colour a role's name or a written colour stands for. Raises ShopError ``bad-colour``."""
    if name in colours:
        return colours[name]
    if _HEX.fullmatch(name) or name in ("none", "white", "black", "currentColor") or name.startswith("url("):
        return name
    if re.fullmatch(r"(rgb|hsl)a?\([^)]*\)|[a-z]+", name, re.IGNORECASE) and not colours:
        return name
    fix = (
        f"write it as #rrggbb, or name one of: {', '.join(sorted(colours))}"
        if colours
        else "write it as #rrggbb"
    )
    raise ShopError("bad-colour", f"{name!r} is neither a colour nor a role", fix, Where(drawing.name))


def paint(root: etree._Element, colours: Mapping[str, str]) -> None:
    """Give every element with a role its colour, and take our attributes away."""
    for element in elements(root):
        for attribute, painted in PAINTED.items():
            role = take(element, attribute)
            if role is None:
                continue
            element.set(painted, colours[role])
            style = element.get("style")
            if style:  # an inline style would win over the attribute
                kept = [p for p in str(style).split(";") if p.partition(":")[0].strip() != painted]
                element.set("style", ";".join(kept))
