"""The rows of somebody's table by our own field names, whatever the table calls its columns."""

from collections.abc import Iterator, Mapping

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.grid import Grid, Headers, find_headers
from hundredfold.kernel.nearest import did_you_mean


def headers_of(
    grid: Grid, synonyms: Mapping[str, tuple[str, ...]], columns: Mapping[str, str], needed: tuple[str, ...]
) -> Headers:
    """The header row, the person's own column names before ours.

    Raises ShopError ``no-such-column``, and ``bad-column`` for a field there is not.
    """
    for field in columns:
        if field not in synonyms:
            raise ShopError(
                "bad-column", f"there is no field {field}", did_you_mean(field, synonyms), Where(grid.file)
            )
    asked = {field: (columns[field],) if field in columns else words for field, words in synonyms.items()}
    found = find_headers(grid, asked)
    missing = [field for field in (*needed, *columns) if found is None or field not in found.columns]
    if found is None or missing:
        names = (
            ", ".join(found.unused) if found else ", ".join(filter(None, grid.texts(0))) if grid.rows else ""
        )
        what = f"no column was found for {', '.join(dict.fromkeys(missing))}; there are: {names or 'none'}"
        fix = f'say which it is, like --column {missing[0]}="the header in the file"'
        raise ShopError("no-such-column", what, fix, Where(grid.file))
    return found


def rows_below(grid: Grid, headers: Headers) -> Iterator[tuple[int, dict[str, str]]]:
    """Each row under the header that says anything, with its number as a spreadsheet shows it."""
    for number in range(headers.row + 1, len(grid.rows)):
        texts = grid.texts(number)
        cells = {field: texts[at] if at < len(texts) else "" for field, at in headers.columns.items()}
        if any(cells.values()):
            yield number + 1, cells
