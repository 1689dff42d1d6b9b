"""Tilewitness: a second opinion on a photographed American mah-jongg rack.

Three steps, each usable alone, each giving a read-only result:

    reading = tilewitness.read_photo("rack.jpg")                          # a photo to tiles
    card = tilewitness.load_card("card.toml")                             # a card file to hands
    opinion = tilewitness.judge([t.face for t in reading.tiles], card)    # tiles and hands to an opinion

Names load on first use, so that `import tilewitness` takes milliseconds and opens no network. What can go wrong:

    ValueError
     ├─ FaceError     a text names no tile
     ├─ RackError     a text is no rack
     ├─ CardError     a file is no card
     ├─ ExerciseError a hand cannot be practised
     ├─ SetError      a learnt set is missing, damaged, or cannot be changed as asked
     └─ PhotoError    a file is no photo that can be read
    RuntimeError
     └─ ModelError    the package lacks a network, or holds one of another version
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tilewitness.engine.card import Card, CardError, load_card, parse_card
    from tilewitness.engine.claims import Claim, claims_for
    from tilewitness.engine.corrections import Correction
    from tilewitness.engine.describe import Description, describe
    from tilewitness.engine.exercise import Exercise, ExerciseError, check
    from tilewitness.engine.faces import FACES, Face, FaceError, Kind, Suit
    from tilewitness.engine.hands import Hand
    from tilewitness.engine.judge import judge
    from tilewitness.engine.opinion import (
        Exchange,
        Fault,
        Get,
        LaidGroup,
        Near,
        Opinion,
        Reason,
        Slot,
        Source,
        Standing,
        Wait,
        Win,
    )
    from tilewitness.engine.rack import Rack, RackError
    from tilewitness.engine.racks import FoundRack, racks_in
    from tilewitness.engine.unsure import Certainty, Look, Outcome, UnsureOpinion, judge_unsure
    from tilewitness.engine.ways import Change, Way
    from tilewitness.engine.worth import Payment
    from tilewitness.models import ModelError
    from tilewitness.ui.kept_sets import load_set, save_set
    from tilewitness.vision.lesson import Lesson, layout, study
    from tilewitness.vision.mark import mark_tiles
    from tilewitness.vision.photo import PhotoError
    from tilewitness.vision.read import read_photo
    from tilewitness.vision.reading import Advice, Reading, Tile, Trouble
    from tilewitness.vision.sets import SetError, TileSet

_HOME = {
    "Advice": "vision.reading",
    "Card": "engine.card",
    "CardError": "engine.card",
    "Certainty": "engine.unsure",
    "Change": "engine.ways",
    "Claim": "engine.claims",
    "Correction": "engine.corrections",
    "Description": "engine.describe",
    "Exchange": "engine.opinion",
    "Exercise": "engine.exercise",
    "ExerciseError": "engine.exercise",
    "FACES": "engine.faces",
    "Face": "engine.faces",
    "FaceError": "engine.faces",
    "Fault": "engine.opinion",
    "FoundRack": "engine.racks",
    "Get": "engine.opinion",
    "Hand": "engine.hands",
    "Kind": "engine.faces",
    "LaidGroup": "engine.opinion",
    "Lesson": "vision.lesson",
    "Look": "engine.unsure",
    "ModelError": "models",
    "Near": "engine.opinion",
    "Opinion": "engine.opinion",
    "Outcome": "engine.unsure",
    "Payment": "engine.worth",
    "PhotoError": "vision.photo",
    "Rack": "engine.rack",
    "RackError": "engine.rack",
    "Reading": "vision.reading",
    "Reason": "engine.opinion",
    "SetError": "vision.sets",
    "Slot": "engine.opinion",
    "Source": "engine.opinion",
    "Standing": "engine.opinion",
    "Suit": "engine.faces",
    "Tile": "vision.reading",
    "TileSet": "vision.sets",
    "Trouble": "vision.reading",
    "UnsureOpinion": "engine.unsure",
    "Wait": "engine.opinion",
    "Way": "engine.ways",
    "Win": "engine.opinion",
    "check": "engine.exercise",
    "claims_for": "engine.claims",
    "describe": "engine.describe",
    "judge": "engine.judge",
    "judge_unsure": "engine.unsure",
    "layout": "vision.lesson",
    "load_card": "engine.card",
    "load_set": "ui.kept_sets",
    "mark_tiles": "vision.mark",
    "parse_card": "engine.card",
    "racks_in": "engine.racks",
    "read_photo": "vision.read",
    "save_set": "ui.kept_sets",
    "study": "vision.lesson",
}

__all__ = [
    "FACES",
    "Advice",
    "Card",
    "CardError",
    "Certainty",
    "Change",
    "Claim",
    "Correction",
    "Description",
    "Exchange",
    "Exercise",
    "ExerciseError",
    "Face",
    "FaceError",
    "Fault",
    "FoundRack",
    "Get",
    "Hand",
    "Kind",
    "LaidGroup",
    "Lesson",
    "Look",
    "ModelError",
    "Near",
    "Opinion",
    "Outcome",
    "Payment",
    "PhotoError",
    "Rack",
    "RackError",
    "Reading",
    "Reason",
    "SetError",
    "Slot",
    "Source",
    "Standing",
    "Suit",
    "Tile",
    "TileSet",
    "Trouble",
    "UnsureOpinion",
    "Wait",
    "Way",
    "Win",
    "__version__",
    "check",
    "claims_for",
    "describe",
    "judge",
    "judge_unsure",
    "layout",
    "load_card",
    "load_set",
    "mark_tiles",
    "parse_card",
    "racks_in",
    "read_photo",
    "save_set",
    "study",
]


def __getattr__(name: str) -> object:
    from importlib import import_module, metadata

    if name == "__version__":
        return metadata.version("tilewitness")
    if name not in _HOME:
        raise AttributeError(f"module 'tilewitness' has no attribute {name!r}")
    return getattr(import_module(f"tilewitness.{_HOME[name]}"), name)


def __dir__() -> list[str]:
    return __all__
