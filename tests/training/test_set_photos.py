"""A made-up set that the reader was not trained on, laid out, learnt, and read in play."""

import numpy as np
import pytest

from tilewitness.training.dataset import photo_truth
from tilewitness.training.evaluate import score, truths_of
from tilewitness.training.set_photos import SetPhotos, render_set
from tilewitness.training.symbols import SymbolSet
from tilewitness.vision.lesson import Agreement, Lesson, layout, study
from tilewitness.vision.read import read_photo
from tilewitness.vision.reading import Trouble
from tilewitness.vision.sets import TileSet

ROWS = layout(flowers=8, jokers=2)


@pytest.fixture(scope="module", params=[4, 9, 14])
def photos(request: pytest.FixtureRequest) -> SetPhotos:
    return render_set(request.param, ROWS, held_out=True, count=1)


@pytest.fixture(scope="module")
def lesson(photos: SetPhotos) -> Lesson:
    return study([photos.laid_out.image], ROWS)


@pytest.fixture(scope="module")
def learnt(lesson: Lesson) -> TileSet:
    return lesson.as_laid_out().learn(TileSet("Made up"))


def test_the_layout_is_photographed_row_by_row(photos: SetPhotos) -> None:
    rows = [[tile.face for tile in photos.laid_out.tiles if tile.row == row] for row in range(len(ROWS))]

    assert [list(row) for row in ROWS] == rows


def test_every_place_of_the_layout_is_learnt_under_its_name_but_those_to_photograph_again(lesson: Lesson, learnt: TileSet) -> None:
    again = {(place.row, place.place) for place in lesson.again}
    places = [(row, place, face) for row, line in enumerate(ROWS) for place, face in enumerate(line)]

    assert [face for row, place, face in places if (row, place) not in again] == [example.face for example in learnt.examples]


def test_only_the_tile_whose_print_is_worn_off_is_to_be_photographed_again(lesson: Lesson, request: pytest.FixtureRequest) -> None:
    worn = {4: [], 9: ["red dragon"], 14: []}[request.node.callspec.params["photos"]]

    assert worn == [place.expected.name for place in lesson.again]


def test_no_tile_of_a_set_in_its_places_is_missed(lesson: Lesson) -> None:
    assert ((), ()) == (lesson.not_seen, lesson.strays)
    assert sum(place.agreement is Agreement.OTHER for place in lesson.places) <= 1


def test_tiles_in_play_are_read_better_with_the_set_than_without(
    photos: SetPhotos, learnt: TileSet, request: pytest.FixtureRequest
) -> None:
    (scene,) = photos.in_play
    truths = truths_of(photo_truth(scene, ""))
    general, own = (
        score(None, truths, read_photo(scene.image, tile_set=tile_set))  # type: ignore[arg-type]  # any file
        for tile_set in (None, learnt)
    )

    better = {4: 1, 9: 0, 14: 5}[request.node.callspec.params["photos"]]  # of the second, one tile alone is misread in general

    assert len(own.wrong) <= len(general.wrong) - better
    assert len(own.wrong) <= 0.02 * len(own.pairs)


def test_artwork_that_no_set_has_is_told_to_be_unfamiliar_and_usual_artwork_is_not() -> None:
    symbols = SymbolSet.sample(np.random.default_rng(31), held_out=True)
    strange, usual = (render_set(31, ROWS, held_out=True, artwork=artwork, count=1).in_play[0] for artwork in (symbols, None))
    read = read_photo(strange.image)

    assert len(read.tiles) > 60
    assert Trouble.UNFAMILIAR in [advice.trouble for advice in read.advice]
    assert Trouble.UNFAMILIAR not in [advice.trouble for advice in read_photo(usual.image).advice]


def test_a_photo_of_another_set_is_noticed_and_read_by_general_knowledge(learnt: TileSet) -> None:
    (scene,) = render_set(11, ROWS, held_out=True, count=1).in_play
    general, own = read_photo(scene.image), read_photo(scene.image, tile_set=learnt)

    assert Trouble.OTHER_SET in [advice.trouble for advice in own.advice]
    assert [tile.probabilities for tile in general.tiles] == [tile.probabilities for tile in own.tiles]
