"""The bodies of one physical set: material, proportions, edges and wear, and a face's artwork on them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.solids import Colour, Floats, Image, Paint, Solid, moved, pixel
from tilewitness.training.surfaces import colour, noise

HEIGHT, WIDTH = 256, 192
"""Pixels of a rendered face, as of its artwork."""

_FRONTS: tuple[tuple[Colour, float], ...] = (
    ((244, 248, 250), 0.26),  # white
    ((214, 235, 244), 0.22),  # ivory
    ((196, 220, 236), 0.12),  # bone
    ((165, 208, 236), 0.10),  # cream
    ((110, 172, 222), 0.06),  # butterscotch
    ((130, 190, 226), 0.06),  # yellowed bakelite
    ((78, 148, 216), 0.02),  # amber
    ((92, 136, 186), 0.02),  # caramel
    ((250, 240, 226), 0.10),  # bluish white
    ((224, 226, 226), 0.05),  # grey
    ((222, 242, 226), 0.03),  # jade white
)  # BGR, share

UNPAINTED: Final = 0.02
"""Share of the faces of engraved sets that have lost most of their paint."""


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """What all tiles of one set share. Lengths are in widths of a tile.

    Attributes:
        size: width (1), height and thickness.
        front, back: BGR colours; equal in sets made of one piece.
        layer: share of the thickness that has the front's colour.
        radius: of the face's corners. chamfer: width of the slanted rim around the flat face.
        gloss: 0 dull to 1 polished.
        plate: float32 (2 HEIGHT, 2 WIDTH, 3), light and colour of the material around 1; tiles cut windows.
        rim: float32 (HEIGHT, WIDTH, 1), light on the rounding of the face's edge, around 1.
        engraving: depth of the ink's grooves, 0 for print.
        fade: share of the ink that is left. wear: share of the ink that is chipped away.
        dirt: how much tiles of the set differ in brightness and tint.
        sheen: float32 (HEIGHT, WIDTH, 1), light that every face mirrors, in grey levels.
    """

    size: tuple[float, float, float]
    front: Colour
    back: Colour
    layer: float
    radius: float
    chamfer: float
    gloss: float
    plate: Floats
    rim: Floats
    engraving: float
    fade: float
    wear: float
    dirt: float
    sheen: Floats


def sample_body(rng: np.random.Generator) -> Body:
    """Draw the body of a set."""
    shares = np.array([share for _, share in _FRONTS])
    base = np.asarray(_FRONTS[int(rng.choice(len(_FRONTS), p=shares / shares.sum()))][0])
    front = tuple(float(c) for c in np.clip(base * rng.uniform(0.9, 1.02) + rng.normal(0, 5, 3), 60, 255))
    height = 1 / rng.uniform(0.66, 0.82)
    radius = rng.choice([rng.uniform(0.015, 0.06), rng.uniform(0.05, 0.14)])
    return Body(
        size=(1.0, height, rng.uniform(0.4, 0.72) if rng.random() < 0.85 else rng.uniform(0.72, 0.95)),
        front=(front[0], front[1], front[2]),
        back=_back(rng, (front[0], front[1], front[2])),
        layer=float(rng.choice([rng.uniform(0.25, 0.8), rng.uniform(0.5, 0.75)])),
        radius=float(radius),
        chamfer=0.0 if rng.random() < 0.4 else rng.uniform(0.003, rng.choice([0.02, 0.045])),
        gloss=(gloss := float(rng.beta(1.2, 1.4))),
        plate=_plate(rng),
        rim=_rim(rng, float(radius)),
        engraving=(cut := 0.0 if rng.random() < 0.35 else rng.uniform(0.05, 0.7)),
        fade=_fade(rng, cut),
        wear=0.0 if rng.random() < 0.75 else rng.uniform(0, 0.22),
        dirt=rng.uniform(0, 0.05),
        sheen=_sheen(rng, gloss),
    )


def _back(rng: np.random.Generator, front: Colour) -> Colour:
    """Draw the colour of a tile's back: often green, blue, black, yellow or bamboo, often the front's own."""
    if rng.random() < 0.3:
        return front
    if rng.random() < 0.2:
        return colour(rng, (0.35, 0.6), (0.45, 0.8), hue=0.09)
    hue = float(rng.choice([0.38, 0.58, 0.62, 0.12, 0.08, 0.0, 0.85, rng.random()]))
    return colour(rng, (0.2, 0.95), (0.08, 0.9), hue)


def _fade(rng: np.random.Generator, engraving: float) -> float:
    """Draw the share of the paint that is left: a few deeply cut old sets have lost most of it everywhere."""
    if engraving > 0.25 and rng.random() < 0.06:
        return float(rng.uniform(0.22, 0.55))
    return 1.0 if rng.random() < 0.8 else float(rng.uniform(0.55, 1.0))


def _swirl(rng: np.random.Generator, shape: tuple[int, int]) -> Floats:
    """Draw the marbling of cast resin (H, W, 1): bands of darker and lighter material that flow and fold."""
    y, x = np.mgrid[: shape[0], : shape[1]].astype(np.float32) / shape[0]
    angle, bands = rng.uniform(0, np.pi), rng.uniform(4, 16)
    fold = noise(rng, shape, rng.uniform(2, 5), 3) * np.float32(rng.uniform(0.3, 1.2))
    waves = np.sin(bands * (x * np.cos(angle) + y * np.sin(angle)) + 2.5 * fold)
    return np.asarray(waves[..., None] * np.float32(rng.uniform(0.015, 0.09)), np.float32)


def _plate(rng: np.random.Generator) -> Floats:
    """Draw the material: yellowing, marbling, grain, speckle, cracks and scratches, as gains around 1."""
    shape = (2 * HEIGHT, 2 * WIDTH)
    light = np.ones((*shape, 3), np.float32)
    if rng.random() < 0.12:
        light += _swirl(rng, shape) * np.array([1.2, 1.0, 0.7], np.float32)
    yellow = np.array([0.6, 0.15, 0.0], np.float32) * rng.uniform(0, 0.12)
    light -= noise(rng, shape, 3, 2)[..., None] * yellow
    light += noise(rng, shape, 4, 3)[..., None] * np.float32(rng.uniform(0, 0.02))
    if rng.random() < 0.2:
        grain = noise(rng, shape, rng.uniform(10, 60), 2, stretch=float(rng.choice([0.06, 0.1, 8.0])))
        light += grain[..., None] * np.float32(rng.uniform(0.004, 0.025))
    if rng.random() < 0.2:
        light += noise(rng, shape, 300, 1)[..., None] * np.float32(rng.uniform(0.004, 0.025))
    lines, deep = int(rng.integers(5, 60)) if rng.random() < 0.3 else 0, rng.random() < 0.2
    for _ in range(lines):
        start = rng.uniform((0, 0), shape[::-1])
        end = start + rng.normal(0, rng.uniform(10, 120), 2)
        tone = 1 + rng.uniform(-0.25, 0.12)
        cv2.line(light, pixel(start), pixel(end), (tone, tone, tone), 1, cv2.LINE_AA)
        if deep and rng.random() < 0.25:  # a gouge: dark on one side, bright on the other
            for step, gain in ((0, rng.uniform(0.5, 0.8)), (1, rng.uniform(1.05, 1.25))):
                head, tail = pixel(start + step), pixel((start + end) / 2 + step)
                cv2.line(light, head, tail, (gain, gain, gain), 1, cv2.LINE_AA)
    return light


def _rim(rng: np.random.Generator, radius: float) -> Floats:
    """Draw the light on the rounded edge: each side its own, fading inwards."""
    y, x = np.mgrid[:HEIGHT, :WIDTH].astype(np.float32)
    width = rng.uniform(0.015, 0.07) * WIDTH
    sides = (y, WIDTH - 1 - x, HEIGHT - 1 - y, x)
    common, own = rng.normal(-0.08, 0.12), rng.uniform(0, 0.14)
    light = np.ones((HEIGHT, WIDTH), np.float32)
    for away in sides:
        light += np.exp(-((away / width) ** 2)) * np.float32(np.clip(common + rng.normal(0, own), -0.6, 0.3))
    r = max(radius * WIDTH, 1.0)
    corner = np.hypot(
        np.maximum(r - np.minimum(x, WIDTH - 1 - x), 0), np.maximum(r - np.minimum(y, HEIGHT - 1 - y), 0)
    )
    light *= 1 - rng.uniform(0, 0.5) * np.clip((corner - r + 3) / 3, 0, 1)
    return np.asarray(light[..., None], np.float32)


def _sheen(rng: np.random.Generator, gloss: float) -> Floats:
    """Draw what polished faces mirror: a ramp in some direction, or an edge as of a window."""
    y, x = np.mgrid[:HEIGHT, :WIDTH].astype(np.float32)
    angle = rng.uniform(0, 2 * np.pi)
    along = (x / WIDTH - rng.random()) * np.cos(angle) + (y / HEIGHT - rng.random()) * np.sin(angle)
    ramp = np.clip(0.5 + along * rng.choice([0.6, 1.5, 12.0]), 0, 1)
    return np.asarray(ramp[..., None] * rng.uniform(0, 45) * gloss**2, np.float32)


def shaded_foot(face: Image, depth: float, darkness: float) -> Image:
    """Darken the lower edge of a face, where a rack keeps the light away; `depth`: share of its height."""
    y = np.arange(HEIGHT, dtype=np.float32)[:, None, None] / HEIGHT
    return (face * (1 - darkness * np.clip((y - 1 + depth) / depth, 0, 1) ** 1.5)).astype(np.uint8)


def render_face(artwork: Image | None, body: Body, rng: np.random.Generator) -> Image:
    """Put artwork (RGBA, straight alpha) on a tile of this body; None is a blank face.

    Returns:
        uint8 (256, 192, 3), BGR: the flat face of the tile in even light, corners not yet rounded.
    """
    top, left = rng.integers(0, (HEIGHT, WIDTH))
    face = body.plate[top : top + HEIGHT, left : left + WIDTH] * np.asarray(body.front, np.float32)
    if artwork is not None:
        _ink(face, artwork, body, rng)
    face *= body.rim
    face += body.sheen
    return np.asarray(cv2.convertScaleAbs(face, alpha=float(1 + rng.normal(0, body.dirt))), np.uint8)


def _ink(face: Floats, artwork: Image, body: Body, rng: np.random.Generator) -> None:
    """Blend the ink into the face, in place."""
    cut = artwork[..., 3].astype(np.float32) * np.float32(1 / 255)
    cover = cut * np.float32(body.fade)
    if body.engraving and rng.random() < UNPAINTED:  # most of the paint is gone: the groove alone shows
        cover *= np.float32(rng.uniform(0.0, 0.35))
    if body.wear:
        chips = noise(rng, (HEIGHT, WIDTH), rng.uniform(20, 70), 2)
        cover *= np.clip((chips + 2.2 - 5 * body.wear) * 2, 0.1, 1)
    ink = artwork[..., 2::-1].astype(np.float32)
    face += (ink - face) * cover[..., None]
    if body.engraving:
        depth = cv2.GaussianBlur(cut, (0, 0), 1.4)
        slope = depth - np.roll(depth, (3, 2), (0, 1))
        face += slope[..., None] * np.float32(body.engraving * 110)
        bare = (cut - cover) * np.float32(0.45 * body.engraving)  # dirt gathers where the paint is gone
        face *= (1 - bare)[..., None]


_TURN = np.linspace(0, np.pi / 2, 4)


def _outline(width: float, height: float, radius: float) -> NDArray[np.float64]:
    """Corners (16, 2) of a rounded rectangle about the origin, clockwise as seen from the front, y up."""
    r = min(radius, width / 2, height / 2)
    arc = np.stack([-np.cos(_TURN), np.sin(_TURN)], 1) * r
    corner = arc + (r - width / 2, height / 2 - r)
    right = corner[::-1] * (-1, 1)
    return np.concatenate([corner, right, -corner, -right])


def tile_solid(
    body: Body,
    turn: NDArray[np.floating],
    centre: NDArray[np.floating],
    *,
    face: Image | None,
    ident: int = 0,
    crowd: float = 1.0,
    gain: Colour = (1.0, 1.0, 1.0),
) -> tuple[Solid, Floats]:
    """Return a tile and the corners (4, 3) of its face, clockwise from the artwork's top-left.

    Args:
        turn: columns are the artwork's right, its up, and the direction the face looks.
        face: what `render_face` gave; None paints bare material.
    """
    w, h, t = body.size
    c = body.chamfer
    inner, outer = _outline(w, h, body.radius), _outline(w + 2 * c, h + 2 * c, body.radius + c)
    back = _outline(w + c, h + c, body.radius + c)
    heights = (t / 2, t / 2 - 1.5 * c - 0.01, t / 2 - t * body.layer, -t / 2 + 0.05, -t / 2)
    rings = [
        np.insert(o, 2, z, axis=1) for o, z in zip((inner, outer, outer, outer, back), heights, strict=True)
    ]
    side, rear = Paint(body.front), Paint(body.back)
    corners = np.array([(-w, h), (w, h), (w, -h), (-w, -h)]) / 2
    frame = moved(np.insert(corners, 2, t / 2, axis=1), turn, centre)
    wide = corners * (1 + 2 * c)
    hull = np.stack([np.insert(wide, 2, z, axis=1) for z in (t / 2, -t / 2)])
    solid = Solid(
        moved(np.stack(rings), turn, centre),
        (side, side, rear, rear),
        (Paint(body.front, face), rear),
        frame,
        ident,
        crowd,
        gain,
        moved(hull, turn, centre),
    )
    return solid, frame
