"""Why an item would be made again, and what it was made from, in words."""

from collections.abc import Callable, Iterator, Mapping

from hundredfold.build.cache import Vault
from hundredfold.build.recipes import Recipe, differences, shown
from hundredfold.build.rows import BuildRows, MadeRow


def reasons(rows: BuildRows, vault: Vault, item: str, new: Recipe) -> tuple[str, ...]:
    """Why the next run makes this step of the item again; nothing where it is current."""
    row = next((row for row in rows.made_for(item) if row.step == new.step), None)
    failed = next((row for row in rows.failures() if (row.item, row.step) == (item, new.step)), None)
    words = differences(Recipe.from_json(row.recipe) if row else None, new)
    if failed is not None:
        return (f"it failed last time: {failed.sentence}", *(words if row else ()))
    if row is not None and not words and not vault.holds(row.output, row.bytes):
        return ("its file is missing from the cache, or was damaged",)
    return words


def explain_item(
    rows: BuildRows, item: str, paths: Callable[[str], tuple[str, ...]] = lambda _: ()
) -> tuple[str, ...]:
    """The chain an item was made from, one line a thing, inner things indented; empty if never made.

    ``paths`` gives the files known to have a digest, so that the chain ends in the seller's own files.
    """
    failures = [row for row in rows.failures() if row.item == item]
    lines = [f"{row.item}, {row.step}: it failed: {row.sentence}" for row in failures]
    for row in rows.made_for(item):
        lines += _chain(rows, row, paths, "", frozenset())
    return tuple(lines)


def _chain(
    rows: BuildRows,
    row: MadeRow,
    paths: Callable[[str], tuple[str, ...]],
    indent: str,
    above: frozenset[str],
) -> Iterator[str]:
    recipe = Recipe.from_json(row.recipe)
    yield f"{indent}{row.item}, {recipe.step} {recipe.version}: last used in run {row.run}"
    inner = indent + "  "
    for name, value in _flat(recipe.params):
        yield f"{inner}{name}: {shown(value)}"
    if recipe.engines:
        libraries = (f"{name} {version}" for name, version in sorted(recipe.engines.items()))
        yield f"{inner}libraries: {', '.join(libraries)}"
    for name in sorted(recipe.inputs):
        digest = recipe.inputs[name]
        found = paths(digest)
        yield f"{inner}{name}: {', '.join(found) if found else digest[:12]}"
        for source in rows.made_as(digest)[:1]:
            if source.key not in above:
                yield from _chain(rows, source, paths, inner + "  ", above | {row.key})


def _flat(params: Mapping[str, object], name: str = "") -> Iterator[tuple[str, object]]:
    for key in sorted(params):
        words = f"{name} {key.replace('_', ' ')}".strip()
        value = params[key]
        if isinstance(value, Mapping):
            yield from _flat(value, words)
        elif value is not None:
            yield words, value
