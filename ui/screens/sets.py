"""A set of tiles that the reader does not know: shown once, looked over, and kept under a name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

import streamlit as st

from tilewitness.engine.faces import Face
from tilewitness.ui import kept_sets, labels, lessons, set_views, set_words, sheets, state, views
from tilewitness.ui.components import tiles_part
from tilewitness.ui.photo_choice import PHOTO_TYPES
from tilewitness.ui.set_files import SUFFIX, packed
from tilewitness.ui.sight import jpeg_address
from tilewitness.vision.lesson import MOST_PICTURES, Agreement, Lesson, Place, layout
from tilewitness.vision.photo import PhotoError
from tilewitness.vision.places import Layout
from tilewitness.vision.sets import SetError, TileSet

PAGE = "sets"
MOST_MEGABYTES = 64
_KEPT = "kept-sets"  # a place that the keyboard goes to
_TO_LOOK_AT = (Agreement.OTHER, Agreement.NOT_SEEN, Agreement.FADED)


def page() -> None:
    """Draw the page."""
    st.title(labels.SETS_PAGE, anchor=False)
    st.write(labels.SETS_INTRO)
    answer, message, places = st.container(), st.empty(), st.container()
    st.header(labels.LEARN_SET, anchor=False)
    with st.container(horizontal=True):
        flowers = st.number_input(labels.HOW_MANY_FLOWERS, 1, MOST_PICTURES, 8)
        jokers = st.number_input(labels.HOW_MANY_JOKERS, 1, MOST_PICTURES, 1)
    rows = layout(flowers=flowers, jokers=jokers)
    _choose_photos(rows)
    history = _history()
    with answer:
        _answer(rows, history[-1] if history else None)
    if history:
        with places:
            _show_places(history[-1])
        _keep(history[-1])
    else:
        st.html(sheets.STYLE + sheets.layout_html(rows))
        if st.button(labels.PRINT_LAYOUT):
            said = set_words.invitation(rows)
            views.print_page(PAGE, said.title, sheets.paragraphs(said.details) + sheets.layout_html(rows))
    _kept_sets()
    good, text = st.session_state.pop("set message", (True, ""))
    if text:
        (message.success if good else message.error)(text)


# The lesson.


def _history() -> list[Lesson]:
    """The lesson of this window and its corrected versions; empty before there are photos."""
    lessons_so_far: list[Lesson] = st.session_state.setdefault("lessons", [])
    return lessons_so_far


def _choose_photos(rows: Layout) -> None:
    """Let a person choose or take photos of the layout; new ones are looked at at once."""
    turn = st.session_state.get("lessons kept", 0)  # new choosers after a set was kept
    files = list(st.file_uploader(labels.PHOTO_LAYOUT, PHOTO_TYPES, accept_multiple_files=True, key=f"{PAGE} files {turn}"))
    if st.checkbox(labels.USE_CAMERA, key=f"{PAGE} use camera"):
        taken = st.camera_input(labels.CAMERA_LAYOUT, key=f"{PAGE} camera {turn}")
        files += [taken] if taken else []
    wanted = [file.file_id for file in files], rows
    if st.session_state.get("lesson of") == wanted:
        return
    st.session_state["lesson of"] = wanted
    _history().clear()
    st.session_state["lesson number"] = st.session_state.get("lesson number", 0) + 1
    if files:
        with st.spinner(labels.STUDYING):
            _tried(lambda: _history().append(lessons.study_photos([(file.name, file.getvalue()) for file in files], rows)))


def _answer(rows: Layout, lesson: Lesson | None) -> None:
    said = set_words.lesson_verdict(lesson) if lesson else set_words.invitation(rows)
    number, step = st.session_state.get("lesson number", 0), len(_history())
    views.say(PAGE, said, "", said.sentences, ident=f"{PAGE} {number} {step} {said.title}", photo=str(number))


def _show_places(lesson: Lesson) -> None:
    """Every place of the layout with its tile; a click or Enter says what it is."""
    numbers = range(1 + max(place.row for place in lesson.places))
    rows = [
        {"name": f"Row {row + 1}", "tiles": [_tile(key, place) for key, place in enumerate(lesson.places) if place.row == row]}
        for row in numbers
    ]
    names = {**labels.TILES, "heading": labels.LESSON_TILES, "remove": labels.LEAVE_OUT, "add": ""}
    tiles_part(
        key=f"{PAGE} tiles",
        data={"rows": rows, "faces": views.families(), "speaks": False, "words": names},
        on_corrected_change=_correct,
    )
    with st.container(horizontal=True):
        if lesson.doubts:
            st.button(labels.AS_LAID_OUT, on_click=lambda: _history().append(lesson.as_laid_out()))
        if len(_history()) > 1:
            st.button(labels.UNDO, key=f"{PAGE} undo", on_click=_undo_correction)


def _tile(key: int, place: Place) -> dict[str, Any]:
    agreement = place.agreement
    likely = dict.fromkeys([place.expected, *(face for face, _ in place.probabilities[:3])])
    return {
        "key": key,
        "row": place.row,
        "place": place.place + 1,
        "name": str(place.told or place.expected),
        "image": jpeg_address(place.picture) if place.picture else "",
        "state": "corrected" if agreement is Agreement.TOLD else "unsure" if agreement in _TO_LOOK_AT else "read",
        "remark": labels.LESSON_REMARKS["left out" if place.left_out else agreement.value],
        "spoken": set_words.place_sentence(place),
        "question": set_words.place_question(place),
        "likely": [{"name": face.name, "short": face.name} for face in likely],
    }


def _correct() -> None:
    change = st.session_state[f"{PAGE} tiles"].get("corrected")
    if not change or not _history():
        return
    lesson = _history()[-1]
    place = lesson.places[change["tile"]]
    face = Face.named(change["face"]) if change["face"] else None
    _tried(lambda: _history().append(lesson.with_correction(place.row, place.place, face)))


def _undo_correction() -> None:
    if len(_history()) > 1:
        _history().pop()


def _keep(lesson: Lesson) -> None:
    name = st.text_input(labels.SET_NAME, labels.SET_NAME_DEFAULT)
    known = name.strip() in kept_sets.names()
    if st.button(labels.ADD_TO_SET if known else labels.KEEP_SET, type="primary"):
        with st.spinner(labels.STUDYING):
            if _tried(lambda: _use(lessons.keep(lesson, name))):
                _history().clear()
                st.session_state["lessons kept"] = st.session_state.get("lessons kept", 0) + 1
        st.rerun()


def _use(tile_set: TileSet) -> None:
    """Read with this set from now on, and say so."""
    state.choose(replace(state.choices(), tile_set=tile_set.name))
    _tell(set_words.learnt(tile_set))


# The sets that are kept.


def _kept_sets() -> None:
    with st.container(key=_KEPT):
        st.header(labels.KEPT_SETS, anchor=False)
    if kept_sets.names():
        set_views.choose_set(f"{PAGE} set")
    else:
        st.write(set_words.NO_SETS)
    for name in kept_sets.names():
        try:
            tile_set = kept_sets.peek(name)
        except SetError as error:
            st.error(str(error))
            with st.expander(name):
                _delete(name)
            continue
        with st.expander(set_words.set_line(tile_set)):
            _tend(name, tile_set)
    chosen = st.file_uploader(labels.SET_FILE, [SUFFIX], max_upload_size=MOST_MEGABYTES, key=f"{PAGE} import")
    if chosen is not None and st.session_state.get("set file id") != chosen.file_id:
        st.session_state["set file id"] = chosen.file_id
        _tried(lambda: _use(kept_sets.take_in(chosen.getvalue(), chosen.name)))
        st.rerun()


def _tend(name: str, tile_set: TileSet) -> None:
    """Rename, copy, undo, delete."""
    new = st.text_input(labels.NEW_NAME, name, key=f"{PAGE} name {name}")
    with st.container(horizontal=True):
        st.button(labels.RENAME, key=f"{PAGE} rename {name}", on_click=partial(_rename, name, new), disabled=new.strip() == name)
        st.download_button(labels.EXPORT, lambda: packed(tile_set), f"{name}{SUFFIX}", key=f"{PAGE} export {name}", on_click="ignore")
        if len(tile_set.additions) > 1:
            st.button(labels.UNDO_ADDITION, key=f"{PAGE} undo {name}", on_click=partial(_undo_addition, name))
        _delete(name)


def _rename(name: str, new: str) -> None:
    def step() -> None:
        plain = kept_sets.plain(new)
        kept_sets.rename(name, plain)
        if state.choices().tile_set == name:
            state.choose(replace(state.choices(), tile_set=plain))
        _tell(set_words.renamed(name, plain))

    _tried(step)


def _undo_addition(name: str) -> None:
    def step() -> None:
        left = kept_sets.change(name, TileSet.without_last)
        _tell(f"{set_words.UNDONE} {set_words.learnt(left)}")

    _tried(step)


def _delete(name: str) -> None:
    """Ask back before a set is gone."""
    asked = f"{PAGE} asked {name}"
    if not st.session_state.get(asked):
        st.button(labels.DELETE, key=f"{PAGE} delete {name}", on_click=partial(_ask, name, True))
        return
    st.warning(set_words.delete_question(name))
    st.button(labels.DELETE_YES, key=f"{PAGE} yes {name}", on_click=partial(_deleted, name))
    st.button(labels.DELETE_NO, key=f"{PAGE} no {name}", on_click=partial(_ask, name, False))


def _ask(name: str, ask: bool) -> None:
    """Ask back, or leave off asking; the keyboard is on the answer that loses nothing."""
    st.session_state[f"{PAGE} asked {name}"] = ask
    state.go_to(f"{PAGE} no {name}" if ask else f"{PAGE} delete {name}")


def _deleted(name: str) -> None:
    def step() -> None:
        kept_sets.delete(name)
        _tell(set_words.deleted(name))
        state.go_to(_KEPT)

    st.session_state[f"{PAGE} asked {name}"] = False
    _tried(step)


# What is told after the page has been drawn again.


def _tell(message: str, *, good: bool = True) -> None:
    st.session_state["set message"] = good, message


def _tried(step: Callable[[], object]) -> bool:
    """Do a step; tell what went wrong, if anything did, and whether all went well."""
    try:
        step()
    except (SetError, PhotoError) as error:
        _tell(str(error), good=False)
    except OSError as error:
        _tell(set_words.not_kept(str(error.strerror)), good=False)
    else:
        return True
    return False


page()
