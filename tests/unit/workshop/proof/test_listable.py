"""What a worker judges travels to its process and back to what it was."""

import pickle
from collections.abc import Sequence
from pathlib import Path

from monthshop import FEW_BLANKS, month_shop

from hundredfold.runner.running import Runner, Watching
from hundredfold.runner.steps import Maker
from hundredfold.runner.tasks import Outcome, Task
from hundredfold.workshop.proof.listable import judge_all
from hundredfold.workshop.proof.onedesign import asked_of, read_all, sold_blanks
from hundredfold.workshop.shop.bench import bench
from hundredfold.workshop.steps.gathering import gather


class Packing:
    """A runner that packs the work as it would for another process, and counts the pieces."""

    def __init__(self, runner: Runner) -> None:
        self.runner, self.packed = runner, 0

    def run(self, tasks: Sequence[Task], maker: Maker, watching: Watching) -> Outcome:
        parts = [task.part() for task in tasks]
        assert pickle.loads(pickle.dumps(parts)) == parts
        self.packed += len(parts)
        one, both = (len(pickle.dumps(some)) for some in (parts[:1], parts[:2]))
        assert both < 1.5 * one, "blanks and limits travel once"
        return self.runner.run(tasks, maker, watching)


def test_work_for_judging_can_be_sent_whether_print_files_were_weighed_or_not(tmp_path: Path) -> None:
    shop = month_shop(tmp_path / "shop", 2, blanks=FEW_BLANKS)
    with bench(shop, "month") as tools:
        runner, told = tools.runner(), lambda _done, _all: None
        gathered, blanks, asked = gather(tools, runner), sold_blanks(tools.shop), asked_of(tools.shop)
        assert asked.sights
        readings, _ = read_all(runner, gathered, blanks, asked, told)
        weighed = {gathered.designs[0].id: {(blanks[0].code, blanks[0].areas[0]): 12_345}}
        packing = Packing(runner)
        judge_all(tools, packing, gathered, readings, weighed, blanks, asked, told)  # type: ignore[arg-type]
        assert packing.packed == 2
