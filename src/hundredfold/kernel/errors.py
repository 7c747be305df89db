"""Errors a person can act on: what happened, where, and the exact thing to do."""

from dataclasses import dataclass
from enum import IntEnum


class ExitCode(IntEnum):
    """What a command answers to the shell that called it."""

    DONE = 0
    PROBLEMS = 1
    WRONG_USE = 2
    TOOL_MISSING = 3
    OUR_BUG = 70


@dataclass(frozen=True)
class Where:
    """The place an error speaks of; empty parts are left out of the sentence."""

    file: str = ""
    line: int | None = None
    row: int | None = None
    field: str = ""

    def __str__(self) -> str:
        parts = [self.file] if self.file else []
        if self.line is not None:
            parts.append(f"line {self.line}")
        if self.row is not None:
            parts.append(f"row {self.row}")
        if self.field:
            parts.append(self.field)
        return ", ".join(parts)


class ShopError(Exception):
    """A wrong request or a missing tool: stops the command with one sentence and one piece of advice.

    ``slug`` names the heading in docs/messages.md. The seller's own data never raises this where work
    can go on: that gives a Finding.
    """

    def __init__(
        self,
        slug: str,
        what: str,
        fix: str,
        where: Where | None = None,
        exit_code: ExitCode = ExitCode.WRONG_USE,
    ) -> None:
        super().__init__(what)
        self.slug = slug
        self.what = what
        self.fix = fix
        self.where = where or Where()
        self.exit_code = exit_code

    def __str__(self) -> str:
        place = str(self.where)
        head = f"{place}: {self.what}" if place else self.what
        return f"{head}\n  try: {self.fix}"

    def __reduce__(self) -> tuple[type["ShopError"], tuple[object, ...]]:
        # Workers send errors across processes; the default would replay only the message.
        return (type(self), (self.slug, self.what, self.fix, self.where, self.exit_code))

    def as_json(self) -> dict[str, object]:
        """The one JSON shape of an error, the same on every face."""
        where = {
            "file": self.where.file,
            "line": self.where.line,
            "row": self.where.row,
            "field": self.where.field,
        }
        return {"error": {"slug": self.slug, "what": self.what, "where": where, "try": self.fix}}
