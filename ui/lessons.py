"""From photos of a layout to a lesson, and from a person's corrections to examples of her set."""

from __future__ import annotations

from collections.abc import Sequence

from tilewitness.models import open_reader
from tilewitness.ui import kept_sets
from tilewitness.ui.sight import Sight, one_at_a_time
from tilewitness.vision.learning import with_examples
from tilewitness.vision.lesson import Lesson, example_picture, study
from tilewitness.vision.photo import PhotoError, open_photo
from tilewitness.vision.places import Layout
from tilewitness.vision.sets import Source, TileSet


def study_photos(photos: Sequence[tuple[str, bytes]], rows: Layout) -> Lesson:
    """Look at photos of a layout, each a file's name and bytes.

    Raises:
        PhotoError: one of them is no photo; the message names it.
        SetError: there is none.
    """
    for name, data in photos:
        try:
            open_photo(data)
        except PhotoError as error:
            raise PhotoError(str(error).replace("the photo:", f"{name}:", 1)) from error
    with one_at_a_time:
        return study([data for _, data in photos], rows)


def keep(lesson: Lesson, name: str) -> TileSet:
    """Learn a lesson under a name, as a new set or more of one that is kept, and return the set.

    Raises:
        SetError: it is no name, nothing was learnt, or the kept set is damaged.
        OSError: the data folder cannot be written to.
    """
    plain = kept_sets.plain(name)
    before = kept_sets.load_set(plain) if plain in kept_sets.names() else TileSet(plain)
    tile_set = lesson.learn(before)
    kept_sets.save_set(tile_set)
    return tile_set


def can_teach(sight: Sight) -> list[int]:
    """The tiles of a photo that a person named; those she added by hand show nothing to learn."""
    return [index for index in sorted(sight.corrected) if sight.reading.tiles[index].quad.any()]


def teach(sight: Sight, tiles: Sequence[int], name: str) -> TileSet:
    """Add tiles of a photo to a kept set, under the names that a person gave them, and return the set.

    Raises:
        SetError: the set is damaged.
        OSError: the data folder cannot be written to.
    """
    chosen = [sight.reading.tiles[index] for index in tiles]
    pictures = [example_picture(sight.photo, tile.quad) for tile in chosen]
    faces = [tile.face for tile in chosen]
    return kept_sets.change(
        name, lambda tile_set: with_examples(tile_set, Source.CORRECTION, pictures, faces, open_reader())
    )
