"""Partners' words for forms, materials and processes in English, German, French, Spanish and Italian.

Common practice of price lists, no source. A bare "ceramic" or "glass" stands for the coated goods of the
trade: what takes no print is not sold for it, and the check of process and material has the last word.
"""

import unicodedata
from collections.abc import Mapping

_FORMS = {
    "mug": ("ceramic mug, coffee mug, tasse, becher, kaffeetasse, keramiktasse, mug ceramique, taza, tazza"),
    "enamel mug": (
        "emaille becher, emaillebecher, emailletasse, mug emaille, taza esmaltada, tazza smaltata"
    ),
    "tumbler": "skinny tumbler, gobelet, vaso, bicchiere",
    "shot glass": "schnapsglas, verre a shot, chupito, vaso de chupito, bicchierino",
    "travel mug": "thermobecher, mug isotherme, taza de viaje, tazza da viaggio",
    "cushion": (
        "pillow, cushion cover, kissen, kissenbezug, coussin, housse de coussin, cojin, cuscino, federa"
    ),
    "tea towel": "dish towel, geschirrtuch, torchon, pano de cocina, canovaccio, strofinaccio",
    "tote bag": "tote, shopper, bag, tasche, stoffbeutel, stofftasche, sac, tote-bag, bolsa, borsa",
    "t-shirt": "tee, t shirt, tshirt, shirt, camiseta, maglietta",
}
_MATERIALS = {
    "coated ceramic": "ceramic, keramik, ceramique, ceramica, porcelain, porzellan",
    "coated enamel": "enamel, emaille, email, esmalte, smalto",
    "coated steel": (
        "coated stainless steel, beschichteter stahl, acier revetu, acero recubierto, acciaio rivestito"
    ),
    "powder-coated steel": (
        "powder coated, powder coated steel, pulverbeschichtet, pulverbeschichteter stahl"
    ),
    "stainless steel": "steel, edelstahl, inox, acier inoxydable, acero inoxidable, acciaio inox",
    "coated glass": "glass, glas, verre, vidrio, vetro",
    "polyester": "100% polyester, poliester, poliestere",
    "cotton": (
        "100% cotton, baumwolle, 100% baumwolle, coton, 100% coton, algodon, 100% algodon, "
        "cotone, 100% cotone"
    ),
    "polycotton": "mischgewebe, polycoton, polialgodon, misto cotone",
    "linen": "leinen, lin, lino",
}
_PROCESSES = {
    "sublimation": "dye sublimation, sublimationsdruck, sublimacion, sublimazione",
    "direct-to-garment": (
        "dtg, direct to garment, digitaler direktdruck, textildirektdruck, impression directe"
    ),
    "direct-to-film": "dtf, direct to film, transferdruck",
    "uv": "uv print, uv-druck, uv druck, impression uv, impresion uv, stampa uv",
    "engraving": (
        "laser, laser engraving, gravur, lasergravur, gravure, gravure laser, grabado, "
        "grabado laser, incisione"
    ),
}
_KINDS: Mapping[str, Mapping[str, str]] = {"form": _FORMS, "material": _MATERIALS, "process": _PROCESSES}


def our_word(kind: str, theirs: str) -> str:
    """Our word for a partner's (``Tasse``: mug); theirs as it is where it is unknown."""
    wanted = _plain(theirs)
    for ours, words in _KINDS.get(kind, {}).items():
        if wanted == ours or wanted in words.split(", "):
            return ours
    return theirs


def _plain(text: str) -> str:
    spread = unicodedata.normalize("NFKD", " ".join(text.casefold().split()))
    return "".join(char for char in spread if not unicodedata.combining(char))
