"""A check declares everything about itself; what it did not declare cannot pass."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from proofing_subjects import facts

from hundredfold.kernel.findings import Severity
from hundredfold.proofing.checks.every import CHECKS, CODES
from hundredfold.proofing.pages import pages
from hundredfold.proofing.profile import STANDARD, Limits, about_limit, limit_names
from hundredfold.proofing.registry import Check, Hit, check
from hundredfold.proofing.subjects import DesignSubject
from hundredfold.workshop.proof.everycheck import EVERY_CHECK

ROOT = Path(__file__).parents[3]
# Ids and codes that were released: never renamed, never removed.
RELEASED = {
    "art/background-box": {"inset-box", "one-colour"},
    "art/file": {"odd"},
    "art/empty": {"no-ink", "one-flat-colour"},
    "art/stray-specks": {"specks"},
    "art/touches-edge": {"cut-off"},
    "blank/colour-vision": {"lost-to-some"},
    "blank/outline-contrast": {"lost", "part-lost", "weak"},
    "catalogue/bare-material": {"shown-as-coat"},
    "catalogue/capacity-and-body": {"more-than-outside"},
    "catalogue/measures-of-sizes": {"size-unknown"},
    "catalogue/borrowed-measures": {"not-measured"},
    "catalogue/nothing-to-sell": {"none-offered"},
    "catalogue/process-and-material": {"cannot-take"},
    "catalogue/wrap-and-girth": {"wider-than-round"},
    "ink/box-shows": {"engraved-box", "white-box"},
    "ink/colour-shift": {"colours-shift", "white-lost", "white-tinted"},
    "ink/dark-blank": {"nothing-shows"},
    "ink/one-tone": {"detail-merges"},
    "ink/out-of-gamut": {"duller"},
    "ink/rim": {"halo", "pale-fringe"},
    "ink/soft-on-underbase": {"fringe"},
    "picture/art-cut-off": {"no-place"},
    "picture/other-shape": {"drawn-wrong"},
    "prints/banding": {"steps"},
    "prints/file-size": {"too-large"},
    "prints/outside-safe": {"off-area", "outside-safe"},
    "prints/thin-lines": {"gaps", "lines"},
    "prints/too-few-pixels": {"below-floor", "below-target"},
    "reads/thumbnail": {"doubtful", "picture-first", "small-lines", "unreadable"},
    "suits/orientation": {"upright-on-wide", "wide-on-upright"},
    "suits/room": {"no-room"},
    "suits/small-words": {"small", "too-small"},
    "suits/visible-face": {"turns-away", "words-turn-away"},
}


def declare(name: str = "art/trial", why: str = "because", code: str = "found") -> Check[DesignSubject]:
    @check(
        name,
        subject=DesignSubject,
        codes={"found": Severity.WARN},
        why=why,
        example="one",
        fix="mend it",
        known_limits="none known",
        source="common practice, no source",
    )
    def trial(art: DesignSubject) -> Iterator[Hit]:
        """A trial."""
        yield Hit(code, "what", "fix")

    return trial


def test_a_declared_code_becomes_a_finding() -> None:
    (finding,) = declare().run(DesignSubject("a.png", facts(), Limits()))
    assert (finding.check, finding.code, finding.severity, finding.item) == (
        "art/trial", "found", Severity.WARN, "a.png",
    )  # fmt: skip


def test_an_undeclared_code_is_our_bug() -> None:
    with pytest.raises(LookupError, match="'oops'"):
        list(declare(code="oops").run(DesignSubject("a.png", facts(), Limits()), STANDARD))


@pytest.mark.parametrize(("name", "why"), [("Art/Trial", "because"), ("trial", "because"), ("art/trial", "")])
def test_a_check_without_a_proper_id_or_reason_does_not_load(name: str, why: str) -> None:
    with pytest.raises(ValueError, match=r"trial|Trial"):
        declare(name, why)


def test_released_ids_and_codes_are_still_there() -> None:
    for name, codes in RELEASED.items():
        assert codes <= set(CODES[name])


def test_every_code_is_in_a_test() -> None:
    tests = "\n".join(p.read_text(encoding="utf-8") for p in Path(__file__).parent.glob("test_*.py"))
    for one in CHECKS:
        for code in one.codes:
            assert re.search(rf'"{one.id}", "{code}"', tests), f"no test finds {one.id} {code}"


def test_every_limit_has_a_meaning_and_a_source_and_is_used() -> None:
    used = {name for one in CHECKS for name in one.record.limits}
    for name in limit_names():
        limit = about_limit(name)
        assert limit.unit, name
        assert limit.about, name
        assert limit.source, name
        assert name in used, f"no check uses {name}"


def test_the_pages_are_fresh() -> None:
    folder = ROOT / "docs" / "checks"
    on_disk = {path.name: path.read_text(encoding="utf-8") for path in folder.glob("*.md")}
    assert on_disk == pages(EVERY_CHECK), "stale: run python -m tools.write_check_pages"
