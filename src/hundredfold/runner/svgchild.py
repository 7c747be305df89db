"""Foreign SVG to pixels: checked, then drawn by librsvg from memory in a child that can be killed."""

import atexit
import functools
import subprocess
import sys
import threading
import time
from dataclasses import dataclass
from typing import IO

import numpy as np
import psutil
from numpy.typing import NDArray

from hundredfold.designs.alpha import clear_hidden
from hundredfold.designs.flatart.reading import flat_spans
from hundredfold.designs.flatart.sparse_png import sparse_png
from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.runner.svgcheck import DEFAULT_LIMITS, CheckedSvg, SvgLimits, check_svg, svg_size
from hundredfold.runner.svgrender import ANSWER, REQUEST

Bytes = NDArray[np.uint8]

__all__ = ["ChildLimits", "SvgChild", "rasterise_png", "rasterise_svg", "svg_size"]

_WHOLE = (0.0, 0.0, 1.0, 1.0)


@dataclass(frozen=True)
class ChildLimits:
    """What one drawing may cost. Processor seconds, so that a busy machine refuses nothing it should take."""

    cpu_seconds: float = 20.0
    wall_seconds: float = 120.0
    memory_bytes: int = 1_500_000_000  # resident, watched
    address_bytes: int = 4_000_000_000  # address space, set by the system where it can


class SvgChild:
    """One drawing process, started when first needed, used for many drawings, replaced when killed."""

    def __init__(self, limits: ChildLimits = ChildLimits()) -> None:
        self._limits = limits
        self._process: subprocess.Popen[bytes] | None = None
        self._lock = threading.Lock()

    def __enter__(self) -> "SvgChild":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def draw(self, svg: bytes, width_px: int, height_px: int, name: str) -> Bytes:
        """Height x width x 4, straight alpha. Raises ShopError ``svg-too-slow`` or ``svg-damaged``."""
        body = self._answer(svg, width_px, height_px, False, name)
        return np.frombuffer(body, np.uint8).reshape(height_px, width_px, 4).copy()

    def draw_png(self, svg: bytes, width_px: int, height_px: int, name: str) -> bytes:
        """The same as a plain PNG, made in the child. Raises as ``draw``."""
        return self._answer(svg, width_px, height_px, True, name)

    def _answer(self, svg: bytes, width_px: int, height_px: int, as_png: bool, name: str) -> bytes:
        with self._lock:
            process = self._started()
            watch = _Watch(process, self._limits)
            try:
                drawn, body = _ask(process, svg, width_px, height_px, as_png)
            except (OSError, EOFError):
                self._end()
                raise _overrun(watch.reason, name) from None
            finally:
                watch.stop()
        if not drawn:
            reason = body.decode(errors="replace").splitlines() or ["no reason given"]
            raise ShopError(
                "svg-damaged",
                f"the drawing cannot be drawn ({reason[-1].strip()})",
                "open it in your drawing program and save it again as plain SVG",
                Where(name),
            )
        return body

    def close(self) -> None:
        """End the process; a later drawing starts another."""
        with self._lock:
            self._end()

    def _started(self) -> "subprocess.Popen[bytes]":
        if self._process is None or self._process.poll() is not None:
            self._end()
            command = [sys.executable, "-m", "hundredfold.runner.svgrender", str(self._limits.address_bytes)]
            try:
                self._process = subprocess.Popen(
                    command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
                )
            except OSError as error:
                raise ShopError(
                    "svg-child",
                    f"the process that draws SVG could not be started ({error.strerror})",
                    "free some memory and run again",
                    exit_code=ExitCode.TOOL_MISSING,
                ) from None
        return self._process

    def _end(self) -> None:
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                pipe.close()


