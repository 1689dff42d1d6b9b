"""What each command does, once the command line has been understood."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

from tilewitness.ui.cli import NO_OPINION, OPINION, UNREADABLE

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from tilewitness.engine.rack import Rack
    from tilewitness.models.underway import Underway
    from tilewitness.ui.photo_records import Record
    from tilewitness.vision.reading import Reading
    from tilewitness.vision.sets import TileSet


def run(options: Namespace) -> int:
    """Run the command that was parsed and return its exit status."""
    commands = {
        "read": read, "judge": judge_rack, "card": check_card, "practise": practise, "quiz": ask, "set": tend_sets,
        "app": open_app,
    }  # fmt: skip
    return commands[options.command](options)


def read(options: Namespace) -> int:
    """List the tiles in each photo. One bad photo does not stop the others; the worst status is returned."""
    if options.mark and len(options.photos) > 1:
        raise ValueError("--mark draws one photo. Name one photo, or leave --mark out.")
    return max(_read_one(photo, options) for photo in options.photos)


def _read_one(photo: str, options: Namespace) -> int:
    from tilewitness.ui import photo_words
    from tilewitness.ui.photo_records import reading_record
    from tilewitness.vision.photo import PhotoError

    try:
        reading = read_tiles(photo, options)
        mark(photo, reading, options)
    except PhotoError as error:
        if options.debug:
            raise
        print(f"tilewitness: {error}", file=sys.stderr)
        return UNREADABLE
    lines = photo_words.reading_lines(reading)
    record = reading_record(photo, reading, photo_words.advice_sentences(reading))
    give(options, record, lines, title=photo)
    return OPINION if reading.tiles else NO_OPINION


def judge_rack(options: Namespace) -> int:
    """Judge a photographed or a typed rack against a card; the photo is read while the card and its engine load."""
    # A decoder at work keeps standard error to itself, so that what is wrong with the card is told after it.
    with _begin_to_read(options) if options.tiles is None else nullcontext() as reading:
        from tilewitness.ui import judge_commands

        return judge_commands.run(options, reading)


def _begin_to_read(options: Namespace) -> Underway[Reading]:
    import tilewitness.vision.read  # noqa: F401  # in this thread: it would only take turns with the engine's loading
    from tilewitness.models.underway import Underway

    return Underway(lambda: read_tiles(options.photo, options))


def typed_rack(options: Namespace) -> Rack:
    """The rack typed in place of a photo."""
    from tilewitness.engine.rack import Rack

    if options.set is not None:
        raise ValueError("--set says which set a photo shows. Name a photo in place of --tiles.")
    rack = Rack.parse(options.tiles)
    if not rack.faces:
        raise ValueError('--tiles names no tile. Write for example --tiles "3 bam, 3 bam, joker".')
    return rack


def read_tiles(photo: str, options: Namespace) -> Reading:
    """Read a photo, with the set that was named."""
    from tilewitness.vision.read import read_photo

    return read_photo(photo, tile_set=_tile_set(options))


def mark(photo: str, reading: Reading, options: Namespace) -> None:
    """Draw what was read, if asked to."""
    if options.mark:
        from tilewitness.vision.mark import mark_tiles

        _save_png(options.mark, mark_tiles(photo, reading))


def _tile_set(options: Namespace) -> TileSet | None:
    """The learnt set that was named, if one was."""
    if options.set is None:
        return None
    from tilewitness.ui import kept_sets

    return kept_sets.load_set(options.set)


def _save_png(path: str, picture: NDArray[np.uint8]) -> None:
    import cv2

    if not path.lower().endswith(".png"):
        raise ValueError(f"{path}: --mark writes a PNG file. Give it a name that ends in .png.")
    with writing(path):
        Path(path).write_bytes(cv2.imencode(".png", picture)[1].tobytes())


@contextmanager
def writing(path: str) -> Iterator[None]:
    """Say in a sentence that a file could not be written."""
    try:
        yield
    except OSError as error:
        raise ValueError(f"{path}: cannot be written. Is there such a folder, and may you write to it?") from error


def give(options: Namespace, record: Record, lines: Sequence[str], *, title: str | None = None) -> None:
    """Print the answer and, if asked to, say it."""
    if options.json:
        print(json_line(record))
    else:
        print("\n".join([f"{title}:", *lines] if title else lines))
    if options.aloud:
        from tilewitness.ui.aloud import say_if_possible

        say_if_possible(lines)


def json_line(record: Record) -> str:
    """One object on one line: letters as they are where standard output can write all of them, else as JSON escapes."""
    return json.dumps(record, ensure_ascii=(sys.stdout.encoding or "").lower().replace("-", "") != "utf8")


def check_card(options: Namespace) -> int:
    """Print a card back, compare it, put it on paper."""
    from tilewitness.ui import card_commands

    return card_commands.run(options)


def practise(options: Namespace) -> int:
    """Build the hands of a card, checked and remembered."""
    from tilewitness.ui import practice_commands

    return practice_commands.run(options)


def ask(options: Namespace) -> int:
    """Ask questions about a card."""
    from tilewitness.ui import quiz_commands

    return quiz_commands.run(options)


def tend_sets(options: Namespace) -> int:
    """Learn, keep, correct or give away sets of tiles."""
    from tilewitness.ui import set_commands

    return set_commands.run(options)


def open_app(options: Namespace) -> int:
    """Serve the app until it is stopped."""
    from tilewitness.ui.serve import serve

    return serve(home_network=options.home_network, port=options.port, browser=not options.no_browser)
