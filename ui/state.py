"""What one browser window remembers: its choices, its card, its photos with their corrections."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

import streamlit as st

from tilewitness.engine.batch import Patterns
from tilewitness.engine.card import Card, load_card
from tilewitness.ui import choices as kept
from tilewitness.ui import kept_sets
from tilewitness.ui.choices import Choices
from tilewitness.ui.judging import Judged, judge_reading
from tilewitness.ui.sight import Sight
from tilewitness.vision.sets import TileSet


@dataclass(frozen=True, slots=True)
class ReadyCard:
    """A card with everything that takes time to prepare."""

    card: Card
    patterns: Patterns


def choices() -> Choices:
    """This window's choices; another window's changes come with the next visit."""
    if "choices" not in st.session_state:
        st.session_state["choices"] = kept.load()
    chosen: Choices = st.session_state["choices"]
    return chosen


def choose(changed: Choices) -> None:
    """Change the choices and keep them for the next visit."""
    st.session_state["choices"] = changed
    kept.save(changed)


def go_to(key: str) -> None:
    """Bring the keyboard, once the page is drawn again, to the button, choice or heading that has this key.

    For what is pressed and then gone: without this the keyboard would be nowhere.
    """
    number = st.session_state.get("goal", {"number": 0})["number"] + 1
    st.session_state["goal"] = {"key": re.sub(r"[^a-zA-Z0-9_-]", "-", key), "number": number}  # as Streamlit names classes


def card() -> ReadyCard:
    """The chosen card, or the demo card when the chosen one is gone.

    Raises:
        CardError: the file was changed by hand and is no card any more.
    """
    path = kept.card_path(choices().card)
    if path is None:
        return _demo_card()
    return _ready(path, path.stat().st_mtime_ns)


@st.cache_resource(max_entries=8, show_spinner=False)
def _ready(path: Path, changed: int) -> ReadyCard:
    """`changed` tells one version of a file from the next."""
    loaded = load_card(path)
    return ReadyCard(loaded, Patterns.of(loaded))


def _demo_card() -> ReadyCard:
    with resources.as_file(resources.files("tilewitness.samples") / "card.toml") as path:
        return _ready(path, 0)


def set_name() -> str:
    """The name of the set to read with; empty where none is chosen, or the chosen one is gone."""
    name = choices().tile_set
    return name if name in kept_sets.names() else ""


def tile_set() -> TileSet | None:
    """The set to read with, if there is one.

    Raises:
        SetError: its file is damaged.
    """
    name = set_name()
    return kept_sets.load_set(name) if name else None


def judged(sight: Sight) -> tuple[Judged, ...]:
    """Every rack of a photo, judged by the chosen card; a page drawn again does not judge again."""
    ready = card()
    key = sight.digest, ready.card
    kept_now = st.session_state.get("judged")
    if not kept_now or kept_now[0] != key:
        kept_now = key, judge_reading(sight.reading, ready.card, patterns=ready.patterns)
        st.session_state["judged"] = kept_now
    racks: tuple[Judged, ...] = kept_now[1]
    return racks


def _history(page: str) -> list[Sight]:
    """The page's photo and its corrected versions. Whoever goes from looking to listening takes the photo along."""
    store = "rack" if page == "listen" else page
    history: list[Sight] = st.session_state.setdefault(f"{store} sights", [])
    return history


def sight(page: str) -> Sight | None:
    """The photo of a page, with its corrections."""
    history = _history(page)
    return history[-1] if history else None


def new_sight(page: str, seen: Sight) -> None:
    """Begin with another photo."""
    st.session_state["photos"] = photos() + 1
    _history(page)[:] = [seen]


def forget_sight(page: str) -> None:
    """Let the photo of a page go."""
    _history(page).clear()


def photos() -> int:
    """How many photos this window has read: the same photo chosen again is news again."""
    return int(st.session_state.get("photos", 0))


def correct(page: str, change: Callable[[Sight], Sight]) -> None:
    """Apply a correction, which can be undone."""
    history = _history(page)
    history.append(change(history[-1]))


def undo(page: str) -> None:
    """Take back the last correction."""
    if len(_history(page)) > 1:
        _history(page).pop()


def corrections(page: str) -> int:
    """How many corrections can be undone."""
    return max(0, len(_history(page)) - 1)
