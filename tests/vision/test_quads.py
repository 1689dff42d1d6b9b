import numpy as np
import pytest

from tilewitness.vision.quads import are_convex, areas, downs, heights, moved, rights, shared_area, turned

FACE = np.array([[[10, 20], [40, 20], [40, 60], [10, 60]]], np.float32)


def test_a_face_has_the_area_height_and_edges_of_its_rectangle() -> None:
    assert [1200.0] == areas(FACE).tolist()
    assert [40.0] == heights(FACE).tolist()
    assert [[30.0, 0.0]] == rights(FACE).tolist()
    assert [[0.0, 40.0]] == downs(FACE).tolist()


def test_only_clockwise_convex_quads_count_as_convex() -> None:
    bow_tie, dented = FACE[:, (0, 2, 1, 3)], FACE.copy()
    dented[0, 0] = (35, 50)

    assert [True, False, False, False] == are_convex(
        np.concatenate([FACE, FACE[:, ::-1], bow_tie, dented])
    ).tolist()


def test_turning_starts_a_quad_at_the_opposite_corner() -> None:
    both = np.concatenate([FACE, FACE])

    assert [[10, 20], [40, 60]] == turned(both, np.array([False, True]))[:, 0].tolist()


def test_moving_forth_and_back_changes_nothing() -> None:
    matrix = np.array([[1.2, 0.1, 5], [0.05, 0.9, -3], [1e-4, 2e-4, 1]])

    np.testing.assert_allclose(FACE, moved(moved(FACE, matrix), np.linalg.inv(matrix)), atol=1e-3)


@pytest.mark.parametrize(("step", "shared"), [(0, 1200), (15, 600), (30, 0), (100, 0)])
def test_quads_share_the_area_they_overlap_in(step: float, shared: float) -> None:
    assert shared == pytest.approx(shared_area(FACE[0], FACE[0] + np.array([step, 0], np.float32)), abs=0.5)
