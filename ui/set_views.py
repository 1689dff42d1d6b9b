"""The learnt sets where photos are read: which one to read with, and teaching it what a person corrected."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

import streamlit as st

from tilewitness.ui import kept_sets, labels, lessons, set_words, state
from tilewitness.ui.sight import Sight
from tilewitness.vision.sets import SetError, TileSet


def choose_set(key: str) -> bool:
    """Let a person choose the set to read with, if any was learnt; tell whether she chose another one."""
    names = kept_sets.names()
    if not names:
        return False
    options, now = ["", *names], state.set_name()
    picked = st.selectbox(labels.WHICH_SET, options, options.index(now), format_func=lambda name: name or labels.NO_SET, key=key)
    if picked == now:
        return False
    state.choose(replace(state.choices(), tile_set=picked))
    return True


@dataclass(frozen=True, slots=True)
class _Taught:
    """What was taught last: the photo's tiles and their names, the set, and what it then held."""

    tiles: frozenset[tuple[bytes, str]]
    tile_set: TileSet


def offer_teaching(page: str, sight: Sight) -> None:
    """Offer to teach corrected tiles to the chosen set, and to take that back."""
    name = state.set_name()
    done: list[_Taught] = st.session_state.setdefault(f"{page} taught", [])
    known = frozenset().union(*(one.tiles for one in done if one.tile_set.name == name))
    new = [index for index in lessons.can_teach(sight) if _marks(sight, index) not in known]
    if name and new:
        label = set_words.teaching(name, [sight.reading.tiles[index].face for index in new])
        st.button(label, key=f"{page} teach", on_click=partial(_teach, page, sight, new, name))
    message = st.session_state.pop(f"{page} taught message", None)
    if message:
        st.info(message)
    if done and done[-1].tile_set.name == name:
        st.button(labels.TAKE_BACK, key=f"{page} take back", on_click=partial(_take_back, page, name))


def _marks(sight: Sight, index: int) -> tuple[bytes, str]:
    """What a tile is known by, though others are added or left out before it."""
    tile = sight.reading.tiles[index]
    return sight.photo[-64:] + tile.quad.tobytes(), tile.face.name


def _teach(page: str, sight: Sight, tiles: list[int], name: str) -> None:
    try:
        tile_set = lessons.teach(sight, tiles, name)
    except SetError as error:
        message = str(error)
    except OSError as error:
        message = set_words.not_kept(str(error.strerror))
    else:
        message = set_words.taught(tile_set, [sight.reading.tiles[index].face for index in tiles])
        done = st.session_state[f"{page} taught"]
        done.append(_Taught(frozenset(_marks(sight, index) for index in tiles), tile_set))
    st.session_state[f"{page} taught message"] = message


def _take_back(page: str, name: str) -> None:
    """Undo the last teaching, unless the set was changed elsewhere since."""
    last = st.session_state[f"{page} taught"].pop()
    try:
        if kept_sets.peek(name).additions == last.tile_set.additions:
            kept_sets.change(name, TileSet.without_last)
            message = set_words.UNDONE
        else:
            message = set_words.CHANGED_SINCE
    except SetError as error:
        message = str(error)
    except OSError as error:
        message = set_words.not_kept(str(error.strerror))
    st.session_state[f"{page} taught message"] = message
