"""A large shop for the page's benchmark: the designs of a prepared sample many times over, under other names.

What the page reads is real (proofs, facts, small copies of the art, made by the program for the sample's own
designs); the copies have ids, paths and titles of their own, and listings planned over sixty days.
"""

import json
import shutil
import sqlite3
import zlib
from base64 import b32encode
from contextlib import closing
from datetime import date, timedelta
from hashlib import sha256
from pathlib import Path

from hundredfold.runner.cache import Vault
from hundredfold.workshop.shop.paths import ShopPaths

_COPIED = ("measure", "small-art", "repair")  # one output for all copies of a design
_DAYS = 60


def large_shop(sample: Path, folder: Path, designs: int, listings: int) -> None:
    """Copy a prepared sample and multiply what it holds."""
    shutil.copytree(sample, folder, ignore=shutil.ignore_patterns("packs", "pictures", "delivered"))
    paths = ShopPaths(folder)
    vault = Vault(paths.cache)
    with closing(sqlite3.connect(paths.database)) as base, base:
        own = base.execute(
            "select subject, json_extract(data, '$.path') from events where happened = 'design seen'"
        ).fetchall()
        rows = {(item, step): rest for item, step, *rest in base.execute("select * from made")}
        seen, outputs, ids = [], [], []
        for number in range(designs):
            _, path = own[number % len(own)]
            name = f"designs/copy-{number:05d}-{path.rpartition('/')[2]}"
            fresh = b32encode(sha256(name.encode()).digest())[:8].decode()
            (folder / name).write_bytes(b"<svg/>")
            ids.append(fresh)
            seen.append(
                (
                    "design seen",
                    fresh,
                    json.dumps({"path": name, "digest": sha256(name.encode()).hexdigest()}),
                )
            )
            for step in _COPIED:
                if (path, step) in rows:
                    outputs.append((name, step, *rows[path, step]))
            judged = rows.get((path, "judged"))
            if judged is not None:
                data = vault.get(judged[2])
                assert data is not None
                digest = vault.put(_renamed(data, path, name, fresh))
                outputs.append((name, "judged", judged[0], judged[1], digest, *judged[3:]))
        marks = ",".join("?" * len(outputs[0]))
        base.executemany(f"insert into made values ({marks})", outputs)
        _append(base, seen + _planned(base, ids, listings))


def _renamed(proof: bytes, path: str, name: str, fresh: str) -> bytes:
    """A proof, as ``judged_bytes`` packs it, of a copy."""
    short, _, whole = proof.partition(b"\n")
    told = json.loads(zlib.decompress(whole))
    told["design"], told["id"] = name, fresh
    text = json.dumps(told, ensure_ascii=False, separators=(",", ":")).replace(path, name)
    return short + b"\n" + zlib.compress(text.encode())


def _planned(base: sqlite3.Connection, ids: list[str], listings: int) -> list[tuple[str, str, str]]:
    """Listings of these designs, spread evenly over the blanks, channels and days of the sample."""
    kinds = base.execute(
        "select distinct json_extract(data, '$.channel'), json_extract(data, '$.blank'),"
        " json_extract(data, '$.colours') from events where happened = 'planned' group by 1, 2"
    ).fetchall()
    first = date(2027, 1, 1)
    found = []
    for number in range(listings):
        channel, blank, colours = kinds[(number // len(ids) + number) % len(kinds)]
        design = ids[number % len(ids)]
        day = (first + timedelta(days=number % _DAYS)).isoformat()
        data = {
            "action": "new", "blank": blank, "channel": channel, "colours": json.loads(colours), "day": day,
            "design": design, "reason": "new listing; first day with room", "revision": 1, "rows": 4,
        }  # fmt: skip
        found.append(("planned", f"{channel}/{blank}/{design}", json.dumps(data)))
    return list({key: (happened, key, data) for happened, key, data in found}.values())


def _append(base: sqlite3.Connection, rows: list[tuple[str, str, str]]) -> None:
    (last,) = base.execute("select max(number) from events").fetchone()
    base.executemany(
        "insert into events (number, at, happened, subject, data, decision) values (?, ?, ?, ?, ?, ?)",
        (
            (last + n, "2026-12-01T00:00:00.000000Z", happened, subject, data, last + 1)
            for n, (happened, subject, data) in enumerate(rows, 1)
        ),
    )
