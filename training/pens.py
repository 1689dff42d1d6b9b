"""A pen: how one engraver draws every part of a procedural picture, in the inks of one palette."""

from __future__ import annotations

import numpy as np

from tilewitness.training.engraving import Canvas, Ink, Points, ellipse, ribbon, turned
from tilewitness.training.plates import Palette


class Pen:
    """Draws the parts of one picture with one habit of filling and outlining.

    Attributes:
        canvas: the face drawn on.
        rng: the generator of every free choice.
        palette: inks, the leading one first; parts ask for an ink by place, wrapping around.
        width: the usual line width in pixels.
    """

    def __init__(self, canvas: Canvas, palette: Palette, rng: np.random.Generator) -> None:
        self.canvas = canvas
        self.rng = rng
        self.palette = palette
        self.width = float(rng.uniform(2.2, 7.0))
        self._manner = str(
            rng.choice(["filled", "lined", "brushed", "both", "mixed"], p=[0.24, 0.22, 0.22, 0.18, 0.14])
        )
        self._line_place = int(rng.integers(len(palette)))
        tinted = rng.random() < 0.15
        self._tones = [
            float(rng.uniform(0.35, 0.9)) if tinted and rng.random() < 0.6 else 1.0 for _ in range(3)
        ]

    def ink(self, place: int) -> str:
        """The ink at a place of the palette."""
        return self.palette[place % len(self.palette)]

    def shape(self, points: Points, place: int) -> None:
        """Draw a closed part, leading ink at `place`."""
        manner = self._manner
        if manner == "mixed":
            manner = str(self.rng.choice(["filled", "lined", "brushed", "both"]))
        if manner == "filled":
            self.canvas.fill(points, self.ink(place), self._tones[place % 3])
            self.canvas.line(points, min(self.width * 0.7, 2.4), None, closed=True)
        elif manner == "brushed":
            self.canvas.fill(points, None)
            self._brush(points, place)
        elif manner == "lined":
            self.canvas.shape(points, None, self.ink(place), self.width)
        else:
            self.canvas.shape(
                points, self.ink(place), self.ink(self._line_place), self.width, self._tones[place % 3]
            )

    def _brush(self, points: Points, place: int) -> None:
        """Draw an outline as a brush would, swelling and thinning, perhaps not quite closed."""
        start = int(self.rng.integers(len(points)))
        around = np.concatenate([points[start:], points[: start + 1]])
        t = np.linspace(0, 1, len(around)) * self.rng.uniform(1, 3) + self.rng.random()
        widths = self.width * (0.35 + 1.2 * np.abs(np.sin(np.pi * t)))
        gap = int(self.rng.random() < 0.3 and len(around) > 9)
        self.canvas.fill(ribbon(around[: len(around) - gap], widths[: len(around) - gap]), self.ink(place))

    def line(self, points: Points, place: int, width: float = 1.0) -> None:
        """Draw a line; `width` is a multiple of the usual one."""
        self.canvas.line(points, max(1.0, self.width * width), self.ink(place))

    def stroke(self, points: Points, width: float, place: int, *, taper: float = 0.2) -> None:
        """Draw a brush stroke, `width` pixels at its middle, thinner at both ends."""
        self.canvas.stroke(points, width * taper, width, width * taper, self.ink(place))

    def dot(self, x: float, y: float, radius: float, place: int) -> None:
        """Fill a disc."""
        self.canvas.dot(np.array([x, y]), radius, self.ink(place))

    def bare_dot(self, x: float, y: float, radius: float) -> None:
        """Cut a bare disc."""
        self.canvas.dot(np.array([x, y]), radius, None)

    def eye(self, x: float, y: float, radius: float, place: int) -> None:
        """Draw an eye: a bare ring around a pupil."""
        self.bare_dot(x, y, radius * 1.7)
        self.dot(x, y, radius, place)

    def scales(self, spine: Points, widths: Points, ink: Ink, step: int) -> None:
        """Draw scales across a body given by its spine and widths: one arc a row, or rows of small ones."""
        arc = ellipse((0, 0), 0.25, 0.46)[[21, 23, 25, 27, 1, 3, 5, 7]]
        small = self.rng.random() < 0.4
        for i in range(step, len(spine) - 1, step):
            way = spine[i] - spine[i - 1]
            angle = float(np.arctan2(way[1], way[0]))
            for offset in (-0.28, 0.0, 0.28) if small else (0.0,):
                row = arc * widths[i] * (0.36 if small else 1.0) + [0, offset * widths[i]]
                self.canvas.line(turned(row, angle) + spine[i], max(1, self.width * 0.6), ink)
