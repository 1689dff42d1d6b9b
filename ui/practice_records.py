"""Practice and quizzes as JSON, for other programs. Keys may be added; none changes its meaning or goes.

Places and choices count from 0 here.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from tilewitness.engine.coverage import Coverage, HandCoverage
from tilewitness.engine.faces import Face
from tilewitness.engine.hands import Hand
from tilewitness.engine.quiz import Question, is_right
from tilewitness.engine.scores import Score, asks
from tilewitness.ui.photo_records import Record
from tilewitness.ui.practising import Checked
from tilewitness.ui.records import hand_record, layout_record


def task_record(hand: Hand, sentences: Sequence[str]) -> Record:
    """A hand to be built."""
    return {"hand": hand_record(hand), "sentences": list(sentences)}


def checked_record(checked: Checked, kept: str, sentences: Sequence[str]) -> Record:
    """A rack checked against its hand.

    Args:
        kept: what was written down: "counts", "unsure" or "no".

    Returns:
        `verdict` "right", "not right" or, where it hangs on an unsure tile, "look"; `corrections`, each with `fault`,
        `places`, the tile `found` there (null where it is not about one), the tiles of which any is `wanted` (none:
        take away what is there), `count` of tiles, `beside`, the places of the rest of its group; `between`, tiles
        between four from each end; `joker_groups`; `other_ways`; `instead`, other hands that the rack completes.
    """
    exercise = checked.exercise
    verdict = "look" if not checked.sure else "right" if exercise.right else "not right"
    return {
        "verdict": verdict,
        "hand": hand_record(exercise.hand),
        "rack": _names(exercise.rack.faces),
        "layout": layout_record(exercise.groups),
        "corrections": [
            {
                "fault": one.fault.value,
                "places": list(one.places),
                "found": one.found.name if one.found else None,
                "wanted": _names(one.wanted),
                "count": one.count,
                "beside": list(one.beside),
            }
            for one in exercise.corrections
        ],
        "between": exercise.between,
        "joker_groups": [_group(group.size, group.face) for group in exercise.joker_groups],
        "other_ways": [
            {"change": way.change.value, "groups": [_group(size, face) for size, face in way.groups]}
            for way in exercise.other_ways
        ],
        "instead": [hand.name for hand in exercise.instead],
        "kept": kept,
        "sentences": list(sentences),
    }


def coverage_record(done: Coverage, scores: Sequence[Score], sentences: Sequence[str]) -> Record:
    """What a learner has built of a card, and how quizzes went.

    Returns:
        `built` and `hands`, numbers; `sections`, each with its `name` and `hands`; `next`, the hand that comes next;
        `quizzes`.
    """
    return {
        "card": done.card,
        "built": done.built,
        "hands": len(done.hands),
        "sections": [
            {"name": section.name, "built": section.built, "hands": [_covered(one) for one in section.hands]}
            for section in done.sections
        ],
        "next": done.next_up[0].name if done.next_up else None,
        "quizzes": [_score(score) for score in scores],
        "sentences": list(sentences),
    }


def _covered(one: HandCoverage) -> Record:
    return {
        "name": one.hand.name,
        "tries": one.tries,
        "ways": list(one.ways),
        "forms": one.forms,
        "last": one.last.isoformat(timespec="seconds") if one.last else None,
        "box": one.box.number if one.box else None,
        "due": one.box.due.isoformat() if one.box else None,
        "mistakes": {fault.value: number for fault, number in one.mistakes},
        "unsure": one.unsure,
    }


def _score(score: Score) -> Record:
    return {"asks": score.asks.value, "level": score.level.value, "right": score.right, "asked": score.asked}


def question_record(number: int, question: Question, options: Sequence[str], sentences: Sequence[str]) -> Record:
    """A question of a quiz, before it is answered."""
    return {
        "question": number,
        "asks": asks(question).value,
        "rack": _names(question.rack.faces),
        "options": list(options),
        "sentences": list(sentences),
    }


def answer_record(number: int, question: Question, chosen: Collection[int], sentences: Sequence[str]) -> Record:
    """What came of a question."""
    return {
        "question": number,
        "right": is_right(question, chosen),
        "chosen": sorted(chosen),
        "answer": sorted(question.answer),
        "sentences": list(sentences),
    }


def _names(faces: Sequence[Face]) -> list[str]:
    return [face.name for face in faces]


def _group(size: int, face: Face) -> Record:
    return {"size": size, "face": face.name}
