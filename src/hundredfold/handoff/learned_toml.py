"""A learned sheet as the TOML a seller reads: each column with where it stands, how sure it is, and why."""

from collections.abc import Iterator, Sequence
from dataclasses import fields
from enum import StrEnum

from hundredfold.catalogue.sheets import Column, Sheet
from hundredfold.catalogue.toml_edits import toml_key, toml_value
from hundredfold.handoff.learned import LearnedColumn
from hundredfold.learning.seen import Surety

_USUAL = Column("")
_SEPARATORS = {"\t": "tab"}
_SETTINGS = (
    "form", "first_row", "worksheet", "encoding", "byte_order_mark", "quote_all", "max_rows", "max_bytes",
    "max_archive_bytes", "families", "numbers_written", "days_written", "name",
)  # fmt: skip


def sheet_toml(sheet: Sheet, columns: Sequence[LearnedColumn], source: str) -> str:
    """The [sheet] table, and the tables of the partner's words."""
    lines = [f"[sheet]  # learned from {source}", f"kind = {toml_value(sheet.kind.value)}"]
    lines += [f"{key} = {value}" for key, value in _settings(sheet)]
    lines.append("columns = [")
    for one in columns:
        lines += [f"  # {_about(one)}", f"  {column_toml(one.column)},"]
    lines.append("]")
    return "\n".join(lines) + "\n"


def words_toml(columns: Sequence[LearnedColumn], known: Sequence[str]) -> str:
    """The [their_words] tables that are not there yet."""
    lines: list[str] = []
    for one in columns:
        name = one.column.their_words
        if one.words is None or name in known:
            continue
        lines += ["", f"[their_words.{toml_key(name)}]"]
        lines += [f"{toml_key(ours)} = {toml_value(theirs)}" for ours, theirs in one.words.items()]
        lines += [f'# {toml_key(word)} = ""  # which of their choices is it?' for word in one.wordless]
        known = (*known, name)
    return "\n".join(lines) + "\n" if lines else ""


def column_toml(column: Column) -> str:
    """One column on one line; what has its usual value is left out."""
    pairs = [f"header = {toml_value(column.header)}"]
    for entry in fields(column):
        value = getattr(column, entry.name)
        if entry.name != "header" and value != getattr(_USUAL, entry.name):
            pairs.append(f"{entry.name} = {_value(value)}")
    return f"{{ {', '.join(pairs)} }}"


def _value(value: object) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(toml_value(each) for each in value)}]"
    if isinstance(value, StrEnum):
        return toml_value(value.value)
    assert isinstance(value, str | bool | int)
    return toml_value(value)


def _settings(sheet: Sheet) -> Iterator[tuple[str, str]]:
    usual = Sheet(sheet.kind, ())
    for name in _SETTINGS:
        value = getattr(sheet, name)
        if value not in (None, getattr(usual, name)):
            yield name, _value(value)
    if sheet.separator != usual.separator:
        yield "separator", toml_value(_SEPARATORS.get(sheet.separator, sheet.separator))
    if sheet.line_end != usual.line_end:
        yield "line_ends", toml_value("unix")


def _about(one: LearnedColumn) -> str:
    seen, proposal = one.proposal.column, one.proposal
    said = "yours" if one.kept else "gap" if proposal.surety is Surety.GAP else proposal.surety.value
    why = "kept from your file" if one.kept else "; ".join(proposal.why)
    marks = [mark for mark, there in (("hidden", seen.hidden), ("required", seen.required)) if there]
    if one.wordless:
        marks.append(f"no choice for {', '.join(one.wordless[:6])}")
    return " ".join(
        f"{seen.letter}  {said}: {why}{' (' + '; '.join(marks) + ')' if marks else ''}".split("\n")
    )
