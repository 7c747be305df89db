"""Why an item would be made again, and what it was made from, in words."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from hundredfold.runner.cache import Vault
from hundredfold.runner.recipes import Recipe, differences, shown
from hundredfold.runner.rows import BuildRows, MadeRow


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


@dataclass(frozen=True)
class Names:
    """How a person knows things: the seller's files that have a digest, where a chain ends, and runs."""

    paths: Callable[[str], tuple[str, ...]] = lambda _: ()
    run: Callable[[int], str] = lambda number: f"run {number}"


def explain_item(rows: BuildRows, item: str, names: Names = Names()) -> tuple[str, ...]:
    """The chain an item was made from, one line a thing, inner things indented; empty if never made."""
    failures = [row for row in rows.failures() if row.item == item]
    lines = [f"{row.item}, {row.step}: it failed: {row.sentence}" for row in failures]
    for row in rows.made_for(item):
        lines += _chain(rows, row, names, "", frozenset())
    return tuple(lines)


def explain_shortly(rows: BuildRows, item: str, names: Names = Names()) -> tuple[str, ...]:
    """Only when each step of an item was made, and why it was made again."""
    return tuple(line for row in rows.made_for(item) for line in _made(row, names, ""))


def _made(row: MadeRow, names: Names, indent: str) -> Iterator[str]:
    recipe = Recipe.from_json(row.recipe)
    made = f"made in {names.run(row.made_in)}, " if row.made_in else ""
    yield f"{indent}{row.item}, {recipe.step} {recipe.numbers}: {made}last used in {names.run(row.run)}"
    if row.before:
        changed = differences(Recipe.from_json(row.before), recipe)
        why = "; ".join(changed) or "its file was missing from the cache, or was damaged"
        yield f"{indent}  made again then: {why}"


def _chain(rows: BuildRows, row: MadeRow, names: Names, indent: str, above: frozenset[str]) -> Iterator[str]:
    recipe = Recipe.from_json(row.recipe)
    yield from _made(row, names, indent)
    inner = indent + "  "
    for name, value in _flat(recipe.params):
        yield f"{inner}{name}: {shown(value)}"
    if recipe.engines:
        libraries = (f"{name} {version}" for name, version in sorted(recipe.engines.items()))
        yield f"{inner}libraries: {', '.join(libraries)}"
    for name in sorted(recipe.inputs):
        digest = recipe.inputs[name]
        found = names.paths(digest)
        yield f"{inner}{name}: {', '.join(found) if found else digest[:12]}"
        for source in rows.made_as(digest)[:1]:
            if source.key not in above:
                yield from _chain(rows, source, names, inner + "  ", above | {row.key})


def _flat(params: Mapping[str, object], name: str = "") -> Iterator[tuple[str, object]]:
    for key in sorted(params):
        words = f"{name} {key.replace('_', ' ')}".strip()
        value = params[key]
        if isinstance(value, Mapping):
            yield from _flat(value, words)
        elif value is not None:
            yield words, value
