"""A plate: the baked picture of a blank from one view, ready to take any art and colour."""

import io
import json
import struct
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Body, PrintArea
from hundredfold.designs.facts import Box
from hundredfold.kernel.errors import ShopError
from hundredfold.mockups.camera import Camera
from hundredfold.mockups.surface import ClothSheet, Side

Bytes = NDArray[np.uint8]
Single = NDArray[np.float32]
Floats = NDArray[np.float64]
Places = NDArray[np.intp]

FORMAT = 2
_SPLIT = ("response", "second_response", "bounce", "second_bounce")  # of goods in two colours


@dataclass(frozen=True)
class Plate:
    """Grey planes of eight bits (square roots of linear light) and the geometry they were made with.

    Linear light of a pixel is ``gloss + a (response + bounce a) + s (second_response + second_bounce s)
    + cross a s`` for body albedo ``a`` and second albedo ``s``. ``box`` is what the planes cover of the
    frame; ``shade`` and ``glow`` (what black goods take from the white table's light, and what lighter
    goods add) cover ``shade_box``. ``cover`` is the goods' share of a pixel, ``printable`` the printed
    side's, 0-255.
    """

    name: str
    view: str
    size_px: int
    camera: Camera
    surface: Side | ClothSheet
    box: Box
    shade_box: Box
    planes: Mapping[str, Bytes]
    peaks: Mapping[str, float]
    zoom: float = 1.0  # frame pixels for one of the baked picture's
    origin: tuple[float, float] = (0.0, 0.0)  # the frame's corner in the baked picture's pixels

    def linear(self, name: str, rows: slice = slice(None)) -> Single:
        """Rows of one plane in linear light, zeros where the plate has none of that name."""
        if name not in self.planes:
            return np.zeros((self.box.height, self.box.width), np.float32)[rows]
        return np.asarray(cv2.LUT(self.planes[name][rows], self.table(name)), np.float32)

    def spots(self, name: str, rows: Places, columns: Places) -> Single:
        """Single pixels of one plane in linear light, zeros where the plate has none of that name."""
        if name not in self.planes:
            return np.zeros(len(rows), np.float32)
        return np.asarray(self.table(name)[self.planes[name][rows, columns]], np.float32)

    def table(self, name: str) -> Single:
        """Linear light of a plane's 256 levels."""
        table = (np.arange(256, dtype=np.float64) / 255) ** 2 * self.peaks.get(name, 1.0)
        return np.asarray(table, np.float32)

    @property
    def two_tone(self) -> bool:
        """Whether a second colour shows on its own parts."""
        return "second_response" in self.planes

    def baked(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        """Pixels of the baked picture at frame pixels."""
        return self.origin[0] + x / self.zoom, self.origin[1] + y / self.zoom

    def area_map(self, area: PrintArea, body: Body, box: Box, per_pixel: int) -> tuple[Floats, Floats]:
        """Area pixels (x, y) under a grid of ``per_pixel`` points a side in each frame pixel of ``box``."""
        x, y = self.baked(
            *(
                start + (np.arange(count * per_pixel, dtype=np.float64) + 0.5) / per_pixel
                for start, count in ((box.left, box.width), (box.top, box.height))
            )
        )
        if isinstance(self.surface, ClothSheet):
            return self.surface.on_area(*self.surface.seen(x, y), area, body)
        across, down = np.meshgrid(x, y)
        angle, up = self.surface.seen(self.camera, across, down, self.size_px)
        return self.surface.on_area(angle, up, area, body)

    def closer(self, centre: tuple[float, float], zoom: float) -> "Plate":
        """The plate seen ``zoom`` times as close round a frame point; art stays as sharp as ever.

        The baked planes are enlarged (they are smooth); art is fetched through the enlarged geometry. Where
        two colours meet, light itself is enlarged: roots of it would not add up again in goods of one colour.
        """
        half = self.size_px / 2 / zoom
        corner = tuple(min(max(c - half, 0.0), self.size_px - 2 * half) for c in centre)
        moved = {name: self._enlarged(name, plane, corner, zoom) for name, plane in self.planes.items()}
        return replace(
            self,
            planes=moved,
            box=_window(self.box, corner, zoom, self.size_px),
            shade_box=_window(self.shade_box, corner, zoom, self.size_px),
            zoom=self.zoom * zoom,
            origin=(self.origin[0] + corner[0] / self.zoom, self.origin[1] + corner[1] / self.zoom),
        )

    def _enlarged(self, name: str, plane: Bytes, corner: tuple[float, ...], zoom: float) -> Bytes:
        box = self.shade_box if name in ("shade", "glow") else self.box
        new = _window(box, corner, zoom, self.size_px)
        # Pixel centres: new (n + 0.5) / zoom + corner = old (m + 0.5).
        shift = [
            ((start + 0.5) / zoom - 0.5) + corner[k] - old
            for k, (start, old) in enumerate(((new.left, box.left), (new.top, box.top)))
        ]
        matrix = np.array([[1 / zoom, 0, shift[0]], [0, 1 / zoom, shift[1]]])
        in_light = self.two_tone and name in _SPLIT
        source = plane.astype(np.float32) ** 2 if in_light else plane
        flags = cv2.WARP_INVERSE_MAP | (cv2.INTER_LINEAR if in_light else cv2.INTER_CUBIC)
        moved = cv2.warpAffine(
            source, matrix, (new.width, new.height), flags=flags, borderMode=cv2.BORDER_REPLICATE
        )
        return np.asarray(np.round(np.sqrt(moved)) if in_light else moved, np.uint8)


def _window(box: Box, corner: tuple[float, ...], zoom: float, size: int) -> Box:
    """A box of the old frame in the closer one, cut at its edges."""
    edges = [
        round((v - corner[k % 2]) * zoom) for k, v in enumerate((box.left, box.top, box.right, box.bottom))
    ]
    return Box(*(min(max(v, 0), size) for v in edges))


# What reading a damaged ZIP, its JSON and its pictures raises.
_DAMAGED = (
    zipfile.BadZipFile, zlib.error, struct.error, NotImplementedError, RuntimeError, EOFError, OSError,
    LookupError, ValueError, TypeError, AttributeError, OverflowError,
)  # fmt: skip


def read_plate(data: bytes, name: str = "plate") -> Plate:
    """A plate from its file's bytes. Raises ShopError ``bad-plate`` when it is damaged or too new."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            meta = json.loads(archive.read("meta.json"))
            images = {
                member[:-5]: _image(archive.read(member))
                for member in archive.namelist()
                if member.endswith(".webp")
            }
            warp = archive.read("warp.png") if "warp.png" in archive.namelist() else b""
        if meta["format"] != FORMAT:
            raise ValueError(f"format {meta['format']}")
        return _plate(meta, images, warp)
    except (*_DAMAGED, cv2.error) as problem:
        raise ShopError(
            "bad-plate", f"the picture plate {name} cannot be read ({problem})", "install hundredfold again"
        ) from problem


def _image(data: bytes) -> Bytes:
    image = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_GRAYSCALE)
    if image is None:
        raise ValueError("a plane does not decode")
    return image.astype(np.uint8, copy=False)


def _plate(meta: dict[str, Any], images: dict[str, Bytes], warp: bytes) -> Plate:
    camera = meta["camera"]
    return Plate(
        name=meta["name"],
        view=meta["view"],
        size_px=meta["size_px"],
        camera=Camera(tuple(camera["eye"]), tuple(camera["target"]), camera["fov_deg"], tuple(camera["up"])),
        surface=Side(**meta["side"]) if "side" in meta else _sheet(meta["cloth"], warp, meta["size_px"]),
        box=Box(*meta["box"]),
        shade_box=Box(*meta["shade_box"]),
        planes=images,
        peaks=meta["peaks"],
    )


def _sheet(cloth: dict[str, Any], warp: bytes, size: int) -> ClothSheet:
    coded = cv2.imdecode(np.frombuffer(warp, np.uint8), cv2.IMREAD_UNCHANGED)
    if coded is None:
        raise ValueError("the cloth map does not decode")
    half = coded.shape[0] // 2
    rise = np.stack([coded[:half], coded[half:]], -1) / 65535.0 * cloth["span"] + cloth["base"]
    corners = np.arange(half, dtype=np.float64) * cloth["stride"]
    x, y = np.meshgrid(corners, corners)
    trend = np.stack([x, y, np.ones_like(x), x * x, x * y, y * y], -1) @ np.asarray(cloth["trend"])
    anchor = cloth["anchor"]
    return ClothSheet(
        (rise + trend).astype(np.float32),
        cloth["stride"],
        anchor["x_mm"],
        anchor["y_mm"],
        anchor["from"] == "top",
    )
