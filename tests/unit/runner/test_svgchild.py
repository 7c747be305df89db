"""The drawing child: right pixels, limits that bite, and work that goes on after one was killed."""

import io
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.svgchild import ChildLimits, SvgChild, rasterise_png, rasterise_svg
from hundredfold.runner.svgrender import draw

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" '
SQUARE = (HEAD + 'viewBox="0 0 20 10"><rect x="10" width="10" height="10" fill="#c81e28"/></svg>').encode()


@pytest.fixture(scope="module")
def child() -> Iterator[SvgChild]:
    with SvgChild() as one:
        yield one


def test_drawn_at_the_size_asked_for(child: SvgChild) -> None:
    pixels = rasterise_svg(SQUARE, 40, 20, child=child)
    assert pixels.shape == (20, 40, 4)
    assert (pixels[:, 20:] == (200, 30, 40, 255)).all()
    assert not pixels[:, :20].any()


def test_a_part_is_drawn_as_if_cut_from_the_whole(child: SvgChild) -> None:
    whole = rasterise_svg(SQUARE, 400, 200, child=child)
    part = rasterise_svg(SQUARE, 100, 100, (0.375, 0.25, 0.625, 0.75), child=child)
    assert np.array_equal(part, whole[50:150, 150:250])


def test_lengths_in_inches_are_96_pixels(child: SvgChild) -> None:
    data = (HEAD + 'width="2in" height="1in"><rect width="1in" height="1in"/></svg>').encode()
    pixels = rasterise_svg(data, 192, 96, child=child)
    assert (pixels[:, :96, 3] == 255).all()
    assert not pixels[:, 96:].any()


def test_half_transparent_ink_is_straight(child: SvgChild) -> None:
    data = (
        HEAD + 'viewBox="0 0 4 4"><rect width="4" height="4" fill="#c81e28" opacity="0.5"/></svg>'
    ).encode()
    found = rasterise_svg(data, 4, 4, child=child)[1, 1].astype(int)
    assert np.abs(found - (200, 30, 40, 128)).max() <= 1


def heavy() -> bytes:
    steps = '<feTurbulence baseFrequency="0.05" numOctaves="200"/>' * 40
    body = f'<filter id="f">{steps}</filter><rect filter="url(#f)" width="90" height="60"/>'
    return (HEAD + f'viewBox="0 0 90 60">{body}</svg>').encode()


def test_a_filter_bomb_is_stopped_and_the_next_drawing_works() -> None:
    with SvgChild(ChildLimits(cpu_seconds=0.4)) as child:
        with pytest.raises(ShopError) as caught:
            rasterise_svg(heavy(), 3000, 2000, name="bomb.svg", child=child)
        assert caught.value.slug == "svg-too-slow"
        assert "0.4 seconds of processor time" in caught.value.what
        assert rasterise_svg(SQUARE, 40, 20, child=child).shape == (20, 40, 4)


def test_too_much_memory_is_stopped() -> None:
    with SvgChild(ChildLimits(memory_bytes=120_000_000)) as child, pytest.raises(ShopError) as caught:
        rasterise_svg(heavy(), 9000, 6000, name="fat.svg", child=child)
    assert caught.value.slug in ("svg-too-slow", "svg-damaged")
    assert "memory" in caught.value.what


def test_one_process_draws_many() -> None:
    with SvgChild() as child:
        first = rasterise_svg(SQUARE, 40, 20, child=child)
        started = child._process
        assert all(np.array_equal(rasterise_svg(SQUARE, 40, 20, child=child), first) for _ in range(5))
        assert child._process is started
        assert started is not None
    assert started.poll() is not None


def test_a_child_that_died_by_itself_is_replaced() -> None:
    with SvgChild() as child:
        rasterise_svg(SQUARE, 4, 2, child=child)
        assert child._process is not None
        child._process.kill()
        child._process.wait()
        assert rasterise_svg(SQUARE, 40, 20, child=child).shape == (20, 40, 4)


def test_too_many_pixels_are_refused_before_drawing(child: SvgChild) -> None:
    with pytest.raises(ShopError) as caught:
        rasterise_svg(SQUARE, 40_000, 20_000, child=child)
    assert caught.value.slug == "art-too-large"


def test_even_unchecked_the_renderer_opens_no_file(tmp_path: Path) -> None:
    """Second line of defence: drawn from memory, librsvg has no folder to look in."""
    Image.new("RGB", (8, 8), (200, 30, 40)).save(tmp_path / "near.png")
    body = f'viewBox="0 0 8 8"><image href="{(tmp_path / "near.png").as_uri()}" width="8" height="8"/></svg>'
    assert draw((HEAD + body).encode(), 8, 8) == bytes(8 * 8 * 4)


def test_a_png_from_the_child_holds_the_same_pixels(child: SvgChild) -> None:
    drawn = np.asarray(Image.open(io.BytesIO(rasterise_png(SQUARE, 90, 45, child=child))))
    assert np.array_equal(drawn, rasterise_svg(SQUARE, 90, 45, child=child))
