"""Bamboo sticks of many makes, and the rare 1 bam that is a shoot of bamboo instead of a bird."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np

from tilewitness.training.artboard import Artboard, Point, Points, stamp_icon
from tilewitness.training.icons import icons
from tilewitness.training.inks import RGB, Inks
from tilewitness.training.layouts import InkName, Stick, ink_of, sample_colours, sample_stick_places

# A held-out set never has a make of stick that a training one has.
MAKES: Final = {
    False: (
        "segments", "bone", "waisted", "capsule", "beads", "nodes", "double", "outlined", "hollow beads",
        "hollow bone", "hollow capsule", "dumbbell", "hollow dumbbell", "line",
    ),
    True: ("spindles", "chevrons", "brackets", "rope", "hollow waist", "knuckles"),
}  # fmt: skip
# Added later and drawn from a stream of their own, so that the sets that were there before stay what they were.
LATER_MAKES: Final = {False: ("wedges", "lobes", "ladder", "reeds"), True: ("plaited",)}
LATER_SHARE: Final = 0.15
_MOTIFS: Final = ("bamboo", "cactus", "ear-of", "evergreen", "grains", "herb", "leaf", "palm", "pine-", "reed", "sheaf", "sprout")
_HOLLOW: Final = {
    "outlined": "segments", "hollow bone": "bone", "hollow capsule": "capsule", "hollow waist": "waisted",
    "hollow dumbbell": "dumbbell",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class BambooStyle:
    """The bamboo of one set: make of stick, thickness, knots, layouts and inks by number."""

    make: str
    width: float
    parts: int
    knot: str
    marks: int
    leaves: bool
    places: dict[int, tuple[Stick, ...]]
    colours: dict[int, tuple[InkName, ...]]
    accent: InkName
    motif: str
    joined: bool


def sample_bamboo(rng: np.random.Generator, *, held_out: bool) -> BambooStyle:
    """Fix the bamboo of one set."""
    places = sample_stick_places(rng)
    palettes: tuple[tuple[InkName, ...], ...] = (
        ("green", "red"), ("green", "red", "blue"), ("green", "blue"), ("green", "blue", "red"), ("green",),
        ("blue", "red"), ("black", "red"), ("blue", "green", "red"), ("green", "black"), ("red", "green"),
    )  # fmt: skip
    weights = np.array([5, 5, 2, 2, 1.5, 1.5, 1.5, 2, 0.7, 0.7])
    palette = palettes[int(rng.choice(len(palettes), p=weights / weights.sum()))]
    spots = {number: tuple((stick.x, stick.y) for stick in sticks) for number, sticks in places.items()}
    accents: tuple[InkName, ...] = ("red", "blue", "black", "green")
    make, later = str(rng.choice(MAKES[held_out])), rng.spawn(1)[0]
    if later.random() < LATER_SHARE:
        make = str(later.choice(LATER_MAKES[held_out]))
    return BambooStyle(
        make=make,
        width=float(rng.uniform(0.1, 0.34)) if rng.random() < 0.85 else float(rng.uniform(0.06, 0.1)),
        parts=int(rng.integers(1, 5)),
        knot=str(rng.choice(["none", "bar", "dot", "gap"], p=[0.72, 0.08, 0.1, 0.1])),
        marks=int(rng.choice([0, 0, 1, 2, 3])),
        leaves=rng.random() < 0.06,
        places=places,
        colours=sample_colours(rng, spots, palette, dots=False),
        accent=accents[int(rng.integers(4))],
        motif=_sample_motif(rng, held_out=held_out) if rng.random() < 0.03 else "",
        joined=rng.random() < 0.2,
    )


def _sample_motif(rng: np.random.Generator, *, held_out: bool) -> str:
    """An icon that stands for a stick, as in the sets of modern designers."""
    names = [name for name in icons("flowers", held_out=held_out) if name.split("--")[1].startswith(_MOTIFS)]
    return str(rng.choice(names)) if names else ""


def draw_bamboo(
    board: Artboard, number: int, style: BambooStyle, inks: Inks, rng: np.random.Generator, centre: Point,
    half: Point, wobble: float,
) -> None:  # fmt: skip
    """Draw 1 to 9 sticks into the box around `centre`; `wobble` is the hand's unsteadiness in pixels."""
    sticks = style.places[number]
    length = half[1] * max(stick.length for stick in sticks) / 2
    # Sticks in a row share the width; the thickest do not touch.
    crowd = max(sum(abs(s.y - stick.y) < 0.1 for s in sticks) for stick in sticks)
    thick = min(style.width * 2 * half[0] * 0.55, 2 * half[0] * 0.42 / crowd, length * 0.5)
    if number == 1:  # a whole shoot, where other sets have their bird
        style, thick = replace(style, parts=style.parts + 2, leaves=True), max(thick, half[0] * 0.22)
    if any(stick.lean for stick in sticks):
        thick *= 0.8
        if style.joined and len(sticks) == 8:
            thick = min(thick, 0.13 * half[0])
            for row in (sticks[:4], sticks[4:]):
                _draw_joined(board, row, style, inks, centre, (half[0] - thick / 2, half[1]), thick)
            return
    for stick, name in zip(sticks, style.colours[number], strict=True):
        shake = rng.normal(0, wobble, 3) if wobble else np.zeros(3)
        run, rise = stick.lean * (half[0] - thick / 2) + shake[2] / 2, stick.length * half[1]
        frame = Frame(
            (centre[0] + stick.x * (half[0] - thick / 2) + shake[0], centre[1] + stick.y * half[1] + shake[1]),
            thick,
            float(np.hypot(run, rise)) / 2,
            -float(np.arctan2(run, rise)),
        )
        colours = ink_of(inks, name), ink_of(inks, style.accent)
        if style.motif and number > 1:
            stamp_icon(board, style.motif, frame.centre, (1.6 * half[0] / crowd, 0.94 * rise), colours)
        else:
            draw_stick(board, frame, style, *colours)


