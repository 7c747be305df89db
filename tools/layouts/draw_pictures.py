"""Make the pictures and the tables of docs/layouts.md with the program itself.

Run: python -m tools.layouts.draw_pictures
"""

import re
from pathlib import Path

import numpy as np
from lxml import etree
from PIL import Image

from hundredfold.designs.alpha import over
from hundredfold.designs.layouts.attributes import ATTRIBUTES
from hundredfold.designs.layouts.drawing import SVG
from hundredfold.designs.layouts.elements import elements
from hundredfold.designs.layouts.fill import fill_layout
from hundredfold.designs.layouts.layout import parse_layout
from hundredfold.designs.layouts.pattern import HELPERS
from hundredfold.designs.layouts.rows import Row
from hundredfold.runner.svgchild import rasterise_svg
from hundredfold.workshop.shop.starterlayouts import starter_layouts
from hundredfold.workshop.shop.typefaces import find_font
from hundredfold.workshop.typeset.wordlists import read_word_list
from tools.sampleart.pictures import sample_pictures

DOCS = Path(__file__).parents[2] / "docs"
PLACE = DOCS / "layouts"
PAGE = DOCS / "layouts.md"
GROUNDS = {"light": (255, 255, 255), "dark": (32, 37, 46), "": (255, 255, 255)}
DESK = (226, 222, 212)
TILE = (400, 500)
STARTER_WORDS = {
    "arch-over-art": ("Allotment life", "plot, pot, repeat", "watering-can.svg"),
    "badge": ("Proud *beekeeper*", "stung & still smiling", "bee.svg"),
    "big-word": ("Low notes lover", "the rich middle of the chord", ""),
    "circle": ("Captain of the cut", "four miles an hour", "narrowboat.svg"),
    "crest": ("Tower captain", "please stand when I say stand", "bell.svg"),
    "hand-and-caps": ("Slow boat society", "back when the water runs out", "narrowboat.svg"),
    "label": ("Honey Harvest Crew", "small batch, big buzz", "jar.svg"),
    "mug-wrap": ("Queen of the hive", "smells faintly of smoke", "hive.svg"),
    "photo-frame": ("Dawn dipper", "cake at the other end", "wave.svg"),
    "photo-oval": ("Steeple keeper", "stand when I say stand", "tower.svg"),
    "ribbon": ("Muddy boots", "happy heart", "wellies.svg"),
    "script-and-caps": ("King of the compost", "glut season specialist", "wellies.svg"),
    "stacked-slab": ("Mermaid in a bobble hat", "warm heart, numb toes", ""),
    "tall-word": ("Alto", "the rich middle of the chord", ""),
    "three-line-list": ("Plot holder", "dig, sow, put the kettle on", "carrot.svg"),
    "ticket": ("One more dip before breakfast", "the cold water club", "swimmer.svg"),
    "wide-script": ("Gone cruising", "lock, stock & teapot", ""),
    "wide-sign": ("Learner on a rope", "up the stairs by nine", ""),
    "wide-stripes": ("Slug patrol", "growing old disgracefully", "carrot.svg"),
    "worn-poster": ("Canal folk", "overtaken by ducks", "narrowboat.svg"),
    "worn-stamp": ("Head of honey", "sticky since spring", "hive.svg"),
}


def filled(data: bytes, name: str, row: Row, version: str) -> bytes:
    """The design of a row."""
    layout = parse_layout(data, name)
    fonts = {key: find_font(*key) for key in layout.fonts()}
    done = fill_layout(layout, row, fonts, dict(sample_pictures()), version)
    assert done.svg, [str(finding) for finding in done.findings]
    return done.svg


def tile(svg: bytes, ground: tuple[int, int, int]) -> np.ndarray:
    """A picture of it on its ground."""
    left, top, across, down = map(float, etree.fromstring(svg).get("viewBox", "0 0 4 5").split())
    width, height = TILE[0], min(TILE[1], round(TILE[0] * (down - top) / (across - left)))
    whole = np.full((TILE[1], TILE[0], 3), ground, dtype=np.uint8)
    drawn = over(rasterise_svg(svg, width, height, name="tile"), ground)[..., :3]
    start = (TILE[1] - height) // 2
    whole[start : start + height] = drawn
    return whole


