"""One blank's TOML to a Blank."""

from hundredfold.catalogue.blanks import (
    MEASURES,
    Blank,
    BlankColour,
    BlankVariant,
    Body,
    Cone,
    FileKind,
    Orientation,
    PrintArea,
    SizeMeasures,
    Stated,
)
from hundredfold.catalogue.forms import Form, PlateSet
from hundredfold.catalogue.parse_charges import read_making
from hundredfold.catalogue.parse_settings import read_currency
from hundredfold.catalogue.processes import Material, Process
from hundredfold.catalogue.read_values import read_values
from hundredfold.catalogue.toml_table import Source, Table
from hundredfold.kernel.nearest import did_you_mean


def parse_blank(source: Source, home_currency: str) -> Blank:
    """Read one blank; mistakes are collected in the source. Amounts are in its ``currency``, else home's."""
    table = source.table
    currency = read_currency(table, home_currency)
    colours = tuple(_colour(code, inner) for code, inner in table.named("colours", required=True))
    table.twins("colours")
    variants = _variants(table, currency, colours)
    every_size = tuple(dict.fromkeys(variant.size for variant in variants))
    sizes = _sizes(table, every_size)
    form = table.choice("form", Form)
    body = table.table("body")
    borrowed = _borrowed(body)
    blank = Blank(
        code=table.code("code"),
        name=table.text("name"),
        form=form,
        material=table.choice("material", Material),
        process=table.choice("process", Process),
        orientation=table.choice("orientation", Orientation, Orientation.ANY),
        areas=_areas(table, every_size),
        colours=colours,
        variants=variants,
        postage=table.money("postage", currency),
        body=_body(body, every_size, sizes),
        borrowed=borrowed,
        sizes=sizes,
        drinkware=table.flag("drinkware", form.traits.drinkware),
        rim_keep_out_mm=table.number("rim_keep_out_mm", 0.0),
        words=table.texts("words"),
        note=table.text("note", ""),
        making=read_making(table, currency),
        values=read_values(table),
        stated=_stated(table.table("stated")),
        plate=_plate(table.table("plate")) if "plate" in table else None,
        claims=_claims(table),
    )
    table.done()
    return blank


def _plate(table: Table) -> PlateSet:
    plate = PlateSet(
        name=table.code("name"),
        wide_mm=table.number("wide_mm", low=1.0),
        high_mm=table.number("high_mm", low=1.0),
    )
    table.done()
    return plate


def _colour(code: str, table: Table) -> BlankColour:
    table.check_code(code)
    colour = BlankColour(
        code=code,
        name=table.text("name"),
        srgb=table.colour("srgb"),
        second=table.maybe_colour("second"),
        underbase=table.flag("underbase", False),
        values=read_values(table),
    )
    table.done()
    return colour


def _variants(table: Table, currency: str, colours: tuple[BlankColour, ...]) -> tuple[BlankVariant, ...]:
    known = tuple(colour.code for colour in colours)
    seen: dict[tuple[str, str], str] = {}
    found = []
    for partner_code, inner in table.named("variants", required=True):
        variant = _variant(partner_code, inner, currency)
        if variant.colour and variant.colour not in known:
            what = f'no colour of this blank has the code "{variant.colour}"'
            inner.wrong("unknown-value", "colour", what, did_you_mean(variant.colour, known))
        pair = (variant.colour, variant.size)
        if pair in seen:
            what = f'"{partner_code}" is the same colour and size as "{seen[pair]}"'
            inner.wrong(
                "duplicate-variant", None, what, "remove one of the two, or correct its colour or size"
            )
        seen.setdefault(pair, partner_code)
        found.append(variant)
    if not found:
        fix = 'add one line a colour and size: "PARTNER-CODE" = { colour = "white", base_cost = "4.10" }'
        table.wrong("missing-key", "variants", "the blank has no variants", fix)
    if any(variant.size for variant in found) and not all(variant.size for variant in found):
        fix = "give every variant a size, or none of them"
        table.wrong("missing-key", "variants", "some variants have a size and some have none", fix)
    return tuple(found)


def _variant(partner_code: str, table: Table, currency: str) -> BlankVariant:
    variant = BlankVariant(
        colour=table.text("colour"),
        size=table.text("size", ""),
        partner_code=partner_code,
        base_cost=table.money("base_cost", currency),
        in_stock=table.flag("in_stock", True),
        discontinued=table.flag("discontinued", False),
        values=read_values(table),
        codes=tuple(table.pairs("codes").items()),
    )
    table.done()
    return variant


def _areas(table: Table, sizes: tuple[str, ...]) -> tuple[PrintArea, ...]:
    areas = tuple(_area(name, inner, sizes) for name, inner in table.named("areas", required=True))
    if not areas:
        fix = "add [areas.front] with width_px, height_px and dpi from the partner's sheet"
        table.wrong("missing-key", "areas", "the blank has no print area", fix)
    table.twins("areas")
    bare = [size for size in sizes if not any(not a.for_sizes or size in a.for_sizes for a in areas)]
    if areas and bare:
        what = f"no print area is for size {', '.join(bare)}"
        table.wrong(
            "missing-key", "areas", what, "name the size in for_sizes of an area, or add an area for it"
        )
    return areas


