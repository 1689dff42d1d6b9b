from functools import cache

import cv2
import numpy as np
import pytest

from tilewitness.training.carving import can_carve, carve, sample_hand
from tilewitness.training.glyphs import draw_text, families

TILES = "一二三四五伍六七八九万萬東东南西北中發发白"


def test_every_character_of_the_suits_and_honours_has_a_model() -> None:
    assert can_carve(TILES)
    assert not can_carve("A")


def test_a_hand_cuts_the_same_character_alike_and_another_hand_differently() -> None:
    first, second = sample_hand(np.random.default_rng(1)), sample_hand(np.random.default_rng(2))

    assert np.array_equal(carve("萬", first, 90), carve("萬", first, 90))
    assert carve("萬", first, 90).shape != carve("萬", second, 90).shape


@pytest.mark.parametrize("character", TILES)
def test_a_carved_character_resembles_no_other_more_than_itself_in_print(character: str) -> None:
    # Against the openly licensed families listed in artwork/LICENCES.md, all together.
    printed = {other: _printed(other) for other in TILES}
    mean = sum(_squared(carve(character, sample_hand(np.random.default_rng(seed)), 96)) for seed in range(12))
    likeness = {other: float(np.corrcoef(np.ravel(mean), mask.ravel())[0, 1]) for other, mask in printed.items()}

    assert character == max(likeness, key=lambda other: likeness[other])


@cache
def _printed(character: str) -> np.ndarray:  # type: ignore[type-arg]  # a mean of masks
    known = [name for held in (False, True) for name in families("chinese", held_out=held, text=character)]
    return sum(_squared(draw_text(character, family, 60)) for family in known) / len(known)


def _squared(mask: np.ndarray) -> np.ndarray:  # type: ignore[type-arg]  # any mask
    """A blurred mask stretched to a square, but for 一, which fills a third of it at most."""
    pad = max(0, (mask.shape[1] - 3 * mask.shape[0]) // 2)
    square = cv2.resize(np.pad(mask, ((pad, pad), (0, 0))).astype(np.float32), (48, 48), interpolation=cv2.INTER_AREA)
    return cv2.GaussianBlur(square, (0, 0), 2.0)
