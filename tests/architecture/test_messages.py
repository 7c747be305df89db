"""Every error a person can meet is explained in docs/messages.md, and nothing else is."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "hundredfold"
PAGE = ROOT / "docs" / "messages.md"


def carriers(trees: list[ast.Module]) -> dict[str, int]:
    """Functions that are given a slug, by name, with the place of that argument (self not counted)."""
    found = {"ShopError": 0}
    for tree in trees:
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef):
                names = [argument.arg for argument in node.args.args if argument.arg not in ("self", "cls")]
                if "slug" in names and node.name != "__init__":
                    found[node.name] = names.index("slug")
    return found


def slugs(trees: list[ast.Module]) -> Iterator[str]:
    """Each slug written out in a call."""
    places = carriers(trees)
    for tree in trees:
        for node in ast.walk(tree):
            if not isinstance(node, ast.Call):
                continue
            name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
            given = [keyword.value for keyword in node.keywords if keyword.arg == "slug"]
            if name in places:
                given += node.args[places[name] : places[name] + 1]
            for value in given:
                for part in ast.walk(value):
                    if isinstance(part, ast.Constant) and isinstance(part.value, str):
                        yield part.value


def test_slugs_are_seen_however_they_are_passed() -> None:
    tree = ast.parse(
        "def wrong(self, slug, what): raise ShopError(slug, what, 'fix')\n"
        "def f(t): t.wrong('one', 'x'); raise ShopError('two' if t else 'three', 'x', 'y')\n"
        "def g(): raise ShopError(slug='four', what='x', fix='y')\n"
    )
    assert sorted(slugs([tree])) == ["four", "one", "three", "two"]


def test_every_error_has_its_heading_and_every_heading_its_error() -> None:
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in sorted(SOURCE.rglob("*.py"))]
    used = set(slugs(trees))
    headings = re.findall(r"^## (\S+)$", PAGE.read_text(encoding="utf-8"), re.MULTILINE)
    assert sorted(used - set(headings)) == [], "write a heading for these in docs/messages.md"
    assert sorted(set(headings) - used) == [], "no error of the program carries these; remove the headings"
    assert len(headings) == len(set(headings))


def test_slugs_are_plain_words() -> None:
    headings = re.findall(r"^## (.+)$", PAGE.read_text(encoding="utf-8"), re.MULTILINE)
    assert [heading for heading in headings if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", heading)] == []


def test_every_heading_says_what_it_means_and_what_to_do() -> None:
    sections = re.split(r"^## ", PAGE.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]
    short = [section.splitlines()[0] for section in sections if len(section.split()) < 12]
    assert short == [], "these need a sentence of meaning and one of remedy"
