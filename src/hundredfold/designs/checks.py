"""What may be found while designs are made of layouts and words, as plain data."""

from hundredfold.kernel.checks import COMMON, CheckRecord
from hundredfold.kernel.findings import Severity

ROW = CheckRecord(
    id="words/row",
    title="Every row of a word list makes a finished design.",
    looks_at="one row of a word list, filled into one layout",
    why="A row with an empty cell, a letter the font does not have or more words than fit would print as "
    "a gap, a box or a line too small to read. It is better left out than sold.",
    example='The row "Champion of the Allotment and of Everything Else That Grows" in a slot of two short '
    "lines.",
    fix="Mend the cell the finding names; for a font, a picture or the layout itself, mend that.",
    known_limits="Judges the text as it is set. Whether the design reads on goods is the proof's question.",
    source="the layout's own limits and its fonts; the smallest type is " + COMMON,
    codes={
        # The cells.
        "empty-cell": Severity.STOP,
        "line-break": Severity.STOP,
        "control-character": Severity.STOP,
        "direction-mark": Severity.STOP,
        "emoji": Severity.STOP,
        "too-long": Severity.STOP,
        # Words and pictures in the layout.
        "no-room": Severity.STOP,
        "missing-glyph": Severity.STOP,
        # How it came out.
        "off-page": Severity.WARN,
        "too-small": Severity.WARN,
        "over-shrunk": Severity.WARN,
        "hierarchy": Severity.WARN,
        "small-words-shout": Severity.WARN,
        "overlap": Severity.WARN,
        "crosses": Severity.WARN,
        "letters-touch": Severity.WARN,
        "closed-letters": Severity.WARN,
        "uneven-list": Severity.NOTE,
        "stranded-word": Severity.NOTE,
        "ragged": Severity.NOTE,
        "other-face": Severity.NOTE,
        "not-kept": Severity.NOTE,
        # Pictures and what the layout itself says.
        "bad-art": Severity.STOP,
        "no-palette": Severity.STOP,
        "bad-colour": Severity.STOP,
        "bad-layout": Severity.STOP,
        "bad-slot": Severity.STOP,
        "bad-path": Severity.STOP,
        # The drawing of the finished SVG.
        "art-too-large": Severity.STOP,
        "svg-child": Severity.STOP,
        "svg-damaged": Severity.STOP,
        "svg-too-slow": Severity.STOP,
    },
)
