"""Text direction: the levels of UAX 9 (Unicode 15), and the runs of a line in the order they are seen.

No permissively licensed library gives levels (only reordered strings), so the rules are here; Unicode's
own BidiCharacterTest judges them. A line is one paragraph without a paragraph separator inside.
"""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

_MAX_DEPTH = 125
_ISOLATES = ("LRI", "RLI", "FSI")
_EMBEDDINGS = {"RLE": (1, ""), "LRE": (0, ""), "RLO": (1, "R"), "LRO": (0, "L")}
_REMOVED = frozenset({"RLE", "LRE", "RLO", "LRO", "PDF", "BN"})
_NEUTRAL = frozenset({"B", "S", "WS", "ON", "LRI", "RLI", "FSI", "PDI"})
# Bidi_Paired_Bracket of Unicode 15.0, opening and closing in turn (BidiBrackets.txt).
_PAIRS = (
    "()[]{}\u0f3a\u0f3b\u0f3c\u0f3d\u169b\u169c\u2045\u2046\u207d\u207e\u208d\u208e\u2308\u2309\u230a\u230b"
    "\u2329\u232a\u2768\u2769\u276a\u276b\u276c\u276d\u276e\u276f\u2770\u2771\u2772\u2773\u2774\u2775\u27c5"
    "\u27c6\u27e6\u27e7\u27e8\u27e9\u27ea\u27eb\u27ec\u27ed\u27ee\u27ef\u2983\u2984\u2985\u2986\u2987\u2988"
    "\u2989\u298a\u298b\u298c\u298d\u2990\u298f\u298e\u2991\u2992\u2993\u2994\u2995\u2996\u2997\u2998\u29d8"
    "\u29d9\u29da\u29db\u29fc\u29fd\u2e22\u2e23\u2e24\u2e25\u2e26\u2e27\u2e28\u2e29\u2e55\u2e56\u2e57\u2e58"
    "\u2e59\u2e5a\u2e5b\u2e5c\u3008\u3009\u300a\u300b\u300c\u300d\u300e\u300f\u3010\u3011\u3014\u3015\u3016"
    "\u3017\u3018\u3019\u301a\u301b\ufe59\ufe5a\ufe5b\ufe5c\ufe5d\ufe5e\uff08\uff09\uff3b\uff3d\uff5b\uff5d"
    "\uff5f\uff60\uff62\uff63"
)
_CANONICAL = {"\u2329": "\u3008", "\u232a": "\u3009"}
_OPENING = {
    _CANONICAL.get(a, a): _CANONICAL.get(b, b) for a, b in zip(_PAIRS[::2], _PAIRS[1::2], strict=True)
}
_CLOSING = frozenset(_OPENING.values())


def visual_runs(text: str, direction: str = "") -> tuple[int, list[tuple[int, int, int]]]:
    """The paragraph's level and (start, end, level) for each run, from left to right as seen (L2)."""
    base, levels = embedding_levels(text, direction)
    return base, ordered_runs(base, levels)


def ordered_runs(base: int, levels: Sequence[int | None]) -> list[tuple[int, int, int]]:
    """(start, end, level) for each run of a line whose levels are known, from left to right as seen (L2)."""
    runs: list[tuple[int, int, int]] = []
    for index, level in enumerate(levels):
        if runs and (level is None or level == runs[-1][2]):
            runs[-1] = (runs[-1][0], index + 1, runs[-1][2])
        else:
            runs.append((index, index + 1, base if level is None else level))
    lowest_odd = min((level for *_, level in runs if level % 2), default=None)
    if lowest_odd is not None:
        for level in range(max(run[2] for run in runs), lowest_odd - 1, -1):
            _reverse_at_or_above(runs, level)
    return runs


def _reverse_at_or_above(runs: list[tuple[int, int, int]], level: int) -> None:
    at = 0
    while at < len(runs):
        end = at
        while end < len(runs) and runs[end][2] >= level:
            end += 1
        runs[at:end] = runs[at:end][::-1]
        at = end + 1


def embedding_levels(text: str, direction: str = "") -> tuple[int, list[int | None]]:
    """The paragraph level and each character's level; None for characters that X9 removes.

    ``direction`` is "ltr", "rtl", or "" to follow the first strong character.
    """
    original = [unicodedata.bidirectional(c) or "L" for c in text]
    matching = _matching_isolates(original)
    if direction:
        base = 1 if direction == "rtl" else 0
    else:
        base = _first_strong(original, 0, len(original), matching) or 0
    classes, levels = _explicit(original, base, matching)
    resolved = list(levels)
    for sequence in _isolating_sequences(original, levels, matching):
        for i, level in zip(
            sequence, _resolve(text, original, classes, levels, sequence, base, matching), strict=True
        ):
            resolved[i] = level
    levels = resolved
    _reset_trailing(original, levels, base)
    return base, [None if original[i] in _REMOVED else levels[i] for i in range(len(text))]


