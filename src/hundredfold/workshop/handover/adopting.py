"""Takes a table of what is already live into the ledger, so that it is never planned again as new."""

from collections.abc import Mapping
from pathlib import Path

from hundredfold.designs.names import title_from
from hundredfold.ledger.events import Happened
from hundredfold.planning.adoption import AdoptableDesign, Adoption, Shelf, adopt
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.channelfiles import channel_of, columns_of, only_grid, remember_columns
from hundredfold.workshop.steps.artfiles import art_digests, art_files
from hundredfold.workshop.steps.identity import identify, known_designs


def adopt_file(
    bench: Bench,
    file: Path,
    channel: str = "",
    columns: Mapping[str, str] | None = None,
    sku_pattern: str = "",
) -> tuple[Adoption, int]:
    """Adopt every row of a CSV or workbook that can be told; adopting the same file again changes nothing.

    Gives what was found and the number of the decision, 0 where nothing was adopted.

    Designs are those in the shop's designs folder now, under the ids they keep. Raises ShopError
    ``unknown-channel``, ``which-channel``, ``no-such-column``, ``bad-sku-pattern``, ``several-worksheets``,
    and what reading raises.
    """
    code = channel_of(bench.shop, channel)
    grid = only_grid(file)
    shelf = Shelf(code, _designs(bench), bench.shop.blanks, sku_pattern)
    asked = columns_of(bench.store, "adopt", code, grid, columns or {})
    found = adopt(grid, shelf, bench.ledger(), asked)
    remember_columns(bench.store, "adopt", code, asked)
    kept = bench.store.append(found.events)
    return found, kept[0].decision if kept else 0


def _designs(bench: Bench) -> tuple[AdoptableDesign, ...]:
    """The designs of the shop; one not seen before gets its id now, as the month would give it."""
    files, _ = art_files(bench.shop.files)
    digests, _ = art_digests(bench, files)
    who = identify(digests, known_designs(bench.store.events(kinds={Happened.DESIGN_SEEN})))
    bench.store.append(who.news)
    return tuple(AdoptableDesign(who.ids[path], path, title_from(path)) for path in sorted(who.ids))
