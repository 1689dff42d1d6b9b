"""Two faces that differ by one spot are told apart where they differ, whatever the light, the focus and the corners."""

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from tilewitness.vision.differences import SIZE, preferences, prepared

from .test_prints import ladybird

LARGE = (192, 144)
SIX, SEVEN, EIGHT = (prepared(ladybird(spots, LARGE, 0.06)) for spots in (6, 7, 8))


def photographed(spots: int, *, light: float = 1.0, blur: float = 0.0, turn: float = 0.0, scale: float = 1.0) -> NDArray[np.uint8]:
    """The tile in other light, out of focus by so many pixels of `LARGE`, its corners found askew."""
    matrix = cv2.getRotationMatrix2D((LARGE[1] / 2, LARGE[0] / 2), turn, scale)
    face = cv2.warpAffine(ladybird(spots, LARGE, 0.06), matrix, LARGE[::-1], borderMode=cv2.BORDER_REPLICATE)
    soft = cv2.GaussianBlur(face, (0, 0), blur) if blur else face
    return np.asarray(soft * light, np.uint8)


@pytest.mark.parametrize("spots", [6, 7, 8])
@pytest.mark.parametrize("seen", [{}, {"light": 0.4}, {"blur": 4.0}, {"turn": 3.0, "scale": 0.95}, {"turn": -2.0, "blur": 3.0}])
def test_the_right_one_of_three_is_preferred(spots: int, seen: dict[str, float]) -> None:
    told = preferences(prepared(photographed(spots, **seen)), [SIX, SEVEN, EIGHT])

    assert spots - 6 == told.argmax()
    assert told.max() > 0.25
    assert 0 == pytest.approx(told.sum(), abs=1e-5)


def test_of_two_equal_pictures_neither_is_preferred() -> None:
    assert [0, 0] == pytest.approx(preferences(SEVEN, [SIX, SIX]).tolist(), abs=1e-3)


def test_an_empty_face_prefers_nothing_by_much_and_breaks_nothing() -> None:
    bare = prepared(np.full((*LARGE, 3), 230, np.uint8))

    assert (SIZE[0], SIZE[1], 3) == bare.shape
    assert np.isfinite(preferences(bare, [SIX, SEVEN])).all()
    assert np.isfinite(preferences(SEVEN, [bare, SEVEN])).all()
