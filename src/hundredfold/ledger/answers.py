"""A channel's acceptance file, read against what was handed over to it."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.kernel.grid import Grid, find_headers
from hundredfold.kernel.grid_rows import headers_of, rows_below
from hundredfold.learning.words import fold
from hundredfold.ledger.answerwords import outcome_of
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.refusals import Refusals, refusals_of
from hundredfold.ledger.state import LedgerState, Progress

# Words channels use in such files, and in lists of what is live (common practice, no source).
SKU_WORDS = (
    "seller sku", "our sku", "item sku", "your reference", "reference", "ref", "stall item", "article",
    "artikelnummer", "ihre referenz", "händler sku", "référence", "votre référence", "referencia",
    "su referencia", "riferimento", "sku venditore",
)  # fmt: skip
IDENTIFIER_WORDS = ("id", "listing id", "item id", "product id", "item number", "listing", "number")
SYNONYMS: dict[str, tuple[str, ...]] = {
    "sku": SKU_WORDS,
    "status": (
        "result",
        "outcome",
        "state",
        "accepted",
        "answer",
        "decision",
        "ergebnis",
        "statut",
        "résultat",
        "estado",
        "resultado",
        "stato",
        "esito",
    ),
    "reason": (
        "message",
        "error",
        "errors",
        "note",
        "notes",
        "details",
        "comment",
        "why",
        "grund",
        "meldung",
        "hinweis",
        "motif",
        "raison",
        "motivo",
        "mensaje",
        "messaggio",
    ),
    "identifier": (*IDENTIFIER_WORDS, "angebotsnummer", "numéro", "id annonce", "número", "numero"),
}
_MOSTLY = 0.6  # of a column's values, common practice, no source
CHECK = CheckRecord(
    id="answers/row",
    title="Every row of an acceptance file says which SKU was accepted or refused.",
    looks_at="the rows of a file that a channel answered with, beside what was handed over to it",
    why="A row that is passed over leaves a listing neither accepted nor refused, and a refused one would be "
    "taken for live.",
    example="A row with the status `pending review`, or a SKU of another shop.",
    fix="Correct the row, or map the channel's columns, and read the file again; the other rows are done.",
    known_limits="Knows the words for accepted and refused that stand in ledger/answerwords.py, in five "
    "languages; "
    'others are told with `--word "on the stall=accepted"`. A pattern is the same reason three times in '
    "one file.",
    source="follows from the ledger; the words are common practice, no source",
    codes={"unusable": Severity.WARN, "pattern": Severity.WARN},
)


@dataclass(frozen=True)
class Answers:
    """What an acceptance file told us that we did not know, and the rows that could not be used."""

    events: tuple[Event, ...]
    accepted: int
    refused: int
    known: int  # rows that say what the ledger holds already
    findings: tuple[Finding, ...]
    reasons: tuple[Refusals, ...] = ()


def read_answers(
    grid: Grid,
    channel: str,
    state: LedgerState,
    columns: Mapping[str, str] | None = None,
    words: Mapping[str, Happened] | None = None,
) -> Answers:
    """The events an acceptance file gives rise to. Reading it again gives none.

    ``columns`` maps our fields (sku, status, reason, identifier) to the file's headers where they differ,
    ``words`` the channel's own words for accepted and refused. Headers nobody knows are told by the values
    below. Raises ShopError ``no-such-column`` when SKU or status cannot be found.
    """
    handed, unsure = _handed_over(channel, state), _unsure(channel, state)
    told = {**_by_values(grid, {*handed, *unsure}, words or {}), **(columns or {})}
    headers = headers_of(grid, SYNONYMS, told, ("sku", "status"))
    events: list[Event] = []
    findings: list[Finding] = []
    known = 0
    for number, cells in rows_below(grid, headers):
        answer = _answer(cells, channel, handed, unsure, words or {})
        if isinstance(answer, str):
            fix = "correct the row and read the file again; the other rows are done"
            item = f"{grid.file}, row {number}"
            findings.append(CHECK.finds("unusable", item, answer, fix))
        elif state.answers.get(answer.subject) == (answer.happened.value, dict(answer.data)):
            known += 1
        else:
            events.append(answer)
    accepted = sum(event.happened is Happened.ACCEPTED for event in events)
    reasons = refusals_of(events, state.owners)
    findings += _patterns(reasons, grid.file)
    return Answers(tuple(events), accepted, len(events) - accepted, known, tuple(findings), reasons)


def _patterns(reasons: Iterable[Refusals], file: str) -> Iterator[Finding]:
    for one in reasons:
        if one.is_pattern:
            cause = f"; all are of {' and '.join(one.shared)}" if one.shared else ""
            what = f'{len(one.skus)} were refused for one reason, "{one.reason[:120]}"{cause}'
            fix = (
                "mend what they share (the blank, the channel's rules, the art) and run the month: "
                "they go out again"
            )
            yield CHECK.finds("pattern", file, what, fix, {"refused": len(one.skus)})


def _by_values(grid: Grid, known: Set[str], words: Mapping[str, Happened]) -> dict[str, str]:
    """The headers of the columns that hold our SKUs and outcomes, where no header says so itself."""
    found = find_headers(grid, SYNONYMS)
    missing = {"sku", "status"} - set(found.columns if found else ())
    rows = [grid.texts(at) for at in range(min(200, len(grid.rows)))] if missing else []
    first = next((at for at, row in enumerate(rows) if known & set(row)), 0)
    if not first:
        return {}
    body, told = rows[first:], {}
    for field, fits in (
        ("sku", known.__contains__),
        ("status", lambda text: _outcome(text, words) is not None),
    ):
        shares = {header: _share(body, at, fits) for at, header in enumerate(rows[first - 1]) if header}
        best = max(shares, key=lambda header: shares[header], default="")
        if field in missing and best and shares[best] >= _MOSTLY:
            told[field] = best
    return told


def _share(rows: Sequence[Sequence[str]], at: int, fits: Callable[[str], bool]) -> float:
    texts = [row[at] for row in rows if at < len(row) and row[at]]
    return sum(map(fits, texts)) / len(texts) if texts else 0.0


def _outcome(text: str, words: Mapping[str, Happened]) -> Happened | None:
    return words.get(fold(text.strip())) or outcome_of(text)


def _answer(
    cells: Mapping[str, str],
    channel: str,
    handed: Mapping[str, tuple[int, str]],
    unsure: Mapping[str, PackKey],
    words: Mapping[str, Happened],
) -> Event | str:
    """The event of one row, or why there is none."""
    sku, outcome = cells["sku"], _outcome(cells["status"], words)
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
    if outcome is Happened.ACCEPTED:
        return Event(Happened.ACCEPTED, sku, {**data, "identifier": cells.get("identifier", "")})
    if outcome is Happened.REFUSED:
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
