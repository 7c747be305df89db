"""A shop's files to records: what is right is read exactly, each mistake names file, line, key and remedy."""

from datetime import date
from decimal import Decimal

import pytest

from hundredfold.catalogue.blank_toml import blank_toml
from hundredfold.catalogue.blanks import Blank, BlankVariant, Body, Cone, SizeMeasures
from hundredfold.catalogue.channels import CapCounts, Channel
from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.parse_channels import parse_channel
from hundredfold.catalogue.parse_settings import parse_settings
from hundredfold.catalogue.parsing import read_catalogue, read_text
from hundredfold.catalogue.processes import Material, Process
from hundredfold.catalogue.settings import ShopSettings
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.money import Money

SHOP = """\
name = "Puddlewick Goods"
currency = "GBP"
target_profit = "3.00"
[month]
days = 28
start = 2026-12-01
[rates]
GBP-USD = "1.25"
"""

BLANK = """\
code = "GLASS"
name = "Shot glass"
form = "shot glass"
material = "coated glass"
process = "sublimation"
postage = 295
[areas.wrap]
width_px = 1890
height_px = 496
dpi = 300
cone = { top_diameter_mm = 58, bottom_diameter_mm = 49, height_mm = 42, file = "rectangle" }
[body]
diameter_mm = 60
[colours]
white = { name = "White", srgb = "#f6f6f4" }
two = { name = "Two", srgb = "#ffffff", second = "#102030", underbase = true }
[variants]
"A-1" = { colour = "white", base_cost = "2.35" }
"A-2" = { colour = "two", base_cost = "2.50", in_stock = false }
"""

CHANNEL = """\
code = "quayside"
name = "Quayside Market"
currency = "USD"
language = "en-US"
price_ending = "99"
[cap]
counts = "families"
daily = 9
[fees]
rate = "12.5%"
[limits]
title_chars = 80
[pictures]
width_px = 1600
height_px = 1600
[sheet]
kind = "csv"
families = true
columns = [
  { header = "heading", fill = "{title}", max_chars = 80 },
  { header = "usd", fill = "{price}", only_for = "member" },
]
[extra]
"made where" = "United Kingdom"
"""


_MIN = "pictures.min_side_px"


def blank(text: str = BLANK) -> Blank:
    return read_text(text, "blanks/glass.toml", lambda source: parse_blank(source, "GBP"))


def settings(text: str = SHOP) -> ShopSettings:
    return read_text(text, "shop.toml", parse_settings)


def channel(text: str = CHANNEL) -> Channel:
    return read_text(text, "channels/quayside.toml", parse_channel)


def complaint(old: str, new: str, base: str = BLANK) -> ShopError:
    assert old in base
    text = base.replace(old, new)
    read = {SHOP: settings, BLANK: blank, CHANNEL: channel}[base]
    with pytest.raises(ShopError) as caught:
        read(text)
    assert caught.value.others == (), caught.value
    return caught.value


def test_a_blank_is_read_whole() -> None:
    glass = blank()
    assert (glass.form, glass.material, glass.process) == (
        Form.SHOT_GLASS,
        Material.COATED_GLASS,
        Process.SUBLIMATION,
    )
    assert glass.postage == Money(Decimal("2.95"), "GBP")
    assert glass.areas[0].cone == Cone(58, 49, 42, "rectangle")
    assert glass.colour("two").second == Srgb(16, 32, 48)
    assert glass.variants[1] == BlankVariant("two", "", "A-2", Money(Decimal("2.50"), "GBP"), in_stock=False)


SIZED = (
    BLANK.replace('"A-1" = { ', '"A-1" = { size = "L", ')
    .replace('"A-2" = { ', '"A-2" = { size = "S", ')
    .replace("[body]\n", '[sizes]\nS = { height_mm = 50 }\nL = { diameter_mm = 70 }\n[body]\nsize = "S"\n')
    .replace("\ndiameter_mm = 60", "")
)


