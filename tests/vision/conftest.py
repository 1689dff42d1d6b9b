"""Fixtures of the camera half: real photos to measure on, and stand-ins for the networks."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from tilewitness.vision.quads import Quads

SHARED = Path(__file__).parents[2].parent / "shared" / "photos"


@dataclass(frozen=True)
class TruePhoto:
    """A photo with its truth: quads from the artwork's own top-left, names, row and place of each tile."""

    path: Path
    size: tuple[int, int]
    quads: Quads
    names: list[str]
    places: list[tuple[int, int]]


def true_photos() -> list[TruePhoto]:
    """Every photo in shared/photos beside the repository; none when that folder is absent."""
    photos = []
    for file in sorted(SHARED.glob("*/truth.json")):
        for photo in json.loads(file.read_text())["photos"]:
            tiles = photo["tiles"]
            quads = np.array([tile["quad"] for tile in tiles], np.float32)
            places = [(tile["row"], tile["col"]) for tile in tiles]
            names = [tile["label"] for tile in tiles]
            photos.append(TruePhoto(file.parent / photo["file"], tuple(photo["size"]), quads, names, places))
    return photos


@pytest.fixture(scope="session")
def shared_photos() -> list[TruePhoto]:
    """The measuring photos, which stay outside the repository."""
    photos = true_photos()
    if not photos:
        pytest.skip("the photos for measuring, shared/photos, are not beside the repository")
    return photos


class FakeFinder:
    """Answers as a finder that sees given faces, in pixels of its input, look by look, and then nothing."""

    def __init__(self, *looks: Quads) -> None:
        self.looks = list(looks)
        self.inputs: list[NDArray[np.uint8]] = []

    def run(self, output_names: Sequence[str], feed: Mapping[str, NDArray[Any]]) -> list[NDArray[Any]]:
        self.inputs.append(feed["photo"])
        height, width = feed["photo"].shape[1:3]
        centres = np.zeros((1, height // 4, width // 4), np.float32)
        corners = np.zeros((1, 8, height // 4, width // 4), np.float32)
        for number, quad in enumerate(self.looks.pop(0) if self.looks else ()):
            column, row = (quad.mean(0) / 4).astype(int)
            centres[0, row, column] = 0.99 - 0.001 * number
            corners[0, :, row, column] = (quad - (np.array([column, row]) + 0.5) * 4).ravel()
        return [centres, corners]


class FakeReader:
    """Answers as a reader with given probabilities, (N, 37), and ways up, (N,), used up face by face.

    Faces shown again, the other way up, get the answers that follow.
    """

    def __init__(
        self, probabilities: NDArray[np.float32], upside_down: NDArray[np.float32] | None = None
    ) -> None:
        self.probabilities = probabilities
        self.upside_down = np.zeros(len(probabilities), np.float32) if upside_down is None else upside_down
        self.batches: list[int] = []

    def run(self, output_names: Sequence[str], feed: Mapping[str, NDArray[Any]]) -> list[NDArray[Any]]:
        start, count = sum(self.batches), len(feed["faces"])
        assert start + count <= len(self.probabilities)
        self.batches.append(count)
        embedding = np.zeros((count, 128), np.float32)
        return [self.probabilities[start : start + count], self.upside_down[start : start + count], embedding]


@pytest.fixture
def finder_seeing() -> type[FakeFinder]:
    """Build a finder's session that sees the given quads."""
    return FakeFinder


@pytest.fixture
def reader_saying() -> type[FakeReader]:
    """Build a reader's session that says the given probabilities."""
    return FakeReader
