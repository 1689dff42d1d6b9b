"""Conditions spoil a photo more when strong, the same way every time; none is drawn by what training draws."""

from __future__ import annotations

import ast
import inspect

import cv2
import numpy as np
import pytest

from tilewitness.training import conditions
from tilewitness.training.conditions import CONDITIONS, Photo
from tilewitness.training.evaluate_conditions import TAKEN_OTHERWISE, Taken, contrast, fits, photos_of, take


@pytest.fixture(scope="module")
def clean() -> Taken:
    return take(2)


@pytest.mark.parametrize("name", CONDITIONS)
def test_a_condition_is_the_same_every_time_and_worse_when_strong(name: str, clean: Taken) -> None:
    def loss(strong: bool) -> float:
        first, again = (CONDITIONS[name](clean.photo, strong, np.random.default_rng(1)) for _ in range(2))
        assert first.dtype == np.uint8 and np.array_equal(first, again)
        size = clean.photo.image.shape[1::-1]
        return float(np.square(cv2.resize(first, size).astype(float) - clean.photo.image).mean())

    assert 0 < loss(False) < loss(True)


def test_a_lamp_burns_tiles_out_and_leaves_what_mirrors_nothing_dark() -> None:
    quads = np.float32([[[100, 100], [160, 100], [160, 180], [100, 180]]])
    seen = CONDITIONS["lamp mirrored"](Photo(np.full((300, 300, 3), 90, np.uint8), quads), True, np.random.default_rng(1))

    assert 250 < seen[100:180, 100:160].max()
    assert seen[:90].max() < 150


def test_a_photo_fits_if_it_shows_enough_tiles_whose_print_is_seen() -> None:
    quads = np.float32([[[x, 20], [x + 50, 20], [x + 50, 80], [x, 80]] for x in range(0, 480, 60)])
    blank = Photo(np.full((100, 480, 3), 200, np.uint8), quads)
    striped = Photo(np.repeat(np.tile(np.uint8([100, 200]), (100, 240))[..., None], 3, 2), quads)

    assert 0 == contrast(blank) and 50 == pytest.approx(contrast(striped), abs=1)
    assert [True, False, False] == [fits(striped), fits(blank), fits(Photo(striped.image, quads[:7]))]


def test_every_photo_of_a_scene_has_its_truth_where_the_tiles_are(clean: Taken) -> None:
    names = []
    for name, image, truths in photos_of(2, clean):
        names.append(name)
        middles = np.array([one.quad.mean(0) for one in truths if one.counts])
        assert len(middles) and (middles > 0).all() and (middles < image.shape[1::-1]).all()

    assert len(names) == len(set(names)) == 1 + 2 * (len(CONDITIONS) + len(TAKEN_OTHERWISE))


def test_conditions_share_no_drawing_with_training() -> None:
    imported = [node for node in ast.walk(ast.parse(inspect.getsource(conditions))) if isinstance(node, ast.ImportFrom)]

    assert not [node.module for node in imported if node.module and node.module.startswith("tilewitness")]
