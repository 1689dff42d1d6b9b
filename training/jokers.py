"""Joker tiles: the word in every lettering, jesters, stars, masks, crowns, emblems, alone or together."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from tilewitness.training import plants, scenery
from tilewitness.training.birds import bird
from tilewitness.training.captions import (
    CORNERS,
    arch,
    contour,
    fit,
    lettering,
    put_at_edge,
    put_in_corner,
    resize,
    thicken,
    turn,
)
from tilewitness.training.copperplate import Box, Palette, engrave, sample_palette
from tilewitness.training.dragons import dragon, printed
from tilewitness.training.emblems import EMBLEMS, HELD_OUT
from tilewitness.training.engraving import HEIGHT, INKS, WIDTH, Canvas, Mask, ellipse, pick, warped
from tilewitness.training.fitting import panel, placed, sample_box
from tilewitness.training.icons import icon, icons
from tilewitness.training.pens import Pen

WORDS: Final = ("JOKER",) * 14 + ("Joker",) * 4 + ("joker", "joker", "BIG JOKER", "WILD", "百搭", "聽用", "飛", "財神")
# Round emblems that could pass for a 1 dot, and plain card suits, stand only beside the word.
_NEEDS_WORD: Final = ("sun", "moon", "yin", "compass", "octagram", "abstract", "barbed", "aztec", "star-swirl", "spade",
                      "heart", "club", "diamond", "maze", "fleur", "crystal", "sparkles", "six-pointed", "tent", "triple",
                      "money", "dice", "eight-pointed", "suit", "totem")  # fmt: skip


def joker(rng: np.random.Generator, *, held_out: bool) -> Canvas:
    """Draw one joker design."""
    canvas = Canvas()
    palette = sample_palette(rng)
    kind = str(rng.choice(["picture", "both", "word", "letter"], p=[0.24, 0.46, 0.25, 0.05]))
    if kind == "word":
        _word(canvas, palette, rng, held_out=held_out)
    elif kind == "letter":
        _letters_j(canvas, palette, rng, held_out=held_out)
    else:
        place = _sample_place(rng) if kind == "both" else None
        box = _room(rng, place)
        clear = _picture(canvas, palette, box, rng, held_out=held_out)
        if place is not None or not clear:
            _caption(canvas, place or _sample_place(rng), palette, rng, held_out=held_out)
    if rng.random() < 0.1:
        panel(canvas, pick(rng, INKS), rng)
    if rng.random() < 0.08:
        canvas.line(np.array([[7, 7], [185, 7], [185, 249], [7, 249]], float), rng.uniform(2, 6), palette[0], closed=True)
    return canvas


def _picture(canvas: Canvas, palette: Palette, box: Box, rng: np.random.Generator, *, held_out: bool) -> bool:
    """Draw a joker's picture; returns whether it says joker without the word."""
    draw = rng.random()
    if draw < 0.5:
        names = icons("jokers", held_out=held_out)
        name = pick(rng, names)
        engrave(canvas, icon("jokers", name), box, palette, rng)
        if rng.random() < 0.3:
            canvas.planes = warped(canvas.planes, rng, 5)
        return not any(part in name for part in _NEEDS_WORD)
    part = Canvas()
    if draw < 0.55:
        part = printed(dragon(rng, held_out=held_out), str(rng.choice(["red", "green", "white"])), rng)
    elif draw < 0.58:
        part = bird(rng, held_out=held_out)
    elif draw < 0.64:
        families = (*plants.HELD_OUT, *scenery.HELD_OUT) if held_out else (*plants.PLANTS, *scenery.SCENES)
        pick(rng, families)(Pen(part, palette, rng))
    else:
        family = pick(rng, HELD_OUT if held_out else EMBLEMS)
        family.draw(Pen(part, palette, rng))
        canvas.lay(placed(part, rng, box).planes)
        return family.says_joker
    canvas.lay(placed(part, rng, box).planes)
    return False


def _sample_place(rng: np.random.Generator) -> str:
    places = ["top", "bottom", "left", "right", "diagonal", "both ends", "both sides", "corners", "arch", "across"]
    return str(rng.choice(places, p=[0.17, 0.2, 0.12, 0.1, 0.08, 0.08, 0.06, 0.05, 0.09, 0.05]))


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


def _text(palette: Palette, rng: np.random.Generator, *, held_out: bool) -> tuple[str, Callable[[str], Mask]]:
    """A wording and its lettering, 64 pixels high, now and then hollow or fat."""
    words = [str(rng.choice(WORDS)), "JOKER"]
    for word in words:
        letters = lettering(rng, "latin" if word.isascii() else "chinese", word.replace(" ", ""), held_out=held_out)
        if letters is not None:
            break
    assert letters is not None
    finish = rng.choice(["plain", "hollow", "fat"], p=[0.78, 0.12, 0.1])
    spacing = rng.choice([0.0, rng.uniform(2, 16)])
    chosen = letters

    def mask(text: str) -> Mask:
        line = chosen.mask(text, 64, spacing=spacing)
        return contour(line, 3) if finish == "hollow" else thicken(line, 2) if finish == "fat" else line

    return word, mask


