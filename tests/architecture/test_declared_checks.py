"""Every finding that the program can give is declared once, and every declaration is given and tested.

The source is walked as syntax: a record's ``finds(code, ...)``, the judges' ``wrong(record, code, ...)``
and the proof's ``Hit(code, ...)`` are where findings come from.
"""

import ast
import importlib
import re
from functools import cache
from pathlib import Path
from types import ModuleType

import pytest

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.checks.every import CHECKS
from hundredfold.workshop.proof.everycheck import EVERY_CHECK

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src"
# Where Finding may be made of bare parts: the record, a check that the seller may have changed, a kept pack.
MAKERS = {"kernel/checks.py", "proofing/registry.py", "workshop/steps/packfiles.py"}
# Where the errors arise whose slugs become codes, by the check that takes them.
TAKES_ERRORS = {
    "words/row": ("designs/layouts", "designs/typesetting/curves.py", "designs/typesetting/shaping.py",
                  "runner/svgchild.py"),
    "words/fonts": ("designs/typesetting/fonts.py", "workshop/shop/typefaces.py"),
    "designs/made-list": ("workshop/shop/madelist.py", "workshop/shop/files.py:read"),
}  # fmt: skip


@cache
def trees() -> dict[str, ast.Module]:
    """The syntax of every module, by its path inside the package."""
    root = SOURCE / "hundredfold"
    return {
        path.relative_to(root).as_posix(): ast.parse(path.read_text(encoding="utf-8"))
        for path in sorted(root.rglob("*.py"))
    }


def module_of(path: str) -> ModuleType:
    name = path.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
    return importlib.import_module(f"hundredfold.{name}")


def called(node: ast.Call) -> str:
    return node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")


def words_in(node: ast.AST) -> set[str]:
    """Every text that stands in an expression."""
    return {n.value for n in ast.walk(node) if isinstance(n, ast.Constant) and isinstance(n.value, str)}


@cache
def given() -> tuple[tuple[str, CheckRecord, ast.expr], ...]:
    """Each place where a record gives a finding: the module, the record and the expression of its code."""
    found = []
    for path, tree in trees().items():
        for node in ast.walk(tree):
            if not isinstance(node, ast.Call) or len(node.args) < 2:
                continue
            if called(node) == "finds" and isinstance(node.func, ast.Attribute):
                record, code = node.func.value, node.args[0]
            elif called(node) == "wrong" and isinstance(node.args[0], ast.Name) and node.args[0].id.isupper():
                record, code = node.args[0], node.args[1]
            else:
                continue
            if isinstance(record, ast.Name) and record.id.isupper():
                found.append((path, getattr(module_of(path), record.id), code))
    return tuple(found)


def slugs_raised(places: tuple[str, ...]) -> set[str]:
    """The slugs of errors raised in these modules, folders, or ``MODULE:FUNCTION``."""
    found = set()
    for place in places:
        path, _, function = place.partition(":")
        for tree in (tree for name, tree in trees().items() if name.startswith(path)):
            parts: list[ast.AST] = [
                n for n in ast.walk(tree) if isinstance(n, ast.FunctionDef) and n.name == function
            ]
            for node in (node for part in (parts or [tree]) for node in ast.walk(part)):
                if isinstance(node, ast.Call) and called(node) == "ShopError" and node.args:
                    found |= words_in(node.args[0])
    return found


def spoken_of(record: CheckRecord) -> set[str]:
    """Every text in the modules that give this record's findings, apart from the declaration itself."""
    found: set[str] = set()
    for path in {path for path, one, _ in given() if one is record}:
        for node in ast.walk(trees()[path]):
            if isinstance(node, ast.Call) and called(node) != "CheckRecord":
                found |= {text for part in (*node.args, *node.keywords) for text in words_in(part)}
            elif isinstance(node, ast.Assign) and not (
                isinstance(node.value, ast.Call) and called(node.value) == "CheckRecord"
            ):
                found |= words_in(node.value)
    return found


def test_findings_are_made_by_their_records_only() -> None:
    bare = {
        f"{path}:{node.lineno}"
        for path, tree in trees().items()
        if path not in MAKERS
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and called(node) == "Finding"
    }
    assert not bare, f"say it with a CheckRecord: {sorted(bare)}"


def test_every_record_is_in_the_registry() -> None:
    known = {one.id for one in EVERY_CHECK}
    declared = {
        keyword.value.value
        for tree in trees().values()
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and called(node) == "CheckRecord"
        for keyword in node.keywords
        if keyword.arg == "id" and isinstance(keyword.value, ast.Constant)
    } | {
        node.args[0].value
        for tree in trees().values()
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and called(node) == "check" and node.args
        and isinstance(node.args[0], ast.Constant)
    }  # fmt: skip
    assert declared == known


