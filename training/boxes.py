"""Rectangles that frames are drawn along."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tilewitness.training.artboard import Point, Points


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle by its middle and half its sizes."""

    centre: Point
    half: Point

    def smaller(self, by: float) -> Box:
        """The same box with each side moved inwards."""
        return Box(self.centre, (max(self.half[0] - by, 1.0), max(self.half[1] - by, 1.0)))

    def corners(self) -> Points:
        """Four corners, clockwise from the top left."""
        return np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * self.half + self.centre

    def walk(self, step: float) -> Points:
        """Points along the whole border, about `step` pixels apart; every corner is one of them."""
        corners = self.corners()
        sides = []
        for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
            count = max(round(float(np.linalg.norm(end - start)) / step), 1)
            sides.append(start + (end - start) * np.linspace(0, 1, count, endpoint=False)[:, None])
        return np.concatenate(sides)

    def rounded(self, radius: float, *, inwards: bool = False) -> Points:
        """The border with corners rounded (or scooped out)."""
        radius = min(radius, *self.half)
        arcs = []
        for quarter, (sx, sy) in enumerate(((-1, -1), (1, -1), (1, 1), (-1, 1))):
            turn = np.linspace(0, np.pi / 2, 7) + (quarter + 2) * np.pi / 2
            corner = np.array([sx * self.half[0], sy * self.half[1]]) + self.centre
            if inwards:
                turn = turn[::-1] + np.pi
                arcs.append(corner + radius * np.stack([np.cos(turn), np.sin(turn)], axis=1))
            else:
                middle = corner - np.array([sx, sy]) * radius
                arcs.append(middle + radius * np.stack([np.cos(turn), np.sin(turn)], axis=1))
        return np.concatenate(arcs)
