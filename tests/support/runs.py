"""Commands started as processes of their own, to be stopped in the middle."""

import os
import signal
import subprocess
import sys

RUN = "import sys; from hundredfold.cli.main import main; sys.exit(main(sys.argv[1:]))"


def started(*arguments: str, **environment: str) -> "subprocess.Popen[str]":
    """A command in a process group of its own, its workers in it; what it says on stderr can be read."""
    return subprocess.Popen(
        [sys.executable, "-c", RUN, *arguments],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        start_new_session=True,
        env={**os.environ, "PYTHONIOENCODING": "utf-8", **environment},
    )


def interrupted_at(process: "subprocess.Popen[str]", words: str) -> tuple[int, list[str]]:
    """Press Ctrl-C, as a terminal does, when a line with these words comes; exit code and lines after it."""
    assert process.stderr is not None
    for line in process.stderr:
        if words in line:
            os.killpg(process.pid, signal.SIGINT)
            break
    said = process.stderr.read().splitlines()
    return process.wait(timeout=300), said
