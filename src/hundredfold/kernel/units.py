"""Lengths are millimetres; pixels meet them through dots per inch."""

MM_PER_INCH = 25.4
POINTS_PER_INCH = 72.0


def mm_to_px(mm: float, dpi: float) -> float:
    """Pixels in a length of ``mm`` millimetres at ``dpi`` dots per inch; not rounded."""
    return mm * dpi / MM_PER_INCH


def px_to_mm(px: float, dpi: float) -> float:
    """Millimetres covered by ``px`` pixels at ``dpi`` dots per inch."""
    return px * MM_PER_INCH / dpi


def points_to_mm(points: float) -> float:
    """Millimetres in a length given in PostScript points (1/72 inch)."""
    return points * MM_PER_INCH / POINTS_PER_INCH


def dpi_to_px_per_metre(dpi: float) -> int:
    """The integer of PNG's pHYs chunk: 300 dpi is 11811 pixels a metre (PNG 11.3.5.3)."""
    return round(dpi * 1000 / MM_PER_INCH)
