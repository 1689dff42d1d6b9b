"""What the command `judge` does: a rack, photographed or typed, held against a card."""

from __future__ import annotations

from argparse import Namespace

from tilewitness.engine.batch import Patterns
from tilewitness.engine.card import Card, load_card
from tilewitness.engine.claims import claims_for
from tilewitness.engine.faces import Face
from tilewitness.engine.judge import judge
from tilewitness.engine.rack import Rack
from tilewitness.models.underway import Underway
from tilewitness.ui import photo_words, words
from tilewitness.ui.claim_words import claim_verdict
from tilewitness.ui.cli import NO_OPINION, OPINION
from tilewitness.ui.commands import give, mark, typed_rack
from tilewitness.ui.judging import judge_reading
from tilewitness.ui.photo_records import Record, reading_record
from tilewitness.ui.records import claims_record, judged_record, opinion_record
from tilewitness.vision.reading import Reading


def run(options: Namespace, reading: Underway[Reading] | None) -> int:
    """Judge a photographed or a typed rack against a card.

    Args:
        reading: what the photo is being read as; None when the tiles were typed.
    """
    card = load_card(options.card)
    if reading is not None:
        return _judge_photo(options, card, reading)
    if options.mark:
        raise ValueError("--mark draws into a photo. Name a photo in place of --tiles.")
    rack = typed_rack(options)
    discard = _discard(options)
    opinion = judge(rack, card)
    said = words.verdict(opinion, words.places_in_one_row(len(rack.faces)))
    claims, claim_lines = _claims(discard, rack, card)
    record = {"card": card.name, **opinion_record(opinion, said), **claims, "note": words.SECOND_OPINION}
    give(options, record, [*claim_lines, *said.sentences, words.SECOND_OPINION])
    return OPINION


def _discard(options: Namespace) -> Face | None:
    """The tile just discarded, if one was named."""
    return Face.named(options.discard) if options.discard is not None else None


def _claims(discard: Face | None, rack: Rack, card: Card) -> tuple[Record, list[str]]:
    """What the discard may be claimed for, as keys and as lines; nothing without a discard."""
    if discard is None:
        return {}, []
    claims = claims_for(discard, rack, card)
    return claims_record(discard, claims), [*claim_verdict(discard, rack, claims).sentences, ""]


def _judge_photo(options: Namespace, card: Card, underway: Underway[Reading]) -> int:
    discard = _discard(options)
    patterns = Patterns.of(card)
    reading = underway.result()
    mark(options.photo, reading, options)
    seen = reading_record(options.photo, reading, photo_words.advice_sentences(reading))
    read_lines = photo_words.reading_lines(reading)
    if not reading.tiles:
        give(options, {**seen, "card": card.name, "verdict": "no tiles", "racks": []}, read_lines)
        return NO_OPINION
    racks = judge_reading(reading, card, patterns=patterns)
    claims = [_claims(discard, rack.opinion.rack, card) for rack in racks]
    records = [{**judged_record(rack), **keys} for rack, (keys, _) in zip(racks, claims, strict=True)]
    whole = records[0] if len(records) == 1 else {"verdict": "several racks"}
    told = [(rack.rows, [*said, *rack.verdict.sentences]) for rack, (_, said) in zip(racks, claims, strict=True)]
    lines = [line for block in photo_words.told_of_racks(told) for line in (*block, "")]
    record = {**seen, "card": card.name, **whole, "racks": records, "note": words.SECOND_OPINION}
    give(options, record, [*lines, *read_lines, words.SECOND_OPINION])
    return OPINION
