"""A shop folder on disk, opened and read."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.parsing import Catalogue, read_catalogue
from hundredfold.catalogue.settings import ShopSettings
from hundredfold.catalogue.suitability import blank_findings
from hundredfold.handoff.asking import cannot_ask
from hundredfold.handoff.naming import check_names
from hundredfold.handoff.sheets import check_sheet
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.screening.blocked import read_blocked
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.ownplates import with_plate
from hundredfold.workshop.shop.paths import SETTINGS_FILE, ShopPaths


@dataclass(frozen=True)
class Shop:
    """A shop as its files describe it now. Blanks and channels are sorted by code."""

    paths: ShopPaths
    settings: ShopSettings
    blanks: tuple[Blank, ...]
    channels: tuple[Channel, ...]
    findings: tuple[Finding, ...]
    blank_files: Mapping[str, str]  # blank code -> its file, from the shop folder
    channel_files: Mapping[str, str]
    files: ShopFiles = field(compare=False, repr=False)  # every reader of the shop's files goes through it
    blocked: tuple[str, ...] = ()  # phrases the seller never uses

    def blank(self, code: str) -> Blank:
        """The blank with this code. Raises ShopError ``unknown-blank``."""
        for blank in self.blanks:
            if blank.code == code:
                return blank
        fix = did_you_mean(code, [blank.code for blank in self.blanks])
        raise ShopError("unknown-blank", f'no blank has the code "{code}"', fix)

    def channel(self, code: str) -> Channel:
        """The channel with this code. Raises ShopError ``unknown-channel``."""
        for channel in self.channels:
            if channel.code == code:
                return channel
        fix = did_you_mean(code, [channel.code for channel in self.channels])
        raise ShopError("unknown-channel", f'no channel has the code "{code}"', fix)

    def forms_of(self, channel: Channel) -> dict[str, bytes]:
        """The partner's own files that the channel's tables are filled into, by their path.

        One that is not there is left out. Raises ShopError ``file-unreadable``.
        """
        names = {sheet.form for sheet in (channel.sheet, *channel.more_tables) if sheet.form}
        paths = {name: self.paths.root / name for name in sorted(names)}
        return {name: self.files.read(path) for name, path in paths.items() if self.files.is_file(path)}

    def sold_on(self, channel: Channel) -> tuple[Blank, ...]:
        """The blanks a channel sells."""
        return tuple(blank for blank in self.blanks if not channel.blanks or blank.code in channel.blanks)


def open_shop(folder: Path) -> Shop:
    """Read a shop folder.

    Raises ShopError ``no-shop`` when the folder is none, and one ShopError that carries every mistake in its
    settings, blanks and channels otherwise.
    """
    paths = require_shop(folder)
    files = ShopFiles(folder)
    catalogue = read_catalogue(
        files.text(paths.settings), _texts(files, paths.blanks), _texts(files, paths.channels)
    )
    _check_sheets(catalogue)
    blanks = _pictured(catalogue, files, paths)
    findings = [finding for blank in blanks for finding in blank_findings(blank)]
    for channel in catalogue.channels:
        findings += cannot_ask(channel, catalogue.channel_files[channel.code])
    return Shop(
        paths,
        catalogue.settings,
        blanks,
        catalogue.channels,
        tuple(findings),
        catalogue.blank_files,
        catalogue.channel_files,
        files,
        read_blocked(files.text(paths.blocked)) if files.is_file(paths.blocked) else (),
    )


def _check_sheets(catalogue: Catalogue) -> None:
    errors = []
    for channel in catalogue.channels:
        try:
            check_sheet(channel, catalogue.channel_files[channel.code])
            check_names(channel, catalogue.channel_files[channel.code])
        except ShopError as error:
            errors.append(error)
    if errors:
        raise ShopError.several(errors)


def _pictured(catalogue: Catalogue, files: ShopFiles, paths: ShopPaths) -> tuple[Blank, ...]:
    blanks, errors = [], []
    for blank in catalogue.blanks:
        try:
            blanks.append(with_plate(files, paths.plates, blank, catalogue.blank_files[blank.code]))
        except ShopError as error:
            errors.append(error)
    if errors:
        raise ShopError.several(errors)
    return tuple(blanks)


def require_shop(folder: Path) -> ShopPaths:
    """The paths of a shop folder, whatever its files say. Raises ShopError ``no-shop`` when it is none."""
    paths = ShopPaths(folder)
    if not paths.settings.is_file():
        raise _no_shop(folder)
    return paths


def _texts(files: ShopFiles, folder: Path) -> dict[str, str]:
    return {files.name(path): files.text(path) for path in files.listed(folder, "*.toml")}


def _no_shop(folder: Path) -> ShopError:
    if not folder.is_dir():
        what, fix = (
            "there is no such folder",
            f'check the spelling, or make a shop: hundredfold new "{folder}"',
        )
    else:
        what = f"this folder is not a shop: it has no {SETTINGS_FILE}"
        inside = sorted(child.name for child in folder.iterdir() if (child / SETTINGS_FILE).is_file())
        fix = f'name the shop with --shop, or make one: hundredfold new "{folder / "my-shop"}"'
        if inside:
            fix = f'did you mean the shop inside it? --shop "{folder / inside[0]}"'
    return ShopError("no-shop", what, fix, Where(str(folder)))
