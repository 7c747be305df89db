"""Break the code of a room in one place at a time and see whether a test notices (docs/tests.md).

    python -m tools.mutants planning tests/unit/planning --sample 300 --seed 1

Each change is made in the running process, in the code of one function, and taken back. It is shown to those
tests that call the function; a test that takes longer than ``--slowest`` by itself is left out. SIGTERM ends
the run after the change that is being shown, and what was broken until then is told.
"""

import argparse
import ast
import contextlib
import functools
import gc
import importlib
import io
import random
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

import pytest
from _pytest.runner import runtestprotocol

SOURCE = Path(__file__).parents[1] / "src"
_SENTENCE = 3  # blanks in a text from which on it is a sentence for a person, and no logic
# CPU for the tests of one change: so much, and so often what they take without it; longer goes in circles.
_LIMIT_S, _LIMIT_TIMES = 10, 3
_WAIT_TIMES = 6  # and so often as long by the clock: a change may make a test wait for what never comes
_OTHER: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
    ast.And: ast.Or, ast.Or: ast.And,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Add, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult, ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr, ast.Continue: ast.Break,
    ast.Break: ast.Continue,
}  # fmt: skip


@dataclass(frozen=True)
class Change:
    """One place and what stands there instead; ``code`` is the whole function's."""

    function: FunctionType
    where: str
    what: str
    code: CodeType


def changes_of(module: ModuleType) -> Iterator[Change]:
    """Every change of a module's functions and methods."""
    file = Path(str(module.__file__))
    for name, node in _functions(ast.parse(file.read_text("utf-8")).body, ""):
        function = _live(module, name)
        if function is None or function.__code__.co_freevars:
            continue
        node.decorator_list = []
        for place, what, change, back in _places(node):
            change()
            code = _compiled(node, str(file))
            back()
            if code is not None:
                yield Change(function, f"{file.relative_to(SOURCE)}:{place} {name}", what, code)


def _functions(body: Sequence[ast.stmt], above: str) -> Iterator[tuple[str, ast.FunctionDef]]:
    for node in body:
        if isinstance(node, ast.ClassDef):
            yield from _functions(node.body, f"{above}{node.name}.")
        elif isinstance(node, ast.FunctionDef):
            yield above + node.name, node


def _live(module: ModuleType, name: str) -> FunctionType | None:
    """The function object behind properties, class methods and wrappers."""
    found: object = module
    for part in name.split("."):
        found = vars(found).get(part)
    for inner in ("fget", "func", "__func__", "__wrapped__"):
        found = getattr(found, inner, None) or found
    return found if isinstance(found, FunctionType) else None


def _compiled(node: ast.FunctionDef, file: str) -> CodeType | None:
    body = ast.Module([node], [])
    try:
        whole = compile(ast.fix_missing_locations(body), file, "exec")
    except SyntaxError:
        return None
    return next(
        (each for each in whole.co_consts if isinstance(each, CodeType) and each.co_name == node.name), None
    )


Place = tuple[int, str, Callable[[], None], Callable[[], None]]


def _places(function: ast.FunctionDef) -> Iterator[Place]:
    """Line, what is changed, how it is done and how it is taken back."""
    told = {
        id(part) for node in ast.walk(function) if isinstance(node, ast.JoinedStr) for part in ast.walk(node)
    }
    start = 1 if ast.get_docstring(function) is not None else 0
    for statement in function.body[start:]:
        for node in ast.walk(statement):
            if id(node) not in told:  # a sentence for a person is no logic
                yield from _of_node(node)
    for node in ast.walk(function):
        for block in ("body", "orelse"):
            body = getattr(node, block, None)
            if isinstance(body, list):
                yield from _left_out(body)


