"""Paints solids on a table as a camera sees them, with soft shadows, and notes which face shows where."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.camera import Camera
from tilewitness.training.solids import Floats, Image, Paint, Solid, back_to_front

FINE = 2
"""Pixels painted per pixel of the picture, each way: edges come out smooth after averaging."""

_SUB = 4  # fractional bits of corners handed to OpenCV


@dataclass(frozen=True, slots=True)
class Light:
    """One lamp or window plus light from everywhere.

    Attributes:
        towards: (3,), unit vector from the table to the lamp.
        tint: BGR gains of the lamp. fill: light from everywhere, 0–1.
        shadow: darkness of the cast shadow, 0–1. softness: its blur, in widths of a tile.
        contact: darkness where things touch the table, 0–1.
    """

    towards: NDArray[np.float64]
    tint: NDArray[np.float64]
    fill: float
    shadow: float
    softness: float
    contact: float

    def on(self, normals: NDArray[np.floating]) -> NDArray[np.float64]:
        """Return BGR gains (…, 3) on surfaces with these normals (…, 3)."""
        lit = np.clip(normals @ self.towards, 0, None)
        sky = 0.85 + 0.15 * normals[..., 2]
        return np.asarray((self.fill * sky + (1 - self.fill) * lit)[..., None] * self.tint)


def sample_light(rng: np.random.Generator) -> Light:
    """Draw a lamp somewhere above the table."""
    # mostly over the shoulder of the person who looks at the tiles
    angle = rng.uniform(0, 360) if rng.random() < 0.3 else rng.normal(270, 45)
    height = rng.uniform(25, 88)
    e, a = np.radians((height, angle))
    towards = np.array([np.cos(a) * np.cos(e), np.sin(a) * np.cos(e), np.sin(e)])
    tint = np.exp(rng.normal(0, 0.04, 3)) * rng.uniform(0.85, 1.04)  # more would burn out white tiles
    soft = float(np.exp(rng.uniform(np.log(0.03), np.log(1.2))))
    return Light(towards, tint, rng.uniform(0.45, 0.9), rng.uniform(0.1, 0.65), soft, rng.uniform(0.1, 0.6))


@dataclass(frozen=True, slots=True)
class Table:
    """The table top: a texture, its size in widths of a tile, and the rectangle x0, y0, x1, y1 it covers."""

    texture: Image
    scale: float
    turn: float
    extent: tuple[float, float, float, float]
    backdrop: Image


@dataclass(frozen=True, slots=True)
class Painting:
    """A painted scene.

    Attributes:
        image: uint8 (H, W, 3).
        visible: int16 (FINE H, FINE W), the ident of the face that shows, 0 elsewhere.
        painted: pixels of each ident's whole face, hidden parts and those beyond the border included.
    """

    image: Image
    visible: NDArray[np.int16]
    painted: dict[int, int]


def paint(solids: list[Solid], table: Table, camera: Camera, light: Light) -> Painting:
    """Paint the table, shadows and solids."""
    w, h = camera.size
    ground = _ground(table, camera, light)
    _darken(ground, solids, camera, light)
    canvas = np.asarray(cv2.resize(ground, (w * FINE, h * FINE), interpolation=cv2.INTER_LINEAR), np.uint8)
    visible = np.zeros((h * FINE, w * FINE), np.int16)
    painted: dict[int, int] = {}
    close = 0.2 * float(np.linalg.norm(camera.eye))  # things right before the lens are taken away
    ahead = [s for s in solids if camera.depths(s.coarse).min() > close]
    outlines = [camera.project(s.coarse).reshape(-1, 2) for s in ahead]
    extents = np.array([(*o.min(0), *o.max(0)) for o in outlines]).reshape(-1, 4)
    near = [
        i for i, (x0, y0, x1, y1) in enumerate(extents) if x1 > -w and y1 > -h and x0 < 2 * w and y0 < 2 * h
    ]
    shown = [ahead[i] for i in near]
    for index in back_to_front(shown, camera.eye, extents[near]):
        _paint_solid(canvas, visible, painted, shown[index], camera, light)
    image = cv2.resize(canvas, (w, h), interpolation=cv2.INTER_AREA)
    return Painting(np.asarray(image, np.uint8), visible, painted)


def _ground(table: Table, camera: Camera, light: Light) -> Image:
    """Return the table and what is behind it, uint8 (H, W, 3)."""
    w, h = camera.size
    y, x = np.mgrid[0 : h + 2 : 2, 0 : w + 2 : 2].astype(np.float32)
    rays = camera.rays(x + 0.5, y + 0.5)
    falling = np.minimum(rays[..., 2], -1e-4)
    reach = -camera.eye[2] / falling
    at = (rays[..., :2] * reach[..., None] + camera.eye[:2]).astype(np.float32)
    x0, y0, x1, y1 = table.extent
    inside = np.minimum(
        np.minimum(at[..., 0] - x0, x1 - at[..., 0]), np.minimum(at[..., 1] - y0, y1 - at[..., 1])
    )
    c, s = np.cos(table.turn), np.sin(table.turn)
    turned = at @ np.array([[c, s], [-s, c]], np.float32) * np.float32(table.texture.shape[1] / table.scale)
    limit = 6.0 * table.texture.shape[1]
    u, v = (_full(np.clip(turned[..., i], -limit, limit), (w, h)) for i in (0, 1))
    top = cv2.remap(table.texture, u, v, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REFLECT_101)
    gains = light.on(np.array([0.0, 0.0, 1.0]))
    top = cv2.transform(top, np.diag(gains))
    if (inside > 0).all() and (rays[..., 2] < -1e-4).all():
        return np.asarray(top, np.uint8)
    width = np.maximum(reach * 2 / camera.focal, 1e-3)
    share = _full(np.where(rays[..., 2] < -1e-4, np.clip(inside / width, 0, 1), 0).astype(np.float32), (w, h))
    behind = table.backdrop.astype(np.float32)
    return np.asarray(behind + (top - behind) * share[..., None], np.uint8)


def _full(half: NDArray[np.float32], size: tuple[int, int]) -> NDArray[np.float32]:
    """Stretch a map sampled at every second pixel to the whole picture, samples staying in place."""
    shift = np.array([[2.0, 0, 0], [0, 2.0, 0]])
    return np.asarray(
        cv2.warpAffine(half, shift, size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    )


def _darken(ground: Image, solids: list[Solid], camera: Camera, light: Light) -> None:
    """Lay cast shadows and contact shadows on the ground, in place."""
    w, h = camera.size
    low = (max(1, w // 2), max(1, h // 2))
    cast, touch = np.zeros(low[::-1], np.uint8), np.zeros(low[::-1], np.uint8)
    slant = light.towards / max(light.towards[2], 0.25)
    for solid in solids:
        corners = solid.coarse.reshape(-1, 3)
        if camera.depths(corners).min() < 0.5 or corners[:, 2].min() > 0.5:
            continue
        _fill(cast, corners - corners[:, 2:] * slant, camera)
        _fill(touch, corners[corners[:, 2] < corners[:, 2].min() + 0.3] * (1, 1, 0), camera)
    scale = camera.focal / max(float(np.linalg.norm(camera.eye)), 1.0) / 2
    cast = _soft(cast, light.softness * scale)
    touch = _soft(touch, 0.08 * scale)
    gain = (1 - light.shadow * cast / 255) * (1 - light.contact * touch / 255)
    full = cv2.resize(gain.astype(np.float32), (w, h))
    np.copyto(ground, (ground * full[..., None]).astype(np.uint8))


def _soft(mask: NDArray[np.uint8], sigma: float) -> NDArray[np.float32]:
    """Blur a mask; wide blurs work on a smaller copy."""
    small = max(1, int(sigma / 3))
    size = mask.shape[1::-1]
    if small > 1:
        shape = (max(2, size[0] // small), max(2, size[1] // small))
        mask = np.asarray(cv2.resize(mask, shape, interpolation=cv2.INTER_AREA), np.uint8)
    blurred = cv2.GaussianBlur(mask.astype(np.float32), (0, 0), max(sigma / small, 0.3))
    return np.asarray(cv2.resize(blurred, size) if small > 1 else blurred, np.float32)


def _fill(mask: NDArray[np.uint8], points: NDArray[np.floating], camera: Camera) -> None:
    """Fill the hull of points of the table top in a mask at half size."""
    if len(points) < 3 or camera.depths(points).min() < 0.3:
        return
    flat = np.clip(camera.project(points) / 2 - 0.5, -5000, 5000).astype(np.float32)
    cv2.fillConvexPoly(mask, cv2.convexHull(_fixed(flat)), 255, cv2.LINE_8, _SUB)


def _paint_solid(
    canvas: Image,
    visible: NDArray[np.int16],
    painted: dict[int, int],
    solid: Solid,
    camera: Camera,
    light: Light,
) -> None:
    """Paint the sides and caps that face the camera."""
    pixels = _fine(camera.project(solid.rings))
    _paint_bands(canvas, visible, solid, pixels, camera, light)
    for cap, ring, ident in ((solid.caps[0], 0, solid.ident), (solid.caps[1], -1, 0)):
        corners = solid.rings[ring].astype(np.float64)
        n = len(corners) // 3
        across = np.cross(corners[n] - corners[0], corners[2 * n] - corners[0])
        normal, seen = _facing(across, corners[0], solid, camera)
        if not seen:
            continue
        frame = pixels[ring][:4] if ring or solid.frame is None else _fine(camera.project(solid.frame))
        _cover(canvas, pixels[ring], frame, cap, light.on(normal) * solid.gain)
        polygon = _fixed(pixels[ring])
        if not cap.clear:
            cv2.fillConvexPoly(visible, polygon, ident, cv2.LINE_8, _SUB)
        if ident:
            painted[ident] = _area(polygon)


def _paint_bands(
    canvas: Image, visible: NDArray[np.int16], solid: Solid, pixels: Floats, camera: Camera, light: Light
) -> None:
    """Paint the sides that face the camera."""
    rings = solid.rings.astype(np.float64)
    ahead, behind = rings[:-1], rings[1:]
    along = np.roll(ahead, -1, axis=1) - ahead
    normals, facing = _facing(
        np.cross(along, behind - ahead), (ahead + behind) / 2 + along / 2, solid, camera
    )
    gains = light.on(normals) * (np.asarray(solid.gain) * solid.crowd)
    following = np.roll(pixels, -1, axis=1)
    quads = np.stack([pixels[:-1], following[:-1], following[1:], pixels[1:]], axis=2)
    fixed = _fixed(quads)
    for band, corner in np.argwhere(facing):
        paint = solid.bands[band]
        _cover(canvas, quads[band, corner], quads[band, corner], paint, gains[band, corner])
        if not paint.clear:
            cv2.fillConvexPoly(visible, fixed[band, corner], 0, cv2.LINE_8, _SUB)


def _fine(pixels: Floats) -> Floats:
    """Turn places in the picture into OpenCV's on the canvas, where whole numbers are middles of pixels."""
    return pixels * FINE - np.float32(0.5)


