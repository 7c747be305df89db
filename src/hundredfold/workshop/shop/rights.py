"""Whose work each design is, in rights.csv: a plain list that a person can read and hand on."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.folder import require_shop

_COLUMNS = ("design", "whose work", "licence", "credit", "proof")


@dataclass(frozen=True)
class Rights:
    """A design's row. ``design`` is its path; ``proof`` says where the licence is kept."""

    design: str
    whose: str
    licence: str = ""
    credit: str = ""
    proof: str = ""


def rights_of(folder: Path) -> dict[str, Rights]:
    """The rows by design. Raises ShopError ``file-unreadable`` and ``not-utf8``."""
    files, path = ShopFiles(folder), require_shop(folder).rights
    if not files.is_file(path):
        return {}
    rows = csv.DictReader(io.StringIO(files.text(path), newline=""))
    found = (Rights(*((row.get(name) or "").strip() for name in _COLUMNS)) for row in rows)
    return {one.design: one for one in found if one.design}


def set_rights(folder: Path, fresh: Iterable[Rights]) -> None:
    """Put these rows in, each in place of its design's old one."""
    rows = rights_of(folder) | {one.design: one for one in fresh}
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(_COLUMNS)
    for _, one in sorted(rows.items()):
        writer.writerow((one.design, one.whose, one.licence, one.credit, one.proof))
    write_whole(require_shop(folder).rights, text.getvalue().encode("utf-8"))
