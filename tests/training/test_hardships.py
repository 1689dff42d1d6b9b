"""Hardships are rare, leave other pictures alone, move nothing, and spare what is held out."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from tilewitness.training import hardships, scenes
from tilewitness.training.hardships import badly_kept, badly_lit
from tilewitness.training.scenes import render_scene

FACES = np.zeros((120, 160), np.bool_)
FACES[20:100, 20:140] = True


def _picture() -> NDArray[np.uint8]:
    blots = cv2.GaussianBlur(np.random.default_rng(9).normal(128, 900, (240, 320, 3)), (0, 0), 6)
    return blots.clip(20, 200).astype(np.uint8)


def _spoilt(seed: int) -> list[NDArray[np.uint8]]:
    rng = np.random.default_rng(seed)
    return [badly_lit(_picture(), FACES, 60.0, rng), badly_kept(_picture(), 60.0, rng)]


def test_a_picture_without_a_hardship_comes_back_as_it_was(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(hardships, "LIT_BADLY", 0.0)
    monkeypatch.setattr(hardships, "KEPT_BADLY", 0.0)

    assert all(np.array_equal(_picture(), image) for image in _spoilt(1))


def test_every_hardship_keeps_the_size_and_moves_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(hardships, "LIT_BADLY", 1.0)
    monkeypatch.setattr(hardships, "KEPT_BADLY", 1.0)
    middle = _picture()[60:180, 80:240]

    for seed in range(30):
        kept = _spoilt(seed)[1]
        assert kept.dtype == np.uint8 and kept.shape == (240, 320, 3)
        place = cv2.minMaxLoc(cv2.matchTemplate(kept, middle, cv2.TM_CCOEFF_NORMED))[3]
        assert abs(place[0] - 80) <= 1 and abs(place[1] - 60) <= 1
        lit = _spoilt(seed)[0]
        assert lit.dtype == np.uint8 and lit.shape == (240, 320, 3) and not np.array_equal(lit, _picture())


def test_a_picture_without_faces_mirrors_no_lamp(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(hardships, "LIT_BADLY", 1.0)

    assert badly_lit(_picture(), np.zeros_like(FACES), 60.0, np.random.default_rng(3)).shape == (240, 320, 3)


def test_held_out_scenes_and_most_others_meet_none(monkeypatch: pytest.MonkeyPatch) -> None:
    def rendered() -> list[NDArray[np.uint8]]:
        return [render_scene(seed, held_out=seed == 0, kind="close").image for seed in range(4)]

    monkeypatch.setattr(scenes, "badly_lit", lambda image, *_: image)
    monkeypatch.setattr(scenes, "badly_kept", lambda image, *_: image)
    without = rendered()
    monkeypatch.undo()

    same = [np.array_equal(*pair) for pair in zip(without, rendered(), strict=True)]
    assert same[0] and any(same[1:])
