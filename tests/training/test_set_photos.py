"""A made-up set that the reader was not trained on, laid out, learnt, and read in play."""

import pytest

from tilewitness.training.dataset import photo_truth
from tilewitness.training.evaluate import score, truths_of
from tilewitness.training.set_photos import SetPhotos, render_set
from tilewitness.vision.lesson import Agreement, layout, study
from tilewitness.vision.read import read_photo
from tilewitness.vision.reading import Trouble
from tilewitness.vision.sets import TileSet

ROWS = layout(flowers=8, jokers=2)


@pytest.fixture(scope="module", params=[2, 9])
def photos(request: pytest.FixtureRequest) -> SetPhotos:
    return render_set(request.param, ROWS, held_out=True, count=1)


@pytest.fixture(scope="module")
def learnt(photos: SetPhotos) -> TileSet:
    return study([photos.laid_out.image], ROWS).as_laid_out().learn(TileSet("Made up"))


def test_the_layout_is_photographed_row_by_row(photos: SetPhotos) -> None:
    rows = [[tile.face for tile in photos.laid_out.tiles if tile.row == row] for row in range(len(ROWS))]

    assert [list(row) for row in ROWS] == rows


def test_every_place_of_the_layout_is_learnt_under_its_name(learnt: TileSet) -> None:
    assert [face for row in ROWS for face in row] == [example.face for example in learnt.examples]


def test_no_tile_of_a_set_in_its_places_is_missed(photos: SetPhotos) -> None:
    lesson = study([photos.laid_out.image], ROWS)

    assert ((), ()) == (lesson.not_seen, lesson.strays)
    assert sum(place.agreement is Agreement.OTHER for place in lesson.places) <= 1


def test_tiles_in_play_are_read_better_with_the_set_than_without(photos: SetPhotos, learnt: TileSet) -> None:
    (scene,) = photos.in_play
    truths = truths_of(photo_truth(scene, ""))
    general, own = (
        score(None, truths, read_photo(scene.image, tile_set=tile_set))  # type: ignore[arg-type]  # any file
        for tile_set in (None, learnt)
    )

    assert len(own.wrong) < len(general.wrong)
    assert len(own.wrong) <= 0.02 * len(own.pairs)


def test_a_photo_of_another_set_is_noticed_and_read_by_general_knowledge(learnt: TileSet) -> None:
    (scene,) = render_set(11, ROWS, held_out=True, count=1).in_play
    general, own = read_photo(scene.image), read_photo(scene.image, tile_set=learnt)

    assert Trouble.OTHER_SET in [advice.trouble for advice in own.advice]
    assert [tile.probabilities for tile in general.tiles] == [tile.probabilities for tile in own.tiles]
