"""Random kills of everything that touches a shop's record, with a far side that takes files away at random.

Each work is done in a forked child that dies by SIGKILL: at a random call that changes a disk or the record,
or after a random time. The far side is a process of its own. It notes each pack it takes; a person answers
doubts by what it took. Counted at the end: every pack left once.
"""

import contextlib
import os
import random
import shutil
import signal
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from typing import Any, Protocol

from goods import DAY
from shops import make_pack, small_shop

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.decisions import decisions_of
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import Progress
from hundredfold.runner.cache import Vault
from hundredfold.runner.memo import PathMemo
from hundredfold.store.shopstore import Store, open_store
from hundredfold.workshop.handover.adopting import adopt_file
from hundredfold.workshop.handover.answering import answer
from hundredfold.workshop.handover.delivering import deliver, settle
from hundredfold.workshop.shop.backup import back_up, carry_over_marks, restore
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.desk import Desk
from hundredfold.workshop.shop.identity import ensure_place
from hundredfold.workshop.shop.marks import check_record, keep_marks

PACKS = 3
_CALLS = (
    (os, "fsync"),
    (os, "replace"),
    (os, "unlink"),
    (Path, "unlink"),
    (Path, "mkdir"),
    (Store, "append"),
)


class FarSide(Protocol):
    """Where packs go to: a folder, and a note of each that was taken from it."""

    out: Path
    taken: Path


@dataclass
class World:
    """One shop, its far side, and what became of the works done in it."""

    root: Path
    out: Path
    taken: Path  # one line for every pack that the far side took whole
    counts: Counter[str] = field(default_factory=Counter)
    asked: int = 0

    @property
    def place(self) -> Path:
        return self.root / ".hundredfold" / "shop.db"

    @contextlib.contextmanager
    def desk(self, wait_s: float = 5.0) -> Iterator[Desk]:
        """Opened as every verb opens it."""
        with contextlib.closing(open_store(self.place)) as store, store.lock.held("work", wait_s):
            shop = small_shop(self.root)
            ensure_place(shop.paths, store)
            check_record(shop.paths, store)
            yield Desk(shop, store)


def world(folder: Path) -> World:
    """A shop with some packs made and a design that is in its folder; nothing has left."""
    root, out = folder / "shop", folder / "out"
    out.mkdir(parents=True)
    (root / "designs").mkdir(parents=True)
    (root / "shop.toml").write_text("name = 'Puddlewick Goods'\n")
    (root / "designs" / "proud-bee.svg").write_bytes(b"<svg xmlns='http://www.w3.org/2000/svg'/>")
    with contextlib.closing(open_store(root / ".hundredfold" / "shop.db")) as store:
        for number, design in zip(range(PACKS), ("bee", "sea-swimmer", "bell-ringer"), strict=True):
            make_pack(root, store, DAY + timedelta(days=number), design)
        ensure_place(small_shop(root).paths, store)
    made = World(root, out, folder / "taken.txt")
    made.taken.touch()
    back_up(root, folder / "first.zip")
    return made


def far_side(here: FarSide, seed: int) -> int:
    """Start the process that takes packs away at random; gives its number."""
    child = os.fork()
    if child:
        return child
    chance = random.Random(seed)
    try:
        while os.getppid() != 1:
            for folder in here.out.glob("*/*"):
                hidden = folder.name.startswith(".") or folder.parent.name.startswith(".")
                if not hidden and chance.random() < 0.3:
                    _take(here, folder)
            time.sleep(chance.random() * 0.01)
    finally:
        os._exit(0)


def _take(here: FarSide, folder: Path) -> None:
    away = here.out.parent / "inbox" / f"{folder.parent.name}-{folder.name}-{time.monotonic_ns()}"
    away.parent.mkdir(exist_ok=True)
    with contextlib.suppress(OSError):
        os.rename(folder, away)
        with here.taken.open("a") as log:
            log.write(f"{folder.parent.name}/{folder.name}\n")


def arrived(here: World, key: PackKey) -> int:
    """How often the far side got this pack, taken or still lying there."""
    lies = (here.out / key.channel / key.day).is_dir()
    return here.taken.read_text().split("\n").count(str(key)) + lies


def run_and_die(work: Callable[[], None], chance: random.Random, within_s: float = 0.25) -> bool:
    """Do the work in a child that kills itself within so long; whether it died before it was done."""
    child = os.fork()
    if child == 0:
        code = 0
        try:
            if chance.random() < 0.6:
                _die_at_call(chance.randint(1, 40))
            else:
                signal.signal(signal.SIGALRM, signal.SIG_DFL)  # ends the process wherever it is
                signal.setitimer(signal.ITIMER_REAL, chance.random() * within_s)
            work()
        except ShopError:
            code = 3
        except BaseException:  # a bug: counted by whoever waits
            import traceback

            traceback.print_exc()
            code = 9
        finally:
            os._exit(code)
    _, status = os.waitpid(child, 0)
    if os.WIFEXITED(status):
        assert os.WEXITSTATUS(status) in (0, 3), "a work ended in an error that is none of ours"
    return os.WIFSIGNALED(status)


