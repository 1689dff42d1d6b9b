"""For whoever learns a card: build a hand, have it checked, see what is known and what comes next."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import partial
from typing import Any

import streamlit as st

from tilewitness.engine.card import Card
from tilewitness.engine.coverage import Coverage
from tilewitness.engine.exercise import ExerciseError
from tilewitness.engine.faces import Face
from tilewitness.engine.hands import Hand
from tilewitness.engine.rack import Rack, RackError
from tilewitness.engine.scores import scores
from tilewitness.ui import desk, labels, learners, practising, sheets, state, views, words
from tilewitness.ui import practice_labels as said
from tilewitness.ui.components import builder_part, task_part
from tilewitness.ui.desk import Desk
from tilewitness.ui.notebook import Notebook, NotebookError
from tilewitness.ui.photo_choice import choose_photo
from tilewitness.ui.phrasing import amount, capital, several, tiles_in_order
from tilewitness.ui.practice_words import (
    card_sentence,
    exercise_verdict,
    kept_sentence,
    more_than_a_hand,
    section_sentence,
    task_sentences,
)
from tilewitness.ui.practising import Checked
from tilewitness.ui.sight import Sight
from tilewitness.ui.tables import coverage_rows, score_rows

PAGE = "practise"
MOST_WAYS = 12  # other ways shown as pictures; the rest are counted


def page() -> None:
    """Draw the page."""
    st.title(labels.PRACTISE_PAGE, anchor=False)
    st.write(said.INTRO)
    card = state.card().card
    learners.tell_set_aside()
    try:
        learner = learners.choose_learner(PAGE)
        if learner is None:
            return
        done = practising.covered(card, learner, Notebook())
        now = _choose(card, done, learner)
    except NotebookError as error:
        learners.tell_trouble(error)
        return
    except ExerciseError as error:
        st.error(str(error))
        return
    _task(now)
    by_photo = st.radio(said.HOW, [said.DRAWN, said.PHOTO], horizontal=True, key="practise how") == said.PHOTO
    if by_photo:
        sight = choose_photo(PAGE, said.PHOTO_LABEL, said.PHOTO_INTRO, progress=st.container())
        if sight is not None:
            views.show_tiles(PAGE, sight, speaks=state.choices().practises_aloud)
            views.show_advice(sight)
            now = _looked_at(now, sight, card, learner)
    else:
        _builder(now)
    st.button(said.CHECK, type="primary", key="practise check", on_click=partial(_check, card, learner, by_photo))
    if trouble := st.session_state.pop("practise trouble", ""):
        st.warning(trouble)
    _answer(now)
    _coverage(card, done, learner)


# What to build.


def _choose(card: Card, done: Coverage, learner: str) -> Desk:
    """What is practised: it stays until another is asked for, though by then something else may be known least."""
    what = st.radio(said.WHAT, [said.LEAST, said.SECTION, said.HAND], horizontal=True, key="practise what")
    section = name = None
    if what == said.SECTION:
        section = st.selectbox(said.WHICH_SECTION, card.sections, key="practise section")
    elif what == said.HAND:
        hands = [hand for hand in card.hands if hand in done.next_up]
        chosen = st.selectbox(said.WHICH_HAND, hands, format_func=words.hand_name, key="practise hand")
        if chosen is not None:
            name, section = chosen.name, chosen.section
    asked = card.name, learner, what, section, name
    now = desk.desk()
    if now is None or now.hand not in card.hands or st.session_state.get("practise asked") != asked:
        st.session_state["practise asked"] = asked
        state.forget_sight(PAGE)
        return desk.begin(practising.chosen_hand(card, done, name=name, section=section))
    return now


def _next(card: Card, learner: str, section: str | None) -> None:
    """Go on to what is known least, but not to the same hand again if there is another."""
    now = desk.desk()
    known_least = practising.covered(card, learner, Notebook()).next_up
    others = [hand for hand in known_least if section in (None, hand.section) and now and hand != now.hand]
    _start(others[0] if others else now.hand if now else known_least[0])


def _start(hand: Hand) -> None:
    state.forget_sight(PAGE)
    desk.begin(hand)


def _task(now: Desk) -> None:
    title, *lines = task_sentences(now.hand)
    task_part(
        key="practise task",
        data={
            "id": f"practise {now.number}",
            "title": title.removesuffix("."),
            "lines": lines,
            "spoken": [title, *lines],
            "speaks": state.choices().practises_aloud,
            "say": said.SAY_TASK,
        },
    )


# The tiles.


def _builder(now: Desk) -> None:
    builder_part(
        key=desk.BUILDER,
        data={
            "version": now.version,
            "rack": [face.name for face in now.rack],
            "families": _families(),
            "amounts": [amount(number) for number in range(practising.MOST_TILES + 1)],
            "news": {"id": now.version, "text": now.news},
            "speaks": state.choices().practises_aloud,
            "words": said.BUILDER,
        },
        on_rack_change=lambda: None,
    )
    with st.form("practise typing", border=False), st.container(horizontal=True, vertical_alignment="bottom"):
        st.text_input(said.TYPED, key="practise typed", autocomplete="off")
        st.form_submit_button(said.PUT, on_click=_put_typed)


def _families() -> list[dict[str, Any]]:
    """All faces by family, each with what one to six of it are called."""
    families = views.families()
    for family in families:
        for face in family["faces"]:
            face["several"] = {str(many): several(many, Face.named(face["name"])) for many in range(1, 7)}
    return families


def _put_typed() -> None:
    text = st.session_state["practise typed"]
    now = desk.desk()
    if now is None:
        return
    try:
        faces = Rack.parse(text).faces
    except RackError as error:
        desk.say(capital(str(error)))
        return
    if not faces:
        desk.say(said.NOTHING_TYPED)
    elif len(now.rack) + len(faces) > practising.MOST_TILES:
        desk.say(said.BUILDER["full"])
    else:
        have = amount(len(now.rack) + len(faces))
        desk.put(faces, said.PUT_NEWS.format(tiles=capital(tiles_in_order(faces)), count=have))
        st.session_state["practise typed"] = ""


# The check.


def _check(card: Card, learner: str, by_photo: bool) -> None:
    """Check what was built and write it down."""
    now, sight = desk.desk(), state.sight(PAGE)
    if now is None:
        return
    photo = ""
    if by_photo and sight is not None and len(sight.reading.tiles) > practising.MOST_TILES:
        st.session_state["practise trouble"] = more_than_a_hand(len(sight.reading.tiles))
        return
    if by_photo and sight is not None and sight.reading.tiles:
        checked, photo = practising.check_reading(sight.reading, now.hand, card), sight.digest
    elif not by_photo and now.rack:
        checked = practising.check_rack(Rack(now.rack), now.hand, card)
    else:
        st.session_state["practise trouble"] = said.NOTHING_TO_CHECK
        return
    desk.note(checked, _keep(checked, card, learner), photo)


def _looked_at(now: Desk, sight: Sight, card: Card, learner: str) -> Desk:
    """Whoever corrects a tile because the answer hung on it gets the answer without asking for it again."""
    if now.checked is None or now.checked.sure or now.photo == sight.digest or not sight.corrected:
        return now
    _check(card, learner, by_photo=True)
    return desk.desk() or now


def _confirm(checked: Checked, card: Card, learner: str) -> None:
    """A person has looked: the tiles are what they were read as."""
    exercise = checked.exercise
    verdict = exercise_verdict(exercise, checked.places)
    looked = replace(checked, verdict=verdict, sure=True)
    desk.note(looked, _keep(looked, card, learner))


def _keep(checked: Checked, card: Card, learner: str) -> str:
    """Write a check down and tell whether that went well."""
    try:
        practising.keep(checked, card, learner, Notebook())
    except NotebookError as error:
        return str(error)
    return kept_sentence(learner, unsure=not checked.sure)


def _answer(now: Desk) -> None:
    if now.checked is None:
        return
    checked, exercise = now.checked, now.checked.exercise
    after = [now.kept] if checked.sure else [now.kept, said.LOOK_HELP]
    verdict = replace(checked.verdict, details=(*checked.verdict.details, *after))
    full = [*verdict.sentences, words.SECOND_OPINION]
    check = f"{PAGE} check {now.checks}"
    news = full if state.choices().practises_aloud else ()
    views.say(PAGE, verdict, words.SECOND_OPINION, full, ident=check, photo=check, news=news)
    with st.container(horizontal=True):
        _after(now, checked)
    st.header(said.CHECKED, anchor=False)
    st.html(sheets.STYLE + sheets.drawn_hand_html(exercise.groups, exercise.rack, checked.places))
    if exercise.other_ways:
        with st.expander(said.OTHER_WAYS):
            ways = exercise.other_ways
            st.html(sheets.STYLE + "".join(sheets.drawn_way_html(way.groups) for way in ways[:MOST_WAYS]))
            if len(ways) > MOST_WAYS:
                st.write(said.MORE_WAYS.format(count=len(ways) - MOST_WAYS))


def _after(now: Desk, checked: Checked) -> None:
    card, learner = state.card().card, state.choices().learner
    if not checked.sure:
        st.button(said.CONFIRM, key="practise confirm", on_click=partial(_confirm, checked, card, learner))
    what, section = st.session_state["practise what"], st.session_state.get("practise section")
    if what != said.HAND:
        within = section if what == said.SECTION else None
        st.button(said.NEXT, key="practise next", on_click=partial(_next, card, learner, within))
    st.button(said.AGAIN, key="practise again", on_click=partial(_start, now.hand))


# What was learnt.


def _coverage(card: Card, done: Coverage, learner: str) -> None:
    st.header(said.COVERAGE, anchor=False)
    st.write(card_sentence(done))
    today = datetime.now().astimezone().date()
    for section in done.sections:
        with st.expander(section_sentence(section).removesuffix(".")):
            columns = zip(*coverage_rows(section, today), strict=True)
            heads = dict(zip(said.COVERAGE_HEADS, map(list, columns), strict=True))
            st.table(heads, hide_index=True, alt=section.name)
    quizzes = score_rows(scores(card, Notebook().answers(learner)))
    if quizzes:
        with st.expander(said.QUIZ_SCORES):
            heads = dict(zip(said.QUIZ_HEADS, map(list, zip(*quizzes, strict=True)), strict=True))
            st.table(heads, hide_index=True, alt=said.QUIZ_SCORES)
    with st.container(horizontal=True):
        st.download_button(said.ATTEMPT_LIST, lambda: Notebook().attempts_csv(learner), "practice.csv", "text/csv", on_click="ignore")
        if quizzes:
            st.download_button(said.ANSWER_LIST, lambda: Notebook().answers_csv(learner), "quiz.csv", "text/csv", on_click="ignore")


page()
