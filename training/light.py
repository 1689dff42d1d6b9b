"""What a camera does to a picture, on the training device: colour, light, blur, noise, glare, shadow, ink."""

from __future__ import annotations

import torch
from torch import Tensor
from torch.nn import functional as F


def relit(pictures: Tensor, rng: torch.Generator, *, strength: float = 1.0) -> Tensor:
    """Return pictures (N, 3, H, W), 0 to 255, under other light and through another camera.

    Ink colours keep their order (no hue is swapped): red and green dragons may differ in ink alone.
    """
    count, device = len(pictures), pictures.device

    def uniform(low: float, high: float, *shape: int) -> Tensor:
        return low + (high - low) * torch.rand((count, *shape), device=device, generator=rng)

    def some(share: float) -> Tensor:
        return uniform(0, 1, 1, 1, 1) < share

    x = pictures / 255
    x = torch.where(some(0.3), softened(x, uniform(1.0, 1.0 + 1.8 * strength)), x)
    x = x * (1 + strength * uniform(-0.18, 0.18, 3, 1, 1)) + strength * uniform(-0.08, 0.08, 3, 1, 1)
    mean = x.mean((1, 2, 3), keepdim=True)
    x = (x - mean) * (1 + strength * uniform(-0.35, 0.25, 1, 1, 1)) + mean
    x = x * (1 + strength * uniform(-0.3, 0.25, 1, 1, 1))
    x = x.clamp(1e-4, 4) ** torch.exp(strength * uniform(-0.4, 0.4, 1, 1, 1))
    x = x + glare(x, uniform(0, 0.8, 1, 1, 1) * some(0.2 * strength), rng)
    x = x * shadow(x, uniform(0.2, 0.7, 1, 1, 1) * some(0.15 * strength), rng)
    x = x + torch.randn(x.shape, device=device, generator=rng) * uniform(0, 0.05 * strength, 1, 1, 1)
    return x.clamp(0, 1) * 255


def reinked(pictures: Tensor, rng: torch.Generator) -> Tensor:
    """Make the dark strokes of some pictures (N, 3, H, W) fatter or finer, by up to a pixel on each side."""
    shape = (len(pictures), 1, 1, 1)
    draw = torch.rand(shape, device=pictures.device, generator=rng)
    amount = 0.8 * torch.rand(shape, device=pictures.device, generator=rng)
    fat, fine = -F.max_pool2d(-pictures, 3, 1, 1), F.max_pool2d(pictures, 3, 1, 1)
    changed = torch.where(draw < 0.15, fat, torch.where(draw > 0.85, fine, pictures))
    return pictures + amount * (changed - pictures)


def softened(x: Tensor, factor: Tensor) -> Tensor:
    """Lose detail as if each picture (N, 3, H, W) had been taken `factor` (N,) times smaller."""
    height, width = x.shape[-2:]
    result = x
    for step in (1.4, 1.8, 2.3, 2.8):
        small = F.interpolate(x, (round(height / step), round(width / step)), mode="area")
        large = F.interpolate(small, (height, width), mode="bilinear")
        result = torch.where((factor >= step).view(-1, 1, 1, 1), large, result)
    return result


def glare(x: Tensor, amount: Tensor, rng: torch.Generator) -> Tensor:
    """Return one soft bright blob or streak a picture (N, 1, H, W), `amount` (N, 1, 1, 1) at its middle."""
    draw = torch.rand((len(x), 5, 1, 1), device=x.device, generator=rng)
    ahead, aside = _turned(x, draw[:, 0], draw[:, 2], torch.pi * draw[:, 4])
    away = (ahead / (0.1 + 0.7 * draw[:, 1])) ** 2 + (aside / (0.08 + 0.37 * draw[:, 3])) ** 2
    return amount * torch.exp(-away)[:, None]


def shadow(x: Tensor, depth: Tensor, rng: torch.Generator) -> Tensor:
    """Return the light (N, 1, H, W) that a straight, hard or soft edge leaves: 1 before it, 1 - `depth` behind."""
    draw = torch.rand((len(x), 4, 1, 1), device=x.device, generator=rng)
    ahead, _ = _turned(x, draw[:, 0], draw[:, 1], 2 * torch.pi * draw[:, 2])
    return 1 - depth * torch.sigmoid(ahead / (0.005 + 0.08 * draw[:, 3] ** 2))[:, None]


def _turned(x: Tensor, column: Tensor, row: Tensor, angle: Tensor) -> tuple[Tensor, Tensor]:
    """Return how far each pixel lies ahead and aside of a point, as shares of the picture's sides (N, H, W)."""
    height, width = x.shape[-2:]
    down = torch.linspace(0, 1, height, device=x.device).view(1, height, 1) - row
    across = torch.linspace(0, 1, width, device=x.device).view(1, 1, width) - column
    return across * angle.cos() + down * angle.sin(), down * angle.cos() - across * angle.sin()
