"""Questions about one's own card, one at a time, each answer explained."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

import streamlit as st

from tilewitness.engine.card import Card
from tilewitness.engine.quiz import Level, MayClaim, Question, StillPossible, WrongTile, is_right, questions
from tilewitness.engine.scores import answer_of, scores
from tilewitness.ui import labels, learners, quiz_words, sheets, state, views
from tilewitness.ui import practice_labels as said
from tilewitness.ui.components import task_part
from tilewitness.ui.notebook import Notebook, NotebookError
from tilewitness.ui.phrasing import listed
from tilewitness.ui.practice_words import kept_sentence, score_line
from tilewitness.ui.words import SECOND_OPINION, Tone, Verdict, places_in_one_row

PAGE = "quiz"
LENGTH: Final = 10  # questions in one quiz
KINDS: Final[dict[str, tuple[type[Question], ...]]] = {
    said.ALL_KINDS: (WrongTile, StillPossible, MayClaim),
    said.WRONG_TILE: (WrongTile,),
    said.STILL_POSSIBLE: (StillPossible,),
    said.MAY_CLAIM: (MayClaim,),
}
LEVELS: Final = dict(zip(said.LEVELS, Level, strict=True))


@dataclass(frozen=True, slots=True)
class Quiz:
    """A quiz under way.

    Attributes:
        number: of the quiz in this window, from 1.
        asked: what it was made of: name of the card, level, kind.
        at: the question in hand, counted from 0; all are answered when there is none.
        answers: what was chosen for each question up to now.
        kept: what is said about writing the last answer down.
    """

    number: int
    asked: tuple[str, Level, str]
    questions: tuple[Question, ...]
    at: int = 0
    answers: tuple[frozenset[int], ...] = ()
    kept: str = ""

    @property
    def question(self) -> Question | None:
        """The question in hand."""
        return self.questions[self.at] if self.at < len(self.questions) else None

    @property
    def is_answered(self) -> bool:
        """The question in hand was answered."""
        return len(self.answers) > self.at

    @property
    def score(self) -> int:
        """Questions answered rightly."""
        return sum(map(is_right, self.questions, self.answers))


def page() -> None:
    """Draw the page."""
    st.title(labels.QUIZ_PAGE, anchor=False)
    st.write(said.QUIZ_INTRO)
    learners.tell_set_aside()
    try:
        if learners.choose_learner(PAGE) is None:
            return
    except NotebookError as error:
        learners.tell_trouble(error)
        return
    level = LEVELS[st.radio(said.LEVEL, list(LEVELS), horizontal=True, key="quiz level")]
    kind = st.radio(said.KIND, list(KINDS), horizontal=True, key="quiz kind")
    quiz = _quiz(state.card().card, level, kind)
    if not quiz.questions:
        st.warning(quiz_words.NO_QUESTIONS)
    elif quiz.question is None:
        _ended(quiz)
    else:
        _ask(quiz, quiz.question)


def _quiz(card: Card, level: Level, kind: str) -> Quiz:
    """The quiz of this window; another card, level or kind begins another one."""
    now: Quiz | None = st.session_state.get("quiz")
    asked = card.name, level, kind
    if now is not None and now.asked == asked:
        return now
    kinds = KINDS[kind]
    wanted = LENGTH * 3 // len(kinds)  # the kinds come in turn
    with st.spinner(said.MAKING):
        made = [one for one in questions(card, level, secrets.randbits(32), wanted) if isinstance(one, kinds)]
    fresh = Quiz(now.number + 1 if now else 1, asked, tuple(made[:LENGTH]))
    st.session_state["quiz"] = fresh
    return fresh


def _ask(quiz: Quiz, question: Question) -> None:
    asked = f"{quiz.number} {quiz.at}"
    options = quiz_words.option_labels(question)
    title = said.QUESTION.format(number=quiz.at + 1, count=len(quiz.questions))
    lines = quiz_words.question_sentences(question)
    task_part(
        key="quiz question",
        data={
            "id": f"quiz {asked}",
            "title": title,
            "lines": lines,
            "spoken": [f"{title}.", *lines, *options],
            "speaks": state.choices().practises_aloud,
            "say": said.SAY_QUESTION,
        },
    )
    rack = question.rack.faces
    st.html(sheets.STYLE + sheets.drawn_tiles_html(rack, places_in_one_row(len(rack))))
    chosen = quiz.answers[quiz.at] if quiz.is_answered else _chosen(question, options, asked)
    # One button with one key: the keyboard stays on it from question to answer to the next question.
    label = said.NEXT_QUESTION if quiz.is_answered else said.ANSWER
    st.button(label, type="primary", key="quiz go", on_click=_go, args=(chosen,))
    if quiz.is_answered:
        st.write(said.CHOSEN.format(choices=listed([options[at] for at in sorted(chosen)])))
        _explain(quiz, question)
    elif st.session_state.pop("quiz trouble", False):
        st.warning(said.CHOOSE_FIRST)


def _chosen(question: Question, options: list[str], asked: str) -> frozenset[int]:
    """The choices made: one of them, or any number where several may be right."""
    numbers = range(len(options))
    if isinstance(question, StillPossible):
        st.write(said.CHOOSE_ALL)
        ticked = [st.checkbox(options[at], key=f"quiz {asked} {at}") for at in numbers]
        return frozenset(at for at in numbers if ticked[at])
    one = st.radio(
        said.CHOOSE_ONE,
        numbers,
        index=None,
        format_func=options.__getitem__,
        horizontal=isinstance(question, WrongTile),
        key=f"quiz {asked}",
    )
    return frozenset() if one is None else frozenset({one})


def _go(chosen: frozenset[int]) -> None:
    """Answer the question in hand, or go on to the next."""
    quiz: Quiz = st.session_state["quiz"]
    if quiz.is_answered:
        st.session_state["quiz"] = replace(quiz, at=quiz.at + 1)
    elif not chosen:
        st.session_state["quiz trouble"] = True
    else:
        st.session_state["quiz"] = replace(quiz, answers=(*quiz.answers, chosen), kept=_keep(quiz, chosen))


def _keep(quiz: Quiz, chosen: frozenset[int]) -> str:
    """Write an answer down and tell whether that went well."""
    assert quiz.question is not None  # the button that leads here stands under one
    learner = state.choices().learner
    now = datetime.now().astimezone()
    try:
        Notebook().record_answer(answer_of(quiz.question, chosen, state.card().card, quiz.asked[1], learner, now))
    except NotebookError as error:
        return str(error)
    return kept_sentence(learner)


def _explain(quiz: Quiz, question: Question) -> None:
    first, *why = quiz_words.answer_sentences(question, quiz.answers[quiz.at])
    right = is_right(question, quiz.answers[quiz.at])
    score = quiz_words.score_sentence(quiz.score, len(quiz.answers))
    verdict = Verdict(Tone.YES if right else Tone.NO, first.removesuffix("."), tuple(why), (score, quiz.kept), is_complete=right)
    _say(verdict, f"{PAGE} {quiz.number} {quiz.at} answered")


def _ended(quiz: Quiz) -> None:
    score = quiz_words.score_sentence(quiz.score, len(quiz.questions))
    all_right = quiz.score == len(quiz.questions)
    learner = state.choices().learner
    ever = [score_line(one) for one in scores(state.card().card, Notebook().answers(learner))]
    since = [said.ALL_SCORES, *ever] if ever else []
    tone = Tone.YES if all_right else Tone.NO
    _say(Verdict(tone, score.removesuffix("."), (), tuple(since)), f"{PAGE} {quiz.number} ended")
    st.button(said.ANOTHER_QUIZ, type="primary", key="quiz another", on_click=_another)


def _another() -> None:
    quiz: Quiz = st.session_state["quiz"]
    st.session_state["quiz"] = replace(quiz, asked=("", quiz.asked[1], ""))


def _say(verdict: Verdict, ident: str) -> None:
    full = [*verdict.sentences, SECOND_OPINION]
    news = full if state.choices().practises_aloud else ()
    views.say(PAGE, verdict, SECOND_OPINION, full, ident=ident, photo=ident, news=news)


page()
