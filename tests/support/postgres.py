"""A PostgreSQL server of the tests' own: a cluster in a temporary folder, reached by a socket in it only."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

# Debian keeps each version's programs out of the search path.
FOLDERS = (*sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True),)
_ANYBODY = ("postgres", "nobody")  # the server refuses to be run by root


def missing() -> str:
    """Why no server can be started here; empty where one can."""
    if _tool("initdb") is None or _tool("pg_ctl") is None:
        return "there is no PostgreSQL server here (Debian: postgresql)"
    try:
        import psycopg  # noqa: F401
    except ImportError:
        return "there is no driver for PostgreSQL here (psycopg)"
    return ""


@contextmanager
def cluster() -> Iterator[str]:
    """Start a server; gives the URL of its first database without the database's name."""
    folder = Path(tempfile.mkdtemp(prefix="pg-"))
    user = _ANYBODY[0] if os.name != "nt" and os.geteuid() == 0 else None
    if user is not None:
        shutil.chown(folder, user)
    data = folder / "data"
    try:
        _run(user, "initdb", "-D", str(data), "-U", "puddlewick", "-A", "trust", "-E", "UTF8", "--no-sync")
        quick = f"-c listen_addresses='' -c unix_socket_directories='{folder}' -c fsync=off"
        _run(user, "pg_ctl", "-D", str(data), "-w", "-l", str(folder / "log"), "-o", quick, "start")
        try:
            yield f"postgresql+psycopg://puddlewick@/{{name}}?host={folder}"
        finally:
            _run(user, "pg_ctl", "-D", str(data), "-w", "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def new_database(url: str, name: str) -> str:
    """A fresh database on the server; gives its URL."""
    import psycopg

    plain = url.replace("+psycopg", "")
    with psycopg.connect(plain.format(name="postgres"), autocommit=True) as connection:
        connection.execute(f'CREATE DATABASE "{name}"'.encode())
    return url.format(name=name)


def _tool(name: str) -> str | None:
    return shutil.which(name, path=os.pathsep.join([*map(str, FOLDERS), os.environ.get("PATH", "")]))


def _run(user: str | None, tool: str, *arguments: str) -> None:
    program = _tool(tool)
    assert program is not None
    done = subprocess.run(
        [program, *arguments],
        user=user,
        cwd="/",
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE if tool == "initdb" else subprocess.DEVNULL,  # a server would hold a pipe open
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout
