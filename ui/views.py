"""What the pages have in common: choosing a photo, the answer, the tiles, the laid-out hand, keeping a copy."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import Any

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from tilewitness.engine.faces import FACES, Face, Kind, Suit
from tilewitness.ui import labels, photo_words, set_views, sheets, state, words
from tilewitness.ui.card_guide import GUIDE
from tilewitness.ui.components import answer_part, printer_part, tiles_part
from tilewitness.ui.judging import Judged
from tilewitness.ui.photo_choice import choose_photo
from tilewitness.ui.sight import Sight, with_added_tile, with_face, without_tile
from tilewitness.vision.reading import Tile

SIGNS = {words.Tone.YES: "\u2713", words.Tone.NO: "\u2013", words.Tone.LOOK: "?"}


def photo_page(
    page: str,
    label: str,
    intro: str,
    show: Callable[[Sight, DeltaGenerator], None],
    *,
    sample: str,
    speaks: bool = False,
) -> None:
    """Draw a page about one photo below its title: the answer's place, what `show` draws, the choice of a photo."""
    progress, answer, rest = (st.container() for _ in range(3))
    sight = choose_photo(page, label, intro, progress=progress, sample=sample)
    if sight is None:
        return
    if not sight.reading.tiles:
        with answer:
            nothing_found(page, sight, speaks=speaks)
        return
    with progress, st.spinner(labels.JUDGING):
        state.judged(sight)  # kept for what follows; a table of layouts takes seconds the first time
    with rest:
        show(sight, answer)


# The answer.


def show_answer(
    page: str, sight: Sight, said: words.Verdict, *, spoken: Sequence[str], speaks: bool = False, steered: bool = False
) -> None:
    """The answer, large, with its speech. `spoken` is everything; after a correction only the news is said."""
    news = st.session_state.get(f"{page} news")
    full = [*spoken, words.SECOND_OPINION]
    new = [news, *said.sentences] if news and state.corrections(page) else full
    ident, photo = f"{page} {state.photos()} {sight.digest} {said.title}", f"{state.photos()} {sight.name}"
    say(
        page, said, words.SECOND_OPINION, full,
        ident=ident, photo=photo, news=new if speaks else (), steered=steered, another=labels.ANOTHER_PHOTO,
    )  # fmt: skip


def say(
    page: str,
    said: words.Verdict,
    note: str,
    full: Sequence[str],
    *,
    ident: str,
    photo: str = "",
    news: Sequence[str] = (),
    steered: bool = False,
    another: str = "",
) -> None:
    """Show something said, large, with buttons that speak it.

    Args:
        full: everything, for the button. news: what is spoken by itself, if anything is.
        ident: changes when there is something new to say. photo: changes with the photo.
        steered: offer slower, faster and stop before anything was said.
        another: what the button that asks for another photo is called; empty for no such button.
    """
    speech = {"rate": state.choices().rate, "byItself": bool(news), "full": list(full), "news": list(news)}
    answer_part(
        key=f"{page} answer",
        data={
            "id": ident,
            "photo": photo,
            "tone": said.tone.value,
            "sign": SIGNS[said.tone],
            "title": said.title,
            "lead": list(said.lead),
            "details": list(said.details),
            "note": note,
            "another": another,
            "speech": {**speech, "steered": steered, "words": labels.SPEECH},
        },
        on_rate_change=partial(_keep_rate, page),
    )


def _keep_rate(page: str) -> None:
    rate = st.session_state[f"{page} answer"].get("rate")
    if isinstance(rate, int | float):
        state.choose(replace(state.choices(), rate=float(rate)))


def nothing_found(page: str, sight: Sight, *, speaks: bool = False) -> None:
    """A photo of nothing gets help."""
    title = photo_words.NO_TILES.removesuffix(".")
    said = words.Verdict(words.Tone.LOOK, title, tuple(photo_words.advice_sentences(sight.reading)))
    show_answer(page, sight, said, spoken=said.sentences, speaks=speaks)


# The tiles.


def show_tiles(page: str, sight: Sight, *, speaks: bool = False) -> None:
    """Every tile as read; a click or Enter corrects it."""
    many = sight.many_rows
    rows = [
        {
            "name": f"Row {number}" if many else labels.TILES["heading"],
            "tiles": [_tile(sight, index, many_rows=many) for index in _indices(sight, number - 1)],
        }
        for number in range(1, len(sight.reading.rows) + 1)
    ]
    tiles_part(
        key=f"{page} tiles",
        data={"rows": rows, "faces": families(), "speaks": speaks, "words": labels.TILES},
        on_corrected_change=partial(_correct, page),
    )
    if state.corrections(page):
        st.button(labels.UNDO, key=f"{page} undo", on_click=partial(state.undo, page))
    set_views.offer_teaching(page, sight)


