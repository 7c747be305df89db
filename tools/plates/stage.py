"""The photographer's table: floor, lights, materials and framing, shared by every plate.

Everything on the stage is neutral grey, so one colour render holds three albedos of the goods at once:
red 0, green 0.4 and blue 0.8 (or another triple).
"""

from typing import Any

import mitsuba as mi
import numpy as np
from numpy.typing import NDArray

from hundredfold.mockups.camera import Camera

Floats = NDArray[np.float64]
FLOOR = 0.80  # albedo of the white table
Panel = tuple[tuple[float, float, float], float, float, float, float]  # place, width, height, power, edge


def neutral(value: float) -> dict[str, Any]:
    """A grey reflectance."""
    return {"type": "rgb", "value": [value] * 3}


def bsdf(entry: dict[str, Any]) -> Any:
    """A loaded material."""
    return mi.load_dict(entry)


def shape(mesh: Any, material: dict[str, Any], name: str) -> Any:
    """A Mitsuba mesh from points, normals, faces and optional uv, with its material."""
    props = mi.Properties()
    props["bsdf"] = bsdf(material)
    made = mi.Mesh(
        name,
        len(mesh.points),
        len(mesh.faces),
        has_vertex_normals=mesh.normals is not None,
        has_vertex_texcoords=mesh.uv is not None,
        props=props,
    )
    fields = mi.traverse(made)
    fields["vertex_positions"] = mesh.points.astype(np.float32).ravel()
    if mesh.normals is not None:
        fields["vertex_normals"] = mesh.normals.astype(np.float32).ravel()
    if mesh.uv is not None:
        fields["vertex_texcoords"] = mesh.uv.astype(np.float32).ravel()
    fields["faces"] = mesh.faces.astype(np.uint32).ravel()
    fields.update()
    return made


def picture(values: Floats, wrap: str = "clamp", filter_type: str = "bilinear") -> dict[str, Any]:
    """A texture of raw linear values, H x W x 3."""
    return {
        "type": "bitmap",
        "bitmap": mi.Bitmap(np.ascontiguousarray(values, dtype=np.float32)),
        "raw": True,
        "filter_type": filter_type,
        "wrap_mode": wrap,
    }


def soft_panel(power: float, edge: float, cells: int = 128) -> dict[str, Any]:
    """A softbox's brightness: even in the middle, falling off at the edges."""
    away = np.clip((1 - np.abs(np.linspace(-1, 1, cells))) / edge, 0, 1)
    fall = away * away * (3 - 2 * away)
    return picture(np.repeat((fall[:, None] * fall[None] * power)[..., None], 3, 2))


def panel(
    at: tuple[float, float, float], to: tuple[float, float, float], wide: float, high: float, power: float,
    edge: float = 0.3,
) -> dict[str, Any]:  # fmt: skip
    """A softbox of this size in mm, facing a point."""
    place = mi.ScalarTransform4f().look_at(origin=list(at), target=list(to), up=[0, 0.01, 1])
    return {
        "type": "rectangle",
        "to_world": place @ mi.ScalarTransform4f().scale([wide / 2, high / 2, 1]),
        "light": {"type": "area", "radiance": soft_panel(power, edge)},
        "surface": {"type": "diffuse", "reflectance": neutral(0.0)},
    }


def floor(bright: float, reach_front: float, reach: float, size: float) -> dict[str, Any]:
    """The table: white round the goods, grey beyond its edge so that dark goods mirror little of it."""
    cells = 512
    across = (np.arange(cells) + 0.5) / cells * 2 - 1
    x, y = np.meshgrid(across * size, across * size)
    far = np.hypot(x / reach, np.where(y < 0, y / reach_front, y / (4 * reach)))
    fade = np.clip((1.25 - far) / 0.5, 0, 1)
    fade = fade * fade * (3 - 2 * fade)
    values = 0.10 + (bright - 0.10) * fade
    return {
        "type": "rectangle",
        "to_world": mi.ScalarTransform4f().scale([size, size, 1]),
        "surface": {
            "type": "twosided",
            "inner": {"type": "diffuse", "reflectance": picture(np.repeat(values[..., None], 3, 2))},
        },
    }


def _standing(scale: float, tall: float, room: float, key: Panel, fill: Panel) -> dict[str, Any]:
    """For goods on the table: a key from the left, a fill and a slim rim light right, a soft top, a dim room.

    ``scale`` is the goods' size against a 95 mm mug, ``tall`` the height of their middle; panels are in mm at
    scale 1.
    """
    s, aim = scale, (0.0, 0.0, tall)

    def soft(light: Panel) -> dict[str, Any]:
        (x, y, z), wide, high, power, edge = light
        return panel((x * s, y * s, z * s), aim, wide * s, high * s, power, edge)

    return {
        "room": {"type": "constant", "radiance": neutral(room)},
        "key": soft(key),
        "fill": soft(fill),
        "edge": soft(((640, 330, 330), 200, 760, 3.0, 0.4)),
        "top": soft(((0, 140, 950), 900, 700, 3.4, 0.4)),
        "table": floor(FLOOR, 190 * s, 600 * s, 2400 * s),
    }


def cushion_lights(scale: float, tall: float) -> dict[str, Any]:
    """Standing goods of cloth: a gentler key than vessels', and a broad fill, lest the right side go grey."""
    key = (-610, -450, 560), 820, 980, 3.7, 0.35
    return _standing(scale, tall, 0.14, key, ((700, -560, 380), 600, 760, 2.3, 0.5))


