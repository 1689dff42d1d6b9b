"""The layers that dots are made of: discs, rings, spokes, petals and other bands around one centre."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from tilewitness.training.artboard import Artboard, Point, Points
from tilewitness.training.inks import RGB

ERASE: Final = -1
TAU: Final = 2 * np.pi


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of a dot: `outer` and `inner` radii as parts of the dot's own; `role` which ink, or ERASE."""

    kind: str
    outer: float
    inner: float = 0.0
    role: int = 0
    count: int = 8
    turn: float = 0.0


def draw_layers(
    board: Artboard, layers: tuple[Layer, ...], centre: Point, radius: float, inks: tuple[RGB, RGB, RGB]
) -> None:
    """Draw one dot: its layers from first to last."""
    for layer in layers:
        ink = None if layer.role == ERASE else inks[layer.role]
        _draw_layer(board, layer, np.array(centre), radius, ink)


def _draw_layer(board: Artboard, layer: Layer, centre: Points, radius: float, ink: RGB | None) -> None:
    outer, inner, count = layer.outer * radius, layer.inner * radius, layer.count
    place = (float(centre[0]), float(centre[1]))
    angles = np.arange(count) / count * TAU + layer.turn
    if layer.kind == "disc":
        board.disc(place, outer, ink)
    elif layer.kind == "ring":
        board.ring(place, outer, outer - inner, ink)
    elif layer.kind in ("spokes", "cross"):
        for angle in angles if layer.kind == "spokes" else np.arange(4) / 4 * TAU + layer.turn:
            board.line(centre + np.outer([inner, outer], ray(angle)), max(outer / (count + 3), 0.8), ink)
    elif layer.kind in ("petals", "flower", "outlined petals"):
        for angle in angles:
            petal = centre + _petal(angle, inner, outer, np.pi / count * (0.8 if layer.kind == "petals" else 1.1))
            if layer.kind == "petals":
                board.polygon(petal, ink)
            else:
                board.line(petal, max(radius * 0.06, 0.7), ink, closed=True)
    elif layer.kind == "beads":
        for angle in angles:
            x, y = centre + ray(angle) * (outer + inner) / 2
            board.disc((float(x), float(y)), min((outer - inner) / 2, outer * 2.2 / count) * 0.85, ink)
    else:
        _draw_shape(board, layer, centre, radius, ink)


def _draw_shape(board: Artboard, layer: Layer, centre: Points, radius: float, ink: RGB | None) -> None:
    outer, inner, count = layer.outer * radius, layer.inner * radius, layer.count
    angles = np.arange(count) / count * TAU + layer.turn
    fine = np.linspace(0, TAU, 72, endpoint=False)
    if layer.kind == "scallop":
        board.polygon(centre + _polar(fine, outer * (0.93 + 0.07 * np.cos(count * fine))), ink)
    elif layer.kind == "gear":
        teeth = np.where(np.sin(count * fine) > 0, outer, max(inner, outer * 0.72))
        board.polygon(centre + _polar(fine, teeth), ink)
        board.disc((float(centre[0]), float(centre[1])), max(inner, outer * 0.5), None)
    elif layer.kind == "star":
        points = np.arange(2 * count) / (2 * count) * TAU + layer.turn
        board.polygon(centre + _polar(points, np.where(np.arange(2 * count) % 2 == 1, max(inner, outer * 0.4), outer)), ink)
    elif layer.kind == "rays":
        for angle in angles:
            side = np.array([angle - np.pi / count * 0.7, angle + np.pi / count * 0.7])
            board.polygon(centre + np.vstack([_polar(side, inner), ray(angle)[None] * outer]), ink)
    elif layer.kind == "swirl":
        for angle in angles:
            bend = angle + np.linspace(0, 1.1, 7)
            board.line(centre + _polar(bend, np.linspace(inner, outer, 7)), max(outer / (count + 4), 0.8), ink)
    elif layer.kind == "teeth":
        reach = np.pi / count * 0.85
        for angle in angles:
            foot = _polar(np.array([angle - reach, angle + reach]), inner)
            board.polygon(centre + np.concatenate([foot, ray(angle)[None] * outer]), ink)
    elif layer.kind == "lozenges":
        wide = min((outer - inner) / 2, outer * 2.4 / count) * 0.8
        for angle in angles:
            middle, side = ray(angle) * (outer + inner) / 2, ray(angle + np.pi / 2) * wide
            lozenge = np.array([ray(angle) * inner, middle - side, ray(angle) * outer, middle + side])
            board.polygon(centre + lozenge, ink)
    elif layer.kind == "lattice":
        for turn in (layer.turn, layer.turn + np.pi / 2):
            for offset in np.linspace(-0.8, 0.8, 2 + count // 3) * outer:
                half = np.sqrt(outer**2 - offset**2)
                ends = np.outer([-half, half], ray(turn)) + ray(turn + np.pi / 2) * offset
                board.line(centre + ends, max(outer / (count + 5), 0.7), ink)
    elif layer.kind == "scallops":
        size = min((outer - inner) / 2, outer * np.pi / count * 0.9)
        for angle in angles:
            bend = angle + np.linspace(-np.pi / 2, np.pi / 2, 7)
            board.line(centre + ray(angle) * (outer - size) + _polar(bend, size), max(outer / (count + 6), 0.8), ink)
    elif layer.kind == "spiral":
        bend = np.linspace(0, 2.5 * TAU, 48) + layer.turn
        board.line(centre + _polar(bend, np.linspace(inner * 0.3, outer * 0.95, 48)), max(outer * 0.09, 0.8), ink)
    elif layer.kind == "arcs":
        for angle in angles:
            bend = angle + np.linspace(0, TAU / count * 0.7, 6)
            board.line(centre + _polar(bend, (outer + inner) / 2), max((outer - inner) * 0.45, 0.8), ink)
    elif layer.kind == "square":
        reach = max(inner, outer * 0.4)
        corners = centre + _polar(np.arange(4) / 4 * TAU + np.pi / 4, reach)
        board.polygon(corners, ink)
    else:
        raise ValueError(f'No layer of a dot is called "{layer.kind}".')


def ray(angle: float) -> Points:
    return np.array([np.cos(angle), np.sin(angle)])


def _polar(angles: Points, radii: Points | float) -> Points:
    return np.asarray(np.stack([np.cos(angles), np.sin(angles)], axis=1) * np.reshape(radii, (-1, 1)))


def _petal(angle: float, inner: float, outer: float, spread: float) -> Points:
    along = np.linspace(0, np.pi, 7)
    radii = inner + (outer - inner) * (1 - np.cos(along)) / 2
    width = np.sin(along) * spread * (0.6 * outer + 0.4 * inner)
    sides = np.concatenate([width, -width[-2:0:-1]])
    lengths = np.concatenate([radii, radii[-2:0:-1]])
    out, side = ray(angle), ray(angle + np.pi / 2)
    return np.outer(lengths, out) + np.outer(sides * 0.8, side)