class _Watch:
    """A thread that kills the process when one drawing costs too much, and remembers why."""

    def __init__(self, process: "subprocess.Popen[bytes]", limits: ChildLimits) -> None:
        self.reason = ""
        self._process = process
        self._limits = limits
        self._done = threading.Event()
        self._thread = threading.Thread(target=self._look, daemon=True)
        self._thread.start()

    def stop(self) -> None:
        self._done.set()
        self._thread.join()

    def _look(self) -> None:
        try:
            seen = psutil.Process(self._process.pid)
            cpu, start = sum(seen.cpu_times()[:2]), time.monotonic()
            while not self._done.wait(0.05):
                self.reason = self._overrun(sum(seen.cpu_times()[:2]) - cpu, time.monotonic() - start, seen)
                if self.reason:
                    self._process.kill()
                    return
        except psutil.Error:
            return  # it ended by itself; the reader sees the closed pipe

    def _overrun(self, cpu: float, wall: float, seen: psutil.Process) -> str:
        limits = self._limits
        if cpu > limits.cpu_seconds:
            return f"it took more than {limits.cpu_seconds:g} seconds of processor time"
        if wall > limits.wall_seconds:
            return f"it took more than {limits.wall_seconds:g} seconds"
        if seen.memory_info().rss > limits.memory_bytes:
            return f"it took more than {limits.memory_bytes // 1_000_000:,} MB of memory"
        return ""


@functools.cache
def _shared_child() -> SvgChild:
    child = SvgChild()
    atexit.register(child.close)
    return child


def rasterise_svg(
    data: bytes,
    width_px: int,
    height_px: int,
    crop: tuple[float, float, float, float] = _WHOLE,
    name: str = "",
    child: SvgChild | None = None,
    limits: SvgLimits = DEFAULT_LIMITS,
) -> Bytes:
    """Draw a part of a foreign SVG at an exact size: height x width x 4, sRGB, straight alpha.

    ``crop`` is (left, top, right, bottom) as shares of the drawing; the part is stretched to the size
    asked for. Raises ShopError as ``svgcheck.check_svg``, or ``svg-too-slow``.
    """
    markup = _framed(_checked(data, width_px, height_px, name, limits), crop, width_px, height_px)
    pixels = (child or _shared_child()).draw(markup, width_px, height_px, name)
    clear_hidden(pixels)
    return pixels


def rasterise_png(
    data: bytes,
    width_px: int,
    height_px: int,
    name: str = "",
    child: SvgChild | None = None,
    limits: SvgLimits = DEFAULT_LIMITS,
) -> bytes:
    """The whole drawing as a plain PNG, straight alpha. Raises as ``rasterise_svg``.

    Flat art, which most designs are, is drawn here, by its edges only; all else by the child.
    """
    markup = _framed(_checked(data, width_px, height_px, name, limits), _WHOLE, width_px, height_px)
    spans = flat_spans(markup, width_px, height_px)
    if spans is not None:
        return sparse_png(spans)
    return (child or _shared_child()).draw_png(markup, width_px, height_px, name)


def _checked(data: bytes, width_px: int, height_px: int, name: str, limits: SvgLimits) -> CheckedSvg:
    checked = check_svg(data, name, limits)
    most = limits.pictures
    if width_px * height_px > most.max_pixels or max(width_px, height_px) > most.max_side_px:
        raise ShopError(
            "art-too-large",
            f"{width_px:,} x {height_px:,} pixels are more than the {most.max_pixels:,} pixels or "
            f"{most.max_side_px:,} a side that are drawn",
            "use a smaller print area",
            Where(name),
        )
    return checked


def _framed(svg: CheckedSvg, crop: tuple[float, float, float, float], width_px: int, height_px: int) -> bytes:
    """The drawing inside an outer one whose view box is the wanted part: librsvg then draws only that."""
    left, top, right, bottom = crop
    box = (left * svg.width, top * svg.height, (right - left) * svg.width, (bottom - top) * svg.height)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_px}" height="{height_px}" '
        f'viewBox="{" ".join(repr(value) for value in box)}" preserveAspectRatio="none">'
    )
    return head.encode() + svg.markup + b"</svg>"


def _ask(
    process: "subprocess.Popen[bytes]", svg: bytes, width_px: int, height_px: int, as_png: bool
) -> tuple[bool, bytes]:
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write(REQUEST.pack(len(svg), width_px, height_px, as_png))
    process.stdin.write(svg)
    process.stdin.flush()
    drawn, size = ANSWER.unpack(_exactly(process.stdout, ANSWER.size))
    return bool(drawn), _exactly(process.stdout, size)


def _exactly(pipe: IO[bytes], size: int) -> bytes:
    data = pipe.read(size)
    if len(data) < size:
        raise EOFError
    return data


def _overrun(reason: str, name: str) -> ShopError:
    return ShopError(
        "svg-too-slow",
        f"drawing it was stopped: {reason or 'it used more memory than it may'}",
        "simplify the drawing (filters and repeated parts most of all), or export the design as PNG",
        Where(name),
    )
