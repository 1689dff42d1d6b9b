"""For a player who hears better than she sees: everything is said, and everything is done by keyboard."""

from __future__ import annotations

from dataclasses import replace

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from tilewitness.ui import labels, photo_words, state, views, words
from tilewitness.ui.sight import Sight

PAGE = "listen"


def page() -> None:
    """Draw the page."""
    st.title(labels.LISTEN_PAGE, anchor=False)
    speaks = st.checkbox(labels.SPEAK_BY_ITSELF, state.choices().speaks, key="speaks", on_change=_keep)

    def show(sight: Sight, answer: DeltaGenerator) -> None:
        said = _everything(sight)
        with answer:
            views.show_answer(PAGE, sight, said, spoken=said.lead, speaks=speaks, steered=True)
        views.show_tiles(PAGE, sight, speaks=True)

    views.photo_page(PAGE, labels.PHOTO_RACK, labels.LISTEN_INTRO, show, sample="win", speaks=speaks)


def _everything(sight: Sight) -> words.Verdict:
    """The tiles from left to right, what to look at, then the verdict, then how to take a better photo."""
    found = state.judged(sight)
    told = photo_words.told_of_racks([(one.rows, one.verdict.sentences) for one in found])
    verdicts = [line for block in told for line in block]
    lines = photo_words.reading_lines(sight.reading)
    title = found[0].verdict.title if len(found) == 1 else photo_words.racks_title(len(found))
    tone = found[0].verdict.tone if len(found) == 1 else words.Tone.LOOK
    return words.Verdict(tone, title, (*lines, *verdicts))


def _keep() -> None:
    state.choose(replace(state.choices(), speaks=bool(st.session_state["speaks"])))


page()
