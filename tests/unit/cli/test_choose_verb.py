"""`choose`, as the seller types it: a white page on a dark shirt is stopped, allowed, and taken back."""

import json
from pathlib import Path
from typing import Any

import pytest
from monthshop import month_shop
from PIL import Image, ImageDraw

from hundredfold.cli.main import main

Capture = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = month_shop(tmp_path_factory.mktemp("choose") / "shop", 0, blanks=("t-shirt",))
    picture = Image.new("RGB", (900, 1100), "white")
    pen = ImageDraw.Draw(picture)
    pen.ellipse((150, 250, 750, 850), fill="#b01e2e")
    pen.rectangle((400, 100, 500, 300), fill="#2a6b4f")
    picture.save(root / "designs" / "apple.jpg", quality=92)
    return root


def asked(capsys: Capture, *arguments: str) -> tuple[int, dict[str, Any]]:
    capsys.readouterr()
    code = main([*arguments, "--json"])
    return code, json.loads(capsys.readouterr().out)


def colours(root: Path, capsys: Capture) -> tuple[set[str], set[str]]:
    """(stopped, passed) colours of the shirt."""
    _, document = asked(capsys, "proof", "--shop", str(root))
    stopped: set[str] = set()
    passed: set[str] = set()
    for proof in document["designs"]:
        for blank in proof["blanks"]:
            for one in blank["colours"]:
                (stopped if one["stopped"] else passed).add(one["colour"])
    return stopped, passed


def test_a_white_page_waits_is_allowed_refused_and_taken_back(made: Path, capsys: Capture) -> None:
    shop = ("--shop", str(made))
    stopped, passed = colours(made, capsys)
    assert {"black", "navy"} <= stopped
    assert "white" in passed
    _, view = asked(capsys, "choose", *shop)
    assert [one["check"] for one in view["waiting"]] == ["ink/box-shows"]

    code, done = asked(
        capsys, "choose", "allow", "apple.jpg", *shop, "--colour", "black", "--because", "it is a poster"
    )
    assert code == 0
    now_stopped, now_passed = colours(made, capsys)
    assert "black" in now_passed
    assert now_stopped == stopped - {"black"}
    _, told = asked(capsys, "history", *shop)
    last = told["decisions"][-1]
    assert (last["what"], last["about"]) == ("chose: allow", "designs/apple.jpg (black): it is a poster")
    assert main(["why", "apple", *shop]) == 0
    assert "you chose to allow it (black), because: it is a poster" in " ".join(
        capsys.readouterr().out.split()
    )

    assert main(["undo", str(done["decision"]), *shop]) == 0
    assert colours(made, capsys) == (stopped, passed)

    assert main(["choose", "refuse", "apple", *shop]) == 0
    _, view = asked(capsys, "choose", *shop)
    assert view["waiting"] == []
    assert [one["answer"] for one in view["standing"]] == ["refuse"]
    assert main(["choose", "open", "apple", *shop]) == 0
    _, view = asked(capsys, "choose", *shop)
    assert view["standing"] == []
    assert view["waiting"]


@pytest.mark.parametrize(
    "arguments", [("allow",), ("perhaps", "apple"), ("allow", "pear"), ("allow", "apple", "--colour", "x")]
)
def test_a_word_that_cannot_be_meant_is_refused(
    made: Path, capsys: Capture, arguments: tuple[str, ...]
) -> None:
    assert main(["choose", *arguments, "--shop", str(made)]) == 2
