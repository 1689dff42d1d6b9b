"""Scenes with exact truth: a photo as a person might take it, and every tile face in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import Face
from tilewitness.training.bodies import Body, render_face, sample_body, shaded_foot, tile_solid
from tilewitness.training.camera import Camera, framed, look_at
from tilewitness.training.effects import covered, lit, printed_over
from tilewitness.training.faces import sample_style
from tilewitness.training.hardships import badly_kept, badly_lit
from tilewitness.training.kinds import KINDS, Plan, View
from tilewitness.training.lens import photographed
from tilewitness.training.painting import Light, Painting, Table, paint, sample_light
from tilewitness.training.placing import Shown, Spot, corners_of
from tilewitness.training.solids import Floats, Image, Solid
from tilewitness.training.surfaces import sample_backdrop, sample_surface, white

SMALLEST = 24
"""A photo whose tiles are narrower than this many pixels is taken at more pixels, up to `LONGEST`."""

LONGEST = 1024
FLATTEST = 0.2
"""A face seen so much from the side that its height over its width falls below this counts as hidden."""

HARDSHIPS = 0x4A
"""Tells the stream of hardships from every other stream of a scene."""

VARIANTS = 8
"""No face has more different pictures in one set."""


class Artwork(Protocol):
    """What is drawn on the tiles of one physical set."""

    def draw(self, face: Face, rng: np.random.Generator, *, variant: int = 0) -> NDArray[np.uint8]:
        """Draw one tile's face as `faces.draw_face` does."""


@dataclass(frozen=True, slots=True, eq=False)
class TruthTile:
    """A tile face in the picture.

    Attributes:
        quad: float32 (4, 2), corners of the flat face in pixels (the first pixel spans 0 to 1), clockwise
            from the artwork's own top-left; the rounding of the corners is ignored.
        face: None for a blank one.
        row: number of its row, 0 at the top of the picture. place: number in the row, 0 at the left.
        upside_down: the artwork's top points downwards in the picture.
        hidden: share of the face that other things or the border hide, 0–1; 1 for a face seen edge-on.
        look: tiles of one picture with the same number show the same artwork; -1 where that is not told. A tile
            without a face but with a look shows an unnamed symbol.
        strange: it shows a symbol that no usual tile shows.
    """

    quad: NDArray[np.float32]
    face: Face | None
    row: int
    place: int
    upside_down: bool
    hidden: float
    look: int = -1
    strange: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """A rendered photo, uint8 (H, W, 3) BGR, and the faces in it, in reading order."""

    image: Image
    tiles: tuple[TruthTile, ...]
    kind: str


def render_scene(
    seed: int, *, held_out: bool = False, kind: str | None = None, artwork: Artwork | None = None
) -> Scene:
    """Render the scene with this number; the same number gives the same scene.

    Args:
        held_out: draw artwork only from the families that are kept out of training, and without `hardships`.
        kind: a key of `KINDS`, drawn by their shares unless given.
        artwork: what is drawn on the tiles, if it is not to be drawn by lot.
    """
    rng = np.random.default_rng((seed, held_out))
    shares = np.array([share for _, share in KINDS.values()])
    kind = kind or str(rng.choice(list(KINDS), p=shares / shares.sum()))
    body = sample_body(rng)
    plan = KINDS[kind][0](rng, body)
    style = sample_style(rng, held_out=held_out)
    camera = aim(plan, int(LONGEST * max(0.45, rng.beta(3.5, 1.2))))
    painting = paint_plan(plan, body, artwork or style, camera, rng)
    if rng.random() < 0.08:
        painting = covered(painting, rng)
    tiles = truth(plan.layout.spots, body, camera, painting)
    image = lit(painting, body.gloss, rng)
    if rng.random() < 0.03:
        image = printed_over(image, rng)
    width = _width(plan, camera)
    if held_out:
        return Scene(photographed(image, rng, detail=width), tiles, kind)
    hardships = np.random.default_rng((seed, HARDSHIPS))
    image = badly_lit(image, painting.visible[::2, ::2] > 0, width, hardships)
    return Scene(badly_kept(photographed(image, rng, detail=width), width, hardships), tiles, kind)


def aim(plan: Plan, long: int) -> Camera:
    """Return the camera of a plan, `long` pixels on the longer side or more if tiles would be too small."""
    view = plan.view
    subject = np.concatenate(plan.layout.focus)
    camera = _camera(view, subject, long)
    narrow = _width(plan, camera)
    return (
        camera
        if narrow >= SMALLEST
        else _camera(view, subject, min(LONGEST, round(long * SMALLEST / narrow)))
    )


def _width(plan: Plan, camera: Camera) -> float:
    """Return the usual width in pixels of the faces that the photo is about."""
    quads = [camera.project(corners) for corners in plan.layout.focus]
    return float(np.median([np.linalg.norm(quad[1] - quad[0]) for quad in quads]))


