"""Draw the 36 faces in the style of one made-up set after another.

    python -m tilewitness.training.faces --sheet OUT.png --seed 1

writes a contact sheet: one row for each of twelve sets. Variety is the aim: a set that no maker has ever
made costs nothing, a look that is missing here is one that the reader will not know.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.faces import FACES, Face, Kind, Suit
from tilewitness.training.artboard import (
    HEIGHT,
    WIDTH,
    Artboard,
    Point,
    laid_over,
    premultiplied,
    straight_alpha,
)
from tilewitness.training.bamboo import BambooStyle, draw_bamboo, sample_bamboo
from tilewitness.training.characters import (
    CrakStyle,
    HonourStyle,
    Lettering,
    character_mask,
    draw_crak,
    draw_dragon_character,
    draw_wind,
    sample_craks,
    sample_honours,
    sample_lettering,
)
from tilewitness.training.corners import IndexStyle, draw_index, sample_index
from tilewitness.training.dots import DotStyle, draw_dots, sample_dots
from tilewitness.training.frames import WhiteStyle, draw_white, sample_white
from tilewitness.training.inks import RGB, Inks, sample_edging, sample_inks, sample_panel
from tilewitness.training.layouts import InkName, ink_of
from tilewitness.training.pictures import (
    DragonFace,
    PictureStyle,
    draw_bird,
    draw_dragon,
    draw_flower,
    draw_joker,
    sample_pictures,
)
from tilewitness.training.wear import HandStyle, handled, remixed, sample_hand, worn


@dataclass(frozen=True, slots=True)
class SetStyle:
    """All that is fixed for one physical set: its inks, every suit's artwork, and the room that it fills.

    Attributes:
        drawn: names of the faces that are pictures here; "red dragon" is one in most American sets.
        half, middle: half the size of the artwork's room and its middle, in pixels.
        sizes: parts of that room which bams, craks, dots, winds, dragons and the rest fill.
        panel: a colour that covers every face, where the set is made in colours.
        edging: an ink, and its width in pixels, that edges all other inks.
        border: thickness of a line around every face, as a part of its width; 0 for none.
    """

    inks: Inks
    dots: DotStyle
    bamboo: BambooStyle
    craks: CrakStyle
    honours: HonourStyle
    white: WhiteStyle
    index: IndexStyle
    hand: HandStyle
    pictures: PictureStyle
    drawn: frozenset[str]
    flower: Lettering
    half: Point
    middle: Point
    sizes: tuple[float, ...]
    red_fives: bool
    border: float
    panel: RGB | None
    edging: tuple[RGB, int] | None
    held_out: bool

    def draw(self, face: Face, rng: np.random.Generator, *, variant: int = 0) -> NDArray[np.uint8]:
        """Draw one tile's face: see `draw_face`."""
        return draw_face(face, self, rng, variant=variant)


def sample_style(rng: np.random.Generator, *, held_out: bool = False) -> SetStyle:
    """Fix one physical set; `held_out` sets use only families of artwork that the others never use."""
    index = sample_index(rng, held_out=held_out)
    half, middle = _sample_room(rng, index)
    inks, panel = sample_inks(rng), sample_panel(rng)
    if panel and panel[1]:
        inks = panel[1]
    return SetStyle(
        inks=inks,
        dots=sample_dots(rng, held_out=held_out),
        bamboo=sample_bamboo(rng, held_out=held_out),
        craks=sample_craks(rng, held_out=held_out),
        honours=sample_honours(rng, held_out=held_out),
        white=sample_white(rng, held_out=held_out, lettered=bool(index.place and index.honours and index.dragons[2])),
        index=index,
        hand=sample_hand(rng),
        flower=sample_lettering(rng, "chinese", "春夏秋冬梅菊竹", held_out=held_out),
        pictures=sample_pictures(rng, held_out=held_out),
        drawn=_sample_drawn(rng, inks, index),
        half=half,
        middle=middle,
        sizes=tuple(float(size) for size in rng.uniform(0.84, 1.0, 6)),
        red_fives=rng.random() < 0.1,
        border=float(rng.uniform(0.005, 0.03)) if rng.random() < 0.02 else 0.0,
        panel=panel[0] if panel else None,
        edging=(sample_edging(rng), int(rng.integers(1, 4))) if rng.random() < 0.03 else None,
        held_out=held_out,
    )


def _sample_drawn(rng: np.random.Generator, inks: Inks, index: IndexStyle) -> frozenset[str]:
    """Which faces are pictures. Dragons that share one picture need a redder ink on the red one, and letters where that is little."""
    drawn = {"joker"}
    if rng.random() < 0.95:
        drawn.add("1 bam")
    if rng.random() < 0.96:
        drawn.add("flower")
    lettered = bool(index.place) and index.honours
    redder = (inks.red[0] - inks.red[1]) - (inks.green[0] - inks.green[1])
    if rng.random() < 0.42 and redder > (0 if lettered else 90):
        drawn |= {"red dragon", "green dragon"}
        alone = min(np.linalg.norm(np.subtract(inks.green, ink)) for ink in (inks.blue, inks.black))
        if lettered and alone > 60 and rng.random() < 0.35:
            drawn.add("white dragon")
    return frozenset(drawn)


