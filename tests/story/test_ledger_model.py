"""A model of the record: lost, set back, copied or taken away, no pack leaves twice without a yes.

The rule the machine holds is counted where packs arrive, at the destination: a key arrives once, and once
more for each "no, it did not arrive" that a person recorded.
"""

import contextlib
import shutil
import tempfile
from datetime import timedelta
from pathlib import Path

import pytest
from goods import DAY
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule
from shops import make_pack, small_shop

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import Progress
from hundredfold.runner.atomic import replace_patiently
from hundredfold.store.shopstore import Store, open_store
from hundredfold.workshop.handover.delivering import deliver, settle
from hundredfold.workshop.shop.backup import back_up, carry_over_marks, restore
from hundredfold.workshop.shop.identity import ensure_place, go_on_here
from hundredfold.workshop.shop.marks import check_record, keep_marks
from hundredfold.workshop.shop.paths import ShopPaths

KEYS = tuple(PackKey("north-print", (DAY + timedelta(days=n)).isoformat()) for n in range(2))
KEYS_DRAWN = st.sampled_from(KEYS)


class Ledger(RuleBasedStateMachine):
    """A shop with two packs, one destination, a partner who may be quick, and a person who may be wrong."""

    @initialize()
    def begin(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.root, self.out = self.folder / "shop", self.folder / "out"
        self.out.mkdir()
        self.came = dict.fromkeys(KEYS, 0)
        self.noes = dict.fromkeys(KEYS, 0)
        with self.store() as store:
            for number, design in enumerate(("bee", "sea-swimmer")):
                make_pack(self.root, store, DAY + timedelta(days=number), design)
            ensure_place(ShopPaths(self.root), store)
        (self.root / "shop.toml").write_text("name = 'Puddlewick Goods'\n")
        self.backups = [self.backup_now()]

    def store(self) -> "contextlib.closing[Store]":
        return contextlib.closing(open_store(self.root / ".hundredfold" / "shop.db"))

    def backup_now(self) -> Path:
        file = self.folder / f"{len(list(self.folder.iterdir()))}.zip"
        back_up(self.root, file)
        return file

    def arrive(self) -> None:
        """The partner takes what lies there under its name."""
        for key in KEYS:
            folder = self.out / key.channel / key.day
            if folder.is_dir():
                self.came[key] += 1
                shutil.rmtree(folder)

    @rule(key=KEYS_DRAWN, quick=st.booleans(), taken=st.booleans())
    def deliver_one(self, key: PackKey, quick: bool, taken: bool) -> None:
        def then_taken(source: Path, target: Path) -> None:
            replace_patiently(source, target)
            self.arrive()

        with (
            contextlib.suppress(ShopError),
            self.store() as store,
            store.lock.held("deliver"),
            pytest.MonkeyPatch.context() as patch,
        ):
            paths = ShopPaths(self.root)
            number = ensure_place(paths, store)
            check_record(paths, store)
            keep_marks(paths, store, number)
            if quick:
                patch.setattr("hundredfold.workshop.handover.delivering.replace_patiently", then_taken)
            deliver(small_shop(self.root), store, key, self.out)
        if taken:
            self.arrive()

    @rule(key=KEYS_DRAWN, yes=st.booleans())
    def answer_a_doubt(self, key: PackKey, yes: bool) -> None:
        with self.store() as store:
            pack = fold(store.events()).packs.get(key)
            if pack is None or pack.progress not in (Progress.UNSURE, Progress.HANDING_OVER):
                return
            with contextlib.suppress(ShopError):
                settle(ShopPaths(self.root), store, key, happened=yes)
                self.noes[key] += not yes

    @rule()
    def back_it_up(self) -> None:
        self.backups.append(self.backup_now())

    @rule(which=st.integers(0, 20))
    def put_an_older_record_back(self, which: int) -> None:
        with contextlib.suppress(ShopError):
            restore(self.backups[which % len(self.backups)], self.root)

    @rule(how=st.sampled_from(["deleted", "emptied", "hidden folder", "garbage"]))
    def lose_the_record(self, how: str) -> None:
        record = self.root / ".hundredfold" / "shop.db"
        if how == "hidden folder":
            shutil.rmtree(record.parent)
        elif how == "deleted":
            record.unlink(missing_ok=True)
        elif record.parent.is_dir():
            record.write_bytes(b"" if how == "emptied" else b"garbage" * 900)
        if how == "garbage":
            restore(self.backups[-1], self.root)
        self.remake()

    @rule()
    def take_the_marks_in(self) -> None:
        with contextlib.suppress(ShopError):
            carry_over_marks(self.root)

    @rule(which=st.integers(0, 20), here=st.booleans())
    def go_on_in_a_copy(self, which: int, here: bool) -> None:
        """The shop as it was, or a backup of it, in another folder; the person may say it goes on there."""
        copy = self.folder / f"copy-{len(list(self.folder.iterdir()))}"
        if which % 2:
            shutil.copytree(self.root, copy)
        else:
            restore(self.backups[which % len(self.backups)], copy)
            shutil.copytree(self.root / "packs", copy / "packs")
        if here:
            go_on_here(ShopPaths(copy))
        self.root = copy
        self.remake()

    @rule(number=st.integers(0, 9))
    def retire(self, number: int) -> None:
        with self.store() as store:
            store.append([Event(Happened.RETIRED, f"design-{number}")])

    def remake(self) -> None:
        """The next month: packs that the record does not know are planned and made again."""
        with self.store() as store:
            state = fold(store.events())
            for number, design in enumerate(("bee", "sea-swimmer")):
                if KEYS[number] not in state.packs:
                    shutil.rmtree(self.root / "packs" / KEYS[number].channel / KEYS[number].day)
                    with contextlib.suppress(ShopError):
                        make_pack(self.root, store, DAY + timedelta(days=number), design)

    @invariant()
    def once_and_once_more_for_each_no(self) -> None:
        for key in KEYS if hasattr(self, "came") else ():
            assert self.came[key] <= 1 + self.noes[key]

    def teardown(self) -> None:
        if hasattr(self, "folder"):
            shutil.rmtree(self.folder)


Ledger.TestCase.settings = settings(
    max_examples=8, stateful_step_count=12, deadline=None, suppress_health_check=list(HealthCheck)
)
TestLedger = Ledger.TestCase