def _draw_joined(
    board: Artboard, sticks: tuple[Stick, ...], style: BambooStyle, inks: Inks, centre: Point, half: Point, thick: float
) -> None:  # fmt: skip
    """Draw the four sticks of a zigzag as canes that run into one another, `thick` pixels to either side."""
    heads, feet = (
        np.array([(s.x + side * s.lean / 2, s.y + side * s.length / 2) for s in sticks]) * half + centre for side in (-1, 1)
    )
    high, low = (heads, feet) if sticks[1].lean > 0 else (feet, heads)
    corners = [low[0], (high[0] + high[1]) / 2, (low[1] + low[2]) / 2, (high[2] + high[3]) / 2, low[3]]
    names = style.colours[8][:4] if sticks[0].y < 0 else style.colours[8][4:]
    hollow = style.make in _HOLLOW or style.make == "double"
    canes = list(zip(pairwise(corners), names, strict=True))
    for cane, name in canes:
        board.line(np.array(cane), 2 * thick, ink_of(inks, name))
    if hollow:
        board.line(np.array(corners), thick, None)
    for (start, end), name in canes:
        way = (end - start) / (np.hypot(*(end - start)) + 1e-9)
        across = np.array([-way[1], way[0]]) * thick
        for part in range(1, style.parts):
            at = start + (end - start) * part / style.parts
            if style.knot == "none" and not hollow:
                board.line(np.array([at - across * 1.3, at + across * 1.3]), max(thick * 0.15, 0.6), None)
            else:
                board.line(np.array([at - across, at + across]), max(thick * 0.3, 0.8), ink_of(inks, name))


@dataclass(frozen=True, slots=True)
class Frame:
    """Where one stick lies: its middle, half its width and length in pixels, its lean in radians."""

    centre: Point
    half_width: float
    half_length: float
    lean: float

    def place(self, points: list[tuple[float, float]] | Points) -> Points:
        """Turn points from -1 to 1 (across, along) into pixels."""
        local = np.asarray(points, np.float64) * (self.half_width, self.half_length)
        cosine, sine = np.cos(self.lean), np.sin(self.lean)
        return np.asarray(local @ np.array([[cosine, sine], [-sine, cosine]]) + self.centre)


def draw_stick(board: Artboard, frame: Frame, style: BambooStyle, ink: RGB, accent: RGB) -> None:
    """Draw one stick."""
    parts = max(style.parts, 2) if style.make in ("beads", "hollow beads", "spindles", "chevrons", "rope") else style.parts
    if style.make in ("beads", "hollow beads", "rope", "chevrons"):
        parts = max(parts, 3) + 1
    step = 2 / parts
    for part in range(parts):
        low, high = -1 + part * step, -1 + (part + 1) * step
        _draw_part(board, frame, style.make, low + step * 0.04, high - step * 0.04, ink)
    if style.make in ("segments", "capsule", "waisted", *_HOLLOW):
        _mark(board, frame, style, parts, ink)
    if style.knot == "bar":
        board.line(frame.place([(-0.9, 0), (0.9, 0)]), max(frame.half_length * 0.12, 1), accent)
    elif style.knot == "dot":
        x, y = frame.place([(0, 0)])[0]
        board.disc((float(x), float(y)), frame.half_width * 0.8, accent)
    elif style.knot == "gap":
        board.line(frame.place([(-1.3, 0), (1.3, 0)]), max(frame.half_length * 0.08, 1), None)
    if style.leaves:
        for side in (-1, 1):
            leaf = [(0.5 * side, -0.3 * side), (2.4 * side, -0.62 * side), (1.2 * side, -0.25 * side)]
            board.polygon(frame.place(leaf), ink)


