from dataclasses import replace

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.grid import Cell, Grid
from hundredfold.ledger.answers import read_answers
from hundredfold.ledger.answerwords import outcome_of, own_words
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey, SkuKey
from hundredfold.ledger.refusals import refusals_of
from hundredfold.ledger.state import LedgerState, Standing

PACK = "north/2026-12-01"
BEES = ListingKey("north", "bees", "MUG")


def handed_over() -> list[Event]:
    events = []
    rows = []
    for colour in ("navy", "white"):
        sku = f"BEES-{colour.upper()}"
        events.append(Event(Happened.SKU_GIVEN, sku, SkuKey("north", "bees", "MUG", colour, "").as_data()))
        rows.append({**BEES.as_data(), "sku": sku, "revision": 1, "action": "new"})
    listing = {**BEES.as_data(), "revision": 1, "action": "new", "colours": ["navy", "white"], "content": {}}
    events.append(Event(Happened.PACKED, PACK, {"manifest": "m", "rows": rows, "listings": [listing]}))
    return [*events, Event(Happened.HANDING_OVER, PACK), Event(Happened.HANDED_OVER, PACK)]


def state_of(*events: Event) -> LedgerState:
    return fold([replace(event, number=n) for n, event in enumerate(events, start=1)])


def grid(*rows: tuple[Cell, ...]) -> Grid:
    return Grid("answers.csv", "", rows)


HEADER = ("Your reference", "Result", "Message", "Item number")


def test_accepted_and_refused() -> None:
    table = grid(
        ("Northern answers of today",), HEADER,
        ("BEES-NAVY", "Accepted", None, 771.0),
        ("BEES-WHITE", "REJECTED", "picture too dark", None), (None, None),
    )  # fmt: skip
    found = read_answers(table, "north", state_of(*handed_over()))
    assert (found.accepted, found.refused, found.known, found.findings) == (1, 1, 0, ())
    state = state_of(*handed_over(), *found.events)
    assert state.identifiers == {"BEES-NAVY": "771"}
    assert state.listed[BEES].standing is Standing.LIVE  # one of its variants is in
    assert state.existing == {"BEES-NAVY"}
    again = read_answers(table, "north", state)
    assert (again.events, again.known) == ((), 2)


def test_what_is_kept_of_an_answer() -> None:
    """Which revision it answers, so that a later one is not taken for answered."""
    table = grid(HEADER, ("BEES-NAVY", "ok"), ("BEES-WHITE", "no"))
    short = read_answers(table, "north", state_of(*handed_over()))
    about = {"channel": "north", "revision": 1, "action": "new"}
    assert [(event.happened, event.subject, dict(event.data)) for event in short.events] == [
        (Happened.ACCEPTED, "BEES-NAVY", {**about, "identifier": ""}),
        (Happened.REFUSED, "BEES-WHITE", {**about, "reason": ""}),
    ]
    bare = read_answers(grid(("SKU", "Status"), ("BEES-NAVY", "ok")), "north", state_of(*handed_over()))
    assert dict(bare.events[0].data) == {**about, "identifier": ""}
    assert read_answers(table, "south", state_of(*handed_over())).events == ()


def test_a_listing_wholly_refused() -> None:
    table = grid(HEADER, *((f"BEES-{c}", "no", "too loud", None) for c in ("NAVY", "WHITE")))
    found = read_answers(table, "north", state_of(*handed_over()))
    listed = state_of(*handed_over(), *found.events).listed[BEES]
    assert (listed.standing, listed.why) == (Standing.REFUSED, "too loud")


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ((None, "ok"), "it names no SKU"),
        (("WASPS", "ok"), "WASPS was never handed over to north"),
        (("BEES-NAVY", "perhaps"), "'perhaps' for BEES-NAVY says neither accepted nor refused"),
        (("BEES-NAVY",), "'' for BEES-NAVY says neither accepted nor refused"),
    ],
)
def test_rows_that_cannot_be_used_are_named(row: tuple[Cell, ...], why: str) -> None:
    found = read_answers(grid(HEADER, ("BEES-WHITE", "ok"), row), "north", state_of(*handed_over()))
    assert (found.accepted, [(f.item, f.what) for f in found.findings]) == (1, [("answers.csv, row 3", why)])
    assert [(f.check, f.code) for f in found.findings] == [("answers/row", "unusable")]


