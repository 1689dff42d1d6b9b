"""The card to judge by, and the choices that last."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from html import escape

import streamlit as st

from tilewitness.engine.card import Card, CardError, card_text, load_card, parse_card
from tilewitness.engine.compare import compare_cards
from tilewitness.ui import card_words, choices, labels, set_views, sheets, state
from tilewitness.ui.compare_words import comparison_parts, comparison_summary
from tilewitness.ui.paper import Paper, Sheet, letters_without_font, print_card
from tilewitness.ui.typing_words import card_faults

_WHICH, _ASK, _NO = "which-card", "forget-card", "keep-card"  # places that the keyboard goes to
LARGEST_CARD = 1  # megabytes; a card of 60 hands is about 10 kilobytes


def page() -> None:
    """Draw the page."""
    st.title(labels.CARD_PAGE, anchor=False)
    _choose()
    st.header(labels.ADD_CARD, anchor=False)
    st.write(labels.ADD_CARD_HELP)
    if st.button(labels.TYPE_PAGE):
        st.switch_page("screens/type_card.py")
    uploaded = st.file_uploader(labels.CARD_FILE, type=["toml", "txt"], max_upload_size=LARGEST_CARD, key="card file")
    if uploaded is not None and st.session_state.get("card file id") != uploaded.file_id:
        st.session_state["card file id"] = uploaded.file_id
        _keep(uploaded.name, uploaded.getvalue())
    _show_message()
    set_views.choose_set("card set")
    st.write(f"{labels.KEPT_IN} {choices.folder()}")
    st.header(labels.SPEECH_HEADING, anchor=False)
    speaks = st.checkbox(labels.SPEAK_BY_ITSELF, state.choices().speaks)
    if speaks != state.choices().speaks:
        state.choose(replace(state.choices(), speaks=speaks))
    _show_card()


def _choose() -> None:
    names = [choices.DEMO_CARD, *choices.kept_cards()]
    now = state.choices().card if state.choices().card in names else choices.DEMO_CARD
    shown = {choices.DEMO_CARD: labels.DEMO_CARD}
    with st.container(key=_WHICH):
        picked = st.radio(labels.WHICH_CARD, names, names.index(now), format_func=lambda name: shown.get(name, name))
    if picked and picked != now:
        state.choose(replace(state.choices(), card=picked))
    if picked != choices.DEMO_CARD:
        _offer_to_forget(picked)


def _offer_to_forget(name: str) -> None:
    """Ask back before a card is gone that took hours to type."""
    asked = f"card asked {name}"
    if not st.session_state.get(asked):
        st.button(f"{labels.FORGET} {name}", key=_ASK, on_click=_ask, args=(asked, True))
        return
    st.warning(labels.FORGET_QUESTION.format(name=name))
    with st.container(horizontal=True):
        st.button(labels.DELETE_YES, on_click=_forget, args=(name,))
        st.button(labels.DELETE_NO, key=_NO, on_click=_ask, args=(asked, False))


def _ask(asked: str, ask: bool) -> None:
    """Ask back, or leave off asking; the keyboard is on the answer that loses nothing."""
    st.session_state[asked] = ask
    state.go_to(_NO if ask else _ASK)


def _forget(name: str) -> None:
    st.session_state[f"card asked {name}"] = False
    choices.forget_card(name)
    state.choose(replace(state.choices(), card=choices.DEMO_CARD))
    state.go_to(_WHICH)


def _keep(name: str, data: bytes) -> None:
    """Check a card and keep it; what is wrong with it is shown after the page has been drawn again."""
    try:
        text = card_text(data, source=name)
        card = parse_card(text, source=name)
        kept = choices.keep_card(choices.name_beside(name, text), text)
    except CardError as error:
        st.session_state["card message"] = (False, "  \n".join(card_faults(error)))
        return
    except OSError as error:
        st.session_state["card message"] = (False, f"{labels.NOT_KEPT} {error.strerror}.")
        return
    state.choose(replace(state.choices(), card=kept))
    beside = [] if kept == choices.plain_name(name) else [labels.KEPT_BESIDE.format(name=kept)]
    st.session_state["card message"] = (True, "  \n".join([*card_words.kept_lines(card), *beside]))
    st.rerun()


def _show_message() -> None:
    good, message = st.session_state.get("card message", (True, ""))
    if message:
        (st.success if good else st.error)(message)


def _show_card() -> None:
    card = state.card().card
    st.header(card.name, anchor=False)
    st.write(card_words.card_summary(card))
    for section in card.sections:
        with st.expander(section):
            for one in card_words.described(card):
                if one.hand.section == section:
                    st.write("  \n".join(card_words.hand_lines(one)))
    _paper(card)
    _compare(card)


def _paper(card: Card) -> None:
    """Sheets to download; each is made when it is asked for."""
    st.header(labels.PAPER_HEADING, anchor=False)
    st.write(labels.PAPER_HELP)
    lost = letters_without_font(card)
    if lost:
        st.warning(card_words.paper_lost(lost))
    size = st.radio(labels.PAPER_SIZE, list(labels.PAPER_SIZES), format_func=labels.PAPER_SIZES.__getitem__, horizontal=True)
    with st.container(horizontal=True):
        for label, sheet in ((labels.PRACTICE_SHEET, Sheet.PRACTICE), (labels.WALL_CHART, Sheet.CHART)):
            make = partial(_pdf, card, sheet, Paper(size))
            st.download_button(label, make, f"{sheet.value}.pdf", "application/pdf", on_click="ignore")


def _pdf(card: Card, sheet: Sheet, paper: Paper) -> bytes:
    return print_card(card, sheet, paper).pdf


def _compare(card: Card) -> None:
    """What changed since another card of the person's own."""
    others = [name for name in choices.kept_cards() if name != state.choices().card]
    if not others:
        return
    st.header(labels.COMPARE_HEADING, anchor=False)
    chosen = st.selectbox(labels.COMPARE_WITH, others, index=None, placeholder=labels.COMPARE_NOTHING)
    path = choices.card_path(chosen) if chosen else None
    if path:
        found = compare_cards(load_card(path), card)
        st.write(comparison_summary(found))
        for heading, hands in comparison_parts(found):
            st.html(f"<h3>{escape(heading)}</h3><ul>{''.join(map(_difference_html, hands))}</ul>")


def _difference_html(lines: list[str]) -> str:
    """One hand that differs: its name, then what is different about it."""
    title, *sentences = lines
    return f"<li><strong>{escape(title)}</strong>{sheets.paragraphs(sentences)}</li>"


page()
