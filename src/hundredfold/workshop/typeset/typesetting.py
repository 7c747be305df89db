"""Layouts times words: designs in the shop's folder, made again only where something changed."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from hundredfold.designs.checks import ROW
from hundredfold.designs.layouts.fill import MADE_FROM
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.rows import LAYOUT, NAME, NICHE, OCCASION, RIGHTS, Row
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding, Severity, worst
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.runner.ctrlc import HeldCtrlC
from hundredfold.workshop.shop.checks import MADE_LIST, NO_LONGER_MADE
from hundredfold.workshop.shop.madelist import ENDING, Made, read_made, write_made
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.typeset.naming import slug
from hundredfold.workshop.typeset.typework import DoneRow, RowWork, font_findings, set_row
from hundredfold.workshop.typeset.wordlists import ENDINGS, WordList, pair_findings, read_word_list

_LONGEST_NAME = 80
Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class TypesetOrder:
    """What to make. Empty tuples mean all that go together; ``png_width`` 0 makes no PNG."""

    layouts: tuple[str, ...] = ()
    lists: tuple[str, ...] = ()
    versions: tuple[str, ...] = ("light",)
    png_width: int = 3600


@dataclass(frozen=True)
class Typeset:
    """What came of it: counts, findings, and every design's record."""

    made: int
    reused: int
    failed: int
    findings: tuple[Finding, ...]
    designs: tuple[Made, ...]


@dataclass(frozen=True)
class Pair:
    """A list and the layout it fills, with the rows that go there."""

    layout: Layout
    data: bytes
    words: WordList
    rows: tuple[Row, ...]


def typeset(
    paths: ShopPaths, asked: TypesetOrder, pool: Executor, progress: Progress | None = None
) -> Typeset:
    """Fill layouts from lists and write designs/, pictures/ and one record per list.

    Raises ShopError when a layout or list that was named is missing or cannot be read; whatever is wrong
    with single rows is a finding, and the good rows come out. KeyboardInterrupt comes between rows.
    """
    with HeldCtrlC() as ctrl_c:
        return _typeset(paths, asked, pool, progress, ctrl_c)


def _typeset(
    paths: ShopPaths, asked: TypesetOrder, pool: Executor, progress: Progress | None, ctrl_c: HeldCtrlC
) -> Typeset:
    findings: list[Finding] = []
    designs: list[Made] = []
    counts = {"made": 0, "reused": 0, "failed": 0}
    pairs = pairs_of(paths, asked)
    total = sum(len(pair.rows) * len(versions_of(pair.layout, asked)) for pair in pairs)
    done = 0
    for file in dict.fromkeys(pair.words.file for pair in pairs):
        record = paths.designs / (Path(file).stem + ENDING)
        before, unread = _before(record)
        findings.extend(unread)
        taken = _Names(paths.designs, before, file)
        made: list[Made] = []
        for pair in (p for p in pairs if p.words.file == file):
            judged = judge_pair(paths, pair)
            findings.extend(judged)
            if worst(judged) is Severity.STOP:
                counts["failed"] += len(pair.rows)
                continue
            for work, result in _run(pool, _works(paths, pair, asked, taken, before), ctrl_c):
                done += 1
                if progress is not None:
                    progress(done, total)
                findings.extend(result.findings)
                if not result.sha256:
                    counts["failed"] += 1
                    continue
                counts["made" if result.written else "reused"] += 1
                made.append(_record(work, result, pair))
        kept = _of_other_runs(paths, before, made, [p for p in pairs if p.words.file == file], asked)
        findings.extend(_left_behind(file, before, [*made, *kept]))
        write_made(record, [*made, *kept])
        designs.extend(made)
    return Typeset(counts["made"], counts["reused"], counts["failed"], tuple(findings), tuple(designs))


def judge_pair(paths: ShopPaths, pair: Pair) -> tuple[Finding, ...]:
    """What there is to know about a list and a layout before any row; a stop keeps all its rows back."""
    fonts = font_findings(pair.layout, pair.words.file, str(paths.fonts))
    return (*pair_findings(pair.layout, pair.words), *fonts, *_not_kept(pair.layout))


