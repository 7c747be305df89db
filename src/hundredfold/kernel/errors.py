"""Errors a person can act on: what happened, where, and the exact thing to do."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
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
    can go on: that gives a Finding. ``others`` are further errors found in the same reading (a file with
    three typing mistakes names all three).
    """

    def __init__(
        self,
        slug: str,
        what: str,
        fix: str,
        where: Where | None = None,
        exit_code: ExitCode = ExitCode.WRONG_USE,
        others: tuple["ShopError", ...] = (),
    ) -> None:
        super().__init__(what)
        self.slug = slug
        self.what = what
        self.fix = fix
        self.where = where or Where()
        self.exit_code = exit_code
        self.others = others

    @classmethod
    def several(cls, errors: Iterable["ShopError"]) -> "ShopError":
        """One error that carries them all, the first one leading. Raises ValueError when there are none."""
        flat = [each for error in errors for each in (error, *error.others)]
        if not flat:
            raise ValueError("several() needs at least one error")
        first = flat[0]
        others = tuple(error.at(Where()) for error in flat[1:])
        return cls(first.slug, first.what, first.fix, first.where, first.exit_code, others)

    def at(self, where: Where) -> "ShopError":
        """The same error alone, at ``where`` in the parts this one leaves empty."""
        place = replace(
            where,
            file=self.where.file or where.file,
            line=self.where.line if self.where.line is not None else where.line,
            row=self.where.row if self.where.row is not None else where.row,
            field=self.where.field or where.field,
        )
        return ShopError(self.slug, self.what, self.fix, place, self.exit_code)

    def __str__(self) -> str:
        place = str(self.where)
        head = f"{place}: {self.what}" if place else self.what
        return "\n".join([f"{head}\n  try: {self.fix}", *map(str, self.others)])

    def __reduce__(self) -> tuple[type["ShopError"], tuple[object, ...]]:
        # Workers send errors across processes; the default would replay only the message.
        parts = (self.slug, self.what, self.fix, self.where, self.exit_code, self.others)
        return (type(self), parts)

    def as_json(self) -> dict[str, object]:
        """The one JSON shape of an error, the same on every face; ``others`` only where there are some."""
        shape: dict[str, object] = {"error": self._parts()}
        if self.others:
            shape["others"] = [other._parts() for other in self.others]
        return shape

    def _parts(self) -> dict[str, object]:
        where = {
            "file": self.where.file,
            "line": self.where.line,
            "row": self.where.row,
            "field": self.where.field,
        }
        return {"slug": self.slug, "what": self.what, "where": where, "try": self.fix}
