"""Dots: stacks of rings, wheels, petals and other layers, in the inks of a set."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np

from tilewitness.training.artboard import Artboard, Point, Points, stamp_icon
from tilewitness.training.glyphs import draw_text, families
from tilewitness.training.icons import icons
from tilewitness.training.inks import RGB, Inks
from tilewitness.training.layers import ERASE, TAU, Layer, draw_layers, ray
from tilewitness.training.layouts import InkName, Place, ink_of, sample_colours, sample_dot_places

# What fills a dot between its rim and its middle; a held-out set never shares a filling with a training one.
FILLINGS: Final = {
    False: ("blank", "ring", "rings", "spokes", "petals", "beads", "cross", "flower", "discs", "square", "rays"),
    True: ("swirl", "star", "gear", "arcs", "spiral", "outlined petals"),
}
# Added later and drawn from a stream of their own, so that the sets that were there before stay what they were.
LATER_FILLINGS: Final = {False: ("teeth", "lattice", "scallops"), True: ("lozenges",)}
LATER_SHARE: Final = 0.18
_NEEDS_RIM: Final = ("blank", "cross", "square", "discs", "ring", "arcs", "lattice")  # no dot without a ring or disc around
# Round things; anything else would no longer be read as a dot.
_MOTIFS: Final = ("blossom", "cherry-blossom", "daisy", "flower", "lemon", "rosette", "sunflower", "tangerine", "white-flower")


@dataclass(frozen=True, slots=True)
class DotStyle:
    """The dots of one set: their layers, the big 1 dot, layouts and inks by number."""

    small: tuple[Layer, ...]
    large: tuple[Layer, ...]
    places: dict[int, tuple[Place, ...]]
    colours: dict[int, tuple[InkName, ...]]
    others: tuple[InkName, InkName]
    fill: float
    largest: float
    alike: bool
    one: float
    text: str
    family: str
    motif: str
    rim: str
    rim_family: str


def sample_dots(rng: np.random.Generator, *, held_out: bool) -> DotStyle:
    """Fix the dots of one set."""
    places = sample_dot_places(rng)
    names: list[InkName] = ["blue", "green", "red", "black"]
    palette = tuple(names[int(i)] for i in rng.permutation(4)[: int(rng.integers(1, 4))])
    if rng.random() < 0.4:
        palette = ("green", "red", "blue") if rng.random() < 0.5 else ("blue", "red", "green")
    text, family = "", ""
    if rng.random() < 0.1:
        text = str(rng.choice(list("1DOB") if rng.random() < 0.5 else list("福壽喜一春花")))
        chosen = families("latin" if text.isascii() else "chinese", held_out=held_out, text=text)
        text, family = (text, str(rng.choice(chosen))) if chosen else ("", "")
    letters = "ABCDEFGHIKLMNOPRSTUVXYZ"
    rim = "".join(letters[int(i)] for i in rng.integers(0, len(letters), int(rng.integers(4, 8)))) if rng.random() < 0.06 else ""
    small, large = _small_dot(rng, FILLINGS[held_out]), _large_dot(rng, FILLINGS[held_out])
    later = rng.spawn(1)[0]
    if later.random() < LATER_SHARE:
        small, large = _small_dot(later, LATER_FILLINGS[held_out]), _large_dot(later, LATER_FILLINGS[held_out])
    return DotStyle(
        small=small,
        large=large,
        places=places,
        colours=sample_colours(rng, places, palette, dots=True),
        others=(names[int(rng.integers(4))], names[int(rng.integers(4))]),
        fill=float(rng.uniform(0.78, 1.05)),
        largest=float(rng.uniform(0.36, 0.62)),
        alike=rng.random() < 0.55,
        one=float(rng.uniform(0.68, 1.08)),
        text=text,
        family=family,
        motif=_sample_motif(rng, held_out=held_out) if rng.random() < 0.04 else "",
        rim=rim * int(rng.integers(1, 4)),
        rim_family=str(rng.choice(families("latin", held_out=held_out, text=letters))),
    )


def _sample_motif(rng: np.random.Generator, *, held_out: bool) -> str:
    """An icon that stands for a dot, as in the sets of modern designers."""
    names = [name for name in icons("flowers", held_out=held_out) if name.split("--")[1].startswith(_MOTIFS)]
    return str(rng.choice(names))


def _small_dot(rng: np.random.Generator, fillings: tuple[str, ...]) -> tuple[Layer, ...]:
    layers: list[Layer] = []
    edge, body = 1.0, rng.random()
    filling = str(rng.choice(fillings))
    if body < 0.62:
        width = float(rng.uniform(0.07, 0.3))
        layers.append(Layer("ring", 1.0, 1.0 - width))
        edge = 1.0 - width - float(rng.uniform(0.04, 0.14))
        if rng.random() < 0.2:
            layers.append(Layer("ring", edge, edge - 0.09, _role(rng)))
            edge -= 0.2
        role = _role(rng)
    elif body < 0.88:
        rim = str(rng.choice(["disc", "scallop"])) if "blank" in fillings else "disc"
        layers.append(Layer(rim, 1.0, count=int(rng.integers(8, 20))))
        edge, role = float(rng.uniform(0.72, 0.92)), ERASE
        if filling in ("discs", "rings", "beads", "blank") and rng.random() < 0.3:
            role = 1
    else:
        role = 0
        filling = str(rng.choice([kind for kind in fillings if kind not in _NEEDS_RIM]))
    heart = float(rng.uniform(0.15, 0.45))
    layers += _filling(rng, filling, edge, heart, role)
    layers += _heart(rng, min(heart, edge * 0.6))
    return tuple(layers)


def _large_dot(rng: np.random.Generator, fillings: tuple[str, ...]) -> tuple[Layer, ...]:
    """The 1 dot: two to five bands around a heart, in up to three inks."""
    layers: list[Layer] = []
    edge = 1.0
    bands = int(rng.integers(1, 4))
    for band in range(bands):
        role = int(rng.integers(3)) if rng.random() < 0.7 else 0
        kind = str(rng.choice(fillings))
        if rng.random() < 0.75 or band == 0 and kind in _NEEDS_RIM:
            width = float(rng.uniform(0.03, 0.12))
            layers.append(Layer("ring", edge, edge - width, role))
            edge -= width + float(rng.uniform(0.01, 0.05))
        elif band == 0 and rng.random() < 0.5:
            layers.append(Layer("disc", edge, 0, role))
            edge -= float(rng.uniform(0.04, 0.1))
            layers.append(Layer("disc", edge, 0, ERASE))
            edge -= 0.02
        heart = edge * float(rng.uniform(0.45, 0.75))
        layers += _filling(rng, kind, edge, heart, int(rng.integers(3)), dense=True)
        edge = heart
    layers += _heart(rng, max(edge * 0.9, 0.14))
    return tuple(layers)


def _role(rng: np.random.Generator) -> int:
    return 0 if rng.random() < 0.6 else 1


def _filling(
    rng: np.random.Generator, kind: str, edge: float, heart: float, role: int, *, dense: bool = False
) -> list[Layer]:
    count = int(rng.integers(4, 13) if not dense else rng.integers(6, 25))
    turn = float(rng.choice([0.0, 0.5])) * TAU / count
    if kind == "blank":
        return []
    if kind == "rings":
        inks = (role, _role(rng)) if role != ERASE else (ERASE, ERASE)
        step = (edge - heart) / 4
        return [Layer("ring", edge - i * 2 * step, edge - i * 2 * step - step, inks[i]) for i in range(2)]
    if kind == "ring":
        middle = edge - (edge - heart) * float(rng.uniform(0.2, 0.6))
        return [Layer("ring", middle, middle - float(rng.uniform(0.06, 0.16)), role)]
    if kind == "discs":
        return [Layer("disc", edge, 0, role if role else 1), Layer("disc", (edge + heart) / 2, 0, ERASE)]
    return [Layer(kind, edge, heart if rng.random() < 0.6 else heart * 0.5, role, count, turn)]


def _heart(rng: np.random.Generator, size: float) -> list[Layer]:
    habit, role = rng.random(), _role(rng)
    if habit < 0.2:
        return []
    clear = [Layer("disc", size * 1.15, 0, ERASE)] if rng.random() < 0.6 else []
    if habit < 0.6:
        return [*clear, Layer("disc", size * float(rng.uniform(0.5, 1.0)), 0, role)]
    if habit < 0.8:
        return [*clear, Layer("ring", size, size * 0.6, role)]
    if habit < 0.9:
        return [*clear, Layer("ring", size, size * 0.7, role), Layer("disc", size * 0.4, 0, _role(rng))]
    return [*clear, Layer("petals", size, 0.0, role, int(rng.integers(4, 7)))]


def draw_dots(
    board: Artboard, number: int, style: DotStyle, inks: Inks, rng: np.random.Generator, centre: Point, half: Point,
    wobble: float,
) -> None:  # fmt: skip
    """Draw 1 to 9 dots into the box around `centre`; `wobble` is the hand's unsteadiness in pixels."""
    spots = np.array(style.places[number]) * half
    names = style.colours[number]
    if number == 1:
        radius, layers = min(half) * style.one, style.large
    else:
        radius, layers = _radius(spots, half, style), style.small
        spots = spots * np.minimum(1.0, (np.array(half) - radius) / np.maximum(np.abs(spots).max(axis=0), 1))
        radius = min(radius, _radius(spots, half, style))
        if style.alike and number > 2:  # many sets cut all but their 1 and 2 with one tool
            radius = min(radius, *(_radius(np.array(style.places[n]) * half, half, style) for n in (6, 7, 8, 9)))
    for (x, y), name in zip(spots, names, strict=True):
        shake = rng.normal(0, wobble, 3) if wobble else np.zeros(3)
        trio = (ink_of(inks, name), ink_of(inks, style.others[0]), ink_of(inks, style.others[1]))
        place = (centre[0] + x + shake[0], centre[1] + y + shake[1])
        size = max(float(radius + shake[2] / 2), 3.0)
        if style.motif:
            side = 2 * size * (0.75 if number == 1 else 1.0)
            stamp_icon(board, style.motif, place, (side, side), trio)
            if number == 1:  # a lone flower without a rim would be a flower tile
                board.ring(place, size, size * 0.09, trio[0])
            continue
        if number == 1 and style.rim:
            _draw_rim(board, style, place, size, trio[1])
            size *= 0.66
        draw_layers(board, layers, place, size, trio)
        if number == 1 and style.text:
            board.ring(place, radius, radius * 0.08, trio[0])
            board.disc(place, radius * 0.52, None)
            board.stamp(draw_text(style.text, style.family, radius * 1.2), place, trio[1])


