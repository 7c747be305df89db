"""What verbs print: sentences, tables and findings for people, one JSON document for programs.

Nothing is said by colour alone, and tables fit 80 columns. rich is imported where a table is drawn: it is the
slowest import a quick answer would wait for.
"""

import json
import re
import sys
from collections.abc import Iterable, Sequence
from textwrap import fill
from typing import TextIO

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding, Severity

WIDTH = 80
# C0 and C1 control characters (ECMA-48) but for the line's end and the tabulator.
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f]")


def shown(text: str) -> str:
    """The text with control characters written out: a file's name must not steer the terminal."""
    return _CONTROL.sub(lambda found: f"\\x{ord(found[0]):02x}", text)


def say(*lines: str) -> None:
    """Print lines for the person."""
    for line in lines:
        print(shown(line))


def say_list(label: str, items: Iterable[str]) -> None:
    """Print names after a label, folded to the width of a page and indented below it."""
    text = f"{label}: {', '.join(items)}"
    print(fill(shown(text), WIDTH, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False))


def say_folded(*lines: str) -> None:
    """Print lines, each folded to the width of a page and indented below its own beginning."""
    for line in lines:
        indent = " " * (len(line) - len(line.lstrip()) + 4)
        print(
            fill(shown(line), WIDTH, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)
        )


def complain(error: ShopError, as_json: bool) -> None:
    """One error, as its sentence on stderr or as the JSON document on stdout."""
    if as_json:
        print_json(error.as_json())
    else:
        print(shown(str(error)), file=sys.stderr)


def print_json(document: object) -> None:
    """The one JSON document of a command. ASCII only, so that no terminal or pipe can spoil it."""
    print(json.dumps(document, indent=2), flush=True)  # the page goes on after it


def print_findings(findings: Iterable[Finding]) -> None:
    """Findings, the worst first, each in two lines; then how many of each."""
    ordered = sorted(
        findings, key=lambda finding: (-finding.severity, _natural(finding.item), finding.check, finding.code)
    )
    for finding in ordered:
        print(shown(str(finding)))
    counts = [(sum(each.severity is kind for each in ordered), kind.word) for kind in reversed(Severity)]
    if ordered:
        print(", ".join(f"{count} {word}" for count, word in counts if count))


def _natural(item: str) -> list[tuple[int, str]]:
    """Row 9 before row 10."""
    return [(int(part), "") if part.isdigit() else (0, part) for part in re.split(r"([0-9]+)", item)]


def print_table(
    headers: Sequence[str], rows: Iterable[Sequence[str]], title: str = "", right: str = ""
) -> None:
    """A plain table no wider than the terminal; the columns named in ``right`` line up on the right.

    ``right`` holds one character for each column, ``r`` for right and anything else for left.
    """
    from rich import box
    from rich.table import Table

    table = Table(box=box.SIMPLE_HEAD, title=title or None, title_justify="left", pad_edge=False)
    for header, side in zip(headers, right.ljust(len(headers)), strict=True):
        table.add_column(header, justify="right" if side == "r" else "left", overflow="fold")
    for row in rows:
        table.add_row(*map(shown, row))
    _console_print(table, sys.stdout)


def _console_print(thing: object, stream: TextIO) -> None:
    from rich.console import Console

    console = Console(file=stream, highlight=False, markup=False, emoji=False)
    if not console.is_terminal:
        console = Console(file=stream, highlight=False, markup=False, emoji=False, width=WIDTH)
    console.print(thing)
