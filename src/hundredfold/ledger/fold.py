"""Folds the ledger's events into the state of the shop. Pure: same events, same state."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from hundredfold.ledger.choices import Answer, Choice, ChoiceKey
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import GoodsKey, ListingKey, PackKey, SkuKey
from hundredfold.ledger.state import (
    HandText,
    LedgerState,
    Listed,
    ListingSent,
    PackState,
    PlannedDay,
    Progress,
    RowSent,
    Standing,
)

# What went out into the world, and a SKU or barcode once given, cannot be taken back by a row in a book.
LASTING = frozenset(
    {
        Happened.DESIGN_SEEN,
        Happened.SKU_GIVEN,
        Happened.BARCODE_GIVEN,
        Happened.PACKED,
        Happened.HANDING_OVER,
        Happened.HANDED_OVER,
        Happened.UNSURE,
    }
)


def standing_events(events: Iterable[Event]) -> list[Event]:
    """The events that still count, in order: undone ones left out, an undone undo taken back.

    An undo that names a lasting event (see ``LASTING``) is ignored.
    """
    ordered = list(events)
    still = standing_numbers(ordered)
    return [e for e in ordered if e.happened is not Happened.UNDONE and (e.number in still or not e.number)]


def standing_numbers(events: Iterable[Event]) -> frozenset[int]:
    """The numbers of the rows that still count, undos included: one stands as long as it takes effect."""
    ordered = list(events)
    by_number = {event.number: event for event in ordered if event.number}
    gone: set[int] = set()
    for event in reversed(ordered):  # a later undo decides about an earlier one
        if event.happened is not Happened.UNDONE or event.number in gone or event.undoes is None:
            continue
        target = by_number.get(event.undoes)
        if target is not None and target.happened not in LASTING and event.undoes < event.number:
            gone.add(event.undoes)
        else:
            gone.add(event.number)
    return frozenset(by_number) - gone


def fold(events: Iterable[Event]) -> LedgerState:
    """The state after these events, which must come in the order they were appended."""
    book = _Book()
    everything = list(events)
    for event in standing_events(everything):
        step = _STEPS.get(event.happened)
        if step is not None:
            step(book, event)
    last = max((event.number for event in everything), default=0)
    return book.state(last)


# What these say stands beside what was said before; none of them reaches back.
_ADDING = frozenset(
    {
        Happened.CHOSEN,
        Happened.PLACED,
        Happened.WORDED,
        Happened.PLANNED,
        Happened.UNPLANNED,
        Happened.REPAIRED,
        Happened.DESIGN_SEEN,
    }
)


def fold_on(state: LedgerState, fresh: Sequence[Event]) -> LedgerState | None:
    """The state after further events, at the cost of these alone; None where they reach back (an undo, a
    hand-over), so that everything is to be folded anew. The state that is given stays as it was."""
    if any(event.happened not in _ADDING for event in fresh):
        return None
    book = _Book(
        planned=dict(state.planned),
        choices=dict(state.choices),
        placed=dict(state.placed),
        by_hand={key: dict(texts) for key, texts in state.by_hand.items()},
    )
    for event in fresh:
        step = _STEPS.get(event.happened)
        if step is not None:
            step(book, event)
    last = max([state.last_number, *(event.number for event in fresh)])
    return replace(
        state,
        planned=book.planned,
        choices=book.choices,
        placed=book.placed,
        by_hand=book.by_hand,
        last_number=last,
    )


@dataclass
class _Book:
    """The state while it is being written; frozen into a LedgerState at the end."""

    skus: dict[SkuKey, str] = field(default_factory=dict)
    owners: dict[str, SkuKey] = field(default_factory=dict)
    by_listing: dict[ListingKey, dict[SkuKey, str]] = field(default_factory=dict)
    listed: dict[ListingKey, Listed] = field(default_factory=dict)
    # While a hand-over is open: how its listings stood before, and the SKUs that only it may have put there.
    before: dict[ListingKey, Listed | None] = field(default_factory=dict)
    perhaps: dict[PackKey, set[str]] = field(default_factory=dict)
    planned: dict[ListingKey, PlannedDay] = field(default_factory=dict)
    packs: dict[PackKey, PackState] = field(default_factory=dict)
    sent: dict[tuple[str, int], PackKey] = field(default_factory=dict)
    existing: set[str] = field(default_factory=set)
    ended: set[str] = field(default_factory=set)
    identifiers: dict[str, str] = field(default_factory=dict)
    answers: dict[str, tuple[str, dict[str, object]]] = field(default_factory=dict)
    retired: dict[str, int] = field(default_factory=dict)
    choices: dict[ChoiceKey, Choice] = field(default_factory=dict)
    placed: dict[tuple[str, str], Mapping[str, object]] = field(default_factory=dict)
    by_hand: dict[ListingKey, dict[str, HandText]] = field(default_factory=dict)
    barcodes: dict[GoodsKey, str] = field(default_factory=dict)

    def give(self, key: SkuKey, sku: str) -> None:
        """Ties a SKU to its key. Only what a channel really has may take the place of an earlier SKU."""
        self.owners.setdefault(sku, key)
        given = self.skus.get(key)
        if given is None or (sku in self.existing and given not in self.existing):
            self.skus[key] = sku
            self.by_listing.setdefault(key.listing, {})[key] = sku

    def state(self, last: int) -> LedgerState:
        return LedgerState(
            skus=self.skus,
            owners=self.owners,
            by_listing=self.by_listing,
            listed=self.listed,
            planned=self.planned,
            packs=self.packs,
            sent=self.sent,
            existing=frozenset(self.existing),
            ended=frozenset(self.ended),
            identifiers=self.identifiers,
            answers=self.answers,
            retired=self.retired,
            placed=self.placed,
            choices=self.choices,
            by_hand=self.by_hand,
            barcodes=self.barcodes,
            last_number=last,
        )


def _adopted(book: _Book, event: Event) -> None:
    key = SkuKey.from_data(event.data)
    book.existing.add(event.subject)
    book.give(key, event.subject)
    identifier = str(event.data.get("identifier", ""))
    if identifier:
        book.identifiers[event.subject] = identifier
    old = book.listed.get(key.listing, Listed(Standing.LIVE, 0, adopted=True))
    colours = old.colours if key.colour in old.colours or not key.colour else (*old.colours, key.colour)
    book.listed[key.listing] = replace(old, colours=tuple(sorted(colours)), adopted=True)
    book.planned.pop(key.listing, None)


def _sku_given(book: _Book, event: Event) -> None:
    book.give(SkuKey.from_data(event.data), event.subject)


def _barcode_given(book: _Book, event: Event) -> None:
    book.barcodes.setdefault(GoodsKey.from_data(event.data), event.subject)


def _planned(book: _Book, event: Event) -> None:
    data = event.data
    book.planned[ListingKey.from_data(data)] = PlannedDay(
        day=str(data["day"]),
        action=str(data["action"]),
        revision=_whole(data["revision"]),
        colours=_texts(data.get("colours", ())),
        rows=_whole(data.get("rows", 1)),
        reason=str(data.get("reason", "")),
        pinned=data.get("pinned") is True,
    )


def _unplanned(book: _Book, event: Event) -> None:
    book.planned.pop(ListingKey.from_data(event.data), None)


def _packed(book: _Book, event: Event) -> None:
    key = PackKey.parse(event.subject)
    old = book.packs.get(key)
    if old is not None and old.progress is not Progress.PACKED:
        return  # a frozen day is not rewritten, whatever was appended
    book.packs[key] = PackState(
        progress=Progress.PACKED,
        manifest=str(event.data["manifest"]),
        rows=tuple(_row(row) for row in _maps(event.data.get("rows", ()))),
        listings=tuple(_listing(entry) for entry in _maps(event.data.get("listings", ()))),
    )


def _handing_over(book: _Book, event: Event) -> None:
    key = PackKey.parse(event.subject)
    pack = book.packs.get(key)
    if pack is None or pack.progress is not Progress.PACKED:
        return
    destination = str(event.data.get("destination", ""))
    book.packs[key] = replace(pack, progress=Progress.HANDING_OVER, destination=destination)
    for sent in pack.listings:
        old = book.listed.get(sent.key)
        book.before[sent.key] = old
        base = old or Listed(Standing.UNSURE, 0)
        book.listed[sent.key] = replace(base, standing=Standing.UNSURE)
    book.perhaps[key] = {row.sku for row in pack.rows} - book.existing
    book.existing |= book.perhaps[key]


def _unsure(book: _Book, event: Event) -> None:
    _advance(book, PackKey.parse(event.subject), Progress.UNSURE)


def _advance(book: _Book, key: PackKey, progress: Progress) -> None:
    pack = book.packs.get(key)
    if pack is not None and pack.progress in (Progress.HANDING_OVER, Progress.UNSURE):
        book.packs[key] = replace(pack, progress=progress)


def _handed_over(book: _Book, event: Event) -> None:
    key = PackKey.parse(event.subject)
    pack = book.packs.get(key)
    if pack is None or pack.progress not in (Progress.HANDING_OVER, Progress.UNSURE):
        return
    book.packs[key] = replace(pack, progress=Progress.HANDED_OVER)
    for sent in pack.listings:
        old = book.before.pop(sent.key, None)
        standing = Standing.ENDED if sent.action == "end" else Standing.LIVE
        adopted = old is not None and old.adopted
        book.listed[sent.key] = Listed(standing, sent.revision, sent.colours, sent.content, adopted)
        book.planned.pop(sent.key, None)
    for row in pack.rows:
        book.sent[(row.sku, row.revision)] = key
        (came, went) = (book.ended, book.existing) if row.action == "end" else (book.existing, book.ended)
        came.add(row.sku)
        went.discard(row.sku)


def _settled(book: _Book, event: Event) -> None:
    if event.data.get("happened"):
        _handed_over(book, event)
        return
    key = PackKey.parse(event.subject)
    pack = book.packs.get(key)
    if pack is None or pack.progress not in (Progress.HANDING_OVER, Progress.UNSURE):
        return
    book.packs[key] = replace(pack, progress=Progress.PACKED, destination="")
    for sent in pack.listings:
        old = book.before.pop(sent.key, None)
        if old is None:
            book.listed.pop(sent.key, None)
        else:
            book.listed[sent.key] = old
    book.existing -= book.perhaps.pop(key, set())


def _accepted(book: _Book, event: Event) -> None:
    book.answers[event.subject] = (event.happened.value, dict(event.data))
    identifier = str(event.data.get("identifier", ""))
    if identifier:
        book.identifiers[event.subject] = identifier
    owner = book.owners.get(event.subject)
    if owner is None:
        return
    if event.subject not in book.ended:
        book.existing.add(event.subject)
    listed = book.listed.get(owner.listing)
    if listed is not None and listed.standing is Standing.REFUSED:
        book.listed[owner.listing] = replace(listed, standing=Standing.LIVE, why="")


def _refused(book: _Book, event: Event) -> None:
    book.answers[event.subject] = (event.happened.value, dict(event.data))
    owner = book.owners.get(event.subject)
    listed = book.listed.get(owner.listing) if owner else None
    if owner is None or listed is None:
        return
    if event.data.get("action", "new") == "new":
        book.existing.discard(event.subject)
    gone = not any(sku in book.existing for sku in book.by_listing.get(owner.listing, {}).values())
    standing = Standing.REFUSED if gone else listed.standing
    why = str(event.data.get("reason", ""))
    book.listed[owner.listing] = replace(listed, standing=standing, why=why)


def _ended(book: _Book, event: Event) -> None:
    key = ListingKey.from_data(event.data)
    listed = book.listed.get(key, Listed(Standing.ENDED, 0))
    book.listed[key] = replace(listed, standing=Standing.ENDED)
    book.planned.pop(key, None)
    for sku in book.by_listing.get(key, {}).values():
        if sku in book.existing:
            book.existing.discard(sku)
            book.ended.add(sku)


def _retired(book: _Book, event: Event) -> None:
    book.retired[event.subject] = event.number


def _chosen(book: _Book, event: Event) -> None:
    choice = Choice.from_data(event.subject, event.data)
    book.choices.pop(choice.key, None)
    if choice.answer is not Answer.OPEN:
        book.choices[choice.key] = choice


def _placed(book: _Book, event: Event) -> None:
    book.placed[event.subject, str(event.data["blank"])] = event.data


def _worded(book: _Book, event: Event) -> None:
    data = event.data
    texts = book.by_hand.setdefault(ListingKey.from_data(data), {})
    texts[str(data["field"])] = HandText(str(data["text"]), str(data["below"]), event.number)


_STEPS: dict[Happened, Callable[[_Book, Event], None]] = {
    Happened.ADOPTED: _adopted,
    Happened.SKU_GIVEN: _sku_given,
    Happened.BARCODE_GIVEN: _barcode_given,
    Happened.PLANNED: _planned,
    Happened.UNPLANNED: _unplanned,
    Happened.PACKED: _packed,
    Happened.HANDING_OVER: _handing_over,
    Happened.UNSURE: _unsure,
    Happened.HANDED_OVER: _handed_over,
    Happened.SETTLED: _settled,
    Happened.ACCEPTED: _accepted,
    Happened.REFUSED: _refused,
    Happened.ENDED: _ended,
    Happened.RETIRED: _retired,
    Happened.PLACED: _placed,
    Happened.CHOSEN: _chosen,
    Happened.WORDED: _worded,
}


def _whole(value: object) -> int:
    return int(str(value))


def _texts(value: object) -> tuple[str, ...]:
    return tuple(str(text) for text in value) if isinstance(value, list | tuple) else ()


def _maps(value: object) -> list[Mapping[str, object]]:
    return [entry for entry in value if isinstance(entry, Mapping)] if isinstance(value, list | tuple) else []


def _row(data: Mapping[str, object]) -> RowSent:
    key = ListingKey.from_data(data)
    trace = str(data.get("trace", ""))
    return RowSent(str(data["sku"]), _whole(data["revision"]), str(data["action"]), key, trace)


def _listing(data: Mapping[str, object]) -> ListingSent:
    told = data.get("content", {})
    content = {str(k): str(v) for k, v in told.items()} if isinstance(told, Mapping) else {}
    return ListingSent(
        key=ListingKey.from_data(data),
        revision=_whole(data["revision"]),
        action=str(data["action"]),
        colours=_texts(data.get("colours", ())),
        content=content,
    )
