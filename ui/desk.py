"""What one window remembers of practice: the hand to build, the tiles put in place, the last check."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import streamlit as st

from tilewitness.engine.faces import Face
from tilewitness.engine.hands import Hand
from tilewitness.ui.practising import Checked

BUILDER: str = "practise builder"
"""Key of the part in which tiles are put in place."""


@dataclass(frozen=True, slots=True)
class Desk:
    """One exercise.

    Attributes:
        number: of the exercise in this window, from 1.
        hand: what is to be built.
        rack: the tiles put in place, as far as the page knows.
        version: counts the changes that the page, not the person's hand in the part, made to the tiles.
        news: what is to be said of the last of these changes.
        checks: how often something was checked, in all exercises.
        checked: the last check of this exercise.
        kept: what is said about writing it down.
        photo: fingerprint of the photo, with its corrections, that was checked; empty for drawn tiles.
    """

    number: int
    hand: Hand
    rack: tuple[Face, ...] = ()
    version: int = 0
    news: str = ""
    checks: int = 0
    checked: Checked | None = None
    kept: str = ""
    photo: str = ""


def desk() -> Desk | None:
    """The exercise of this window, with all that was put in place up to now."""
    now: Desk | None = st.session_state.get("practise desk")
    if now is None:
        return None
    told = st.session_state.get(BUILDER, {}).get("rack")
    if told and told["version"] == now.version:
        now = replace(now, rack=tuple(Face.named(name) for name in told["tiles"]))
        st.session_state["practise desk"] = now
    return now


def change(how: Callable[[Desk], Desk]) -> None:
    """Change the exercise."""
    now = desk()
    if now is not None:
        st.session_state["practise desk"] = how(now)


def begin(hand: Hand) -> Desk:
    """Begin with a hand and an empty rack."""
    before = desk()
    if before is None:
        fresh = Desk(1, hand)
    else:
        fresh = Desk(before.number + 1, hand, version=before.version + 1, checks=before.checks)
    st.session_state["practise desk"] = fresh
    return fresh


def put(faces: Sequence[Face], news: str) -> None:
    """Put tiles at the end and say so."""
    change(lambda now: replace(now, rack=(*now.rack, *faces), version=now.version + 1, news=news))


def say(news: str) -> None:
    """Say something about the tiles, which stay as they are."""
    change(lambda now: replace(now, version=now.version + 1, news=news))


def note(checked: Checked, kept: str, photo: str = "") -> None:
    """Remember a check."""
    change(lambda now: replace(now, checked=checked, kept=kept, checks=now.checks + 1, photo=photo))
