"""Practising a card: which hand to build, checking what was built, and keeping it."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from tilewitness.engine.card import Card
from tilewitness.engine.coverage import Coverage, attempt_of, coverage
from tilewitness.engine.exercise import Exercise, ExerciseError, check, only
from tilewitness.engine.hands import Hand
from tilewitness.engine.rack import Rack
from tilewitness.engine.unsure import Certainty
from tilewitness.ui.card_words import described
from tilewitness.ui.judging import as_one_rack, judge_found
from tilewitness.ui.notebook import Notebook
from tilewitness.ui.practice_words import exercise_verdict
from tilewitness.ui.words import Places, Verdict, look_sentences, places_in_one_row
from tilewitness.vision.reading import Reading

ALIKE: Final = 0.7
"""Names at least this alike, by `difflib`, may be slips for each other: Rut and Ruth are, Ada and Ida are not."""
MOST_TILES: Final = 20
"""Tiles that are checked as one hand: enough for every mistake worth making."""


@dataclass(frozen=True, slots=True)
class Checked:
    """A rack that was built for practice, checked.

    Attributes:
        places: what each of its places is called.
        sure: the tiles were typed, or read so surely that the answer stands; else a person should look first.
    """

    exercise: Exercise
    places: Places
    verdict: Verdict
    sure: bool


def check_rack(rack: Rack, hand: Hand, card: Card) -> Checked:
    """Check typed or drawn tiles."""
    exercise = check(rack, hand, card)
    places = places_in_one_row(len(rack.faces))
    return Checked(exercise, places, exercise_verdict(exercise, places), sure=True)


def check_reading(reading: Reading, hand: Hand, card: Card) -> Checked:
    """Check all tiles of a photo as one rack with nothing claimed."""
    judged = judge_found(as_one_rack(reading, ()), reading, only(card, hand))
    exercise = check(judged.opinion.rack, hand, card)
    sure = judged.unsure.certainty is not Certainty.LOOK
    looks = look_sentences(judged.unsure, judged.places)
    return Checked(exercise, judged.places, exercise_verdict(exercise, judged.places, looks), sure)


def keep(checked: Checked, card: Card, learner: str, notebook: Notebook) -> None:
    """Write an attempt down, with the time of this computer's clock; one that is not sure as unsure.

    Raises:
        NotebookError: it could not be kept.
    """
    now = datetime.now().astimezone()
    notebook.record(attempt_of(checked.exercise, card, learner, now, unsure=not checked.sure))


def covered(card: Card, learner: str, notebook: Notebook) -> Coverage:
    """What a learner has done of a card up to now.

    Raises:
        NotebookError: the notebook cannot be read.
    """
    return coverage(card, described(card), notebook.attempts(learner), datetime.now().astimezone().date())


def learner_called(typed: str, known: Sequence[str]) -> str:
    """Return the name of the learner who is called this, in any letter case; of somebody new, as typed."""
    return next((name for name in known if name.casefold() == typed.casefold()), typed)


def learner_like(name: str, known: Sequence[str]) -> str | None:
    """Return the known learner whose name this may be a slip for; None for a known learner, or one unlike all."""
    if name in known:
        return None
    by_lower = {other.casefold(): other for other in known}
    near = difflib.get_close_matches(name.casefold(), list(by_lower), n=1, cutoff=ALIKE)
    return by_lower[near[0]] if near else None


def chosen_hand(card: Card, done: Coverage, *, name: str | None, section: str | None) -> Hand:
    """Return the hand of this name, or the next to practise of a section or of the whole card.

    Raises:
        ExerciseError: there is no such hand or section, or none that can be built.
    """
    if name is not None:
        return named_hand(card, name, section)
    within = _within(card, section)
    for hand in done.next_up:
        if hand in within:
            return hand
    raise ExerciseError(f"no hand of {section or card.name} can be built from a set of tiles.")


def named_hand(card: Card, name: str, section: str | None) -> Hand:
    """Return the hand of this name, of a section or of the whole card.

    Raises:
        ExerciseError: there is no such hand or section.
    """
    within = _within(card, section)
    known = _known(name, [hand.name for hand in within], f"hand of {section or card.name}")
    return next(hand for hand in within if hand.name == known)


def _within(card: Card, section: str | None) -> list[Hand]:
    """The hands of a section, or all."""
    if section is None:
        return list(card.hands)
    known = _known(section, list(card.sections), f"section of {card.name}")
    return [hand for hand in card.hands if hand.section == known]


def _known(typed: str, names: list[str], what: str) -> str:
    """Return the one of these names that was typed, in any letter case."""
    by_lower = {name.lower(): name for name in reversed(names)}
    if typed.lower() in by_lower:
        return by_lower[typed.lower()]
    near = difflib.get_close_matches(typed.lower(), list(by_lower), n=1)
    hint = f' Did you mean "{by_lower[near[0]]}"?' if near else f" There are: {', '.join(names)}."
    raise ExerciseError(f'"{typed}" is no {what}.{hint}')
