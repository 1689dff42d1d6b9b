"""The parts of the page that Streamlit has no widget for: the answer, which speaks, and the tiles."""

from __future__ import annotations

from functools import cache
from importlib import resources
from typing import Any

import streamlit as st


@cache
def _part(name: str) -> str:
    return (resources.files("tilewitness.ui") / "parts" / name).read_text(encoding="utf-8")


def _register(name: str) -> Any:
    """One component from its three files; the shared look and the shared speaker go in front."""
    return st.components.v2.component(
        f"tilewitness_{name}",
        html=_part(f"{name}.html"),
        css=_part("look.css") + _part(f"{name}.css"),
        js=_part("speaker.js") + _part(f"{name}.js"),
    )


answer_part = _register("answer")
tiles_part = _register("tiles")