def _indices(sight: Sight, row: int) -> list[int]:
    return [index for index, tile in enumerate(sight.reading.tiles) if tile.row == row]


def _tile(sight: Sight, index: int, *, many_rows: bool) -> dict[str, Any]:
    tile = sight.reading.tiles[index]
    corrected = index in sight.corrected
    status = "corrected" if corrected else "read" if tile.is_sure else "unsure"
    return {
        "key": index,
        "row": tile.row,
        "place": tile.place + 1,
        "name": tile.face.name,
        "image": sight.cutouts[index],
        "state": status,
        "remark": {"corrected": labels.CORRECTED, "unsure": labels.UNSURE, "read": ""}[status],
        "spoken": photo_words.tile_sentence(tile, many_rows=many_rows),
        "question": photo_words.question(tile, many_rows=many_rows, corrected=corrected),
        "likely": [{"name": face.name, "short": face.name} for face in _likely_faces(tile)],
    }


def _likely_faces(tile: Tile) -> list[Face]:
    return [face for face, _ in tile.probabilities[:4]]


def families() -> list[dict[str, Any]]:
    """All 36 faces as the correction offers them: a suit a line, numbers alone, for the line says the suit."""
    suits = [
        {
            "name": suit.value,
            "faces": [{"name": face.name, "short": str(face.number)} for face in FACES if face.number and face.suit is suit],
        }
        for suit in Suit
    ]
    others = [
        {"name": name, "faces": [{"name": face.name, "short": face.name} for face in FACES if face.kind in kinds]}
        for name, kinds in (
            ("winds", {Kind.WIND}),
            ("dragons", {Kind.DRAGON}),
            ("others", {Kind.FLOWER, Kind.JOKER}),
        )
    ]
    return [*suits, *others]


def _correct(page: str) -> None:
    change = st.session_state[f"{page} tiles"].get("corrected")
    before = state.sight(page)
    if not change or before is None:
        return
    face = Face.named(change["face"]) if change["face"] else None
    tile, row = change["tile"], change["row"]
    st.session_state[f"{page} news"] = photo_words.news(before.reading, tile, face)
    if tile is None and face:
        state.correct(page, lambda sight: with_added_tile(sight, face, row=row))
    elif face:
        state.correct(page, lambda sight: with_face(sight, tile, face))
    elif tile is not None:
        state.correct(page, lambda sight: without_tile(sight, tile))


# The hand laid out, the alternatives, copies to keep.


def show_hand(judged: Judged, sight: Sight) -> None:
    """The best hand in card order with the person's own tiles, then others that are near."""
    if judged.best is None:
        return
    st.header(labels.LAID_OUT, anchor=False)
    st.html(sheets.STYLE + f"<p>{words.hand_name(judged.best.hand)}</p>" + sheets.hand_html(judged, judged.best, sight))
    opinion = judged.opinion
    others = [near for near in [*opinion.near_misses, *opinion.nearest] if near.hand != judged.best.hand]
    if others:
        st.header(labels.NEAREST, anchor=False)
    shown = set()
    for near in others:
        if near.hand in shown:
            continue
        shown.add(near.hand)
        with st.expander(words.near_title(near)):
            st.html(sheets.hand_html(judged, near, sight))
            for lines in words.near_sentences(near, opinion, judged.places):
                for line in lines:
                    st.write(line)


def print_page(page: str, title: str, html: str) -> None:
    """Send a page of our own to the printer."""
    st.session_state["prints"] = st.session_state.get("prints", 0) + 1
    printer_part(
        key=f"{page} printer", data={"id": st.session_state["prints"], "title": title, "html": sheets.page_html(title, html)}
    )


def show_advice(sight: Sight) -> None:
    """How to take a better photo, if there is anything to say."""
    sentences = photo_words.advice_sentences(sight.reading)
    if sentences:
        st.header(labels.ADVICE, anchor=False)
        for sentence in sentences:
            st.write(sentence)


def rack_sheet(judged: Judged, sight: Sight) -> str:
    """One rack on one printed page."""
    hand = sheets.hand_html(judged, judged.best, sight) if judged.best else ""
    lines = [*judged.verdict.sentences, *photo_words.rows_summary(sight.reading), words.SECOND_OPINION]
    return hand + sheets.paragraphs(lines)


def wording_guide() -> None:
    """How to word a hand, for whoever opens it."""
    with st.expander(labels.CARD_WORDING):
        st.markdown("\n".join(f"- **{wording}**  \n  {meaning}" for wording, meaning in GUIDE))
