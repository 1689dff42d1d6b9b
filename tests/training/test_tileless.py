from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
import pytest

from tilewitness.training import lookalike_rows, lookalikes
from tilewitness.training.further_strangers import MAKERS as FURTHER
from tilewitness.training.pieces import Family
from tilewitness.training.tileless import MAKERS, drawn_photo, sample_images
from tilewitness.vision.read import read_photo


@pytest.mark.parametrize("file", sample_images(), ids=lambda file: file.name)
def test_no_tile_is_seen_in_a_sample_image_of_an_installed_package(file: Path) -> None:
    # Source: the images that scikit-image (a development dependency) and scikit-learn, where installed, carry.
    assert () == read_photo(file).tiles


def test_scikit_image_brings_its_sample_images() -> None:
    pytest.importorskip("skimage", reason="the sample images come with scikit-image: pip install -e '.[dev]'")

    assert {"astronaut.png", "brick.png", "coins.png", "page.png", "rocket.jpg"} <= {f.name for f in sample_images()}


@pytest.mark.parametrize("kind", [*MAKERS, *FURTHER])
def test_every_kind_is_drawn_at_the_size_of_a_photo(kind: str) -> None:
    # What is falsely found in these is measured by training/evaluate.py and stated in the model card.
    photo = drawn_photo(kind, 0)

    assert (1024, 3) == (max(photo.shape), photo.shape[2])
    assert photo.std() > 5


def test_the_same_number_draws_the_same_photo_and_another_number_another() -> None:
    first, again, other = (drawn_photo("dominoes", number) for number in (1, 1, 2))

    assert np.array_equal(first, again)
    assert first.shape != other.shape or not np.array_equal(first, other)


def test_a_measuring_photo_shares_no_drawing_of_things_with_training() -> None:
    scenes = {maker.__module__ for maker in (*(make for make, _ in lookalikes._FAMILIES), lookalike_rows.laid_out)}

    assert set() == scenes & {make.__module__ for make in (MAKERS | FURTHER).values()}


@pytest.mark.parametrize("make", [make for make, _ in lookalikes._FAMILIES], ids=lambda make: make.__name__)
def test_lookalikes_stand_in_rows_and_are_mistaken_where_they_stand(make: Callable[..., Family]) -> None:
    rng = np.random.default_rng(4)
    family = make(rng)
    image, pieces = lookalike_rows.printed(rng, family, 150, 700, 2)
    quads = np.array([lookalike_rows.mistaken(rng, family, piece) for piece in pieces])

    assert (150, 700, 3) == image.shape
    assert all(cv2.contourArea(quad, oriented=True) > 0 for quad in quads)
    assert len(lookalike_rows.laid_out(rng, family)) >= 2