def _fixed(polygon: Floats) -> NDArray[np.int32]:
    """Return corners in OpenCV's fixed-point numbers."""
    return np.asarray(np.clip(np.round(polygon * 2**_SUB), -(2**24), 2**24), np.int32)


def _area(polygon: NDArray[np.int32]) -> int:
    """Count the pixels OpenCV fills for this polygon where nothing cuts it."""
    one = 1 << _SUB
    low = polygon.min(0) // one * one
    w, h = (int(side) for side in ((polygon.max(0) - low) >> _SUB) + 2)  # of Python, whose product is exact
    if w * h > 2**25:
        return 2**25
    mask = np.zeros((h, w), np.uint8)
    cv2.fillConvexPoly(mask, polygon - low, 1, cv2.LINE_8, _SUB)
    return int(cv2.countNonZero(mask))


def _facing(
    normals: NDArray[np.float64], points: NDArray[np.float64], solid: Solid, camera: Camera
) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """Return unit normals that point outwards, and whether the camera sees that side."""
    length = np.linalg.norm(normals, axis=-1, keepdims=True)
    outward = np.where(((points - solid.middle) * normals).sum(-1, keepdims=True) < 0, -1.0, 1.0)
    unit = normals * outward / np.maximum(length, 1e-9)
    seen = ((camera.eye - points) * unit).sum(-1) > 1e-6
    return unit, np.asarray(seen & (length[..., 0] > 1e-9))


