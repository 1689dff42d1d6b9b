"""Look-alikes without print to read: bricks, chocolate, cushions, switches, coins, panes, books, pictures."""

from __future__ import annotations

import cv2
import numpy as np

from tilewitness.training.decoys import snapshot
from tilewitness.training.glyphs import families
from tilewitness.training.pieces import (
    Family,
    blank,
    contrasting,
    darker,
    edged,
    print_sign,
    sample_letter,
    sample_tone,
)
from tilewitness.training.solids import Image, pixel
from tilewitness.training.surfaces import colour, noise, sample_surface, tinted, wood


def plain_pieces(rng: np.random.Generator) -> Family:
    """Plain pieces: backs of tiles, bathroom tiles, bricks, pieces of chocolate, blank keys, blocks of wood."""
    tone, edge = sample_tone(rng), rng.uniform(0.6, 1.2)
    raised = rng.uniform(0, 0.2) if rng.random() < 0.5 and sum(tone) < 520 else 0.0  # a pale frame may be a soap
    wooden = rng.random() < 0.2

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        shade = darker(tone, rng.uniform(0.9, 1.05))
        face = wood(rng, (h, w), shade) if wooden else blank(rng, shade, h, w)
        if raised:
            inner = np.array([raised * w, raised * w])
            cv2.rectangle(face, pixel(inner), pixel((w, h) - inner), darker(tone, edge), max(1, w // 40), cv2.LINE_AA)
        return edged(face, darker(tone, 0.7), max(1, w // 40))

    return Family(draw, rng.uniform(0.4, 1.6), rng.uniform(0.1, 0.8), rng.uniform(0, 0.12))


def layered(rng: np.random.Generator) -> Family:
    """Pieces in two or three bands, as the sides of tiles, sandwiches, boxes with lids, and piano keys."""
    tones = [colour(rng, (0, 0.25), (0.8, 1), hue=0.12), colour(rng, (0.2, 0.95), (0.1, 0.8)), sample_tone(rng)]
    cuts = np.sort(rng.uniform(0.1, 0.9, int(rng.integers(1, 3))))
    tones = [tones[i] for i in rng.permutation(3)]
    along = rng.random() < 0.25

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = blank(rng, tones[0], h, w)
        for tone, cut in zip(tones[1:], cuts, strict=False):
            low = np.array([cut * w, 0] if along else [0, cut * h])
            cv2.rectangle(face, pixel(low), (w, h), tone, -1)
        return edged(face, darker(tones[0], 0.6), max(1, w // 40))

    return Family(draw, rng.uniform(0.5, 2), rng.uniform(0.2, 1), rng.uniform(0, 0.1))


def icons(rng: np.random.Generator) -> Family:
    """Icons of a telephone's or a computer's screen: bright squares with a simple figure, on a dark or bright ground."""
    ground = colour(rng, (0, 0.6), (0, 1))
    inset = rng.uniform(0.05, 0.2)

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = blank(rng, ground, h, w)
        tone = colour(rng, (0.3, 1), (0.4, 1))
        low, high = np.array([w, h]) * inset, np.array([w, h]) * (1 - inset)
        cv2.rectangle(face, pixel(low), pixel(high), tone, -1)
        points = rng.uniform(0.3, 0.7, (int(rng.integers(3, 7)), 2)) * (w, h)
        cv2.fillPoly(face, [np.asarray(points, np.int32)], contrasting(rng, tone), cv2.LINE_AA)
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
        cv2.circle(face, pixel(middle + radius * 0.05), round(radius), darker(tone, 0.4), -1, cv2.LINE_AA)
        cv2.circle(face, pixel(middle), round(radius), tone, -1, cv2.LINE_AA)
        cv2.circle(face, pixel(middle), round(0.88 * radius), darker(tone, 0.75), max(1, w // 40), cv2.LINE_AA)
        if holes:
            for turn in (0.8, 2.4, 3.9, 5.5):
                at = middle + 0.3 * radius * np.array([np.cos(turn), np.sin(turn)])
                cv2.circle(face, pixel(at), max(1, round(0.1 * radius)), darker(tone, 0.2), -1, cv2.LINE_AA)
        else:
            sign = str(rng.choice(["1", "2", "5", "10", "20", "50", "25", "100"]))
            print_sign(face, sign, family, 0.7 * radius, np.array([0.5, 0.5], np.float32), darker(tone, 0.55))
        return face

    return Family(draw, 1.0, 0.03, 0.0)


def panes(rng: np.random.Generator) -> Family:
    """Windows: a frame, bars, and a gleam on dark or bright glass."""
    frame, glass = colour(rng, (0, 0.4), (0.1, 1)), colour(rng, (0, 0.5), (0.05, 0.8))
    rows, columns, thick = int(rng.integers(1, 4)), int(rng.integers(1, 3)), rng.uniform(0.03, 0.1)

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = blank(rng, darker(glass, rng.uniform(0.6, 1.2)), h, w)
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
        face = np.ascontiguousarray(np.rot90(blank(rng, tone, h, w)))
        title = "".join(rng.choice(list("ABDEGHILMNORSTUV "), int(rng.integers(5, 14)))).strip() or "A"
        middle = np.array([0.5, 0.5], np.float32)
        print_sign(face, title, str(rng.choice(families("latin"))), rng.uniform(0.3, 0.5) * w, middle, contrasting(rng, tone))
        return edged(np.ascontiguousarray(np.rot90(face, -1)), darker(tone, 0.6), 1)

    return Family(draw, tall, 1.0, 0.01)


def pictures(rng: np.random.Generator) -> Family:
    """Stamps and framed pictures."""
    frame, margin = colour(rng, (0, 0.5), (0.1, 1)), rng.uniform(0.04, 0.15)
    views = [snapshot(rng) for _ in range(2)]

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        x, y = rng.integers(0, 300, 2)
        part = views[int(rng.integers(2))][y : y + 340, x : x + 340]
        face = cv2.resize(part, (w, h), interpolation=cv2.INTER_AREA)
        return edged(np.asarray(face, np.uint8), frame, max(1, round(margin * w)))

    return Family(draw, rng.uniform(0.6, 1.5), 0.05, rng.uniform(0.05, 0.5), like_art=True)


def cushions(rng: np.random.Generator) -> Family:
    """Raised pieces in a mould's light: chocolate, sweets, soap, quilted things, with a relief or bare."""
    tone = colour(rng, (0.4, 0.85), (0.12, 0.5), hue=rng.uniform(0.02, 0.08)) if rng.random() < 0.6 else sample_tone(rng)
    rim, depth, angle = rng.uniform(0.05, 0.3), rng.uniform(0.15, 0.6), rng.uniform(0, 2 * np.pi)
    family, text = str(rng.choice(families("latin"))), "".join(sample_letter(rng) for _ in range(int(rng.integers(1, 4))))
    relief = rng.random() < 0.4

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        y, x = np.mgrid[:h, :w].astype(np.float32)
        inwards = np.minimum(np.minimum(x, w - 1 - x), np.minimum(y, h - 1 - y)) / (rim * min(h, w))
        height = np.sin(np.clip(inwards, 0, 1) * np.pi / 2) * rim * min(h, w)
        if relief:
            stamp = np.zeros((h, w, 3), np.uint8)
            print_sign(stamp, text, family, 0.7 * min(h, w) / len(text) ** 0.7, np.array([0.5, 0.5], np.float32), (255, 255, 255))
            height = height + cv2.GaussianBlur(stamp[..., 0], (0, 0), 1.0) / 255 * 0.03 * min(h, w)
        down, right = np.gradient(height)
        light = 1 + depth * np.clip(right * np.cos(angle) + down * np.sin(angle), -1.2, 1.2)
        return tinted(tone, light * (1 + 0.02 * noise(rng, (h, w), 20, 2)))

    return Family(draw, rng.uniform(0.5, 1.6), rng.uniform(0.1, 0.4), rng.choice([0.0, rng.uniform(0, 0.1)]))


def switches(rng: np.random.Generator) -> Family:
    """Plates of light switches, door bells and sockets: a frame, one rocker or two, a lamp, a sign."""
    tone = colour(rng, (0, 0.15), (0.75, 1)) if rng.random() < 0.75 else sample_tone(rng)
    frame, tilt, rockers = rng.uniform(0.06, 0.28), rng.uniform(0.03, 0.2), int(rng.integers(1, 3))
    upright, lamp, holes = rng.random() < 0.5, rng.random() < 0.4, rng.random() < 0.2
    line = darker(tone, rng.uniform(0.45, 0.8))

    def draw(rng: np.random.Generator, h: int, w: int) -> Image:
        face = blank(rng, tone, h, w).astype(np.float32)
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
        return edged(np.asarray(np.clip(face, 0, 255), np.uint8), line, thick)

    return Family(draw, rng.choice([1.0, rng.uniform(0.8, 1.9)]), rng.uniform(0.05, 0.2), rng.uniform(0, 0.25))
