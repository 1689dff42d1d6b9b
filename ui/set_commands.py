"""What the command `set` does: learn a set of tiles, keep it, correct it, give it away."""

from __future__ import annotations

import re
import sys
from argparse import Namespace
from pathlib import Path

from tilewitness.engine.faces import Face
from tilewitness.ui import kept_sets, set_words
from tilewitness.ui.aloud import say_if_possible
from tilewitness.ui.cli import NO_OPINION, OPINION, UNREADABLE
from tilewitness.ui.commands import json_line, writing
from tilewitness.ui.photo_records import lesson_record
from tilewitness.vision.learning import with_examples
from tilewitness.vision.lesson import example_picture, layout, study
from tilewitness.vision.sets import SetError, Source, TileSet

_PLACE = re.compile(r"\s*row\s+(\d+)\s+place\s+(\d+)\s*[:=,]\s*(.+?)\s*", re.IGNORECASE)
_LEAVE_OUT = "leave out"


def run(options: Namespace) -> int:
    """Run one of the commands on sets and return its exit status."""
    commands = {
        "layout": _layout, "learn": _learn, "list": _list, "rename": _rename, "delete": _delete,
        "export": _export, "import": _import, "correct": _correct, "undo": _undo,
    }  # fmt: skip
    return commands[options.action](options)


def _layout(options: Namespace) -> int:
    return _say(set_words.layout_lines(layout(flowers=options.flowers, jokers=options.jokers)), options)


def _learn(options: Namespace) -> int:
    name = kept_sets.plain(options.name)
    before = kept_sets.load_set(name) if name in kept_sets.names() else TileSet(name)
    lesson = study(options.photos, layout(flowers=options.flowers, jokers=options.jokers))
    for row, place, face in map(_told, options.place):
        lesson = lesson.with_correction(row, place, face)
    if options.as_laid_out:
        lesson = lesson.as_laid_out()
    lines = set_words.lesson_lines(lesson)
    if not any(place.face for place in lesson.places):
        return _say(lines, options, status=NO_OPINION)
    tile_set = lesson.learn(before)
    kept_sets.save_set(tile_set)
    lines.append(set_words.learnt(tile_set))
    if options.json:
        print(json_line(lesson_record(lesson, tile_set, lines)))
        return OPINION
    return _say(lines, options)


def _correct(options: Namespace) -> int:
    """Teach a set single tiles of a photo by their place in it."""
    from tilewitness.vision.read import Models, read_photo

    tile_set = kept_sets.load_set(options.name)
    tiles = {(tile.row, tile.place): tile for tile in read_photo(options.photo, tile_set=tile_set).tiles}
    told = [_told(text) for text in options.place]
    pictures, faces = [], []
    for row, place, face in told:
        if (row, place) not in tiles or face is None:
            raise SetError(f"{options.photo}: no tile was found at row {row + 1} place {place + 1}.")
        pictures.append(example_picture(options.photo, tiles[row, place].quad))
        faces.append(face)
    tile_set = with_examples(tile_set, Source.CORRECTION, pictures, faces, Models.shipped().reader)
    kept_sets.save_set(tile_set)
    return _say([set_words.corrected(tile_set, face) for face in faces], options)


def _list(options: Namespace) -> int:
    lines, status = [], OPINION
    for name in kept_sets.names():
        try:
            lines.append(set_words.set_line(kept_sets.peek(name)))
        except SetError as error:
            print(f"tilewitness: {error}", file=sys.stderr)
            status = UNREADABLE
    return _say(lines or ([set_words.NO_SETS] if status == OPINION else []), options, status=status)


def _rename(options: Namespace) -> int:
    kept_sets.rename(options.name, options.new)
    return _say([set_words.renamed(options.name, options.new)], options)


def _delete(options: Namespace) -> int:
    kept_sets.delete(options.name)
    return _say([set_words.deleted(options.name)], options)


def _export(options: Namespace) -> int:
    with writing(options.file):
        kept_sets.export(options.name, Path(options.file))
    return OPINION


def _import(options: Namespace) -> int:
    try:
        data = Path(options.file).read_bytes()
    except OSError as error:
        raise SetError(f"{options.file}: cannot be read. Is there such a file, and may you read it?") from error
    return _say([set_words.learnt(kept_sets.take_in(data, options.file, name=options.name))], options)


def _undo(options: Namespace) -> int:
    tile_set = kept_sets.change(options.name, TileSet.without_last)
    return _say([set_words.UNDONE, set_words.learnt(tile_set)], options)


def _told(text: str) -> tuple[int, int, Face | None]:
    """Row and place from 0, and the face said to be there; None for "leave out"."""
    match = _PLACE.fullmatch(text)
    if not match:
        raise SetError(f'"{text}" names no place. Write for example "row 2 place 3: 5 crak", or "row 2 place 3: {_LEAVE_OUT}".')
    row, place, said = match.groups()
    return int(row) - 1, int(place) - 1, None if said.lower() == _LEAVE_OUT else Face.named(said)


def _say(lines: list[str], options: Namespace, *, status: int = OPINION) -> int:
    if lines:
        print("\n".join(lines))
    if getattr(options, "aloud", False):
        say_if_possible(lines)
    return status
