"""Telling looks apart: tiles of one picture drawn by scenes, what is learnt from them, and how it is measured."""

from __future__ import annotations

import math
from dataclasses import dataclass

import torch
from torch import Tensor
from torch.nn import functional as F

from tilewitness.training.light import relit
from tilewitness.training.nets import Reader
from tilewitness.training.pool import ScenePool, cut_faces, jittered
from tilewitness.training.shards import NO_FACE, STRANGE

SMALLEST = 24
"""Tiles with a shorter side than this many pixels are not compared."""

TILES = 24
"""Tiles of one picture that are compared with each other, each seen twice."""

TEMPERATURE = 0.1


@dataclass(frozen=True, slots=True)
class Looks:
    """A batch: pictures (G × 2 × TILES, 3, 96, 72); looks and faces (G, 2 × TILES), -1 as the look of what to ignore."""

    pictures: Tensor
    looks: Tensor
    faces: Tensor


class LookSampler:
    """Draws tiles of one picture at a time, each twice in other light; every folder comes up equally often."""

    def __init__(self, pool: ScenePool) -> None:
        self.pool = pool
        self.update()

    def update(self) -> None:
        """Take note of the scenes that came into the pool."""
        pool = self.pool
        now = slice(pool.filled)
        edges = pool.quads[now][:, :, [1, 3]] - pool.quads[now][:, :, :1]
        large = edges.norm(dim=-1).amin(-1) > SMALLEST
        self.usable = (pool.looks[now] >= 0) & (pool.hidden[now] < 0.35) & large
        enough = self.usable.sum(1) >= 6
        counts = torch.bincount(pool.folder_of[now][enough], minlength=len(pool.folders)).clamp(min=1)
        self.weights = enough / counts[pool.folder_of[now]]

    def draw(self, groups: int, *, jitter: float, ripple: float, rng: torch.Generator) -> Looks:
        """Cut tiles from `groups` pictures; corners and what lies between them wander as in `FaceSampler.draw`."""
        pool, device = self.pool, self.pool.device
        scene = torch.multinomial(self.weights, groups, replacement=True, generator=rng)
        lot = torch.rand((groups, self.usable.shape[1]), device=device, generator=rng) + 2.0 * ~self.usable[scene]
        tile = lot.argsort(1)[:, :TILES].repeat(1, 2)
        rows = scene[:, None].expand_as(tile)
        looks = pool.looks[rows, tile].masked_fill(~self.usable[rows, tile], -1)
        quads = pool.quads[rows, tile].flatten(0, 1)
        count = len(quads)
        flipped = torch.rand(count, device=device, generator=rng) < 0.5
        quads = jittered(torch.where(flipped[:, None, None], quads.roll(-2, dims=-2), quads), jitter, rng)
        field = ripple * torch.randn((count, 2, 5, 4), device=device, generator=rng)
        return Looks(cut_faces(pool, rows.flatten(), quads, field), looks, pool.faces[rows, tile])


def contrast(embeddings: Tensor, looks: Tensor, faces: Tensor) -> Tensor:
    """Return how badly the tiles of each picture are told apart: other views and copies shall be near, others far.

    Two tiles of one named face whose looks differ count neither way: they are hardly ever worth telling apart.
    Source: Khosla et al. 2020, "Supervised Contrastive Learning", equation 2, within each picture.

    Args:
        embeddings: float (G, N, D), of any length. looks, faces: int64 (G, N); a look of -1 is ignored.
    """
    unit = F.normalize(embeddings.float(), dim=-1)
    alike = unit @ unit.transpose(1, 2) / TEMPERATURE
    counts = looks >= 0
    both = counts[:, :, None] & counts[:, None, :]
    itself = torch.eye(looks.shape[1], dtype=torch.bool, device=looks.device)
    same = (looks[:, :, None] == looks[:, None, :]) & both & ~itself
    named = (faces[:, :, None] == faces[:, None, :]) & (faces >= 0)[:, :, None]
    compared = both & ~itself & (same | ~named)
    log_share = alike - torch.logsumexp(alike.masked_fill(~compared, -1e4), 2, keepdim=True)
    partners = same.sum(2)
    each = -(log_share * same).sum(2) / partners.clamp(min=1)
    return each[partners > 0].mean()


def certainty(logits: Tensor, faces: Tensor) -> Tensor:
    """Return how far from even the odds of the faces are on strange symbols; 0 where none is likelier than another.

    Source: Hendrycks et al. 2019, "Deep Anomaly Detection with Outlier Exposure", section 4.3.

    Args:
        logits: float (N, classes). faces: int64 (N,): only those that are `STRANGE` count.
    """
    strange = logits[faces == STRANGE]
    if not len(strange):
        return logits.sum() * 0
    return -F.log_softmax(strange, dim=1)[:, :NO_FACE].mean() - math.log(NO_FACE)


@torch.no_grad()
def nearest_right(network: Reader, pool: ScenePool, rng: torch.Generator) -> float:
    """Return for what share of the unnamed symbols that have another copy in their picture a copy is the nearest tile."""
    right = total = 0
    for slot in range(pool.filled):
        chosen = ((pool.looks[slot] >= 0) & (pool.faces[slot] < 0) & (pool.hidden[slot] < 0.35)).nonzero()[:, 0]
        if len(chosen) < 2:
            continue
        quads = jittered(pool.quads[slot, chosen], 0.015, rng)
        pictures = relit(cut_faces(pool, torch.full_like(chosen, slot), quads), rng, strength=0.5)
        unit = F.normalize(network(pictures.permute(0, 2, 3, 1))[2].float(), dim=-1)
        nearest = (unit @ unit.T).fill_diagonal_(-2).argmax(1)
        looks = pool.looks[slot, chosen]
        copied = (looks[:, None] == looks).sum(1) > 1
        right += int((looks[nearest] == looks)[copied].sum())
        total += int(copied.sum())
    return right / max(total, 1)