def test_columns_of_another_name_are_told() -> None:
    table = grid(("Thing", "Verdict"), ("BEES-NAVY", "ok"))
    with pytest.raises(ShopError) as caught:
        read_answers(grid(("Thing", "Verdict"), ("bees in navy", "fine")), "north", state_of(*handed_over()))
    assert caught.value.slug == "no-such-column"
    found = read_answers(table, "north", state_of(*handed_over()), {"sku": "thing", "status": "Verdict"})
    assert found.accepted == 1


YES, NO = Happened.ACCEPTED, Happened.REFUSED


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("Accepted", YES), ("accepted with warnings", YES), ("OK", YES), ("Angenommen", YES),
        ("Veröffentlicht", YES),
        ("Accepté", YES), ("publiée", YES), ("Aceptado", YES), ("Sí", YES), ("Attivo", YES),
        ("Approvato", YES),
        ("abgelehnt", NO), ("nicht akzeptiert", NO), ("Fehler: Bild zu klein", NO), ("Refusé", NO),
        ("non valide", NO),
        ("Rechazado", NO), ("Rifiutato", NO), ("not accepted", NO), ("Failed (2 errors)", NO), ("no", NO),
        ("pending review", None), ("in Prüfung", None), ("", None), ("purple", None),
    ],
)  # fmt: skip
def test_words(text: str, outcome: Happened | None) -> None:
    assert outcome_of(text) is outcome


def test_a_file_with_headings_of_its_own_is_understood_by_its_values() -> None:
    table = grid(
        ("Whatever", "Thing", "Verdict so far"),
        ("x", "BEES-NAVY", "angenommen"),
        ("y", "BEES-WHITE", "abgelehnt"),
    )
    found = read_answers(table, "north", state_of(*handed_over()))
    assert (found.accepted, found.refused, found.findings) == (1, 1, ())


def test_headings_in_other_languages() -> None:
    table = grid(
        ("Artikelnummer", "Ergebnis", "Grund", "Angebotsnummer"), ("BEES-NAVY", "abgelehnt", "zu dunkel", "")
    )
    found = read_answers(table, "north", state_of(*handed_over()))
    assert found.events[0].data["reason"] == "zu dunkel"


def test_a_word_of_the_channels_own() -> None:
    table = grid(("SKU", "Status"), ("BEES-NAVY", "On the stall"), ("BEES-WHITE", "Under the counter"))
    state = state_of(*handed_over())
    assert len(read_answers(table, "north", state).findings) == 2
    words = own_words({"On the stall": "accepted", "Under the counter": "refused"})
    found = read_answers(table, "north", state, words=words)
    assert (found.accepted, found.refused, found.findings) == (1, 1, ())
    with pytest.raises(ValueError, match="accepted or refused"):
        own_words({"On the stall": "live-ish"})


def refused(sku: str, reason: str) -> Event:
    return Event(NO, sku, {"reason": reason})


def test_the_same_reason_three_times_is_a_pattern_with_its_cause() -> None:
    owners = {f"S{n}": SkuKey("north", f"d{n}", "MUG", "navy", "") for n in range(4)}
    events = [refused(f"S{n}", f'Picture {n} of "S{n}" is too small ({900 + n} px)') for n in range(3)]
    first, second = refusals_of([*events, refused("S3", "Title too long")], owners)
    assert (first.skus, first.is_pattern) == (("S0", "S1", "S2"), True)
    assert first.shared == ("the blank MUG", "the colour navy")
    assert (second.reason, second.is_pattern) == ("Title too long", False)


def test_a_pattern_is_told() -> None:
    colours = ("navy", "white", "red")
    events = [
        Event(Happened.SKU_GIVEN, f"M-{c}", SkuKey("north", "bees", "MUG", c, "").as_data()) for c in colours
    ]
    about = {"channel": "north", "design": "bees", "blank": "MUG"}
    rows = [{**about, "sku": f"M-{c}", "revision": 1, "action": "new"} for c in colours]
    listing = {**about, "revision": 1, "action": "new", "colours": list(colours), "content": {}}
    pack = "north/2026-12-01"
    events.append(Event(Happened.PACKED, pack, {"manifest": "m", "rows": rows, "listings": [listing]}))
    events += [Event(Happened.HANDING_OVER, pack), Event(Happened.HANDED_OVER, pack)]
    table = grid(
        ("SKU", "Status", "Reason"),
        *((f"M-{c}", "refused", f"handle missing {n}") for n, c in enumerate(colours)),
    )
    found = read_answers(table, "north", state_of(*events))
    assert [(one.check, one.code) for one in found.findings] == [("answers/row", "pattern")]
    assert "the blank MUG" in found.findings[0].what
    assert [(one.reason, len(one.skus)) for one in found.reasons] == [("handle missing 0", 3)]