def test_measures_of_sizes_are_read_and_the_body_takes_those_of_its_own() -> None:
    glass = blank(SIZED)
    assert glass.sizes == (SizeMeasures("S", height_mm=50), SizeMeasures("L", diameter_mm=70))
    assert glass.body == Body(height_mm=50, size="S")
    assert glass.offered_sizes() == ("L",)
    assert blank(blank_toml(glass, "GBP")) == glass


@pytest.mark.parametrize(
    ("old", "new", "slug", "field", "words"),
    [
        ('size = "S"\n', 'size = "XS"\n', "unknown-value", "body.size", 'no variant has size "XS"'),
        ("[sizes]\nS =", "[sizes]\nXS =", "unknown-value", "sizes.XS", 'no variant has size "XS"'),
        ('size = "S"\n', 'size = "S"\nheight_mm = 55\n', "out-of-range", "body.height_mm", "50 mm of size S"),
    ],
)
def test_one_mistake_in_sizes(old: str, new: str, slug: str, field: str, words: str) -> None:
    assert old in SIZED
    with pytest.raises(ShopError) as caught:
        blank(SIZED.replace(old, new))
    assert caught.value.others == ()
    assert (caught.value.slug, caught.value.where.field) == (slug, field)
    assert words in caught.value.what


def test_settings_are_read_whole() -> None:
    shop = settings()
    assert (shop.month_days, shop.month_start) == (28, date(2026, 12, 1))
    assert shop.rate("GBP", "USD") == Decimal("1.25")
    assert shop.rate("USD", "GBP") == Decimal("0.8")
    assert shop.convert(Money(Decimal("4.00"), "GBP"), "USD") == Money(Decimal("5.00"), "USD")
    with pytest.raises(ShopError, match="no rate from GBP to EUR"):
        shop.rate("GBP", "EUR")


def test_a_channel_is_read_whole() -> None:
    market = channel()
    assert market.cap_counts is CapCounts.FAMILIES
    assert market.fees.rate == Decimal("0.125")
    assert [column.only_for for column in market.sheet.columns] == [(), ("member",)]
    assert market.extra == {"made where": "United Kingdom"}


