from collections.abc import Callable

import numpy as np
import pytest

from tilewitness.training.engraving import INKS, Canvas, ellipse
from tilewitness.training.icons import icon, icons
from tilewitness.training.plates import edges
from tilewitness.training.woodcuts import WOODCUTS, recut

PALETTE = ("red", "green", "blue")


@pytest.mark.parametrize("manner", [pytest.param(m, id=m.__name__) for m in WOODCUTS])
def test_a_manner_shows_every_icon_and_only_near_it(manner: Callable[..., None]) -> None:
    for number, name in enumerate(icons("birds")[::15]):
        parts = np.pad(icon("birds", name), 24)
        plates = np.zeros((len(INKS), *parts.shape), np.uint8)

        manner(plates, parts, PALETTE, np.random.default_rng(number))

        ink = plates.max(axis=0) > 100
        assert 0.01 < ink.mean() < 0.9
        assert not ink[:8].any()
        assert not ink[:, :8].any()


@pytest.mark.parametrize("manner", [pytest.param(m, id=m.__name__) for m in WOODCUTS])
def test_a_manner_cuts_the_same_twice_and_otherwise_with_another_seed(manner: Callable[..., None]) -> None:
    parts = np.pad(icon("flowers", icons("flowers")[3]), 12)

    def cut(seed: int) -> bytes:
        plates = np.zeros((len(INKS), *parts.shape), np.uint8)
        manner(plates, parts, PALETTE, np.random.default_rng(seed))
        return plates.tobytes()

    assert cut(1) == cut(1)
    assert cut(1) != cut(2)


def test_a_picture_cut_again_keeps_its_inks_and_its_place() -> None:
    for seed in range(20):
        canvas = Canvas()
        canvas.fill(ellipse((96, 100), 60, 50), "green")
        canvas.fill(ellipse((96, 190), 30, 30), "red")

        again = recut(canvas.planes, np.random.default_rng(seed))

        used = {INKS[i] for i, plane in enumerate(again) if plane.any()}
        assert used <= {"green", "red"}
        assert again.max(axis=0).any()
        assert not again[:, :20].any()


def test_a_faint_picture_is_not_cut_away() -> None:
    canvas = Canvas()
    canvas.line(np.array([[30.0, 30.0], [160.0, 220.0]]), 2, "blue")

    for seed in range(20):
        again = recut(canvas.planes, np.random.default_rng(seed))

        assert np.count_nonzero(again) > 0.3 * np.count_nonzero(canvas.planes > 110)


def test_edges_lie_where_regions_meet() -> None:
    parts = np.zeros((40, 40), np.uint8)
    parts[10:30, 10:20], parts[10:30, 20:30] = 1, 2

    lines = edges(parts, 3) > 0

    assert lines[20, [10, 20, 30]].all()
    assert not lines[20, [4, 15, 25, 36]].any()
