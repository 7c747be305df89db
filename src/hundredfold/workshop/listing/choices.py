"""The seller's choices: decided together as one decision, and kept to by every month."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from hundredfold.designs.design import Design
from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.choices import Answer, Choice, ChoiceKey, refused
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.store.shopstore import Store
from hundredfold.workshop.listing.offers import Proof
from hundredfold.workshop.shop.desk import beside
from hundredfold.workshop.shop.folder import Shop


def choose(folder: Path, choices: Sequence[Choice]) -> int:
    """Note these choices as one decision, and give its number.

    Raises ShopError ``unknown-design``, ``unknown-blank``, ``unknown-colour``, ``unknown-channel``,
    ``shop-in-use``; then none is noted.
    """
    with beside(folder, "choose") as opened:
        seen = opened.store.events(kinds={Happened.DESIGN_SEEN})
        paths = {event.subject: str(event.data["path"]) for event in seen}
        for choice in choices:
            _check(opened.shop, choice.key, paths)
        rows = [
            Event(Happened.CHOSEN, one.key.design, {"path": paths[one.key.design], **one.as_data()})
            for one in choices
        ]
        kept = opened.store.append(rows)
    return kept[0].decision if kept else 0


def _check(shop: Shop, key: ChoiceKey, paths: Mapping[str, str]) -> None:
    if key.design not in paths:
        what = f'no design has the id "{key.design[:40]}"'
        raise ShopError("unknown-design", what, "look at the designs again")
    if key.channel:
        shop.channel(key.channel)
    if not key.blank:
        if key.colour and not any(key.colour == one.code for b in shop.blanks for one in b.colours):
            what, fix = (
                f'no blank has a colour "{key.colour[:40]}"',
                "take a colour's code from a blank's file",
            )
            raise ShopError("unknown-colour", what, fix)
        return
    blank = shop.blank(key.blank)
    if key.colour and key.colour not in {one.code for one in blank.colours}:
        fix = f"take one of {', '.join(one.code for one in blank.colours)}"
        raise ShopError("unknown-colour", f'{blank.name} has no colour "{key.colour[:40]}"', fix)


def allowed_designs(designs: Iterable[Design], store: Store) -> tuple[Design, ...]:
    """The designs with what the seller allowed of each, on any channel."""
    choices = fold(store.events(kinds={Happened.CHOSEN, Happened.UNDONE})).choices
    allowed: dict[str, set[tuple[str, str]]] = {}
    for key, choice in choices.items():
        if choice.answer is Answer.ALLOW:
            allowed.setdefault(key.design, set()).add((key.blank, key.colour))
    return tuple(
        replace(one, allowed=tuple(sorted(allowed[one.id]))) if one.id in allowed else one for one in designs
    )


def chosen(proofs: Iterable[Proof], choices: Mapping[ChoiceKey, Choice]) -> Iterator[Proof]:
    """The proofs without the colours that the seller refused on every channel; see ``on_channel`` for one."""
    channels = {key.channel for key in choices} | {""}
    for proof in proofs:
        kept = tuple(
            code
            for code in proof.colours
            if not all(
                refused(choices, ChoiceKey(proof.design.id, proof.blank.code, code, channel))
                for channel in channels
            )
        )
        best = tuple(code for code in proof.best if code in kept)
        yield proof if kept == proof.colours else replace(proof, colours=kept, best=best)
