"""The page of one check, with the limits of the shop one stands in."""

from pathlib import Path

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.proofing.pages import page
from hundredfold.proofing.profile import STANDARD, Profile
from hundredfold.workshop.proof.everycheck import BY_ID, EVERY_CHECK
from hundredfold.workshop.proof.onedesign import asked_of
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.paths import SETTINGS_FILE


def known_checks() -> list[tuple[str, str, list[str]]]:
    """Every check: id, what it asks, its codes."""
    return [(one.id, one.title.rstrip("."), list(one.codes)) for one in EVERY_CHECK]


def explained(check: str, folder: Path) -> str:
    """The page of a check, in Markdown. Raises ShopError ``unknown-check``.

    A code (``blank/outline-contrast:lost``) names its check too.
    """
    name = check.partition(":")[0].strip()
    if name not in BY_ID:
        raise ShopError("unknown-check", f'there is no check "{check}"', did_you_mean(name, list(BY_ID)))
    return page(BY_ID[name], _profile(folder))


def _profile(folder: Path) -> Profile:
    if not (folder / SETTINGS_FILE).is_file():
        return STANDARD
    return asked_of(open_shop(folder)).profile