def _of_node(node: ast.AST) -> Iterator[Place]:
    line = getattr(node, "lineno", 0)
    if isinstance(node, ast.Compare):
        for at, op in enumerate(node.ops):
            if type(op) in _OTHER:
                yield line, _swap(op), *_item(node.ops, at, _OTHER[type(op)]())
    elif isinstance(node, ast.BoolOp | ast.BinOp | ast.AugAssign) and type(node.op) in _OTHER:
        yield line, _swap(node.op), *_field(node, "op", _OTHER[type(node.op)]())
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        yield line, "not taken away", *_field(node, "operand", ast.UnaryOp(ast.Not(), node.operand))
    elif isinstance(node, ast.If | ast.IfExp | ast.While):
        yield line, "condition turned round", *_field(node, "test", ast.UnaryOp(ast.Not(), node.test))
    elif isinstance(node, ast.Return) and node.value is not None and not _is_no(node.value):
        yield line, "gives None", *_field(node, "value", ast.Constant(None))
    elif isinstance(node, ast.Constant) and isinstance(node.value, bool | int | str):
        value = node.value
        if isinstance(value, str) and value.count(" ") >= _SENTENCE:
            return
        other = not value if isinstance(value, bool) else value + 1 if isinstance(value, int) else value + "?"
        yield line, f"{value!r} -> {other!r}", *_field(node, "value", other)


def _is_no(node: ast.expr) -> bool:
    """False, for which None would do as well."""
    return isinstance(node, ast.Constant) and (node.value is None or node.value is False)


def _swap(op: ast.AST) -> str:
    return f"{type(op).__name__} -> {_OTHER[type(op)].__name__}"


def _left_out(body: list[ast.stmt]) -> Iterator[Place]:
    for at, statement in enumerate(body):
        plain = isinstance(
            statement, ast.Assign | ast.AugAssign | ast.Expr | ast.Raise | ast.Continue | ast.Break
        )
        if plain and not (isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant)):
            yield statement.lineno, f"left out: {ast.unparse(statement)[:60]}", *_item(body, at, ast.Pass())


def _field(node: ast.AST, name: str, value: object) -> tuple[Callable[[], None], Callable[[], None]]:
    old = getattr(node, name)
    return lambda: setattr(node, name, value), lambda: setattr(node, name, old)


def _item(held: list[Any], at: int, value: ast.AST) -> tuple[Callable[[], None], Callable[[], None]]:
    old = held[at]
    return lambda: held.__setitem__(at, value), lambda: held.__setitem__(at, old)


class _TooLong(BaseException):
    """The tests of one change go round in circles."""


def _too_long(*_: object) -> None:
    raise _TooLong


