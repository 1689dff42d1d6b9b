"""Things in rows that are no tiles: dominoes, keys, lettered and numbered pieces, dice, cards, chocolate, switches.

A family draws equal pieces of one material. They lie about in scenes, where the finder learns to pass over
them, and fill rows of the reader's sheets, where they teach "no face". The photos without tiles that measure
this (`tileless.py`) are drawn by other code.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import cv2
import numpy as np

from tilewitness.training.clutter import card_face
from tilewitness.training.decoys import snapshot, write_on
from tilewitness.training.glyphs import draw_text, families
from tilewitness.training.solids import Colour, Floats, Image, pixel
from tilewitness.training.surfaces import colour, noise, sample_surface, tinted, wood

UNLIKE_TILES = "ABDHIKLMOPQTUVXYZabdhkmqrty"
"""Single letters: none that stands alone on the tile of a wind, a dragon, a flower or a joker."""

PIPS = (
    (), (4,), (0, 8), (0, 4, 8), (0, 2, 6, 8), (0, 2, 4, 6, 8), (0, 2, 3, 5, 6, 8),
    (0, 2, 3, 4, 5, 6, 8), (0, 1, 2, 3, 5, 6, 7, 8), (0, 1, 2, 3, 4, 5, 6, 7, 8),
)  # fmt: skip
"""Places of 0 to 9 pips on a square of three by three: sets of dominoes end at double six, nine or twelve."""

TWELVE = 12
"""Pips above nine stand in three rows of four."""


@dataclass(frozen=True, slots=True)
class Family:
    """Pieces that belong together.

    Attributes:
        draw: paints one piece of (height, width) pixels.
        tall: its height over its width. thick: its thickness over its width. gap: usual gap over its width.
        halves: it falls into two squares, of which each may be taken for a tile.
        like_art: it shows a picture, as flowers and jokers do: not for the reader.
    """

    draw: Callable[[np.random.Generator, int, int], Image]
    tall: float = 1.0
    thick: float = 0.3
    gap: float = 0.1
    halves: bool = False
    like_art: bool = False


def _ground(rng: np.random.Generator, tone: Colour, h: int, w: int) -> Image:
    """A piece of one colour, a little lighter at one side, with a shaded edge."""
    light = 1 + rng.uniform(0, 0.03) * noise(rng, (h, w), 20, 2) + np.linspace(-0.04, 0.04, h)[:, None]
    return tinted(tone, light)


def _edged(image: Image, tone: Colour, width: int) -> Image:
    """Outline a piece."""
    h, w = image.shape[:2]
    cv2.rectangle(image, (0, 0), (w - 1, h - 1), tone, width)
    return image


def _darker(tone: Colour, share: float) -> Colour:
    b, g, r = tone
    return b * share, g * share, r * share


def _pip_square(
    image: Image, count: int, ink: Colour, ring: Colour | None, radius: float, spread: float, thick: int = -1
) -> None:
    """Paint pips on a square image as dominoes and dice carry them; `thick` lines make them hollow."""
    side = min(image.shape[:2])
    if count < len(PIPS):
        places = [(place % 3 - 1.0, place // 3 - 1.0) for place in PIPS[count]]
    else:  # twelve, and less those at the middle for ten and eleven
        places = [(column - 1.0, (row - 1.5) * 0.75) for row in range(4) for column in range(3)]
        places = [place for i, place in enumerate(places) if i not in ((), (4,), (4, 7))[TWELVE - count]]
    if count > 6:
        radius = min(radius, 0.09)
    for place in places:
        at = side * (0.5 + spread * np.array(place))
        cv2.circle(image, pixel(at), max(1, round(radius * side)), ink, thick, cv2.LINE_AA)
        if ring is not None:
            cv2.circle(image, pixel(at), max(1, round(radius * side)), ring, max(1, side // 60), cv2.LINE_AA)


def _contrasting(rng: np.random.Generator, tone: Colour) -> Colour:
    """An ink that shows on this ground: dark on light, light on dark, grey or coloured."""
    if sum(tone) > 380:
        return colour(rng, (0, 1) if rng.random() < 0.5 else (0, 0.1), (0, 0.45))
    return colour(rng, (0, 0.9) if rng.random() < 0.3 else (0, 0.1), (0.75, 1))


def _tone(rng: np.random.Generator) -> Colour:
    """The colour of a piece: ivory, black, or any."""
    kind = rng.random()
    if kind < 0.4:
        return colour(rng, (0, 0.25), (0.8, 1), hue=0.12)
    return colour(rng, (0, 0.3), (0.03, 0.25)) if kind < 0.65 else colour(rng, (0, 0.95), (0.2, 0.95))


def dominoes(rng: np.random.Generator) -> Family:
    """Two squares of up to twelve equal pips, and a line between them."""
    tone, most = _tone(rng), int(rng.choice([3, 6, 6, 9, 9, TWELVE]))
    alike = rng.random() < 0.6
    inks = [_contrasting(rng, tone)] * (most + 1) if alike else [_contrasting(rng, tone) for _ in range(most + 1)]
    hollow = rng.random() < 0.25
    ring = _darker(tone, 0.7) if rng.random() < 0.3 else None
    radius, spread, line = rng.uniform(0.07, 0.125), rng.uniform(0.24, 0.3), rng.uniform(0.015, 0.07)
    inset, stud = rng.uniform(0, 0.25), rng.random() < 0.4
    lying = rng.random() < 0.4

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        side, long = min(h, w), max(h, w)
        face = _ground(rng, tone, long, side)
        for top in (0, long - side):
            count = int(rng.integers(0, most + 1))
            thick = max(1, side // 40) if hollow else -1
            _pip_square(face[top : top + side], count, inks[count], ring, radius, spread, thick)
        middle = long / 2
        ends = (np.array([inset * side, middle]), np.array([(1 - inset) * side, middle]))
        cv2.line(face, pixel(ends[0]), pixel(ends[1]), inks[0], max(1, round(line * side)), cv2.LINE_AA)
        if stud:
            cv2.circle(face, pixel((ends[0] + ends[1]) / 2), max(1, round(0.06 * side)), (60, 150, 190), -1, cv2.LINE_AA)
        face = _edged(face, _darker(tone, 0.75), max(1, side // 40))
        return face if h > w else np.asarray(np.rot90(face), np.uint8).copy()

    return Family(draw, 0.5 if lying else 2.0, rng.uniform(0.15, 0.45), rng.choice([0.01, rng.uniform(0, 0.3)]), True)


def dice(rng: np.random.Generator) -> Family:
    """Squares of pips."""
    tone = _tone(rng)
    ink = _contrasting(rng, tone)
    radius, spread = rng.uniform(0.07, 0.12), rng.uniform(0.22, 0.29)

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = _ground(rng, tone, h, w)
        _pip_square(face, int(rng.integers(1, 7)), ink, None, radius, spread)
        return _edged(face, _darker(tone, 0.8), max(1, w // 30))

    return Family(draw, 1.0, 1.0, rng.uniform(0.02, 1))


def _sign(rng: np.random.Generator, image: Image, text: str, family: str, size: float, at: Floats, ink: Colour) -> None:
    """Print a text with its middle at a share of the picture's sides."""
    mask = draw_text(text, family, max(3.0, size))
    x, y = at * image.shape[1::-1] - np.array(mask.shape[::-1]) / 2
    write_on(image, mask, (round(float(x)), round(float(y))), ink)


