"""The readers and drawers that run in children, shown here in this process, and the runner's small parts."""

import ctypes
import hashlib
import io
import os
import sys
import time
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import openpyxl
import psutil
import pytest
import python_calamine
import pyvips
from runner_doubles import MemoryRows, maker, task

from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.runner import allocator, bookreader, svgrender, workers
from hundredfold.runner.assessing import KnownOutputs
from hundredfold.runner.atomic import sweep_dead_parts, sync_folder
from hundredfold.runner.bookreader import LOCKED, TOO_LARGE, read
from hundredfold.runner.cache import Vault
from hundredfold.runner.inputs import Inputs, SharedInputs, carried
from hundredfold.runner.memo import PathMemo
from hundredfold.runner.rows import MadeRow
from hundredfold.runner.svgrender import ANSWER, REQUEST, draw, serve
from hundredfold.runner.tasks import Output, Unmade, WorkPart
from hundredfold.runner.workers import GroupResult, InProcess, make_group, worker_count


def book(**sheets: list[list[Any]]) -> bytes:
    made = openpyxl.Workbook()
    made.remove(made.worksheets[0])
    for name, rows in sheets.items():
        sheet = made.create_sheet(name)
        for row in rows:
            sheet.append(row)
    made.create_chartsheet("Chart")
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def test_a_workbooks_cells_as_plain_values() -> None:
    at = datetime.fromisoformat("2026-01-02T03:04:05")
    data = book(One=[["a", 1.5, True, at], [None, at.date()]], Two=[[timedelta(hours=1)]])
    assert read(data, 9) == {
        "sheets": [
            [
                "One",
                [["a", 1.5, True, {"datetime": "2026-01-02T03:04:05"}], ["", {"date": "2026-01-02"}, "", ""]],
            ],
            ["Two", [["1:00:00"]]],
        ]
    }
    assert bookreader._plain(date(2026, 1, 2)) == {"date": "2026-01-02"}
    assert read(data, 8) == {"error": TOO_LARGE}  # eight and one
    assert "sheets" in read(book(One=[["a"] * 8]), 8)


@pytest.mark.parametrize(
    ("raised", "said"),
    [
        (MemoryError(), TOO_LARGE),
        (BaseException("the reader's own panic"), TOO_LARGE),
        (ValueError("first\nsecond"), "first"),
        (ValueError("x" * 300), "x" * 200),
        (ValueError(), "ValueError"),
        (python_calamine.PasswordError("locked"), LOCKED),
    ],
)
def test_what_a_reader_ends_in_is_one_word(
    raised: BaseException, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_: object) -> None:
        raise raised

    monkeypatch.setattr(bookreader, "CalamineWorkbook", SimpleNamespace(from_filelike=fails))
    assert read(b"", 9) == {"error": said}


SVG = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="4" height="2">'
    b'<rect width="2" height="2" fill="#f00"/></svg>'
)
RED, CLEAR = bytes((255, 0, 0, 255)), bytes(4)


def test_a_drawing_as_rows_and_as_a_png() -> None:
    rows = (RED * 2 + CLEAR * 2) * 2
    assert draw(SVG, 4, 2) == rows
    png = draw(SVG, 4, 2, as_png=True)
    assert png.startswith(b"\x89PNG")
    assert bytes(pyvips.Image.new_from_buffer(png, "").write_to_memory()) == rows
    for width, height in ((5, 2), (4, 3)):
        with pytest.raises(ValueError, match=f"drew 4 x 2 x 4 instead of {width} x {height} x 4"):
            draw(SVG, width, height)


def test_the_child_answers_every_request_and_ends_with_the_pipe() -> None:
    asked = b"".join(
        REQUEST.pack(len(data), width, 2, png) + data
        for data, width, png in ((SVG, 4, False), (SVG, 9, False), (b"<no>", 4, False), (SVG, 4, True))
    )
    out = io.BytesIO()
    serve(io.BytesIO(asked + b"cut"), out)
    answers, place = [], 0
    while place < len(out.getvalue()):
        drawn, size = ANSWER.unpack_from(out.getvalue(), place)
        place += ANSWER.size
        answers.append((drawn, out.getvalue()[place : place + size]))
        place += size
    assert [drawn for drawn, _ in answers] == [True, False, False, True]
    assert answers[0][1] == draw(SVG, 4, 2)
    assert answers[1][1] == b"drew 4 x 2 x 4 instead of 9 x 2 x 4"
    assert answers[2][1]
    assert answers[3][1] == draw(SVG, 4, 2, as_png=True)


