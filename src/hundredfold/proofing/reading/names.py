"""The measures each set of trees is asked about, in the order of its columns."""

SIZE_NAMES = ("height", "stroke", "letters", "purity", "clearance", "spread")
SHAPE_NAMES = ("parts", "stroke_spread", "gap", "fill", "edge", "level", "bounded", "relative_stroke")
COLOUR_NAMES = (
    "lightness", "difference", "ratio", "near_lightness", "near_difference", "match", "signal", "noise",
    "ground_noise", "detail",
)  # fmt: skip
TEXT_NAMES = (*SHAPE_NAMES, "letters", "kind")
ROW_NAMES = (*SIZE_NAMES, *SHAPE_NAMES, *COLOUR_NAMES)
# Of a line's silhouette: the letters with their outline, where there is one.
OUTER_NAMES = (
    "stroke", "purity", "clearance", "parts", "fill", "edge", "lightness", "difference", "match", "signal",
    "noise",
)  # fmt: skip
LINE_NAMES = (*ROW_NAMES, *(f"outer_{name}" for name in OUTER_NAMES), "outlined")
DESIGN_NAMES = (
    "chance", "log_odds", "least", "most", "lines", *LINE_NAMES, "least_height", "least_stroke", "text",
)  # fmt: skip
# More of these never lowers the chance that a line, or a design, is read.
LINE_RISING = ("height", "lightness", "difference", "ratio", "near_lightness", "near_difference")
DESIGN_RISING = ("chance", "log_odds", "least", "most", *LINE_RISING, "least_height")
