"""Spans as a PNG, without making the pixels: a long run costs a few bits, and nothing to look at.

Rows are unfiltered (PNG 9.2, type 0), so that a run of one colour is the same four bytes again and again.
A run is written as its first pixel and copies from four bytes before (RFC 1951, 3.2.5). What is clear is
zeros, and so are the filter bytes: clear runs go on from row to row.
"""

import struct
import zlib
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.flatart.cells import counted
from hundredfold.designs.flatart.deflate import (
    END_OF_BLOCK,
    Counts,
    Words,
    block_head,
    code_lengths,
    codes,
    packed,
)
from hundredfold.designs.flatart.spans import Spans

_MAGIC = b"\x89PNG\r\n\x1a\n"
_DISTANCES = (0, 0, 0, 1)  # bits of the distance codes: only code 3, distance 4, is used
_MOST_BITS = 11  # of a literal's code: five of them fit into one packed value
_LONGEST = 258  # bytes of a copy
_MODULUS = 65521  # of Adler-32 (RFC 1950)
# How a run ends after its full copies: nothing (0), a copy (its length), two copies for what is one or two
# bytes too long for one (_PAIR + 1, + 2), or one or two zeros (_ZEROS + 1, + 2).
_PAIR, _ZEROS, _TAILS = 260, 264, 267


def sparse_png(spans: Spans) -> bytes:
    """A plain PNG, 8 bits a channel with alpha."""
    head = struct.pack(">IIBBBBB", spans.width, spans.height, 8, 6, 0, 0, 0)
    body = b"\x78\x01" + _deflated(_runs(spans)) + struct.pack(">I", _adler(spans))
    return b"".join([_MAGIC, _chunk(b"IHDR", head), _chunk(b"IDAT", body), _chunk(b"IEND", b"")])


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(body, zlib.crc32(name)))


def _adler(spans: Spans) -> int:
    """Adler-32 of the rows with their filter bytes, which are zeros: run by run in closed form."""
    total = spans.height * (4 * spans.width + 1)
    count = spans.lengths
    before = 4 * spans.starts + np.cumsum(spans.opens)
    red, green, blue, alpha = (spans.pixels[:, byte].astype(np.int64) for byte in range(4))
    each = red + green + blue + alpha
    low = 1 + int(each @ count)
    # Each byte counts as often as there are bytes from it to the end: a pixel's first byte so often, the
    # second, third and fourth once, twice and three times less.
    weight = count * (total - before - 2 * (count - 1)) % _MODULUS
    late = green + 2 * blue + 3 * alpha
    high = total + int(each @ weight) - int(late @ count)
    return (high % _MODULUS) << 16 | low % _MODULUS


@dataclass(frozen=True, eq=False)
class _Runs:
    """Runs of the stream: a filter byte where ``opens``, the first pixel, full copies, and a tail."""

    opens: NDArray[np.bool_]
    pixels: NDArray[np.uint8]
    full: Counts
    tails: Counts


def _runs(spans: Spans) -> _Runs:
    clear = spans.packed == 0
    joins = clear[1:] & clear[:-1]
    at = np.concatenate([[0], np.flatnonzero(~joins) + 1])
    copied = 4 * spans.lengths + (spans.opens & clear)
    copied = (np.add.reduceat(copied, at) if joins.any() else copied) - 4
    full = copied // _LONGEST
    tails = copied - full * _LONGEST
    short = (tails == 1) | (tails == 2)
    pairs = short & (full > 0)
    tails[short] += np.where(pairs, _PAIR, _ZEROS)[short]
    pixels = spans.packed[at].view(np.uint8).reshape(-1, 4)
    return _Runs((spans.opens & ~clear)[at], pixels, full - pairs, tails)