def _area(name: str, table: Table, sizes: tuple[str, ...]) -> PrintArea:
    table.check_code(name)
    for_sizes = table.texts("for_sizes")
    for size in for_sizes:
        if size not in sizes:
            table.wrong(
                "unknown-value", "for_sizes", f'no variant has size "{size}"', did_you_mean(size, sizes)
            )
    area = PrintArea(
        name=name,
        width_px=table.integer("width_px", low=1, high=60_000),
        height_px=table.integer("height_px", low=1, high=60_000),
        dpi=table.integer("dpi", low=30, high=2400),
        file_kind=table.choice("file_kind", FileKind, FileKind.PNG),
        transparent=table.flag("transparent", True),
        mirrored=table.flag("mirrored", False),
        max_bytes=table.maybe_integer("max_bytes"),
        bleed_mm=table.number("bleed_mm", 0.0),
        safe_margin_mm=table.number("safe_margin_mm", 0.0),
        cone=_cone(table.table("cone")) if "cone" in table else None,
        for_sizes=for_sizes,
    )
    if area.file_kind is FileKind.JPEG and area.transparent and "file_kind" in table:
        fix = 'write transparent = false, or file_kind = "png"'
        table.wrong("unknown-value", "transparent", "a JPEG cannot be transparent", fix)
    inset = 2 * (area.bleed_mm + area.safe_margin_mm)
    if inset >= min(area.width_mm, area.height_mm):
        what = f"bleed and safe margin leave nothing of {area.width_mm:.1f} x {area.height_mm:.1f} mm"
        key = "safe_margin_mm" if "safe_margin_mm" in table else "bleed_mm"
        table.wrong("out-of-range", key, what, "lower bleed_mm or safe_margin_mm")
    table.done()
    return area


def _cone(table: Table) -> Cone:
    cone = Cone(
        top_diameter_mm=table.number("top_diameter_mm", low=1),
        bottom_diameter_mm=table.number("bottom_diameter_mm", low=1),
        height_mm=table.number("height_mm", low=1),
        file=table.one_of("file", ("sector", "rectangle"), "sector"),
    )
    table.done()
    return cone


_MEASURES = ("diameter_mm", "width_mm", "height_mm")


def _sizes(table: Table, every_size: tuple[str, ...]) -> tuple[SizeMeasures, ...]:
    """What each size measures. Their order in the file is that of the size picture."""
    found = []
    for size, inner in table.named("sizes"):
        if size not in every_size:
            inner.wrong(
                "unknown-value", None, f'no variant has size "{size}"', did_you_mean(size, every_size)
            )
        measures = {name: inner.maybe_number(name) for name in (*_MEASURES, "capacity_ml")}
        found.append(SizeMeasures(size, **measures, values=read_values(inner)))
        inner.done()
    return tuple(found)


def _borrowed(table: Table) -> tuple[str, ...]:
    borrowed = table.texts("borrowed")
    for name in borrowed:
        if name not in MEASURES:
            table.wrong("unknown-value", "borrowed", f'"{name}" is no measure', did_you_mean(name, MEASURES))
    return tuple(name for name in borrowed if name in MEASURES)


def _body(table: Table, every_size: tuple[str, ...], sizes: tuple[SizeMeasures, ...]) -> Body:
    """The body; what it leaves out of its measures is taken from the size that it is of."""
    size = table.text("size", "")
    if size and size not in every_size:
        table.wrong("unknown-value", "size", f'no variant has size "{size}"', did_you_mean(size, every_size))
    own = next((one for one in sizes if one.size == size), SizeMeasures(size))
    measures = {}
    for name in _MEASURES:
        told, known = table.maybe_number(name), getattr(own, name)
        measures[name] = known if told is None else told
        if None not in (told, known) and told != known:
            what = f"{told:g} mm here, {known:g} mm of size {size} in [sizes]"
            table.wrong("out-of-range", name, what, "write it in [sizes] only")
    body = Body(
        **measures,
        visible_width_mm=table.maybe_number("visible_width_mm"),
        rim_clearance_mm=table.maybe_number("rim_clearance_mm"),
        capacity_ml=table.maybe_number("capacity_ml"),
        size=size,
    )
    table.done()
    return body


def _stated(table: Table) -> Stated:
    stated = Stated(
        care=table.text("care", ""),
        arrives=table.text("arrives", ""),
        material=table.text("material", ""),
        working_days=_working_days(table),
        source=table.text("source", ""),
    )
    if stated != Stated() and not stated.source.strip():
        fix = 'write source = "…": the sheet, page or letter in which the partner states it'
        table.wrong("missing-key", None, "source is missing: it says where the partner states this", fix)
    table.done()
    return stated


def _working_days(table: Table) -> tuple[int, int] | None:
    value = table.raw("working_days")
    if value is None:
        return None
    days = [day for day in (value if isinstance(value, list) else [value, value]) if type(day) is int]
    if len(days) == 2 and 0 <= days[0] <= days[1] <= 90:
        return days[0], days[1]
    fix = "write the least and the most, like [2, 4]"
    table.wrong("out-of-range", "working_days", f"{value} is not a span of working days", fix)
    return None


def _claims(table: Table) -> dict[str, str]:
    claims = table.pairs("claims")
    for claim, source in claims.items():
        if not source.strip():
            fix = f'write where it is proved: "{claim}" = "partner\'s sheet 7, page 2"; or take the claim out'
            table.table("claims").wrong("missing-key", claim, f'the claim "{claim}" has no source', fix)
    return claims