@pytest.mark.parametrize(
    ("old", "new", "slug", "line", "field", "advice"),
    [
        ("postage = 295", "", "missing-key", 1, "", "add a line: postage"),
        ('"2.35"', '"-2.35"', "negative-amount", 18, "variants.A-1.base_cost", "remove the minus"),
        ('"2.35"', "2.35", "bad-amount", 18, "variants.A-1.base_cost", "in quotes"),
        ('"2.35"', '"2.355"', "bad-amount", 18, "variants.A-1.base_cost", "round it"),
        ('"2.35"', '"two"', "bad-amount", 18, "variants.A-1.base_cost", "as text"),
        ('"2.35"', "true", "bad-amount", 18, "variants.A-1.base_cost", "in quotes"),
        ('"coated glass"', '"coated glas"', "unknown-value", 4, "material", 'did you mean "coated glass"?'),
        ('"shot glass"', '"teapot xyz"', "unknown-value", 3, "form", "known: mug"),
        ('"sublimation"', "7", "wrong-type", 5, "process", "in quotes"),
        ("#f6f6f4", "#f6f6", "bad-colour", 15, "colours.white.srgb", "#rrggbb"),
        ("width_px = 1890", 'width_px = "1890"', "wrong-type", 8, "areas.wrap.width_px", "without quotes"),
        ("width_px = 1890", "width_px = 0", "out-of-range", 8, "areas.wrap.width_px", "from 1 to"),
        ("dpi = 300", "dpi = true", "wrong-type", 10, "areas.wrap.dpi", "whole number"),
        ("dpi = 300", "dpi = 300.5", "wrong-type", 10, "areas.wrap.dpi", "whole number"),
        ("dpi = 300", "dpi = 300\nbleed_mm = 30", "out-of-range", 11, "areas.wrap.bleed_mm", "lower"),
        ("dpi = 300", 'dpi = 300\nfor_sizes = ["S"]', "missing-key", 7, "areas", "for_sizes"),
        ("height_mm = 42", "hight_mm = 42", "unknown-key", 11, "areas.wrap.cone.hight_mm", "height_mm"),
        ('file = "rectangle"', 'file = "square"', "unknown-value", 11, "areas.wrap.cone.file", "sector"),
        ("[body]\ndiameter_mm", "[body]\ndiametre_mm", "unknown-key", 13, "body.diametre_mm", "diameter_mm"),
        ('colour = "two"', 'colour = "tow"', "unknown-value", 19, "variants.A-2.colour", 'mean "two"'),
        ('colour = "two"', 'colour = "white"', "duplicate-variant", 19, "variants.A-2", "remove one"),
        ('"A-2" = { ', '"A-2" = { size = "L", ', "missing-key", 17, "variants", "every variant a size"),
        ('code = "GLASS"', 'code = "GL/ASS"', "bad-code", 1, "code", "letters, digits"),
        ('code = "GLASS"', 'code = "CON"', "bad-code", 1, "code", "letters, digits"),
        ('name = "Shot glass"', 'name = " "', "missing-key", 2, "name", "write something"),
        ("in_stock = false", 'in_stock = "no"', "wrong-type", 19, "variants.A-2.in_stock", "true or false"),
        ('two = { name = "Two"', 'two = { nme = 1, name = "Two"', "unknown-key", 16, "colours.two.nme", ""),
    ],
)  # fmt: skip
def test_one_mistake_in_a_blank(old: str, new: str, slug: str, line: int, field: str, advice: str) -> None:
    with pytest.raises(ShopError) as caught:
        blank(BLANK.replace(old, new))
    error = caught.value
    assert (error.slug, error.where.file, error.where.line, error.where.field) == (
        slug,
        "blanks/glass.toml",
        line,
        field,
    )
    assert advice in error.fix


def test_a_misspelt_key_is_one_mistake_named_with_the_nearest_known_one() -> None:
    with pytest.raises(ShopError) as caught:
        blank(BLANK.replace("postage", "postege"))
    unknown = caught.value
    assert not unknown.others
    assert (unknown.slug, unknown.where.line, unknown.fix) == ("unknown-key", 6, 'did you mean "postage"?')


@pytest.mark.parametrize(
    ("old", "new", "slug", "line", "field"),
    [
        ('"GBP"', '"GPB"', "unknown-value", 2, "currency"),
        ('"3.00"', '"-3.00"', "negative-amount", 3, "target_profit"),
        ("days = 28", "days = 400", "out-of-range", 5, "month.days"),
        ("2026-12-01", '"2026-12-01"', "wrong-type", 6, "month.start"),
        ("2026-12-01", "2026-12-01T08:00:00", "wrong-type", 6, "month.start"),
        ('"1.25"', "1.25", "wrong-type", 8, "rates.GBP-USD"),
        ('"1.25"', '"0"', "out-of-range", 8, "rates.GBP-USD"),
        ('"1.25"', '"NaN"', "wrong-type", 8, "rates.GBP-USD"),
        ("GBP-USD", "GBPUSD", "unknown-key", 8, "rates.GBPUSD"),
        ("[month]", 'language = "english"\n[month]', "unknown-value", 4, "language"),
        ("[month]", 'price_ending = "9.5"\n[month]', "out-of-range", 4, "price_ending"),
        ("[month]", 'sku_prefix = "P G"\n[month]', "bad-code", 4, "sku_prefix"),
        ("[month]", 'colour_to_list = 4\n[month]', "unknown-key", 4, "colour_to_list"),
    ],
)  # fmt: skip
def test_one_mistake_in_the_settings(old: str, new: str, slug: str, line: int, field: str) -> None:
    error = complaint(old, new, SHOP)
    assert (error.slug, error.where.line, error.where.field) == (slug, line, field)


