"""A blocked phrase in a design's or a blank's words keeps it out of every listing, with the reason."""

from dataclasses import replace
from pathlib import Path

from goods import design, mug
from shops import small_shop

from hundredfold.kernel.findings import Finding
from hundredfold.workshop.newshop import new_shop
from hundredfold.workshop.offers import proofs

CHECK = "screening/blocked-phrase"


def blocked(found: tuple[Finding, ...]) -> list[str]:
    return [finding.item for finding in found if finding.check == CHECK]


def test_the_list_is_read_with_the_shop(tmp_path: Path) -> None:
    shop = new_shop(tmp_path / "shop", sample=True, drawn=tuple)
    assert "the old mill tearooms" in shop.blocked
    assert not any(phrase.startswith("#") for phrase in shop.blocked)


def test_a_design_that_holds_one_is_offered_on_nothing(tmp_path: Path) -> None:
    shop = replace(small_shop(tmp_path), blocked=("old mill",))
    fine, held = design("bees", "proud beekeeper"), design("mill", "the old mill")
    judged = list(proofs(shop, [fine, held]))
    assert [(proof.design.id, blocked(proof.findings)) for proof in judged] == [
        ("bees", []),
        ("bees", []),
        ("mill", [held.path]),
        ("mill", [held.path]),
    ]
    assert all(not proof.colours for proof in judged if proof.design.id == "mill")
    assert any(proof.colours for proof in judged if proof.design.id == "bees")


def test_so_is_a_blank(tmp_path: Path) -> None:
    shop = replace(small_shop(tmp_path), blocked=("big gift",))
    shop = replace(shop, blanks=(replace(mug(), words=("big gift",)), shop.blanks[1]))
    judged = list(proofs(shop, [design("bees", "proud beekeeper")]))
    assert [blocked(proof.findings) for proof in judged] == [[mug().code], []]
