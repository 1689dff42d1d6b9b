from typing import Any

import numpy as np
import pytest

from tilewitness.engine.faces import FACES, Face
from tilewitness.models import ReaderNet
from tilewitness.vision.reader import (
    Answers,
    are_faces,
    are_unfamiliar,
    name_faces,
    on_their_heads,
    possible_faces,
)


def sure_of(*faces: int) -> Any:
    return np.eye(37, dtype=np.float32)[list(faces)]


def blank(count: int, height: int = 96, width: int = 72) -> Any:
    """Cuts that all show the same blank faces, and how many there are."""
    faces = np.zeros((count, height, width, 3), np.uint8)
    return lambda which, margin: faces[which], count


def test_batches_are_bounded_and_come_back_in_order(reader_saying: Any) -> None:
    session = reader_saying(sure_of(*(i % 37 for i in range(150))))

    answers = name_faces(*blank(150), ReaderNet(session))

    assert [64, 64, 22] == session.batches
    assert [i % 37 for i in range(150)] == answers.probabilities.argmax(1).tolist()
    assert ((150,), (150, 128)) == (answers.upside_down.shape, answers.embedding.shape)


def test_a_face_in_doubt_is_shown_twice_more(reader_saying: Any) -> None:
    sure, doubtful = sure_of(3, 4)
    doubtful[[4, 5]] = (0.8, 0.2)
    other = np.roll(doubtful, 1)
    other[[4, 5]] = (0.2, 0.8)
    session = reader_saying(np.stack([sure, doubtful, other, other]), np.zeros(4, np.float32))
    margins = []

    def cut(which: Any, margin: float) -> Any:
        margins.append((which.tolist(), round(margin, 3)))
        return np.zeros((which.sum(), 96, 72, 3), np.uint8)

    answers = name_faces(cut, 2, ReaderNet(session))

    assert [2, 2] == session.batches
    assert [([True, True], 0.06), ([False, True], 0.026), ([False, True], 0.094)] == margins
    assert [3, 5] == answers.probabilities.argmax(1).tolist()
    # the geometric mean of odds 4 : 1 once and 1 : 4 twice is 4 ** (-1 / 3)
    odds = answers.probabilities[1, 4] / answers.probabilities[1, 5]
    assert 4 ** (-1 / 3) == pytest.approx(odds, rel=1e-3)


@pytest.mark.parametrize(("seen", "turned", "means"), [(0.9, 0.1, 0.9), (0.9, 0.9, 0.5), (0.9, 0.5, 0.75), (1.0, 1.0, 0.5)])
def test_the_way_up_is_averaged_over_both_ways(reader_saying: Any, seen: float, turned: float, means: float) -> None:
    session = reader_saying(sure_of(3, 3, 3), np.array([seen, turned, turned], np.float32))

    answers = name_faces(*blank(1), ReaderNet(session))

    assert means == pytest.approx(float(answers.upside_down[0]), abs=1e-3)


def test_no_faces_give_no_answers(reader_saying: Any) -> None:
    answers = name_faces(*blank(0), ReaderNet(reader_saying(sure_of())))

    assert ((0, 37), (0,), (0, 128)) == (
        answers.probabilities.shape,
        answers.upside_down.shape,
        answers.embedding.shape,
    )


def test_faces_of_another_size_are_refused(reader_saying: Any) -> None:
    with pytest.raises(
        ValueError, match=r"faces are uint8 \(2, 64, 48, 3\); the reader takes uint8 \(N, 96, 72, 3\)"
    ):
        name_faces(*blank(2, 64, 48), ReaderNet(reader_saying(sure_of(1, 2))))


def test_backs_are_dropped_and_doubtful_tiles_stay() -> None:
    back, doubtful, tile = sure_of(36, 36, 5)
    doubtful[36], doubtful[8] = 0.4, 0.45
    answers = Answers(
        np.stack([back, doubtful, tile, tile, tile]), np.zeros(5, np.float32), np.zeros((5, 128), np.float32)
    )

    kept = are_faces(answers, np.full(5, 0.8, np.float32))

    assert [False, True, True, True, True] == kept.tolist()
    assert 4 == len(answers.of(kept).probabilities)


