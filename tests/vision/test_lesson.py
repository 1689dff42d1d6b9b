from collections.abc import Callable, Sequence
from typing import Any

import cv2
import numpy as np
import pytest

from tilewitness.engine.faces import FACES, NAMES, Face
from tilewitness.models import FinderNet, ReaderNet
from tilewitness.vision.finder import FEW
from tilewitness.vision.lesson import Agreement, Lesson, Place, layout, study
from tilewitness.vision.read import Models
from tilewitness.vision.sets import SetError, TileSet

ROWS = layout(flowers=2, jokers=1)
AS_LAID_OUT = [[face.name for face in row] for row in ROWS]
PHOTO = np.broadcast_to(np.linspace(60, 200, 1024).astype(np.uint8)[:, None], (1024, 1024, 3)).copy()  # lighter on the right
PHOTO[np.arange(1024) % 16 < 5] = 20  # lines across every tile, as print

Photographed = Callable[..., Lesson]


@pytest.fixture
def photographed(finder_seeing: Any, reader_saying: Any) -> Photographed:
    """Make a lesson of photos, each of rows of tiles that look like these names; see `chances` for other looks."""

    def photographed(*photos: Sequence[Sequence[str]]) -> Lesson:
        looks, said, heads = [], [], []
        for rows in photos:
            quads = [
                np.array([(0, 0), (60, 0), (60, 80), (0, 80)], np.float32) + (40 + 61 * place, 40 + 130 * number)
                for number, row in enumerate(rows)
                for place in range(len(row))
            ]
            looks += [np.array(quads, np.float32)] + [[]] * (len(quads) < FEW)  # a look from farther away shows nothing new
            names = [name for row in rows for name in row]
            again = [chances("?")] * (2 * (names.count("?") + names.count("!")))
            said += [chances(name) for name in names] + again
            heads += [float(name == "!") for name in names] + [0.0] * len(again)
        reader = reader_saying(np.array(said, np.float32), np.array(heads, np.float32))
        models = Models(FinderNet(finder_seeing(*looks)), ReaderNet(reader))
        return study([PHOTO] * len(photos), ROWS, models=models)

    return photographed


def chances(name: str) -> Any:
    """What the reader says: almost sure of a name; for "?" as good as nothing but "some face",
    for "!" that this stands on its head, for "-" that it is none."""
    if name in "?!":
        return np.append(np.full(36, 0.4 / 35), 0.0) + 0.6 * np.eye(37)[27]
    return 0.98 * np.eye(37)[36 if name == "-" else NAMES.index(name)] + 0.02 / 37


def changed(row: int, place: int, *names: str, instead_of: int = 1) -> list[list[str]]:
    rows = [list(line) for line in AS_LAID_OUT]
    rows[row][place : place + instead_of] = names
    return rows


def agreement(lesson: Lesson, row: int, place: int) -> Agreement:
    return next(each.agreement for each in lesson.places if (each.row, each.place) == (row, place))


def test_the_layout_has_one_of_each_face_and_as_many_pictures_as_asked() -> None:
    faces = [face for row in layout(flowers=8, jokers=2) for face in row]

    assert list(FACES[:34]) + [FACES[34]] * 8 + [FACES[35]] * 2 == faces
    assert max(len(row) for row in layout(flowers=8, jokers=2)) <= 9


def test_no_set_has_nine_different_flowers() -> None:
    with pytest.raises(SetError, match="1 to 8"):
        layout(flowers=9)


def test_a_photo_of_the_whole_layout_agrees_everywhere(photographed: Photographed) -> None:
    lesson = photographed(AS_LAID_OUT)

    assert {Agreement.AGREES} == {place.agreement for place in lesson.places}
    assert ((), ()) == (lesson.doubts, lesson.strays)
    assert all(place.picture for place in lesson.places)


def test_rows_may_come_in_several_photos_and_in_any_order(photographed: Photographed) -> None:
    lesson = photographed([AS_LAID_OUT[3], AS_LAID_OUT[0]], [AS_LAID_OUT[4]], [AS_LAID_OUT[2], AS_LAID_OUT[1]])

    assert {Agreement.AGREES} == {place.agreement for place in lesson.places}


def test_unknown_artwork_is_learnt_by_its_place(photographed: Photographed) -> None:
    lesson = photographed(changed(1, 3, "?", "?", instead_of=2))

    assert Agreement.UNSURE == agreement(lesson, 1, 3)
    assert ["4 crak", "5 crak"] == [str(place.face) for place in lesson.places if place.row == 1 and place.place in (3, 4)]


def test_a_rack_is_not_taken_for_a_layout_of_unknown_artwork(photographed: Photographed) -> None:
    with pytest.raises(SetError, match="tiles of the photos fit the layout"):
        photographed([["?"] * 9])


def test_artwork_that_looks_like_no_tile_is_learnt_by_its_place(photographed: Photographed) -> None:
    lesson = photographed(changed(1, 3, "-", "-", instead_of=2))

    assert ((), ()) == (lesson.not_seen, lesson.strays)
    assert ["4 crak", "5 crak"] == [str(place.face) for place in lesson.places if place.row == 1 and place.place in (3, 4)]