def _cover(canvas: Image, polygon: Floats, frame: Floats, paint: Paint, gains: NDArray[np.float64]) -> None:
    """Fill a polygon of the canvas with a colour, or with a texture stretched over `frame`, in this light."""
    if paint.texture is None:
        colour = tuple((gains * paint.colour).clip(0, 255).tolist())
        view, low = _view(canvas, polygon)
        if paint.clear and view.size:
            filled = view.copy()
            cv2.fillConvexPoly(filled, _fixed(polygon - low), colour, cv2.LINE_8, _SUB)
            cv2.addWeighted(view, paint.clear, filled, 1 - paint.clear, 0, dst=view)
        else:
            cv2.fillConvexPoly(canvas, _fixed(polygon), colour, cv2.LINE_8, _SUB)
        return
    view, low = _view(canvas, polygon)
    if not view.size:
        return
    texture = _shrunk(paint.texture, frame)
    th, tw = texture.shape[:2]
    source = np.array([(0, 0), (tw, 0), (tw, th), (0, th)], np.float32) - 0.5
    matrix = cv2.getPerspectiveTransform(source, frame - low)
    size = view.shape[1::-1]
    patch = cv2.warpPerspective(
        texture, matrix, size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
    patch = cv2.transform(patch, np.diag(gains))
    mask = np.zeros(size[::-1], np.uint8)
    cv2.fillConvexPoly(mask, _fixed(polygon - low), 255, cv2.LINE_8, _SUB)
    cv2.copyTo(patch, mask, view)


def _view(canvas: Image, polygon: Floats) -> tuple[Image, Floats]:
    """Return the part of the canvas around a polygon, not a copy, and its top-left corner."""
    h, w = canvas.shape[:2]
    low = np.clip(np.floor(polygon.min(0)).astype(int) - 1, 0, (w, h))
    high = np.clip(np.ceil(polygon.max(0)).astype(int) + 2, 0, (w, h))
    return canvas[low[1] : high[1], low[0] : high[0]], low.astype(np.float32)


def _shrunk(texture: Image, frame: Floats) -> Image:
    """Return a texture not much finer than its place in the canvas, so that no detail flickers."""
    tall = max(np.linalg.norm(frame[3] - frame[0]), np.linalg.norm(frame[2] - frame[1]))
    wide = max(np.linalg.norm(frame[1] - frame[0]), np.linalg.norm(frame[2] - frame[3]))
    h, w = texture.shape[:2]
    size = (int(np.clip(wide, 2, w)), int(np.clip(tall, 2, h)))
    return texture if size == (w, h) else np.asarray(cv2.resize(texture, size, interpolation=cv2.INTER_AREA))
