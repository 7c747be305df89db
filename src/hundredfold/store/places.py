"""Folders where a shop's database is at risk: network drives and folders that a program keeps in step."""

import os
from pathlib import Path

import psutil

# File systems that live on another machine (names as the operating systems give them).
_NETWORK = frozenset(
    {"nfs", "nfs4", "cifs", "smb", "smb2", "smb3", "smbfs", "afpfs", "webdav", "davfs", "fuse.sshfs", "9p"}
)
# Hidden markers that synchronising programs leave in the folders they keep in step, whatever their maker.
_MARKERS = (".sync", ".stfolder", ".csync_journal.db", ".tmp.drivedownload")


def risky_place(folder: Path) -> str | None:
    """A sentence of warning where this folder is on a network drive or kept in step; None otherwise."""
    folder = folder.resolve()
    kind = _file_system(folder)
    if kind in _NETWORK:
        return (
            f"{folder} is on a network drive ({kind}): keep the shop on this computer's own disk if you can, "
            "and let one computer at a time work on it"
        )
    for parent in (folder, *folder.parents):
        if any((parent / marker).exists() for marker in _MARKERS):
            return (
                f"{folder} lies in a folder that a program copies to other computers ({parent}): let one "
                "computer at a time work on it, and wait until copying is done"
            )
    return None


def _file_system(folder: Path) -> str:
    best, kind = "", ""
    for part in psutil.disk_partitions(all=True):
        mount = part.mountpoint
        inside = folder == Path(mount) or str(folder).startswith(mount.rstrip("/\\") + os.sep)
        if inside and len(mount) >= len(best):
            best, kind = mount, part.fstype.lower()
    return kind
