"""A Blank as the TOML a seller reads and edits: the inverse of parse_blanks."""

from collections.abc import Iterator

from hundredfold.catalogue.blanks import (
    Blank,
    BlankColour,
    BlankVariant,
    Body,
    Pairs,
    PrintArea,
    SizeMeasures,
)
from hundredfold.catalogue.toml_edits import Plain, toml_key, toml_pairs, toml_value


def blank_toml(blank: Blank, home_currency: str) -> str:
    """The file of a blank; what has its usual value is left out, except what a seller will want to change."""
    return "\n".join([*_head(blank, home_currency), *_areas(blank), *_tables(blank)]) + "\n"


def colour_pairs(colour: BlankColour) -> dict[str, Plain]:
    """The pairs of one line under [colours]."""
    pairs: dict[str, Plain] = {"name": colour.name, "srgb": colour.srgb.hex}
    if colour.second is not None:
        pairs["second"] = colour.second.hex
    if colour.underbase:
        pairs["underbase"] = True
    return pairs


def variant_pairs(variant: BlankVariant) -> dict[str, Plain]:
    """The pairs of one line under [variants]."""
    pairs: dict[str, Plain] = {"colour": variant.colour}
    if variant.size:
        pairs["size"] = variant.size
    pairs["base_cost"] = variant.base_cost.plain()
    if not variant.in_stock:
        pairs["in_stock"] = False
    if variant.discontinued:
        pairs["discontinued"] = True
    return pairs


def _head(blank: Blank, home_currency: str) -> Iterator[str]:
    yield f"code = {toml_value(blank.code)}"
    yield f"name = {toml_value(blank.name)}"
    yield f"form = {toml_value(blank.form.value)}"
    yield f"material = {toml_value(blank.material.value)}"
    yield f"process = {toml_value(blank.process.value)}"
    yield f"orientation = {toml_value(blank.orientation.value)}"
    if blank.postage.currency != home_currency:
        yield f"currency = {toml_value(blank.postage.currency)}"
    yield f"postage = {toml_value(blank.postage.plain())}"
    if blank.drinkware != blank.form.traits.drinkware:
        yield f"drinkware = {toml_value(blank.drinkware)}"
    if blank.rim_keep_out_mm:
        yield f"rim_keep_out_mm = {_number(blank.rim_keep_out_mm)}"
    yield f"words = [{', '.join(map(toml_value, blank.words))}]"
    if blank.note:
        yield f"note = {toml_value(blank.note)}"


def _areas(blank: Blank) -> Iterator[str]:
    for area in blank.areas:
        yield from ("", f"[areas.{toml_key(area.name)}]")
        yield from (f"{key} = {value}" for key, value in _area(area))


def _area(area: PrintArea) -> Iterator[tuple[str, str]]:
    yield "width_px", str(area.width_px)
    yield "height_px", str(area.height_px)
    yield "dpi", str(area.dpi)
    usual = PrintArea(area.name, area.width_px, area.height_px, area.dpi)
    for key in ("file_kind", "transparent", "mirrored", "max_bytes"):
        value = getattr(area, key)
        if value != getattr(usual, key):
            yield key, toml_value(value if isinstance(value, bool | int) else str(value))
    for key in ("bleed_mm", "safe_margin_mm"):
        if getattr(area, key):
            yield key, _number(getattr(area, key))
    if area.for_sizes:
        yield "for_sizes", f"[{', '.join(map(toml_value, area.for_sizes))}]"
    if area.cone is not None:
        numbers = ("top_diameter_mm", "bottom_diameter_mm", "height_mm")
        pairs = [f"{key} = {_number(getattr(area.cone, key))}" for key in numbers]
        yield "cone", f"{{ {', '.join([*pairs, f'file = {toml_value(area.cone.file)}'])} }}"


def _tables(blank: Blank) -> Iterator[str]:
    if blank.values:
        yield from ("", "[values]")
        yield from (f"{toml_key(key)} = {toml_value(value)}" for key, value in blank.values)
    if blank.sizes:
        yield from ("", "[sizes]")
        yield from (_size(one) for one in blank.sizes)
    # A body's measures that are those of its size are written there.
    own = next((one for one in blank.sizes if one.size == blank.body.size), None)
    told = {key: getattr(blank.body, key) for key in Body.__dataclass_fields__}
    body = {key: value for key, value in told.items() if value not in (None, "", getattr(own, key, None))}
    if blank.body.size:
        body["size"] = blank.body.size
    if body:
        yield from ("", "[body]")
        yield from (f"{key} = {_value(value)}" for key, value in body.items())
        if blank.borrowed:
            yield "# taken from a like blank: measure yours, and take its name out of this list"
            yield f"borrowed = [{', '.join(map(toml_value, blank.borrowed))}]"
    if blank.plate is not None:
        yield from ("", "[plate]", f"name = {toml_value(blank.plate.name)}")
        yield from (f"{key} = {_number(getattr(blank.plate, key))}" for key in ("wide_mm", "high_mm"))
    yield from ("", "[colours]")
    for colour in blank.colours:
        yield _line(colour.code, toml_pairs(colour_pairs(colour)), _own(colour.values))
    yield from ("", "[variants]")
    for variant in blank.variants:
        beside = (_own(variant.values), _own(variant.codes, "codes"))
        yield _line(variant.partner_code, toml_pairs(variant_pairs(variant)), *beside)


def _size(one: SizeMeasures) -> str:
    known = {key: getattr(one, key) for key in ("diameter_mm", "width_mm", "height_mm")}
    pairs = ", ".join(f"{key} = {_number(value)}" for key, value in known.items() if value is not None)
    pairs = ", ".join(filter(None, (pairs, _own(one.values))))
    return f"{toml_key(one.size)} = {{ {pairs} }}"


def _own(values: Pairs, name: str = "values") -> str:
    """Own values as the inline table they are written in."""
    return f"{name} = {{ {toml_pairs(dict(values))} }}" if values else ""


def _line(key: str, *pairs: str) -> str:
    return f"{toml_key(key)} = {{ {', '.join(filter(None, pairs))} }}"


def _value(value: float | str) -> str:
    return toml_value(value) if isinstance(value, str) else _number(value)


def _number(value: float) -> str:
    return str(int(value)) if float(value).is_integer() else repr(value)