def _caption(canvas: Canvas, place: str, palette: Palette, rng: np.random.Generator, *, held_out: bool) -> None:
    """The word beside or over a picture."""
    word, mask = _text(palette, rng, held_out=held_out)
    ink, margin = pick(rng, palette), rng.uniform(8, 12)
    line = mask(word)
    long = rng.uniform(0.55, 0.93)
    tall = rng.uniform(24, 50)
    wide = fit(line, long * WIDTH, tall)
    high = fit(line, long * HEIGHT, tall * 0.9)
    column = fit(_stack([mask(c) for c in word if c != " "], rng.uniform(2, 14)), tall, long * HEIGHT)
    if place in ("top", "bottom"):
        put_at_edge(canvas, wide, place, margin, ink)
    elif place in ("left", "right"):
        side = column if rng.random() < 0.4 else turn(high, 90 if rng.random() < 0.5 else 270)
        put_at_edge(canvas, side, place, margin, ink)
    elif place == "both ends":
        put_at_edge(canvas, wide, "top", margin, ink)
        put_at_edge(canvas, turn(wide, 180) if rng.random() < 0.7 else wide, "bottom", margin, ink)
    elif place == "both sides":
        for edge, angle in (("left", 90), ("right", 270)):
            put_at_edge(canvas, turn(high, angle), edge, margin, ink)
    elif place == "corners":
        small = column if rng.random() < 0.6 or not word.isascii() else fit(mask(word[0]), 30, 40)
        small = fit(small, 30, 110)
        put_in_corner(canvas, small, CORNERS[0], margin, ink)
        put_in_corner(canvas, turn(small, 180), CORNERS[3], margin, ink)
    elif place == "arch":
        bent = fit(arch(line, rng.uniform(0.12, 0.4)), long * WIDTH, 80)
        put_at_edge(canvas, bent, "top", margin, ink)
    else:
        slope = rng.uniform(30, 60) * rng.choice([-1, 1]) if place == "diagonal" else rng.uniform(-8, 8)
        banner = fit(turn(fit(line, 220 if place == "diagonal" else 176, tall), slope), WIDTH - 12, HEIGHT - 12)
        centre = (WIDTH / 2 + rng.uniform(-8, 8), HEIGHT / 2 + rng.uniform(-20, 20))
        canvas.stamp(thicken(banner, int(rng.integers(3, 7))), centre, None)
        canvas.stamp(banner, centre, ink)


def _stack(pieces: list[Mask], gap: float) -> Mask:
    wide = max(piece.shape[1] for piece in pieces)
    rows: list[Mask] = []
    for piece in pieces:
        left = (wide - piece.shape[1]) // 2
        rows.append(np.pad(piece, ((0, round(gap)), (left, wide - piece.shape[1] - left))))
    return np.vstack(rows)


def _word(canvas: Canvas, palette: Palette, rng: np.random.Generator, *, held_out: bool) -> None:
    """The word as the whole picture."""
    word, mask = _text(palette, rng, held_out=held_out)
    ink = palette[0]
    way = str(rng.choice(["line", "column", "turned", "diagonal", "arch", "twice", "zigzag", "ring"]))
    if len(word) < 4 and way in ("zigzag", "ring", "arch"):
        way = "column"
    if way in ("column", "zigzag"):
        _spelt(canvas, word, mask, palette, rng, zigzag=way == "zigzag")
        return
    line = mask(word)
    if way == "ring":
        _ring(canvas, word, mask, palette, rng)
        return
    if way == "line":
        shape = resize(line, rng.uniform(0.7, 0.94) * WIDTH, rng.uniform(36, 130))
    elif way == "turned":
        shape = turn(resize(line, rng.uniform(0.6, 0.93) * HEIGHT, rng.uniform(40, 120)), 90 if rng.random() < 0.5 else 270)
    elif way == "arch":
        shape = fit(arch(line, rng.uniform(-0.5, 0.5)), 0.93 * WIDTH, 200)
    elif way == "twice":
        half = fit(line, rng.uniform(0.6, 0.93) * WIDTH, rng.uniform(30, 70))
        gap = rng.uniform(20, 70)
        canvas.stamp(half, (WIDTH / 2, HEIGHT / 2 - gap), ink)
        canvas.stamp(turn(half, 180) if rng.random() < 0.75 else half, (WIDTH / 2, HEIGHT / 2 + gap),
                     palette[-1])  # fmt: skip
        return
    else:
        slope = rng.uniform(35, 62) * rng.choice([-1, 1])
        shape = fit(turn(resize(line, 240, rng.uniform(40, 80)), slope), 0.94 * WIDTH, 0.94 * HEIGHT)
    canvas.stamp(shape, (WIDTH / 2, HEIGHT / 2 + rng.uniform(-25, 25) * (way == "line")), ink)
    _ornament(canvas, shape, palette, rng)


