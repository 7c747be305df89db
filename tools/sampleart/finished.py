"""All finished sample designs, by file name."""

from tools.sampleart import apiary, coast, cut, plot, steeple


def sample_designs() -> tuple[tuple[str, bytes], ...]:
    """(file name, SVG) of every finished design, sorted by name. Text is outlined; nothing is behind the art."""
    rooms = (apiary, plot, coast, steeple, cut)
    drawn = [(f"{name}.svg", draw()) for room in rooms for name, draw in room.DESIGNS]
    return tuple(sorted(drawn))
