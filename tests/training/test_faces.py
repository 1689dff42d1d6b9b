from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES
from tilewitness.training import bamboo, dots, frames
from tilewitness.training.faces import contact_sheet, draw_face, sample_style
from tilewitness.training.inks import sample_panel


@pytest.mark.parametrize("held_out", [False, True])
def test_every_face_of_fifty_sets_is_drawn(held_out: bool) -> None:
    for seed in range(50):
        rng = np.random.default_rng(seed)
        style = sample_style(rng, held_out=held_out)
        for face in FACES:
            picture = draw_face(face, style, rng, variant=seed % 8)

            assert ((256, 192, 4), np.uint8) == (picture.shape, picture.dtype)
            assert 100 < np.count_nonzero(picture[:, :, 3] > 60), f"{face} of set {seed} is empty"


def test_the_same_seed_draws_the_same_tile() -> None:
    for face in FACES:
        first, second = (np.random.default_rng(11) for _ in range(2))
        one = draw_face(face, sample_style(first), first, variant=2)
        again = draw_face(face, sample_style(second), second, variant=2)

        assert np.array_equal(one, again)


def test_no_make_of_dot_bamboo_or_frame_is_in_both_splits() -> None:
    for tables in ((dots.FILLINGS, dots.LATER_FILLINGS), (bamboo.MAKES, bamboo.LATER_MAKES), (frames.PATTERNS,)):
        trained, kept = ({make for table in tables for make in table[held]} for held in (False, True))

        assert set() == trained & kept


def test_the_faces_of_one_set_differ_from_each_other() -> None:
    for seed in range(20):
        rng = np.random.default_rng(seed)
        style = sample_style(rng)
        small = [_on_white(draw_face(face, style, rng))[::4, ::4] for face in FACES]
        for one, other in product(range(36), repeat=2):
            if one < other:
                assert np.abs(small[one] - small[other]).mean() > 1, f"{FACES[one]}, {FACES[other]}, set {seed}"


def _on_white(picture: NDArray[np.uint8]) -> NDArray[np.float64]:
    alpha = picture[:, :, 3:] / 255.0
    return np.asarray(picture[:, :, :3] * alpha + 255 * (1 - alpha))


def test_a_set_made_in_colours_covers_its_faces_and_calls_for_light_inks_on_dark() -> None:
    panels = [sample_panel(np.random.default_rng(seed)) for seed in range(600)]
    coloured = [panel for panel in panels if panel]

    assert 10 < len(coloured) < 60
    for panel, inks in coloured:
        assert (max(panel) < 100) == (inks is not None)
    style = replace(sample_style(np.random.default_rng(0)), panel=(20, 30, 60))
    picture = draw_face(FACES[12], style, np.random.default_rng(1))

    assert 255 == picture[:, :, 3].min()
    assert (20, 30, 60) == tuple(picture[2, 96, :3])


def test_a_contact_sheet_has_two_lines_of_tiles_a_set() -> None:
    assert (2 * 2 * 116, 19 * 88, 3) == contact_sheet(3, rows=2).shape
