"""Ornate frames of white dragons: leaves, knotted or fanned corners, ticks, ovals, scooped corners, a braid."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from tilewitness.training.artboard import Artboard, Points
from tilewitness.training.boxes import Box
from tilewitness.training.inks import RGB

Ornate = Callable[[Artboard, Box, float, float, RGB, RGB], None]
"""Draws one frame: board, box, depth of the band and width of a line in pixels, ink of the frame, of its trimmings."""


def _inwards(box: Box, points: Points) -> Points:
    """For each point on the border the unit vector of its side that points into the box."""
    away = (points - box.centre) / box.half
    upright = np.abs(away[:, 1]) > np.abs(away[:, 0])
    return np.where(upright[:, None], np.stack([0 * away[:, 1], -np.sign(away[:, 1])], 1),
                    np.stack([-np.sign(away[:, 0]), 0 * away[:, 0]], 1))  # fmt: skip


def _leafed(board: Artboard, box: Box, gap: float, width: float, ink: RGB, inner: RGB) -> None:
    """A line with leaves in pairs along its inner side."""
    board.line(box.corners(), width, ink, closed=True)
    points = box.walk(max(gap * 1.5, 9))
    for at, way in zip(points, _inwards(box, points), strict=True):
        along = np.array([-way[1], way[0]])
        for lean in (-0.6, 0.6):
            tip = at + (way + along * lean) * gap * 1.1
            side = np.array([-(tip - at)[1], (tip - at)[0]]) * 0.22
            board.polygon(np.array([at, (at + tip) / 2 + side, tip, (at + tip) / 2 - side]), inner)


def _knotted(board: Artboard, box: Box, gap: float, width: float, ink: RGB, inner: RGB) -> None:
    """Two boxes that cross at their corners, as lattices have them, with small squares in the crossings."""
    wide, tall = box.half
    for half in ((wide, tall - gap), (wide - gap, tall)):
        board.line(Box(box.centre, half).corners(), width, ink, closed=True)
    for corner in box.smaller(gap / 2).corners():
        board.line(Box((float(corner[0]), float(corner[1])), (gap * 0.5, gap * 0.5)).corners(), width, inner, closed=True)


def _fans(board: Artboard, box: Box, gap: float, width: float, ink: RGB, inner: RGB) -> None:
    """A line whose corners are filled with ribbed fans."""
    board.line(box.corners(), width, ink, closed=True)
    reach = max(gap * 1.8, 0.34 * box.half[0])
    for corner in box.smaller(width * 1.5).corners():
        way = np.sign(np.array(box.centre) - corner)
        turn = np.linspace(0, np.pi / 2, 9)
        rim = corner + np.stack([np.cos(turn), np.sin(turn)], 1) * way * reach
        board.line(rim, width * 0.8, inner)
        for spoke in rim[::2]:
            board.line(np.array([corner, spoke]), max(width * 0.6, 0.8), inner)


def _ticked(board: Artboard, box: Box, gap: float, width: float, ink: RGB, inner: RGB) -> None:
    """A line with short ticks on its inner side, as on a ruler or a stamp."""
    board.line(box.corners(), width, ink, closed=True)
    points = box.walk(max(gap * 0.6, 4))
    for at, way in zip(points, _inwards(box, points), strict=True):
        board.line(np.array([at, at + way * gap * 0.8]), max(width * 0.7, 0.8), inner)


def _oval(board: Artboard, box: Box, gap: float, width: float, ink: RGB, inner: RGB) -> None:
    """An upright oval, single or double, in a plain box or alone; taller than any dot."""
    turn = np.linspace(0, 2 * np.pi, 60)
    rim = np.stack([np.cos(turn), np.sin(turn)], 1)
    board.line(rim * box.smaller(gap).half + box.centre, width, inner, closed=True)
    board.line(box.corners(), width, ink, closed=True)


def _scooped(board: Artboard, box: Box, gap: float, width: float, ink: RGB, inner: RGB) -> None:
    """A border with hollow corners, a disc or ring in each of them, and a second line inside."""
    board.line(box.rounded(gap * 1.6, inwards=True), width, ink, closed=True)
    board.line(box.smaller(gap).rounded(gap * 1.6, inwards=True), max(width * 0.6, 0.8), inner, closed=True)
    for corner in box.smaller(gap * 0.4).corners():
        board.disc((float(corner[0]), float(corner[1])), gap * 0.4, inner)


def _braided(board: Artboard, box: Box, gap: float, width: float, ink: RGB, inner: RGB) -> None:
    """Two strands wound around each other."""
    points = box.smaller(gap / 2).walk(gap / 5)
    inwards, swing = _inwards(box, points), np.sin(np.arange(len(points)) * 0.7)[:, None] * gap * 0.45
    board.line(points + inwards * swing, width, ink, closed=True)
    board.line(points - inwards * swing, width, inner, closed=True)


ORNATE: Final[dict[str, Ornate]] = {
    "leafed": _leafed, "knotted": _knotted, "fans": _fans, "ticked": _ticked, "oval": _oval, "scooped": _scooped,
    "braided": _braided,
}  # fmt: skip
