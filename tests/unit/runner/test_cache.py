"""The vault gives back what was put or nothing, whatever is done to its files."""

import hashlib
import os
import stat
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule
from runner_doubles import MemoryRows, full_disk, maker, task

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.cache import Vault, collect_old
from hundredfold.runner.running import Runner
from hundredfold.runner.workers import InProcess, Workers

CONTENTS = st.binary(max_size=40)


class VaultAgainstModel(RuleBasedStateMachine):
    """Random puts, damage, collections and readings, against a plain dictionary of what must be there."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = TemporaryDirectory()
        self.vault = Vault(Path(self.folder.name))
        self.held: dict[str, bytes] = {}
        self.used: dict[str, int] = {}
        self.run = 0

    def teardown(self) -> None:
        self.folder.cleanup()

    def pick(self, number: int) -> str | None:
        return sorted(self.held)[number % len(self.held)] if self.held else None

    @rule(data=CONTENTS)
    def put(self, data: bytes) -> None:
        self.run += 1
        digest = self.vault.put(data)
        assert digest == hashlib.sha256(data).hexdigest()
        self.held[digest] = data
        self.used[digest] = self.run

    @rule(number=st.integers(0, 50), junk=CONTENTS)
    def damage(self, number: int, junk: bytes) -> None:
        digest = self.pick(number)
        if digest is None or junk == self.held[digest]:
            return
        path = self.vault.path_of(digest)
        path.chmod(0o600)
        path.write_bytes(junk)
        assert not self.vault.holds(digest)
        assert not path.exists()
        del self.held[digest]

    @rule(number=st.integers(0, 50))
    def damage_that_keeps_time_and_size_is_found_on_reading(self, number: int) -> None:
        digest = self.pick(number)
        if digest is None or not self.held[digest]:
            return
        path = self.vault.path_of(digest)
        before = path.stat()
        path.chmod(0o600)
        path.write_bytes(bytes([self.held[digest][0] ^ 1]) + self.held[digest][1:])
        os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
        assert self.vault.get(digest) is None
        del self.held[digest]

    @rule(number=st.integers(0, 50))
    def delete(self, number: int) -> None:
        digest = self.pick(number)
        if digest is not None:
            self.vault.path_of(digest).unlink()
            del self.held[digest]

    @rule(number=st.integers(0, 50))
    def a_changed_time_alone_is_forgiven(self, number: int) -> None:
        digest = self.pick(number)
        if digest is not None:
            os.utime(self.vault.path_of(digest))
            assert self.vault.holds(digest)

    @rule(back=st.integers(0, 6))
    def collect_by_age(self, back: int) -> None:
        self.used = {digest: run for digest, run in self.used.items() if run >= self.run - back}
        self.vault.collect(self.used)
        self.held = {digest: data for digest, data in self.held.items() if digest in self.used}

    @rule(budget=st.integers(0, 120))
    def collect_by_size(self, budget: int) -> None:
        self.vault.collect(self.used, budget)
        newest = max(self.used.values(), default=0)
        for digest in sorted(self.held, key=lambda each: (self.used[each], each)):
            if sum(map(len, self.held.values())) > budget and self.used[digest] < newest:
                del self.held[digest]

    @invariant()
    def it_holds_exactly_the_model(self) -> None:
        assert dict(self.vault.entries()) == {digest: len(data) for digest, data in self.held.items()}
        for digest, data in self.held.items():
            assert self.vault.holds(digest, len(data))
            assert self.vault.get(digest) == data


TestVaultAgainstModel = VaultAgainstModel.TestCase
TestVaultAgainstModel.settings = settings(max_examples=40, stateful_step_count=25, deadline=None)


@pytest.fixture
def vault(tmp_path: Path) -> Vault:
    return Vault(tmp_path / "cache")


def test_files_fan_out_and_are_read_only(vault: Vault) -> None:
    digest = vault.put(b"bee")
    path = vault.path_of(digest)
    assert path == vault.root / digest[:2] / digest[2:]
    assert stat.S_IMODE(path.stat().st_mode) & 0o222 == 0


def test_what_was_never_put_is_not_held(vault: Vault) -> None:
    assert not vault.holds("0" * 64)
    assert vault.get("0" * 64) is None
    assert list(vault.entries()) == []


def test_put_repairs_a_damaged_file(vault: Vault) -> None:
    path = vault.path_of(vault.put(b"bee"))
    path.chmod(0o600)
    path.write_bytes(b"wasp")
    assert vault.put(b"bee")
    assert path.read_bytes() == b"bee"


def test_parts_that_a_killed_run_left_are_swept(vault: Vault) -> None:
    digest = vault.put(b"bee")
    part = vault.path_of(digest).with_name(".part-1-1")
    part.write_bytes(b"half")
    vault.collect({digest: 1})
    assert not part.exists()
    assert vault.holds(digest)


def test_collecting_takes_old_rows_and_what_belongs_to_nothing(vault: Vault) -> None:
    rows = MemoryRows()
    for number, designs in ((1, ("bee", "owl")), (2, ("owl",)), (3, ("owl",))):
        Runner(vault, rows, number, workers=Workers(InProcess)).run([task(each) for each in designs], maker)
    vault.put(b"made by a run that was killed before it was recorded")
    collected = collect_old(vault, rows, keep_runs=2)
    assert collected.files == 2
    assert [item for item, _ in rows.made_rows] == ["owl on front"]
    again = Runner(vault, rows, 4, workers=Workers(InProcess))
    assert again.run([task("owl"), task("bee")], maker).counts.line() == "made 1, reused 1, failed 0"


def test_a_full_disk_leaves_nothing_half_written(vault: Vault, monkeypatch: pytest.MonkeyPatch) -> None:
    held = vault.put(b"before")
    full_disk(monkeypatch, after_bytes=2)
    with pytest.raises(ShopError) as caught:
        vault.put(b"too much for it")
    assert caught.value.slug == "disk-full"
    assert caught.value.where.file == str(vault.root)
    monkeypatch.undo()
    assert [digest for digest, _ in vault.entries()] == [held]
    assert list(vault.root.rglob(".part-*")) == []


def test_a_really_full_disk(tiny_disk: Callable[[str], Path]) -> None:
    vault = Vault(tiny_disk("size=512k"))
    kept = [vault.put(bytes([n]) * 100_000) for n in range(3)]
    with pytest.raises(ShopError) as caught:
        vault.put(b"x" * 600_000)
    assert caught.value.slug == "disk-full"
    assert all(vault.get(digest) is not None for digest in kept)
    assert list(vault.root.rglob(".part-*")) == []


def test_a_read_only_disk(tiny_disk: Callable[[str], Path]) -> None:
    with pytest.raises(ShopError) as caught:
        Vault(tiny_disk("size=512k,ro")).put(b"bee")
    assert caught.value.slug == "cannot-write"
