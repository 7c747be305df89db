"""One channel's TOML to a Channel."""

from hundredfold.catalogue.channels import (
    Asks,
    CapCounts,
    Channel,
    Counting,
    LengthUnit,
    PictureRules,
    TextLimits,
    WordRules,
)
from hundredfold.catalogue.parse_charges import read_charges, read_fees
from hundredfold.catalogue.parse_settings import fits, read_currency, read_ending, read_language
from hundredfold.catalogue.parse_sheets import read_file_names, read_sheet
from hundredfold.catalogue.read_values import read_values
from hundredfold.catalogue.toml_table import Source, Table
from hundredfold.kernel.money import Money


def parse_channel(source: Source, ending: str = "") -> Channel:
    """Read one channel; mistakes are collected in the source. ``ending`` is the shop's own for prices."""
    table = source.table
    currency = read_currency(table)
    cap = table.table("cap", required=True)
    channel = Channel(
        code=table.code("code"),
        name=table.text("name"),
        currency=currency,
        language=read_language(table),
        cap_counts=cap.choice("counts", CapCounts),
        daily_cap=cap.integer("daily", low=1),
        fees=read_fees(table.table("fees", required=True), currency),
        limits=_limits(table.table("limits", required=True)),
        pictures=_pictures(table.table("pictures", required=True)),
        sheet=read_sheet(table.table("sheet", required=True)),
        blanks=table.texts("blanks"),
        price_ending=read_ending(table, currency, ending if fits(ending, currency) else ""),
        min_price=_maybe_money(table, "min_price", currency),
        max_price=_maybe_money(table, "max_price", currency),
        charges=read_charges(table, currency),
        note=table.text("note", ""),
        words=_word_rules(table.table("words")),
        extra=table.pairs("extra"),
        their_words={name: _words(table, name) for name, _ in table.named("their_words")},
        more_tables=tuple(read_sheet(inner) for inner in table.array("more_tables")),
        files=read_file_names(table.table("files")),
        ends=table.choice("ends", Asks, Asks.ROWS),
        changes=table.choice("changes", Asks, Asks.ROWS),
        stock=table.integer("stock", 0),
        colours=table.texts("colours"),
        sizes=table.texts("sizes"),
        destination=table.text("destination", ""),
        values=dict(read_values(table)),
        must_say=table.texts("must_say"),
    )
    cap.done()
    table.done()
    if channel.min_price and channel.max_price and channel.max_price < channel.min_price:
        what = f"max_price is {channel.max_price}, under the min_price of {channel.min_price}"
        table.wrong("out-of-range", "max_price", what, "raise max_price or lower min_price")
    if channel.cap_counts is CapCounts.FAMILIES and not channel.sheet.families:
        fix = 'write families = true under [sheet], or counts = "listings" under [cap]'
        cap.wrong("unknown-value", "counts", "the cap counts families, but the sheet has none", fix)
    return channel


def _maybe_money(table: Table, key: str, currency: str) -> Money | None:
    table.ask(key)
    return table.money(key, currency) if key in table else None


# The names that these limits had before, with what to write now.
_FORMER_LIMITS = {
    "bullets": "points",
    "bullet_chars": "point_chars",
    "description_chars": "story_chars",
}


def _limits(table: Table) -> TextLimits:
    for former, now in _FORMER_LIMITS.items():
        if former in table and now not in table:
            fix = (
                "run hundredfold words --new-names: it rewrites the old names of this file, and nothing else"
            )
            table.wrong("former-key", former, f"{former} is called {now} now", fix)
            table.ask(former)
    limits = TextLimits(
        title_chars=table.integer("title_chars", low=10),
        points=table.integer("points", 5, high=20),
        point_chars=table.integer("point_chars", 150, low=10),
        story_chars=table.integer("story_chars", 1000, low=10),
        search_chars=table.integer("search_chars", 0),
        search_bytes=table.integer("search_bytes", 0),
        search_words=table.integer("search_words", 0),
        tags=table.integer("tags", 0, high=100),
        tag_chars=table.integer("tag_chars", 20, low=3),
        counts=table.choice("counts", Counting, Counting.CHARACTERS),
    )
    table.done()
    return limits


def _word_rules(table: Table) -> WordRules:
    rules = WordRules(
        forbidden=table.texts("forbidden"),
        forbidden_characters=table.text("forbidden_characters", ""),
        search_sees_title=table.flag("search_sees_title", True),
    )
    table.done()
    return rules


def _pictures(table: Table) -> PictureRules:
    rules = PictureRules(
        width_px=table.integer("width_px", low=64, high=20_000),
        height_px=table.integer("height_px", low=64, high=20_000),
        max_bytes=table.integer("max_bytes", 10_000_000, low=10_000),
        max_count=table.integer("max_count", 1, low=1, high=50),
        thumbnail_px=table.integer("thumbnail_px", 160, low=16),
        min_side_px=table.integer("min_side_px", 0),
        lengths=table.choice("lengths", LengthUnit, LengthUnit.MM),
    )
    if min(rules.width_px, rules.height_px) < rules.min_side_px:
        what = f"{rules.width_px} x {rules.height_px} px has a side under {rules.min_side_px} px"
        table.wrong("out-of-range", "min_side_px", what, "make width_px and height_px at least min_side_px")
    table.done()
    return rules


def _words(table: Table, name: str) -> dict[str, str]:
    """The channel's words for ours, one table of them."""
    return table.table("their_words").pairs(name)