def _deflated(runs: _Runs) -> bytes:
    """One block with codes of its own."""
    tails = _tail_symbols()
    counts = np.zeros(286, dtype=np.int64)
    counts[:256] = np.bincount(runs.pixels.ravel(), minlength=256)
    counts[0] += np.count_nonzero(runs.opens)
    counts[285] += int(runs.full.sum())
    for tail, times in enumerate(np.bincount(runs.tails, minlength=_TAILS)):
        for symbol, _, _ in tails[tail]:
            counts[symbol] += times
    counts[END_OF_BLOCK] = 1
    lengths = code_lengths(counts.tolist(), _MOST_BITS)
    words = codes(lengths)
    head = block_head(lengths, _DISTANCES)
    values, bits = _body(runs, tails, np.array(words, np.uint64), np.array(lengths, np.uint64))
    return packed(
        np.concatenate([np.array([v for v, _ in head], np.uint64), values, [np.uint64(words[END_OF_BLOCK])]]),
        np.concatenate([np.array([b for _, b in head], np.uint64), bits, [np.uint64(lengths[END_OF_BLOCK])]]),
    )


def _body(
    runs: _Runs, tails: list[tuple[tuple[int, int, int], ...]], words: Words, lengths: Words
) -> tuple[Words, Words]:
    """Every run as packed values: its pixel, its full copies, several to a value, and its tail."""
    copy_bits = int(lengths[285]) + 1  # with its distance, which is one zero bit
    step = 57 // copy_bits
    long = np.flatnonzero(runs.full)
    chunks = np.zeros(len(runs.full), dtype=np.int64)
    chunks[long] = -(-runs.full[long] // step)
    ending = np.flatnonzero(runs.tails)
    units = 1 + chunks
    units[ending] += 1
    at = np.cumsum(units) - units
    values = np.empty(int(at[-1] + units[-1]), dtype=np.uint64)
    bits = np.empty(len(values), dtype=np.uint64)
    values[at], bits[at] = _literals(runs, words, lengths)
    which, place = counted(at[long] + 1, chunks[long])
    copies = np.minimum(runs.full[long][which] - (place - at[long][which] - 1) * step, step)
    several = [sum(int(words[285]) << copy_bits * k for k in range(n)) for n in range(step + 1)]
    values[place], bits[place] = np.array(several, np.uint64)[copies], copies * copy_bits
    place = (at + chunks)[ending] + 1
    shown = [_joined(tail, words, lengths) for tail in tails]
    tail = runs.tails[ending]
    values[place] = np.array([value for value, _ in shown], np.uint64)[tail]
    bits[place] = np.array([length for _, length in shown], np.uint64)[tail]
    return values, bits


def _literals(runs: _Runs, words: Words, lengths: Words) -> tuple[Words, Words]:
    """The filter byte, where a row opens, and the four bytes of the pixel, as one value."""
    # Bytes go two and two: half the look-ups, in tables that still lie in the processor's cache.
    first, second = np.meshgrid(np.arange(256), np.arange(256), copy=False)
    pairs = (words[first] | words[second] << lengths[first]).ravel()
    bits_of = (lengths[first] + lengths[second]).ravel()
    low, high = runs.pixels.view("<u2").T
    bits = bits_of[low]
    values = pairs[low] | pairs[high] << bits
    bits += bits_of[high]
    opens = np.flatnonzero(runs.opens)
    values[opens] = values[opens] << lengths[0] | words[0]
    bits[opens] += lengths[0]
    return values, bits


def _joined(tail: tuple[tuple[int, int, int], ...], words: Words, lengths: Words) -> tuple[int, int]:
    value = bits = 0
    for symbol, extra, extra_bits in tail:
        value |= int(words[symbol]) << bits
        bits += int(lengths[symbol])
        value |= extra << bits
        bits += extra_bits
    return value, bits


def _tail_symbols() -> list[tuple[tuple[int, int, int], ...]]:
    """For each kind of tail its symbols, with the value and count of the bits after each."""
    tails: list[tuple[tuple[int, int, int], ...]] = [()] * _TAILS
    for length in range(3, _LONGEST):
        tails[length] = (_copy(length),)
    for over in (1, 2):
        tails[_PAIR + over] = (_copy(_LONGEST + over - 4), _copy(4))
        tails[_ZEROS + over] = ((0, 0, 0),) * over
    return tails


def _copy(length: int) -> tuple[int, int, int]:
    """A copy's symbol and the bits after it (RFC 1951, 3.2.5), the last of them its distance: one zero."""
    if length < 11:
        return 254 + length, 0, 1
    extra = (length - 3).bit_length() - 3
    return 261 + 4 * extra + ((length - 3 >> extra) - 4), (length - 3) & ((1 << extra) - 1), extra + 1