def _die_at_call(moment: int) -> None:
    left = [moment]

    def counted(function: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **kwargs: Any) -> Any:
            for after in (False, True):
                left[0] -= 1
                if left[0] == 0:
                    os.kill(os.getpid(), signal.SIGKILL)
                if not after:
                    answer_ = function(*args, **kwargs)
            return answer_

        return call

    for owner, name in _CALLS:
        setattr(owner, name, counted(getattr(owner, name)))


def works(here: World, chance: random.Random) -> dict[str, Callable[[], None]]:
    """The works by name; each opens the shop by itself."""
    number = chance.randrange(10_000)

    def delivering() -> None:
        with here.desk() as desk:
            keep_marks(desk.shop.paths, desk.store, ensure_place(desk.shop.paths, desk.store))
            for key in sorted(desk.ledger().packs):
                if chance.random() < 0.7:
                    with contextlib.suppress(ShopError):
                        deliver(desk.shop, desk.store, key, here.out)

    def retiring() -> None:
        with here.desk() as desk:
            rows = [Event(Happened.RETIRED, f"design-{number}-{each}", {"path": "x"}) for each in range(3)]
            desk.store.append(rows)

    def undoing() -> None:
        with here.desk() as desk:
            open_ = [one.id for one in decisions_of(desk.store.events()) if one.stands and not one.lasting]
            if open_:
                desk.store.undo_decisions(chance.sample(open_, min(2, len(open_))))

    def answering() -> None:
        with here.desk() as desk:
            file = here.root.parent / f"answers-{number}.csv"
            skus = sorted(sku for sku, _ in desk.ledger().sent)
            file.write_text("Ref;Status;Id\n" + "".join(f"{s};ok;N-{s}\n" for s in skus))
            answer(desk, file, "north-print")

    def adopting() -> None:
        with here.desk() as desk:
            file = here.root.parent / f"live-{number}.csv"
            file.write_text(f"Seller SKU;Item name\nOLD-{number};Proud bee | {desk.shop.blanks[0].name}\n")
            builds, root = desk.store.builds, desk.shop.paths
            bench = Bench(
                desk.shop, desk.store, Vault(root.cache), PathMemo(root.root, builds),
                desk.store.runs.begin("adopt"),
            )  # fmt: skip
            adopt_file(bench, file)

    def backing_up() -> None:
        back_up(here.root, here.root.parent / f"b-{number}-{time.monotonic_ns()}.zip")

    def restoring() -> None:
        whole = sorted(here.root.parent.glob("*.zip"))
        restore(chance.choice(whole), here.root)

    def beside() -> None:
        threads = [threading.Thread(target=quiet, args=(work,)) for work in (retiring, delivering, undoing)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()

    return {
        "deliver": delivering, "retire": retiring, "undo": undoing, "answer": answering, "adopt": adopting,
        "backup": backing_up, "restore": restoring, "threads": beside,
    }  # fmt: skip


def quiet(work: Callable[[], None]) -> None:
    """Do it; what the program refuses is no failure."""
    with contextlib.suppress(ShopError):
        work()


def _refused(here: World) -> str:
    try:
        with here.desk():
            return ""
    except ShopError as error:
        return error.slug


def answer_doubts(here: World, finish: bool) -> None:
    """What a person does after a crash: takes the marks in where asked, and answers every doubt truly."""
    if _refused(here):
        here.counts["record behind"] += 1
        carry_over_marks(here.root)
        assert not _refused(here)
    with here.desk() as desk:
        for key, pack in sorted(desk.ledger().packs.items()):
            if finish and pack.progress is Progress.PACKED:
                with contextlib.suppress(ShopError):
                    deliver(desk.shop, desk.store, key, here.out)
            pack = desk.ledger().packs[key]
            if pack.progress in (Progress.UNSURE, Progress.HANDING_OVER):
                here.asked += 1
                came = arrived(here, key) > 0
                settle(desk.shop.paths, desk.store, key, happened=came)
                if finish and not came:
                    with contextlib.suppress(ShopError):
                        deliver(desk.shop, desk.store, key, here.out)


def live_through(folder: Path, seed: int, kills: int) -> World:
    """One world with so many kills; every pack is handed over by its end. Raises AssertionError."""
    chance = random.Random(seed)
    here = world(folder)
    keys = [PackKey("north-print", (DAY + timedelta(days=n)).isoformat()) for n in range(PACKS)]
    taker = far_side(here, seed)
    try:
        for _ in range(3 * kills):
            name, work = chance.choice(sorted(works(here, chance).items()))
            died = run_and_die(work, chance)
            chance.random()  # the child used its own copy of the sequence
            here.counts[f"{name} killed" if died else f"{name} done"] += 1
            here.counts["killed"] += died
            for key in keys:
                assert arrived(here, key) <= 1, f"{key} left {arrived(here, key)} times (seed {seed})"
            answer_doubts(here, finish=False)
            if here.counts["killed"] >= kills:
                break
        for _ in range(4):
            answer_doubts(here, finish=True)
    finally:
        os.kill(taker, signal.SIGKILL)
        os.waitpid(taker, 0)
    for key in keys:
        assert arrived(here, key) == 1, f"{key} left {arrived(here, key)} times (seed {seed})"
    with here.desk() as desk:
        assert {p.progress for p in desk.ledger().packs.values()} == {Progress.HANDED_OVER}
    shutil.rmtree(folder)
    return here
