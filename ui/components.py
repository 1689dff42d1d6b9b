"""The parts of a page that Streamlit has no widget for: plain files in `parts/`, registered once."""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import cache
from importlib import resources
from typing import Any

import streamlit as st

from tilewitness.engine.faces import FACES
from tilewitness.ui.drawing import tile_svg


@cache
def _part(name: str) -> str:
    return (resources.files("tilewitness.ui") / "parts" / name).read_text(encoding="utf-8")


def _visible(name: str, *, styles: Sequence[str] = (), scripts: Sequence[str] = (), constants: str = "") -> Any:
    """A part with a face of its own; the shared look, the shared speaker and what else it shares go in front."""
    return st.components.v2.component(
        f"tilewitness_{name}",
        html=_part(f"{name}.html"),
        css="".join(_part(f"{one}.css") for one in ("look", *styles, name)),
        js=constants + "".join(_part(f"{one}.js") for one in ("speaker", *scripts, name)),
    )


def _unseen(name: str) -> Any:
    """A part that only does something."""
    return st.components.v2.component(f"tilewitness_{name}", html="<span></span>", js=_part(f"{name}.js"))


def page_style() -> str:
    """The look around Streamlit's own, for the top of every page."""
    return f"<style>{_part('page.css')}</style>"


answer_part = _visible("answer")
"""The answer, large and first, in a live region, with the buttons of speech."""

tiles_part = _visible("tiles", scripts=["walking"])
"""The tiles as read, walked by arrow keys, corrected in a dialogue."""

builder_part = _visible(
    "builder",
    styles=["tiles"],
    scripts=["walking"],
    constants=f"const DRAWN = {json.dumps({face.name: tile_svg(face) for face in FACES})};\n",
)
"""A rack built of drawn tiles from a palette; every change is said."""

task_part = _visible("task")
"""What is to be done next, announced and spoken."""

arrival_part = _unseen("arrival")
"""Puts the keyboard on the heading of a page just chosen, or on what took the place of a button that is gone."""

printer_part = _unseen("printer")
"""Prints a page of our own."""

typing_part = _visible("typing")
"""A hand being typed, with what it comes to or which words are at fault."""
