"""A partner's byte limit: art whose print file would be larger is stopped before anything is planned."""

import json
import re
from pathlib import Path
from typing import Any, cast

import cv2
import numpy as np
from monthshop import START, hundredfold, month_shop

BLANKS = ("mug-325", "t-shirt")
LIMIT = 400_000


def limited_shop(root: Path, limit: int) -> Path:
    """Two drawn designs and one of fine grain; the shirt's partner takes files of so many bytes."""
    shop = month_shop(root, 2, blanks=BLANKS)
    shirt = shop / "blanks" / "t-shirt.toml"
    text = re.sub(r"(?m)^(width_px = ).*$", rf"\g<1>700\nmax_bytes = {limit}", shirt.read_text("utf-8"))
    shirt.write_text(re.sub(r"(?m)^(height_px = ).*$", r"\g<1>900", text), "utf-8")  # one area for all sizes
    rng = np.random.default_rng(5)
    grain = rng.integers(0, 120, (600, 480, 4), np.uint8)
    grain[..., 3] = 255
    cv2.imwrite(str(shop / "designs" / "fine-grain.png"), grain)
    return shop


def findings_of(shop: Path, design: str) -> list[dict[str, Any]]:
    _, told = hundredfold("proof", design, "--shop", str(shop))
    (one,) = cast(list[dict[str, Any]], told["designs"])
    found = [finding for blank in one["blanks"] for finding in blank["findings"]]
    return [finding for finding in found if finding["check"] == "prints/file-size"]


def manifests(shop: Path) -> list[dict[str, Any]]:
    return [json.loads(path.read_text("utf-8")) for path in shop.glob("packs/*/*/manifest.json")]


def test_art_too_large_for_a_partner_is_stopped_there_and_the_month_is_whole(tmp_path: Path) -> None:
    shop = limited_shop(tmp_path / "shop", LIMIT)
    code, told = hundredfold("month", "--shop", str(shop), "--start", START, "--days", "20")
    assert code == 0, told
    listed: dict[str, set[str]] = {}
    for row in (row for manifest in manifests(shop) for row in manifest["rows"]):
        listed.setdefault(row["design"], set()).add(row["blank"])
    both = ["MUG-325", "T-SHIRT"]
    assert sorted(map(sorted, listed.values())) == [["MUG-325"], both, both]
    (stop,) = findings_of(shop, "fine-grain.png")
    assert stop["code"] == "too-large"
    assert stop["numbers"]["limit"] == LIMIT < stop["numbers"]["bytes"]


def test_what_is_weighed_is_the_print_file(tmp_path: Path) -> None:
    (stop,) = findings_of(limited_shop(tmp_path / "tight", LIMIT), "fine-grain.png")
    size = stop["numbers"]["bytes"]
    shop = limited_shop(tmp_path / "just", size)
    assert findings_of(shop, "fine-grain.png") == []
    code, told = hundredfold("month", "--shop", str(shop), "--start", START, "--days", "20")
    assert code == 0, told
    archives = [one for manifest in manifests(shop) for part in manifest["parts"] for one in part["archives"]]
    members = [member for archive in archives for member in archive["members"]]
    made = {
        one["bytes"]
        for one in members
        if one["name"].startswith("fine-grain") and "t-shirt-front" in one["name"]
    }
    assert made == {size}
