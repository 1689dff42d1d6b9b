"""Tiles are compared in print whatever the light, which way up they stand, and where exactly they were found."""

from typing import Any, cast

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from tilewitness.engine.faces import Face
from tilewitness.models import ReaderNet
from tilewitness.vision.learning import PICTURE_MARGIN, PICTURE_SIZE
from tilewitness.vision.prints import BORDER, SIZE, Prints, _cuts, _edges, compare
from tilewitness.vision.sets import Addition, Example, Source, TileSet

SIX, SEVEN = Face.named("6 bam"), Face.named("7 bam")
NET = ReaderNet(cast(Any, None))  # only the size and margin of its faces are asked for


def ladybird(spots: int, size: tuple[int, int], margin: float, *, aside: float = 0.0) -> NDArray[np.uint8]:
    """A face with so many spots on a large red body, `aside` parts of its width off."""
    picture = np.full((*size, 3), 235, np.uint8)
    wide, high = (side / (1 + 2 * margin) for side in (size[1], size[0]))
    middle = np.array([size[1] / 2 + aside * wide, size[0] / 2])
    body = int(0.42 * wide), int(0.4 * high)
    cv2.ellipse(picture, middle.astype(int).tolist(), body, 0, 0, 360, (40, 50, 205), -1, cv2.LINE_AA)
    for number in range(spots):
        at = middle + (wide * (-0.2 + 0.2 * (number % 3)), high * (-0.2 + 0.2 * (number // 3)))
        cv2.circle(picture, at.astype(int).tolist(), int(0.07 * wide), (60, 45, 45), -1, cv2.LINE_AA)
    return picture


def example(face: Face, spots: int) -> Example:
    return Example(face, cv2.imencode(".jpg", ladybird(spots, PICTURE_SIZE, PICTURE_MARGIN))[1].tobytes())


MINE = TileSet("Mine", (Addition(Source.LAYOUT, (example(SIX, 6), example(SEVEN, 7))),))


@pytest.mark.parametrize("spots", [6, 7])
@pytest.mark.parametrize("aside", [0.0, 0.04, -0.04])
@pytest.mark.parametrize("light", [0.5, 1.0])
@pytest.mark.parametrize("turned", [False, True])
def test_one_spot_more_is_seen(spots: int, aside: float, light: float, turned: bool) -> None:
    face = (ladybird(spots, NET.size, NET.margin, aside=aside) * light).astype(np.uint8)
    found = compare(face[None, ::-1, ::-1] if turned else face[None], MINE, NET)
    likeness, shown = found.likeness[0], (SIX, SEVEN)[spots - 6].index

    assert spots == 6 + int(likeness[SEVEN.index] > likeness[SIX.index])
    assert likeness.max() > 0.8
    assert (spots - 6, turned) == (found.example[0, shown], found.turned[0, shown])


def test_a_face_without_an_example_is_unlike_everything() -> None:
    likeness = compare(ladybird(6, NET.size, NET.margin)[None], MINE, NET).likeness[0]

    assert {-1.0} == set(np.delete(likeness, [SIX.index, SEVEN.index]).tolist())


def test_no_faces_and_an_empty_set_have_no_likeness() -> None:
    face = ladybird(6, NET.size, NET.margin)[None]

    assert (0, 37) == compare(face[:0], MINE, NET).likeness.shape
    assert {-1.0} == set(compare(face, TileSet("Empty"), NET).likeness[0].tolist())


def test_the_correlation_is_the_one_that_opencv_computes() -> None:
    first, second = _edges(np.stack([ladybird(spots, NET.size, NET.margin) for spots in (6, 7)]))
    ours = (_cuts(first[None], BORDER, 0)[0] @ _cuts(second[None], BORDER, 0)[0].T).item()
    inner = np.s_[BORDER : SIZE[0] - BORDER, BORDER : SIZE[1] - BORDER]
    # OpenCV's documentation of matchTemplate: TM_CCOEFF_NORMED takes the mean from each channel and normalises over all;
    # it takes up to four channels, so the six slopes go by threes, weighted with their lengths.
    products, lengths = 0.0, np.zeros(2)
    for half in (np.s_[..., :3], np.s_[..., 3:]):
        a, b = (np.ascontiguousarray(edge[inner][half]) for edge in (first, second))
        lengths += [((one - one.mean((0, 1))) ** 2).sum() for one in (a, b)]
        products += cv2.matchTemplate(a, b, cv2.TM_CCOEFF).item()

    assert products / np.sqrt(lengths.prod()) == pytest.approx(ours, abs=1e-3)


def test_only_the_classes_asked_for_are_compared() -> None:
    likely = np.zeros((1, 37), np.bool_)
    likely[0, SEVEN.index] = True
    likeness = compare(ladybird(6, NET.size, NET.margin)[None], MINE, NET, likely).likeness[0]

    assert [SEVEN.index] == np.flatnonzero(likeness > -1).tolist()


def test_what_was_found_is_chosen_and_written_down_face_by_face() -> None:
    first = np.array([True, False])
    found = compare(ladybird(6, NET.size, NET.margin)[None], MINE, NET)
    kept = Prints.none(2)
    kept.put(first, found)

    np.testing.assert_array_equal(found.likeness, kept.of(first).likeness)
    assert -1 == kept.of(~first).likeness.max()