@pytest.mark.parametrize(
    ("old", "new", "slug", "line", "field"),
    [
        ('"12.5%"', '"125%"', "out-of-range", 10, "fees.rate"),
        ('"12.5%"', '"12,5%"', "wrong-type", 10, "fees.rate"),
        ('"families"', '"family"', "unknown-value", 7, "cap.counts"),
        ("families = true", "families = false", "unknown-value", 7, "cap.counts"),
        ("daily = 9", "daily = 0", "out-of-range", 8, "cap.daily"),
        ('"csv"', '"xls"', "unknown-value", 17, "sheet.kind"),
        ('"member"', '"members"', "unknown-value", 21, "sheet.columns.1.only_for"),
        ('fill = "{title}"', 'fil = "{title}"', "unknown-key", 20, "sheet.columns.0.fil"),
        ("max_chars = 80", "max_chars = 40_000", "out-of-range", 20, "sheet.columns.0.max_chars"),
        ("height_px = 1600", "height_px = 1600\nmin_side_px = 1601", "out-of-range", 16, _MIN),
        ("families = true", 'families = true\nworksheet = "a/b"', "out-of-range", 19, "sheet.worksheet"),
        ("families = true", 'families = true\nlines_above = ["a"]', "wrong-type", 19, "sheet.lines_above"),
        ("[extra]", "[extra]\nshelf = 3", "wrong-type", 24, "extra.shelf"),
        ('name = "Quayside Market"', 'name = "Quayside Market"\nblanks = [1]', "wrong-type", 3, "blanks"),
    ],
)  # fmt: skip
def test_one_mistake_in_a_channel(old: str, new: str, slug: str, line: int, field: str) -> None:
    error = complaint(old, new, CHANNEL)
    assert (error.slug, error.where.line, error.where.field) == (slug, line, field)


def test_text_that_is_not_toml_names_the_line() -> None:
    error = complaint("dpi = 300", "dpi = three hundred")
    assert (error.slug, error.where.line) == ("bad-toml", 10)
    unfinished = complaint('"A-2" = {', '"A-2" = { "')
    assert unfinished.slug == "bad-toml"


def test_all_mistakes_of_all_files_come_at_once_in_order() -> None:
    with pytest.raises(ShopError) as caught:
        read_catalogue(
            SHOP,
            {"blanks/b.toml": BLANK.replace("dpi = 300", "dpi = 3").replace("#f6f6f4", "pale")},
            {"channels/q.toml": CHANNEL.replace("daily = 9", "daily = -1")},
        )
    error = caught.value
    places = [(one.where.file, one.where.line) for one in (error, *error.others)]
    assert places == [("blanks/b.toml", 10), ("blanks/b.toml", 15), ("channels/q.toml", 8)]
    assert str(error).count("try:") == 3


def test_two_blanks_with_one_code_name_both_files() -> None:
    with pytest.raises(ShopError) as caught:
        read_catalogue(SHOP, {"blanks/a.toml": BLANK, "blanks/b.toml": BLANK.replace("GLASS", "Glass")}, {})
    error = caught.value
    assert (error.slug, error.where.file) == ("duplicate-code", "blanks/b.toml")
    assert "blanks/a.toml" in error.what


def test_a_channel_that_sells_an_unknown_blank_or_lacks_a_rate() -> None:
    market = CHANNEL.replace("[cap]", 'blanks = ["GLAS"]\n[cap]').replace("USD", "EUR")
    with pytest.raises(ShopError) as caught:
        read_catalogue(SHOP, {"blanks/a.toml": BLANK}, {"channels/q.toml": market})
    unknown, rate = caught.value, caught.value.others[0]
    assert (unknown.slug, unknown.fix) == ("unknown-value", 'did you mean "GLASS"?')
    assert (rate.slug, rate.where.field) == ("missing-rate", "currency")
    assert rate.fix == "look the rate up, and write it in shop.toml under [rates] as GBP-EUR"


