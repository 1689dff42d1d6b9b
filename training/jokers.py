"""Joker tiles: the word in every lettering, jesters, stars, masks, crowns, emblems, alone or together."""

from __future__ import annotations

from typing import Final

import numpy as np

from tilewitness.training import plants, revellers, scenery
from tilewitness.training.birds import bird
from tilewitness.training.captions import CORNERS, fit, lettering, put_in_corner, turn
from tilewitness.training.copperplate import Box, engrave, sample_palette
from tilewitness.training.dragons import dragon, printed
from tilewitness.training.emblems import EMBLEMS, HELD_OUT
from tilewitness.training.engraving import HEIGHT, INKS, WIDTH, Canvas, ellipse, moved, pick, turned, warped
from tilewitness.training.fitting import panel, placed, sample_box
from tilewitness.training.icons import Category, icon, sample_icon
from tilewitness.training.joker_words import PLACES, draw_alone, draw_beside, sample_wording
from tilewitness.training.pens import Pen
from tilewitness.training.plates import Palette

# Round emblems that could pass for a 1 dot, and plain card suits, stand only beside the word.
_NEEDS_WORD: Final = ("sun", "moon", "yin", "compass", "octagram", "abstract", "barbed", "aztec", "star-swirl", "spade",
                      "heart", "club", "diamond", "maze", "fleur", "crystal", "sparkles", "six-pointed", "tent", "triple",
                      "money", "dice", "eight-pointed", "suit", "totem", "sharp-smile", "gluttonous", "formation", "wand",
                      "balloon", "party-pop", "confetti", "game-die", "dizzy", "shooting", "ringed", "robot", "alien",
                      "jack-o", "pumpkin", "chess", "card-k", "card-j", "card-random", "card_figure_jack", "card_figure_k",
                      "card_figure_q", "throne", "hat_0", "tophat", "sombrero", "fire_", "cartes", "palloncini",
                      "strong-man", "curtains", "cannonball", "skull", "abracadabra", "ghost")  # fmt: skip

REVELLERS: Final = 0.2
"""Share of the pictures that show one of the further figures."""

STICKERS: Final = 0.06
"""Share of the jokers that are stickers on old faces: common where a set has too few jokers. Common practice, no source."""


def joker(rng: np.random.Generator, *, held_out: bool) -> Canvas:
    """Draw one joker design."""
    canvas = Canvas()
    palette = sample_palette(rng)
    kind = str(rng.choice(["picture", "both", "word", "letter"], p=[0.10, 0.53, 0.32, 0.05]))
    wording = sample_wording(rng, held_out=held_out)
    if kind == "word":
        draw_alone(canvas, wording, palette, rng)
    elif kind == "letter":
        _letters_j(canvas, palette, rng, held_out=held_out)
    else:
        place = pick(rng, PLACES) if kind == "both" else None
        box = _room(rng, place)
        round_one = rng.random() < 0.15
        if round_one:
            box = _medallion(canvas, box, palette, rng)
        clear = _picture(canvas, palette, box, rng, held_out=held_out) and not round_one
        if not clear and not wording.text.isascii():
            wording = sample_wording(rng, held_out=held_out, texts=("JOKER",))
        if place is not None or not clear:
            draw_beside(canvas, wording, place or pick(rng, PLACES), palette, rng, needed=not clear)
    if rng.random() < STICKERS:
        return _sticker(canvas, rng, held_out=held_out)
    if rng.random() < 0.1:
        panel(canvas, pick(rng, INKS), rng)
    if rng.random() < 0.08:
        canvas.line(
            np.array([[7, 7], [185, 7], [185, 249], [7, 249]], float),
            rng.uniform(2, 6),
            palette[0],
            closed=True,
        )
    return canvas


def _sticker(canvas: Canvas, rng: np.random.Generator, *, held_out: bool) -> Canvas:
    """The joker on a sticker, white or tinted, stuck a little askew over a face whose edges may still look out."""
    below = Canvas()
    if rng.random() < 0.6:
        name = sample_icon(rng, "flowers", held_out=held_out)
        engrave(
            below, icon("flowers", name), (4, 4, WIDTH - 4, HEIGHT - 4), sample_palette(rng), rng
        )
    half, middle = (
        np.array([WIDTH, HEIGHT]) * rng.uniform(0.36, 0.46),
        np.array([WIDTH, HEIGHT]) / 2 + rng.normal(0, 4, 2),
    )
    turn_by = float(rng.normal(0, 0.05))
    corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half
    paper = (
        turned(corners if rng.random() < 0.7 else ellipse((0, 0), half[0], half[1], n=48), turn_by) + middle
    )
    below.fill(paper, None)
    tint = pick(rng, INKS) if rng.random() < 0.6 else None
    if tint:
        below.fill(paper, tint, rng.uniform(0.08, 0.4))
    if rng.random() < 0.6:
        below.line(paper, rng.uniform(1.5, 4), pick(rng, INKS), closed=True)
    scale = half[1] * 1.8 / HEIGHT
    c, s = scale * np.cos(turn_by), scale * np.sin(turn_by)
    matrix = np.array(
        [
            [c, -s, middle[0] - c * WIDTH / 2 + s * HEIGHT / 2],
            [s, c, middle[1] - s * WIDTH / 2 - c * HEIGHT / 2],
        ]
    )
    art = moved(canvas.planes, matrix)
    below.lay(art, below=255 - art.max(axis=0))
    return below


