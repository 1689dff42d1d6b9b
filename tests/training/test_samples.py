"""The sample photos lie beside a truth that says what their names say."""

from __future__ import annotations

import json
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

import cv2
import numpy as np
import pytest

from tilewitness.engine.card import parse_card
from tilewitness.engine.faces import Face
from tilewitness.engine.judge import judge
from tilewitness.engine.opinion import Fault, Opinion
from tilewitness.training.samples import LONG, SAMPLES, faces_of, make

FOLDER = files("tilewitness.samples")
CARD = parse_card((FOLDER / "card.toml").read_text(encoding="utf-8"), source="card.toml")


def _truth(name: str) -> dict[str, Any]:
    truth: dict[str, Any] = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    return truth


def _rows(name: str) -> Iterator[tuple[Face, ...]]:
    tiles = _truth(name)["tiles"]
    for number in range(1 + max((tile["row"] for tile in tiles), default=-1)):
        yield tuple(Face.named(tile["label"]) for tile in tiles if tile["row"] == number)


def _judged(name: str) -> list[Opinion]:
    return [judge(faces, CARD) for faces in _rows(name)]


@pytest.mark.parametrize("name", [sample.name for sample in SAMPLES])
def test_a_sample_is_a_small_photo_with_its_truth(name: str) -> None:
    stored = (FOLDER / f"{name}.jpg").read_bytes()
    image = cv2.imdecode(np.frombuffer(stored, np.uint8), cv2.IMREAD_COLOR)
    truth = _truth(name)

    assert image is not None
    assert LONG == max(image.shape)
    assert [image.shape[1], image.shape[0]] == truth["size"]
    assert len(stored) < 600_000
    assert f"{name}.jpg" == truth["file"]


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda sample: sample.name)
def test_the_truth_names_the_tiles_that_were_laid(sample: Any) -> None:
    assert [tuple(faces_of(line)) for line in sample.rows] == list(_rows(sample.name))
    assert not any(tile["skip"] for tile in _truth(sample.name)["tiles"])


def test_the_command_makes_the_photos_again() -> None:
    (sample,) = [sample for sample in SAMPLES if sample.name == "win"]
    scene = make(sample)
    quads = [tile["quad"] for tile in _truth("win")["tiles"]]

    np.testing.assert_allclose(quads, [tile.quad for tile in scene.tiles], atol=0.02)


def test_the_win_is_a_win() -> None:
    assert [True] == [opinion.is_complete for opinion in _judged("win")]


def test_the_rack_with_a_tile_upside_down_is_a_win() -> None:
    tiles = _truth("upside-down-tile")["tiles"]
    heads = [tile["col"] for tile in tiles if tile["quad"][0][1] > tile["quad"][3][1]]

    assert [True] == [opinion.is_complete for opinion in _judged("upside-down-tile")]
    assert [1, 12] == heads


def test_one_tile_off_misses_one() -> None:
    (opinion,) = _judged("one-off")

    assert not opinion.is_complete
    assert 1 == opinion.nearest[0].missing


def test_the_joker_in_a_pair_is_the_reason_given() -> None:
    (opinion,) = _judged("joker-in-pair")

    assert not opinion.is_complete
    assert Fault.JOKER_IN_PAIR == opinion.nearest[0].reasons[0].fault


def test_every_row_of_the_table_is_a_hand() -> None:
    assert [True] * 5 == [opinion.is_complete for opinion in _judged("table")]


def test_the_exposed_row_and_the_rack_make_a_hand() -> None:
    assert judge([face for row in _rows("exposed") for face in row], CARD).is_complete


def test_there_is_no_tile_on_the_bare_table() -> None:
    assert [] == _truth("no-rack")["tiles"]
