"""Numbers of things in sentences."""


def counted(number: int, one: str, many: str = "") -> str:
    """``1 design``, ``2 designs``; ``many`` where it is not made by an s."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def some_of(names: list[str], most: int = 3) -> str:
    """The first names, and how many more: ``a, b, c and 9 more``."""
    left_out = len(names) - most
    return ", ".join(names[:most]) + (f" and {left_out} more" if left_out > 0 else "")
