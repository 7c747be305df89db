"""Spans: stretches of a text with a style of their own, marked inside the text so that they survive case,
breaks
and fitting.

A span is marked with two of Unicode's noncharacters, which are there for a program's own use and never in a
seller's text: one for the style that starts, one for the end.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from hundredfold.designs.typesetting.fonts import Font

_FIRST, _END = 0xFDD0, "\ufdef"
MOST = 16
_MARKS = re.compile("[\ufdd0-\ufdef]")
_EMPHASIS = re.compile(r"(?<![\w*\\])\*(?![\s*])([^*]*?)(?<![\s*])\*(?![\w*])")


@dataclass(frozen=True)
class Face:
    """How the letters of a span are set: their fonts, a share of the text's size, and a lean (its
    tangent)."""

    fonts: Sequence[Font]
    scale: float = 1.0
    lean: float = 0.0


def marked(text: str, style: int) -> str:
    """The text as a span of that style, 1 to ``MOST``."""
    return f"{chr(_FIRST + style)}{text}{_END}" if text else ""


def emphasised(text: str) -> str:
    """A cell's ``*words*`` as spans of style 1; a star between letters or figures stays a star."""
    if "*" not in text:
        return text
    return _EMPHASIS.sub(lambda found: marked(found.group(1), 1), text).replace("\\*", "*")


def plain(text: str) -> str:
    """The text without its marks."""
    return _MARKS.sub("", text)


def read_marks(text: str) -> tuple[str, list[int]]:
    """The text without its marks, and the style of each of its characters; 0 for the text's own."""
    if not _MARKS.search(text):
        return text, [0] * len(text)
    chars, styles = [], []
    open_styles = [0]
    for char in text:
        if char == _END:
            if len(open_styles) > 1:
                open_styles.pop()
        elif _FIRST <= ord(char) < _FIRST + MOST + 1:
            open_styles.append(ord(char) - _FIRST)
        else:
            chars.append(char)
            styles.append(open_styles[-1])
    return "".join(chars), styles


def remarked(pieces: Sequence[str], styles: Sequence[int]) -> list[str]:
    """Pieces of a plain text with each span marked within its piece, and no mark about a space at its end."""
    out, at = [], 0
    for piece in pieces:
        body = piece.rstrip()
        text, run, style = "", "", 0
        for offset, char in enumerate(body):
            here = styles[at + offset]
            if here != style:
                text, run, style = text + (marked(run, style) if style else run), "", here
            run += char
        out.append(text + (marked(run, style) if style else run) + piece[len(body) :])
        at += len(piece)
    return out
