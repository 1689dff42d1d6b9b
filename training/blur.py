"""Pictures that did not come out sharp, on the training device: missed focus, a moving or zoomed lens, uneven glass.

Each fault befalls a few pictures of a batch, and none of them moves a picture as a whole: what is in it stays
where the truth says.
"""

from __future__ import annotations

import torch
from torch import Tensor
from torch.nn import functional as F

DEFOCUSED, SHAKEN, ZOOMED, THROUGH_GLASS = 0.07, 0.06, 0.05, 0.05
"""Shares of the pictures."""

MOST = 7
"""Pixels from a kernel's middle to its edge: the largest circle of confusion, half the longest shake."""

MOMENTS = 12
"""Samples of a zoom during the exposure."""


def unsharp(pictures: Tensor, rng: torch.Generator, *, strength: float = 1.0) -> Tensor:
    """Return pictures (N, 3, H, W) of which about a fifth are blurred, up to `MOST` pixels times `strength`."""
    fate = torch.rand(len(pictures), device=pictures.device, generator=rng)
    result, low = pictures.clone(), 0.0
    for share, spoil in ((DEFOCUSED, defocused), (SHAKEN, shaken), (ZOOMED, zoomed), (THROUGH_GLASS, through_glass)):
        chosen = ((fate >= low) & (fate < low + share)).nonzero()[:, 0]
        low += share
        if len(chosen):
            result[chosen] = spoil(pictures[chosen], strength, rng)
    return result


def defocused(pictures: Tensor, strength: float, rng: torch.Generator) -> Tensor:
    """Spread every point over a disc, the image of a round aperture out of focus."""
    radius = 0.7 + (0.6 * MOST * strength - 0.7) * _uniform(rng, pictures, 1, 1) ** 1.5
    y, x = _offsets(pictures)
    return _spread(pictures, (radius + 0.5 - (x**2 + y**2).sqrt()).clamp(0, 1))


def shaken(pictures: Tensor, strength: float, rng: torch.Generator) -> Tensor:
    """Spread every point along a straight path: the camera or the tiles moved during the exposure."""
    angle, half = torch.pi * _uniform(rng, pictures, 1, 1), 0.5 + (MOST * strength - 0.5) * _uniform(rng, pictures, 1, 1) ** 1.5
    y, x = _offsets(pictures)
    along, aside = x * angle.cos() + y * angle.sin(), y * angle.cos() - x * angle.sin()
    return _spread(pictures, (1 - aside.abs()).clamp(0, 1) * (half + 0.5 - along.abs()).clamp(0, 1))


def zoomed(pictures: Tensor, strength: float, rng: torch.Generator) -> Tensor:
    """Mix magnifications about a point in the picture or beside it, as much smaller as larger."""
    middle = 1.5 * (2 * _uniform(rng, pictures, 2) - 1)
    reach = 0.06 * strength * _uniform(rng, pictures, 1)
    result = torch.zeros_like(pictures)
    for moment in torch.linspace(-1, 1, MOMENTS).tolist():
        scale = 1 + moment * reach
        matrix = torch.zeros((len(pictures), 2, 3), device=pictures.device)
        matrix[:, 0, 0] = matrix[:, 1, 1] = scale[:, 0]
        matrix[:, :, 2] = middle * (1 - scale)
        result += _looked_up(pictures, F.affine_grid(matrix, list(pictures.shape), align_corners=False))
    return result / MOMENTS


def through_glass(pictures: Tensor, strength: float, rng: torch.Generator) -> Tensor:
    """Look each point up a little aside, every few pixels in another direction: wet or textured glass, hot air."""
    count, _, height, width = pictures.shape
    grain = 1 + int(torch.randint(1, 4, (1,), device=pictures.device, generator=rng))
    shape = (count, 2, -(-height // grain), -(-width // grain))
    field = F.interpolate(torch.randn(shape, device=pictures.device, generator=rng), (height, width), mode="bilinear")
    pixels = field * (0.3 + 1.7 * strength * _uniform(rng, pictures, 1, 1, 1))
    step = torch.tensor([2 / width, 2 / height], device=pictures.device)
    still = torch.eye(2, 3, device=pictures.device).expand(count, 2, 3)
    return _looked_up(pictures, F.affine_grid(still, list(pictures.shape), align_corners=False) + pixels.permute(0, 2, 3, 1) * step)


def _uniform(rng: torch.Generator, pictures: Tensor, *shape: int) -> Tensor:
    return torch.rand((len(pictures), *shape), device=pictures.device, generator=rng)


def _offsets(pictures: Tensor) -> tuple[Tensor, Tensor]:
    steps = torch.arange(-MOST, MOST + 1, device=pictures.device, dtype=torch.float32)
    return steps.view(1, -1, 1), steps.view(1, 1, -1)


def _spread(pictures: Tensor, kernels: Tensor) -> Tensor:
    """Convolve each picture (N, 3, H, W) with a kernel of its own (N, K, K), which is made to sum to 1."""
    count, channels, height, width = pictures.shape
    weights = (kernels / kernels.sum((1, 2), keepdim=True)).repeat_interleave(channels, 0)[:, None]
    padded = F.pad(pictures, (MOST,) * 4, mode="replicate").reshape(1, count * channels, height + 2 * MOST, width + 2 * MOST)
    return F.conv2d(padded, weights, groups=count * channels).view_as(pictures)


def _looked_up(pictures: Tensor, grid: Tensor) -> Tensor:
    return F.grid_sample(pictures, grid, padding_mode="border", align_corners=False)
