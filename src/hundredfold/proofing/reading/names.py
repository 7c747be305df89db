"""The measures each set of trees is asked about, in the order of its columns."""

SIZE_NAMES = ("height", "stroke", "letters", "purity", "clearance", "spread")
SHAPE_NAMES = ("parts", "stroke_spread", "gap", "fill", "edge", "level", "bounded", "relative_stroke")
COLOUR_NAMES = ("lightness", "difference", "ratio", "match", "signal", "noise", "ground_noise", "detail")
TEXT_NAMES = (*SHAPE_NAMES, "letters", "kind")
ROW_NAMES = (*SIZE_NAMES, *SHAPE_NAMES, *COLOUR_NAMES)
DESIGN_NAMES = (
    "chance", "log_odds", "least", "most", "rows", "other_layer", *ROW_NAMES,
    "least_height", "least_stroke", "text",
)  # fmt: skip
# More of these never lowers the chance that a row, or a design, is read.
ROW_RISING = ("height", "stroke", "lightness", "difference", "ratio", "match", "signal")
DESIGN_RISING = (
    "chance",
    "log_odds",
    "least",
    "most",
    "other_layer",
    *ROW_RISING,
    "least_height",
    "least_stroke",
)
