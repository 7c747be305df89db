"""Which shop this is, and where it lies: so that a copy of it, or another shop's record, is noticed."""

import json
import os
import secrets
import socket
from dataclasses import dataclass, replace
from pathlib import Path

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.runner.atomic import write_whole
from hundredfold.runner.recipes import canonical_json
from hundredfold.store.shopstore import Store
from hundredfold.workshop.shop.paths import ShopPaths

FILE = "this-shop.json"
SETTING = "shop identity"


@dataclass(frozen=True)
class ShopPlace:
    """Where a shop lay when goods last left it; ``file_id`` tells a moved folder from a copied one."""

    computer: str
    folder: str
    file_id: str


@dataclass(frozen=True)
class Identity:
    """A shop's own number, where it has lain with its owner's knowledge, and where it went on instead."""

    id: str
    places: tuple[ShopPlace, ...]
    gone_to: str = ""

    def as_json(self) -> dict[str, object]:
        """Plain values."""
        places = [[one.computer, one.folder, one.file_id] for one in self.places]
        return {"shop": self.id, "places": places, "gone_to": self.gone_to}


def identity_of(paths: ShopPaths) -> Identity | None:
    """What the shop's file says; None where it has none, or none that can be read."""
    try:
        value = json.loads((paths.handed_over / FILE).read_bytes())
        places = tuple(ShopPlace(*map(str, one)) for one in value["places"])
        return Identity(str(value["shop"]), places, str(value["gone_to"]))
    except (OSError, ValueError, TypeError, KeyError):
        return None


def ensure_identity(paths: ShopPaths, store: Store) -> str:
    """The shop's identity, given at its first work. The caller holds the lock.

    Raises ShopError ``other-record`` where the record is another shop's.
    """
    said, recorded = identity_of(paths), store.setting(SETTING)
    if said is not None and recorded not in (None, said.id):
        what = "the record in this folder belongs to another shop"
        fix = "put this shop's own record back: hundredfold restore BACKUP"
        raise ShopError("other-record", what, fix, Where(str(paths.database)), ExitCode.PROBLEMS)
    if said is None:
        said = Identity(str(recorded or secrets.token_hex(8)), ())
        _write(paths, said)
    if recorded is None:
        store.set_setting(SETTING, said.id)
    return said.id


def ensure_place(paths: ShopPaths, store: Store) -> str:
    """The shop's identity, once it is certain that this folder is the one that goes on; before goods leave.

    Raises ShopError ``shop-copied`` where this may be a copy of a shop that lies elsewhere, and as
    ``ensure_identity`` does.
    """
    number, here = ensure_identity(paths, store), _here(paths)
    said = identity_of(paths)
    if said is None or not said.places:
        _write(paths, Identity(number, (here,)))
    elif said.gone_to or not _known(here, said.places):
        raise _copied(paths, said)
    elif here not in said.places:  # the same folder under another name, or made anew in its old place
        kept = tuple(one for one in said.places if not _same(here, one))
        _write(paths, replace(said, places=(*kept, here)))
    return number


def go_on_here(paths: ShopPaths) -> tuple[str, ...]:
    """The person says that this folder is the shop that goes on; gives the other folders, now set aside.

    A copy that can be reached is told, and refuses work from now on.
    """
    said = identity_of(paths)
    if said is None:
        return ()
    here = _here(paths)
    others = []
    near = {place.folder for place in said.places if place.computer == here.computer}
    for folder in sorted(near | ({said.gone_to} - {""})):
        other = ShopPaths(Path(folder))
        theirs = identity_of(other)
        if theirs is not None and theirs.id == said.id and not _same_folder(paths.root, other.root):
            _write(other, replace(theirs, gone_to=here.folder))
            others.append(folder)
    _write(paths, Identity(said.id, (*(one for one in said.places if one != here), here)))
    return tuple(others)


def _here(paths: ShopPaths) -> ShopPlace:
    found = os.stat(paths.root)
    return ShopPlace(socket.gethostname(), str(paths.root.resolve()), f"{found.st_dev}-{found.st_ino}")


def _known(here: ShopPlace, places: tuple[ShopPlace, ...]) -> bool:
    return any(_same(here, one) for one in places)


def _same(here: ShopPlace, place: ShopPlace) -> bool:
    # A renamed folder keeps its file id, and one that was put back from a copy of the disk keeps its name; a
    # file id means something on its own computer only.
    if here.computer != place.computer:
        return (here.folder, here.file_id) == (place.folder, place.file_id)
    if here.file_id == place.file_id and not _still_there(place, here):
        return True
    return here.folder == place.folder


def _still_there(place: ShopPlace, here: ShopPlace) -> bool:
    return (
        place.folder != here.folder
        and Path(place.folder).is_dir()
        and not _same_folder(Path(place.folder), Path(here.folder))
    )


def _same_folder(one: Path, other: Path) -> bool:
    try:
        return os.path.samefile(one, other)
    except OSError:
        return False


def _write(paths: ShopPaths, identity: Identity) -> None:
    write_whole(paths.handed_over / FILE, canonical_json(identity.as_json()).encode())


def _copied(paths: ShopPaths, said: Identity) -> ShopError:
    last = said.places[-1]
    if said.gone_to:
        what = f"you said that this shop goes on in {said.gone_to}, not here"
    else:
        what = f"this shop lay in {last.folder} on the computer {last.computer}; this may be a copy of it"
    fix = (
        "work in one of the two only, or goods go out twice. If this is the one that goes on: "
        "hundredfold restore --here"
    )
    return ShopError("shop-copied", what, fix, Where(str(paths.root)), ExitCode.PROBLEMS)
