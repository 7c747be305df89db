"""Cloth goods by name.

Rest coordinates are the cloth's own: x to the right, y up, as the piece lies on a cutting table. They are
what print areas are measured in, so art follows every fold exactly.
"""

from collections.abc import Callable

from cushion import cushion
from sewn import Textile
from shirt import t_shirt
from tote import tote_bag
from towel import tea_towel

TEXTILES: dict[str, Callable[[], Textile]] = {
    "cushion": cushion, "tea-towel": tea_towel, "tote-bag": tote_bag, "t-shirt": t_shirt,
}  # fmt: skip