def test_memory_is_capped_where_the_system_can(monkeypatch: pytest.MonkeyPatch) -> None:
    resource = pytest.importorskip("resource")
    asked: list[tuple[int, tuple[int, int]]] = []
    monkeypatch.setattr(resource, "setrlimit", lambda what, pair: asked.append((what, pair)))
    svgrender.limit_memory(77)
    assert asked == [(resource.RLIMIT_AS, (77, 77))]


def digest_of(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def test_where_a_worker_gets_its_contents(tmp_path: Path) -> None:
    vault = Vault(tmp_path / "cache")
    kept = vault.put(b"kept")
    for name in ("art", "other"):
        (tmp_path / name).write_bytes(name.encode())
    art, changed, gone = digest_of(b"art"), digest_of(b"as it was"), digest_of(b"gone")
    files = {art: str(tmp_path / "art"), changed: str(tmp_path / "other"), gone: str(tmp_path / "gone")}
    shared = SharedInputs(str(vault.root), files)
    nowhere = digest_of(b"never")
    told = {
        changed: ("art-changed", "the file changed while the run was using it", ExitCode.PROBLEMS),
        gone: ("art-missing", "the file cannot be read (No such file or directory)", ExitCode.PROBLEMS),
        nowhere: ("art-missing", "what it is made from is gone from the cache", ExitCode.WRONG_USE),
    }
    travelling: Inputs = carried(shared, [kept, art, changed, gone, nowhere])
    for inputs in (shared, travelling):
        assert (inputs.get(kept), inputs.get(art)) == (b"kept", b"art")
        for digest, (slug, what, code) in told.items():
            with pytest.raises(ShopError) as caught:
                inputs.get(digest)
            assert (caught.value.slug, caught.value.what, caught.value.exit_code) == (slug, what, code)
    (tmp_path / "art").unlink()
    vault.path_of(kept).unlink()
    assert (travelling.get(kept), travelling.get(art)) == (b"kept", b"art")  # it holds them itself


def test_a_file_we_wrote_need_not_be_read(tmp_path: Path) -> None:
    rows = MemoryRows()
    file = tmp_path / "pack.zip"
    file.write_bytes(b"pack")
    written = os.stat(file)
    later = time.time_ns() + 60 * 10**9
    memo = PathMemo(tmp_path, rows, clock_ns=lambda: later)
    memo.learn(file, "told", written)
    assert (memo.digest(file), memo.read, memo.rehashed) == ("told", 0, 0)
    memo.save()
    assert PathMemo(tmp_path, rows).digest(file) == "told"
    file.write_bytes(b"another")
    memo.learn(file, "older", written)  # it changed meanwhile
    memo.learn(tmp_path / "gone", "x", written)
    assert (memo.digest(file), memo.read) == (digest_of(b"another"), 1)


def test_only_old_parts_of_dead_processes_are_swept(tmp_path: Path) -> None:
    dead = next(pid for pid in range(2**22 - 1, 2, -1) if not psutil.pid_exists(pid))
    names = {
        f".part-{dead}-0": 4000, f".part-{dead}-1": 3500, f".part-{os.getpid()}-0": 4000, ".part-x-0": 4000,
        f"part-{dead}-0": 4000,
    }  # fmt: skip
    for name, age in names.items():
        (tmp_path / name).write_bytes(b"")
        os.utime(tmp_path / name, (time.time() - age,) * 2)
    (tmp_path / f".part-{dead}-2").mkdir()
    os.utime(tmp_path / f".part-{dead}-2", (time.time() - 9000,) * 2)
    assert sweep_dead_parts(tmp_path) == 1
    assert not (tmp_path / f".part-{dead}-0").exists()
    assert len(list(tmp_path.iterdir())) == len(names)
    assert sweep_dead_parts(tmp_path, older_than_s=3000) == 1
    assert sweep_dead_parts(tmp_path / "none") == 0


@pytest.mark.skipif(os.name == "nt", reason="a folder cannot be synced there")
def test_a_folder_is_synced_and_closed_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    handles: list[int] = []
    monkeypatch.setattr(os, "fsync", handles.append)
    sync_folder(tmp_path)
    (handle,) = handles
    with pytest.raises(OSError, match="Bad file descriptor"):
        os.fstat(handle)


def test_what_the_c_library_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """glibc's malloc.h: M_TRIM_THRESHOLD is -1, M_MMAP_MAX is -4."""
    told: list[tuple[int, ...]] = []
    libc = SimpleNamespace(
        mallopt=lambda *pair: told.append(pair), malloc_trim=lambda pad: told.append((pad,))
    )
    keep = allocator.keep_freed_memory.__wrapped__
    monkeypatch.setattr(allocator, "_glibc", lambda: libc)
    keep()
    assert told == [(-4, 0), (-1, 1 << 28)]
    allocator.give_back_memory()
    assert told[2:] == [(0,)]
    monkeypatch.setattr(allocator, "_glibc", lambda: None)
    keep()
    allocator.give_back_memory()
    assert len(told) == 3


def test_only_a_library_that_can_be_told_is(monkeypatch: pytest.MonkeyPatch) -> None:
    find: Any = allocator._glibc.__wrapped__
    whole = SimpleNamespace(mallopt=1, malloc_trim=1)
    for platform, library, found in (
        ("linux", whole, whole), ("darwin", whole, None), ("linux", SimpleNamespace(mallopt=1), None),
        ("linux", SimpleNamespace(malloc_trim=1), None),
    ):  # fmt: skip
        monkeypatch.setattr(sys, "platform", platform)
        monkeypatch.setattr(ctypes, "CDLL", lambda _, library=library: library)
        assert find() is found

    def none(_: object) -> None:
        raise OSError

    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(ctypes, "CDLL", none)
    assert find() is None


@pytest.mark.parametrize(("cores", "count"), [(1, 2), (2, 2), (3, 3), (61, 61), (200, 61)])
def test_how_many_workers(cores: int, count: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "sched_getaffinity", lambda _: set(range(cores)), raising=False)
    assert worker_count() == count
    monkeypatch.delattr(os, "sched_getaffinity")
    monkeypatch.setattr(os, "cpu_count", lambda: cores)
    assert worker_count() == count
    monkeypatch.setattr(os, "cpu_count", lambda: None)
    assert worker_count() == 2


def parts(*designs: str) -> list[WorkPart]:
    return [task(design).part() for design in designs]


class NoInputs:
    def get(self, digest: str) -> bytes:
        raise AssertionError(digest)


def test_what_a_worker_sends_back(tmp_path: Path) -> None:
    vault = Vault(tmp_path)
    two = parts("bee", "small")
    wanted = str(two[0].wanted).encode() * 3
    assert make_group(maker, two, NoInputs(), None) == GroupResult((wanted, Unmade("too few pixels")))
    kept = make_group(maker, two, NoInputs(), str(tmp_path))
    assert kept.results == (Output(digest_of(wanted), len(wanted)), Unmade("too few pixels"))
    assert vault.get(digest_of(wanted)) == wanted

    def short(asked: Sequence[WorkPart], _: Inputs) -> list[bytes | Unmade]:
        return [b"x"] * (len(asked) - 1)

    result = make_group(short, two, NoInputs(), None)
    assert [one.sentence for one in result.results if isinstance(one, Unmade)] == [
        "it could not be made (ValueError: 2 outputs were wanted and 1 came back)"
    ] * 2
    (crashed,) = make_group(maker, parts("crash"), NoInputs(), None).results
    assert isinstance(crashed, Unmade)
    assert crashed.sentence == crashed.what == "it could not be made (RuntimeError: the drawing came apart)"
    assert "Traceback" in crashed.details
    (refused,) = make_group(maker, parts("refuse"), NoInputs(), None).results
    assert isinstance(refused, Unmade)
    assert (refused.what, refused.fix) == ("the file is cut short", "export it again")
    full = make_group(maker, parts("full", "bee"), NoInputs(), None)
    assert full.stop is not None
    assert (full.stop.slug, full.results) == ("disk-full", ())
    assert workers._unmade(KeyError()).sentence == "it could not be made (KeyError)"


def test_work_in_this_process_gives_finished_futures() -> None:
    here = InProcess()
    assert here.submit(lambda a, b: a - b, 5, b=2).result() == 3

    def fails() -> None:
        raise ValueError("no")

    assert isinstance(here.submit(fails).exception(), ValueError)


def test_an_output_that_went_away_is_noticed_at_the_next_look(tmp_path: Path) -> None:
    vault = Vault(tmp_path)
    one = task("bee")
    digest = vault.put(b"data")
    row = MadeRow(one.item, one.recipe.step, one.recipe.key(), digest, 4, one.recipe.json())
    known = KnownOutputs(vault, [row])
    assert known.output_for(one) == Output(digest, 4)
    assert known.has_row(one)
    assert not known.has_row(task("bee", art="1"))
    assert not known.has_row(task("wasp"))
    vault.path_of(digest).unlink()
    assert known.output_for(one) == Output(digest, 4)  # looked at once a run
    known.recheck()
    assert known.output_for(one) is None
    assert known.output_for(one) is None
