"""A painter's set: coloured geometry without any numeral, letter or picture. Each face is a composition of its own."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.engine.faces import Face, Kind
from tilewitness.training.artboard import HEIGHT, WIDTH, Artboard, Points
from tilewitness.training.emblems import star
from tilewitness.training.engraving import ellipse
from tilewitness.training.inks import RGB

PALETTE: Final[tuple[RGB, ...]] = (
    (225, 80, 50), (245, 180, 60), (40, 120, 130), (30, 50, 80), (230, 215, 190), (150, 60, 110),
)  # fmt: skip


def abstract_face(board: Artboard, face: Face, variant: int) -> None:
    """Draw a face on the board; `variant` picks one of its pictures."""
    rng = np.random.default_rng((face.index, variant, 5))
    if face.kind is Kind.FLOWER:
        _rosette(board, variant)
    elif face.kind is Kind.JOKER:
        _waves(board, variant)
    elif face.kind is Kind.DRAGON:
        _diamonds(board, face.index - 31)
    elif face.kind is Kind.WIND:
        _halves(board, face.index - 27)
    else:
        (_stripes, _quarters, _triangles)[face.index // 9](board, rng)


def _box(x: float, y: float, wide: float, high: float) -> Points:
    return np.array([[x, y], [x + wide, y], [x + wide, y + high], [x, y + high]], float)


def _stripes(board: Artboard, rng: np.random.Generator) -> None:
    """Upright stripes, some of them broken."""
    x, last = 10.0, -1
    while x < WIDTH - 12:
        wide = min(float(rng.choice([10, 18, 30, 44])), WIDTH - 10 - x)
        cut = float(rng.choice([0.0, 0.35, 0.65]))
        for top, bottom in ((10.0, 10 + cut * 236), (10 + cut * 236, 246.0)):
            ink = int(rng.choice([i for i in range(len(PALETTE)) if i != last]))
            board.polygon(_box(x, top, wide, bottom - top), PALETTE[ink])
            last = ink
        x += wide


def _quarters(board: Artboard, rng: np.random.Generator) -> None:
    """Quarter discs in a grid of three by four, each in some corner of its square."""
    side = 57.0
    for row in range(4):
        for column in range(3):
            x, y = 10 + column * side, 14 + row * side
            ground, ink = rng.choice(len(PALETTE), 2, replace=False)
            board.polygon(_box(x, y, side, side), PALETTE[ground])
            corner, start = np.array([(0, 0), (1, 0), (1, 1), (0, 1)]), int(rng.integers(4))
            angles = np.linspace(0, np.pi / 2, 16) + start * np.pi / 2
            centre = np.array([x, y]) + corner[start] * side
            arc = centre + side * np.stack([np.cos(angles), np.sin(angles)], 1)
            board.polygon(np.vstack([centre, arc]), PALETTE[ink])


def _triangles(board: Artboard, rng: np.random.Generator) -> None:
    """Triangles that meet in a point somewhere inside, or two fans of them."""
    around = np.array([[10, 10], [68, 10], [124, 10], [182, 10], [182, 88], [182, 168], [182, 246], [124, 246], [68, 246],
                       [10, 246], [10, 168], [10, 88]], float)  # fmt: skip
    heart = np.array([rng.uniform(50, 142), rng.uniform(60, 196)])
    keep = np.sort(rng.choice(len(around), int(rng.integers(5, 10)), replace=False))
    order = rng.permutation(len(PALETTE))
    for k, (a, b) in enumerate(zip(keep, np.roll(keep, -1), strict=True)):
        side = around[a : b + 1] if b > a else np.vstack([around[a:], around[: b + 1]])
        board.polygon(np.vstack([heart, side]), PALETTE[order[k % len(PALETTE)]])
    board.disc((float(heart[0]), float(heart[1])), 16, PALETTE[order[-1]])


def _halves(board: Artboard, wind: int) -> None:
    """Two half discs that face each other another way for each wind."""
    inks = ((0, 3), (1, 5), (2, 0), (3, 1))[wind]
    for half, ink in enumerate(inks):
        start = wind * np.pi / 4 + half * np.pi
        angles = np.linspace(0, np.pi, 30) + start
        middle = np.array([96, 128]) + 14 * np.array([np.cos(start + np.pi / 2), np.sin(start + np.pi / 2)])
        board.polygon(middle + 76 * np.stack([np.cos(angles), np.sin(angles)], 1), PALETTE[ink])


def _diamonds(board: Artboard, which: int) -> None:
    """Diamonds within diamonds."""
    for k in range(4):
        scale = 1 - k / 4
        corners = np.array([[0, -116], [86, 0], [0, 116], [-86, 0]]) * scale + [96, 128]
        board.polygon(corners, PALETTE[((0, 4, 1, 3), (2, 1, 3, 4), (4, 3, 5, 2))[which][k]])


def _rosette(board: Artboard, variant: int) -> None:
    """Petals without a stem: three to ten of them."""
    petals = variant + 3
    for k in range(petals):
        angle = 2 * np.pi * k / petals
        at = (96 + 50 * np.sin(angle), 128 - 50 * np.cos(angle))
        board.polygon(ellipse(at, 12 + 60 / petals, 36, angle), PALETTE[(variant + k % 2 * 3) % len(PALETTE)])
    board.polygon(star(96, 128, 24, petals, 0.5), PALETTE[(variant + 1) % len(PALETTE)])


def _waves(board: Artboard, variant: int) -> None:
    """Bands that swing across the whole face."""
    y = np.linspace(8, HEIGHT - 8, 60)
    for k in range(4):
        swing = 18 * np.sin(y / (14 + 9 * variant) + variant)
        line = np.stack([36 + 40 * k + swing, y], 1)
        board.line(line, 26, PALETTE[(variant + k) % len(PALETTE)])
