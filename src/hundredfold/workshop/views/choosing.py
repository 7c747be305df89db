"""What waits for the seller's yes or no, what stands, and choosing by a design's name."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.ledger.choices import Answer, Choice, ChoiceKey, refused
from hundredfold.ledger.events import Happened
from hundredfold.proofing.allowing import can_be_allowed
from hundredfold.workshop.listing.choices import choose
from hundredfold.workshop.records.proofs import ProofRecord, ToldRecord
from hundredfold.workshop.views.looking import Glance, look_at

# A stop of these always asks for a word; others only where they leave a design nothing to be listed on.
ASKS = ("ink/box-shows",)


@dataclass(frozen=True)
class Wait:
    """A stop that the seller may lift or confirm. ``sentence`` says what and where."""

    design: str  # path
    id: str
    check: str
    sentence: str


@dataclass(frozen=True)
class Stands:
    """A choice that stands, in words."""

    design: str
    answer: str
    where: str
    reason: str


@dataclass(frozen=True)
class ChoicesView:
    """What waits and what stands, by design."""

    waiting: tuple[Wait, ...]
    standing: tuple[Stands, ...]


def choices_view(folder: Path) -> ChoicesView:
    """As the last proof or month judged the designs; reads only, and never waits."""
    look = look_at(folder)
    waiting = tuple(wait for proof in look.proofs() for wait in _waiting(proof, look))
    return ChoicesView(waiting, tuple(sorted(_standing(look), key=lambda one: (one.design, one.where))))


def choose_by_name(
    folder: Path, names: Sequence[str], answer: Answer, where: tuple[str, str, str], reason: str
) -> int:
    """One decision on designs by path, file name, or the name without its ending; its number.

    ``where`` is blank, colour, channel, each "" for all. Raises ShopError ``unknown-design`` and as
    ``choose`` does.
    """
    paths = _paths(look_at(folder))
    ids = [one for name in names for one in _named(name, paths)]
    return choose(folder, [Choice(ChoiceKey(one, *where), answer, reason) for one in dict.fromkeys(ids)])


def _paths(look: Glance) -> dict[str, str]:
    events = look.moment.events
    return {e.subject: str(e.data["path"]) for e in events if e.happened is Happened.DESIGN_SEEN}


def _named(name: str, paths: dict[str, str]) -> list[str]:
    wanted = Path(name).as_posix()
    found = [
        design
        for design, path in paths.items()
        if wanted in (design, path, PurePosixPath(path).name, PurePosixPath(path).stem)
    ]
    if not found:
        known = sorted({PurePosixPath(path).name for path in paths.values()})
        raise ShopError("unknown-design", f'no design is called "{name}"', did_you_mean(name, known))
    return found


def _waiting(proof: ProofRecord, look: Glance) -> Iterator[Wait]:
    for told in proof.told:
        asks = told.check in ASKS or (not proof.passed and can_be_allowed(told.check))
        if told.severity == "stop" and asks and not _all_refused(proof.id, told, look):
            yield Wait(proof.design, proof.id, told.check, told.sentence)


def _all_refused(design: str, told: ToldRecord, look: Glance) -> bool:
    """Whether the seller has refused it everywhere that this is said."""
    spots = [
        ChoiceKey(design, place.blank, colour) for place in told.where for colour in place.colours or ("",)
    ]
    return all(refused(look.state.choices, spot) for spot in spots or [ChoiceKey(design)])


def _standing(look: Glance) -> Iterator[Stands]:
    paths = _paths(look)
    for key, choice in look.state.choices.items():
        where = ", ".join(filter(None, key[1:])) or "everywhere"
        yield Stands(paths.get(key.design, key.design), choice.answer.value, where, choice.reason)
