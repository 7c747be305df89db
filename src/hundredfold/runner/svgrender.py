"""The child process that draws foreign SVG: reads requests from standard input, answers on standard output.

Run as ``python -m hundredfold.runner.svgrender BYTES``; started, watched and killed by ``runner.svgchild``.
It imports as little as it can, so that a killed one is replaced quickly.
"""

import struct
import sys
from typing import BinaryIO

import pyvips

REQUEST = struct.Struct(">QII?")  # bytes of SVG that follow, width, height, as a PNG?
ANSWER = struct.Struct(">?Q")  # drawn?, bytes that follow: RGBA rows or a PNG, or the reason


def draw(svg: bytes, width: int, height: int, as_png: bool = False) -> bytes:
    """RGBA rows, straight alpha, or a plain PNG of them.

    Raises pyvips.Error for what it cannot read, ValueError on a wrong size.
    """
    # 96 dots an inch as CSS has it; the scale takes back that libvips counts a pixel as a point.
    image = pyvips.Image.svgload_buffer(svg, dpi=96, scale=0.75)
    if (image.width, image.height, image.bands, image.format) != (width, height, 4, "uchar"):
        raise ValueError(
            f"drew {image.width} x {image.height} x {image.bands} instead of {width} x {height} x 4"
        )
    if as_png:
        # Strip by strip: the whole picture is never in memory, which halves the time.
        return bytes(image.pngsave_buffer(compression=2, filter="none", keep="none"))
    return bytes(image.write_to_memory())


def serve(requests: BinaryIO, answers: BinaryIO) -> None:
    """Answer until the pipe closes."""
    while len(head := requests.read(REQUEST.size)) == REQUEST.size:
        size, width, height, as_png = REQUEST.unpack(head)
        try:
            drawn, body = True, draw(requests.read(size), width, height, as_png)
        except (pyvips.Error, ValueError, MemoryError) as error:
            drawn, body = False, str(error).strip().encode()
        answers.write(ANSWER.pack(drawn, len(body)))
        answers.write(body)
        answers.flush()


def limit_memory(most_bytes: int) -> None:
    """Cap the address space where the system can; elsewhere the parent watches resident memory."""
    try:
        import resource
    except ImportError:
        return
    try:
        resource.setrlimit(resource.RLIMIT_AS, (most_bytes, most_bytes))
    except (ValueError, OSError):
        return


if __name__ == "__main__":
    pyvips.cache_set_max(0)
    pyvips.concurrency_set(1)
    limit_memory(int(sys.argv[1]))
    serve(sys.stdin.buffer, sys.stdout.buffer)
