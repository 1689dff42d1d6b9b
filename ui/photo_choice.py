"""Choosing a photo: a file, the camera, or one that ships with the program."""

from __future__ import annotations

from importlib import resources
from typing import Final, Literal

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from tilewitness.ui import labels, set_views, state
from tilewitness.ui.sight import Sight, see
from tilewitness.vision.photo import PhotoError
from tilewitness.vision.sets import SetError

PHOTO_TYPES: Final = ["jpg", "jpeg", "png", "webp", "heic", "heif"]


def choose_photo(page: str, label: str, intro: str, *, progress: DeltaGenerator, sample: str = "") -> Sight | None:
    """Let a person choose or take a photo; a new one is read at once. Return what there is to show.

    Args:
        page: whose photo it is.
        intro: what is said before there is a photo.
        progress: where to tell that a photo is being read, or why it was none.
        sample: the photo of ours to offer with its picture before there is a photo.
    """
    with progress:
        _read_what_came(page)
    if state.sight(page) is None:
        st.write(intro)
    else:
        st.header(labels.ANOTHER_PHOTO, anchor=False)
        sample = ""
    st.file_uploader(label, type=PHOTO_TYPES, key=f"{page} file")
    if st.checkbox(labels.USE_CAMERA, key=f"{page} use camera"):
        st.camera_input(labels.CAMERA, key=f"{page} camera")
    seen = state.sight(page)
    if set_views.choose_set(f"{page} set") and seen is not None:
        with progress:
            read_into(page, seen.name, seen.photo)
    _offer_samples(page, sample)
    error = st.session_state.get(f"{page} error")
    if error:
        progress.error(error)
        return None
    return state.sight(page)


def _read_what_came(page: str) -> None:
    """Read the photo that was chosen or taken since the page was last drawn, if any was."""
    for way in ("file", "camera"):
        came = st.session_state.get(f"{page} {way}")
        if came is not None and st.session_state.get(f"{page} {way} id") != came.file_id:
            st.session_state[f"{page} {way} id"] = came.file_id
            read_into(page, came.name, came.getvalue())
    sample = st.session_state.pop(f"{page} sample wanted", "")
    if sample:
        read_into(page, f"{sample}.jpg", sample_photo(sample))


def _offer_samples(page: str, first: str) -> None:
    """Offer the photos of ours; the first one with its picture."""

    def offer(name: str, title: str, kind: Literal["primary", "secondary"] = "secondary") -> None:
        wanted = {f"{page} sample wanted": name}
        st.button(title, key=f"{page} sample {name}", type=kind, on_click=st.session_state.update, args=(wanted,))

    if first:
        st.header(labels.NO_PHOTO, anchor=False)
        offer(first, labels.TRY_SAMPLE, "primary")
        st.image(sample_photo(first), alt=f"{labels.SAMPLE}: {labels.SAMPLES[first]}", width=420)
    with st.expander(labels.OTHER_SAMPLES), st.container(horizontal=True):
        for name, title in labels.SAMPLES.items():
            if name != first:
                offer(name, title)


def sample_photo(name: str) -> bytes:
    """One of the photos that ship with the program, as its file."""
    return (resources.files("tilewitness.samples") / f"{name}.jpg").read_bytes()


def read_into(page: str, name: str, data: bytes) -> None:
    """Read a photo and make it the page's own; a file that is no photo gets a sentence."""
    st.session_state.pop(f"{page} error", None)
    try:
        with st.spinner(labels.READING):
            state.new_sight(page, see(name, data, state.tile_set()))
    except PhotoError as error:
        st.session_state[f"{page} error"] = str(error).replace("the photo:", f"{name}:", 1)
    except SetError as error:
        st.session_state[f"{page} error"] = f"{error} {labels.OTHER_SET_HELP}"
