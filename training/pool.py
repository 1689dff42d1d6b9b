"""Scenes held in device memory, and the patches and faces that training cuts from them.

Everything after rendering happens on the training device in batches: cutting, warping, light, noise. So
each scene is seen at many scales and each face through many cameras without waiting for the processor.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import torch
from torch import Tensor
from torch.nn import functional as F

from tilewitness.training.nets import READER_MARGIN, READER_SIZE
from tilewitness.training.shards import GREY, MOST_TILES, NO_FACE, PER_SHARD, SIDE

SMALLEST = 18
"""Faces with a shorter side than this many pixels teach the reader nothing."""

ABSENT = -1
"""Stands for the face where a picture's record holds no tile."""


class ScenePool:
    """A ring of the newest pictures of some shard folders, on one device.

    Attributes:
        images: uint8 (capacity, SIDE, SIDE, 3), BGR. halves: the same at half the size, for what is seen small.
        folder_of: int64 (capacity,), from which folder a picture came.
        quads: float32 (capacity, MOST_TILES, 4, 2), pixels, clockwise from the artwork's top-left.
        faces: int64 (capacity, MOST_TILES); `ABSENT` where there is no tile, `NO_FACE` for a blank one, `UNNAMED` or
            `STRANGE` for a symbol.
        looks: int64 (capacity, MOST_TILES); the same for tiles of a picture that show the same artwork, -1 if not told.
        upside_down: bool (capacity, MOST_TILES); hidden: float32 (capacity, MOST_TILES), 0 to 1.
    """

    def __init__(self, folders: Sequence[Path], capacity: int, device: torch.device) -> None:
        self.folders, self.device = tuple(folders), device
        self.capacity = max(1, capacity // PER_SHARD) * PER_SHARD
        shape = (self.capacity, MOST_TILES)
        self.images = torch.empty((self.capacity, SIDE, SIDE, 3), dtype=torch.uint8, device=device)
        self.halves = torch.empty((self.capacity, SIDE // 2, SIDE // 2, 3), dtype=torch.uint8, device=device)
        self.folder_of = torch.zeros(self.capacity, dtype=torch.int64, device=device)
        self.quads = torch.zeros((*shape, 4, 2), device=device)
        self.faces = torch.full(shape, ABSENT, dtype=torch.int64, device=device)
        self.looks = torch.full(shape, -1, dtype=torch.int64, device=device)
        self.upside_down = torch.zeros(shape, dtype=torch.bool, device=device)
        self.hidden = torch.ones(shape, device=device)
        self.filled = 0
        self._next = 0
        self._seen: set[Path] = set()

    @classmethod
    def whole(cls, folders: Sequence[Path], device: torch.device) -> ScenePool:
        """Return a pool with every picture now in the folders."""
        pool = cls(folders, sum(len(list(folder.glob("*.npz"))) for folder in folders) * PER_SHARD, device)
        pool.refresh()
        return pool

    def refresh(self, *, most: int = 10_000) -> int:
        """Take in up to `most` new shards, overwriting the oldest when full; return how many came."""
        found = [
            (path.name, number, path)
            for number, folder in enumerate(self.folders)
            for path in folder.glob("*.npz")
            if path not in self._seen
        ]
        new = sorted(found)[:most]  # by number of the shard: folders take turns
        for _, number, path in new:
            self._seen.add(path)
            with np.load(path) as shard:
                self._store(shard["images"], shard["tiles"], shard["counts"], number)
        return len(new)

    def _store(self, images: np.ndarray, tiles: np.ndarray, counts: np.ndarray, folder: int) -> None:
        slot = slice(self._next, self._next + PER_SHARD)
        present = np.arange(MOST_TILES) < counts[:, None]
        self.images[slot] = torch.from_numpy(images).to(self.device)
        small = F.avg_pool2d(self.images[slot].permute(0, 3, 1, 2).float(), 2)
        self.halves[slot] = small.round().to(torch.uint8).permute(0, 2, 3, 1)
        self.folder_of[slot] = folder
        self.quads[slot] = torch.from_numpy(np.ascontiguousarray(tiles["quad"])).to(self.device)
        faces = np.where(present, tiles["face"], ABSENT).astype(np.int64)
        self.faces[slot] = torch.from_numpy(faces).to(self.device)
        looks = np.where(present, tiles["look"], -1).astype(np.int64)
        self.looks[slot] = torch.from_numpy(looks).to(self.device)
        self.upside_down[slot] = torch.from_numpy(np.ascontiguousarray(tiles["upside_down"])).to(self.device)
        self.hidden[slot] = torch.from_numpy(np.ascontiguousarray(tiles["hidden"])).to(self.device)
        self._next = (self._next + PER_SHARD) % self.capacity
        self.filled = min(self.filled + PER_SHARD, self.capacity)

    def look_up(self, scene: Tensor, x: Tensor, y: Tensor, small: Tensor) -> Tensor:
        """Sample pictures bilinearly at pixel positions; grey outside.

        Args:
            scene: int64 (N,), slots of the ring.
            x, y: float (N, H, W), in pixels from the picture's upper left edge: the first pixel spans 0 to 1.
            small: bool (N,), where the samples lie so far apart that the half-size picture serves better.
        Returns:
            float32 (N, 3, H, W), 0 to 255.
        """
        result = torch.empty((len(scene), 3, *x.shape[1:]), device=self.device)
        for chosen, source, shrink in ((~small, self.images, 1), (small, self.halves, 2)):
            which = chosen.nonzero()[:, 0]
            if len(which):
                result[which] = _sampled(source, scene[which], x[which] / shrink - 0.5, y[which] / shrink - 0.5)
        return result


def _sampled(source: Tensor, scene: Tensor, x: Tensor, y: Tensor) -> Tensor:
    """Bilinear samples of uint8 (capacity, side, side, 3), pixel centres at whole numbers."""
    side = source.shape[1]
    flat = source.view(-1, 3)
    base = (scene * side * side).view(-1, 1, 1)
    left, top = x.floor(), y.floor()
    result = torch.zeros((*x.shape, 3), device=source.device)
    for dx, dy in ((0, 0), (1, 0), (0, 1), (1, 1)):
        column, line = left + dx, top + dy
        weight = (1 - (x - column).abs()) * (1 - (y - line).abs())
        inside = (column >= 0) & (column < side) & (line >= 0) & (line < side)
        index = base + line.clamp(0, side - 1).long() * side + column.clamp(0, side - 1).long()
        value = torch.where(inside[..., None], flat[index].float(), GREY)
        result += weight[..., None] * value
    return result.permute(0, 3, 1, 2)


def square_to_quad(quads: Tensor) -> Tensor:
    """Return homographies (N, 3, 3) from the unit square to quads (N, 4, 2).

    Source: Heckbert 1989, "Fundamentals of Texture Mapping and Image Warping", section 2.2.3.
    """
    x0, x1, x2, x3 = quads[..., 0].unbind(-1)
    y0, y1, y2, y3 = quads[..., 1].unbind(-1)
    dx1, dx2, sx = x1 - x2, x3 - x2, x0 - x1 + x2 - x3
    dy1, dy2, sy = y1 - y2, y3 - y2, y0 - y1 + y2 - y3
    area = dx1 * dy2 - dx2 * dy1
    area = torch.where(area.abs() < 1e-6, torch.full_like(area, 1e-6), area)
    g, h = (sx * dy2 - dx2 * sy) / area, (dx1 * sy - sx * dy1) / area
    one = torch.ones_like(g)
    rows = (x1 - x0 + g * x1, x3 - x0 + h * x3, x0, y1 - y0 + g * y1, y3 - y0 + h * y3, y0, g, h, one)
    return torch.stack(rows, -1).view(-1, 3, 3)


def cut_faces(pool: ScenePool, scene: Tensor, quads: Tensor, ripple: Tensor | None = None) -> Tensor:
    """Straighten one quad a scene: float32 (N, 3, height, width) with the reader's margin, 0 to 255.

    `ripple` (N, 2, rows, columns) shifts what is seen by a smooth field, in shares of the face's sides.
    """
    height, width = READER_SIZE
    span = 1 + 2 * READER_MARGIN
    u = (torch.arange(width, device=quads.device) + 0.5) / width * span - READER_MARGIN
    v = (torch.arange(height, device=quads.device) + 0.5) / height * span - READER_MARGIN
    vv, uu = torch.meshgrid(v, u, indexing="ij")
    matrix = square_to_quad(quads)
    places = torch.stack((uu, vv, torch.ones_like(uu)), 0).view(1, 3, -1)
    if ripple is not None:
        field = F.interpolate(ripple, (height, width), mode="bicubic", align_corners=True).flatten(2)
        places = torch.cat((places[:, :2] + field, places[:, 2:].expand(len(field), -1, -1)), 1)
    x, y, z = (matrix @ places).unbind(1)
    z = torch.where(z.abs() < 1e-6, torch.full_like(z, 1e-6), z)
    tall = (quads[:, 3] - quads[:, 0]).norm(dim=-1)
    return pool.look_up(scene, (x / z).view(-1, height, width), (y / z).view(-1, height, width), tall > 1.5 * height)


@dataclass(frozen=True, slots=True)
class Patches:
    """A batch for the finder: pictures (N, 3, P, P), quads (N, T, 4, 2) in patch pixels with the finder's
    corner order, `wanted` (N, T) faces it must find and `ignored` (N, T) ones it may find or not."""

    pictures: Tensor
    quads: Tensor
    wanted: Tensor
    ignored: Tensor


def finder_order(quads: Tensor) -> Tensor:
    """Turn quads (…, 4, 2) by half where their artwork's top points down: the finder cannot know."""
    up = quads[..., 0:2, 1].mean(-1) - quads[..., 2:4, 1].mean(-1)
    return torch.where((up > 0)[..., None, None], quads.roll(-2, dims=-2), quads)


def cut_patches(
    pool: ScenePool, scene: Tensor, size: int, *, scales: tuple[float, float], turn: float, rng: torch.Generator
) -> Patches:
    """Cut one randomly scaled, turned and mirrored square patch from each scene.

    Args:
        scene: int64 (N,), slots of the pool.
        size: side of a patch in pixels.
        scales: bounds of the magnification, drawn log-uniformly.
        turn: largest extra rotation in radians.
        rng: generator on the pool's device.
    """
    count, device = len(scene), pool.device

    def uniform(low: float, high: float) -> Tensor:
        return low + (high - low) * torch.rand(count, device=device, generator=rng)

    scale = torch.exp(uniform(float(np.log(scales[0])), float(np.log(scales[1]))))
    angle = uniform(-turn, turn)
    mirror = torch.where(uniform(0, 1) < 0.5, -1.0, 1.0)
    quads, faces, hidden = pool.quads[scene], pool.faces[scene], pool.hidden[scene]
    present = faces != ABSENT
    # Most patches are centred near some tile, the others anywhere in the scene.
    chance = present.float() + 1e-3
    near = torch.multinomial(chance, 1, generator=rng)[:, 0]
    middle = quads[torch.arange(count, device=device), near].mean(-2)
    somewhere = torch.stack((uniform(0, SIDE), uniform(0, SIDE)), -1)
    use_tile = (uniform(0, 1) < 0.85) & present.any(-1)
    wander = torch.stack((uniform(-0.45, 0.45), uniform(-0.45, 0.45)), -1) * (size / scale)[:, None]
    centre = torch.where(use_tile[:, None], middle + wander, somewhere)

    cos, sin = torch.cos(angle), torch.sin(angle)
    to_patch = torch.stack((torch.stack((cos * mirror, -sin), -1), torch.stack((sin * mirror, cos), -1)), -2)
    to_patch = to_patch * scale[:, None, None]
    steps = torch.arange(size, device=device) + 0.5 - size / 2
    py, px = torch.meshgrid(steps, steps, indexing="ij")
    offsets = torch.linalg.inv(to_patch) @ torch.stack((px, py), 0).view(1, 2, -1)
    x = (offsets[:, 0] + centre[:, :1]).view(count, size, size)
    y = (offsets[:, 1] + centre[:, 1:]).view(count, size, size)
    pictures = pool.look_up(scene, x, y, scale < 0.67)

    moved = (quads - centre[:, None, None]) @ to_patch.transpose(-1, -2)[:, None] + size / 2
    mirrored = moved[:, :, [1, 0, 3, 2]]  # a mirrored quad would wind the other way round
    moved = torch.where((mirror < 0)[:, None, None, None], mirrored, moved)
    visible = visible_share(moved, size) * (1 - hidden)
    extent = (moved.amax(-2) - moved.amin(-2)).amin(-1)
    wanted = present & (visible > 0.65) & (extent > 12)
    ignored = present & ~wanted & (visible > 0.05)
    # Faces that matter come first, and the rest are cut off: most scenes fill a fraction of their records.
    order = (wanted | ignored).float().sort(dim=1, descending=True, stable=True).indices
    most = max(1, int((wanted | ignored).sum(1).amax()))
    rows = torch.arange(count, device=device)[:, None]
    order = order[:, :most]
    return Patches(pictures, finder_order(moved[rows, order]), wanted[rows, order], ignored[rows, order])


def visible_share(quads: Tensor, size: int) -> Tensor:
    """Return the share (…,) of each quad (…, 4, 2) that lies inside a patch, by 6 × 6 sample points."""
    steps = (torch.arange(6, device=quads.device) + 0.5) / 6
    v, u = torch.meshgrid(steps, steps, indexing="ij")
    u, v = u.reshape(-1, 1), v.reshape(-1, 1)
    a, b, c, d = (quads[..., i, :].unsqueeze(-2) for i in range(4))
    points = (a * (1 - u) + b * u) * (1 - v) + (d * (1 - u) + c * u) * v
    return ((points >= 0) & (points < size)).all(-1).float().mean(-1)


@dataclass(frozen=True, slots=True)
class Faces:
    """A batch for the reader: pictures (N, 3, 96, 72), labels (N,) and which are upside down (N,)."""

    pictures: Tensor
    labels: Tensor
    upside_down: Tensor


class FaceSampler:
    """Draws faces so that every class comes up about equally often, with `no_face` of them no face."""

    def __init__(self, pool: ScenePool, *, no_face: float) -> None:
        self.pool, self.no_face = pool, no_face
        self.update()

    def update(self) -> None:
        """Take note of the scenes that came into the pool."""
        pool = self.pool
        edges = pool.quads[: pool.filled, :, [1, 3]] - pool.quads[: pool.filled, :, :1]
        large = edges.norm(dim=-1).amin(-1) > SMALLEST
        usable = (pool.faces[: pool.filled] >= 0) & (pool.hidden[: pool.filled] < 0.35) & large
        self.places = usable.nonzero()
        labels = pool.faces[: pool.filled][usable]
        counts = torch.bincount(labels, minlength=NO_FACE + 1).float().clamp(min=1)
        worth = torch.ones(NO_FACE + 1, device=pool.device)
        # Jokers, birds and dragons have more looks than the rest. So have flowers, but drawn more often they
        # become the answer to every unknown picture.
        worth[[0, 31, 32, 33, 35]] = 1.4
        worth[NO_FACE] = 4.0  # and what is no tile has most looks of all
        weights = (worth / counts)[labels].double()
        source = pool.folder_of[self.places[:, 0]]
        total = torch.bincount(source, weights=weights)
        weights = (weights / total[source]).double()  # every folder teaches as much, however many faces it holds
        self.ladder = weights.cumsum(0)

    def draw(self, count: int, *, jitter: float, ripple: float, rng: torch.Generator) -> Faces:
        """Cut `count` faces; corners wander by a share `jitter` of the face's size, what lies between by `ripple`."""
        pool, device = self.pool, self.pool.device
        ticket = torch.rand(count, device=device, generator=rng, dtype=torch.float64) * self.ladder[-1]
        place = self.places[torch.searchsorted(self.ladder, ticket).clamp(max=len(self.places) - 1)]
        scene, tile = place.unbind(-1)
        quads, labels = pool.quads[scene, tile], pool.faces[scene, tile]
        flipped = torch.rand(count, device=device, generator=rng) < 0.5
        quads = torch.where(flipped[:, None, None], quads.roll(-2, dims=-2), quads)
        quads, labels = self._move_some_off(scene, quads, labels, rng)
        quads = jittered(quads, jitter, rng)
        field = ripple * torch.randn((count, 2, 5, 4), device=device, generator=rng)
        return Faces(cut_faces(pool, scene, quads, field), labels, flipped)

    def _move_some_off(
        self, scene: Tensor, quads: Tensor, labels: Tensor, rng: torch.Generator
    ) -> tuple[Tensor, Tensor]:
        """Shift a share of the quads to where no face is centred, and call them no face."""
        count, device = len(scene), self.pool.device
        edges = torch.stack((quads[:, 1] - quads[:, 0], quads[:, 3] - quads[:, 0]), -2)
        shift = (torch.rand((count, 1, 2), device=device, generator=rng) * 4 - 2) @ edges
        scale = 0.7 + 0.9 * torch.rand((count, 1, 1), device=device, generator=rng)
        middle = quads.mean(-2, keepdim=True)
        moved = (quads - middle) * scale + middle + shift
        size = edges.norm(dim=-1).mean(-1)
        centres = self.pool.quads[scene].mean(-2)
        away = (centres - moved.mean(-2)[:, None]).norm(dim=-1)
        away = away.masked_fill(self.pool.faces[scene] == ABSENT, 1e9).amin(-1)
        chosen = (torch.rand(count, device=device, generator=rng) < self.no_face) & (away > 0.42 * size)
        quads = torch.where(chosen[:, None, None], moved, quads)
        return quads, torch.where(chosen, torch.full_like(labels, NO_FACE), labels)


def jittered(quads: Tensor, jitter: float, rng: torch.Generator) -> Tensor:
    """Move quads (N, 4, 2) as a finder's errors would: each corner, the whole and its size a little."""
    count, device = len(quads), quads.device
    size = (quads[:, 2] - quads[:, 0]).norm(dim=-1).view(-1, 1, 1)

    def noise(*shape: int) -> Tensor:
        return torch.randn((count, *shape), device=device, generator=rng)

    middle = quads.mean(-2, keepdim=True)
    grown = (quads - middle) * (1 + jitter * noise(1, 1)) + middle
    return grown + size * jitter * (0.6 * noise(4, 2) + 0.6 * noise(1, 2))