def _mark(board: Artboard, frame: Frame, style: BambooStyle, parts: int, ink: RGB) -> None:
    """Cut or draw the lines that real sticks carry along their segments."""
    if style.marks == 0:
        return
    fine = max(frame.half_width * 0.22, 0.7)
    step = 2 / parts
    mark = ink if style.make in _HOLLOW else None
    for part in range(parts):
        middle = -1 + (part + 0.5) * step
        ends = [(0.0, middle - step * 0.32), (0.0, middle + step * 0.32)]
        if style.marks == 3:
            board.line(frame.place([(-0.7, middle), (0.7, middle)]), fine, mark)
        elif style.marks == 2:
            for side in (-0.45, 0.45):
                board.line(frame.place([(side, y) for _, y in ends]), fine * 0.8, mark)
        else:
            board.line(frame.place(ends), fine, mark)


def _draw_part(board: Artboard, frame: Frame, make: str, low: float, high: float, ink: RGB) -> None:
    middle, reach = (low + high) / 2, (high - low) / 2
    thin = max(frame.half_width * 0.3, 0.8)
    if make in ("beads", "hollow beads", "rope"):
        ring = frame.place(_oval(0.0, middle, 0.95, reach * 0.98, slant=0.5 if make == "rope" else 0.0))
        if make == "hollow beads":
            board.line(ring, thin, ink, closed=True)
        else:
            board.polygon(ring, ink)
    elif make == "double":
        for side in (-0.8, 0.8):
            board.line(frame.place([(side, low), (side, high)]), thin, ink)
        board.line(frame.place([(-0.8, low), (0.8, low)]), thin, ink)
        board.line(frame.place([(-0.8, high), (0.8, high)]), thin, ink)
    elif make == "chevrons":
        for side in (-1, 1):
            board.line(frame.place([(0, middle + reach * 0.7), (side, middle - reach * 0.5)]), thin * 1.2, ink)
        board.line(frame.place([(0, low), (0, high)]), thin, ink)
    elif make == "ladder":
        for side in (-0.8, 0.8):
            board.line(frame.place([(side, low), (side, high)]), thin, ink)
        for rung in np.linspace(low, high, 5)[1:-1]:
            board.line(frame.place([(-0.8, rung), (0.8, rung)]), thin * 0.8, ink)
    elif make == "reeds":
        for side in (-0.75, 0.0, 0.75):
            board.line(frame.place([(side, low), (side, high)]), thin * 1.2, ink)
        board.line(frame.place([(-0.9, middle), (0.9, middle)]), thin, ink)
    elif make == "plaited":
        for side in (-0.85, 0.85):
            board.line(frame.place([(side, low), (-side, high)]), thin * 1.2, ink)
        board.line(frame.place([(-0.85, low), (0.85, low)]), thin, ink)
    elif make == "brackets":
        for side in (-1, 1):
            along = np.linspace(low, high, 7)
            bow = side * (0.25 + 0.7 * ((along - middle) / reach) ** 2)
            board.line(frame.place(np.stack([bow, along], axis=1)), thin * 1.3, ink)
    else:
        _draw_profile(board, frame, make, low, high, ink)


def _draw_profile(board: Artboard, frame: Frame, make: str, low: float, high: float, ink: RGB) -> None:
    """Draw a part that is one closed outline, by its half width along the stick."""
    t = np.sin(np.linspace(-np.pi / 2, np.pi / 2, 15))  # denser towards the round ends
    flat = np.minimum(1.0, 3.2 * np.sqrt(np.maximum(1 - np.abs(t), 0)))
    profiles = {
        "segments": flat * 0.85,
        "capsule": np.minimum(1.0, 2.2 * np.sqrt(np.maximum(1 - np.abs(t), 0))) * 0.75,
        "bone": np.where(np.abs(t) > 0.6, 0.95, 0.5) * flat,
        "waisted": (0.35 + 0.65 * np.abs(t) ** 1.5) * flat,
        "nodes": np.where(np.abs(t) > 0.8, 1.0, 0.6),
        "dumbbell": np.where(np.abs(t) > 0.45, np.sqrt(np.maximum(1 - ((np.abs(t) - 0.66) / 0.34) ** 2, 0.06)), 0.38),
        "knuckles": 0.55 + 0.4 * np.cos(3 * np.pi * t) ** 2 * flat,
        "wedges": (0.6 + 0.38 * t) * flat,
        "lobes": 0.3 + 0.65 * np.sin(np.pi * np.clip(t * 0.5 + 0.5, 0, 1) * 2) ** 2,
        "line": np.full_like(t, 0.32),
        "spindles": 1 - t**2 * 0.92,
    }
    width = profiles[_HOLLOW.get(make, make)]
    along = (low + high) / 2 + t * (high - low) / 2
    outline = np.concatenate([np.stack([width, along], 1), np.stack([-width, along], 1)[::-1]])
    if make in _HOLLOW:
        board.line(frame.place(outline), max(frame.half_width * 0.3, 0.8), ink, closed=True)
    else:
        board.polygon(frame.place(outline), ink)


def _oval(x: float, y: float, across: float, along: float, *, slant: float) -> Points:
    angles = np.linspace(0, 2 * np.pi, 18, endpoint=False)
    points = np.stack([x + across * np.cos(angles), y + along * np.sin(angles)], axis=1)
    points[:, 1] += slant * along * points[:, 0]
    return points