def _sample_room(rng: np.random.Generator, index: IndexStyle) -> tuple[Point, Point]:
    """Half the size of a set's artwork and its middle, in pixels: often smaller and shifted for an index."""
    scale = float(rng.triangular(0.66, 0.92, 1.0))
    if index.place and rng.random() < 0.75:
        scale *= 1.0 - 1.1 * max(index.height - 0.05, 0.0)
    half = WIDTH / 2 * scale * float(rng.uniform(0.86, 1.0)), HEIGHT / 2 * scale * float(rng.uniform(0.88, 1.0))
    x, y = 0.0, 0.0
    if index.place and rng.random() < 0.75:
        free_x, free_y = WIDTH / 2 - half[0] - 4, HEIGHT / 2 - half[1] - 4
        side = {"top left": 1, "both left": 0, "top right": -1, "bottom left": 1, "bottom right": -1}.get(index.place, 0)
        down = -1 if index.place.startswith("bottom") else 0 if index.place.startswith("both") else 1
        x, y = side * free_x * float(rng.uniform(0, 0.9)), down * free_y * float(rng.uniform(0, 0.9))
    return half, (WIDTH / 2 + x, HEIGHT / 2 + y)


def draw_face(face: Face, style: SetStyle, rng: np.random.Generator, *, variant: int = 0) -> NDArray[np.uint8]:
    """Draw one tile's face.

    Args:
        face: which of the 36.
        style: the physical set.
        rng: what differs from tile to tile: the unsteady hand, the wear.
        variant: 0 to 7 chooses among a set's different flowers and jokers.
    Returns:
        uint8 (256, 192, 4), straight-alpha RGBA, artwork upright, transparent where the bare
        body shows (nowhere in the rare set made in colours).
    """
    style = replace(style, inks=remixed(style.inks, style.hand, rng))
    board = Artboard()
    if face.name not in style.drawn:
        _draw_artwork(board, face, style, rng, variant)
    if style.border:
        inset = style.border * WIDTH + 2
        corners = np.array([(inset, inset), (WIDTH - inset, inset), (WIDTH - inset, HEIGHT - inset), (inset, HEIGHT - inset)])
        board.line(corners, style.border * WIDTH / 2, style.inks.black, closed=True)
    draw_index(board, face, style.index, style.inks, _own_ink(face, style), variant)
    drawing = board.shrunk()
    if face.name in style.drawn:
        drawing = laid_over(drawing, _picture(face, style, rng, variant))
    elif face.name == "white dragon" and style.white.dragon:
        drawing = laid_over(drawing, _framed_dragon(style, rng))
    if style.edging:
        drawing = laid_over(drawing, _edge(drawing, *style.edging))
    face_alone = worn(straight_alpha(handled(drawing, style.hand, rng)), style.hand, rng)
    if style.panel is None:
        return face_alone
    panel = np.full_like(face_alone, (*style.panel, 255))
    return laid_over(premultiplied(face_alone), panel)


def _edge(drawing: NDArray[np.uint8], ink: RGB, width: int) -> NDArray[np.uint8]:
    """What lies under a premultiplied drawing and shows all around it."""
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * width + 1, 2 * width + 1))
    alpha = np.asarray(cv2.dilate(drawing[:, :, 3], kernel), np.uint8)
    colour = np.full_like(drawing, (*ink, 255))
    colour[:, :, 3] = alpha
    return premultiplied(colour)


def _picture(face: Face, style: SetStyle, rng: np.random.Generator, variant: int) -> NDArray[np.uint8]:
    """A picture face, premultiplied, shrunk and moved into the set's room."""
    pictures, inks = style.pictures, style.inks
    if face.kind is Kind.FLOWER:
        picture = draw_flower(pictures, inks, rng, variant=variant)
    elif face.kind is Kind.JOKER:
        picture = draw_joker(pictures, inks, rng, variant=variant)
    elif face.kind is Kind.DRAGON:
        dragon: tuple[DragonFace, DragonFace, DragonFace] = ("red", "green", "white")
        picture = draw_dragon(pictures, inks, rng, face=dragon[face.index - 31])
    else:
        picture = draw_bird(pictures, inks, rng)
    scale = min(1.0, 1.08 * max(style.half[0] / (WIDTH / 2), style.half[1] / (HEIGHT / 2)))
    matrix = np.array([[scale, 0.0, 0.0], [0.0, scale, 0.0]])
    for axis, whole in enumerate((WIDTH, HEIGHT)):
        slack = (1 - scale) * whole + 4  # moved with the set's room, but not over the edge
        matrix[axis, 2] = np.clip(style.middle[axis] - scale * whole / 2, -4, slack)
    return np.asarray(cv2.warpAffine(premultiplied(picture), matrix, (WIDTH, HEIGHT), flags=cv2.INTER_AREA))


