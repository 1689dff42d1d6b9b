"""Typing in a card, hand by hand: what each comes to is seen at once, and nothing typed is lost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from html import escape
from itertools import groupby

import streamlit as st

from tilewitness.engine.card import CardError, parse_card
from tilewitness.engine.card_file import CardFile, TypedLine
from tilewitness.engine.typed_hand import read_typed
from tilewitness.ui import card_words, choices, drafts, labels, sheets, state, views
from tilewitness.ui.components import typing_part
from tilewitness.ui.drafts import Draft
from tilewitness.ui.typing_words import card_faults, typed_sentences


def page() -> None:
    """Draw the page."""
    st.title(labels.TYPE_PAGE, anchor=False)
    st.write(labels.TYPE_INTRO)
    draft = _draft()
    _tell_clash()
    _type_hand(draft)
    views.wording_guide()
    st.header(labels.CARD_SO_FAR, anchor=False)
    _keep_or_not(draft)
    st.text_input(labels.CARD_CALLED, draft.file.name, key=_key("card name"), on_change=_rename_card)
    _hands(draft)
    if draft.file.sections:
        with st.expander(labels.SECTIONS):
            _sections(draft)


# The draft of this window.


def _draft() -> Draft:
    """The draft to work on, chosen among the person's own cards; at first the one changed last."""
    names = [drafts.NEW, *choices.kept_cards()]
    if "type which" not in st.session_state:
        first = drafts.latest() if drafts.latest() is not None else state.choices().card
        st.session_state["type which"] = first if first in names else drafts.NEW
    st.selectbox(
        labels.TYPE_WHICH,
        names,
        format_func=lambda name: name or labels.NEW_CARD,
        key="type which",
        on_change=_turn_to_another,
    )
    return _now()


def _now() -> Draft:
    card = st.session_state["type which"]
    if "type draft" not in st.session_state or st.session_state["type draft"].card != card:
        st.session_state["type draft"] = drafts.load(card)
        st.session_state["type mark"] = drafts.mark(card)
        st.session_state["type undo"] = []
    draft: Draft = st.session_state["type draft"]
    return draft


def _turn_to_another() -> None:
    st.session_state["type message"] = ""
    _begin_fields()


def _become(draft: Draft, *, undoable: bool = True) -> None:
    """Go on with another state of the draft, which is kept at once unless another window has changed it meanwhile."""
    if undoable:
        st.session_state["type undo"].append(_now())
    st.session_state["type draft"] = draft
    if not _clashes():
        _save(draft)


def _save(draft: Draft) -> None:
    st.session_state["type saved"] = drafts.save(draft)
    st.session_state["type mark"] = drafts.mark(draft.card)


def _clashes() -> bool:
    """Another window has kept another state of this draft since this one did."""
    return bool(st.session_state["type mark"] != drafts.mark(_now().card))


def _tell_clash() -> None:
    """Let a person who types one card in two windows choose, before either loses anything."""
    if _clashes():
        st.warning(labels.TWO_WINDOWS)
        _buttons((labels.TAKE_OTHER, _take_other), (labels.KEEP_THIS, _keep_this))


def _take_other() -> None:
    """Go on with what the other window kept; what stood here can be had back."""
    st.session_state["type undo"].append(_now())
    st.session_state["type draft"] = drafts.load(_now().card)
    st.session_state["type mark"] = drafts.mark(_now().card)
    _begin_fields()


def _keep_this() -> None:
    """Go on with what stands here; what the other window kept can be had back."""
    st.session_state["type undo"].append(drafts.load(_now().card))
    _save(_now())


def _begin_fields() -> None:
    """Fill all fields anew."""
    st.session_state["type round"] = st.session_state.get("type round", 0) + 1


def _key(name: str) -> str:
    return f"type {name} {st.session_state.get('type round', 0)}"


# The hand being typed.


def _type_hand(draft: Draft) -> None:
    typed = read_typed(draft.wording, name=draft.hand)
    groups = typed.description.example if typed.description else ()
    typing_part(
        key="type hand",
        data={
            "id": f"{draft.card} {st.session_state.get('type round', 0)}",
            "section": draft.section,
            "hand": draft.hand,
            "wording": draft.wording,
            "sections": list(draft.file.sections),
            "message": st.session_state.get("type message", ""),
            "marks": [[fault.start, fault.end] for fault in typed.faults] if draft.wording.strip() else [],
            "lines": typed_sentences(typed, draft.wording),
            "groups": sheets.drawn_groups(groups),
            "words": labels.TYPING,
        },
        on_typed_change=partial(_typed, "typed"),
        on_put_change=partial(_typed, "put"),
    )


def _typed(what: str) -> None:
    """Keep what was typed; put it on the card if that was asked for and it is a hand."""
    fields = st.session_state["type hand"].get(what)
    if not fields:
        return
    draft = replace(_now(), section=fields["section"], hand=fields["hand"], wording=fields["wording"])
    _become(draft, undoable=False)
    st.session_state["type message"] = ""
    if what == "put":
        _put(draft)


def _put(draft: Draft) -> None:
    if read_typed(draft.wording).faults:
        st.session_state["type message"] = labels.NOT_A_HAND
        return
    problem = drafts.why_not(draft)
    if not problem:
        _become(drafts.put(draft))
        _begin_fields()
    st.session_state["type message"] = problem or f"{labels.ON_THE_CARD} {draft.hand.strip()}."


