"""Disks for the rooms that write: a real file system, small enough to fill."""

import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest


@pytest.fixture
def tiny_disk(tmp_path: Path) -> Iterator[Callable[[str], Path]]:
    """Mounts a file system with these options (``size=512k,ro``); the test is skipped where we may not."""
    folder = tmp_path / "tiny disk"
    folder.mkdir()
    mounted = False

    def mount(options: str) -> Path:
        nonlocal mounted
        command = ["mount", "-t", "tmpfs", "-o", options, "tmpfs", str(folder)]
        if mounted:
            command = ["mount", "-o", f"remount,{options}", str(folder)]
        try:
            done = subprocess.run(command, capture_output=True, check=False)
        except FileNotFoundError:
            pytest.skip("there is no mount command here")
        if done.returncode:
            pytest.skip("mounting needs the administrator")
        mounted = True
        return folder

    yield mount
    if mounted:
        subprocess.run(["umount", str(folder)], check=True)
