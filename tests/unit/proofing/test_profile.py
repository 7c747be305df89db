"""Limits are data; the seller changes them with a reason, and the reason is printed."""

import pytest
from proofing_subjects import MUG, WHITE, facts, placed

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.checks.every import CODES
from hundredfold.proofing.pages import page
from hundredfold.proofing.profile import Profile, profile_from
from hundredfold.proofing.runchecks import judge

REASON = "tea towels are seen from two metres"


def profile(data: dict[str, object]) -> Profile:
    return profile_from(data, CODES, "checks.toml")


def test_a_changed_limit_changes_the_verdict() -> None:
    art = facts(600, 480)
    mine = profile({"limits": {"dpi_floor": {"value": 60, "reason": REASON}}})
    (finding,) = judge("a.png", art, MUG, WHITE, placed(art, MUG), profile=mine)
    assert finding.code == "below-target"
    assert "your limit 60 dpi instead of 150" in finding.what
    assert REASON in finding.what


def test_a_severity_is_changed_or_a_check_switched_off_with_its_reason() -> None:
    art = facts(600, 480)
    softer = profile({"severity": {"prints/too-few-pixels:below-floor": {"value": "note", "reason": REASON}}})
    (finding,) = judge("a.png", art, MUG, WHITE, placed(art, MUG), profile=softer)
    assert finding.severity is Severity.NOTE
    assert REASON in finding.what
    off = profile({"off": {"prints/too-few-pixels": {"reason": REASON}}})
    assert judge("a.png", art, MUG, WHITE, placed(art, MUG), profile=off) == ()


def test_the_page_shows_the_sellers_limit() -> None:
    from hundredfold.proofing.checks.every import BY_ID

    mine = profile({"limits": {"dpi_floor": {"value": 60, "reason": REASON}}})
    assert f"yours is 60: {REASON}" in page(BY_ID["prints/too-few-pixels"].record, mine)


@pytest.mark.parametrize(
    ("data", "slug", "said"),
    [
        ({"limits": {"dpi_flor": {"value": 1, "reason": "x"}}}, "unknown-key", "limits.dpi_floor"),
        ({"limit": {}}, "unknown-key", "limits"),
        ({"off": {"art/stray-speck": {"reason": "x"}}}, "unknown-key", "off.art/stray-specks"),
        ({"limits": {"dpi_floor": {"value": 1, "because": "x"}}}, "unknown-key", "dpi_floor.because"),
        ({"limits": {"dpi_floor": {"value": 120}}}, "bad-check-setting", "no reason"),
        ({"limits": {"dpi_floor": {"value": "120", "reason": "x"}}}, "bad-check-setting", "'120'"),
        ({"limits": {"dpi_floor": {"value": -1, "reason": "x"}}}, "bad-check-setting", "-1"),
        ({"limits": {"dpi_floor": 120}}, "bad-check-setting", "limits.dpi_floor"),
        (
            {"severity": {"art/empty:no-ink": {"value": "fatal", "reason": "x"}}},
            "bad-check-setting",
            "'fatal'",
        ),
    ],
)
def test_a_setting_we_cannot_use_is_refused_by_name(data: dict[str, object], slug: str, said: str) -> None:
    with pytest.raises(ShopError) as caught:
        profile(data)
    assert caught.value.slug == slug
    assert said in str(caught.value)
    assert "checks.toml" in str(caught.value)
