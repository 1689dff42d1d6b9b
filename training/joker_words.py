"""The word on a joker: beside a picture or as the whole of it, in every way that letters stand on tiles."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from tilewitness.training.captions import (
    CORNERS,
    Lettering,
    arch,
    contour,
    fit,
    lettering,
    put_at_edge,
    put_in_corner,
    resize,
    stack,
    thicken,
    turn,
    wave,
)
from tilewitness.training.emblems import star
from tilewitness.training.engraving import HEIGHT, WIDTH, Canvas, Mask, curve, ellipse, pick, ribbon
from tilewitness.training.plates import Palette

# Common practice, no source; the Chinese ones mean a wild tile.
WORDS: Final = (
    ("JOKER",) * 15 + ("Joker",) * 4 + ("joker",) * 2 + ("BIG JOKER", "WILD", "百搭", "聽用", "飛", "財神")
)
PLACES: Final = (
    "top", "top", "top", "bottom", "bottom", "bottom", "left", "left", "right", "right", "diagonal", "both ends",
    "both ends", "both sides", "both sides", "corners", "arch", "arch", "across", "ribbon", "inside", "bowl",
)  # fmt: skip
_OVER: Final = ("diagonal", "across", "ribbon", "inside")


@dataclass(frozen=True, slots=True)
class Wording:
    """What a set writes on its jokers, and in which letters."""

    text: str
    letters: Lettering
    finish: str
    spacing: float

    def mask(self, text: str) -> Mask:
        """A text in these letters, 64 pixels high or more where it is short, plain, hollow or fat."""
        line = self.letters.mask(text, 64 if len(text) > 2 else 110, spacing=self.spacing)
        if self.finish == "hollow":
            return contour(line, 3)
        return thicken(line, 2) if self.finish == "fat" else line

    @property
    def line(self) -> Mask:
        """The whole wording in one line."""
        return self.mask(self.text)

    @property
    def characters(self) -> str:
        """The wording without spaces."""
        return self.text.replace(" ", "")


def sample_wording(rng: np.random.Generator, *, held_out: bool, texts: tuple[str, ...] = WORDS) -> Wording:
    """Draw a wording, most often JOKER; fall back on it where no family has the text."""
    for text in (pick(rng, texts), "JOKER"):
        letters = lettering(
            rng, "latin" if text.isascii() else "chinese", text.replace(" ", ""), held_out=held_out
        )
        if letters is not None:
            finish = str(rng.choice(["plain", "hollow", "fat"], p=[0.78, 0.12, 0.1]))
            return Wording(text, letters, finish, float(rng.choice([0.0, rng.uniform(2, 16)])))
    raise LookupError("No Latin family has the letters of JOKER.")


def draw_beside(
    canvas: Canvas, wording: Wording, place: str, palette: Palette, rng: np.random.Generator, *, needed: bool
) -> None:
    """Write the word at one of `PLACES` beside or over a picture; a `needed` word stands clear of its ink."""
    ink, margin = pick(rng, palette), rng.uniform(8, 12)
    if place in _OVER:
        _over(canvas, wording, place, ink, palette[-1], rng)
        return
    word = Canvas()
    long, tall = rng.uniform(0.55, 0.93), rng.uniform(26, 52)
    wide = fit(wording.line, long * WIDTH, tall)
    if place in ("top", "bottom"):
        put_at_edge(word, wide, place, margin, ink)
    elif place in ("left", "right", "both sides"):
        _at_sides(word, wording, place, ink, margin, rng)
    elif place == "both ends":
        put_at_edge(word, wide, "top", margin, ink)
        put_at_edge(word, turn(wide, 180) if rng.random() < 0.7 else wide, "bottom", margin, ink)
    elif place == "corners":
        _in_corners(word, wording, ink, margin, rng)
    else:
        rise = rng.uniform(0.12, 0.45)
        bent = fit(arch(wording.line, rise if place == "arch" else -rise), long * WIDTH, 90)
        put_at_edge(word, bent, "top" if place == "arch" else "bottom", margin, ink)
    letters = word.planes.max(axis=0)
    clear = 3 if needed or rng.random() < 0.5 else 0
    canvas.lay(
        word.planes, below=255 - thicken(letters, clear)[clear : clear + HEIGHT, clear : clear + WIDTH]
    )


def _at_sides(
    canvas: Canvas, wording: Wording, place: str, ink: str, margin: float, rng: np.random.Generator
) -> None:
    long, tall = rng.uniform(0.5, 0.93) * HEIGHT, rng.uniform(22, 44)
    upright = rng.random() < 0.45
    column = fit(stack([wording.mask(c) for c in wording.characters], rng.uniform(2, 14)), tall, long)
    turned = fit(wording.line, long, tall)
    same_way = rng.random() < 0.3
    for edge in ("left", "right") if place == "both sides" else (place,):
        angle = 90 if (edge == "left" or same_way) != (place != "both sides" and rng.random() < 0.3) else 270
        put_at_edge(canvas, column if upright else turn(turned, angle), edge, margin, ink)


def _in_corners(canvas: Canvas, wording: Wording, ink: str, margin: float, rng: np.random.Generator) -> None:
    """A small column or first letter in two opposite corners, one upside down, as on a playing card."""
    first = wording.mask(wording.characters[0])
    column = stack([wording.mask(c) for c in wording.characters], 6)
    small = fit(column, 30, rng.uniform(60, 120)) if rng.random() < 0.6 else fit(first, 30, 40)
    put_in_corner(canvas, small, CORNERS[0], margin, ink)
    put_in_corner(canvas, turn(small, 180), CORNERS[3], margin, ink)


def _over(
    canvas: Canvas, wording: Wording, place: str, ink: str, trim: str, rng: np.random.Generator
) -> None:
    """Across the picture: on a slope, on a ribbon, or cut out of it."""
    slope = rng.uniform(30, 60) * rng.choice([-1, 1]) if place == "diagonal" else rng.uniform(-8, 8)
    line = fit(wording.line, 220 if place == "diagonal" else 168, rng.uniform(24, 50))
    banner = fit(turn(line, slope), WIDTH - 12, HEIGHT - 12)
    centre = (WIDTH / 2 + rng.uniform(-6, 6), HEIGHT / 2 + rng.uniform(-60, 60) * (place != "diagonal"))
    if place == "ribbon":
        tall = banner.shape[0] / 2 + rng.uniform(5, 10)
        bend = curve(
            [
                [4, centre[1] + rng.uniform(-10, 10)],
                [WIDTH / 2, centre[1]],
                [WIDTH - 4, centre[1] + rng.uniform(-10, 10)],
            ],
            20,
        )
        band = ribbon(bend, np.full(20, 2 * tall))
        if rng.random() < 0.4:
            canvas.fill(band, ink)
            canvas.stamp(banner, centre, None)
            return
        canvas.shape(band, None, trim, rng.uniform(1.5, 4))
    elif place == "inside" and _dense(canvas, centre):
        canvas.stamp(banner, centre, None)
        return
    else:
        canvas.stamp(thicken(banner, int(rng.integers(3, 7))), centre, None)
    canvas.stamp(banner, centre, ink)


def _dense(canvas: Canvas, centre: tuple[float, float]) -> bool:
    """Whether there is enough ink around a point for a word cut out of it to be read."""
    y = round(centre[1])
    return bool(canvas.planes.max(axis=0)[y - 16 : y + 16, 40:-40].mean() > 170)


def draw_alone(canvas: Canvas, wording: Wording, palette: Palette, rng: np.random.Generator) -> None:
    """Draw the word as the whole picture."""
    ways = _ANY_LENGTH if len(wording.characters) < 4 else (*_ANY_LENGTH, *_LONG)
    pick(rng, ways)(canvas, wording, palette, rng)


def _flat(canvas: Canvas, wording: Wording, palette: Palette, rng: np.random.Generator) -> None:
    shape = resize(wording.line, rng.uniform(0.7, 0.94) * WIDTH, rng.uniform(36, 130))
    canvas.stamp(shape, (WIDTH / 2, HEIGHT / 2 + rng.uniform(-40, 40)), palette[0])
    _ornament(canvas, shape, palette, rng)


def _two_lines(canvas: Canvas, wording: Wording, palette: Palette, rng: np.random.Generator) -> None:
    """The word broken over two lines that fill the face, in one ink or two."""
    letters = wording.characters
    cut = (len(letters) + int(rng.integers(0, 2))) // 2
    parts = [wording.mask(letters[:cut]), wording.mask(letters[cut:])]
    height = rng.uniform(56, 104)
    same = height / max(part.shape[0] for part in parts)
    for k, part in enumerate(parts):
        wide = min(part.shape[1] * same, rng.uniform(0.72, 0.94) * WIDTH)
        y = HEIGHT / 2 + (k - 0.5) * (height + rng.uniform(4, 26))
        canvas.stamp(resize(part, wide, height), (WIDTH / 2, y), palette[k % len(palette)])


def _sideways(canvas: Canvas, wording: Wording, palette: Palette, rng: np.random.Generator) -> None:
    line = resize(wording.line, rng.uniform(0.6, 0.93) * HEIGHT, rng.uniform(40, 120))
    shape = turn(line, 90 if rng.random() < 0.5 else 270)
    canvas.stamp(shape, (WIDTH / 2 + rng.uniform(-24, 24), HEIGHT / 2), palette[0])
    _ornament(canvas, shape, palette, rng)


def _sloping(canvas: Canvas, wording: Wording, palette: Palette, rng: np.random.Generator) -> None:
    slope = rng.uniform(30, 62) * rng.choice([-1, 1])
    shape = fit(turn(resize(wording.line, 240, rng.uniform(40, 80)), slope), 0.94 * WIDTH, 0.94 * HEIGHT)
    canvas.stamp(shape, (WIDTH / 2, HEIGHT / 2), palette[0])


def _bent(canvas: Canvas, wording: Wording, palette: Palette, rng: np.random.Generator) -> None:
    bend: Callable[[Mask, float], Mask] = arch if rng.random() < 0.6 else wave
    shape = fit(bend(wording.line, rng.uniform(-0.5, 0.5)), 0.93 * WIDTH, 200)
    canvas.stamp(shape, (WIDTH / 2, HEIGHT / 2 + rng.uniform(-30, 30)), palette[0])
    _ornament(canvas, shape, palette, rng)


def _repeated(canvas: Canvas, wording: Wording, palette: Palette, rng: np.random.Generator) -> None:
    """Two to five times, one below the other, every second one perhaps upside down."""
    count, flipped = int(rng.choice([2, 2, 2, 3, 4, 5])), rng.random() < 0.6
    step = HEIGHT / (count + rng.uniform(0.1, 1))
    line = fit(wording.line, rng.uniform(0.6, 0.93) * WIDTH, step * rng.uniform(0.5, 0.85))
    for k in range(count):
        shape = turn(line, 180) if flipped and k >= count / 2 else line
        canvas.stamp(shape, (WIDTH / 2, HEIGHT / 2 + step * (k - (count - 1) / 2)), palette[k % len(palette)])


def _spelt(canvas: Canvas, wording: Wording, palette: Palette, rng: np.random.Generator) -> None:
    """The letters from top to bottom, in a column, from side to side or down a slope, in one ink or more."""
    letters = wording.characters
    step, many = (HEIGHT - 24) / len(letters), rng.random() < 0.4
    habit = rng.choice(["column", "zigzag", "slope"], p=[0.5, 0.3, 0.2])
    swing, lean = rng.uniform(20, 48), rng.uniform(60, 130) * rng.choice([-1, 1])
    wide, x0 = (
        rng.uniform(30, 110),
        WIDTH / 2 + (0 if habit != "column" else rng.choice([0, 0, rng.uniform(-50, 50)])),
    )
    wide = (
        min(wide, WIDTH - abs(lean) - 20)
        if habit == "slope"
        else min(wide, WIDTH - 2 * abs(x0 - WIDTH / 2) - 12)
    )
    for k, letter in enumerate(letters):
        shape = fit(wording.mask(letter), wide, step * 0.9)
        if habit == "zigzag":
            shape = turn(shape, float(rng.uniform(-20, 20)))
        side = swing * (-1) ** k * (habit == "zigzag") + lean * (k / max(len(letters) - 1, 1) - 0.5) * (
            habit == "slope"
        )
        canvas.stamp(
            shape, (x0 + side, 12 + step * (k + 0.5)), palette[k % len(palette)] if many else palette[0]
        )


def _beads(canvas: Canvas, wording: Wording, palette: Palette, rng: np.random.Generator) -> None:
    """Each letter in a disc, diamond or square of its own, bare in it or inked inside a line."""
    letters = wording.characters
    size = min(rng.uniform(34, 50), (HEIGHT - 16) / len(letters) * 1.02)
    step, sides, cut = (HEIGHT - 16) / len(letters), int(rng.choice([4, 4, 8, 30])), rng.random() < 0.5
    swing = rng.choice([0.0, rng.uniform(10, 50)])
    for k, letter in enumerate(letters):
        x, y = WIDTH / 2 + swing * (-1) ** k, 8 + step * (k + 0.5)
        outline = ellipse((x, y), size / 2, size / 2, np.pi / 4 if rng.random() < 0.9 else 0, n=sides)
        ink = palette[k % len(palette)]
        canvas.shape(outline, ink if cut else None, ink, 2)
        canvas.stamp(fit(wording.mask(letter), size * 0.6, size * 0.6), (x, y), None if cut else palette[-1])


def _growing(canvas: Canvas, wording: Wording, palette: Palette, rng: np.random.Generator) -> None:
    """A large first letter with the rest small beside or below it."""
    first = fit(wording.mask(wording.characters[0]), rng.uniform(60, 110), rng.uniform(120, 200))
    rest = wording.mask(wording.characters[1:])
    x = rng.uniform(50, 70)
    canvas.stamp(first, (x, HEIGHT * 0.45), palette[0])
    if rng.random() < 0.5:
        line = fit(rest, WIDTH - x - first.shape[1] / 2 - 14, 60)
        y = HEIGHT * 0.45 + rng.uniform(-0.3, 0.4) * first.shape[0]
        canvas.stamp(line, (x + first.shape[1] / 2 + 4 + line.shape[1] / 2, y), palette[-1])
    else:
        line = fit(rest, 0.8 * WIDTH, 40)
        canvas.stamp(
            line, (WIDTH / 2, min(HEIGHT * 0.45 + first.shape[0] / 2 + 26, HEIGHT - 26)), palette[-1]
        )


def _around(canvas: Canvas, wording: Wording, palette: Palette, rng: np.random.Generator) -> None:
    """The letters around a ring with a star or nothing inside."""
    letters = wording.characters
    radius, size = rng.uniform(58, 74), rng.uniform(30, 44)
    span = rng.uniform(1.2, 1.9) * np.pi
    for k, letter in enumerate(letters):
        angle = -np.pi / 2 + span * (k / (len(letters) - 1) - 0.5)
        shape = turn(fit(wording.mask(letter), size, size), float(-np.degrees(angle + np.pi / 2)))
        canvas.stamp(
            shape, (WIDTH / 2 + radius * np.cos(angle), HEIGHT / 2 + radius * np.sin(angle)), palette[0]
        )
    if rng.random() < 0.6:
        canvas.fill(star(WIDTH / 2, HEIGHT / 2, 34, int(rng.integers(4, 9)), 0.4), palette[-1])
    if rng.random() < 0.4:
        ring = ellipse((WIDTH / 2, HEIGHT / 2), radius + 20, radius + 20, n=60)
        canvas.line(ring, rng.uniform(2, 5), palette[-1], closed=True)


def _ornament(canvas: Canvas, word: Mask, palette: Palette, rng: np.random.Generator) -> None:
    """A box or ring around the word, or little stars above and below a flat one."""
    kind = rng.random()
    if kind < 0.15:
        h, w = word.shape[0] / 2 + 10, min(word.shape[1] / 2 + 8, 90)
        box = np.array([[-w, -h], [w, -h], [w, h], [-w, h]]) + [WIDTH / 2, HEIGHT / 2]
        canvas.line(box, rng.uniform(2, 5), palette[-1], closed=True)
    elif kind < 0.25:
        canvas.line(
            ellipse((WIDTH / 2, HEIGHT / 2), 90, 120, n=60), rng.uniform(2, 6), palette[-1], closed=True
        )
    elif kind < 0.45 and word.shape[0] < 110:
        for y in (36, HEIGHT - 36):
            for x in np.linspace(40, WIDTH - 40, int(rng.integers(1, 4))):
                canvas.fill(star(float(x), y, 15, 5, 0.42), palette[-1])


Way = Callable[[Canvas, Wording, Palette, np.random.Generator], None]
_ANY_LENGTH: Final[tuple[Way, ...]] = (_flat, _flat, _sloping, _repeated, _spelt, _spelt)
_LONG: Final[tuple[Way, ...]] = (_sideways, _sideways, _two_lines, _two_lines, _bent, _beads, _growing, _around)