# The card so far.


def _hands(draft: Draft) -> None:
    hands = draft.file.hands
    st.html(_listed(draft.file) if hands else sheets.paragraphs([labels.NO_HANDS_YET]))
    if hands:
        names = [(hand.section, hand.name) for hand in hands]
        chosen = st.session_state.get("type chosen")
        st.session_state["type chosen"] = chosen if chosen in names else names[0]
        st.selectbox(labels.CHOOSE_HAND, names, format_func=lambda one: f"{one[0]}: {one[1]}", key="type chosen")
        _buttons(
            (labels.CHANGE_HAND, _change),
            (labels.HAND_UP, partial(_edit_hand, lambda file, hand: file.moved(hand, -1))),
            (labels.HAND_DOWN, partial(_edit_hand, lambda file, hand: file.moved(hand, 1))),
            (labels.DELETE_HAND, partial(_edit_hand, lambda file, hand: file.without(hand))),
        )
    if st.session_state["type undo"]:
        st.button(labels.UNDO_CHANGE, on_click=_undo, key="type undo button")


def _listed(file: CardFile) -> str:
    """All hands in order, as typed."""
    return "".join(
        f"<h3>{escape(section)}</h3><ul>"
        + "".join(f"<li><strong>{escape(one.name)}</strong>: {escape(one.wording)}</li>" for one in lines if one.name)
        + "</ul>"
        for section, lines in groupby(file.entries, key=lambda one: one.section)
    )


def _buttons(*buttons: tuple[str, Callable[[], None]]) -> None:
    with st.container(horizontal=True):
        for label, act in buttons:
            st.button(label, on_click=act, key=f"type {label}")


def _chosen() -> TypedLine | None:
    return _now().file.hand(*st.session_state["type chosen"])


def _change() -> None:
    hand = _chosen()
    if hand:
        _become(drafts.change(_now(), hand))
        st.session_state["type message"] = ""
        _begin_fields()


def _edit_hand(edit: Callable[[CardFile, TypedLine], CardFile]) -> None:
    hand = _chosen()
    if hand:
        _become(drafts.with_file(_now(), edit(_now().file, hand)))


def _undo() -> None:
    _become(st.session_state["type undo"].pop(), undoable=False)
    _begin_fields()


def _rename_card() -> None:
    name = st.session_state[_key("card name")].strip()
    if name:
        _become(drafts.with_file(_now(), _now().file.named(name)))


def _sections(draft: Draft) -> None:
    sections = draft.file.sections
    if st.session_state.get("type section") not in sections:
        st.session_state["type section"] = sections[0]
    chosen = st.selectbox(labels.CHOOSE_SECTION, sections, key="type section")
    st.text_input(labels.SECTION_CALLED, chosen, key=_key(f"section {chosen}"), on_change=partial(_rename_section, chosen))
    _buttons(
        (labels.SECTION_UP, partial(_move_section, -1)),
        (labels.SECTION_DOWN, partial(_move_section, 1)),
    )


def _rename_section(old: str) -> None:
    new = st.session_state[_key(f"section {old}")].strip()
    if new and new not in (*_now().file.sections, "name"):
        _become(drafts.with_file(_now(), _now().file.renamed_section(old, new)))
        st.session_state["type section"] = new


def _move_section(steps: int) -> None:
    _become(drafts.with_file(_now(), _now().file.moved_section(st.session_state["type section"], steps)))


# Keeping the card.


def _keep_or_not(draft: Draft) -> None:
    if not st.session_state.get("type saved", True):
        st.error(labels.DRAFT_LOST)
    if not _clashes():
        st.write(_state_of(draft))
    with st.container(horizontal=True):
        st.button(labels.KEEP_CARD, on_click=_keep, key="type keep", type="primary")
        st.download_button(labels.CARD_FILE_OUT, draft.text, f"{draft.card or 'card'}.toml", on_click="ignore")
    good, sentences = st.session_state.pop("type kept", (True, []))
    if sentences:
        (st.success if good else st.error)("  \n".join(sentences))


def _state_of(draft: Draft) -> str:
    if not draft.has_kept_hands_only:
        return labels.DRAFT_KEPT
    return labels.DRAFT_SAME if draft.is_untouched else labels.DRAFT_FIELDS


def _keep() -> None:
    """Make a card of the draft; a hand that is only half typed stays in the fields."""
    draft = _now()
    if _clashes():
        return  # the page asks first which of two windows is right
    try:
        card = parse_card(draft.text, source=draft.file.name or labels.NEW_CARD)
        if not draft.card and choices.plain_name(card.name) in choices.kept_cards():
            st.session_state["type kept"] = (False, [labels.CARD_NAME_KEPT])
            return
        kept = choices.keep_card(draft.card or card.name, draft.text)
    except CardError as error:
        st.session_state["type kept"] = (False, card_faults(error))
        return
    except OSError as error:
        st.session_state["type kept"] = (False, [f"{labels.NOT_KEPT} {error.strerror}."])
        return
    state.choose(replace(state.choices(), card=kept))
    drafts.drop(draft.card)
    st.session_state["type which"] = kept
    st.session_state["type draft"] = replace(draft, card=kept)
    _save(_now())
    st.session_state["type kept"] = (True, card_words.kept_lines(card))


page()
