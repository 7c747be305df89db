"""No module needs one that needs it: package, tools, benchmarks. Imports inside functions count."""

import ast
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def imported(tree: ast.AST) -> Iterator[str]:
    """Every module, or module's name, that is imported anywhere."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def graph_of(sources: dict[str, str]) -> dict[str, set[str]]:
    """Which of these modules each of them imports."""
    return {
        name: {other for other in imported(ast.parse(source)) if other in sources and other != name}
        for name, source in sources.items()
    }


def modules(*folders: str) -> dict[str, str]:
    found = {}
    for folder in folders:
        for path in (ROOT / folder).rglob("*.py"):
            parts = path.relative_to(ROOT).with_suffix("").parts
            name = ".".join(parts[1:] if parts[0] == "src" else parts)
            found[name.removesuffix(".__init__")] = path.read_text(encoding="utf-8")
    return found


def test_nothing_is_imported_in_a_circle() -> None:
    TopologicalSorter(graph_of(modules("src", "tools", "benchmarks"))).prepare()


def test_a_circle_is_seen() -> None:
    circle = {"a": "from b import x", "b": "def f():\n    import a"}
    with pytest.raises(CycleError):
        TopologicalSorter(graph_of(circle)).prepare()
