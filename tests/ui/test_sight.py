from collections.abc import Callable

import cv2
import numpy as np
import pytest

from tilewitness.engine.faces import Face
from tilewitness.ui import sight as sights
from tilewitness.ui.sight import Sight
from tilewitness.vision.reading import Reading

PHOTO = cv2.imencode(".png", np.full((240, 220, 3), 90, np.uint8))[1].tobytes()


@pytest.fixture
def seen(make_reading: Callable[..., Reading], monkeypatch: pytest.MonkeyPatch) -> Sight:
    """Two rows: east, 8 bam, joker; then two flowers."""
    reading = make_reading("east, 8 bam, joker", "flower, flower")
    monkeypatch.setattr(sights, "read_photo", lambda data, tile_set=None: reading)
    return sights.see("rack.png", PHOTO)


def names(sight: Sight) -> list[list[str]]:
    return [[tile.face.name for tile in row] for row in sight.reading.rows]


def test_every_tile_has_its_cutout(seen: Sight) -> None:
    assert 5 == len(seen.cutouts)
    assert all(cutout.startswith("data:image/jpeg;base64,") for cutout in seen.cutouts)


def test_a_named_tile_is_certain_and_keeps_what_was_read_on_offer(seen: Sight) -> None:
    changed = sights.with_face(seen, 1, Face.named("6 bam"))
    tile = changed.reading.tiles[1]

    assert ("6 bam", 1.0) == (tile.face.name, tile.confidence)
    assert "8 bam" == tile.runner_up[0].name
    assert {1} == changed.corrected
    assert seen.digest != changed.digest
    assert [["east", "8 bam", "joker"], ["flower", "flower"]] == names(seen)  # the sight before is untouched


def test_a_tile_left_out_closes_the_row(seen: Sight) -> None:
    changed = sights.without_tile(sights.with_face(seen, 2, Face.named("joker")), 1)

    assert [["east", "joker"], ["flower", "flower"]] == names(changed)
    assert [0, 1, 0, 1] == [tile.place for tile in changed.reading.tiles]
    assert {1} == changed.corrected
    assert 4 == len(changed.cutouts)


def test_an_emptied_row_closes_up(seen: Sight) -> None:
    changed = sights.without_tile(sights.without_tile(seen, 4), 3)

    assert [["east", "8 bam", "joker"]] == names(changed)


def test_an_added_tile_ends_its_row_and_is_not_drawn_into_the_photo(seen: Sight) -> None:
    changed = sights.with_added_tile(seen, Face.named("2 dot"), row=0)

    assert [["east", "8 bam", "joker", "2 dot"], ["flower", "flower"]] == names(changed)
    assert "" == changed.cutouts[3]
    assert {3} == changed.corrected
    assert 5 == len(sights.as_photographed(changed).tiles)


def test_the_marked_photo_is_a_png(seen: Sight) -> None:
    assert sights.marked_png(seen).startswith(b"\x89PNG")