def test_order_does_not_depend_on_how_the_files_were_found() -> None:
    other = BLANK.replace("GLASS", "ABLE")
    one = read_catalogue(SHOP, {"blanks/z.toml": BLANK, "blanks/a.toml": other}, {"channels/q.toml": CHANNEL})
    two = read_catalogue(SHOP, {"blanks/a.toml": other, "blanks/z.toml": BLANK}, {"channels/q.toml": CHANNEL})
    assert one == two
    assert [each.code for each in one.blanks] == ["ABLE", "GLASS"]


def test_colours_and_areas_whose_names_differ_in_capitals_only() -> None:
    with pytest.raises(ShopError) as caught:
        blank(BLANK.replace("two = {", "White = {").replace('colour = "two"', 'colour = "White"'))
    assert (caught.value.slug, caught.value.where.line) == ("duplicate-code", 16)
    area = "[areas.Wrap]\nwidth_px = 9\nheight_px = 9\ndpi = 300\n[body]"
    with pytest.raises(ShopError, match="differ in capitals only"):
        blank(BLANK.replace("[body]", area))


_TIERS, _BY = "fees.tiers", "destinations.home.collected_by"


def test_targets_and_postage_for_what_is_not_there_are_told() -> None:
    shop = SHOP.replace("[month]", 'targets = [ { blank = "GLAS", profit = "4.00" } ]\n[month]')
    blank_text = BLANK.replace("[body]", '[postage_to]\nhme = "2.00"\n[body]')
    market = CHANNEL + '\n[destinations.home]\ntax = "20%"\n'
    with pytest.raises(ShopError) as caught:
        read_catalogue(shop, {"blanks/a.toml": blank_text}, {"channels/q.toml": market})
    told = [(one.slug, one.where.field, one.fix) for one in (caught.value, *caught.value.others)]
    assert told == [
        ("unknown-value", "targets.0.blank", 'did you mean "GLASS"?'),
        ("unknown-value", "postage_to.hme", 'did you mean "home"?'),
    ]


@pytest.mark.parametrize(
    ("old", "new", "slug", "field"),
    [
        ('rate = "12.5%"', 'tiers = [ { upto = "5", rate = "9%" } ]', "out-of-range", "fees.tiers"),
        ('rate = "12.5%"', 'tiers = [ { rate = "9%" }, { upto = "5", rate = "8%" }]', "out-of-range", _TIERS),
        ('rate = "12.5%"', 'rate = "9%"\ntiers = [ { rate = "9%" } ]', "unknown-value", "fees.rate"),
        ('rate = "12.5%"', 'rate = "9%"\nmimimum = "0.10"', "unknown-key", "fees.mimimum"),
        ("[cap]", 'max_price = "5"\nmin_price = "6"\n[cap]', "out-of-range", "max_price"),
        ("[cap]", '[listing]\nexpected_sales = "0"\n[cap]', "out-of-range", "listing.expected_sales"),
        ("[cap]", '[listing]\nrenewal = "0.20"\n[cap]', "missing-key", "listing.renewal"),
        ("[cap]", '[returns.a]\nsales = "60%"\n[returns.b]\nsales = "40%"\n[cap]', "out-of-range", "returns"),
        ("[cap]", '[adverts]\nshare = "100%"\n[cap]', "out-of-range", "adverts.share"),
        ("[cap]", '[destinations.home]\ncollected_by = "seler"\n[cap]', "unknown-value", _BY),
    ],
)  # fmt: skip
def test_one_mistake_in_the_money_of_a_channel(old: str, new: str, slug: str, field: str) -> None:
    error = complaint(old, new, CHANNEL)
    assert (error.slug, error.where.field) == (slug, field)
