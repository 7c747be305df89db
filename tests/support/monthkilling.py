"""Random kills of whole months, hand-overs and short works beside them, in a shop of one design.

The far side keeps what it takes; what is counted at the end stands in the manifests it got: no row of any
revision twice, no SKU new twice, and every SKU of a calm month there.
"""

import contextlib
import json
import os
import random
import shutil
import signal
import sys
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from killing import far_side, quiet, run_and_die
from monthshop import START, month_shop

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.choices import Answer
from hundredfold.ledger.decisions import decisions_of
from hundredfold.ledger.events import Happened
from hundredfold.ledger.state import Progress
from hundredfold.workshop.handover.answering import answer
from hundredfold.workshop.handover.delivering import settle
from hundredfold.workshop.handover.manypacks import deliver_many
from hundredfold.workshop.handover.verifying import verify_packs
from hundredfold.workshop.month.run import month
from hundredfold.workshop.shop.backup import back_up, carry_over_marks, restore
from hundredfold.workshop.shop.bench import bench
from hundredfold.workshop.shop.desk import Turn, beside, desk
from hundredfold.workshop.shop.history import undo
from hundredfold.workshop.views.choosing import choose_by_name

FIRST, DAYS = date.fromisoformat(START), 2


@dataclass
class MonthWorld:
    """One shop with its far side; ``seconds`` is what a month takes from nothing."""

    root: Path
    out: Path
    taken: Path
    seconds: float = 0.0
    skus: frozenset[str] = frozenset()
    counts: Counter[str] = field(default_factory=Counter)
    asked: int = 0

    @property
    def inbox(self) -> Path:
        return self.out.parent / "inbox"


def in_child(work: Callable[[], None]) -> None:
    """Do it in a child: no picture library has threads in this process, so that it may fork on."""
    child = os.fork()
    if child == 0:
        code = 1
        try:
            work()
            code = 0
        except BaseException:
            import traceback

            traceback.print_exc()
        finally:
            os._exit(code)
    _, status = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(status) == 0


def whole_month(root: Path) -> None:
    """The month, as its verb runs it."""
    with bench(root, "month", turn=Turn.RUN) as tools:
        month(tools, FIRST, DAYS)


def month_world(folder: Path) -> MonthWorld:
    """A shop of which nothing is made yet, and what a calm month of a copy of it takes and gives."""
    here = MonthWorld(folder / "shop", folder / "out", folder / "taken.txt")
    here.out.mkdir(parents=True)
    here.taken.touch()

    def begin() -> None:
        month_shop(here.root, 1, blanks=("mug-325",))

    in_child(begin)
    calm = folder / "calm"
    shutil.copytree(here.root, calm)
    began = time.monotonic()
    in_child(lambda: whole_month(calm))
    here.seconds = time.monotonic() - began
    here.skus = frozenset(row["sku"] for row in _rows(calm.glob("packs/*/*/manifest.json")))
    back_up(here.root, folder / "first.zip")
    return here


def _rows(manifests: Iterable[Path]) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = []
    for path in sorted(manifests):
        rows += json.loads(path.read_bytes())["rows"]
    return rows


def works(here: MonthWorld, chance: random.Random) -> dict[str, Callable[[], None]]:
    """The works by name; each opens the shop by itself, as its verb does."""
    number = chance.randrange(10_000)

    def delivering() -> None:
        with desk(here.root, "deliver") as opened:
            deliver_many(opened, (), FIRST, here.out, everything=True)

    def choosing() -> None:
        names = [path.name for path in sorted((here.root / "designs").iterdir())]
        choose_by_name(here.root, names[:1], Answer.REFUSE, ("", "", ""), f"reason {number}")

    def taking_back() -> None:
        undo_choices(here.root)

    def answering() -> None:
        with beside(here.root, "answer") as opened:
            for code in sorted({key.channel for key in opened.ledger().packs}):
                state = opened.ledger()
                skus = sorted(s for (s, _), key in state.sent.items() if key.channel == code)
                file = here.root.parent / f"answers-{number}-{code}.csv"
                file.write_text("SKU;Status;Id\n" + "".join(f"{sku};ok;N-{sku}\n" for sku in skus))
                answer(opened, file, code)

    def backing_up() -> None:
        back_up(here.root, here.root.parent / f"b-{number}-{time.monotonic_ns()}.zip")

    def restoring() -> None:
        restore(chance.choice(sorted(here.root.parent.glob("*.zip"))), here.root)

    def with_others() -> None:
        others = (choosing, taking_back, answering, delivering)
        threads = [threading.Thread(target=quiet, args=(work,)) for work in others]
        for thread in threads:
            thread.start()
        quiet(lambda: whole_month(here.root))
        for thread in threads:
            thread.join()

    return {
        "month": lambda: whole_month(here.root), "month again": lambda: whole_month(here.root),
        "month with threads": with_others, "deliver": delivering, "choose": choosing,
        "undo": taking_back, "answer": answering, "backup": backing_up, "restore": restoring,
    }  # fmt: skip


