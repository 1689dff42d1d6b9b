"""Text as alpha masks, from the openly licensed families under `artwork/glyphs`.

Each family is one `.npz` of ready-made masks, so that drawing needs no font library. `artwork/fonts.toml`
says where each came from and which are held out of training; `gather_glyphs.py` made the masks.
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Final, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

Script = Literal["chinese", "latin"]
Mask = NDArray[np.uint8]

ARTWORK: Final = files("tilewitness.training") / "artwork"
LEVELS: Final = 5  # alpha in 6 steps: invisible at tile size, a third of the bytes
EM: Final = 104  # rows of a Chinese mask
CAPITAL: Final = 66  # rows of a Latin capital letter
LINE: Final = 1.9  # rows of a Latin mask over those of a capital letter


@cache
def families(script: Script, *, held_out: bool = False, text: str = "") -> tuple[str, ...]:
    """Return the names of the families of one script and one split that have every character of `text`."""
    fonts = tomllib.loads((ARTWORK / "fonts.toml").read_text(encoding="utf-8"))
    kept_back = set(fonts["held_out"][script])
    split = [name for name in fonts[script] if (name in kept_back) == held_out]
    return tuple(name for name in split if set(text) - {" "} <= _glyphs(name).keys())


def has_text(text: str, family: str) -> bool:
    """Whether a family can draw every character of a text."""
    return set(text) - {" "} <= _glyphs(family).keys()


def draw_text(text: str, family: str, height: float, *, spacing: float = 0.0) -> Mask:
    """Return a text as an alpha mask trimmed to its ink.

    Args:
        text: characters that the family has (`has_text`), set from left to right; spaces are allowed.
        family: a name from `families`.
        height: pixels of the em square (Chinese) or of a capital letter (Latin). The mask itself is as high
            as its ink: 一 stays flat, a "g" hangs below its line.
        spacing: extra pixels between characters.
    Returns:
        uint8 (h, w), 255 where the ink is full.
    Raises:
        KeyError: the family lacks a character.
    """
    glyphs = _glyphs(family)
    known = [glyphs[c] for c in text if c != " "]
    scale = height / _line(known[0])
    pieces, space = [], round(0.35 * height)
    for character in text:
        if character == " ":
            pieces.append(np.zeros((1, space), np.uint8))
        else:
            pieces.append(_resized(glyphs[character], scale))
        pieces.append(np.zeros((1, max(round(spacing), 0)), np.uint8))
    tall = max(piece.shape[0] for piece in pieces)
    return trimmed(np.hstack([np.pad(p, ((0, tall - p.shape[0]), (0, 0))) for p in pieces[:-1]]))


def trimmed(mask: Mask) -> Mask:
    """Cut a mask to the box of its ink; a mask without ink becomes one empty pixel."""
    x, y, width, height = cv2.boundingRect(mask)
    return mask[y : y + height, x : x + width] if width else np.zeros((1, 1), np.uint8)


def _line(glyph: Mask) -> float:
    """The height that `draw_text` scales by: the em of a square mask, the capitals' height of a line."""
    return float(rows if (rows := glyph.shape[0]) == EM else rows / LINE)


def _resized(mask: Mask, scale: float) -> Mask:
    size = max(round(mask.shape[1] * scale), 1), max(round(mask.shape[0] * scale), 1)
    method = cv2.INTER_AREA if scale < 1 else cv2.INTER_CUBIC
    return cv2.resize(mask, size, interpolation=method).astype(np.uint8, copy=False)


@cache
def _glyphs(family: str) -> dict[str, Mask]:
    """All masks of one family, by character; loaded once in each process."""
    for script in ("chinese", "latin"):
        file = ARTWORK / "glyphs" / script / f"{family}.npz"
        if file.is_file():
            with file.open("rb") as stream, np.load(stream) as masks:
                return {chr(int(key[1:], 16)): masks[key] * np.uint8(255 // LEVELS) for key in masks.files}
    raise KeyError(f'No family "{family}" under artwork/glyphs.')
