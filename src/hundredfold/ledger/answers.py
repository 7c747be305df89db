"""A channel's acceptance file, read against what was handed over to it."""

from collections.abc import Mapping
from dataclasses import dataclass

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.kernel.grid import Grid, folded
from hundredfold.kernel.grid_rows import headers_of, rows_below
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import LedgerState, Progress

# Words channels use in such files, and in lists of what is live (common practice, no source).
SKU_WORDS = (
    "seller sku", "our sku", "item sku", "your reference", "reference", "ref", "stall item", "article",
)  # fmt: skip
IDENTIFIER_WORDS = ("id", "listing id", "item id", "product id", "item number", "listing", "number")
SYNONYMS: dict[str, tuple[str, ...]] = {
    "sku": SKU_WORDS,
    "status": ("result", "outcome", "state", "accepted", "answer", "decision"),
    "reason": ("message", "error", "errors", "note", "notes", "details", "comment", "why"),
    "identifier": IDENTIFIER_WORDS,
}
ACCEPTED = frozenset(
    (
        "accepted",
        "accept",
        "ok",
        "okay",
        "yes",
        "live",
        "active",
        "success",
        "successful",
        "published",
        "done",
        "added",
    )
)
REFUSED = frozenset(
    (
        "refused",
        "refuse",
        "rejected",
        "reject",
        "no",
        "error",
        "failed",
        "fail",
        "invalid",
        "declined",
        "not accepted",
    )
)
CHECK = CheckRecord(
    id="answers/row",
    title="Every row of an acceptance file says which SKU was accepted or refused.",
    looks_at="the rows of a file that a channel answered with, beside what was handed over to it",
    why="A row that is passed over leaves a listing neither accepted nor refused, and a refused one would be "
    "taken for live.",
    example="A row with the status `pending review`, or a SKU of another shop.",
    fix="Correct the row, or map the channel's columns, and read the file again; the other rows are done.",
    known_limits="Knows the words for accepted and refused that stand in ledger/answers.py, in English.",
    source="follows from the ledger; the words are common practice, no source",
    codes={"unusable": Severity.WARN},
)


@dataclass(frozen=True)
class Answers:
    """What an acceptance file told us that we did not know, and the rows that could not be used."""

    events: tuple[Event, ...]
    accepted: int
    refused: int
    known: int  # rows that say what the ledger holds already
    findings: tuple[Finding, ...]


def read_answers(
    grid: Grid, channel: str, state: LedgerState, columns: Mapping[str, str] | None = None
) -> Answers:
    """The events an acceptance file gives rise to. Reading it again gives none.

    ``columns`` maps our fields (sku, status, reason, identifier) to the file's headers where they differ.
    Raises ShopError ``no-such-column`` when SKU or status cannot be found.
    """
    headers = headers_of(grid, SYNONYMS, columns or {}, ("sku", "status"))
    handed, unsure = _handed_over(channel, state), _unsure(channel, state)
    events: list[Event] = []
    findings: list[Finding] = []
    known = 0
    for number, cells in rows_below(grid, headers):
        answer = _answer(cells, channel, handed, unsure)
        if isinstance(answer, str):
            fix = "correct the row and read the file again; the other rows are done"
            item = f"{grid.file}, row {number}"
            findings.append(CHECK.finds("unusable", item, answer, fix))
        elif state.answers.get(answer.subject) == (answer.happened.value, dict(answer.data)):
            known += 1
        else:
            events.append(answer)
    accepted = sum(event.happened is Happened.ACCEPTED for event in events)
    return Answers(tuple(events), accepted, len(events) - accepted, known, tuple(findings))


def _answer(
    cells: Mapping[str, str],
    channel: str,
    handed: Mapping[str, tuple[int, str]],
    unsure: Mapping[str, PackKey],
) -> Event | str:
    """The event of one row, or why there is none."""
    sku, word = cells["sku"], folded(cells["status"])
    if not sku:
        return "it names no SKU"
    if sku not in handed and sku in unsure:
        return (
            f"{sku} is in {unsure[sku]}, and whether that arrived is not known; this answer says so: "
            f"hundredfold deliver --settle {unsure[sku]} --happened yes"
        )
    if sku not in handed:
        return f"{sku} was never handed over to {channel}"
    revision, action = handed[sku]
    data = {"channel": channel, "revision": revision, "action": action}
    if word in ACCEPTED:
        return Event(Happened.ACCEPTED, sku, {**data, "identifier": cells.get("identifier", "")})
    if word in REFUSED:
        return Event(Happened.REFUSED, sku, {**data, "reason": cells.get("reason", "")})
    return f"{cells['status']!r} for {sku} says neither accepted nor refused"


def _handed_over(channel: str, state: LedgerState) -> dict[str, tuple[int, str]]:
    """Each SKU's last revision and action handed over to the channel."""
    handed: dict[str, tuple[int, str]] = {}
    for key, pack in sorted(state.packs.items()):
        if key.channel == channel and pack.progress is Progress.HANDED_OVER:
            for row in pack.rows:
                handed[row.sku] = max(handed.get(row.sku, (0, "")), (row.revision, row.action))
    return handed


def _unsure(channel: str, state: LedgerState) -> dict[str, PackKey]:
    """The SKUs of packs of which nobody knows whether they arrived."""
    doubt = (Progress.HANDING_OVER, Progress.UNSURE)
    packs = [(key, pack) for key, pack in sorted(state.packs.items()) if pack.progress in doubt]
    return {row.sku: key for key, pack in packs if key.channel == channel for row in pack.rows}
