"""Draw docs/pictures/goods.jpg: sample designs on sample goods, as the month pictures them.

python -m tools.draw_readme_picture
"""

from pathlib import Path

from hundredfold.designs.measure import ink_box
from hundredfold.mockups.contact import contact_sheet
from hundredfold.mockups.files import as_jpeg
from hundredfold.placement.layout import lay_out, usual_wish
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.steps.artwork import read_picture
from hundredfold.workshop.steps.plates import Pictures, Shot
from tools.sampleart.finished import sample_designs

SHOWN = (
    ("proud-beekeeper-honeycomb-bee-badge", "MUG-TWO-TONE", "yellow"),
    ("ringers-do-it-in-rounds-church-bell", "CUSHION", "duck-egg"),
    ("salty-and-slightly-blue-sea-swimmer", "T-SHIRT", "navy"),
    ("high-tide-good-vibes-anchor-sea-swimming", "ENAMEL-MUG", "white-red"),
    ("grown-not-bought-allotment-vegetables-label", "TEA-TOWEL", "natural"),
    ("muddy-boots-happy-heart-gardener-wellies", "TUMBLER", "white"),
    ("allotment-life-watering-can-arch", "TOTE-BAG", "natural"),
    ("compost-happens-wheelbarrow-allotment", "MUG-445", "navy"),
)
TARGET = Path(__file__).parents[1] / "docs" / "pictures" / "goods.jpg"


def main(folder: Path) -> None:
    """Make the sample shop aside, picture the chosen pairs, write the sheet."""
    shop = new_shop(folder / "shop", sample=True)
    art = dict(sample_designs())
    pictures = []
    for design, code, colour in SHOWN:
        name = f"{design}.svg"
        pixels = read_picture(art[name], name).pixels
        blank, ink = shop.blank(code), ink_box(pixels[:, :, 3])
        area = blank.areas[-1]
        layout = lay_out(ink, blank, area, usual_wish(blank))
        shot = Shot(blank, area, blank.colour(colour))
        pictures.append(Pictures(pixels).picture(shot, layout.placements))
    TARGET.parent.mkdir(parents=True, exist_ok=True)
    TARGET.write_bytes(as_jpeg(contact_sheet(pictures, columns=4, cell_px=420), max_bytes=400_000))
    print(TARGET)


if __name__ == "__main__":
    import tempfile

    with tempfile.TemporaryDirectory() as aside:
        main(Path(aside))
