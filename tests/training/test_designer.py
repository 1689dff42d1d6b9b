"""Designer sets are drawn whole, every face its own, and no network ever learns from them."""

from __future__ import annotations

import inspect
import itertools
import re
import subprocess
import sys

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES
from tilewitness.training import designer_abstract, designer_garden, designer_kitchen, designer_letters
from tilewitness.training.designer import DESIGNER_SETS, PICTURES
from tilewitness.training.motifs import LEFT_OUT


def _still(name: str) -> dict[tuple[str, int], NDArray[np.float32]]:
    """Every face and picture of a set on white, small, without the play between two tiles."""
    still = {}
    for face in FACES:
        for variant in range(PICTURES.get(face.kind, 1)):
            drawn = DESIGNER_SETS[name].draw(face, np.random.default_rng(0), variant=variant)
            alpha = drawn[:, :, 3:] / np.float32(255)
            still[face.name, variant] = cv2.resize(drawn[:, :, :3] * alpha + 245 * (1 - alpha), (24, 32), interpolation=cv2.INTER_AREA)
    return still


@pytest.mark.parametrize("name", DESIGNER_SETS)
def test_every_face_and_picture_of_a_designer_set_is_its_own(name: str) -> None:
    still = _still(name)

    alike = [(a, b) for a, b in itertools.combinations(still, 2) if np.abs(still[a] - still[b]).max() < 60]

    assert 34 + sum(PICTURES.values()) == len(still)
    assert [] == alike


@pytest.mark.parametrize("name", DESIGNER_SETS)
def test_two_tiles_with_one_face_differ_no_more_than_by_play(name: str) -> None:
    rng = np.random.default_rng(1)
    one, other = (DESIGNER_SETS[name].draw(FACES[9], rng).astype(float) for _ in range(2))

    assert 0 < np.abs(one - other).mean() < 12


def test_nothing_that_makes_training_scenes_knows_of_the_designer_sets() -> None:
    pytest.importorskip("torch", reason="what trains needs PyTorch: pip install -e .[train]")
    makers = "shards, sheets, scenes, whole, train_finder, train_reader"
    listed = "print(*[name for name in sys.modules if 'training.designer' in name])"
    told = subprocess.run(
        [sys.executable, "-c", f"import sys; from tilewitness.training import {makers}; {listed}"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip

    assert "\n" == told.stdout


def test_no_icon_of_the_designer_sets_is_an_unnamed_symbol() -> None:
    modules = (designer_abstract, designer_garden, designer_kitchen, designer_letters)
    used = {name for module in modules for name in re.findall(r'"([\w-]+--[\w-]+)"', inspect.getsource(module))}

    assert used
    assert used == LEFT_OUT