def _draw_rim(board: Artboard, style: DotStyle, place: Point, radius: float, ink: RGB) -> None:
    """A maker's name around the 1 dot, between two circles."""
    board.ring(place, radius, radius * 0.05, ink)
    height = min(radius * 0.4, radius * 9 / len(style.rim))
    for i, letter in enumerate(style.rim):
        angle = i / len(style.rim) * TAU
        mask = draw_text(letter, style.rim_family, height)
        side = max(mask.shape) + 4
        top, left = (side - mask.shape[0]) // 2, (side - mask.shape[1]) // 2
        square = np.zeros((side, side), np.uint8)
        square[top : top + mask.shape[0], left : left + mask.shape[1]] = mask
        matrix = cv2.getRotationMatrix2D((side / 2, side / 2), -float(np.rad2deg(angle)), 1.0)
        spot = np.array(place) + ray(angle - np.pi / 2) * radius * 0.81
        turned = np.asarray(cv2.warpAffine(square, matrix, (side, side)), np.uint8)
        board.stamp(turned, (float(spot[0]), float(spot[1])), ink)


def _radius(spots: Points, half: Point, style: DotStyle) -> float:
    apart = np.linalg.norm(spots[:, None] - spots[None], axis=2) + np.eye(len(spots)) * 1e6
    return float(min(apart.min() / 2 * style.fill, style.largest * min(half)))
