"""The child that reads one workbook: bytes in by stdin, cells out as JSON by stdout. Run by ``bookchild``.

Workbooks come from strangers, and the reader takes memory for every cell up to the farthest one: one cell at
the last column and row asks for half a terabyte. Here that ends this process only.
"""

import io
import json
import sys
from datetime import date, datetime, time, timedelta

from python_calamine import CalamineWorkbook, PasswordError, SheetTypeEnum

LOCKED, TOO_LARGE = "locked", "too large"


def read(data: bytes, most_cells: int) -> dict[str, object]:
    """The worksheets as plain values, or what is wrong under "error"."""
    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        names = [sheet.name for sheet in book.sheets_metadata if sheet.typ is SheetTypeEnum.WorkSheet]
        sheets: list[list[object]] = []
        left = most_cells
        for name in names:
            rows = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
            left -= sum(map(len, rows))
            if left < 0:
                return {"error": TOO_LARGE}
            sheets.append([name, [[_plain(cell) for cell in row] for row in rows]])
        return {"sheets": sheets}
    except PasswordError:
        return {"error": LOCKED}
    except MemoryError:
        return {"error": TOO_LARGE}
    except Exception as error:
        return {"error": str(error).partition("\n")[0][:200] or type(error).__name__}
    except BaseException:  # the reader's own panics: an address past every worksheet
        return {"error": TOO_LARGE}


def _plain(value: object) -> object:
    if isinstance(value, datetime | date | time):
        return {type(value).__name__: value.isoformat()}
    return str(value) if isinstance(value, timedelta) else value


def _limit(address_bytes: int, cpu_s: int) -> None:
    """Set by the system, where it can."""
    if sys.platform != "win32":
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (address_bytes, address_bytes))
        resource.setrlimit(resource.RLIMIT_CPU, (cpu_s, cpu_s))


if __name__ == "__main__":
    _limit(int(sys.argv[1]), int(sys.argv[2]))
    answer = read(sys.stdin.buffer.read(), int(sys.argv[3]))
    sys.stdout.buffer.write(json.dumps(answer).encode("ascii"))
