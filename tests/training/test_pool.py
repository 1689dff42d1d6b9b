import cv2
import numpy as np
import pytest

torch = pytest.importorskip("torch", reason="training needs PyTorch: pip install -e .[train]")

from tilewitness.training.pool import finder_order, square_to_quad, visible_share


def test_homographies_agree_with_opencv() -> None:
    rng = np.random.default_rng(2)
    base = np.array([[10, 10], [80, 12], [84, 110], [8, 100]], np.float32)
    square = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], np.float32)
    for _ in range(20):
        quad = (base + rng.uniform(-6, 6, (4, 2))).astype(np.float32)
        ours = square_to_quad(torch.from_numpy(quad)[None])[0].numpy()

        assert np.allclose(cv2.getPerspectiveTransform(square, quad), ours, rtol=1e-3, atol=1e-3)


def test_the_finders_order_starts_at_the_end_nearer_the_top() -> None:
    upright = torch.tensor([[0.0, 0], [3, 0], [3, 4], [0, 4]])

    assert torch.equal(upright, finder_order(upright))
    assert torch.equal(upright, finder_order(upright.roll(-2, dims=0)))


def test_the_visible_share_counts_what_lies_inside_the_patch() -> None:
    quads = torch.tensor([[[0.0, 0], [6, 0], [6, 6], [0, 6]], [[-3.0, 0], [3, 0], [3, 6], [-3, 6]]])

    assert [1.0, 0.5] == visible_share(quads, 100).tolist()
