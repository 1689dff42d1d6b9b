"""Blur for training keeps light, place and what it ought to spare: facts of optics and plain geometry."""

import numpy as np
import pytest

torch = pytest.importorskip("torch", reason="training needs PyTorch: pip install -e '.[train]'")

from tilewitness.training import blur

SPOILERS = (blur.defocused, blur.shaken, blur.zoomed, blur.through_glass)


def generator(seed: int = 1) -> "torch.Generator":
    return torch.Generator().manual_seed(seed)


def spots(count: int = 24) -> "torch.Tensor":
    """Black pictures with a bright square in the middle."""
    pictures = torch.zeros((count, 3, 65, 65))
    pictures[:, :, 28:37, 28:37] = 255
    return pictures


@pytest.mark.parametrize("spoil", SPOILERS, ids=lambda spoil: spoil.__name__)
def test_a_flat_picture_stays_flat(spoil) -> None:
    flat = torch.full((6, 3, 48, 40), 90.0)

    assert torch.allclose(flat, spoil(flat, 1.0, generator()), atol=1e-2)


@pytest.mark.parametrize("spoil", (blur.defocused, blur.shaken))
def test_what_is_out_of_focus_or_shaken_keeps_its_light_and_its_middle(spoil) -> None:
    spread = spoil(spots(), 1.0, generator())[:, 0]
    light = spread.sum((1, 2))
    steps = torch.arange(65.0)

    assert torch.allclose(light, spots()[:, 0].sum((1, 2)), rtol=1e-3)
    assert torch.allclose((spread.sum(1) * steps).sum(1) / light, torch.tensor(32.0), atol=0.02)
    assert torch.allclose((spread.sum(2) * steps).sum(1) / light, torch.tensor(32.0), atol=0.02)


def test_a_shake_leaves_one_direction_sharp_and_a_missed_focus_none() -> None:
    edge = torch.zeros((1, 3, 65, 65))
    edge[..., 32:] = 255
    steepest = [abs(np.diff(spoil(edge.repeat(40, 1, 1, 1), 1.0, generator())[:, 0, 32].numpy())).max(1) for spoil in SPOILERS[:2]]

    assert (steepest[0] < 255 * 0.9).all()
    assert (steepest[1] > 255 * 0.6).any() and (steepest[1] < 255 * 0.2).any()


def test_a_zoom_spares_the_point_it_goes_towards() -> None:
    rng = np.random.default_rng(3)
    noisy = torch.from_numpy(rng.uniform(0, 255, (40, 3, 65, 65)).astype(np.float32))
    lost = (blur.zoomed(noisy, 1.0, generator()) - noisy).abs().mean(1).flatten(1)

    assert (lost.amin(1) < 0.5 * lost.mean(1)).float().mean() > 0.8


def test_most_pictures_stay_as_they_are() -> None:
    pictures = torch.from_numpy(np.random.default_rng(5).uniform(0, 255, (400, 3, 24, 24)).astype(np.float32))
    changed = (blur.unsharp(pictures, generator()) != pictures).flatten(1).any(1).float().mean()

    assert float(changed) == pytest.approx(blur.DEFOCUSED + blur.SHAKEN + blur.ZOOMED + blur.THROUGH_GLASS, abs=0.06)
