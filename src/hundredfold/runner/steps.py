"""A step of the build as one record: its name, what its outputs follow from, and who makes them."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.metadata import version
from types import MappingProxyType

from hundredfold.runner.inputs import Inputs
from hundredfold.runner.recipes import Recipe
from hundredfold.runner.tasks import Task, Unmade, WorkPart

NOTHING: Mapping[str, object] = MappingProxyType({})
# Gives one result for each part, in their order.
Maker = Callable[[Sequence[WorkPart], Inputs], Sequence[bytes | Unmade]]


@dataclass(frozen=True)
class Step:
    """One kind of output.

    ``version`` has a number for each part of our code that shapes the bytes; any of them is raised by hand
    when its output changes. ``libraries`` are the distributions whose versions count. ``inputs`` names the
    contents that an output follows from, ``reads`` those of them that the maker asks for (the rest only
    counts: the program holds it, or the work does). ``params`` names what else it follows from. ``maker``
    makes the parts of one group; parts whose steps share a maker are made by one call. A step without one is
    made by the process that runs the build.
    """

    name: str
    version: tuple[int, ...]
    maker: Maker | None
    libraries: tuple[str, ...] = ()
    inputs: tuple[str, ...] = ()
    reads: tuple[str, ...] = ()
    params: tuple[str, ...] = ()

    def recipe(self, inputs: Mapping[str, str], params: Mapping[str, object] = NOTHING) -> Recipe:
        """The recipe of one output. Raises ValueError for an input or parameter that the step does not name.

        An input whose name ends in a star in the record stands for any number, like ``member *``.
        """
        for given, known in ((inputs, self.inputs), (params, self.params)):
            strange = [name for name in given if not any(_named(name, each) for each in known)]
            if strange:
                raise ValueError(f"the step {self.name} knows nothing of {', '.join(sorted(strange))}")
        return Recipe(self.name, self.version, engines(self.libraries), params, inputs)

    def task(
        self,
        item: str,
        group: str,
        inputs: Mapping[str, str],
        params: Mapping[str, object] = NOTHING,
        wanted: object = None,
    ) -> Task:
        """The task for one output; raises as ``recipe`` does."""
        reads = tuple(inputs[name] for name in self.reads if name in inputs)
        return Task(item, self.recipe(inputs, params), group, wanted, reads)


def _named(name: str, known: str) -> bool:
    return name.startswith(known[:-1]) if known.endswith("*") else name == known


@cache
def engines(libraries: tuple[str, ...]) -> Mapping[str, str]:
    """The installed versions of these; asked once, since looking one up reads files."""
    return MappingProxyType({name: version(name) for name in libraries})
