"""Bad art dropped among good: one finding a file, one sentence each, and the good design goes on."""

import struct
import zlib
from typing import Any

import pytest
from monthshop import hundredfold
from openmoji import design_png

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 60">'


def image_bomb() -> bytes:
    def chunk(name: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 6, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(bytes(999)))


def use_bomb() -> str:
    levels = "".join(f'<g id="a{i}">{f"""<use href="#a{i - 1}"/>""" * 10}</g>' for i in range(1, 10))
    return f'{HEAD}<defs><path id="a0" d="M0 0h9v9z"/>{levels}</defs><use href="#a9"/></svg>'


BAD = {
    "cut.png": (design_png("honeybee", 180)[:4000], "ends too early"),
    "empty.png": (b"", "is empty"),
    "letter.png": (b"Dear aunt", "none of PNG, JPEG, WebP, TIFF or SVG"),
    "bomb.png": (image_bomb(), "60,000 x 60,000 pixels"),
    "entity.svg": (
        f'<!DOCTYPE svg [<!ENTITY e SYSTEM "file:///etc/passwd">]>{HEAD}&e;</svg>'.encode(),
        "declares entities",
    ),
    "xinclude.svg": (
        f'{HEAD}<i:include xmlns:i="http://www.w3.org/2001/XInclude" href="a.svg"/></svg>'.encode(),
        "an XInclude",
    ),
    "neighbour.svg": (
        f'{HEAD}<image href="good-bee.png" width="9" height="9"/></svg>'.encode(),
        "good-bee.png",
    ),
    "filter-bomb.svg": (
        f'{HEAD}<filter id="f">{"<feTurbulence/>" * 500}</filter></svg>'.encode(),
        "a filter has 500 steps",
    ),
    "use-bomb.svg": (use_bomb().encode(), "more than 1,000,000 elements"),
    "text.svg": (f'{HEAD}<text y="20">HELLO</text></svg>'.encode(), "live text"),
}


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    shop = tmp_path_factory.mktemp("bad") / "shop"
    code, said = hundredfold("new", str(shop))
    assert code == 0, said
    (shop / "designs").mkdir(exist_ok=True)
    (shop / "designs" / "good-bee.png").write_bytes(design_png("honeybee", 180))
    (shop / "designs" / "wrong-name.jpg").write_bytes(design_png("ant", 180))
    for name, (data, _) in BAD.items():
        (shop / "designs" / name).write_bytes(data)
    code, said = hundredfold("proof", "--shop", str(shop))
    assert code == 1, said
    return said


@pytest.mark.parametrize("name", list(BAD))
def test_one_finding_with_one_sentence_and_one_piece_of_advice(told: dict[str, Any], name: str) -> None:
    found = [finding for finding in told["findings"] if finding["item"] == f"designs/{name}"]
    assert len(found) == 1
    what, advice = found[0]["what"], found[0]["try"]
    assert BAD[name][1] in what
    assert not any(part in what for part in ("\n", " try: ", f"designs/{name}"))
    assert advice
    assert advice != "mend or replace the file"
    assert found[0]["severity"] == "stop"
    assert (found[0]["check"], found[0]["code"]) == ("designs/unusable-file", "unusable")


def test_good_art_goes_on_whatever_its_name_says(told: dict[str, Any]) -> None:
    stopped = {finding["item"] for finding in told["findings"] if finding["severity"] == "stop"}
    assert stopped == {"blanks", "channels", *(f"designs/{name}" for name in BAD)}  # the shop has neither
