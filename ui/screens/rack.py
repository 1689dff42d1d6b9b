"""One player, one rack: the answer first, then the hand laid out with her own tiles."""

from __future__ import annotations

from dataclasses import replace

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from tilewitness.ui import labels, photo_words, state, views
from tilewitness.ui.judging import Judged, as_one_rack, judge_found
from tilewitness.ui.sight import Sight, marked_png
from tilewitness.ui.tables import tiles_csv

PAGE = "rack"


def page() -> None:
    """Draw the page."""
    st.title(labels.RACK_PAGE, anchor=False)
    views.photo_page(PAGE, labels.PHOTO_RACK, labels.RACK_INTRO, show, sample="one-off")


def show(sight: Sight, answer: DeltaGenerator) -> None:
    """Everything about one rack."""
    # Parts that come and go have places of their own, so that the tiles stay where they are and keep the focus.
    choice, hand, tiles, copies = (st.container() for _ in range(4))
    with choice:
        judged = choose_rack(sight)
    with answer:
        spoken = [*photo_words.reading_lines(sight.reading), *judged.verdict.sentences]
        views.show_answer(PAGE, sight, judged.verdict, spoken=spoken)
    with hand:
        views.show_hand(judged, sight)
    with tiles:
        views.show_tiles(PAGE, sight)
        views.show_advice(sight)
    with copies:
        _keep(judged, sight)


def _keep(judged: Judged, sight: Sight) -> None:
    st.header(labels.KEEP, anchor=False)
    with st.container(horizontal=True):
        st.download_button(labels.MARKED_PHOTO, lambda: marked_png(sight), f"{sight.name}-marked.png", "image/png", on_click="ignore")
        st.download_button(labels.TILE_LIST, tiles_csv(sight), f"{sight.name}-tiles.csv", "text/csv", on_click="ignore")
        if st.button(labels.PRINT):
            views.print_page(PAGE, judged.verdict.title, views.rack_sheet(judged, sight))


def choose_rack(sight: Sight) -> Judged:
    """The one rack to judge: the photo's only one, or the one chosen."""
    found = state.judged(sight)
    if not sight.many_rows:
        return found[0]
    if len(found) > 1:
        names = [photo_words.rows_name(judged.rows) for judged in found]
        chosen = st.radio(labels.WHICH_RACK, [*names, labels.ALL_ONE_RACK], key=f"{PAGE} which {state.photos()}", horizontal=True)
        if chosen in names:
            return found[names.index(chosen)]
    guessed = {sight.reading.tiles[found[0].tiles[place]].row for group in found[0].rack.exposed for place in group}
    rows = range(len(sight.reading.rows))
    said = state.choices().open_rows
    expected = {row for row in rows if said[row] == "o"} if len(said) == len(rows) else guessed
    st.write(labels.OPEN_ROWS)
    key = f"{PAGE} open {state.photos()}"
    with st.container(horizontal=True):
        is_open = [st.checkbox(photo_words.rows_name((row,)), row in expected, key=f"{key} {row}") for row in rows]
    chosen_rows = {row for row in rows if is_open[row]}
    if chosen_rows != expected:
        state.choose(replace(state.choices(), open_rows="".join("o" if row in chosen_rows else "r" for row in rows)))
    if len(found) == 1 and chosen_rows == guessed:
        return found[0]
    card = state.card()
    return judge_found(as_one_rack(sight.reading, chosen_rows), sight.reading, card.card, patterns=card.patterns)


page()