def test_unknown_artwork_that_seems_to_stand_on_its_head_keeps_its_place(photographed: Photographed) -> None:
    lesson = photographed([["!" if number == 1 else "?" for _ in row] for number, row in enumerate(AS_LAID_OUT)])
    light = [cv2.imdecode(np.frombuffer(place.picture, np.uint8), 0).mean() for place in lesson.places if place.row == 1]

    assert sorted(light) == light


def test_what_looks_like_no_tile_and_has_no_place_is_none(photographed: Photographed) -> None:
    lesson = photographed(changed(3, 7, "-", instead_of=0))

    assert {Agreement.AGREES} == {place.agreement for place in lesson.places}
    assert () == lesson.strays


def test_a_missing_tile_leaves_its_place_empty_and_no_other_is_taken_for_it(photographed: Photographed) -> None:
    rows = changed(1, 3)
    lesson = photographed(rows)

    assert [(1, 3)] == [(place.row, place.place) for place in lesson.not_seen]
    assert () == lesson.doubts


def test_a_tile_in_the_wrong_place_is_in_doubt_and_not_learnt(photographed: Photographed) -> None:
    lesson = photographed(changed(2, 4, "6 crak"))
    (doubt,) = lesson.doubts

    assert (2, 4, "5 dot", "6 crak", None) == (
        doubt.row, doubt.place, str(doubt.expected), str(doubt.looks_like), doubt.face
    )  # fmt: skip


def test_two_tiles_that_changed_places_are_both_in_doubt(photographed: Photographed) -> None:
    lesson = photographed(changed(0, 2, "4 bam", "3 bam", instead_of=2))

    assert [("3 bam", "4 bam"), ("4 bam", "3 bam")] == [
        (str(place.expected), str(place.looks_like)) for place in lesson.doubts
    ]
    assert () == lesson.not_seen


def test_a_tile_too_many_is_named_with_its_place_in_the_photo(photographed: Photographed) -> None:
    lesson = photographed(changed(3, 7, "joker", instead_of=0))
    (stray,) = lesson.strays

    assert (0, 3, 7, "joker") == (stray.photo, stray.row, stray.place, str(stray.looks_like))
    assert () == lesson.doubts


def test_a_person_says_what_lies_in_a_place_or_leaves_it_out(photographed: Photographed) -> None:
    lesson = photographed(changed(2, 4, "6 crak"))
    told, left_out = lesson.with_correction(2, 4, Face.named("6 crak")), lesson.with_correction(2, 4, None)

    assert (Agreement.TOLD, ()) == (agreement(told, 2, 4), told.doubts)
    assert ["6 crak"] == [str(place.face) for place in told.places if (place.row, place.place) == (2, 4)]
    assert [None] == [place.face for place in left_out.places if (place.row, place.place) == (2, 4)]
    assert Agreement.OTHER == agreement(lesson, 2, 4)


def test_a_person_says_that_the_layout_is_right(photographed: Photographed) -> None:
    lesson = photographed(changed(2, 4, "6 crak")).as_laid_out()

    assert ["5 dot"] == [str(place.face) for place in lesson.places if (place.row, place.place) == (2, 4)]


def test_no_tile_can_be_named_where_none_was_seen(photographed: Photographed) -> None:
    with pytest.raises(SetError, match="row 2 place 4"):
        photographed(changed(1, 3)).with_correction(1, 3, FACES[0])


def faded(number: int, *, row: int, place: int) -> Place:
    return Place(row, place, FACES[number], ((FACES[number], 0.3),), b"seen", faded=True, known_set=False)


def test_a_tile_whose_print_hardly_shows_is_not_learnt_and_asked_for_again() -> None:
    lesson = Lesson((faded(8, row=0, place=8), Place(0, 0, FACES[0], ((FACES[0], 0.9),), b"seen")))

    assert [Agreement.FADED, Agreement.AGREES] == [place.agreement for place in lesson.places]
    assert [None, FACES[0]] == [place.face for place in lesson.places]
    assert lesson.places[:1] == lesson.again
    assert FACES[8] == lesson.with_correction(0, 8, FACES[8]).places[0].face


def test_a_pale_tile_is_learnt_and_asked_for_again_unless_a_person_named_it() -> None:
    pale = Place(0, 8, FACES[8], ((FACES[8], 0.3),), b"seen", known_set=False, pale=True)
    lesson = Lesson((pale,))

    assert (FACES[8], (pale,)) == (pale.face, lesson.again)
    assert () == lesson.with_correction(0, 8, FACES[8]).again


def test_a_place_not_seen_is_asked_for_again_but_no_picture_that_the_set_may_not_have(photographed: Photographed) -> None:
    missing = photographed([*changed(1, 3)[:4], AS_LAID_OUT[4][:1]])

    assert 3 == len(missing.not_seen)
    assert [(1, 3)] == [(place.row, place.place) for place in missing.again]


def test_nothing_is_asked_for_again_where_all_was_seen(photographed: Photographed) -> None:
    assert () == photographed(AS_LAID_OUT).again


def test_a_photo_without_tiles_teaches_nothing(photographed: Photographed) -> None:
    lesson = photographed([])

    assert len(lesson.places) == len(lesson.not_seen)
    with pytest.raises(SetError, match="nothing was learnt"):
        lesson.learn(TileSet("Mine"))


def test_without_a_photo_there_is_no_lesson() -> None:
    with pytest.raises(SetError, match="at least one photo"):
        study([], ROWS)
