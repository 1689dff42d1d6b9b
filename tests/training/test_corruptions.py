import numpy as np
import pytest

from tilewitness.training.corruptions import KINDS, corrupted

imagecorruptions = pytest.importorskip(
    "imagecorruptions", reason="package imagecorruptions-imaug is not installed: see training/corruptions.py"
)


def test_the_kinds_are_the_fifteen_of_the_benchmark() -> None:
    assert KINDS == tuple(imagecorruptions.get_corruption_names("common"))


@pytest.mark.parametrize("kind", ["gaussian_noise", "fog", "jpeg_compression"])
def test_a_corrupted_photo_keeps_its_size_and_comes_out_the_same_again(kind: str) -> None:
    photo = np.random.default_rng(1).integers(0, 256, (64, 96, 3), np.uint8)
    first, again = corrupted(photo, kind), corrupted(photo, kind)

    assert photo.shape == first.shape
    assert np.array_equal(first, again)
    assert not np.array_equal(first, photo)


def test_channels_stay_in_their_order() -> None:
    blue = np.full((64, 64, 3), (200, 60, 60), np.uint8)

    assert [True, False, False] == [c == 0 for c in np.argsort(-corrupted(blue, "contrast").mean((0, 1)))]