def test_a_photo_shows_tiles_where_what_was_found_looks_like_faces_on_the_whole() -> None:
    def kept(score: float, no_face: float) -> list[bool]:
        pieces = np.zeros((4, 37), np.float32)
        pieces[:, 7], pieces[:, 36] = 1 - no_face, no_face
        answers = Answers(pieces, np.zeros(4, np.float32), np.zeros((4, 128), np.float32))
        return are_faces(answers, np.full(4, score, np.float32)).tolist()

    assert [True] * 4 == kept(0.7, 0.05)
    assert [False] * 4 == kept(0.7, 0.1)
    assert [False] * 4 == kept(0.6, 0)


def test_tiles_without_a_likely_name_are_tiles_all_the_same() -> None:
    unnamed = np.full((3, 37), 1 / 37, np.float32)
    answers = Answers(unnamed, np.zeros(3, np.float32), np.zeros((3, 128), np.float32))

    assert [True] * 3 == are_faces(answers, np.full(3, 0.8, np.float32)).tolist()
    assert [] == are_faces(answers.of(np.zeros(3, bool)), np.empty(0, np.float32)).tolist()


def test_three_sure_faces_among_much_that_is_none_are_tiles_and_two_are_chance() -> None:
    def kept(sure: int) -> int:
        answers = Answers(sure_of(*[5] * sure, *[36] * 9), np.zeros(sure + 9, np.float32), np.zeros((sure + 9, 128), np.float32))
        return int(are_faces(answers, np.full(sure + 9, 0.85, np.float32)).sum())

    assert [0, 0, 3] == [kept(sure) for sure in (1, 2, 3)]


def test_artwork_is_unfamiliar_where_hardly_a_tile_can_be_named() -> None:
    def unfamiliar(count: int, named: float) -> bool:
        pieces = np.full((count, 37), (1 - named) / 36, np.float32)
        pieces[:, 7] = named
        return are_unfamiliar(Answers(pieces, np.zeros(count, np.float32), np.zeros((count, 128), np.float32)))

    assert (True, False, False) == (unfamiliar(8, 0.4), unfamiliar(8, 0.8), unfamiliar(5, 0.4))


def test_likely_faces_are_listed_from_the_likeliest_and_are_at_least_two() -> None:
    some = sure_of(0)[0] * 0
    some[[3, 12, 35]] = (0.3, 0.6, 0.0999)

    assert (Face.named("4 crak"), Face.named("4 bam"), Face.named("joker")) == tuple(
        f for f, _ in possible_faces(some)
    )
    assert 0.6 == pytest.approx(possible_faces(some)[0][1])
    assert [FACES[7], FACES[0]] == [face for face, _ in possible_faces(sure_of(7)[0])]


def heads(likely: list[float], *rows: tuple[int, ...]) -> list[bool]:
    return on_their_heads(np.array(likely, np.float32), rows).tolist()


def test_clear_artwork_decides_for_itself() -> None:
    assert [False, True, False] == heads([0.02, 0.99, 0.1], (0, 1, 2))


def test_doubtful_artwork_stands_as_the_photo_shows_it() -> None:
    assert [False, False, False] == heads([0.5, 0.7, 0.03], (0, 1, 2))


def test_doubtful_artwork_follows_a_row_that_stands_on_its_head() -> None:
    assert [True, True, True, True, False] == heads([0.97, 0.5, 0.99, 0.9, 0.1], (0, 1, 2, 3, 4))


def test_doubtful_artwork_does_not_follow_another_row_or_too_few() -> None:
    assert [True, True, True, False] == heads([0.97, 0.9, 0.99, 0.5], (0, 1, 2), (3,))
    assert [True, True, False] == heads([0.97, 0.9, 0.5], (0, 1, 2))
    assert [True, True, True, False, False, False] == heads(
        [0.97, 0.9, 0.9, 0.5, 0.1, 0.1], (0, 1, 2, 3, 4, 5)
    )
