"""Corner indices: the digits and letters by which a set tells its tiles to readers of Latin script."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np

from tilewitness.engine.faces import Face, Kind, Suit
from tilewitness.training.artboard import HEIGHT, WIDTH, Artboard, Point
from tilewitness.training.characters import Lettering, character_mask, sample_lettering
from tilewitness.training.glyphs import Mask
from tilewitness.training.inks import RGB, Inks
from tilewitness.training.layouts import INK_NAMES, InkName, ink_of

_PLACES: Final = ("top left", "top right", "bottom left", "bottom right", "top", "bottom", "both left", "both right")
_PLACE_WEIGHTS: Final = (0.36, 0.23, 0.06, 0.08, 0.09, 0.03, 0.09, 0.06)
_STICKERS: Final = ((255, 255, 255), (250, 246, 230), (255, 238, 140), (240, 240, 245), (200, 230, 255), (255, 210, 220))
_DRAGONS: Final = (
    ("R", "G", "W"), ("R", "G", "Wh"), ("C", "F", "B"), ("C", "F", "P"), ("C", "F", ""), ("R", "G", "B"),
    ("R", "G", "0"), ("RED", "GREEN", "WHITE"), ("Red", "Green", "White"), ("D", "D", "D"), ("R", "G", "S"), ("C", "F", "W"),
)  # fmt: skip
_SUIT_WORDS: Final = (("B", "C", "D"), ("BAM", "CRAK", "DOT"), ("Bam", "Crak", "Dot"), ("S", "W", "T"), ("B", "W", "C"))


@dataclass(frozen=True, slots=True)
class IndexStyle:
    """The corner indices of one set; `place` is empty where it has none."""

    place: str
    lettering: Lettering
    height: float
    margin: tuple[float, float]
    ink: InkName | None
    by_suit: bool
    dragons: tuple[str, str, str]
    winds: tuple[str, str, str, str]
    suits: tuple[str, str, str] | None
    flower: str
    joker: str
    ringed: bool
    sticker: RGB | None
    digits: bool
    honours: bool


def sample_index(rng: np.random.Generator, *, held_out: bool) -> IndexStyle:
    """Fix the corner indices of one set: often none, else digits and letters in one place or two."""
    words = rng.random() < 0.08
    kind = rng.random()
    return IndexStyle(
        place=str(rng.choice(_PLACES, p=_PLACE_WEIGHTS)) if rng.random() < 0.68 else "",
        lettering=sample_lettering(rng, "latin", "0123456789ESWN", held_out=held_out),
        height=float(rng.uniform(0.085, 0.19) if rng.random() < 0.92 else rng.uniform(0.19, 0.3)),
        margin=(float(rng.uniform(0.03, 0.12)), float(rng.uniform(0.03, 0.1))),
        ink=None if rng.random() < 0.15 else INK_NAMES[int(rng.choice(4, p=[0.22, 0.13, 0.25, 0.4]))],
        by_suit=rng.random() < 0.1,
        dragons=_DRAGONS[int(rng.integers(len(_DRAGONS)))],
        winds=("East", "South", "West", "North") if words else ("E", "S", "W", "N"),
        suits=_SUIT_WORDS[int(rng.integers(len(_SUIT_WORDS)))] if rng.random() < 0.08 else None,
        flower=str(rng.choice(["", "F", "number"], p=[0.72, 0.13, 0.15])),
        joker=str(rng.choice(["", "J", "Joker", "JOKER"], p=[0.76, 0.08, 0.08, 0.08])),
        ringed=rng.random() < 0.04,
        sticker=_STICKERS[int(rng.integers(len(_STICKERS)))] if rng.random() < 0.06 else None,
        digits=kind > 0.06,
        honours=kind < 0.8,
    )


def index_text(face: Face, style: IndexStyle, variant: int) -> str:
    """Return what the corner of a face says, or nothing."""
    if not style.place:
        return ""
    if face.number is not None:
        suits = (Suit.BAM, Suit.CRAK, Suit.DOT)
        word = style.suits[suits.index(face.suit)] if style.suits and face.suit else ""
        return f"{face.number} {word}".strip() if style.digits and len(word) > 1 else f"{face.number}{word}" * style.digits
    if face.kind is Kind.FLOWER:
        return str(variant % 4 + 1) if style.flower == "number" else style.flower
    if face.kind is Kind.JOKER:
        return style.joker
    if not style.honours:
        return ""
    if face.kind is Kind.WIND:
        return style.winds[face.index - 27]
    return style.dragons[face.index - 31]


def draw_index(board: Artboard, face: Face, style: IndexStyle, inks: Inks, own: InkName, variant: int) -> None:
    """Draw the corner index of a face; `own` is the ink used where the set's habit is the artwork's ink."""
    text = index_text(face, style, variant)
    if not text:
        return
    by_suit: dict[Suit | None, InkName] = {Suit.BAM: "green", Suit.CRAK: "red", Suit.DOT: "blue", None: "black"}
    ink = ink_of(inks, by_suit[face.suit] if style.by_suit else style.ink or own)
    height = style.height * HEIGHT * (1.0 if len(text) < 2 else 0.8 if len(text) == 2 else 0.62)
    mask = character_mask(text, style.lettering, WIDTH * 0.6, height)
    wide, tall = mask.shape[1] / 2, mask.shape[0] / 2
    x = style.margin[0] * WIDTH + wide / 2
    y = style.margin[1] * HEIGHT + tall / 2
    right = style.place.endswith("right")
    left = WIDTH / 2 if style.place in ("top", "bottom") else WIDTH - x if right else x
    upper = HEIGHT - y if style.place.startswith("bottom") else y
    _stick(board, mask, (left, upper), style, ink)
    if style.place.startswith("both"):
        _stick(board, np.asarray(cv2.flip(mask, -1), np.uint8), (WIDTH - left, HEIGHT - upper), style, ink)


def _stick(board: Artboard, mask: Mask, spot: Point, style: IndexStyle, ink: RGB) -> None:
    """Ink one index: bare, in a ring, or on a sticker as owners put on sets without any."""
    wide, tall = mask.shape[1] / 4, mask.shape[0] / 4
    if style.sticker and style.ringed:
        board.disc(spot, max(wide, tall) * 1.4, style.sticker)
    elif style.sticker:
        corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * (wide * 1.2 + 2, tall * 1.15 + 2) + spot
        board.polygon(corners, style.sticker)
    elif style.ringed and wide < 1.4 * tall:
        board.ring(spot, max(wide, tall) * 1.45, 1.5, ink)
    board.stamp(mask, spot, ink)
