"""A card on paper: a practice sheet and a wall chart, as tagged PDF in large print.

Typst sets the pages: it writes the structure that screen readers need (PDF/UA-1: headings, language, title, names of
pictures), keeps the drawn tiles as vector shapes and the text as text. The layout is `parts/paper.typ`.
"""

from __future__ import annotations

import contextlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from importlib import resources
from itertools import groupby
from typing import Any

from tilewitness.engine.card import Card
from tilewitness.engine.describe import Description
from tilewitness.engine.opinion import LaidGroup
from tilewitness.ui import labels, words
from tilewitness.ui.card_words import described, jokers_needed, terms, warning_sentence
from tilewitness.ui.drawing import row_svg
from tilewitness.ui.phrasing import capital, tiles_in_order
from tilewitness.ui.sheets import shown_faces


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
    """

    pdf: bytes
    complete: bool


def print_card(card: Card, sheet: Sheet, paper: Paper = Paper.A4) -> Printed:
    """Set a card on paper.

    Letters come from the font that ships with the program; only where it lacks some are this computer's own fonts
    asked, so that the same card gives the same pages everywhere.
    """
    import typst

    template = (resources.files("tilewitness.ui") / "parts" / "paper.typ").read_bytes()
    data = _data(card, sheet, paper)
    inputs = {"data": json.dumps(data)}
    with resources.as_file(resources.files("fontpkg_atkinson_hyperlegible") / "files") as folder:
        own, all_there_are = (
            typst.Fonts(include_system_fonts=theirs, font_paths=[str(folder)]) for theirs in (False, True)
        )
        for fonts in (own, all_there_are):
            with contextlib.suppress(typst.TypstError):  # PDF/UA refuses letters without a font
                pdf = typst.compile(template, font_paths=fonts, sys_inputs=inputs, pdf_standards="ua-1")
                return Printed(pdf, complete=True)
        data["words"]["intro"] += f" {labels.PAPER_LOST}"
        inputs = {"data": json.dumps(data)}
        return Printed(typst.compile(template, font_paths=all_there_are, sys_inputs=inputs), complete=False)


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
