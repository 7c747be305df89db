"""A blocked phrase in a design's or a blank's words keeps it out of every listing, with the reason."""

from dataclasses import replace
from pathlib import Path

from goods import design, mug
from shops import small_shop

from hundredfold.kernel.findings import Finding
from hundredfold.workshop.listing.offers import Proof, allowed, barred
from hundredfold.workshop.shop.newshop import new_shop

CHECK = "screening/blocked-phrase"


def blocked(found: tuple[Finding, ...]) -> list[str]:
    return [finding.item for finding in found if finding.check == CHECK]


def test_the_list_is_read_with_the_shop(tmp_path: Path) -> None:
    shop = new_shop(tmp_path / "shop", sample=True)
    assert "the old mill tearooms" in shop.blocked
    assert not any(phrase.startswith("#") for phrase in shop.blocked)


def test_a_design_that_holds_one_is_offered_on_nothing(tmp_path: Path) -> None:
    shop = replace(small_shop(tmp_path), blocked=("old mill",))
    fine, held = design("bees", "proud beekeeper"), design("mill", "the old mill")
    back = barred(shop, [fine, held], shop.blanks)
    assert {item: blocked(found) for item, found in back.items()} == {held.path: [held.path]}
    proved = [Proof(one, blank, {}) for one in (fine, held) for blank in shop.blanks]
    assert {proof.design.id for proof in allowed(proved, back, ())} == {"bees"}


def test_so_is_a_blank(tmp_path: Path) -> None:
    shop = replace(small_shop(tmp_path), blocked=("big gift",))
    shop = replace(shop, blanks=(replace(mug(), words=("big gift",)), shop.blanks[1]))
    bees = design("bees", "proud beekeeper")
    back = barred(shop, [bees], shop.blanks)
    assert {item: blocked(found) for item, found in back.items()} == {mug().code: [mug().code]}
    kept = allowed([Proof(bees, blank, {}) for blank in shop.blanks], back, ())
    assert [proof.blank.code for proof in kept] == [shop.blanks[1].code]