def sheet(tiles: list[np.ndarray], across: int) -> Image.Image:
    """Tiles side by side with room between them."""
    gap = 16
    down = -(-len(tiles) // across)
    whole = Image.new("RGB", (gap + across * (TILE[0] + gap), gap + down * (TILE[1] + gap)), DESK)
    for k, one in enumerate(tiles):
        whole.paste(
            Image.fromarray(one), (gap + k % across * (TILE[0] + gap), gap + k // across * (TILE[1] + gap))
        )
    return whole


def save(picture: Image.Image, name: str) -> None:
    """As a small PNG: flat art needs few colours."""
    picture.quantize(128, dither=Image.Dither.NONE).save(PLACE / name, optimize=True)
    print(name, (PLACE / name).stat().st_size)


def as_drawn(data: bytes) -> bytes:
    """What the drawing program shows: guides and slots as they stand, its words set as they are."""
    layout = parse_layout(data.replace(b'data-guide="yes"', b""), "drawn")
    for element in elements(layout.drawing.root):
        if element.get("data-art"):
            element.set("stroke", "#00a0ff")
            element.set("stroke-width", "8")
            del element.attrib["data-art"]
    plain = data.replace(b' data-guide="yes"', b"").replace(b'\n        data-guide="yes"', b"")
    plain = re.sub(rb'data-art="[^"]*"', b'stroke="#00a0ff" stroke-width="8"', plain)
    words = {name: "{" + name + "}" for name in parse_layout(data, "x").columns()}
    plain = re.sub(rb"\{(?:list |upper )?([a-z]+)\}", rb"{\1}", plain)
    return filled(plain, "drawn", Row("x", 1, words), parse_layout(data, "x").versions[0])


def steps() -> None:
    """The pictures of the first layout."""
    rows = read_word_list(PLACE / "words.csv").rows
    for step in (1, 2):
        data = (PLACE / f"step-{step}.svg").read_bytes()
        tiles = [tile(as_drawn(data), (255, 255, 255))]
        tiles += [tile(filled(data, "step.svg", row, ""), (255, 255, 255)) for row in rows[:3]]
        save(sheet(tiles, 4), f"step-{step}.png")
    data = (PLACE / "step-3.svg").read_bytes()
    tiles = [tile(filled(data, "step.svg", row, v), GROUNDS[v]) for v in ("light", "dark") for row in rows]
    save(sheet(tiles, 4), "step-3.png")


def starters() -> None:
    """All starters, light and dark in turn."""
    tiles = []
    for k, (name, data) in enumerate(starter_layouts()):
        title, line, picture = STARTER_WORDS[name[:-4]]
        cells = {"title": title, "line": line, "picture": picture}
        cells |= {"first": "Dig", "second": "Sow", "third": "Put the kettle on"}
        version = ("light", "dark")[(k + k // 5) % 2]
        tiles.append(tile(filled(data, name, Row("words.csv", 2, cells), version), GROUNDS[version]))
    save(sheet(tiles, 5), "starters.png")


def table(rows: dict[str, str]) -> str:
    """A table in Markdown."""
    return "\n".join(f"| `{name}` | {words} |" for name, words in rows.items())


def page() -> None:
    """Write the tables into the page, between their marks."""
    text = PAGE.read_text(encoding="utf-8")
    shown = {name: words for name, words in ATTRIBUTES.items() if name != "data-slot-number"}
    for mark, body in (
        ("attributes", "| attribute | what it does |\n|---|---|\n" + table(shown)),
        ("helpers", "| word | gives |\n|---|---|\n" + table(HELPERS)),
    ):
        pattern = rf"(<!-- {mark} -->\n).*?(<!-- end -->)"
        found = re.search(pattern, text, re.DOTALL)
        assert found is not None, f"{PAGE} has no mark {mark}"
        text = f"{text[: found.start()]}{found[1]}{body}\n{found[2]}{text[found.end() :]}"
    PAGE.write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    assert SVG
    page()
    steps()
    starters()