def _camera(view: View, subject: Floats, long: int) -> Camera:
    """Point a camera at the subject."""
    middle = (subject.min(0) + subject.max(0)) / 2
    radius = float(np.linalg.norm(subject - middle, axis=1).max())
    turn, eye = look_at(middle, radius * view.distance + 1.5, view.elevation, view.azimuth, view.roll)
    return framed(
        turn,
        eye,
        subject,
        long=long,
        aspect=view.aspect,
        against=view.against,
        fill=view.fill,
        offset=view.offset,
        bend=view.bend,
    )


def paint_plan(plan: Plan, body: Body, style: Artwork, camera: Camera, rng: np.random.Generator) -> Painting:
    """Dress the table, draw the faces and paint everything."""
    light = sample_light(rng)
    if plan.goods:
        light = Light(
            light.towards,
            light.tint,
            rng.uniform(0.8, 0.95),
            rng.uniform(0.05, 0.3),
            light.softness,
            light.contact,
        )
    # a stream of its own: what the artwork draws must not change the table and the light
    tiles = _tiles(plan.layout.spots, body, style, np.random.default_rng(rng.integers(1 << 62)))
    solids = [*plan.layout.solids, *tiles]
    return paint(solids, _table(plan, camera, rng), camera, light)


def _table(plan: Plan, camera: Camera, rng: np.random.Generator) -> Table:
    """Draw the table top: mostly reaching beyond the picture, sometimes ending behind the tiles."""
    texture = white(rng) if plan.goods and rng.random() < 0.75 else sample_surface(rng)
    ends = (
        np.array([rng.uniform(8, 60), rng.uniform(8, 60)]) if rng.random() < 0.5 else np.array([300.0, 300.0])
    )
    backdrop = sample_backdrop(rng, camera.size[::-1])
    scale = float(np.exp(rng.uniform(np.log(8), np.log(60))))
    turn = float(rng.choice([0.0, rng.uniform(0, 6.28)]))
    return Table(texture, scale, turn, (-ends[0], -300.0, ends[0], ends[1]), backdrop)


def _tiles(spots: Sequence[Spot], body: Body, style: Artwork, rng: np.random.Generator) -> list[Solid]:
    """Build every tile; its ident is its place in `spots`, from 1."""
    drawn: dict[tuple[Shown, bool], Image] = {}
    foot = (rng.uniform(0.05, 0.5), rng.uniform(0, 0.5))
    solids = []
    for ident, spot in enumerate(spots, 1):
        looks_down = spot.turn[2, 2] < -0.5
        key = (spot.shown, abs(spot.turn[2, 2]) < 0.7)
        if key not in drawn and not looks_down:
            drawn[key] = _face(spot.shown, body, style, rng, foot if key[1] else None)
        b, g, r = 1 + rng.normal(0, 0.5 * body.dirt + 0.01) + rng.normal(0, 0.2 * body.dirt, 3)
        solid, _ = tile_solid(
            body,
            spot.turn,
            spot.centre,
            face=None if looks_down else drawn[key],
            ident=ident,
            crowd=spot.crowd,
            gain=(float(b), float(g), float(r)),
        )
        solids.append(solid)
    return solids


def _face(
    shown: Shown, body: Body, style: Artwork, rng: np.random.Generator, foot: tuple[float, float] | None
) -> Image:
    """Draw a face; one that stands in a rack is darker at its lower edge."""
    artwork = None if shown.face is None else style.draw(shown.face, rng, variant=shown.variant)
    face = render_face(artwork, body, rng)
    if foot is None:
        return face
    return shaded_foot(face[::-1], *foot)[::-1] if shown.upside_down else shaded_foot(face, *foot)


def truth(spots: Sequence[Spot], body: Body, camera: Camera, painting: Painting) -> tuple[TruthTile, ...]:
    """Return the faces that show at all, rows from the top and places from the left."""
    counts = np.bincount(painting.visible.ravel(), minlength=len(spots) + 1)
    found: dict[int, list[tuple[Spot, Floats, float]]] = {}
    for ident, spot in enumerate(spots, 1):
        if counts[ident] == 0:
            continue
        quad = camera.project(corners_of(spot, body))
        hidden = 1.0 if _edge_on(quad) else float(1 - counts[ident] / painting.painted[ident])
        found.setdefault(spot.row, []).append((spot, quad, max(0.0, hidden)))
    rows = sorted(found.values(), key=lambda line: float(np.mean([quad[:, 1].mean() for _, quad, _ in line])))
    return tuple(
        TruthTile(
            quad,
            spot.shown.face,
            number,
            place,
            bool(quad[0, 1] + quad[1, 1] > quad[2, 1] + quad[3, 1]),
            hidden,
            -1 if spot.shown.face is None else spot.shown.face.index * VARIANTS + spot.shown.variant % VARIANTS,
        )
        for number, line in enumerate(rows)
        for place, (spot, quad, hidden) in enumerate(
            sorted(line, key=lambda item: float(item[1][:, 0].mean()))
        )
    )


def _edge_on(quad: Floats) -> bool:
    """Tell whether a face is too foreshortened to read."""
    wide = float(np.linalg.norm(quad[1] - quad[0]) + np.linalg.norm(quad[2] - quad[3]))
    tall = float(np.linalg.norm(quad[3] - quad[0]) + np.linalg.norm(quad[2] - quad[1]))
    return min(wide, tall) < FLATTEST * max(wide, tall)
