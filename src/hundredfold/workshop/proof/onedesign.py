"""Proofing a shop: its limits read, each design's facts taken from the cache, one design at a time."""

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.toml_table import Source
from hundredfold.designs.design import Design
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding
from hundredfold.placement.layout import AreaLayout
from hundredfold.proofing.art.packing import unpack_art, unpack_small
from hundredfold.proofing.checks.every import CODES
from hundredfold.proofing.designproof import (
    BEST_COLOURS,
    NOT_WEIGHED,
    THUMBNAIL_PX,
    Asked,
    DesignProof,
    PrintSizes,
    looks_wanted,
    prove,
)
from hundredfold.proofing.profile import STANDARD, Profile, profile_from
from hundredfold.proofing.reading.art import SmallArt
from hundredfold.proofing.readings import chances_from_json
from hundredfold.proofing.runchecks import judge_decorated
from hundredfold.proofing.softproof import Printer
from hundredfold.runner.cache import Vault
from hundredfold.runner.running import Runner, Watching
from hundredfold.runner.tasks import Counts
from hundredfold.workshop.proof.picturedareas import sights_of
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.steps.allsteps import READINGS, make
from hundredfold.workshop.steps.fromfacts import LooksWanted
from hundredfold.workshop.steps.gathering import Gathered, Progress


def asked_of(shop: Shop) -> Asked:
    """How this shop wants its proofs: its limits, its channels' smallest thumbnail, its printer's profile,
    and what its main pictures show.

    Raises ShopError ``unknown-key``, ``bad-check-setting``, ``bad-toml`` or ``bad-profile``, naming the file.
    """
    data = check_settings(shop)
    name = shop.settings.checks_profile
    tables = {key: value for key, value in data.items() if key not in ("printer", "repair")}
    profile = profile_from(tables, CODES, name) if tables else STANDARD
    thumbnail = min((channel.pictures.thumbnail_px for channel in shop.channels), default=THUMBNAIL_PX)
    best = shop.settings.colours_to_list or BEST_COLOURS
    return Asked(profile, thumbnail, best, _printer(shop, data), sights_of(sold_blanks(shop)))


def check_settings(shop: Shop) -> Mapping[str, object]:
    """The shop's file of limits, or nothing where it has none."""
    name = shop.settings.checks_profile
    if not name:
        return {}
    path = shop.paths.root / name
    if not shop.files.is_file(path):
        raise ShopError(
            "file-unreadable",
            f'there is no file "{name}" in the shop folder',
            "write it, or take checks_profile out of shop.toml",
            Where("shop.toml", field="checks_profile"),
        )
    return Source(shop.files.text(path), name).data


def _printer(shop: Shop, data: Mapping[str, object]) -> Printer | None:
    named = data.get("printer")
    if named is None:
        return None
    where = Where(shop.settings.checks_profile, field="printer")
    path = shop.paths.root / str(named)
    if not isinstance(named, str) or not shop.files.is_file(path):
        fix = 'write it like printer = "profiles/northfold.icc", a file in the shop folder'
        raise ShopError("bad-profile", f"{named!r} is no file in the shop folder", fix, where)
    return Printer(shop.files.read(path), named)


def sold_blanks(shop: Shop) -> tuple[Blank, ...]:
    """The blanks that any channel sells; all blanks where there is no channel yet."""
    sold = {blank.code for channel in shop.channels for blank in shop.sold_on(channel)}
    return tuple(blank for blank in shop.blanks if not shop.channels or blank.code in sold)


def small_of(vault: Vault, gathered: Gathered, design: Design) -> SmallArt | None:
    """A design's reduced art, from the cache; None where its measuring failed or it is empty."""
    data = _held(vault, gathered.deep.get(design.id))
    return unpack_small(data) if data is not None else None


def read_all(
    runner: Runner, gathered: Gathered, blanks: tuple[Blank, ...], asked: Asked, told: Progress
) -> tuple[dict[str, str], Counts]:
    """Read every design in every look it may be shown in; design id -> digest of its chances in the vault."""
    tasks = []
    for design in gathered.designs:
        digest = gathered.deep.get(design.id)
        looks = tuple(sorted(looks_wanted(design, blanks, asked)))
        if digest is not None and looks:
            params = {"looks": [list(look) for look in looks]}
            inputs = {"proof facts": digest}
            tasks.append(READINGS.task(design.path, design.path, inputs, params, LooksWanted(looks)))
    outcome = runner.run(tasks, make, Watching(progress=told))
    found = {
        design.id: output.digest
        for design in gathered.designs
        if (output := outcome.output(design.path, READINGS.name)) is not None
    }
    return found, outcome.counts


def proved(
    vault: Vault,
    gathered: Gathered,
    readings: Mapping[str, str],
    blanks: tuple[Blank, ...],
    asked: Asked,
    sizes: Mapping[str, PrintSizes],
    only: frozenset[str] = frozenset(),
) -> Iterator[DesignProof]:
    """Every design (or those whose paths are in ``only``) proved on the blanks, one at a time.

    ``sizes`` are the print files' bytes by design id, as far as they are known.
    """
    for design in gathered.designs:
        if not only or design.path in only:
            deep = _held(vault, gathered.deep.get(design.id))
            read = _held(vault, readings.get(design.id))
            art = unpack_art(deep) if deep is not None else None
            chances = chances_from_json(read) if read is not None else {}
            yield prove(design, art, blanks, asked, chances, sizes.get(design.id, NOT_WEIGHED))


def once_a_blank(laid: Iterable[tuple[Blank, AreaLayout]], profile: Profile) -> Iterator[Finding]:
    """What is said once of each blank for all that is laid on it."""
    on_blank: dict[str, tuple[Blank, list[AreaLayout]]] = {}
    for blank, layout in laid:
        on_blank.setdefault(blank.code, (blank, []))[1].append(layout)
    for _, (blank, layouts) in sorted(on_blank.items()):
        yield from judge_decorated(blank, layouts, profile=profile)


def _held(vault: Vault, digest: str | None) -> bytes | None:
    return vault.get(digest) if digest else None


def matching(gathered: Gathered, named: list[str]) -> frozenset[str]:
    """The paths of the designs that a person named by path, file name or the name without its ending.

    Raises ShopError ``unknown-design``.
    """
    found: set[str] = set()
    for name in named:
        wanted = Path(name).as_posix()
        paths = {
            design.path
            for design in gathered.designs
            if wanted in (design.path, design.id, Path(design.path).name, Path(design.path).stem)
        }
        if not paths:
            raise ShopError(
                "unknown-design",
                f'no design is called "{name}"',
                "give its file name as it stands in the designs folder, without a name all are proofed",
            )
        found |= paths
    return frozenset(found)