def undo_choices(root: Path) -> None:
    """Take back what stands of choices."""
    with desk(root, "") as opened:
        events = opened.store.events()
    chosen = {event.decision for event in events if event.happened is Happened.CHOSEN}
    standing = [one.id for one in decisions_of(events) if one.id in chosen and one.stands]
    if standing:
        undo(root, standing)


def answer_doubts(here: MonthWorld) -> None:
    """What a person does after a crash: takes the marks in where asked, and answers every doubt truly."""
    try:
        with desk(here.root, "look"):
            pass
    except ShopError as error:
        here.counts[error.slug] += 1
        carry_over_marks(here.root)
    with beside(here.root, "settle") as opened:
        for key, pack in sorted(opened.ledger().packs.items()):
            if pack.progress in (Progress.UNSURE, Progress.HANDING_OVER):
                here.asked += 1
                lies = (here.out / key.channel / key.day).is_dir()
                came = lies or str(key) in here.taken.read_text().split("\n")
                settle(opened.shop.paths, opened.store, key, happened=came)


def live_through_months(folder: Path, seed: int, kills: int) -> MonthWorld:
    """One shop with so many kills, then a calm end. Raises AssertionError where a promise is broken."""
    chance = random.Random(seed)
    here = month_world(folder)
    taker = far_side(here, seed)
    try:
        for _ in range(4 * kills):
            name, work = chance.choice(sorted(works(here, chance).items()))
            if chance.random() < 0.15:  # a month that has everything would soon be the only one
                shutil.rmtree(here.root / ".hundredfold" / "cache", ignore_errors=True)
            if chance.random() < 0.9:  # else the next run works in processes of its own, which takes seconds
                (here.root / ".hundredfold" / "cache" / "working-in-process").unlink(missing_ok=True)
            died = run_and_die(work, chance, 1.2 * here.seconds if "month" in name else 0.25)
            chance.random()
            here.counts[f"{name} {'killed' if died else 'done'}"] += 1
            here.counts["killed"] += died
            _nothing_twice(here, seed)
            answer_doubts(here)
            if here.counts["killed"] >= kills:
                break
        _calm_end(here)
    finally:
        os.kill(taker, signal.SIGKILL)
        os.waitpid(taker, 0)
    _nothing_twice(here, seed)
    there = {row["sku"] for row in _rows([*_taken(here), *here.out.glob("*/*/manifest.json")])}
    assert here.skus <= there, f"lost: {sorted(here.skus - there)} (seed {seed})"
    shutil.rmtree(folder)
    return here


def _calm_end(here: MonthWorld) -> None:
    """The person takes back what they refused, and runs month and hand-over until nothing is left."""
    undo_choices(here.root)
    for _ in range(3):
        in_child(lambda: whole_month(here.root))
        with contextlib.suppress(ShopError), desk(here.root, "deliver") as opened:
            found = verify_packs(opened.shop, opened.ledger())
            assert found.sound, found
            deliver_many(opened, (), FIRST, here.out, everything=True)
        answer_doubts(here)


def _taken(here: MonthWorld) -> list[Path]:
    return sorted(here.inbox.glob("*/manifest.json"))


def _nothing_twice(here: MonthWorld, seed: int) -> None:
    rows = Counter((row["sku"], row["revision"]) for row in _rows(_taken(here)))
    twice = [row for row, count in rows.items() if count > 1]
    assert not twice, f"sent twice: {twice[:3]} (seed {seed})"
    new = Counter(row["sku"] for row in _rows(_taken(here)) if row["action"] == "new")
    assert max(new.values(), default=1) == 1, f"new twice: {new.most_common(2)} (seed {seed})"


def main() -> None:
    """``python monthkilling.py FOLDER KILLS``: shops one after the other until so many kills; counts as JSON.

    In a process of its own: a fork of one whose picture library has threads can wait for ever.
    """
    folder, kills = Path(sys.argv[1]), int(sys.argv[2])
    counts: Counter[str] = Counter()
    seed = 0
    while counts["killed"] < kills:
        seed += 1
        lived = live_through_months(folder / str(seed), seed, kills=min(kills, 25))
        counts += lived.counts
        counts["asked"] += lived.asked
    sys.stdout.write(json.dumps(dict(sorted(counts.items()))))


if __name__ == "__main__":
    main()
