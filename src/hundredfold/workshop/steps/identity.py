"""Which design a file is: the same id through edits in place and through moves.

A seller who mends a typo in a file means the same design with new art; one who renames a file means the
same design under a new name. Only art never seen before is a new design.
"""

import base64
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from hundredfold.ledger.events import Event, Happened

_ID_CHARS = 8


@dataclass(frozen=True)
class KnownDesign:
    """What the ledger knows of one design: its id, and the path and digest it was last seen with."""

    id: str
    path: str
    digest: str


@dataclass(frozen=True)
class Identified:
    """The files of a run by design: who is who, who is a copy of whom, and what the ledger should learn."""

    ids: Mapping[str, str]  # path -> design id
    copies: Mapping[str, str]  # path of an exact copy -> path of the file that is used
    news: tuple[Event, ...]


def known_designs(events: Iterable[Event]) -> dict[str, KnownDesign]:
    """The last sighting of each design id, from the ledger's rows in order."""
    known: dict[str, KnownDesign] = {}
    for event in events:
        if event.happened is Happened.DESIGN_SEEN:
            known[event.subject] = KnownDesign(
                event.subject, str(event.data["path"]), str(event.data["digest"])
            )
    return known


def identify(digests: Mapping[str, str], known: Mapping[str, KnownDesign]) -> Identified:
    """Give every file its design id. ``digests`` maps each path (shop-relative) to its content digest."""
    by_path = {k.path: k for k in known.values()}
    vanished = {k.digest: k for k in known.values() if k.path not in digests}
    taken = set(known)
    ids: dict[str, str] = {}
    copies: dict[str, str] = {}
    user_of: dict[str, str] = {}  # digest -> path in use
    # Files seen before keep their art before newcomers may claim it, so that a copy never steals an id. Of
    # newcomers the shorter name is the picture: "picture copy.png" and its like are longer.
    order = sorted(digests, key=lambda path: (path not in by_path, len(path.rpartition("/")[2]), path))
    for path in order:
        digest = digests[path]
        if digest in user_of:
            copies[path] = user_of[digest]
            continue
        user_of[digest] = path
        moved = vanished.pop(digest, None)
        if path in by_path and (moved is None or by_path[path].digest == digest):
            ids[path] = by_path[path].id
        elif moved is not None:
            ids[path] = moved.id
        else:
            ids[path] = _new_id(digest, taken)
            taken.add(ids[path])
    news = tuple(
        Event(Happened.DESIGN_SEEN, ids[path], {"path": path, "digest": digests[path]})
        for path in sorted(ids)
        if known.get(ids[path]) != KnownDesign(ids[path], path, digests[path])
    )
    return Identified(ids, copies, news)


def gone_designs(
    known: Mapping[str, KnownDesign], ids: Mapping[str, str], files: Iterable[str]
) -> dict[str, KnownDesign]:
    """Designs seen once whose file is in the designs folder no more, under whatever name, by id."""
    there, paths = set(ids.values()), set(files)
    return {key: one for key, one in known.items() if key not in there and one.path not in paths}


def _new_id(digest: str, taken: set[str]) -> str:
    text = base64.b32encode(bytes.fromhex(digest)).decode("ascii").rstrip("=")
    for length in range(_ID_CHARS, len(text) + 1):
        if text[:length] not in taken:
            return text[:length]
    raise AssertionError("two different digests cannot agree in full")
