"""The sample is a clean shop; this listing is what it holds, so that a change to it is seen."""

from importlib import resources
from pathlib import Path

from hundredfold.workshop.shop.folder import open_shop

LISTING = """\
CUSHION       4 colours   4 of  4 variants  sublimation       front 470.1 x 470.1 mm
ENAMEL-MUG    6 colours   6 of  6 variants  sublimation       wrap 200.0 x 65.0 mm
MUG-325       8 colours   7 of  8 variants  sublimation       wrap 210.0 x 80.0 mm
MUG-445       8 colours   8 of  8 variants  uv                wrap 228.0 x 100.0 mm
MUG-TWO-TONE  7 colours   7 of  7 variants  sublimation       wrap 210.0 x 80.0 mm
SHOT-GLASS    3 colours   3 of  3 variants  sublimation       wrap 160.0 x 42.0 mm
T-SHIRT       9 colours  44 of 45 variants  direct-to-garment front-small 280.0 x 380.0 mm, front 300.0 x 400.0 mm
TEA-TOWEL     2 colours   2 of  2 variants  direct-to-garment front 400.0 x 550.0 mm
TOTE-BAG      5 colours   5 of  5 variants  direct-to-film    front 280.0 x 320.0 mm
TRAVEL-MUG    6 colours   5 of  6 variants  uv                front 75.0 x 90.0 mm
TUMBLER       5 colours  10 of 10 variants  sublimation       wrap-600 275.4 x 173.8 mm, wrap-880 306.2 x 201.2 mm
northfold xlsx, 60 rows a day, 19 columns, GBP
quayside csv, 9 families a day, 21 columns, USD
"""  # noqa: E501


def test_the_sample_holds_what_it_should_and_nothing_is_wrong_with_it() -> None:
    shop = open_shop(Path(str(resources.files("hundredfold") / "sample")))
    lines = []
    for blank in shop.blanks:
        areas = ", ".join(f"{a.name} {a.width_mm:.1f} x {a.height_mm:.1f} mm" for a in blank.areas)
        lines.append(
            f"{blank.code:13} {len(blank.colours)} colours  {len(blank.offered()):2} of "
            f"{len(blank.variants):2} variants  {blank.process.value:17} {areas}"
        )
    for channel in shop.channels:
        lines.append(
            f"{channel.code} {channel.sheet.kind.value}, {channel.daily_cap} {channel.cap_counts.value} "
            f"a day, {len(channel.sheet.columns)} columns, {channel.currency}"
        )
    assert "\n".join(lines) + "\n" == LISTING
    assert shop.findings == ()
