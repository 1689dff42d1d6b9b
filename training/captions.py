"""Words, characters and numbers on picture tiles: straight, upright, arched or turned."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np

from tilewitness.training.engraving import HEIGHT, WIDTH, Canvas, Mask
from tilewitness.training.glyphs import Script, draw_text, families, trimmed

CORNERS: Final = ("top-left", "top-right", "bottom-left", "bottom-right")
EDGES: Final = ("top", "bottom", "left", "right")


@dataclass(frozen=True, slots=True)
class Lettering:
    """One family of letters; None when no family of the split has the text."""

    family: str

    def mask(self, text: str, height: float, *, spacing: float = 0.0) -> Mask:
        """The text in one line, `height` as in `draw_text`."""
        return draw_text(text, self.family, height, spacing=spacing)

    def column(self, text: str, height: float, gap: float) -> Mask:
        """The text from top to bottom, each character upright."""
        return stack([self.mask(character, height) for character in text if character != " "], gap)


def stack(pieces: list[Mask], gap: float) -> Mask:
    """Masks from top to bottom, each in the middle of the column, `gap` pixels between them."""
    wide = max(piece.shape[1] for piece in pieces)
    rows: list[Mask] = []
    for piece in pieces:
        left = (wide - piece.shape[1]) // 2
        rows.append(np.pad(piece, ((0, max(round(gap), 0)), (left, wide - piece.shape[1] - left))))
    return trimmed(np.vstack(rows))


def lettering(rng: np.random.Generator, script: Script, text: str, *, held_out: bool) -> Lettering | None:
    """Choose a family that has every character of a text."""
    known = families(script, held_out=held_out, text=text)
    return Lettering(known[rng.integers(len(known))]) if known else None


def fit(mask: Mask, width: float, height: float) -> Mask:
    """Scale a mask to fit within a width and height in pixels, keeping its proportions."""
    scale = min(width / mask.shape[1], height / mask.shape[0])
    return resize(mask, mask.shape[1] * scale, mask.shape[0] * scale)


def resize(mask: Mask, width: float, height: float) -> Mask:
    """Scale a mask to a width and height in pixels."""
    size = max(1, round(width)), max(1, round(height))
    method = cv2.INTER_AREA if size[0] < mask.shape[1] else cv2.INTER_CUBIC
    return np.asarray(cv2.resize(mask, size, interpolation=method), np.uint8)


def turn(mask: Mask, degrees: float) -> Mask:
    """Turn a mask counter-clockwise, growing it as needed."""
    if degrees % 90 == 0:
        return np.ascontiguousarray(np.rot90(mask, round(degrees / 90)))
    height, width = mask.shape
    side = int(np.ceil(np.hypot(height, width)))
    matrix = cv2.getRotationMatrix2D((width / 2, height / 2), degrees, 1.0)
    matrix[:, 2] += [(side - width) / 2, (side - height) / 2]
    return trimmed(np.asarray(cv2.warpAffine(mask, matrix, (side, side)), np.uint8))


def arch(mask: Mask, rise: float) -> Mask:
    """Bend a line of text into an arch; `rise` is its height as a share of its width, negative for a bowl."""
    height, width = mask.shape
    lift = abs(rise) * width
    xs, ys = np.meshgrid(
        np.arange(width, dtype=np.float32), np.arange(round(height + lift), dtype=np.float32)
    )
    sag = lift * (2 * xs / width - 1) ** 2
    return np.asarray(cv2.remap(mask, xs, ys - (sag if rise > 0 else lift - sag), cv2.INTER_LINEAR), np.uint8)


def wave(mask: Mask, rise: float) -> Mask:
    """Let a line of text ride one wave; `rise` is its height as a share of its width."""
    height, width = mask.shape
    lift = abs(rise) * width / 2
    xs, ys = np.meshgrid(
        np.arange(width, dtype=np.float32), np.arange(round(height + lift), dtype=np.float32)
    )
    sag = (lift / 2 * (1 + np.sign(rise) * np.sin(2 * np.pi * xs / width))).astype(np.float32)
    return np.asarray(cv2.remap(mask, xs, ys - sag, cv2.INTER_LINEAR), np.uint8)


def thicken(mask: Mask, pixels: int) -> Mask:
    """Make the strokes of a mask fatter by about this many pixels on each side."""
    return np.asarray(cv2.dilate(np.pad(mask, pixels), np.ones((2 * pixels + 1,) * 2, np.uint8)), np.uint8)


def contour(mask: Mask, width: int) -> Mask:
    """Only the outline of a mask, outside its strokes: hollow letters."""
    grown = thicken(mask, width)
    return np.minimum(grown, 255 - np.pad(mask, width))


def ringed(mask: Mask) -> Mask:
    """A mask inside a ring, as some sets print their numbers."""
    side = round(1.15 * float(np.hypot(*mask.shape))) + 6
    ring = np.zeros((side, side), np.uint8)
    cv2.circle(ring, (side // 2, side // 2), side // 2 - 3, 255, 3, cv2.LINE_AA)
    top, left = (side - mask.shape[0]) // 2, (side - mask.shape[1]) // 2
    ring[top : top + mask.shape[0], left : left + mask.shape[1]] |= mask
    return ring


def put_in_corner(canvas: Canvas, mask: Mask, corner: str, margin: float, ink: str | None) -> None:
    """Lay a mask into a corner of the face, `margin` pixels from both borders."""
    height, width = mask.shape
    x = margin + width / 2 if "left" in corner else WIDTH - margin - width / 2
    y = margin + height / 2 if "top" in corner else HEIGHT - margin - height / 2
    canvas.stamp(mask, (x, y), ink)


def put_at_edge(canvas: Canvas, mask: Mask, edge: str, margin: float, ink: str | None) -> None:
    """Lay a mask along the middle of an edge of the face."""
    height, width = mask.shape
    x, y = WIDTH / 2, HEIGHT / 2
    if edge in ("left", "right"):
        x = margin + width / 2 if edge == "left" else WIDTH - margin - width / 2
    else:
        y = margin + height / 2 if edge == "top" else HEIGHT - margin - height / 2
    canvas.stamp(mask, (x, y), ink)