def _picture(canvas: Canvas, palette: Palette, box: Box, rng: np.random.Generator, *, held_out: bool) -> bool:
    """Draw a joker's picture; returns whether it says joker without the word."""
    later = rng.spawn(1)[0]  # a stream of its own: the jokers that were there before stay what they were
    if later.random() < REVELLERS:
        figure, part = pick(later, revellers.HELD_OUT if held_out else revellers.FAMILIES), Canvas()
        figure(Pen(part, palette, later))
        canvas.lay(placed(part, later, box).planes)
        return figure not in revellers.NEED_WORD
    draw = rng.random()
    if draw < 0.47:
        name = sample_icon(rng, "jokers", held_out=held_out)
        engrave(canvas, icon("jokers", name), box, palette, rng)
        if rng.random() < 0.3:
            canvas.planes = warped(canvas.planes, rng, 5)
        return not any(part in name for part in _NEEDS_WORD)
    part = Canvas()
    if draw < 0.55:
        part = printed(dragon(rng, held_out=held_out), str(rng.choice(["red", "green", "white"])), rng)
    elif draw < 0.56:
        part = bird(rng, held_out=held_out)
    elif draw < 0.575:
        category: Category = "flowers" if rng.random() < 0.5 else "scenes"
        engrave(part, icon(category, sample_icon(rng, category, held_out=held_out)), box, palette, rng)
    elif draw < 0.595:
        families = (*plants.HELD_OUT, *scenery.HELD_OUT) if held_out else (*plants.PLANTS, *scenery.SCENES)
        pick(rng, families)(Pen(part, palette, rng))
    else:
        family = pick(rng, HELD_OUT if held_out else EMBLEMS)
        family.draw(Pen(part, palette, rng))
        canvas.lay(placed(part, rng, box).planes)
        return family.says_joker
    canvas.lay(placed(part, rng, box).planes)
    return False


def _medallion(canvas: Canvas, box: Box, palette: Palette, rng: np.random.Generator) -> Box:
    """Draw one or two rings or a disc into a box; returns the box for a picture inside."""
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    radius = min(box[2] - box[0], box[3] - box[1]) / 2
    if rng.random() < 0.2:
        canvas.fill(ellipse((x, y), radius, radius, n=60), palette[-1], rng.uniform(0.25, 0.6))
    for share in (1.0, 0.9)[: rng.integers(1, 3)]:
        ring = ellipse((x, y), radius * share, radius * share, n=60)
        canvas.line(ring, rng.uniform(2, 7), palette[0], closed=True)
    inner = radius * rng.uniform(0.66, 0.78)
    return x - inner, y - inner, x + inner, y + inner


def _room(rng: np.random.Generator, place: str | None) -> Box:
    x0, y0, x1, y1 = sample_box(rng)
    if place in ("top", "both ends", "arch"):
        y0 = max(y0, rng.uniform(34, 62))
    if place in ("bottom", "both ends"):
        y1 = min(y1, HEIGHT - rng.uniform(34, 60))
    if place in ("left", "both sides"):
        x0 = max(x0, rng.uniform(28, 46))
    if place in ("right", "both sides"):
        x1 = min(x1, WIDTH - rng.uniform(28, 46))
    return x0, y0, x1, y1


def _letters_j(canvas: Canvas, palette: Palette, rng: np.random.Generator, *, held_out: bool) -> None:
    """A single J, large, or one in two corners around an emblem."""
    letters = lettering(rng, "latin", "J", held_out=held_out)
    assert letters is not None
    mask = letters.mask("J", 120)
    if rng.random() < 0.5:
        canvas.stamp(
            fit(mask, rng.uniform(70, 150), rng.uniform(120, 220)), (WIDTH / 2, HEIGHT / 2), palette[0]
        )
        return
    _picture(canvas, palette, (40, 60, 152, 196), rng, held_out=held_out)
    small = fit(mask, 34, rng.uniform(34, 52))
    put_in_corner(canvas, small, CORNERS[0], 10, palette[0])
    put_in_corner(canvas, turn(small, 180), CORNERS[3], 10, palette[0])
