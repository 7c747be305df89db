"""The art files of a shop: which there are, and the digest of each."""

import unicodedata
from collections.abc import Mapping
from pathlib import Path

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.checks import NOT_ART, UNUSABLE_FILE
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.paths import ShopPaths

ART_SUFFIXES = frozenset({".png", ".jpg", ".jpeg", ".webp", ".tif", ".tiff", ".svg"})
# Files that a designs folder may hold beside art without a word: lists made with the designs, notes.
QUIET_SUFFIXES = frozenset({".csv", ".txt", ".md", ".json", ".toml"})


def art_files(files: ShopFiles) -> tuple[dict[str, Path], tuple[Finding, ...]]:
    """Every art file by its name in the shop (NFC, forward slashes), and notes on files that are no art."""
    found: dict[str, Path] = {}
    findings: list[Finding] = []
    listed = files.listed(ShopPaths(files.root).designs, "**/*")
    for path, why in files.odd.items():
        name = files.name(path).encode("utf-8", "backslashreplace").decode()
        findings.append(unusable(name, why, "put a copy of the file there, under another name"))
    for path in listed:
        name = unicodedata.normalize("NFC", files.name(path))
        if name in found:  # two names that look alike: as one letter, and as letter and accent
            what, fix = (
                "another file has the same name, written with other characters",
                "rename one of the two",
            )
            findings.append(unusable(name, what, fix))
        elif path.suffix.lower() in ART_SUFFIXES:
            found[name] = path
        elif path.suffix.lower() not in QUIET_SUFFIXES:
            findings.append(_not_art(name))
    return found, tuple(findings)


def art_digests(bench: Bench, files: Mapping[str, Path]) -> tuple[dict[str, str], tuple[Finding, ...]]:
    """The content digest of each file; one that cannot be read is a finding and left out."""
    digests: dict[str, str] = {}
    findings = []
    for name, path in sorted(files.items()):
        try:
            digests[name] = bench.shop.files.digest(path, bench.memo)
        except ShopError as error:
            findings.append(unusable(name, error.what, error.fix))
    return digests, tuple(findings)


def unusable(item: str, what: str, fix: str) -> Finding:
    """A file that gives no design."""
    return UNUSABLE_FILE.finds("unusable", item, what, fix)


def _not_art(name: str) -> Finding:
    what = "it is not art (PNG, JPEG, WebP, TIFF or SVG), so it was passed over"
    return NOT_ART.finds("other-kind", name, what, "nothing, if it is meant")
