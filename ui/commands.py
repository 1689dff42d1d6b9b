"""What each command does, once the command line has been understood."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from collections.abc import Sequence
from typing import TYPE_CHECKING

from tilewitness.engine.card import Card, load_card
from tilewitness.engine.faces import Face
from tilewitness.engine.judge import judge
from tilewitness.engine.rack import Rack
from tilewitness.ui import words
from tilewitness.ui.cli import NO_OPINION, OPINION, UNREADABLE
from tilewitness.ui.records import Record, claims_record, opinion_record

if TYPE_CHECKING:
    from tilewitness.vision.reading import Reading
    from tilewitness.vision.sets import TileSet


def run(options: Namespace) -> int:
    """Run the command that was parsed and return its exit status."""
    commands = {"read": read, "judge": judge_rack, "card": check_card, "set": tend_sets, "app": open_app}
    return commands[options.command](options)


def read(options: Namespace) -> int:
    """List the tiles in each photo. One bad photo does not stop the others; the worst status is returned."""
    if options.mark and len(options.photos) > 1:
        raise ValueError("--mark draws one photo. Name one photo, or leave --mark out.")
    return max(_read_one(photo, options) for photo in options.photos)


def _read_one(photo: str, options: Namespace) -> int:
    from tilewitness.ui import photo_words
    from tilewitness.ui.records import reading_record
    from tilewitness.vision.photo import PhotoError

    try:
        reading = _reading(photo, options)
    except PhotoError as error:
        if options.debug:
            raise
        print(f"tilewitness: {error}", file=sys.stderr)
        return UNREADABLE
    lines = photo_words.reading_lines(reading)
    record = reading_record(photo, reading, photo_words.advice_sentences(reading))
    _give(options, record, lines, title=photo)
    return OPINION if reading.tiles else NO_OPINION


def judge_rack(options: Namespace) -> int:
    """Judge a photographed or a typed rack against a card."""
    card = load_card(options.card)
    if options.tiles is None:
        return _judge_photo(options, card)
    if options.mark:
        raise ValueError("--mark draws into a photo. Name a photo in place of --tiles.")
    rack = Rack.parse(options.tiles)
    if not rack.faces:
        raise ValueError('--tiles names no tile. Write for example --tiles "3 bam, 3 bam, joker".')
    discard = _discard(options)
    opinion = judge(rack, card)
    said = words.verdict(opinion, words.places_in_one_row(len(rack.faces)))
    claims, claim_lines = _claims(discard, rack, card)
    record = {"card": card.name, **opinion_record(opinion, said), **claims, "note": words.SECOND_OPINION}
    _give(options, record, [*claim_lines, *said.sentences, words.SECOND_OPINION])
    return OPINION


def _discard(options: Namespace) -> Face | None:
    """The tile just discarded, if one was named."""
    return Face.named(options.discard) if options.discard is not None else None


def _claims(discard: Face | None, rack: Rack, card: Card) -> tuple[Record, list[str]]:
    """What the discard may be claimed for, as keys and as lines; nothing without a discard."""
    if discard is None:
        return {}, []
    from tilewitness.engine.claims import claims_for
    from tilewitness.ui.claim_words import claim_verdict

    claims = claims_for(discard, rack, card)
    return claims_record(discard, claims), [*claim_verdict(discard, rack, claims).sentences, ""]


def _judge_photo(options: Namespace, card: Card) -> int:
    from tilewitness.ui import photo_words
    from tilewitness.ui.judging import judge_reading
    from tilewitness.ui.records import judged_record, reading_record

    discard = _discard(options)
    reading = _reading(options.photo, options)
    seen = reading_record(options.photo, reading, photo_words.advice_sentences(reading))
    read_lines = photo_words.reading_lines(reading)
    if not reading.tiles:
        _give(options, {**seen, "card": card.name, "verdict": "no tiles", "racks": []}, read_lines)
        return NO_OPINION
    racks = judge_reading(reading, card)
    claims = [_claims(discard, rack.opinion.rack, card) for rack in racks]
    records = [{**judged_record(rack), **keys} for rack, (keys, _) in zip(racks, claims, strict=True)]
    whole = records[0] if len(records) == 1 else {"verdict": "several racks"}
    lines = [
        line
        for rack, (_, claim_lines) in zip(racks, claims, strict=True)
        for line in (*photo_words.rack_sentences(rack.verdict, rack.rows, len(racks)), "", *claim_lines)
    ]
    record = {**seen, "card": card.name, **whole, "racks": records, "note": words.SECOND_OPINION}
    _give(options, record, [*lines, *read_lines, words.SECOND_OPINION])
    return OPINION


def _reading(photo: str, options: Namespace) -> Reading:
    """Read a photo and draw what was read, if asked to."""
    from tilewitness.vision.read import read_photo

    reading = read_photo(photo, tile_set=_tile_set(options))
    if options.mark:
        from tilewitness.vision.mark import mark_tiles

        _save_png(options.mark, mark_tiles(photo, reading))
    return reading


def _tile_set(options: Namespace) -> TileSet | None:
    """The learnt set that was named, if one was."""
    if options.set is None:
        return None
    from tilewitness.ui import kept_sets

    return kept_sets.load_set(options.set)


def _save_png(path: str, picture: object) -> None:
    import cv2

    if not path.lower().endswith(".png"):
        raise ValueError(f"{path}: --mark writes a PNG file. Give it a name that ends in .png.")
    if not cv2.imwrite(path, picture):  # type: ignore[call-overload]  # OpenCV's own array type
        raise ValueError(f"{path}: cannot be written. Is there such a folder, and may you write to it?")


def _give(options: Namespace, record: Record, lines: Sequence[str], *, title: str | None = None) -> None:
    """Print the answer and, if asked to, say it."""
    if options.json:
        print(json.dumps(record, ensure_ascii=False))
    else:
        print("\n".join([f"{title}:", *lines] if title else lines))
    if options.aloud:
        from tilewitness.ui.aloud import say_if_possible

        say_if_possible(lines)


def check_card(options: Namespace) -> int:
    """Print a card back in sentences, or what changed since another card."""
    card = load_card(options.file)
    if options.against:
        from tilewitness.engine.compare import compare_cards
        from tilewitness.ui.compare_words import comparison_lines

        lines = comparison_lines(compare_cards(load_card(options.against), card))
    else:
        from tilewitness.ui.card_words import card_lines

        lines = card_lines(card)
    print("\n".join(lines))
    return OPINION


def tend_sets(options: Namespace) -> int:
    """Learn, keep, correct or give away sets of tiles."""
    from tilewitness.ui import set_commands

    return set_commands.run(options)


def open_app(options: Namespace) -> int:
    """Serve the app until it is stopped."""
    from tilewitness.ui.serve import serve

    return serve(home_network=options.home_network, port=options.port, browser=not options.no_browser)
