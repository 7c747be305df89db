"""Ornaments of the sample art: drawn around (0, 0), about a thousand units across unless told otherwise."""

import math

from tools.sampleart.kit import around, disc, number, path, polygon


def star(r: float, fill: str, points: int = 5, inner: float = 0.45, turn: float = -90.0) -> str:
    """A star of outer radius ``r``."""
    spots = around(points * 2, 1.0, turn)
    return polygon(
        [
            (x * r * (inner if k % 2 else 1), y * r * (inner if k % 2 else 1))
            for k, (x, y, _) in enumerate(spots)
        ],
        fill,
    )


def sunburst(
    inner: float, outer: float, rays: int, fill: str, first: float = 0.0, last: float = 360.0
) -> str:
    """Wedges from ``inner`` to ``outer`` between two angles, as wide as the gaps between them."""
    step = (last - first) / rays
    parts = []
    for k in range(rays):
        a, b = (math.radians(first + step * (k + side)) for side in (0.25, 0.75))
        near, far = inner, outer
        parts.append(
            polygon(
                [
                    (near * math.cos(a), near * math.sin(a)),
                    (far * math.cos(a), far * math.sin(a)),
                    (far * math.cos(b), far * math.sin(b)),
                    (near * math.cos(b), near * math.sin(b)),
                ],
                fill,
            )
        )
    return "".join(parts)


def scallop(r: float, bumps: int, fill: str) -> str:
    """A round label with a scalloped edge, like a bottle top seen from above."""
    spots = around(bumps, r)
    bump = r * math.sin(math.pi / bumps)
    data = f"M{number(spots[0][0])} {number(spots[0][1])}"
    for x, y, _ in [*spots[1:], spots[0]]:
        data += f"A{number(bump)} {number(bump)} 0 0 1 {number(x)} {number(y)}"
    return path(data + "Z", fill)


def ribbon(width: float, height: float, face: str, back: str, fold: str, dip: float = 0.0) -> str:
    """A banner of ``width`` with swallow tails; ``dip`` bends it (positive: the middle hangs low)."""
    w, h, t = width / 2, height / 2, height * 0.95
    drop = height * 0.32

    def tail(side: int) -> str:
        inner, outer = side * (w - t * 0.42), side * (w + t)
        y0, y1 = -h + drop, h + drop
        return polygon(
            [(inner, y0), (outer, y0), (side * (w + t * 0.55), (y0 + y1) / 2), (outer, y1), (inner, y1)], back
        )

    def crease(side: int) -> str:
        return polygon([(side * w, h), (side * (w - t * 0.42), h), (side * (w - t * 0.42), h + drop)], fold)

    body = (
        f"M{number(-w)} {number(-h)}Q0 {number(-h + 2 * dip)} {number(w)} {number(-h)}"
        f"L{number(w)} {number(h)}Q0 {number(h + 2 * dip)} {number(-w)} {number(h)}Z"
    )
    return tail(-1) + tail(1) + crease(-1) + crease(1) + path(body, face)


def leaf(length: float, width: float, fill: str, vein: str = "") -> str:
    """A pointed leaf from (0, 0) along +x."""
    data = f"M0 0C{number(length * 0.25)} {number(-width)} {number(length * 0.75)} {number(-width * 0.8)} {number(length)} 0"
    data += f"C{number(length * 0.75)} {number(width * 0.8)} {number(length * 0.25)} {number(width)} 0 0Z"
    line = (
        path(f"M{number(length * 0.08)} 0L{number(length * 0.8)} 0", stroke=vein, width=width * 0.14)
        if vein
        else ""
    )
    return path(data, fill) + line


def sprig(count: int, length: float, fill: str, stem: str, spread: float = 34.0) -> str:
    """A branch growing up from (0, 0): a curved stem with paired leaves."""
    parts = [
        path(
            f"M0 0Q{number(length * 0.06)} {number(-length / 2)} 0 {number(-length)}",
            stroke=stem,
            width=length * 0.02,
        )
    ]
    size = length * 0.9 / count
    for k in range(count):
        y = -length * (0.12 + 0.8 * k / count)
        for side in (-1, 1):
            turn = -90 + side * spread
            parts.append(
                f'<g transform="translate({number(length * 0.02)} {number(y)}) rotate({number(turn)})">'
                f"{leaf(size * 1.35, size * 0.42, fill)}</g>"
            )
    top = f'<g transform="translate(0 {number(-length * 0.95)}) rotate(-90)">{leaf(size * 1.2, size * 0.4, fill)}</g>'
    return "".join(parts) + top