def _ornament(canvas: Canvas, word: Mask, palette: Palette, rng: np.random.Generator) -> None:
    """Lines around the word, or little stars above and below a flat one."""
    kind = rng.random()
    if kind < 0.15:
        h, w = word.shape[0] / 2 + 10, min(word.shape[1] / 2 + 8, 90)
        box = np.array([[-w, -h], [w, -h], [w, h], [-w, h]]) + [WIDTH / 2, HEIGHT / 2]
        canvas.line(box, rng.uniform(2, 5), palette[-1], closed=True)
    elif kind < 0.25:
        canvas.line(ellipse((WIDTH / 2, HEIGHT / 2), 90, 120, n=60), rng.uniform(2, 6), palette[-1], closed=True)
    elif kind < 0.45 and word.shape[0] < 110:
        for y in (40, HEIGHT - 40):
            for x in np.linspace(40, WIDTH - 40, int(rng.integers(1, 4))):
                points = ellipse((0, 0), 15, 15, n=10) * np.where(np.arange(10) % 2, 0.42, 1.0)[:, None]
                canvas.fill(points + [x, y], palette[-1])


def _spelt(
    canvas: Canvas, word: str, mask: Callable[[str], Mask], palette: Palette, rng: np.random.Generator, *, zigzag: bool
) -> None:
    """The letters one by one from top to bottom, in a column or from side to side, each in its own ink or all in one."""
    letters = [c for c in word if c != " "]
    step = (HEIGHT - 24) / len(letters)
    many = rng.random() < 0.4
    lean, swing = rng.uniform(-20, 20), rng.uniform(20, 48) if zigzag else 0.0
    wide = rng.uniform(30, 110)
    x0 = WIDTH / 2 + (0 if zigzag else rng.choice([0, 0, rng.uniform(-50, 50)]))
    for k, letter in enumerate(letters):
        shape = fit(mask(letter), wide, step * 0.9)
        if zigzag:
            shape = turn(shape, float(rng.uniform(-20, 20)))
        x = x0 + swing * (-1) ** k + lean * (k / (len(letters) - 1 or 1) - 0.5) * zigzag
        canvas.stamp(shape, (x, 12 + step * (k + 0.5)), palette[k % len(palette)] if many else palette[0])


def _ring(canvas: Canvas, word: str, mask: Callable[[str], Mask], palette: Palette, rng: np.random.Generator) -> None:
    """The letters around a ring with a star, a J or nothing inside."""
    letters = [c for c in word if c != " "]
    radius, size = rng.uniform(58, 74), rng.uniform(30, 44)
    span = rng.uniform(1.2, 1.9) * np.pi
    for k, letter in enumerate(letters):
        angle = -np.pi / 2 + span * (k / (len(letters) - 1) - 0.5)
        shape = turn(fit(mask(letter), size, size), float(-np.degrees(angle + np.pi / 2)))
        canvas.stamp(shape, (WIDTH / 2 + radius * np.cos(angle), HEIGHT / 2 + radius * np.sin(angle)), palette[0])
    if rng.random() < 0.6:
        points = ellipse((WIDTH / 2, HEIGHT / 2), 34, 34, n=10, turn=-np.pi / 2)
        star = (points - [WIDTH / 2, HEIGHT / 2]) * np.where(np.arange(10) % 2, 0.4, 1.0)[:, None] + [WIDTH / 2, HEIGHT / 2]
        canvas.fill(star, palette[-1])
    if rng.random() < 0.4:
        canvas.line(ellipse((WIDTH / 2, HEIGHT / 2), radius + 20, radius + 20, n=60), rng.uniform(2, 5), palette[-1], closed=True)


def _letters_j(canvas: Canvas, palette: Palette, rng: np.random.Generator, *, held_out: bool) -> None:
    """A single J, large, or one in two corners around an emblem."""
    letters = lettering(rng, "latin", "J", held_out=held_out)
    assert letters is not None
    mask = letters.mask("J", 120)
    if rng.random() < 0.5:
        canvas.stamp(fit(mask, rng.uniform(70, 150), rng.uniform(120, 220)), (WIDTH / 2, HEIGHT / 2), palette[0])
        return
    _picture(canvas, palette, (40, 60, 152, 196), rng, held_out=held_out)
    small = fit(mask, 34, rng.uniform(34, 52))
    put_in_corner(canvas, small, CORNERS[0], 10, palette[0])
    put_in_corner(canvas, turn(small, 180), CORNERS[3], 10, palette[0])

