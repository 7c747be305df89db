"""The runner against a model, over random months: what is made is exactly what is not there."""

import hashlib
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, rule
from runner_doubles import MemoryRows, maker, task

from hundredfold.runner.cache import Vault, collect_old
from hundredfold.runner.running import Runner
from hundredfold.runner.tasks import Task
from hundredfold.runner.workers import InProcess, Workers

DESIGNS = st.sampled_from(["bee", "owl", "fox", "crash", "small"])
AREAS = st.sampled_from(["front", "back"])


class RunnerAgainstModel(RuleBasedStateMachine):
    """Designs come, change and go, files are lost, makers fail; each run is held against the model."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = TemporaryDirectory()
        self.vault = Vault(Path(self.folder.name))
        self.rows = MemoryRows()
        self.month: dict[tuple[str, str], Task] = {}
        self.held: dict[str, str] = {}  # by key, the digest of every output that a row knows and is there
        self.number = 0

    def teardown(self) -> None:
        self.folder.cleanup()

    @rule(design=DESIGNS, area=AREAS, art=st.integers(0, 2))
    def want(self, design: str, area: str, art: int) -> None:
        self.month[(design, area)] = task(design, area, str(art))

    @rule(design=DESIGNS, area=AREAS)
    def want_no_more(self, design: str, area: str) -> None:
        self.month.pop((design, area), None)

    @rule(number=st.integers(0, 20))
    def lose_a_file(self, number: int) -> None:
        digests = sorted(set(self.held.values()))
        if digests:
            lost = digests[number % len(digests)]
            self.vault.path_of(lost).unlink()
            self.held = {key: digest for key, digest in self.held.items() if digest != lost}

    @rule()
    def collect(self) -> None:
        collect_old(self.vault, self.rows, keep_runs=2)
        known = {row.key for row in self.rows.made_rows.values()}
        self.held = {key: digest for key, digest in self.held.items() if key in known}

    @rule()
    def run(self) -> None:
        self.number += 1
        wanted = [self.month[name] for name in sorted(self.month)]
        bad = [each for each in wanted if any(word in each.item for word in ("crash", "small"))]
        good = [each for each in wanted if each not in bad]
        missing = {each.recipe.key() for each in good} - set(self.held)
        runner = Runner(self.vault, self.rows, self.number, workers=Workers(InProcess))
        outcome = runner.run(wanted, maker)
        assert (outcome.counts.made, outcome.counts.failed) == (len(missing), len(bad))
        assert outcome.counts.reused == len(good) - len(missing)
        for each in good:
            data = str(each.wanted).encode() * 3
            output = outcome.output(each.item, "print-file")
            assert output is not None
            assert output.digest == hashlib.sha256(data).hexdigest()
            assert self.vault.get(output.digest) == data
        assert [row.item for row in outcome.failures] == [each.item for each in bad]
        self.held = {
            row.key: row.output for row in self.rows.made_rows.values() if self.vault.holds(row.output)
        }


TestRunnerAgainstModel = RunnerAgainstModel.TestCase
TestRunnerAgainstModel.settings = settings(max_examples=30, stateful_step_count=20, deadline=None)