class Breaker:
    """Takes the place of pytest's loop over the tests."""

    def __init__(self, changes: Sequence[Change], slowest: float) -> None:
        self.changes = changes
        self.slowest = slowest
        self.left_out: list[str] = []
        self.unseen: list[Change] = []
        self.lived: list[Change] = []
        self.noticed = 0
        self._stop = False
        self._by_code: dict[CodeType, list[pytest.Item]] = {}
        rooms = {change.function.__module__.rpartition(".")[0] for change in changes}
        self._caches = [
            one
            for one in gc.get_objects()
            if isinstance(one, functools._lru_cache_wrapper) and one.__module__.rpartition(".")[0] in rooms
        ]

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """First every test as it is, then every change before the tests that call its function."""
        cost: dict[pytest.Item, float] = {}
        for item in session.items:
            self._first(item, cost)
        signal.signal(signal.SIGVTALRM, _too_long)
        signal.signal(signal.SIGALRM, _too_long)
        signal.signal(signal.SIGTERM, self._end)
        for done, change in enumerate(self.changes, start=1):
            if self._stop:
                break
            items = sorted(self._by_code.get(change.function.__code__, ()), key=cost.__getitem__)
            limit = _LIMIT_S + _LIMIT_TIMES * sum(map(cost.__getitem__, items))
            if not items:
                self.unseen.append(change)
            elif self._noticed(change, items, limit):
                self.noticed += 1
            else:
                self.lived.append(change)
            if done % 50 == 0:
                print(
                    f"{done} of {len(self.changes)}, {self.noticed} noticed", file=sys.__stderr__, flush=True
                )
        return True

    @property
    def broken(self) -> int:
        """How many changes were made."""
        return self.noticed + len(self.lived) + len(self.unseen)

    def _end(self, *_: object) -> None:
        self._stop = True

    def _first(self, item: pytest.Item, cost: dict[pytest.Item, float]) -> None:
        called: set[CodeType] = set()

        def note(frame: object, event: str, _: object) -> None:
            if event == "call":
                called.add(frame.f_code)  # type: ignore[attr-defined]

        began = time.process_time()
        threading.setprofile(note)
        sys.setprofile(note)
        try:
            fine = _passes(item)
        finally:
            sys.setprofile(None)
            threading.setprofile(None)
        cost[item] = time.process_time() - began
        if not fine or cost[item] > self.slowest:
            self.left_out.append(f"{item.nodeid} ({'slow' if fine else 'does not pass'})")
            return
        for code in called:
            self._by_code.setdefault(code, []).append(item)

    def _noticed(self, change: Change, items: Sequence[pytest.Item], limit: float) -> bool:
        right = change.function.__code__
        change.function.__code__ = change.code
        self._forget()
        signal.setitimer(signal.ITIMER_VIRTUAL, limit)
        signal.setitimer(signal.ITIMER_REAL, _WAIT_TIMES * limit)
        try:
            return not all(map(_passes, items))
        except (_TooLong, KeyboardInterrupt, SystemExit, pytest.exit.Exception):
            return True
        finally:
            signal.setitimer(signal.ITIMER_VIRTUAL, 0)
            signal.setitimer(signal.ITIMER_REAL, 0)
            change.function.__code__ = right
            self._forget()

    def _forget(self) -> None:
        """Clear the room's caches: an answer kept from before the change would hide it."""
        for cached in self._caches:
            cached.cache_clear()


def _passes(item: pytest.Item) -> bool:
    return all(report.passed for report in runtestprotocol(item, log=False, nextitem=None))


def modules_of(room: str) -> list[ModuleType]:
    """Every module of a room, or the one module that a path names."""
    place = SOURCE / "hundredfold" / room
    files = [place] if place.is_file() else sorted(place.glob("*.py"))
    names = [".".join(file.relative_to(SOURCE).with_suffix("").parts) for file in files]
    return [importlib.import_module(name) for name in names if not name.endswith("__init__")]


def main() -> None:
    """Draw the changes, run them, tell."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("room", help="a folder of src/hundredfold, or one file in it")
    parser.add_argument("tests", nargs="+")
    parser.add_argument("--sample", type=int, default=10**6, help="random.Random(seed).sample of all changes")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--part", default="1/1", help="of the sample, as 2/4: for several machines or cores")
    parser.add_argument("--slowest", type=float, default=0.3, help="CPU seconds of one test, when it passes")
    asked = parser.parse_args()
    every = [change for module in modules_of(asked.room) for change in changes_of(module)]
    drawn = random.Random(asked.seed).sample(every, min(asked.sample, len(every)))
    part, parts = map(int, asked.part.split("/"))
    breaker = Breaker(drawn[part - 1 :: parts], asked.slowest)
    options = ["-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-o", "addopts=", "-m", "not big"]
    with contextlib.redirect_stdout(io.StringIO()):
        pytest.main([*options, *asked.tests], plugins=[breaker])
    for word, changes in (("lived", breaker.lived), ("no test calls it", breaker.unseen)):
        for change in sorted(changes, key=lambda one: one.where):
            print(f"{word}: {change.where}: {change.what}")
    print(*(f"left out: {name}" for name in breaker.left_out), sep="\n")
    share = 100 * breaker.noticed / (breaker.broken or 1)
    print(f"| {asked.room} | {len(every)} | {breaker.broken} | {breaker.noticed} | {share:.0f} % |")
    print(f"{time.process_time():.0f} s of CPU")


if __name__ == "__main__":
    main()
