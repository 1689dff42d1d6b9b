"""A teacher and a table full of layouts: each row on its own, right or wrong with the reason."""

from __future__ import annotations

from dataclasses import replace

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from tilewitness.ui import labels, photo_words, sheets, state, table_words, views, words
from tilewitness.ui.judging import Judged
from tilewitness.ui.sight import Sight, marked_address, marked_png
from tilewitness.ui.tables import RESULT_HEADS, RowResult, judge_by, results_csv

PAGE = "table"


def page() -> None:
    """Draw the page."""
    st.title(labels.TABLE_PAGE, anchor=False)
    views.photo_page(PAGE, labels.PHOTO_TABLE, labels.TABLE_INTRO, show, sample="table")


def show(sight: Sight, answer: DeltaGenerator) -> None:
    """Everything about one table."""
    found = state.judged(sight)
    results = [_result(judged, meant, sight) for judged, meant in zip(found, _meant(found), strict=True)]
    said = table_words.table_verdict([result.judged.verdict for result in results], [result.cells for result in results])
    with answer:
        in_short = replace(said, lead=())  # the list below tells each row
        views.show_answer(PAGE, sight, in_short, spoken=said.sentences)
        _show_results(results)
        _keep(results, said, sight)
    layouts, tiles = st.container(), st.container()
    with layouts:
        _show_layouts(results, sight)
    with tiles:
        views.show_tiles(PAGE, sight)
        views.show_advice(sight)


def _meant(found: tuple[Judged, ...]) -> list[int | None]:
    """For each row the number of the hand it was meant to be, or None for the best match."""
    hands = state.card().card.hands
    names = [labels.BEST_MATCH, *(f"{hand.section}: {hand.name}" for hand in hands)]
    photo = state.photos()
    with st.expander(labels.MEANT):
        first = st.selectbox(labels.IN_CARD_ORDER, names, key=f"{PAGE} first {photo}")
        start = names.index(first) - 1
        chosen = []
        for number, judged in enumerate(found):
            guess = start + number + 1 if start >= 0 and start + number < len(hands) else 0
            label = photo_words.rows_name(judged.rows)
            chosen.append(st.selectbox(label, names, index=guess, key=f"{PAGE} meant {photo} {number} {first}"))
    return [names.index(name) - 1 if name != labels.BEST_MATCH else None for name in chosen]


def _result(judged: Judged, meant: int | None, sight: Sight) -> RowResult:
    card = state.card().card
    if meant is None:
        return RowResult(judged, None)
    hand = card.hands[meant]
    return RowResult(judge_by(judged, hand, sight, card), hand)


def _show_results(results: list[RowResult]) -> None:
    st.header(labels.RESULTS, anchor=False)
    columns = zip(*(result.cells for result in results), strict=True)
    st.table(dict(zip(RESULT_HEADS, map(list, columns), strict=True)), hide_index=True, alt=labels.RESULTS)


def _keep(results: list[RowResult], said: words.Verdict, sight: Sight) -> None:
    with st.container(horizontal=True):
        st.download_button(labels.RESULT_LIST, results_csv(results), f"{sight.name}-rows.csv", "text/csv", on_click="ignore")
        st.download_button(labels.MARKED_PHOTO, lambda: marked_png(sight), f"{sight.name}-marked.png", "image/png", on_click="ignore")
        if st.button(labels.PRINT):
            photo = f'<img class="photo" alt="{labels.MARKED_PHOTO}" src="{marked_address(sight)}">'
            table = sheets.table_html(RESULT_HEADS, [result.cells for result in results])
            lines = sheets.paragraphs([state.card().card.name, words.SECOND_OPINION])
            views.print_page(PAGE, said.title, photo + table + lines)


def _show_layouts(results: list[RowResult], sight: Sight) -> None:
    st.header(labels.LAYOUTS, anchor=False)
    st.html(sheets.STYLE)
    for result in results:
        judged = result.judged
        row, hand, answer, *_ = result.cells
        with st.expander(f"{row}: {hand}, {answer}"):
            if judged.best:
                st.html(sheets.hand_html(judged, judged.best, sight))
            for line in judged.verdict.sentences:
                st.write(line)


page()