def _letter(rng: np.random.Generator) -> str:
    return str(rng.choice(list(UNLIKE_TILES)))


def keys(rng: np.random.Generator) -> Family:
    """Keycaps of keyboards, calculators, telephones and remote controls: a sloping cap with a sign or two."""
    tone = colour(rng, (0, 0.2), (0.03, 0.3)) if rng.random() < 0.55 else colour(rng, (0, 0.3), (0.6, 1))
    ink = _contrasting(rng, tone)
    family = str(rng.choice(families("latin")))
    size, corner = rng.uniform(0.2, 0.55), rng.random() < 0.5
    slope, second = rng.uniform(0.04, 0.18), rng.random() < 0.4
    tall = float(rng.choice([1.0, rng.uniform(0.6, 1.3)]))

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = _ground(rng, _darker(tone, 0.75), h, w)
        low = np.array([slope * w, 0.6 * slope * h])
        cv2.rectangle(face, pixel(low), pixel(np.array([w, h]) - low * (1, 1.8)), tone, -1, cv2.LINE_AA)
        kind = rng.random()
        text = _letter(rng) if kind < 0.6 else str(rng.integers(10)) if kind < 0.8 else "".join(_letter(rng) for _ in range(3))
        place = np.array([0.35, 0.33] if corner else [0.5, 0.47], np.float32)
        if rng.random() < 0.93:
            share = size * min(h, w) * (0.55 if len(text) > 1 else 1)
            _sign(rng, face, text, family, share, place, ink)
            if second:
                _sign(rng, face, _letter(rng), family, 0.6 * share, np.array([0.66, 0.68], np.float32), ink)
        return face

    return Family(draw, tall, rng.uniform(0.05, 0.4), rng.uniform(0.03, 0.3))