def _matching_isolates(classes: Sequence[str]) -> dict[int, int]:
    """Isolate initiator to its PDI (BD9), both ways."""
    pairs: dict[int, int] = {}
    open_at: list[int] = []
    for index, kind in enumerate(classes):
        if kind in _ISOLATES:
            open_at.append(index)
        elif kind == "PDI" and open_at:
            start = open_at.pop()
            pairs[start], pairs[index] = index, start
    return pairs


def _first_strong(classes: Sequence[str], start: int, end: int, matching: dict[int, int]) -> int | None:
    """P2 and P3: 0 or 1 by the first strong character outside isolates; None when there is none."""
    at = start
    while at < end:
        kind = classes[at]
        if kind in ("L", "R", "AL"):
            return 0 if kind == "L" else 1
        at = matching.get(at, end) if kind in _ISOLATES else at + 1
    return None


class _Status(NamedTuple):
    """An entry of the directional status stack."""

    level: int
    override: str = ""  # the class characters are given, if any
    isolate: bool = False


class _Statuses:
    """The directional status stack of X1 and what was opened beyond its depth."""

    def __init__(self, base: int) -> None:
        self._stack = [_Status(base)]
        self._lost_isolates = self._lost_embeddings = self._valid_isolates = 0

    @property
    def last(self) -> _Status:
        return self._stack[-1]

    def embed(self, odd: int, override: str) -> None:
        """X2 to X5: an embedding or an override opens."""
        if not self._push(_Status(self._next_level(odd), override)) and not self._lost_isolates:
            self._lost_embeddings += 1

    def isolate(self, odd: int) -> None:
        """X5a to X5c: an isolate opens."""
        if self._push(_Status(self._next_level(odd), isolate=True)):
            self._valid_isolates += 1
        else:
            self._lost_isolates += 1

    def end_isolate(self) -> None:
        """X6a: a PDI."""
        if self._lost_isolates:
            self._lost_isolates -= 1
        elif self._valid_isolates:
            self._lost_embeddings = 0
            while not self._stack.pop().isolate:
                pass
            self._valid_isolates -= 1

    def end_embedding(self) -> None:
        """X7: a PDF."""
        if self._lost_isolates:
            return
        if self._lost_embeddings:
            self._lost_embeddings -= 1
        elif not self.last.isolate and len(self._stack) > 1:
            self._stack.pop()

    def _next_level(self, odd: int) -> int:
        level = self.last.level + 1
        return level if level % 2 == odd else level + 1

    def _push(self, status: _Status) -> bool:
        fits = status.level <= _MAX_DEPTH and not self._lost_isolates and not self._lost_embeddings
        if fits:
            self._stack.append(status)
        return fits


def _explicit(original: Sequence[str], base: int, matching: dict[int, int]) -> tuple[list[str], list[int]]:
    """X1 to X8."""
    classes, levels = list(original), [base] * len(original)
    statuses = _Statuses(base)
    for i, kind in enumerate(original):
        if kind == "PDI":
            statuses.end_isolate()
        levels[i] = base if kind == "B" else statuses.last.level
        if kind not in _EMBEDDINGS and kind not in ("PDF", "B", "BN"):
            classes[i] = statuses.last.override or kind
        if kind in _EMBEDDINGS:
            statuses.embed(*_EMBEDDINGS[kind])
        elif kind in _ISOLATES:
            odd = {"RLI": 1, "LRI": 0}.get(kind)
            if odd is None:
                odd = _first_strong(original, i + 1, matching.get(i, len(original)), matching) or 0
            statuses.isolate(odd)
        elif kind == "PDF":
            statuses.end_embedding()
    return classes, levels


def _isolating_sequences(
    original: Sequence[str], levels: Sequence[int], matching: dict[int, int]
) -> list[list[int]]:
    """X10: level runs, chained across isolates, without the characters X9 removes."""
    runs: list[list[int]] = []
    for i, kind in enumerate(original):
        if kind in _REMOVED:
            continue
        if runs and levels[runs[-1][-1]] == levels[i]:
            runs[-1].append(i)
        else:
            runs.append([i])
    by_first = {run[0]: run for run in runs}
    sequences = []
    for run in runs:
        if original[run[0]] == "PDI" and run[0] in matching:
            continue  # continues an earlier run
        chain = list(run)
        while original[chain[-1]] in _ISOLATES and chain[-1] in matching:
            chain.extend(by_first[matching[chain[-1]]])
        sequences.append(chain)
    return sequences


