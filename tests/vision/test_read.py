import subprocess
import sys
from typing import Any

import numpy as np
import pytest

from tilewitness.engine.faces import NAMES, Face
from tilewitness.models import FinderNet, ReaderNet
from tilewitness.vision.photo import PhotoError
from tilewitness.vision.quads import Quads
from tilewitness.vision.read import Models, look, read_photo
from tilewitness.vision.reading import Trouble

PHOTO = np.random.default_rng(0).integers(
    60, 220, (576, 768, 3), np.uint8
)  # which the finder sees at its own size


def row_at(top: float, count: int, left: float = 100) -> Quads:
    corners = np.array([(0, 0), (60, 0), (60, 80), (0, 80)], np.float32)
    return np.array([corners + (left + 61 * i, top) for i in range(count)], np.float32)


def saying(*names: str, confidence: float = 0.97) -> Any:
    probabilities = np.full((len(names), 37), (1 - confidence) / 36, np.float32)
    for row, name in zip(probabilities, names, strict=True):
        row[36 if name == "no face" else NAMES.index(name)] = confidence
    return probabilities


def test_tiles_are_named_in_reading_order(finder_seeing: Any, reader_saying: Any) -> None:
    quads = np.concatenate([row_at(400, 3), row_at(300, 2)])
    names = ("3 bam", "east", "joker", "2 dot", "flower")
    models = Models(FinderNet(finder_seeing(quads)), ReaderNet(reader_saying(saying(*names))))

    reading = read_photo(PHOTO, models=models)

    assert (768, 576) == reading.size
    assert ["2 dot", "flower", "3 bam", "east", "joker"] == [tile.face.name for tile in reading.tiles]
    assert [(0, 0), (0, 1), (1, 0), (1, 1), (1, 2)] == [(tile.row, tile.place) for tile in reading.tiles]
    assert [2, 3] == [len(row) for row in reading.rows]
    assert [0.97] * 5 == pytest.approx([tile.confidence for tile in reading.tiles])
    np.testing.assert_allclose(quads[3], reading.tiles[0].quad, atol=1e-3)


def test_backs_among_the_tiles_are_left_out(finder_seeing: Any, reader_saying: Any) -> None:
    names = ("3 bam", "no face", "joker")
    models = Models(FinderNet(finder_seeing(row_at(400, 3))), ReaderNet(reader_saying(saying(*names))))

    tiles = read_photo(PHOTO, models=models).tiles

    assert [("3 bam", 0, 0), ("joker", 1, 1)] == [(tile.face.name, tile.place, tile.group) for tile in tiles]


def test_an_upside_down_tile_starts_at_its_lower_right(finder_seeing: Any, reader_saying: Any) -> None:
    heads = np.array([0.01, 0.99, 0.01, 0.01, 0.01], np.float32)
    reader = reader_saying(saying("3 bam", "1 crak", "joker", *["1 crak"] * 2), heads)

    tiles = read_photo(
        PHOTO, models=Models(FinderNet(finder_seeing(row_at(400, 3))), ReaderNet(reader))
    ).tiles

    assert [False, True, False] == [tile.upside_down for tile in tiles]
    np.testing.assert_allclose(row_at(400, 3)[1, 2], tiles[1].quad[0], atol=1e-3)


def test_a_photo_from_across_the_table_starts_at_the_players_left(
    finder_seeing: Any, reader_saying: Any
) -> None:
    quads = np.concatenate([row_at(300, 1), row_at(400, 3)])
    dots = [f"{number} dot" for number in range(1, 5)]
    reader = reader_saying(saying(*dots * 3), np.repeat(np.array([1, 0, 0], np.float32), 4))

    tiles = read_photo(PHOTO, models=Models(FinderNet(finder_seeing(quads)), ReaderNet(reader))).tiles

    assert ["4 dot", "3 dot", "2 dot", "1 dot"] == [tile.face.name for tile in tiles]
    assert [(0, 0), (0, 1), (0, 2), (1, 0)] == [(tile.row, tile.place) for tile in tiles]


def test_a_photo_without_tiles_gives_an_empty_reading_and_says_so(
    finder_seeing: Any, reader_saying: Any
) -> None:
    nothing = np.empty((0, 4, 2), np.float32)
    models = Models(FinderNet(finder_seeing(nothing)), ReaderNet(reader_saying(saying())))

    reading = read_photo(PHOTO, models=models)

    assert () == reading.tiles == reading.rows
    assert [Trouble.NO_TILES] == [advice.trouble for advice in reading.advice]
    assert reading.advice == look(PHOTO, models=models)


def test_a_preview_is_advised_on_without_being_read(finder_seeing: Any, reader_saying: Any) -> None:
    over_the_border = row_at(100, 3, left=-20) * np.float32(640 / 768)
    reader = reader_saying(saying())

    advice = look(PHOTO, models=Models(FinderNet(finder_seeing(over_the_border)), ReaderNet(reader)))

    assert (Trouble.CUT_OFF_LEFT, ((0, 0),)) == (advice[0].trouble, advice[0].places)
    assert [] == reader.batches


def test_what_is_no_photo_is_refused_before_any_network_runs() -> None:
    with pytest.raises(PhotoError, match="not a photo"):
        read_photo(b"hello")


def test_a_tile_knows_its_runner_up_and_whether_it_is_sure(finder_seeing: Any, reader_saying: Any) -> None:
    doubtful = saying("3 bam", confidence=0.75)
    doubtful[0, NAMES.index("2 bam")] = 0.2
    models = Models(
        FinderNet(finder_seeing(row_at(400, 1))), ReaderNet(reader_saying(np.repeat(doubtful, 6, 0)))
    )

    tile = read_photo(PHOTO, models=models).tiles[0]

    assert Face.named("2 bam") == tile.runner_up[0]
    assert not tile.is_sure


def test_result_types_load_without_the_heavy_libraries() -> None:
    program = (
        "import sys, tilewitness.vision.reading; "
        "print(sorted({'cv2', 'onnxruntime', 'PIL', 'streamlit'} & set(sys.modules)))"
    )

    assert (
        "[]"
        == subprocess.run(
            [sys.executable, "-c", program], capture_output=True, text=True, check=True
        ).stdout.strip()
    )
