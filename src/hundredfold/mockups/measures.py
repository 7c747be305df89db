"""What a size picture says: a blank's measures in words, and the table of its sizes."""

from collections.abc import Sequence
from dataclasses import dataclass

from hundredfold.catalogue.blanks import Blank, Cone, PrintArea, SizeMeasures
from hundredfold.catalogue.channels import LengthUnit
from hundredfold.kernel.units import MM_PER_INCH

_ML_PER_FL_OZ = 29.5735  # US customary fluid ounce, NIST Handbook 44, appendix C
_PER_UNIT = {LengthUnit.MM: 1.0, LengthUnit.CM: 10.0, LengthUnit.INCH: MM_PER_INCH}


@dataclass(frozen=True)
class SizeColumn:
    """One size in the table: its name and its figures, without a unit; "" where one is not known."""

    size: str
    wide: str
    high: str


@dataclass(frozen=True)
class Measures:
    """What is written beside the goods; empty where it is not known.

    ``note`` stands beneath goods without a table; ``shown`` is the size that the lines speak of, of the
    ``columns``; ``diameter`` tells whether widths are diameters.
    """

    wide: str
    high: str
    note: str = ""
    shown: str = ""
    columns: tuple[SizeColumn, ...] = ()
    diameter: bool = False


def measures_of(blank: Blank, area: PrintArea, unit: LengthUnit = LengthUnit.MM) -> Measures:
    """The goods' measures: whole millimetres, or centimetres and inches to a tenth.

    Of a blank with several sizes, those of the size pictured; a listing serves them all, so they stand in a
    table where the blank knows them. A size whose measures are not known gets no figures: those of another
    would be taken for its own.
    """
    blank = blank.measured()
    own = measured(blank, area)
    size = own.size
    sign = "Ø " if own.diameter_mm else ""
    wide, high = (f"{figure} {unit.value}" if figure else "" for figure in _figures(own, unit))
    known = [one for one in blank.sizes if one.size in blank.offered_sizes()]
    columns = _columns(known, unit) if len(known) > 1 else ()
    return Measures(
        wide=sign + wide if wide else "",
        high=high,
        note="" if columns else _note(blank, size, unit),
        shown=size,
        columns=columns,
        diameter=bool(sign),
    )


def _columns(known: Sequence[SizeMeasures], unit: LengthUnit) -> tuple[SizeColumn, ...]:
    """Figures of a row have as many decimals each."""
    rows = zip(*(_figures(one, unit) for one in known), strict=True)
    even = [_evened(row) for row in rows]
    return tuple(SizeColumn(one.size, wide, high) for one, wide, high in zip(known, *even, strict=True))


def _evened(row: Sequence[str]) -> list[str]:
    if not any("." in figure for figure in row):
        return list(row)
    return [figure if "." in figure or not figure else f"{figure}.0" for figure in row]


def _figures(own: SizeMeasures, unit: LengthUnit) -> tuple[str, str]:
    return written(own.diameter_mm or own.width_mm, unit), written(own.height_mm, unit)


def written(mm: float | None, unit: LengthUnit) -> str:
    """A length's figure in a unit; empty for none."""
    if not mm:
        return ""
    return f"{mm:.0f}" if unit is LengthUnit.MM else f"{mm / _PER_UNIT[unit]:.1f}".removesuffix(".0")


def _shown(blank: Blank, area: PrintArea) -> str:
    """The size pictured: the body's own where the area is for it, else the area's first."""
    size = blank.body.size
    return size if not area.for_sizes or size in area.for_sizes else area.for_sizes[0]


def measured(blank: Blank, area: PrintArea) -> SizeMeasures:
    """What is known of the size pictured; of a tapered area of another size than the body's, its diameter.

    Of its height only the printed side's part is known, which a buyer would take for the whole.
    """
    size = _shown(blank, area)
    for one in blank.sizes:
        if one.size == size:
            return one
    body = blank.body
    whole = SizeMeasures(size, body.diameter_mm, body.width_mm, body.height_mm)
    if area.cone is not None:
        return whole if _body_cone(blank) == area.cone else SizeMeasures(size, area.cone.top_diameter_mm)
    sizes = {variant.size for variant in blank.variants}
    return whole if len(sizes) < 2 or size == body.size != "" else SizeMeasures(size)


def _body_cone(blank: Blank) -> Cone | None:
    """The tapered side that the blank's own body has: the nearest in diameter and height."""
    body, cones = blank.body, [area.cone for area in blank.areas if area.cone is not None]
    if not cones:
        return None
    wide, high = body.diameter_mm or 0.0, body.height_mm or 0.0
    return min(cones, key=lambda c: abs(c.top_diameter_mm - wide) + abs(c.height_mm - high))


def _note(blank: Blank, size: str, unit: LengthUnit) -> str:
    """Beneath the goods: which of several sizes this is, or how much goods of one size hold."""
    if len(blank.offered_sizes()) > 1:
        return f"Size {size}" if size else ""
    held = blank.body.capacity_ml
    if not held:
        return ""
    return f"{held / _ML_PER_FL_OZ:.0f} fl oz" if unit is LengthUnit.INCH else f"{held:.0f} ml"
