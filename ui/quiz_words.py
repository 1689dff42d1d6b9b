"""What is said in a quiz: the question, its choices, and why the answer is what it is."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from tilewitness.engine.quiz import USES, MayClaim, Question, StillPossible, Use, WrongTile, is_right
from tilewitness.ui.claim_words import ON_CLAIMS, claim_sentence
from tilewitness.ui.correction_words import correction_sentence
from tilewitness.ui.phrasing import a, amount, capital, count, listed, plural, tiles_in_order
from tilewitness.ui.practice_words import task_sentences
from tilewitness.ui.words import AT_ONCE, hand_name, places_in_one_row

RIGHT: Final = "Right."
CHOOSE: Final = "Your choice, by number; several between commas: "
NO_NUMBER: Final = "That is not a choice from 1 to {options}. "
NO_QUESTIONS: Final = "This card gives no fair questions: its hands cannot be built, or there are too few of them."
_CHOICES: Final = {
    Use.WIN: "Yes, to win",
    Use.GROUP: "Yes, to lay a group open",
    Use.NO: "No",
}


def question_sentences(question: Question) -> list[str]:
    """The question, with the tiles it is about."""
    tiles = f"The rack: {tiles_in_order(question.rack.faces)}."
    if isinstance(question, WrongTile):
        _, *asked = task_sentences(question.hand)
        return [f"This should be {hand_name(question.hand)}, but one tile is wrong. Which?", *asked, tiles]
    if isinstance(question, StillPossible):
        return ["Which of these hands can these tiles become with one tile more? Choose all.", tiles]
    _, *asked = task_sentences(question.hand)
    return [
        f"You play {hand_name(question.hand)}, and {a(question.discard.name)} is discarded. May you claim it?",
        *asked,
        tiles,
    ]


def option_labels(question: Question) -> list[str]:
    """The choices."""
    if isinstance(question, WrongTile):
        places = places_in_one_row(len(question.rack.faces))
        return [f"{capital(place)}: {face}" for place, face in zip(places, question.rack.faces, strict=True)]
    if isinstance(question, StillPossible):
        return [f"{hand.name}: {str(hand).split('; ')[0]}" for hand in question.hands]
    return [_CHOICES[use] for use in USES]


def answer_sentences(question: Question, chosen: Collection[int]) -> list[str]:
    """Whether the choice was right, the right answer, and why."""
    if is_right(question, chosen):
        return [RIGHT, *_why(question)]
    labels = option_labels(question)
    right = [labels[at].split(":")[0] for at in sorted(question.answer)]
    return [f"Not right. The answer is: {listed(right)}.", *_why(question)]


def score_sentence(right: int, asked: int) -> str:
    """How a quiz went."""
    if not asked:
        return "No question was answered."
    if asked == 1:
        return f"One question answered, {'right' if right else 'not right'}."
    return f"{capital(count(right)) if right else 'None'} of {amount(asked, 'question')} right."


def _why(question: Question) -> list[str]:
    if isinstance(question, WrongTile):
        places = places_in_one_row(len(question.rack.faces))
        return [correction_sentence(one, question.exercise, places) for one in question.exercise.corrections]
    if isinstance(question, StillPossible):
        return [_completed_by(question, at) for at in sorted(question.answer)]
    return [*_why_claim(question), ON_CLAIMS]


def _completed_by(question: StillPossible, at: int) -> str:
    """The tiles that make one of the hands."""
    hand = question.hands[at]
    faces = [wait.face for wait in question.waits if hand in wait.hands]
    if len(faces) > AT_ONCE:
        return f"{hand.name}: {amount(len(faces), 'different tile')} complete it, one is {a(faces[0].name)}."
    return f"{hand.name}: {listed([a(face.name) for face in faces], 'or')} completes it."


def _why_claim(question: MayClaim) -> list[str]:
    if question.claims:
        return [claim_sentence(question.claims[0])]
    away = f"The rack is {amount(question.missing)} away from it, so this tile does not win."
    if question.hand.concealed:
        return ["The hand is concealed, so only the tile that wins may be claimed.", away]
    return [away, f"No group of three or more {plural(question.discard)} comes together with the tiles of the rack."]
