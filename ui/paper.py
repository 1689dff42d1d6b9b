"""A card on paper: a practice sheet and a wall chart, as tagged PDF in large print.

Typst sets the pages: it writes the structure that screen readers need (PDF/UA-1: headings, language, title, names of
pictures), keeps the drawn tiles as vector shapes and the text as text. The layout is `parts/paper.typ`.
"""

from __future__ import annotations

import contextlib
import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cache
from importlib import resources
from itertools import groupby
from typing import Any, Final

from tilewitness.engine.card import Card
from tilewitness.engine.describe import Description
from tilewitness.engine.opinion import LaidGroup
from tilewitness.ui import labels, words
from tilewitness.ui.card_words import described, jokers_needed, paper_lost, terms, warning_sentence
from tilewitness.ui.drawing import row_svg
from tilewitness.ui.phrasing import capital, tiles_in_order
from tilewitness.ui.sheets import shown_faces

LAST_LATIN: Final = "\u024f"
"""The last of the letters that the shipped font has, or nearly: those after it are asked for one by one."""


class Sheet(Enum):
    """What a card is printed as; the value is its name in a sentence."""

    PRACTICE = "practice sheet"
    CHART = "wall chart"


class Paper(Enum):
    """The paper in a household's printer; the value is what people call it."""

    A4 = "a4"
    LETTER = "letter"

    def size_for(self, sheet: Sheet) -> str:
        """The paper by Typst's name: a wall chart takes two sheets' worth."""
        single = {Paper.A4: "a4", Paper.LETTER: "us-letter"}
        double = {Paper.A4: "a3", Paper.LETTER: "us-tabloid"}
        return (double if sheet is Sheet.CHART else single)[self]


@dataclass(frozen=True, slots=True)
class Printed:
    """A PDF.

    Attributes:
        pdf: the file.
        complete: every letter has a font on this computer; otherwise some are empty boxes, and the file is tagged
            but does not call itself PDF/UA.
        lost: the letters without a font, as far as they are known.
    """

    pdf: bytes
    complete: bool
    lost: tuple[str, ...] = ()


def print_card(card: Card, sheet: Sheet, paper: Paper = Paper.A4) -> Printed:
    """Set a card on paper.

    Letters come from the font that ships with the program; only where it lacks some are this computer's own fonts
    asked, so that the same card gives the same pages everywhere.
    """
    import typst

    template = (resources.files("tilewitness.ui") / "parts" / "paper.typ").read_bytes()
    data = _data(card, sheet, paper)
    inputs = {"data": json.dumps(data)}
    for fonts in (_fonts(theirs=False), _fonts(theirs=True)):
        with contextlib.suppress(typst.TypstError):  # PDF/UA refuses letters without a font
            pdf = typst.compile(template, font_paths=fonts, sys_inputs=inputs, pdf_standards="ua-1")
            return Printed(pdf, complete=True)
    lost = _without_font(_texts(data))
    data["words"]["intro"] += f" {paper_lost(lost)}"
    inputs = {"data": json.dumps(data)}
    return Printed(typst.compile(template, font_paths=fonts, sys_inputs=inputs), complete=False, lost=lost)


def letters_without_font(card: Card) -> tuple[str, ...]:
    """Return the letters of a card that no font on this computer has, in the order in which they come."""
    return _without_font(_texts(_data(card, Sheet.CHART, Paper.A4)["sections"]) + card.name)


@cache
def _fonts(*, theirs: bool) -> Any:
    """The fonts to set with: the one that ships with the program, with or without those of this computer."""
    import typst

    with resources.as_file(resources.files("fontpkg_atkinson_hyperlegible") / "files") as folder:
        return typst.Fonts(include_system_fonts=theirs, font_paths=[str(folder)])


def _texts(data: Any) -> str:
    """All words in what is handed to the layout; pictures hold letters as outlines only."""
    if isinstance(data, str):
        return data
    if isinstance(data, dict):
        return "".join(_texts(value) for key, value in data.items() if key != "svg")
    return "".join(map(_texts, data)) if isinstance(data, list) else ""


def _without_font(text: str) -> tuple[str, ...]:
    """Set each unusual letter by itself, and gather from Typst's complaint those that it could not."""
    import typst

    unusual = list(dict.fromkeys(letter for letter in text if letter > LAST_LATIN))
    source = b"""#set document(title: "letters")
        #for letter in json(bytes(sys.inputs.letters)) [#letter #parbreak()]"""
    try:
        if unusual:
            inputs = {"letters": json.dumps(unusual)}
            typst.compile(source, font_paths=_fonts(theirs=True), sys_inputs=inputs, pdf_standards="ua-1")
    except typst.TypstError as error:
        named = re.findall(r'text `"(?:\\u\{(\w+)\}|(.))"`', error.diagnostic)
        codes = {int(code, 16) if code else ord(letter) for code, letter in named}
        return tuple(letter for letter in unusual if ord(letter) in codes)
    return ()


def _data(card: Card, sheet: Sheet, paper: Paper) -> dict[str, Any]:
    """What the layout needs: plain texts and pictures, nothing to be understood as code."""
    return {
        "title": f"{card.name}, {sheet.value}",
        "chart": sheet is Sheet.CHART,
        "paper": paper.size_for(sheet),
        "sections": [
            {"name": section, "hands": [_hand(one) for one in hands]}
            for section, hands in groupby(described(card), key=lambda one: one.hand.section)
        ],
        "frames": {"svg": row_svg([None] * 14, labels.PAPER_FRAMES), "alt": labels.PAPER_FRAMES, "tiles": 14},
        "words": {
            "intro": labels.PAPER_INTRO[sheet.value],
            "own": labels.PAPER_OWN_WAY,
            "built": labels.PAPER_BUILT,
            "note": words.SECOND_OPINION,
        },
    }


def _hand(one: Description) -> dict[str, Any]:
    note = [capital(f"{one.hand.note}.")] if one.hand.note else []
    return {
        "name": one.hand.name,
        "terms": f"{terms(one.hand)}.",
        "wording": f"{capital(one.hand.tiles_wording)}.",
        "groups": [_group(block) for block in words.blocks(one.example)],
        "remarks": [*note, *jokers_needed(one), *map(warning_sentence, one.warnings)],
    }


def _group(block: Sequence[LaidGroup]) -> dict[str, Any]:
    shown = shown_faces(block)
    name = words.block_name(block)
    return {"svg": row_svg(shown, name), "alt": capital(f"{tiles_in_order(shown)}."), "name": name, "tiles": len(shown)}
