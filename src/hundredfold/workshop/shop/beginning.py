"""The first steps of a shop: its name, blanks and channels to begin from, what a sale must earn."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from pathlib import Path

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.parsing import Catalogue, read_catalogue
from hundredfold.catalogue.toml_edits import Plain, TomlEditor, toml_value
from hundredfold.kernel.errors import ShopError
from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.folder import Shop, open_shop, require_shop
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.shop.oneeditor import one_editor


@dataclass(frozen=True)
class Examples:
    """The blanks and channels that come with the program, to begin from; all invented."""

    blanks: tuple[Blank, ...]
    channels: tuple[Channel, ...]


def begin_shop(folder: Path, name: str, currency: str) -> Shop:
    """Make a shop of this name. Raises as ``new_shop`` and ``set_settings`` do; then nothing was made."""
    settings = _changed_settings(_starter_settings(), {"name": name.strip(), "currency": currency.strip()})
    new_shop(folder)
    write_whole(require_shop(folder).settings, settings.encode())
    return open_shop(folder)


def set_settings(folder: Path, changes: Mapping[str, Plain]) -> Shop:
    """Change settings in shop.toml; every other letter stays. Raises what reading the shop's files raises,
    and then nothing was changed."""
    paths = require_shop(folder)
    with one_editor(folder):
        text = ShopFiles(folder).text(paths.settings)
        write_whole(paths.settings, _changed_settings(text, changes).encode())
    return open_shop(folder)


def _changed_settings(text: str, changes: Mapping[str, Plain]) -> str:
    editor = TomlEditor(text)
    for key, value in changes.items():
        editor.set((key,), value)
    fresh = editor.text()
    if isinstance(changes.get("name"), str) and not changes["name"]:
        raise ShopError("bad-form", "the shop has no name", "give it the name you sell under")
    read_catalogue(fresh, {}, {})
    return fresh


def _starter_settings() -> str:
    return (resources.files("hundredfold") / "starter_shop" / "shop.toml").read_text("utf-8")


@cache
def _sample() -> tuple[Catalogue, Mapping[str, str]]:
    """The sample's catalogue, and the text of each of its files."""
    root = resources.files("hundredfold") / "sample"
    texts = {
        f"{folder}/{file.name}": file.read_text("utf-8")
        for folder in ("blanks", "channels")
        for file in sorted((root / folder).iterdir(), key=lambda one: one.name)
        if file.name.endswith(".toml")
    }
    blanks = {name: text for name, text in texts.items() if name.startswith("blanks/")}
    channels = {name: text for name, text in texts.items() if name.startswith("channels/")}
    return read_catalogue((root / "shop.toml").read_text("utf-8"), blanks, channels), texts


def examples() -> Examples:
    """What there is to begin from."""
    catalogue, _ = _sample()
    return Examples(catalogue.blanks, catalogue.channels)


def take_examples(
    folder: Path, blanks: Sequence[str] = (), channels: Sequence[str] = (), rates: Mapping[str, str] = {}
) -> Shop:
    """Copy example blanks and channels (by code) into the shop; a file that is there is left as it is.

    ``rates`` are by a foreign currency what one unit of the shop's own buys of it. Raises ShopError
    ``unknown-blank``, ``unknown-channel``, ``missing-rate``, and then nothing was changed.
    """
    with one_editor(folder):
        return _take(open_shop(folder), blanks, channels, rates)


def _take(shop: Shop, blanks: Sequence[str], channels: Sequence[str], rates: Mapping[str, str]) -> Shop:
    folder = shop.paths.root
    catalogue, texts = _sample()
    names = [_file(catalogue.blank_files, code, "unknown-blank") for code in blanks]
    names += [_file(catalogue.channel_files, code, "unknown-channel") for code in channels]
    settings = ShopFiles(folder).text(shop.paths.settings)
    foreign = {one.currency for one in catalogue.channels if one.code in channels} - {shop.settings.currency}
    wanted = {
        f"{shop.settings.currency}-{currency}": rate
        for currency, rate in rates.items()
        if currency in foreign and (shop.settings.currency, currency) not in shop.settings.rates
    }
    fresh = _with_rates(settings, wanted)
    taken = {name: texts[name] for name in names}
    read_catalogue(fresh, _of(taken, "blanks/"), _of(taken, "channels/"))
    if fresh != settings:
        write_whole(shop.paths.settings, fresh.encode())
    for name, text in taken.items():
        if not (shop.paths.root / name).exists():
            write_whole(shop.paths.root / name, text.encode())
    return open_shop(folder)


def _of(texts: Mapping[str, str], folder: str) -> dict[str, str]:
    return {name: text for name, text in texts.items() if name.startswith(folder)}


def _file(files: Mapping[str, str], code: str, slug: str) -> str:
    if code not in files:
        raise ShopError(slug, f'no example has the code "{code[:40]}"', "take one that is shown")
    return files[code]


def _with_rates(text: str, rates: Mapping[str, str]) -> str:
    if not rates:
        return text
    if "rates" not in tomllib.loads(text):
        pairs = "".join(f"{name} = {toml_value(rate)}\n" for name, rate in rates.items())
        return f"{text.rstrip()}\n\n[rates]  # what one unit of the first buys of the second\n{pairs}"
    editor = TomlEditor(text)
    for name, rate in rates.items():
        editor.set(("rates", name), rate)
    return editor.text()