def _framed_dragon(style: SetStyle, rng: np.random.Generator) -> NDArray[np.uint8]:
    """The set's dragon, premultiplied and small enough to stand in the frame of its white one."""
    picture = draw_dragon(style.pictures, style.inks, rng, face="white")
    part = style.sizes[5] * 0.62
    scale = part * min(style.half[0] * style.white.reach[0] / (WIDTH / 2), style.half[1] * style.white.reach[1] / (HEIGHT / 2))
    move = np.array(style.middle) - np.array([WIDTH, HEIGHT]) * scale / 2
    matrix = np.array([[scale, 0.0, move[0]], [0.0, scale, move[1]]])
    return np.asarray(cv2.warpAffine(premultiplied(picture), matrix, (WIDTH, HEIGHT), flags=cv2.INTER_AREA))


def _draw_artwork(board: Artboard, face: Face, style: SetStyle, rng: np.random.Generator, variant: int) -> None:
    inks, group = style.inks, _group(face)
    if style.red_fives and face.number == 5 and rng.random() < 0.3:
        inks = Inks(inks.red, inks.red, inks.red, inks.red)  # the red fives of Japanese sets
    half = style.half[0] * style.sizes[group], style.half[1] * style.sizes[group]
    place = (rng, style.middle, half, style.hand.wobble)
    if face.kind is Kind.FLOWER:
        _draw_season(board, style, variant)
    elif group == 5:
        draw_white(board, style.white, inks, style.middle, half)
    elif group == 4:
        draw_dragon_character(board, face.index - 31, style.honours, inks, *place)
    elif group == 3:
        draw_wind(board, face.index - 27, style.honours, inks, *place)
    elif group == 2:
        draw_dots(board, face.number or 1, style.dots, inks, *place)
    elif group == 1:
        draw_crak(board, face.number or 1, style.craks, inks, *place)
    else:
        draw_bamboo(board, face.number or 1, style.bamboo, inks, *place)


def _group(face: Face) -> int:
    """0 to 2 for the suits, 3 for winds, 4 for red and green dragons, 5 for the rest: one size each in a set."""
    return min(face.index // 9, 2) if face.index < 27 else 3 if face.index < 31 else 4 if face.index < 33 else 5


def _draw_season(board: Artboard, style: SetStyle, variant: int) -> None:
    text = "春夏秋冬梅菊竹冬"[variant % 8]
    mask = character_mask(text, style.flower, style.half[0] * 2, style.half[1] * 1.6)
    board.stamp(mask, style.middle, ink_of(style.inks, "red" if variant < 4 else "green"))


def _own_ink(face: Face, style: SetStyle) -> InkName:
    """The ink of a face's main artwork."""
    if face.kind is Kind.DRAGON:
        return (*style.honours.dragon_inks, style.white.ink)[face.index - 31]
    if face.kind is Kind.WIND:
        return style.honours.wind_inks[face.index - 27]
    if face.suit is Suit.CRAK:
        return style.craks.wan_ink
    if face.number and face.suit is Suit.DOT:
        return style.dots.colours[face.number][0]
    return style.bamboo.colours[face.number][0] if face.number else "red"


def contact_sheet(seed: int, *, held_out: bool = False, rows: int = 12) -> NDArray[np.uint8]:
    """Return a BGR sheet of all 36 faces (two flowers and jokers more) for each of `rows` sets."""
    lines = []
    for row in range(rows):
        rng = np.random.default_rng((seed, row))
        style = sample_style(rng, held_out=held_out)
        body = np.array([rng.uniform(225, 250), rng.uniform(222, 248), rng.uniform(195, 240)])
        cells = [(face, 0) for face in FACES] + [(FACES[34], 4), (FACES[35], 4)]
        tiles = [_on_body(draw_face(face, style, rng, variant=variant), body) for face, variant in cells]
        lines.append(np.hstack(tiles[:19]))
        lines.append(np.hstack(tiles[19:]))
    return np.ascontiguousarray(np.vstack(lines)[:, :, ::-1])


def _on_body(face: NDArray[np.uint8], body: NDArray[np.float64]) -> NDArray[np.uint8]:
    alpha = face[:, :, 3:] / 255.0
    tile = face[:, :, :3] * alpha + body * (1 - alpha)
    small = cv2.resize(tile, (84, 112), interpolation=cv2.INTER_AREA)
    return np.pad(small, ((2, 2), (2, 2), (0, 0))).astype(np.uint8)


def main() -> None:
    """Write a contact sheet to look at."""
    parser = argparse.ArgumentParser(description="Draw a contact sheet of made-up sets.")
    parser.add_argument("--sheet", required=True, help="picture to write")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--rows", type=int, default=12, help="how many sets")
    parser.add_argument("--held-out", action="store_true", help="sets of the families kept from training")
    arguments = parser.parse_args()
    cv2.imwrite(arguments.sheet, contact_sheet(arguments.seed, held_out=arguments.held_out, rows=arguments.rows))


if __name__ == "__main__":
    main()