def lettered_squares(rng: np.random.Generator) -> Family:
    """Wooden or plastic squares of a word game: a capital letter and a small number below it."""
    base = colour(rng, (0.2, 0.6), (0.5, 0.95), hue=rng.uniform(0.06, 0.12)) if rng.random() < 0.75 else _tone(rng)
    ink = _contrasting(rng, base)
    family, size = str(rng.choice(families("latin"))), rng.uniform(0.4, 0.6)
    tall = rng.uniform(1.0, 1.1)

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = wood(rng, (h, w), base)
        _sign(rng, face, _letter(rng), family, size * w, np.array([0.47, 0.47], np.float32), ink)
        if rng.random() < 0.9:
            small = str(rng.integers(1, 11))
            _sign(rng, face, small, family, 0.17 * w, np.array([0.82, 0.82], np.float32), ink)
        return _edged(face, _darker(base, 0.7), max(1, w // 40))

    return Family(draw, tall, rng.uniform(0.2, 0.35), rng.choice([0.01, rng.uniform(0, 0.4)]))


def cards(rng: np.random.Generator) -> Family:
    """Playing cards, apart or each half under the next."""
    return Family(
        lambda rng, h, w: np.asarray(cv2.resize(card_face(rng), (w, h), interpolation=cv2.INTER_AREA), np.uint8),
        1.4,
        0.015,
        rng.uniform(-0.6, 0.5),
    )


def cells(rng: np.random.Generator) -> Family:
    """Cells of a calendar, a crossword, a table or a price list: thin lines, small print or none."""
    tone = colour(rng, (0, 0.2), (0.75, 1))
    ink, rule = _contrasting(rng, tone), colour(rng, (0, 0.5), (0, 0.7))
    family, size = str(rng.choice(families("latin"))), rng.uniform(0.15, 0.45)
    black, numbers = rng.choice([0.0, 0.25]), rng.random() < 0.6
    place = rng.choice([0.25, 0.5], 2).astype(np.float32)

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = _ground(rng, _darker(tone, 0.1) if rng.random() < black else tone, h, w)
        if rng.random() < 0.93:
            text = str(rng.integers(10, 100)) if numbers else _letter(rng)
            _sign(rng, face, text, family, size * min(h, w), place, ink)
        return _edged(face, rule, max(1, min(h, w) // 50))

    return Family(draw, float(rng.choice([1.0, rng.uniform(0.5, 1.5)])), 0.02, 0.0)


def plain_pieces(rng: np.random.Generator) -> Family:
    """Plain pieces: backs of tiles, bathroom tiles, bricks, pieces of chocolate, blank keys, blocks of wood."""
    tone, edge = _tone(rng), rng.uniform(0.6, 1.2)
    raised = rng.uniform(0, 0.2) if rng.random() < 0.5 and sum(tone) < 520 else 0.0  # a pale frame may be a soap
    wooden = rng.random() < 0.2

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        shade = _darker(tone, rng.uniform(0.9, 1.05))
        face = wood(rng, (h, w), shade) if wooden else _ground(rng, shade, h, w)
        if raised:
            inner = np.array([raised * w, raised * w])
            cv2.rectangle(face, pixel(inner), pixel((w, h) - inner), _darker(tone, edge), max(1, w // 40), cv2.LINE_AA)
        return _edged(face, _darker(tone, 0.7), max(1, w // 40))

    return Family(draw, rng.uniform(0.4, 1.6), rng.uniform(0.1, 0.8), rng.uniform(0, 0.12))


def layered(rng: np.random.Generator) -> Family:
    """Pieces in two or three bands, as the sides of tiles, sandwiches, boxes with lids, and piano keys."""
    tones = [colour(rng, (0, 0.25), (0.8, 1), hue=0.12), colour(rng, (0.2, 0.95), (0.1, 0.8)), _tone(rng)]
    cuts = np.sort(rng.uniform(0.1, 0.9, int(rng.integers(1, 3))))
    tones = [tones[i] for i in rng.permutation(3)]
    along = rng.random() < 0.25

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = _ground(rng, tones[0], h, w)
        for tone, cut in zip(tones[1:], cuts, strict=False):
            low = np.array([cut * w, 0] if along else [0, cut * h])
            cv2.rectangle(face, pixel(low), (w, h), tone, -1)
        return _edged(face, _darker(tones[0], 0.6), max(1, w // 40))

    return Family(draw, rng.uniform(0.5, 2), rng.uniform(0.2, 1), rng.uniform(0, 0.1))


def icons(rng: np.random.Generator) -> Family:
    """Icons of a telephone's or a computer's screen: bright squares with a simple figure, on a dark or bright ground."""
    ground = colour(rng, (0, 0.6), (0, 1))
    inset = rng.uniform(0.05, 0.2)

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = _ground(rng, ground, h, w)
        tone = colour(rng, (0.3, 1), (0.4, 1))
        low, high = np.array([w, h]) * inset, np.array([w, h]) * (1 - inset)
        cv2.rectangle(face, pixel(low), pixel(high), tone, -1)
        points = rng.uniform(0.3, 0.7, (int(rng.integers(3, 7)), 2)) * (w, h)
        cv2.fillPoly(face, [np.asarray(points, np.int32)], _contrasting(rng, tone), cv2.LINE_AA)
        return face

    return Family(draw, rng.uniform(0.9, 1.3), 0.02, 0.0, like_art=True)


def coins(rng: np.random.Generator) -> Family:
    """Coins, buttons and chips: a disc of metal or plastic with a rim and some sign, on whatever lies below."""
    metal = colour(rng, (0.05, 0.6), (0.35, 0.85), hue=float(rng.choice([0.08, 0.12, 0.6])))
    tone = metal if rng.random() < 0.7 else colour(rng)
    ground, holes = sample_surface(rng), rng.random() < 0.3
    family = str(rng.choice(families("latin")))

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        y, x = rng.integers(0, ground.shape[0] - min(h, 600)), rng.integers(0, ground.shape[1] - min(w, 600))
        face = np.asarray(cv2.resize(ground[y : y + h, x : x + w], (w, h)), np.uint8)
        middle, radius = np.array([w, h]) / 2, min(h, w) * rng.uniform(0.4, 0.49)
        cv2.circle(face, pixel(middle + radius * 0.05), round(radius), _darker(tone, 0.4), -1, cv2.LINE_AA)
        cv2.circle(face, pixel(middle), round(radius), tone, -1, cv2.LINE_AA)
        cv2.circle(face, pixel(middle), round(0.88 * radius), _darker(tone, 0.75), max(1, w // 40), cv2.LINE_AA)
        if holes:
            for turn in (0.8, 2.4, 3.9, 5.5):
                at = middle + 0.3 * radius * np.array([np.cos(turn), np.sin(turn)])
                cv2.circle(face, pixel(at), max(1, round(0.1 * radius)), _darker(tone, 0.2), -1, cv2.LINE_AA)
        else:
            sign = str(rng.choice(["1", "2", "5", "10", "20", "50", "25", "100"]))
            _sign(rng, face, sign, family, 0.7 * radius, np.array([0.5, 0.5], np.float32), _darker(tone, 0.55))
        return face

    return Family(draw, 1.0, 0.03, 0.0)


def panes(rng: np.random.Generator) -> Family:
    """Windows: a frame, bars, and a gleam on dark or bright glass."""
    frame, glass = colour(rng, (0, 0.4), (0.1, 1)), colour(rng, (0, 0.5), (0.05, 0.8))
    rows, columns, thick = int(rng.integers(1, 4)), int(rng.integers(1, 3)), rng.uniform(0.03, 0.1)

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = _ground(rng, _darker(glass, rng.uniform(0.6, 1.2)), h, w)
        y, x = np.mgrid[:h, :w]
        gleam = ((x + y) % max(2, int(0.8 * w)) < 0.2 * w)[..., None]
        face = np.where(gleam, np.minimum(face.astype(int) + 25, 255), face).astype(np.uint8)
        bar = max(1, round(thick * w))
        for i in range(rows + 1):
            cv2.line(face, (0, i * h // rows), (w, i * h // rows), frame, bar)
        for i in range(columns + 1):
            cv2.line(face, (i * w // columns, 0), (i * w // columns, h), frame, bar)
        return face

    return Family(draw, rng.uniform(0.9, 2.2), 0.05, rng.uniform(0.1, 0.8))


def books(rng: np.random.Generator) -> Family:
    """Spines on a shelf: narrow, of all colours, with a title along them."""
    tall = rng.uniform(3, 6)

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        tone = colour(rng)
        face = np.ascontiguousarray(np.rot90(_ground(rng, tone, h, w)))
        title = "".join(rng.choice(list("ABDEGHILMNORSTUV "), int(rng.integers(5, 14)))).strip() or "A"
        middle = np.array([0.5, 0.5], np.float32)
        _sign(rng, face, title, str(rng.choice(families("latin"))), rng.uniform(0.3, 0.5) * w, middle, _contrasting(rng, tone))
        return _edged(np.ascontiguousarray(np.rot90(face, -1)), _darker(tone, 0.6), 1)

    return Family(draw, tall, 1.0, 0.01)


def pictures(rng: np.random.Generator) -> Family:
    """Stamps and framed pictures."""
    frame, margin = colour(rng, (0, 0.5), (0.1, 1)), rng.uniform(0.04, 0.15)
    views = [snapshot(rng) for _ in range(2)]

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        x, y = rng.integers(0, 300, 2)
        part = views[int(rng.integers(2))][y : y + 340, x : x + 340]
        face = cv2.resize(part, (w, h), interpolation=cv2.INTER_AREA)
        return _edged(np.asarray(face, np.uint8), frame, max(1, round(margin * w)))

    return Family(draw, rng.uniform(0.6, 1.5), 0.05, rng.uniform(0.05, 0.5), like_art=True)


def numbered(rng: np.random.Generator) -> Family:
    """Pieces that show a number and at most a mark: of games that are played from racks as well."""
    tone = colour(rng, (0, 0.25), (0.8, 1), hue=0.12) if rng.random() < 0.75 else _tone(rng)
    inks = [_contrasting(rng, tone) for _ in range(int(rng.integers(1, 6)))]
    family, size = str(rng.choice(families("latin"))), rng.uniform(0.3, 0.65)
    middle, most = np.array([0.5, rng.uniform(0.3, 0.5)], np.float32), int(rng.choice([9, 13, 15, 30, 100]))
    mark, twice = str(rng.choice(["", "disc", "bar", "dish", "diamond"])), rng.random() < 0.15

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face, ink = _ground(rng, tone, h, w), inks[int(rng.integers(len(inks)))]
        at, reach = np.array([0.5 * w, rng.uniform(0.74, 0.8) * h]), rng.uniform(0.08, 0.16) * w
        if mark == "dish":  # a hollow for the thumb
            cv2.circle(face, pixel(at), round(1.3 * reach), _darker(tone, 0.88), -1, cv2.LINE_AA)
        elif mark == "disc":
            cv2.circle(face, pixel(at), round(reach), ink, -1, cv2.LINE_AA)
        elif mark == "bar":
            cv2.line(face, pixel(at - (2 * reach, 0)), pixel(at + (2 * reach, 0)), ink, max(1, w // 24), cv2.LINE_AA)
        elif mark == "diamond":
            corners = at + reach * np.array([(0, -1.3), (1, 0), (0, 1.3), (-1, 0)])
            cv2.fillPoly(face, [np.asarray(np.round(corners), np.int32)], ink, cv2.LINE_AA)
        number = str(rng.integers(1, most + 1))
        _sign(rng, face, number, family, size * w, middle, ink)
        if twice:
            face = np.ascontiguousarray(face[::-1, ::-1])
            _sign(rng, face, number, family, 0.3 * size * w, np.array([0.16, 0.1], np.float32), ink)
        return _edged(face, _darker(tone, 0.75), max(1, w // 40))

    return Family(draw, rng.uniform(1.1, 1.6), rng.uniform(0.15, 0.5), rng.choice([0.01, rng.uniform(0, 0.3)]))


def cushions(rng: np.random.Generator) -> Family:
    """Raised pieces in a mould's light: chocolate, sweets, soap, quilted things, with a relief or bare."""
    tone = colour(rng, (0.4, 0.85), (0.12, 0.5), hue=rng.uniform(0.02, 0.08)) if rng.random() < 0.6 else _tone(rng)
    rim, depth, angle = rng.uniform(0.05, 0.3), rng.uniform(0.15, 0.6), rng.uniform(0, 2 * np.pi)
    family, text = str(rng.choice(families("latin"))), "".join(_letter(rng) for _ in range(int(rng.integers(1, 4))))
    relief = rng.random() < 0.4

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        y, x = np.mgrid[:h, :w].astype(np.float32)
        inwards = np.minimum(np.minimum(x, w - 1 - x), np.minimum(y, h - 1 - y)) / (rim * min(h, w))
        height = np.sin(np.clip(inwards, 0, 1) * np.pi / 2) * rim * min(h, w)
        if relief:
            stamp = np.zeros((h, w, 3), np.uint8)
            _sign(rng, stamp, text, family, 0.7 * min(h, w) / len(text) ** 0.7, np.array([0.5, 0.5], np.float32), (255, 255, 255))
            height = height + cv2.GaussianBlur(stamp[..., 0], (0, 0), 1.0) / 255 * 0.03 * min(h, w)
        down, right = np.gradient(height)
        light = 1 + depth * np.clip(right * np.cos(angle) + down * np.sin(angle), -1.2, 1.2)
        return tinted(tone, light * (1 + 0.02 * noise(rng, (h, w), 20, 2)))

    return Family(draw, rng.uniform(0.5, 1.6), rng.uniform(0.1, 0.4), rng.choice([0.0, rng.uniform(0, 0.1)]))


def switches(rng: np.random.Generator) -> Family:
    """Plates of light switches, door bells and sockets: a frame, one rocker or two, a lamp, a sign."""
    tone = colour(rng, (0, 0.15), (0.75, 1)) if rng.random() < 0.75 else _tone(rng)
    frame, tilt, rockers = rng.uniform(0.06, 0.28), rng.uniform(0.03, 0.2), int(rng.integers(1, 3))
    upright, lamp, holes = rng.random() < 0.5, rng.random() < 0.4, rng.random() < 0.2
    line = _darker(tone, rng.uniform(0.45, 0.8))

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = _ground(rng, tone, h, w).astype(np.float32)
        inset, thick = round(frame * min(h, w)), max(1, min(h, w) // 50)
        for part in range(rockers):
            left, right = (inset + part * (w - 2 * inset) // rockers, inset + (part + 1) * (w - 2 * inset) // rockers)
            key = face[inset : h - inset, left:right]
            sense = 1 if rng.random() < 0.5 else -1
            key *= 1 + sense * tilt * np.sign(np.linspace(-1, 1, key.shape[0], dtype=np.float32))[:, None, None] * upright
            cv2.rectangle(face, (left, inset), (right, h - inset), line, thick)
            if lamp:
                cv2.circle(face, ((left + right) // 2, inset + (h - 2 * inset) // 5), 2 * thick, colour(rng, (0.5, 1), (0.6, 1)), -1)
        if holes:
            for dx in (-0.08, 0.08):
                cv2.circle(face, pixel(np.array([(0.5 + dx) * w, 0.5 * h])), 2 * thick, (20, 20, 20), -1, cv2.LINE_AA)
        return _edged(np.asarray(np.clip(face, 0, 255), np.uint8), line, thick)

    return Family(draw, rng.choice([1.0, rng.uniform(0.8, 1.9)]), rng.uniform(0.05, 0.2), rng.uniform(0, 0.25))


_FAMILIES: tuple[tuple[Callable[[np.random.Generator], Family], float], ...] = (
    (dominoes, 6),
    (keys, 4),
    (lettered_squares, 3),
    (numbered, 3.5),
    (cushions, 1.5),
    (switches, 1),
    (dice, 2),
    (cards, 2),
    (cells, 2),
    (plain_pieces, 2),
    (layered, 1),
    (icons, 0.7),
    (coins, 1),
    (panes, 1),
    (books, 0.7),
    (pictures, 0.5),
)


def sample_family(rng: np.random.Generator) -> Family:
    """Draw a family by its share."""
    weights = np.array([weight for _, weight in _FAMILIES])
    return _FAMILIES[int(rng.choice(len(_FAMILIES), p=weights / weights.sum()))][0](rng)
