"""Previews: every row filled, the worst of them on a contact sheet. Nothing is written to designs/."""

from dataclasses import dataclass
from pathlib import Path

from hundredfold.designs.layouts.fill import Filled
from hundredfold.kernel.findings import Finding, Severity, worst
from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.typeset.contactsheet import contact_sheet, save_sheet, worst_rows
from hundredfold.workshop.typeset.naming import slug
from hundredfold.workshop.typeset.typesetting import Pair, TypesetOrder, judge_pair, pairs_of, versions_of
from hundredfold.workshop.typeset.typework import fill_row


@dataclass(frozen=True)
class Previewed:
    """The sheets that were written, and what there is to know."""

    sheets: tuple[Path, ...]
    rows: int
    findings: tuple[Finding, ...]


def preview(paths: ShopPaths, asked: TypesetOrder) -> Previewed:
    """A contact sheet for each list and layout, in pictures/. Raises as ``typesetting.typeset``."""
    sheets: list[Path] = []
    findings: list[Finding] = []
    rows = 0
    for pair in pairs_of(paths, asked):
        judged = judge_pair(paths, pair)
        findings.extend(judged)
        if worst(judged) is Severity.STOP:
            continue
        for version in versions_of(pair.layout, asked):
            filled = _filled(paths, pair, version)
            rows += len(filled)
            findings.extend(finding for one in filled for finding in one.findings)
            chosen = worst_rows(filled)
            if not chosen:
                continue
            names = f"{Path(pair.layout.name).stem} × {Path(pair.words.file).stem}"
            title = f"{names}: the {len(chosen)} rows to look at"
            sheet = contact_sheet(pair.layout, chosen, title)
            ending = f"-for-{version}" if version else ""
            base = (
                paths.root
                / "pictures"
                / f"sheet-{slug(pair.words.file)}-{slug(Path(pair.layout.name).stem)}{ending}"
            )
            sheets.append(save_sheet(sheet, base, write_whole)[0])
    return Previewed(tuple(sheets), rows, tuple(findings))


def _filled(paths: ShopPaths, pair: Pair, version: str) -> list[Filled]:
    return [fill_row(pair.layout, row, str(paths.fonts), str(paths.art), version) for row in pair.rows]
