"""How a mark meets a blank, and which materials can take it."""

from enum import StrEnum


class Process(StrEnum):
    """A decoration process."""

    SUBLIMATION = "sublimation"
    DTG = "direct-to-garment"
    DTF = "direct-to-film"
    UV = "uv"
    ENGRAVING = "engraving"


class Material(StrEnum):
    """What a blank's decorated surface is made of; coatings count as the surface."""

    COATED_CERAMIC = "coated ceramic"
    COATED_ENAMEL = "coated enamel"
    COATED_STEEL = "coated steel"
    POWDER_COATED_STEEL = "powder-coated steel"
    STAINLESS_STEEL = "stainless steel"
    COATED_GLASS = "coated glass"
    POLYESTER = "polyester"
    COTTON = "cotton"
    POLYCOTTON = "polycotton"
    LINEN = "linen"


FABRIC = frozenset({Material.POLYESTER, Material.COTTON, Material.POLYCOTTON, Material.LINEN})

# Common practice, no source: dye sublimation bonds to polyester or a polyester coating only; DTG inks are
# made for cotton-rich cloth; film transfers take to any cloth; UV ink to rigid goods; a laser marks a
# coat or metal.
TAKES: dict[Process, frozenset[Material]] = {
    Process.SUBLIMATION: frozenset(
        {
            Material.COATED_CERAMIC,
            Material.COATED_ENAMEL,
            Material.COATED_STEEL,
            Material.COATED_GLASS,
            Material.POLYESTER,
        }
    ),
    Process.DTG: frozenset({Material.COTTON, Material.POLYCOTTON, Material.LINEN}),
    Process.DTF: frozenset({Material.COTTON, Material.POLYCOTTON, Material.LINEN, Material.POLYESTER}),
    Process.UV: frozenset(
        {
            Material.COATED_CERAMIC,
            Material.COATED_ENAMEL,
            Material.COATED_STEEL,
            Material.POWDER_COATED_STEEL,
            Material.STAINLESS_STEEL,
            Material.COATED_GLASS,
        }
    ),
    Process.ENGRAVING: frozenset({Material.POWDER_COATED_STEEL, Material.STAINLESS_STEEL}),
}


def material_takes(process: Process, material: Material) -> bool:
    """Whether the process can mark the material at all."""
    return material in TAKES[process]