def _resolve(
    text: str,
    original: Sequence[str],
    classes: Sequence[str],
    levels: Sequence[int],
    sequence: Sequence[int],
    base: int,
    matching: dict[int, int],
) -> list[int]:
    """The levels of one isolating run sequence by W1 to W7, N0 to N2 and I1 to I2."""
    level = levels[sequence[0]]
    before = sequence[0] - 1
    while before >= 0 and original[before] in _REMOVED:
        before -= 1
    after = sequence[-1] + 1
    while after < len(original) and original[after] in _REMOVED:
        after += 1
    open_ended = original[sequence[-1]] in _ISOLATES and sequence[-1] not in matching
    left = levels[before] if before >= 0 else base
    right = base if after >= len(original) or open_ended else levels[after]
    edges = tuple("R" if max(level, side) % 2 else "L" for side in (left, right))
    run = _Sequence(
        [classes[i] for i in sequence],
        [_CANONICAL.get(text[i], text[i]) for i in sequence],
        [original[i] for i in sequence],
        edges[0],
        edges[1],
        "R" if level % 2 else "L",
    )
    run.weak()
    run.brackets()
    run.neutral()
    raised = {"R": 1, "AN": 2, "EN": 2} if level % 2 == 0 else {"L": 1, "AN": 1, "EN": 1}
    return [level + raised.get(kind, 0) for kind in run.kinds]


@dataclass
class _Sequence:
    kinds: list[str]
    chars: list[str]
    original: list[str]
    start: str  # sos
    end: str  # eos
    embedding: str

    def weak(self) -> None:
        kinds = self.kinds
        previous = self.start
        for i, kind in enumerate(kinds):  # W1
            if kind == "NSM":
                kinds[i] = "ON" if previous in (*_ISOLATES, "PDI") else previous
            previous = kinds[i]
        strong = self.start
        for i, kind in enumerate(kinds):  # W2, W3
            if kind in ("L", "R", "AL"):
                strong = kind
            if kind == "EN" and strong == "AL":
                kinds[i] = "AN"
        kinds[:] = ["R" if kind == "AL" else kind for kind in kinds]
        for i in range(1, len(kinds) - 1):  # W4
            pair = (kinds[i - 1], kinds[i + 1])
            if kinds[i] == "ES" and pair == ("EN", "EN"):
                kinds[i] = "EN"
            elif kinds[i] == "CS" and pair in (("EN", "EN"), ("AN", "AN")):
                kinds[i] = pair[0]
        self._terminators()
        kinds[:] = ["ON" if kind in ("ES", "ET", "CS") else kind for kind in kinds]  # W6
        strong = self.start
        for i, kind in enumerate(kinds):  # W7
            if kind in ("L", "R"):
                strong = kind
            if kind == "EN" and strong == "L":
                kinds[i] = "L"

    def _terminators(self) -> None:  # W5
        kinds, at = self.kinds, 0
        while at < len(kinds):
            end = at
            while end < len(kinds) and kinds[end] == "ET":
                end += 1
            if end > at and "EN" in (kinds[at - 1] if at else "", kinds[end] if end < len(kinds) else ""):
                kinds[at:end] = ["EN"] * (end - at)
            at = max(end, at + 1)

    def brackets(self) -> None:  # N0
        for first, last in self._pairs():
            inside = {self._strong(i) for i in range(first + 1, last)} - {""}
            if self.embedding in inside:
                self._set_pair(first, last, self.embedding)
            elif inside:
                context = next((s for i in range(first - 1, -1, -1) if (s := self._strong(i))), self.start)
                self._set_pair(first, last, context if context in inside else self.embedding)

    def _strong(self, index: int) -> str:
        kind = self.kinds[index]
        return "R" if kind in ("R", "AN", "EN") else "L" if kind == "L" else ""

    def _pairs(self) -> list[tuple[int, int]]:  # BD16
        pairs: list[tuple[int, int]] = []
        waiting: list[tuple[str, int]] = []
        for i, char in enumerate(self.chars):
            if self.kinds[i] != "ON":
                continue
            if char in _OPENING:
                if len(waiting) == 63:
                    return []
                waiting.append((_OPENING[char], i))
            elif char in _CLOSING:
                depth = next((d for d in range(len(waiting) - 1, -1, -1) if waiting[d][0] == char), None)
                if depth is not None:
                    pairs.append((waiting[depth][1], i))
                    del waiting[depth:]
        return sorted(pairs)

    def _set_pair(self, first: int, last: int, kind: str) -> None:
        for index in (first, last):
            self.kinds[index] = kind
            follow = index + 1
            while follow < len(self.kinds) and self.original[follow] == "NSM":
                self.kinds[follow] = kind
                follow += 1

    def neutral(self) -> None:  # N1, N2
        kinds, at = self.kinds, 0
        while at < len(kinds):
            end = at
            while end < len(kinds) and kinds[end] in _NEUTRAL:
                end += 1
            if end > at:
                left = self._strong(at - 1) if at else self.start
                right = self._strong(end) if end < len(kinds) else self.end
                kinds[at:end] = [left if left == right else self.embedding] * (end - at)
            at = max(end, at + 1)


def _reset_trailing(original: Sequence[str], levels: list[int], base: int) -> None:
    """L1: separators, and the spaces before them or at the line's end, take the paragraph's level."""
    tail = True
    for i in range(len(original) - 1, -1, -1):
        kind = original[i]
        if kind in ("B", "S"):
            tail = True
        elif kind not in ("WS", *_ISOLATES, "PDI") and kind not in _REMOVED:
            tail = False
        if tail:
            levels[i] = base
