"""One word, one notion: no two public classes of the program share a name."""

import ast
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "hundredfold"
# Words of this house that no trade uses; each has a line in the page.
OWN_WORDS = ("bench", "desk", "plate", "finding", "vault")


def public_classes(sources: dict[str, str]) -> dict[str, list[str]]:
    """Where each public class at the top of a module is defined, by name."""
    found: dict[str, list[str]] = defaultdict(list)
    for name, source in sources.items():
        for node in ast.parse(source).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                found[node.name].append(name)
    return found


def test_no_two_public_classes_share_a_name() -> None:
    sources = {
        path.relative_to(SOURCE).as_posix(): path.read_text(encoding="utf-8") for path in SOURCE.rglob("*.py")
    }
    shared = {name: where for name, where in public_classes(sources).items() if len(where) > 1}
    assert shared == {}, "one word, one notion: rename the lesser meaning"


def test_two_of_one_name_are_seen() -> None:
    found = public_classes({"a.py": "class Sheet: ...\nclass _Row: ...", "b.py": "class Sheet: ..."})
    assert found == {"Sheet": ["a.py", "b.py"]}


def test_our_own_words_are_in_the_glossary() -> None:
    page = (ROOT / "docs" / "architecture.md").read_text(encoding="utf-8")
    glossary = page.split("## Words of the house", 1)[1].split("\n## ", 1)[0]
    assert [word for word in OWN_WORDS if f"| {word} |" not in glossary] == []