def test_every_code_that_is_given_is_declared() -> None:
    for path, record, code in given():
        for word in words_in(code):
            if isinstance(code, ast.JoinedStr):
                assert any(one.startswith(word) for one in record.codes), f"{path}: {record.id} {word}..."
            elif re.fullmatch(r"[a-z]+(-[a-z]+)*", word):
                spoken = {word} & (set(record.codes) | _compared(code))
                assert spoken, f"{path} gives {record.id}:{word}, which is not declared"


def _compared(code: ast.expr) -> set[str]:
    """Texts of a condition, which are no codes."""
    tests = [node.test for node in ast.walk(code) if isinstance(node, ast.IfExp)]
    return {word for test in tests for word in words_in(test)}


@pytest.mark.parametrize("record", EVERY_CHECK, ids=lambda one: one.id)
def test_every_declared_code_is_given(record: CheckRecord) -> None:
    proof = next((one for one in CHECKS if one.record is record), None)
    if proof is not None and proof.function.__module__ != "hundredfold.proofing.checks.blankalone":
        path = proof.function.__module__.removeprefix("hundredfold.").replace(".", "/") + ".py"
        (function,) = (n for n in ast.walk(trees()[path])
                       if isinstance(n, ast.FunctionDef) and n.name == proof.function.__name__)  # fmt: skip
        spoken = {word for line in function.body for word in words_in(line)}
    else:
        spoken = spoken_of(record) | slugs_raised(TAKES_ERRORS.get(record.id, ()))
        spoken |= {f"no-{item}" for item in spoken} if record.id == "shop/nothing-to-list" else set()
        if record.id == "words/row":
            spoken |= words_in(trees()["designs/layouts/cells.py"])
            spoken |= words_in(trees()["designs/layouts/judging.py"])
    assert not set(record.codes) - spoken, f"nothing gives {record.id} {sorted(set(record.codes) - spoken)}"


@pytest.mark.parametrize("name", sorted(TAKES_ERRORS))
def test_an_error_that_becomes_a_finding_has_a_declared_code(name: str) -> None:
    (record,) = (one for one in EVERY_CHECK if one.id == name)
    raised = slugs_raised(TAKES_ERRORS[name])
    assert raised, "the modules moved"
    assert raised <= set(record.codes)


def test_a_code_that_is_not_declared_is_our_bug() -> None:
    with pytest.raises(LookupError, match="'oops'"):
        EVERY_CHECK[0].finds("oops", "item", "what", "fix")
    with pytest.raises(LookupError, match="'odd-slug'"):
        EVERY_CHECK[0].finds_error(ShopError("odd-slug", "what", "fix"), "item")


def test_a_record_that_is_incomplete_does_not_load() -> None:
    told = {"title": "t", "looks_at": "l", "why": "w", "example": "e", "fix": "f", "known_limits": "k"}
    whole = {"id": "art/trial", "source": "s", "codes": {"found": Severity.WARN}, **told}
    CheckRecord(**whole)  # type: ignore[arg-type]
    changes: tuple[dict[str, object], ...] = (
        {"id": "Art/trial"},
        {"codes": {}},
        {"codes": {"Not so": Severity.NOTE}},
        {"source": ""},
    )
    for change in changes:
        with pytest.raises(ValueError, match="rial"):
            CheckRecord(**{**whole, **change})  # type: ignore[arg-type]


@cache
def named_in_tests() -> tuple[tuple[str, set[str]], ...]:
    """The text of each test file and every constant in it; of a "CHECK:CODE" or "CHECK CODE" both halves."""
    found = []
    for path in sorted((ROOT / "tests").rglob("test_*.py")):
        if path != Path(__file__):
            text = path.read_text(encoding="utf-8")
            words = words_in(ast.parse(text))
            halves = {half for one in words if len(one) < 80 for half in re.split("[: ]", one, maxsplit=1)}
            found.append((text, words | halves))
    return tuple(found)


@pytest.mark.parametrize("record", EVERY_CHECK, ids=lambda one: one.id)
def test_every_code_is_named_by_a_test(record: CheckRecord) -> None:
    """By one that names the check too, or that tests the room which gives it; an error's slug by any."""
    rooms = {f"hundredfold.{path.split('/')[0]}" for path, one, _ in given() if one is record}
    slugs = slugs_raised(TAKES_ERRORS.get(record.id, ()))
    missing = [
        code
        for code in record.codes
        if not any(
            code in words and (code in slugs or record.id in words or any(room in text for room in rooms))
            for text, words in named_in_tests()
        )
    ]
    assert not missing, f"no test names {record.id} with {missing}"
