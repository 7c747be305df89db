"""All packs, planned and made, with what became of them."""

from pathlib import Path

from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import LedgerState, PackState, PlannedDay, Progress
from hundredfold.workshop.records.state import PackRecord, PacksView
from hundredfold.workshop.steps.packfiles import pack_folder
from hundredfold.workshop.views.looking import Glance, look_at

_MADE = "made"


def packs_view(folder: Path) -> PacksView:
    """All packs of a shop, by day, then channel."""
    return PacksView(pack_records(look_at(folder)))


def pack_records(look: Glance) -> tuple[PackRecord, ...]:
    """The same of a moment."""
    planned: dict[PackKey, list[PlannedDay]] = {}
    for listing, day in look.state.planned.items():
        planned.setdefault(PackKey(listing.channel, day.day), []).append(day)
    known = look.state.packs
    records = [_known(look, key, pack) for key, pack in known.items()]
    records += [_planned(key, days) for key, days in planned.items() if key not in known]
    return tuple(sorted(records, key=lambda one: (one.day, one.channel)))


def _planned(key: PackKey, days: list[PlannedDay]) -> PackRecord:
    rows = sum(day.rows for day in days)
    return PackRecord(str(key), key.channel, key.day, "planned", len(days), rows, "", 0, 0, ())


def _known(look: Glance, key: PackKey, pack: PackState) -> PackRecord:
    folder = pack_folder(look.shop.paths, key)
    files = tuple(sorted(path.name for path in folder.iterdir())) if folder.is_dir() else ()
    state = _MADE if pack.progress is Progress.PACKED else pack.progress.value
    answers = [_answer(look.state, row.sku) for row in pack.rows] if state == "handed over" else []
    return PackRecord(
        str(key),
        key.channel,
        key.day,
        state,
        len(pack.listings),
        len(pack.rows),
        pack.destination,
        answers.count("accepted"),
        answers.count("refused"),
        files,
    )


def _answer(state: LedgerState, sku: str) -> str:
    return state.answers[sku][0] if sku in state.answers else ""
