"""Lists to keep: tiles of a rack and rows of a table, as plain rows and as CSV."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from tilewitness.engine.card import Card
from tilewitness.engine.coverage import HandCoverage, SectionCoverage
from tilewitness.engine.forms import compile_forms
from tilewitness.engine.hands import Hand
from tilewitness.engine.opinion import Win
from tilewitness.engine.quiz import Level
from tilewitness.engine.scores import Asks, Score
from tilewitness.ui import photo_words, practice_labels, practice_words, table_words
from tilewitness.ui.csv_text import csv_text
from tilewitness.ui.fault_words import TITLES
from tilewitness.ui.judging import Judged, judge_found
from tilewitness.ui.sight import Sight

TILE_HEADS: Final = ("row", "place", "tile", "confidence", "may also be", "upside down", "corrected")
RESULT_HEADS: Final = ("Rows", "Hand", "Answer", "Reason", "Card order", "Tiles")


@dataclass(frozen=True, slots=True)
class RowResult:
    """One layout of a table.

    Attributes:
        meant: the hand it was meant to be, or None for the best match.
    """

    judged: Judged
    meant: Hand | None

    @property
    def hand(self) -> Hand | None:
        """The hand it was judged by."""
        return self.meant or (self.judged.best.hand if self.judged.best else None)

    @property
    def cells(self) -> tuple[str, ...]:
        """What the list says, in the order of `RESULT_HEADS`."""
        said = self.judged.verdict
        best = self.judged.best
        ordered = table_words.card_order(best) if isinstance(best, Win) else ""
        return (
            photo_words.rows_name(self.judged.rows),
            self.hand.name if self.hand else "",
            table_words.answer_in_short(said),
            table_words.reason_in_short(said),
            ordered,
            str(len(self.judged.rack.faces)),
        )


def judge_by(judged: Judged, meant: Hand, sight: Sight, card: Card) -> Judged:
    """Judge a row again by the one hand it was meant to be."""
    return judge_found(judged.found, sight.reading, Card(card.name, (meant,), compile_forms((meant,))))


def tiles_csv(sight: Sight) -> str:
    """Every tile of a photo, a line each."""
    rows = [
        (
            tile.row + 1,
            tile.place + 1,
            tile.face.name,
            f"{tile.confidence:.3f}",
            " / ".join(face.name for face, probability in tile.probabilities[1:3] if probability >= 0.02),
            "yes" if tile.upside_down else "no",
            "yes" if index in sight.corrected else "no",
        )
        for index, tile in enumerate(sight.reading.tiles)
    ]
    return csv_text(TILE_HEADS, rows)


def results_csv(results: Iterable[RowResult]) -> str:
    """Every layout of a table, a line each."""
    return csv_text(RESULT_HEADS, [result.cells for result in results])


def coverage_rows(section: SectionCoverage, today: date) -> list[tuple[str, ...]]:
    """What was practised of a section, a line a hand, in the order of `practice_labels.COVERAGE_HEADS`."""
    return [_coverage_row(hand, today) for hand in section.hands]


def _coverage_row(hand: HandCoverage, today: date) -> tuple[str, ...]:
    left = practice_words.unsure_photos(hand.unsure) if hand.unsure else ""
    ways = f"{len(hand.ways)} of {hand.forms} ways" if hand.built else practice_labels.NOT_BUILT
    if hand.last is None or hand.box is None:
        return hand.hand.name, ways, left or practice_labels.NEVER, "", "", ""
    due = practice_labels.NOW if hand.box.due <= today else practice_words.day(hand.box.due)
    mistakes = "; ".join(f"{TITLES[fault]} ({number})" for fault, number in hand.mistakes)
    tries = f"{hand.tries}; {left}" if left else str(hand.tries)
    return hand.hand.name, ways, tries, practice_words.day(hand.last.date()), due, mistakes


def score_rows(scores: Sequence[Score]) -> list[tuple[str, ...]]:
    """How quizzes went: a line a kind of question, a column a level."""
    shares = {(one.asks, one.level): f"{one.right} of {one.asked} right" for one in scores}
    asked = [kind for kind in Asks if any(one.asks is kind for one in scores)]
    levels = [[shares.get((kind, level), practice_labels.NOT_ASKED) for level in Level] for kind in asked]
    return [(kind.value, *cells) for kind, cells in zip(asked, levels, strict=True)]
