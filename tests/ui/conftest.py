"""Photos and readings made up for the tests of words, commands and pages; no network is run."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from streamlit.testing.v1 import AppTest

from tilewitness.engine.card import Card, parse_card
from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.rack import Rack
from tilewitness.vision.reading import Advice, Reading, Tile

CARD = """
name = "Test card"

["Warming up"]
"Small steps" = "pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25"
"Own dragon" = "pair of flowers, kong of any number, kong of 1 above, kong of the matching dragon in one suit; worth 30"

["Behind the rack"]
"Quiet pairs" = "pairs of any number to 6 above in one suit; worth 50; concealed"
"""

WIN = "pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam, joker"
ONE_OFF = "pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam, east"
JOKER_IN_PAIR = "flower, joker, kong of 2 bam, kong of 4 bam, kong of 6 bam"

MakeReading = Callable[..., Reading]


def _tile(face: Face, row: int, place: int, *, unsure: Face | None, sure: float) -> Tile:
    left, top = 20 + 60 * place, 20 + 100 * row
    quad = np.array([(left, top), (left + 54, top), (left + 54, top + 72), (left, top + 72)], np.float32)
    other = unsure or FACES[(face.index + 1) % len(FACES)]
    first = 0.71 if unsure else sure
    return Tile(quad, ((face, first), (other, 0.99 * (1 - first))), False, row, place, 0)


def make_reading(
    *rows: str, unsure: dict[int, str] | None = None, sure: bool = False, advice: tuple[Advice, ...] = ()
) -> Reading:
    """A reading of rows of tiles; `unsure` maps a place of the first row to what else it may be.

    With `sure` the answer needs no second look; otherwise each tile is 0.998 sure.
    """
    tiles = []
    for row, text in enumerate(rows):
        for place, face in enumerate(Rack.parse(text).faces):
            doubt = (unsure or {}).get(place) if row == 0 else None
            tiles.append(_tile(
                face, row, place, unsure=Face.named(doubt) if doubt else None, sure=0.99999 if sure else 0.998
            ))
    width = 40 + 60 * max((tile.place + 1 for tile in tiles), default=1)
    return Reading((width, 40 + 100 * max(1, len(rows))), tuple(tiles), advice)


@pytest.fixture(name="make_reading")
def fixture_make_reading() -> MakeReading:
    return make_reading


@pytest.fixture
def card() -> Card:
    return parse_card(CARD)


@pytest.fixture
def card_file(tmp_path: Path) -> Path:
    path = tmp_path / "card.toml"
    path.write_text(CARD, encoding="utf-8")
    return path


def part(app: AppTest, name: str) -> dict[str, Any]:
    """What was handed to one of our own parts of the page."""
    for element in app.get("bidi_component"):
        if element.proto.component_name.endswith(f"tilewitness_{name}"):
            data: dict[str, Any] = json.loads(element.proto.json)
            return data
    raise AssertionError(f"no part {name} on this page")


@pytest.fixture(name="part")
def fixture_part() -> Callable[[AppTest, str], dict[str, Any]]:
    return part
