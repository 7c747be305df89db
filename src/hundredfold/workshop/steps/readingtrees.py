"""The fitted trees of the reading predictor, read once a process from the package's own files."""

from functools import cache
from importlib import resources

from hundredfold.proofing.reading.names import DESIGN_NAMES, LINE_NAMES, TEXT_NAMES
from hundredfold.proofing.reading.trees import ReadingTrees, from_file


@cache
def reading_trees() -> ReadingTrees:
    """The trees that ``python -m tools.reading.fit`` wrote."""
    folder = resources.files("hundredfold") / "readingtrees"
    text, line, design = (
        from_file(names, (folder / f"{name}.npz").read_bytes())
        for name, names in (("text", TEXT_NAMES), ("line", LINE_NAMES), ("design", DESIGN_NAMES))
    )
    return ReadingTrees(text, line, design)
