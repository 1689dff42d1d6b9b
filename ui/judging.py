"""From what was read to opinions in words: each rack of a photo on its own."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import groupby

from tilewitness.engine.batch import Patterns
from tilewitness.engine.card import Card
from tilewitness.engine.opinion import Near, Opinion, Win
from tilewitness.engine.rack import Rack
from tilewitness.engine.racks import FoundRack, racks_in
from tilewitness.engine.unsure import Certainty, UnsureOpinion, judge_unsure
from tilewitness.ui import photo_words, words
from tilewitness.vision.reading import Reading, Trouble


@dataclass(frozen=True, slots=True)
class Judged:
    """One rack of a photo with everything thought of it.

    Attributes:
        places: what each of its places is called.
    """

    found: FoundRack
    places: tuple[str, ...]
    unsure: UnsureOpinion
    verdict: words.Verdict

    @property
    def rack(self) -> Rack:
        """The tiles by place."""
        return self.found.rack

    @property
    def tiles(self) -> tuple[int, ...]:
        """For each place of the rack, the index of its tile in the reading."""
        return self.found.places

    @property
    def rows(self) -> tuple[int, ...]:
        """The rows of the photo it takes up, counted from 0."""
        return self.found.rows

    @property
    def opinion(self) -> Opinion:
        """The opinion on the likeliest reading."""
        return self.unsure.opinion

    @property
    def best(self) -> Win | Near | None:
        """The hand completed, else the near miss, else the nearest."""
        opinion = self.opinion
        found: list[Win | Near] = [*opinion.wins, *opinion.near_misses, *opinion.nearest]
        return found[0] if found else None


def judge_reading(reading: Reading, card: Card, *, patterns: Patterns | None = None) -> tuple[Judged, ...]:
    """Judge every rack that a photo shows; `patterns` saves compiling the card again."""
    patterns = patterns or Patterns.of(card)
    rows = [[(tile.face, tile.group) for tile in row] for row in reading.rows]
    return tuple(judge_found(found, reading, card, patterns=patterns) for found in racks_in(rows))


def judge_found(found: FoundRack, reading: Reading, card: Card, *, patterns: Patterns | None = None) -> Judged:
    """Judge one rack of a photo."""
    many = len(found.rows) > 1  # the row of a rack in one row is said once, not with every tile
    places = tuple(photo_words.place_name(reading.tiles[tile], many_rows=many) for tile in found.places)
    likely = [reading.tiles[tile].probabilities for tile in found.places]
    unsure = judge_unsure(likely, card, exposed=found.rack.exposed, patterns=patterns)
    all_sure = all(reading.tiles[tile].is_sure for tile in found.places)
    guessed = not all_sure and any(advice.trouble is Trouble.UNFAMILIAR for advice in reading.advice)
    if guessed:  # until somebody has corrected them, names of artwork never learnt are worth little
        unsure = replace(unsure, certainty=Certainty.LOOK)
    said = words.verdict_of_reading(unsure, places, all_sure=all_sure, guessed=guessed)
    return Judged(found, places, unsure, said)


def as_one_rack(reading: Reading, open_rows: Iterable[int]) -> FoundRack:
    """Take all tiles of a photo as one rack; runs of touching tiles in open rows are claimed groups."""
    lying_open = set(open_rows)
    exposed = []
    for (row, _), run in groupby(enumerate(reading.tiles), key=lambda one: (one[1].row, one[1].group)):
        if row in lying_open:
            exposed.append(tuple(index for index, _ in run))
    rack = Rack(tuple(tile.face for tile in reading.tiles), tuple(exposed))
    return FoundRack(rack, tuple(range(len(reading.tiles))), tuple(range(len(reading.rows))))
