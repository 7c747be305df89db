"""Whether print files will be as small as a partner takes them, known before anything is planned.

Only where there is a limit, and the art is not plainly far below it, is the file made to be weighed.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from hundredfold.catalogue.blanks import Blank, PrintArea
from hundredfold.designs.design import Design
from hundredfold.placement.layout import AreaLayout
from hundredfold.proofing.designproof import PrintSizes, usual_layout
from hundredfold.runner.running import Runner, Watching
from hundredfold.runner.tasks import Counts, Task
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.steps.allsteps import PRINT_BYTES, make
from hundredfold.workshop.steps.artwork import ArtWanted
from hundredfold.workshop.steps.gathering import Gathered, Progress
from hundredfold.workshop.steps.making import plain_layout
from hundredfold.workshop.steps.smallart import crop_in_small

# So many times the promise of its small copy a file is not taken to have. Measured on mugs and shirts: drawn
# art 0.2 to 1.0, gradients, grain and texture 0.3 to 1.5; the most of both as TIFF.
_DOUBT = 3.0


@dataclass(frozen=True)
class _Pair:
    design: Design
    blank: Blank
    layout: AreaLayout

    @property
    def item(self) -> str:
        return f"{self.design.path} on {self.blank.code}, {self.layout.area.name} {self.layout.area.width_px}"


def print_sizes(
    bench: Bench, runner: Runner, gathered: Gathered, blanks: tuple[Blank, ...], told: Progress
) -> tuple[Mapping[str, PrintSizes], Counts]:
    """By design id, the bytes of the print files that may be more than their print area takes."""
    pairs = [pair for design in gathered.designs for pair in _doubtful(bench, gathered, design, blanks)]
    tasks = [_task(pair) for pair in pairs]
    outcome = runner.run(tasks, make, Watching(progress=told))
    sizes: dict[str, dict[tuple[str, PrintArea], int]] = {}
    for pair in pairs:
        output = outcome.output(pair.item, PRINT_BYTES.name)
        data = bench.vault.get(output.digest) if output else None
        if data is not None:
            sizes.setdefault(pair.design.id, {})[pair.blank.code, pair.layout.area] = int(data)
    return sizes, outcome.counts


def _doubtful(bench: Bench, gathered: Gathered, design: Design, blanks: tuple[Blank, ...]) -> Iterator[_Pair]:
    small = gathered.small.get(design.id)
    if small is None or design.facts.ink.empty:
        return
    for blank in blanks:
        for area in dict.fromkeys(replace(area, for_sizes=()) for area in blank.areas):
            if area.max_bytes is None or area.width_px * area.height_px * 4 <= area.max_bytes:
                continue
            layout = usual_layout(design, blank, area)
            if isinstance(layout, AreaLayout):
                promised = bench.vault.path_of(small).stat().st_size * _times_small(design, layout)
                if promised * _DOUBT > area.max_bytes:
                    yield _Pair(design, blank, layout)


def _times_small(design: Design, layout: AreaLayout) -> float:
    """How many times the ink of the small copy is printed, in pixels."""
    ink = crop_in_small(design.facts.ink, design.facts)
    return sum(one.width_px * one.height_px for one in layout.placements) / (ink.width * ink.height)


def _task(pair: _Pair) -> Task:
    inputs, params = {"design art": pair.design.facts.digest}, {"layout": plain_layout(pair.layout)}
    path = pair.design.path
    return PRINT_BYTES.task(pair.item, path, inputs, params, ArtWanted(path, pair.layout))