def _not_kept(layout: Layout) -> Iterator[Finding]:
    """Styling of the drawing's texts that the setting leaves out, each told once."""
    for line, name in layout.lost:
        item = layout.name if line is None else f"{layout.name}, line {line}"
        fix = "leave it, if the sheet looks right; else draw that word as a path in your editor"
        yield ROW.finds("not-kept", item, f"the text's “{name}” is not kept when words are set", fix)


def pairs_of(paths: ShopPaths, asked: TypesetOrder) -> list[Pair]:
    """Which list fills which layout: as asked, else by the list's ``layout`` column, else by equal names,
    else the shop's only layout. Raises ShopError ``no-layout``, ``no-words``, ``no-pair``.
    """
    drawings = _named(paths.layouts, (".svg",), (), "no-layout", "layout")
    files = {path.stem.casefold(): path for path in drawings}
    lists = [
        read_word_list(path) for path in _named(paths.words, ENDINGS, asked.lists, "no-words", "word list")
    ]
    known: dict[str, tuple[Layout, bytes]] = {}

    def layout_of(name: str) -> tuple[Layout, bytes]:
        key = name.removesuffix(".svg").casefold()
        if key not in files:
            fix = did_you_mean(name, sorted(files))
            raise ShopError(
                "no-layout", f"there is no layout called “{name}”", fix, Where(str(paths.layouts))
            )
        if key not in known:
            data = files[key].read_bytes()
            known[key] = (parse_layout(data, files[key].name), data)
        return known[key]

    pairs = []
    for words in lists:
        stem = Path(words.file).stem.casefold()
        for name in asked.layouts or _layout_names(words):
            rows = tuple(r for r in words.rows if asked.layouts or name in _layouts_of(r))
            pairs.append(Pair(*layout_of(name), words, rows))
        rest = tuple(row for row in words.rows if not row.cell(LAYOUT)) if not asked.layouts else ()
        if rest and (stem in files or len(files) == 1):
            pairs.append(Pair(*layout_of(stem if stem in files else next(iter(files))), words, rest))
        elif rest:
            what = f"{counted(len(rest), 'row does', 'rows do')} not say which layout to fill"
            fix = f"add a column “layout”, or name one: --layout {next(iter(sorted(files)), 'NAME')}"
            raise ShopError("no-pair", what, fix, Where(words.file, row=rest[0].number))
    return pairs


def _layout_names(words: WordList) -> list[str]:
    return list(dict.fromkeys(name for row in words.rows for name in _layouts_of(row)))


def _layouts_of(row: Row) -> list[str]:
    """The layouts a row names, with semicolons between them: it is set in each."""
    return [name.strip().removesuffix(".svg") for name in row.cell(LAYOUT).split(";") if name.strip()]


def _named(folder: Path, endings: tuple[str, ...], names: Sequence[str], slug: str, kind: str) -> list[Path]:
    found = sorted(
        path
        for path in (folder.iterdir() if folder.is_dir() else ())
        if path.suffix.lower() in endings and not path.name.startswith((".", "~"))
    )
    if not found:
        fix = "copy one of the starter layouts: hundredfold typeset --starters"
        raise ShopError(
            slug,
            f"the shop has no {kind}",
            fix if kind == "layout" else "put a CSV or XLSX file there",
            Where(str(folder)),
        )
    if not names:
        return found
    chosen = []
    for name in names:
        match = [path for path in found if name.casefold() in (path.name.casefold(), path.stem.casefold())]
        if not match:
            fix = did_you_mean(name, [path.stem for path in found])
            raise ShopError(slug, f"there is no {kind} called “{name}”", fix, Where(str(folder)))
        chosen.append(match[0])
    return chosen


def versions_of(layout: Layout, asked: TypesetOrder) -> tuple[str, ...]:
    """Which of a layout's versions are wanted; its first where none is."""
    if layout.versions == ("",):
        return ("",)
    return tuple(version for version in layout.versions if version in asked.versions) or layout.versions[:1]


def _works(
    paths: ShopPaths, pair: Pair, asked: TypesetOrder, taken: "_Names", before: Mapping[str, Made]
) -> Iterator[RowWork]:
    several = len(pair.layout.versions) > 1
    for row in pair.rows:
        for version in versions_of(pair.layout, asked):
            name = taken.give(row, pair.layout, "-for-dark" if several and version == "dark" else "")
            old = before.get(f"{name}.svg")
            yield RowWork(
                layout=pair.data,
                layout_name=pair.layout.name,
                row=row,
                version=version,
                fonts=str(paths.fonts),
                art=str(paths.art),
                svg=str(paths.designs / f"{name}.svg"),
                png=str(paths.root / "pictures" / f"{name}.png") if asked.png_width else "",
                png_width=asked.png_width,
                before=old.sha256 if old is not None else "",
            )


