"""Light on the training device: shadows darken behind an edge only, glare brightens only, everything stays in range."""

from __future__ import annotations

import pytest

torch = pytest.importorskip("torch")

from tilewitness.training.light import glare, relit, shadow


def test_shadow_leaves_full_light_before_its_edge_and_the_given_share_behind() -> None:
    light = shadow(torch.zeros(64, 3, 32, 24), torch.full((64, 1, 1, 1), 0.6), torch.Generator().manual_seed(1))

    assert light.shape == (64, 1, 32, 24)
    assert 0.4 - 1e-4 <= light.min() < 0.42 and 0.98 < light.max() <= 1


def test_no_shadow_and_no_glare_without_strength() -> None:
    none, rng = torch.zeros(4, 1, 1, 1), torch.Generator().manual_seed(2)

    assert torch.equal(torch.ones(4, 1, 32, 24), shadow(torch.zeros(4, 3, 32, 24), none, rng))
    assert torch.equal(torch.zeros(4, 1, 32, 24), glare(torch.zeros(4, 3, 32, 24), none, rng))


def test_relit_pictures_stay_in_range() -> None:
    pictures = 255 * torch.rand(32, 3, 32, 24, generator=torch.Generator().manual_seed(3))
    result = relit(pictures, torch.Generator().manual_seed(4))

    assert result.shape == pictures.shape and 0 <= result.min() and result.max() <= 255
