import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.vision.copies import with_copies
from tilewitness.vision.reader import NO_FACE, Answers


def picture(text: str) -> NDArray[np.uint8]:
    face = np.full((96, 72, 3), 230, np.uint8)
    cv2.putText(face, text, (12, 66), cv2.FONT_HERSHEY_SIMPLEX, 1.8, (40, 30, 20), 4)
    return face


def said(*likely: dict[int, float], looks: list[int]) -> Answers:
    probabilities = np.full((len(likely), NO_FACE + 1), 1e-4, np.float32)
    for row, faces in zip(probabilities, likely, strict=True):
        for face, probability in faces.items():
            row[face] = probability
    probabilities /= probabilities.sum(1, keepdims=True)
    return Answers(probabilities, np.zeros(len(likely), np.float32), np.eye(8, dtype=np.float32)[looks])


def test_copies_read_in_two_ways_get_one_answer_and_no_more_certainty_than_their_mean() -> None:
    answers = said({0: 0.7, 34: 0.3}, {0: 0.4, 34: 0.6}, {0: 0.8, 34: 0.2}, looks=[1, 1, 1])

    shared = with_copies(answers, np.stack([picture("A"), picture("A"), picture("A")[::-1, ::-1]]))

    assert [0, 0, 0] == shared.probabilities.argmax(1).tolist()
    assert 0.6 < shared.probabilities[0, 0] < 0.7
    np.testing.assert_allclose(1, shared.probabilities.sum(1), rtol=1e-5)
    np.testing.assert_array_equal(shared.probabilities[0], shared.probabilities[2])


def test_pictures_that_only_the_reader_takes_for_alike_keep_their_own_answers() -> None:
    answers = said({0: 0.7, 34: 0.3}, {0: 0.4, 34: 0.6}, looks=[1, 1])

    shared = with_copies(answers, np.stack([picture("A"), picture("V")]))

    np.testing.assert_array_equal(answers.probabilities, shared.probabilities)


def test_pictures_that_only_the_print_takes_for_alike_keep_their_own_answers() -> None:
    answers = said({0: 0.7, 34: 0.3}, {0: 0.4, 34: 0.6}, looks=[1, 2])

    shared = with_copies(answers, np.stack([picture("A")] * 2))

    np.testing.assert_array_equal(answers.probabilities, shared.probabilities)


def test_clear_copies_with_one_name_and_no_tiles_at_all_are_left_alone() -> None:
    clear = said({0: 0.999}, {0: 0.998}, looks=[1, 1])
    none = Answers(np.empty((0, 37), np.float32), np.empty(0, np.float32), np.empty((0, 128), np.float32))

    assert clear is with_copies(clear, np.stack([picture("A")] * 2))
    assert none is with_copies(none, np.empty((0, 96, 72, 3), np.uint8))
