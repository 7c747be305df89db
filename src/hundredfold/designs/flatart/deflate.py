"""What the PNG writer needs of DEFLATE (RFC 1951): Huffman codes for its symbols, bits packed into bytes."""

import heapq
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Words = NDArray[np.uint64]
Counts = NDArray[np.int64]

_LONGEST = 15  # bits of a code (RFC 1951, 3.2.7)
_ORDER = (16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15)  # 3.2.7
END_OF_BLOCK = 256


def code_lengths(counts: Sequence[int], longest: int = _LONGEST) -> list[int]:
    """Bits of each symbol's Huffman code, 0 for symbols that never come, none over ``longest``."""
    least = sum(counts) >> longest
    while True:
        # Rare symbols are taken for less rare until the tree is shallow enough.
        lengths = _huffman([max(count, least) if count else 0 for count in counts])
        if max(lengths) <= longest:
            return lengths
        least = 2 * least + 1


def _huffman(weights: Sequence[int]) -> list[int]:
    heap = [(weight, symbol) for symbol, weight in enumerate(weights) if weight]
    parents = list(range(len(weights)))
    heapq.heapify(heap)
    if len(heap) == 1:
        return [int(weight > 0) for weight in weights]
    while len(heap) > 1:
        first, a = heapq.heappop(heap)
        second, b = heap[0]
        parents[a] = parents[b] = len(parents)
        heapq.heapreplace(heap, (first + second, len(parents)))
        parents.append(len(parents))
    depths = [0] * len(parents)
    for node in range(len(parents) - 2, -1, -1):
        depths[node] = depths[parents[node]] + 1 if parents[node] != node else 0
    return depths[: len(weights)]


def codes(lengths: Sequence[int]) -> list[int]:
    """The canonical codes (RFC 1951, 3.2.2), bits reversed, as they are packed from the low end."""
    following, code = [0] * (_LONGEST + 2), 0
    per_length = [0] * (_LONGEST + 2)
    for length in lengths:
        per_length[length] += length > 0
    for bits in range(1, _LONGEST + 1):
        code = (code + per_length[bits - 1]) << 1
        following[bits] = code
    out = []
    for length in lengths:
        out.append(int(f"{following[length]:0{length}b}"[::-1], 2) if length else 0)
        following[length] += length > 0
    return out


def block_head(literals: Sequence[int], distances: Sequence[int]) -> list[tuple[int, int]]:
    """The head of a last block with codes of its own (RFC 1951, 3.2.7), as (value, bits)."""
    runs = _run_lengths([*literals, *distances])
    counts = [0] * 19
    for symbol, _, _ in runs:
        counts[symbol] += 1
    lengths = code_lengths(counts, 7)
    shown = max(4, 1 + max(place for place, symbol in enumerate(_ORDER) if lengths[symbol]))
    head = [(1, 1), (2, 2), (len(literals) - 257, 5), (len(distances) - 1, 5), (shown - 4, 4)]
    head += [(lengths[symbol], 3) for symbol in _ORDER[:shown]]
    words = codes(lengths)
    for symbol, extra, bits in runs:
        head.append((words[symbol], lengths[symbol]))
        if bits:
            head.append((extra, bits))
    return head


def _run_lengths(lengths: Sequence[int]) -> list[tuple[int, int, int]]:
    """Code lengths as symbols of the code for code lengths, each with its extra value and bits."""
    out: list[tuple[int, int, int]] = []
    at = 0
    while at < len(lengths):
        run = 1
        while at + run < len(lengths) and lengths[at + run] == lengths[at] and run < 138:
            run += 1
        if lengths[at] == 0 and run >= 11:
            out.append((18, run - 11, 7))
        elif lengths[at] == 0 and run >= 3:
            run = min(run, 10)
            out.append((17, run - 3, 3))
        else:
            run = 1
            out.append((lengths[at], 0, 0))
        at += run
    return out


def packed(values: Words, bits: Words) -> bytes:
    """Values of at most 57 bits after each other, each from its low end, filled up to a whole byte."""
    ends = np.cumsum(bits)
    offsets = ends - bits
    word, shift = (offsets >> np.uint64(6)).astype(np.int64), offsets & np.uint64(63)
    starts = np.flatnonzero(word[1:] != word[:-1]) + 1
    starts = np.concatenate([[0], starts])
    out = np.zeros(int(ends[-1] >> np.uint64(6)) + 2, dtype=np.uint64)
    out[word[starts]] = np.bitwise_or.reduceat(values << shift, starts)
    # Only the last value of a word reaches into the next. A shift by 64 is not defined: in two steps it is.
    last = np.concatenate([starts[1:] - 1, [len(word) - 1]])
    out[word[last] + 1] |= (values[last] >> np.uint64(1)) >> (np.uint64(63) - shift[last])
    return out.astype("<u8").tobytes()[: (int(ends[-1]) + 7) // 8]
