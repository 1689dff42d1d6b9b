"""The parts of a page that Streamlit has no widget for: plain files in `parts/`, registered once."""

from __future__ import annotations

from functools import cache
from importlib import resources
from typing import Any

import streamlit as st


@cache
def _part(name: str) -> str:
    return (resources.files("tilewitness.ui") / "parts" / name).read_text(encoding="utf-8")


def _visible(name: str) -> Any:
    """A part with a face of its own; the shared look and the shared speaker go in front."""
    return st.components.v2.component(
        f"tilewitness_{name}",
        html=_part(f"{name}.html"),
        css=_part("look.css") + _part(f"{name}.css"),
        js=_part("speaker.js") + _part(f"{name}.js"),
    )


def _unseen(name: str) -> Any:
    """A part that only does something."""
    return st.components.v2.component(f"tilewitness_{name}", html="<span></span>", js=_part(f"{name}.js"))


answer_part = _visible("answer")
"""The answer, large and first, in a live region, with the buttons of speech."""

tiles_part = _visible("tiles")
"""The tiles as read, walked by arrow keys, corrected in a dialogue."""

arrival_part = _unseen("arrival")
"""Puts the keyboard on the heading of a page just chosen."""

printer_part = _unseen("printer")
"""Prints a page of our own."""
