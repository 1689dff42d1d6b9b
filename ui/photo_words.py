"""What is said of a photo and the tiles read from it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from tilewitness.engine.faces import Face
from tilewitness.ui.phrasing import a, amount, capital, listed, percent, tiles_in_order
from tilewitness.vision.reading import Advice, Reading, Tile, Trouble

NO_TILES: Final = "No tiles found."
NO_TILES_HELP: Final = (
    "Lay the tiles face up on a plain surface. Take the photo from straight above, so close that the tiles "
    "fill it, and try again."
)


def place_name(tile: Tile, *, many_rows: bool) -> str:
    """Where a tile stands, counted from 1: "place 7", or "row 2 place 7" where there are several rows."""
    row = f"row {tile.row + 1} " if many_rows else ""
    return f"{row}place {tile.place + 1}"


def rows_name(rows: Sequence[int]) -> str:
    """The rows that a rack takes up: "Row 3", "Rows 1 and 2"."""
    return f"{'Row' if len(rows) == 1 else 'Rows'} {listed([str(row + 1) for row in rows])}"


def told_of_racks(told: Sequence[tuple[Sequence[int], Sequence[str]]]) -> list[list[str]]:
    """What is told of each rack of a photo, with its rows where there are several; rows that come to the same, at once.

    Args:
        told: for each rack the rows it takes up, counted from 0, and its sentences.
    """
    if len(told) == 1:
        return [list(told[0][1])]
    alike: dict[tuple[tuple[str, ...], tuple[int, ...]], list[int]] = {}
    for rows, sentences in told:
        together = tuple(rows) if len(rows) > 1 else ()  # among others, its rows would seem to be racks of their own
        alike.setdefault((tuple(sentences), together), []).extend(rows)
    return [[f"{rows_name(rows)}.", *sentences] for (sentences, _), rows in alike.items()]


def racks_title(racks: int) -> str:
    """The answer to a photo of several racks, before each is told."""
    return f"{capital(amount(racks, 'rack'))} in this photo"


def tile_sentence(tile: Tile, *, many_rows: bool) -> str:
    """One tile, said on its own: "Place 7, 8 bam." and what else it may be when that is open."""
    said = f"{capital(place_name(tile, many_rows=many_rows))}, {tile.face}."
    if tile.upside_down:
        said += " It stands on its head."
    return said if tile.is_sure else f"{said} {doubt(tile)}"


def question(tile: Tile, *, many_rows: bool, corrected: bool) -> str:
    """What a person is asked who wants to correct a tile."""
    where = capital(place_name(tile, many_rows=many_rows))
    if corrected:
        return f"{where} is {a(tile.face.name)}, as you said. What is it?"
    return f"{where} was read as {a(tile.face.name)}, {percent(tile.confidence)} sure. What is it?"


def news(before: Reading, tile: int | None, face: Face | None) -> str:
    """What a correction changed; no tile means that one was added, no face that one was left out."""
    if tile is None:
        return f"Added {a(face.name)}." if face else ""
    where = capital(place_name(before.tiles[tile], many_rows=len(before.rows) > 1))
    return f"{where} is now {a(face.name)}." if face else f"{where} is left out."


def doubt(tile: Tile) -> str:
    """How sure the reading is and what else the tile may be."""
    sure = f"The reading is {percent(tile.confidence)} sure."
    others = [face.name for face, probability in tile.probabilities[1:3] if probability >= 0.02]
    return f"{sure} It may be {listed([a(name) for name in others], 'or')}." if others else sure


def rows_summary(reading: Reading) -> list[str]:
    """Every row from left to right, a sentence a row."""
    many = len(reading.rows) > 1
    return [row_sentence(row, many_rows=many) for row in reading.rows]


def row_sentence(row: Sequence[Tile], *, many_rows: bool) -> str:
    """One row: how many tiles, and which."""
    number = f"Row {row[0].row + 1}, " if many_rows else ""
    return capital(f"{number}{amount(len(row))}: {tiles_in_order(tile.face for tile in row)}.")


def unsure_summary(reading: Reading) -> list[str]:
    """A sentence for each tile whose reading is open, by its place."""
    many = len(reading.rows) > 1
    return [
        f"Look at {place_name(tile, many_rows=many)}. It was read as {tile.face}. {doubt(tile)}"
        for tile in reading.tiles
        if not tile.is_sure
    ]


def reading_lines(reading: Reading) -> list[str]:
    """Everything about one photo: its rows, what is unsure, what would make a better photo."""
    if not reading.tiles:
        return [NO_TILES, *advice_sentences(reading)]
    return [*rows_summary(reading), *unsure_summary(reading), *advice_sentences(reading)]


_ADVICE: Final = {
    Trouble.NO_TILES: NO_TILES_HELP,
    Trouble.CUT_OFF_LEFT: "Tiles are cut off at the left. Show more of the table on that side.",
    Trouble.CUT_OFF_RIGHT: "Tiles are cut off at the right. Show more of the table on that side.",
    Trouble.CUT_OFF_TOP: "Tiles are cut off at the top. Show more of the table on that side.",
    Trouble.CUT_OFF_BOTTOM: "Tiles are cut off at the bottom. Show more of the table on that side.",
    Trouble.GLARE: "Light is mirrored in some tiles. Tilt the phone a little, or turn off the flash.",
    Trouble.TOO_BRIGHT: "The photo is too bright. Turn off the flash, or move out of the sun.",
    Trouble.TOO_DARK: "The photo is too dark. Turn on a light.",
    Trouble.BLURRED: "The photo is blurred. Hold the phone still, and tap the tiles so that it focuses on them.",
    Trouble.TOO_FAR: "The tiles are very small in the photo. Go closer, or photograph one row at a time.",
    Trouble.OTHER_SET: "These tiles look unlike the set you chose. Choose the set in the photo, or none.",
    Trouble.UNFAMILIAR: "The artwork on these tiles is unlike any that Tilewitness knows, so their names are guesses. "
    "Teach it this set, on the page My set or with the command set learn, and choose it for the photo.",
    Trouble.SIDEWAYS: "The photo lies on its side. Turn it by a quarter, or hold the phone the other way.",
    Trouble.SLANTED: "The tiles are seen too much from the side. Hold the phone above them.",
}


def advice_sentences(reading: Reading) -> list[str]:
    """How to take a better photo, worst trouble first; empty when nothing is wrong with it."""
    return [_ADVICE[advice.trouble] + _where(advice, reading) for advice in reading.advice]


def _where(advice: Advice, reading: Reading) -> str:
    """Which tiles are concerned, when it is only a few of them."""
    if not 0 < len(advice.places) <= 4:
        return ""
    many = len(reading.rows) > 1
    at = {(tile.row, tile.place): tile for tile in reading.tiles}
    places = [place_name(at[place], many_rows=many) for place in advice.places if place in at]
    return f" It concerns {listed(places)}." if places else ""