def _run(pool: Executor, works: Iterator[RowWork], ctrl_c: HeldCtrlC) -> Iterator[tuple[RowWork, DoneRow]]:
    """Results in order, with few in flight, so that memory does not grow with the list."""
    waiting = [(work, pool.submit(set_row, work)) for work in islice(works, 8)]
    while waiting:
        work, future = waiting.pop(0)
        ctrl_c.wait_for([future])
        yield work, future.result()
        waiting.extend((following, pool.submit(set_row, following)) for following in islice(works, 1))


def _before(record: Path) -> tuple[dict[str, Made], tuple[Finding, ...]]:
    """What was made the last time; a record that cannot be read is told and written anew."""
    if not record.is_file():
        return {}, ()
    try:
        return {one.file: one for one in read_made(record.read_bytes(), record.name)}, ()
    except ShopError as error:
        item = f"designs/{record.name}"
        return {}, (MADE_LIST.finds("made-anew", item, error.what, "nothing: it was made anew"),)


def _record(work: RowWork, result: DoneRow, pair: Pair) -> Made:
    row = work.row
    return Made(
        file=Path(work.svg).name,
        title=result.title,
        layout=pair.layout.name,
        list=pair.words.file,
        row=row.number,
        version=work.version,
        keywords=row.keywords,
        niche=row.cell(NICHE),
        occasion=row.cell(OCCASION),
        rights=row.cell(RIGHTS),
        languages=(pair.layout.language,),
        sha256=result.sha256,
        facts=result.facts,
        says=result.says,
    )


def _of_other_runs(
    paths: ShopPaths,
    before: Mapping[str, Made],
    made: Sequence[Made],
    pairs: Sequence[Pair],
    asked: TypesetOrder,
) -> list[Made]:
    """Designs of the list that this run was not about: another layout's, or the version for other goods.

    They stay on record as long as their drawing, their layout and their row are there.
    """
    now = {one.file for one in made}
    about = {(pair.layout.name, version) for pair in pairs for version in versions_of(pair.layout, asked)}
    rows = {row.number for pair in pairs for row in pair.words.rows}
    return [
        one
        for name, one in before.items()
        if name not in now
        and (one.layout, one.version) not in about
        and one.row in rows
        and (paths.layouts / one.layout).is_file()
        and (paths.designs / name).is_file()
    ]


def _left_behind(file: str, before: Mapping[str, Made], made: Sequence[Made]) -> list[Finding]:
    gone = sorted(set(before) - {one.file for one in made})
    return [
        NO_LONGER_MADE.finds(
            "no-longer-made", f"designs/{name}",
            f"it was made from row {before[name].row} of {file} and is not made any more",
            "delete it if it is not sold; a design that is live should stay",
        )
        for name in gone
    ]  # fmt: skip


class _Names:
    """File names from words: readable, the same every run, none given twice."""

    def __init__(self, folder: Path, before: Mapping[str, Made], words: str) -> None:
        mark = f'{MADE_FROM}="{words}"'.encode()
        self._foreign = {
            path.name.casefold()
            for path in (folder.glob("*.svg") if folder.is_dir() else ())
            if path.name not in before and mark not in _head(path)
        }
        self._given: set[str] = set()

    def give(self, row: Row, layout: Layout, ending: str) -> str:
        """A name no other row and no other file has."""
        spoken = dict.fromkeys(column for text in layout.texts for column in text.pattern.columns())
        words = row.cell(NAME) or " ".join(map(row.cell, spoken))
        stem = (
            f"{slug(words)[:_LONGEST_NAME].strip('-') or f'row-{row.number}'}-{slug(Path(layout.name).stem)}"
        )
        name = stem + ending
        if f"{name}.svg".casefold() in self._foreign or name.casefold() in self._given:
            name = f"{stem}-{row.number}{ending}"
        self._given.add(name.casefold())
        return name


def _head(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(2000)
