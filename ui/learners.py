"""What the pages for practice and for quizzes share: who is learning here, and a notebook that cannot be used."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import streamlit as st

from tilewitness.ui import practice_labels as said
from tilewitness.ui import practising, state
from tilewitness.ui.notebook import Notebook, NotebookError


def choose_learner(page: str) -> str | None:
    """Ask who is learning, and whether to say everything aloud; None while a name may be misspelt.

    Raises:
        NotebookError: the notebook cannot be read.
    """
    key, chosen = f"{page} learner", state.choices().learner
    with st.container(horizontal=True, vertical_alignment="bottom"):
        typed = st.text_input(said.LEARNER, chosen, max_chars=40, key=key).strip() or chosen
        aloud = st.checkbox(said.ALOUD, state.choices().practises_aloud, key=f"{page} aloud")
    known = Notebook().learners()
    learner = practising.learner_called(typed, known)
    near = practising.learner_like(learner, known)
    if near and learner not in (chosen, *st.session_state.get("new learners", ())):
        st.warning(said.MEANT.format(typed=learner, known=near))
        with st.container(horizontal=True):
            st.button(said.MEANT_YES.format(known=near), key=f"{page} meant", on_click=partial(_is, key, near))
            st.button(said.MEANT_NO.format(typed=learner), key=f"{page} new", on_click=partial(_is_new, learner))
        return None
    if (learner, aloud) != (chosen, state.choices().practises_aloud):
        state.choose(replace(state.choices(), learner=learner, practises_aloud=aloud))
    if set(known) - {learner}:
        st.caption(f"{said.KNOWN_LEARNERS} {', '.join(known)}")
    return learner


def _is(key: str, learner: str) -> None:
    st.session_state[key] = learner


def _is_new(learner: str) -> None:
    st.session_state["new learners"] = (*st.session_state.get("new learners", ()), learner)


def tell_trouble(error: NotebookError) -> None:
    """Say why the notebook cannot be used; one that is damaged can be set aside."""
    st.error(str(error))
    if error.damaged:
        st.button(said.SET_ASIDE, key="set aside", type="primary", on_click=_set_aside)
        st.caption(said.SET_ASIDE_HELP)


def _set_aside() -> None:
    try:
        st.session_state["set aside as"] = Notebook().set_aside()
    except NotebookError as error:
        st.session_state["set aside trouble"] = str(error)


def tell_set_aside() -> None:
    """Say, once, where the notebook is that was just set aside."""
    trouble, aside = (st.session_state.pop(key, None) for key in ("set aside trouble", "set aside as"))
    if trouble:
        st.error(trouble)
    if aside:
        st.success(said.ASIDE.format(name=aside.name, folder=aside.parent))
