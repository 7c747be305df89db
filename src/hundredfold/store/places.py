"""Folders where a shop's database is at risk: network drives and folders that a program keeps in step."""

import os
from pathlib import Path

import psutil

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Finding, Severity

# File systems that live on another machine (names as the operating systems give them).
_NETWORK = frozenset(
    {"nfs", "nfs4", "cifs", "smb", "smb2", "smb3", "smbfs", "afpfs", "webdav", "davfs", "fuse.sshfs", "9p"}
)
CHECK = CheckRecord(
    id="shop/risky-place",
    title="The shop lies on this computer's own disk.",
    looks_at="the folder the shop lies in",
    why="A database on a network drive, or in a folder that a program copies to other computers, can be "
    "damaged or forget what was handed over when two computers work on it.",
    example="A shop on a drive of the office server, opened on two laptops.",
    fix="Keep the shop on this computer's own disk if you can, and let one computer at a time work on it.",
    known_limits="Goes by the names of file systems and the marks that such programs leave; it does not "
    "know all.",
    source="names of file systems as operating systems give them; reparse tags: [MS-FSCC] section 2.1.2.1; "
    "the rest from memory",
    codes={"network": Severity.WARN, "kept-in-step": Severity.WARN},
)
# Entries that synchronising programs leave in the folders they keep in step, and the folders in which the
# desktop systems put such folders (from memory; a missed one costs a warning only).
_MARKERS = (".sync", ".stfolder", ".csync_journal.db", ".tmp.drivedownload")
_SYNCED_PARENTS = frozenset({"cloudstorage", "mobile documents"})
# Windows marks a file that a synchronising program serves with one of sixteen reparse tags
# (IO_REPARSE_TAG_CLOUD to IO_REPARSE_TAG_CLOUD_F, [MS-FSCC] section 2.1.2.1).
_CLOUD_TAG, _CLOUD_TAG_MASK = 0x9000001A, 0xFFFF0FFF


def risky_place(folder: Path) -> Finding | None:
    """A warning where this folder is on a network drive or kept in step; None otherwise."""
    folder = folder.resolve()
    kind = _file_system(folder)
    if kind in _NETWORK:
        fix = (
            "keep the shop on this computer's own disk if you can, and let one computer at a time work on it"
        )
        return CHECK.finds("network", str(folder), f"the shop is on a network drive ({kind})", fix)
    for parent in (folder, *folder.parents):
        if _is_synced(parent):
            what = f"the shop lies in a folder that a program copies to other computers ({parent})"
            fix = "let one computer at a time work on it, and wait until the copying is done"
            return CHECK.finds("kept-in-step", str(folder), what, fix)
    return None


def _is_synced(folder: Path) -> bool:
    if folder.name.casefold() in _SYNCED_PARENTS or any((folder / marker).exists() for marker in _MARKERS):
        return True
    try:
        tag: int = getattr(os.lstat(folder), "st_reparse_tag", 0)
    except OSError:
        return False
    return tag & _CLOUD_TAG_MASK == _CLOUD_TAG


def _file_system(folder: Path) -> str:
    best, kind = "", ""
    for part in psutil.disk_partitions(all=True):
        mount = part.mountpoint
        inside = folder == Path(mount) or str(folder).startswith(mount.rstrip("/\\") + os.sep)
        if inside and len(mount) >= len(best):
            best, kind = mount, part.fstype.lower()
    return kind
