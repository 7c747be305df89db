"""Which goods are baked, and from where each is seen."""

from dataclasses import dataclass


@dataclass(frozen=True)
class View:
    """One picture of one blank: which way it is turned, from where, how large in the frame."""

    name: str
    turn_deg: float = 0.0  # the goods' own turn about the upright axis
    elevation_deg: float = 13.0
    azimuth_deg: float = 0.0
    share: float = 0.84


ROUND = {
    "mug-325": ("mug", (41.0, 95.0)),
    "mug-445": ("mug", (43.5, 118.0)),
    "enamel-mug": ("enamel_mug", (43.0, 80.0)),
    "tumbler-600": ("tumbler", (44.0, 36.0, 178.0, 12.0, 165.0)),
    "tumbler-880": ("tumbler", (49.0, 38.0, 206.0, 12.0, 190.0)),
    "shot-glass": ("shot_glass", (29.857, 24.5, 50.0, 58.0, 2.0)),
    "travel-mug": ("travel_mug", (40.0, 170.0)),
}
HANDLED = (View("handle-right", 0.0), View("handle-left", 180.0))
UPRIGHT = (View("front", 90.0, 9.0),)
VIEWS: dict[str, tuple[View, ...]] = {
    "mug-325": HANDLED, "mug-445": HANDLED, "enamel-mug": HANDLED,
    "tumbler-600": UPRIGHT, "tumbler-880": UPRIGHT, "travel-mug": UPRIGHT,
    "shot-glass": (View("front", 90.0, 15.0),),
    "cushion": (View("front", elevation_deg=8.0),),
    "tea-towel": (View("front", elevation_deg=89.99),),
    "tote-bag": (View("front", elevation_deg=89.99),),
    "t-shirt": (View("front", elevation_deg=89.99),),
}  # fmt: skip
