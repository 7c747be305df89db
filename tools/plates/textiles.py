"""Cloth goods by name.

Rest coordinates are the cloth's own: x to the right, y up, as the piece lies on a cutting table. They are
what print areas are measured in, so art follows every fold exactly.
"""

from collections.abc import Callable

from tools.plates.cushion import cushion
from tools.plates.sewn import Textile
from tools.plates.shirt import t_shirt
from tools.plates.tote import tote_bag
from tools.plates.towel import tea_towel

TEXTILES: dict[str, Callable[[], Textile]] = {
    "cushion": cushion, "tea-towel": tea_towel, "tote-bag": tote_bag, "t-shirt": t_shirt,
}  # fmt: skip
