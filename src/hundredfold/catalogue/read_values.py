"""The [values] of a shop, a channel, a blank or a part of one."""

from hundredfold.catalogue.toml_table import Table
from hundredfold.catalogue.valueforms import wrong_value


def read_values(table: Table) -> tuple[tuple[str, str], ...]:
    """Names and texts; a value of a known name that cannot be right is a mistake."""
    inner = table.table("values")
    pairs = tuple(table.pairs("values").items())
    for name, value in pairs:
        wrong = wrong_value(name, value)
        if wrong:
            inner.wrong(
                "bad-value",
                name,
                wrong,
                "correct it, or give the value another name if it means something else",
            )
    return pairs