def vessel_lights(scale: float, tall: float) -> dict[str, Any]:
    """Standing goods that mirror: more fill from the right, and two tall slim softboxes at the sides.

    Seen from above, upright walls mirror what lies below the horizon, so the slim ones reach far below the
    table; their highlights stand near the walls' outlines, clear of the middle of the art.
    """
    key = (-450, -600, 430), 560, 760, 7.0, 0.35
    return {
        **_standing(scale, tall, 0.10, key, ((720, -260, 300), 600, 800, 4.6, 0.5)),
        "slim_left": _slim(-100, scale, tall, 210, 6.0),
        "slim_right": _slim(116, scale, tall, 170, 5.5),
    }


def _slim(azimuth_deg: float, s: float, tall: float, wide: float, power: float) -> dict[str, Any]:
    """An upright softbox; azimuth from the camera's side, positive to the right."""
    turn = np.radians(azimuth_deg)
    x, y, z = 700 * s * np.sin(turn), -700 * s * np.cos(turn), tall - 100 * s
    return panel((x, y, z), (0.0, 0.0, z), wide * s, 1300 * s, power, 0.45)


def plinth(reach: float) -> dict[str, Any]:
    """What glossy goods mirror of the table: white under them, fading to nothing at 1.25 reaches (mm).

    So a photographer lays black card on the table just outside the frame, lest black goods look grey.
    """
    cells = 512
    across = ((np.arange(cells) + 0.5) / cells * 2 - 1) * 2 * reach
    x, y = np.meshgrid(across, across)
    fade = np.clip((1.25 - np.hypot(x, y) / reach) / 0.8, 0, 1)
    fade = fade * fade * (3 - 2 * fade)
    return {
        "type": "rectangle",
        "to_world": mi.ScalarTransform4f().scale([2 * reach, 2 * reach, 1]),
        "surface": {
            "type": "mask",
            "opacity": picture(np.repeat(fade[..., None], 3, 2)),
            "inner": {"type": "twosided", "inner": {"type": "diffuse", "reflectance": neutral(FLOOR)}},
        },
    }


def lying_lights(scale: float) -> dict[str, Any]:
    """For cloth laid flat, seen from above: a low key from the upper left so that folds and weave show.

    ``scale`` is the cloth's longer side against 700 mm.
    """
    s = scale
    return {
        "room": {"type": "constant", "radiance": neutral(0.42)},
        "key": panel((-2100 * s, 1500 * s, 1650 * s), (0, 0, 0), 1300 * s, 1300 * s, 12.0, 0.4),
        "fill": panel((1300 * s, -700 * s, 1400 * s), (0, 0, 0), 900 * s, 900 * s, 1.2, 0.5),
        "table": floor(FLOOR, 2600 * s, 2600 * s, 4200 * s),
    }


def overhead_lights(scale: float) -> dict[str, Any]:
    """For clothes laid flat on white: light from straight above, so that they darken at every edge.

    A high key, far off to the upper left, gives folds their shape. ``scale`` as in ``lying_lights``.
    """
    s = scale
    return {
        "room": {"type": "constant", "radiance": neutral(0.30)},
        "key": panel((-3600 * s, 2900 * s, 6400 * s), (0, 0, 0), 5400 * s, 5400 * s, 11.0, 0.4),
        "top": panel((700 * s, -500 * s, 6800 * s), (0, 0, 0), 4200 * s, 4200 * s, 7.0, 0.5),
        "table": floor(FLOOR, 2600 * s, 2600 * s, 4200 * s),
    }


def sensor(camera: Camera, size: int, spp: int, reconstruction: str = "gaussian") -> dict[str, Any]:
    """The camera as Mitsuba's; the mirrored x axis of its look-at is undone by our own right vector."""
    return {
        "type": "perspective",
        "fov": camera.fov_deg,
        "to_world": mi.ScalarTransform4f().look_at(
            origin=list(camera.eye), target=list(camera.target), up=list(camera.up)
        ),
        "film": {
            "type": "hdrfilm", "width": size, "height": size, "rfilter": {"type": reconstruction},
            "pixel_format": "rgb", "component_format": "float32",
        },
        "sampler": {"type": "independent", "sample_count": spp},
    }  # fmt: skip


def framed(points: Floats, azimuth_deg: float, elevation_deg: float, distance: float, share: float,
           up: tuple[float, float, float] = (0.0, 0.0, 1.0)) -> Camera:  # fmt: skip
    """A camera looking from this direction with the points centred, their extent ``share`` of the frame."""
    turn, lift = np.radians(azimuth_deg), np.radians(elevation_deg)
    way = np.array([np.sin(turn) * np.cos(lift), -np.cos(turn) * np.cos(lift), np.sin(lift)])
    target, fov = points.mean(0), 20.0
    for _ in range(12):
        camera = Camera(tuple(target + way * distance), tuple(target), fov, up)
        x, y = camera.project(points, 1)
        _, right, down = camera.axes()
        span = 2 * camera.half * distance
        target = (
            target
            + right * ((x.min() + x.max()) / 2 - 0.5) * span
            + down * ((y.min() + y.max()) / 2 - 0.5) * span
        )
        extent = max(np.ptp(x), np.ptp(y))
        fov = float(np.degrees(2 * np.arctan(camera.half * extent / share)))
    return Camera(_rounded(target + way * distance), _rounded(target), round(fov, 4), up)


def _rounded(place: Floats) -> tuple[float, float, float]:
    x, y, z = (round(float(value), 3) for value in place)
    return x, y, z
