"""What was made from a word list, beside the designs: ``designs/<list>.made.csv``.

One row a design: the file, what it was made from, what travels to the design (keywords, niche, occasion,
rights, languages), the sha256 of the file, and the numbers of its quality.
"""

import csv
import io
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from hundredfold.designs.design import Design
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding
from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.shop.checks import MADE_LIST
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.paths import ShopPaths

ENDING = ".made.csv"
LINE_BREAK = " / "
_COLUMNS = (
    "file",
    "title",
    "layout",
    "list",
    "row",
    "for",
    "keywords",
    "niche",
    "occasion",
    "rights",
    "languages",
    "sha256",
    "says",
)
FACT_COLUMNS = (
    "smallest_x_height_mm",
    "most_shrunk",
    "most_lines",
    "width_variation",
    "closed_counters",
    "overlap",
    "characters",
    "smallest_x_height_share",
)


@dataclass(frozen=True)
class Made:
    """One design made from a row. ``file`` is its name in the designs folder."""

    file: str
    title: str
    layout: str
    list: str
    row: int
    version: str  # "light", "dark" or ""
    keywords: tuple[str, ...]
    niche: str
    occasion: str
    rights: str
    languages: tuple[str, ...]
    sha256: str
    facts: Mapping[str, float] = field(default_factory=dict)
    says: tuple[str, ...] = ()  # what the design says, line by line


def write_made(path: Path, made: Iterable[Made]) -> None:
    """Write the list, sorted by file, whole or not at all."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow((*_COLUMNS, *FACT_COLUMNS))
    for one in sorted(made, key=lambda each: each.file):
        facts = [f"{one.facts.get(name, 0):g}" for name in FACT_COLUMNS]
        writer.writerow(
            (
                one.file,
                one.title,
                one.layout,
                one.list,
                one.row,
                one.version,
                "; ".join(one.keywords),
                one.niche,
                one.occasion,
                one.rights,
                "; ".join(one.languages),
                one.sha256,
                LINE_BREAK.join(one.says),
                *facts,
            )
        )
    write_whole(path, text.getvalue().encode("utf-8-sig"))


def read_made(data: bytes, name: str) -> tuple[Made, ...]:
    """Read such a list back. Raises ShopError ``bad-made-list`` when it was changed by hand into nonsense."""
    rows = csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline=""))
    found = []
    try:
        for row in rows:
            found.append(
                Made(
                    row["file"],
                    row["title"],
                    row["layout"],
                    row["list"],
                    int(row["row"]),
                    row["for"],
                    _parts(row["keywords"]),
                    row["niche"],
                    row["occasion"],
                    row["rights"],
                    _parts(row["languages"]),
                    row["sha256"],
                    {name: float(row.get(name) or 0) for name in FACT_COLUMNS},
                    tuple(filter(None, (row.get("says") or "").split(LINE_BREAK))),
                )
            )
    except (KeyError, ValueError, TypeError, AttributeError) as error:
        fix = "run hundredfold typeset: it is written anew"
        raise ShopError(
            "bad-made-list", "this list of made designs cannot be read", fix, Where(name)
        ) from error
    return tuple(found)


def all_made(files: ShopFiles) -> tuple[dict[str, Made], tuple[Finding, ...]]:
    """Every design that was made from a list, by file name in the designs folder.

    A list that cannot be read is a finding: its designs go on under their file names' words.
    """
    made: dict[str, Made] = {}
    findings = []
    for path in files.listed(ShopPaths(files.root).designs, f"*{ENDING}"):
        try:
            made |= {one.file: one for one in read_made(files.read(path), path.name)}
        except ShopError as error:
            findings.append(MADE_LIST.finds_error(error, files.name(path)))
    return made, tuple(findings)


def described(design: Design, made: Made) -> Design:
    """The design with what its row says; words of the file name stay behind the row's keywords."""
    return replace(
        design,
        title=made.title or design.title,
        keywords=tuple(dict.fromkeys((*made.keywords, *design.keywords))),
        niche=made.niche,
        occasion=made.occasion,
        rights=made.rights,
        languages=made.languages,
        row=f"{made.list} {made.row} {made.layout}",
        version=made.version,
        lines=made.says,
        smallest_type=made.facts.get("smallest_x_height_share", 0.0),
    )


def _parts(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())