def laurel(r: float, count: int, fill: str, first: float = 110.0, last: float = 235.0) -> str:
    """Both halves of a wreath on a circle of radius ``r``, open at the top."""
    parts = []
    for k in range(count):
        angle = first + (last - first) * k / (count - 1)
        a = math.radians(angle)
        for side in (1, -1):
            x, y = side * r * math.cos(a), r * math.sin(a)
            # Along the circle, up from the foot, leaning outwards and inwards in turn.
            heading = angle + 90 if side > 0 else 90 - angle
            size = r * 0.27 * (1 - 0.25 * k / count)
            for lean in (-32, 30):
                turn = heading + lean * (1 if side > 0 else -1)
                parts.append(
                    f'<g transform="translate({number(x)} {number(y)}) rotate({number(turn)})">'
                    f"{leaf(size, size * 0.3, fill)}</g>"
                )
    return "".join(parts)


def shield(width: float, height: float, fill: str, stroke: str = "", line: float = 0.0) -> str:
    """A heater shield, top edge at -height/2."""
    w, h = width / 2, height / 2
    data = (
        f"M{number(-w)} {number(-h)}L{number(w)} {number(-h)}L{number(w)} {number(h * 0.05)}"
        f"C{number(w)} {number(h * 0.6)} {number(w * 0.45)} {number(h * 0.86)} 0 {number(h)}"
        f"C{number(-w * 0.45)} {number(h * 0.86)} {number(-w)} {number(h * 0.6)} {number(-w)} {number(h * 0.05)}Z"
    )
    return path(data, fill, stroke, line)


def crown(width: float, fill: str, jewel: str) -> str:
    """A five-point crown standing on y = 0."""
    w, h = width / 2, width * 0.52
    tips = [-w * 1.08, -w * 0.55, 0.0, w * 0.55, w * 1.08]
    tops = [-h * 0.78, -h * 0.94, -h, -h * 0.94, -h * 0.78]
    data = f"M{number(-w * 0.86)} 0"
    for k, (x, y) in enumerate(zip(tips, tops, strict=True)):
        data += f"L{number(x)} {number(y)}"
        if k < 4:
            data += f"L{number((x + tips[k + 1]) / 2)} {number(-h * 0.42)}"
    data += f"L{number(w * 0.86)} 0Z"
    balls = "".join(disc(x, y, width * 0.052, jewel) for x, y in zip(tips, tops, strict=True))
    base = path(
        f"M{number(-w * 0.8)} {number(-h * 0.14)}L{number(w * 0.8)} {number(-h * 0.14)}",
        stroke=jewel,
        width=width * 0.045,
    )
    return path(data, fill) + base + balls


def heart(size: float, fill: str) -> str:
    """A heart about ``size`` wide, centred."""
    s = size / 2
    data = (
        f"M0 {number(s * 0.92)}C{number(-s * 1.5)} {number(-s * 0.05)} {number(-s * 0.95)} {number(-s * 1.05)} 0 {number(-s * 0.38)}"
        f"C{number(s * 0.95)} {number(-s * 1.05)} {number(s * 1.5)} {number(-s * 0.05)} 0 {number(s * 0.92)}Z"
    )
    return path(data, fill)


def rule(width: float, thick: float, fill: str, middle: str = "star") -> str:
    """A divider with an ornament in the middle."""
    gap = thick * 7
    w = width / 2
    lines = path(f"M{number(-w)} 0L{number(-gap)} 0M{number(gap)} 0L{number(w)} 0", stroke=fill, width=thick)
    mark = (
        star(thick * 4, fill)
        if middle == "star"
        else polygon([(0, -thick * 3), (thick * 3, 0), (0, thick * 3), (-thick * 3, 0)], fill)
    )
    return lines + mark


def flourish(width: float, stroke: str, thick: float) -> str:
    """A mirrored pen flourish, centred."""
    w = width / 2
    parts = []
    for side in (-1, 1):
        parts.append(
            path(
                f"M0 0C{number(side * w * 0.2)} {number(-w * 0.22)} {number(side * w * 0.45)} {number(-w * 0.2)} "
                f"{number(side * w * 0.55)} 0C{number(side * w * 0.63)} {number(w * 0.16)} {number(side * w * 0.86)} "
                f"{number(w * 0.13)} {number(side * w * 0.88)} {number(-w * 0.02)}C{number(side * w * 0.89)} "
                f"{number(-w * 0.11)} {number(side * w * 0.77)} {number(-w * 0.11)} {number(side * w * 0.77)} {number(-w * 0.02)}",
                stroke=stroke,
                width=thick,
            )
        )
    return "".join(parts) + disc(0, 0, thick * 1.6, stroke)
