"""Readings as JSON, for other programs. Keys may be added; none changes its meaning or goes.

Rows and places count from 0 here.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from tilewitness.vision.reading import Reading, Tile

if TYPE_CHECKING:
    from tilewitness.vision.lesson import Lesson
    from tilewitness.vision.sets import TileSet

Record = dict[str, Any]


def reading_record(photo: str, reading: Reading, advice: Sequence[str]) -> Record:
    """Everything read from one photo.

    Returns:
        `photo` as given; `size` [width, height] in pixels as displayed; `tiles` in reading order; `advice`,
        sentences for the person who took the photo.
    """
    return {
        "photo": photo,
        "size": list(reading.size),
        "tiles": [tile_record(tile) for tile in reading.tiles],
        "advice": list(advice),
    }


def lesson_record(lesson: Lesson, tile_set: TileSet, sentences: Sequence[str]) -> Record:
    """What was made of the photos of a layout, and the set it was kept in.

    Returns:
        `set`, its name; `places` of the layout with `row`, `place`, `expected`, `looks_like`, `agreement` ("agrees",
        "unsure", "other", "not seen", "faded", "told") and `learnt_as`, null where the tile was not learnt; `sentences`.
    """
    places = [
        {
            "row": place.row,
            "place": place.place,
            "expected": place.expected.name,
            "looks_like": place.looks_like.name if place.looks_like else None,
            "agreement": place.agreement.value,
            "learnt_as": place.face.name if place.face else None,
        }
        for place in lesson.places
    ]
    return {"set": tile_set.name, "places": places, "sentences": list(sentences)}


def tile_record(tile: Tile) -> Record:
    """One tile; `quad` is four [x, y] in pixels, clockwise from the artwork's own top-left corner."""
    face, probability = tile.runner_up
    return {
        "face": tile.face.name,
        "confidence": round(float(tile.confidence), 4),
        "runner_up": {"face": face.name, "confidence": round(float(probability), 4)},
        "quad": [[round(float(x), 1), round(float(y), 1)] for x, y in tile.quad],
        "row": tile.row,
        "place": tile.place,
        "upside_down": tile.upside_down,
    }
