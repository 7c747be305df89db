"""Workers that share nothing with the shop but pipes: what they need and make travels as bytes."""

import os
import pickle
import struct
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from pathlib import Path
from typing import Any

import hundredfold

# Each has a folder of its own to work in; opening anything of the forbidden one ends in an error.
WORKER = """
import os, pickle, struct, sys
forbidden, out = sys.argv[1], os.fdopen(os.dup(1), "wb")
os.dup2(2, 1)
def watch(event, arguments):
    if event in ("open", "os.listdir", "os.scandir") and str(arguments[0]).startswith(forbidden):
        raise PermissionError(f"a worker far away cannot see {arguments[0]}")
sys.addaudithook(watch)
while head := sys.stdin.buffer.read(8):
    function, arguments = pickle.loads(sys.stdin.buffer.read(*struct.unpack("<Q", head)))
    answer = pickle.dumps(function(*arguments))
    out.write(struct.pack("<Q", len(answer)) + answer)
    out.flush()
"""


class FarWorkers(Executor):
    """Two processes in folders of their own, which may not open anything below ``forbidden``."""

    def __init__(self, forbidden: Path) -> None:
        self._forbidden = forbidden
        self._threads = ThreadPoolExecutor(2)
        self._own = threading.local()
        self._started: list[subprocess.Popen[bytes]] = []
        self._folder = tempfile.TemporaryDirectory(prefix="far-")
        self.calls = self.sent_bytes = 0

    def submit(self, fn: Callable[..., Any], /, *args: Any, **_: Any) -> Future[Any]:
        return self._threads.submit(self._call, pickle.dumps((fn, args)))

    def _call(self, message: bytes) -> Any:
        worker: subprocess.Popen[bytes] | None = getattr(self._own, "worker", None)
        if worker is None:
            worker = self._own.worker = self._start()
        assert worker.stdin is not None
        assert worker.stdout is not None
        self.calls, self.sent_bytes = self.calls + 1, self.sent_bytes + len(message)
        worker.stdin.write(struct.pack("<Q", len(message)) + message)
        worker.stdin.flush()
        (length,) = struct.unpack("<Q", worker.stdout.read(8))
        return pickle.loads(worker.stdout.read(length))

    def _start(self) -> "subprocess.Popen[bytes]":
        folder = Path(tempfile.mkdtemp(dir=self._folder.name))
        paths = [str(Path(hundredfold.__file__).parents[1]), *sys.path]
        env = {**os.environ, "PYTHONPATH": os.pathsep.join(paths), "TMPDIR": str(folder), "HOME": str(folder)}
        started = subprocess.Popen(
            [sys.executable, "-c", WORKER, str(self._forbidden)],
            cwd=folder,
            env=env,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
        )
        self._started.append(started)
        return started

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        self._threads.shutdown(wait=wait, cancel_futures=cancel_futures)
        for process in self._started:
            assert process.stdin is not None
            assert process.stdout is not None
            process.stdin.close()
            process.wait(timeout=60)
            process.stdout.close()
        self._folder.cleanup()
