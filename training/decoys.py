"""Pictures that hold no tile but might be taken for some: print, signs, charts, snapshots."""

from __future__ import annotations

from collections.abc import Callable

import cv2
import numpy as np

from tilewitness.training.glyphs import draw_text, families
from tilewitness.training.solids import Colour, Image, pixel
from tilewitness.training.surfaces import SIDE, clouds, colour, lattice, noise, plain, sample_surface, tinted

CHINESE = "一七万三中九二五伍八六冬北南喜四夏寿春梅白百福秋竹花菊西"
_LATIN = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"


def sheet(rng: np.random.Generator, h: int, w: int) -> Image:
    """A blank sheet of some pale colour."""
    return tinted(colour(rng, (0, 0.25), (0.7, 1.0)), 1 + 0.02 * noise(rng, (h, w), 8, 2))


def write_on(image: Image, mask: Image, at: tuple[int, int], ink: Colour) -> None:
    """Print a mask with its top-left corner at x, y; what does not fit is cut off."""
    x, y = at
    area = image[max(y, 0) : y + mask.shape[0], max(x, 0) : x + mask.shape[1]]
    if area.size == 0:
        return
    part = mask[max(-y, 0) :, max(-x, 0) :][: area.shape[0], : area.shape[1], None].astype(np.float32) / 255
    area[:] = (area + (np.asarray(ink, np.float32) - area) * part).astype(np.uint8)


def words(rng: np.random.Generator, count: int, chinese: bool) -> str:
    letters = list(CHINESE if chinese else _LATIN)
    text = "".join(rng.choice(letters, count))
    return text if chinese else "".join(c if rng.random() > 0.16 else " " for c in text).strip() or text


def page(rng: np.random.Generator, h: int = SIDE, w: int = SIDE) -> Image:
    """Lines of print or handwriting, Latin or Chinese, with a picture or two between them."""
    image = sheet(rng, h, w)
    chinese = rng.random() < 0.4
    family = str(rng.choice(families("chinese" if chinese else "latin")))
    size = float(np.exp(rng.uniform(np.log(h / 40), np.log(h / 5))))
    inks = [colour(rng, (0, 0.9), (0, 0.5)) for _ in range(2)]
    for y in np.arange(size * 0.3, h, size * rng.uniform(1.2, 1.9)):
        fit = max(1, int(w / size * rng.uniform(0.3, 1.3)))
        mask = draw_text(words(rng, fit, chinese), family, size, spacing=rng.uniform(0, 0.2) * size)
        write_on(image, mask, (int(rng.uniform(0, 0.15) * w), int(y)), inks[int(rng.integers(2))])
    if rng.random() < 0.3:
        x, y = rng.uniform(0, 0.6, 2) * (w, h)
        cut = clouds(rng)[: int(0.35 * h), : int(0.35 * w)]
        image[int(y) : int(y) + cut.shape[0], int(x) : int(x) + cut.shape[1]] = cut
    return image


def chart(rng: np.random.Generator) -> Image:
    """Rectangles, discs and lines without order: charts, posters, shelves, floor plans, toys."""
    image = sample_surface(rng) if rng.random() < 0.5 else plain(rng)
    for _ in range(int(rng.integers(3, 60))):
        at, reach = rng.uniform(0, SIDE, 2), np.exp(rng.uniform(1.5, 5.3, 2))
        tone, thick = colour(rng), int(rng.choice([-1, -1, 1, 3]))
        shape = rng.random()
        if shape < 0.5:
            cv2.rectangle(image, pixel(at), pixel(at + reach), tone, thick)
        elif shape < 0.75:
            cv2.ellipse(image, pixel(at), pixel(reach), rng.uniform(0, 180), 0, 360, tone, thick, cv2.LINE_AA)
        else:
            cv2.line(
                image, pixel(at), pixel(at + reach * rng.choice([-1, 1], 2)), tone, int(rng.integers(1, 9))
            )
    return image


def snapshot(rng: np.random.Generator) -> Image:
    """A photo of anything else: shaded blobs over a blurred ground, like faces, animals, fruit, clouds."""
    image = cv2.GaussianBlur(sample_surface(rng), (0, 0), rng.uniform(0.5, 12)).astype(np.float32)
    for _ in range(int(rng.integers(1, 14))):
        mask = np.zeros((SIDE, SIDE), np.float32)
        reach = np.exp(rng.uniform(2.5, 5.4, 2))
        cv2.ellipse(mask, pixel(rng.uniform(0, SIDE, 2)), pixel(reach), rng.uniform(0, 180), 0, 360, 1.0, -1)
        soft = cv2.GaussianBlur(mask, (0, 0), rng.uniform(0.7, 3))
        relief = cv2.GaussianBlur(mask, (0, 0), float(reach.min() / 3))
        light = 0.35 + relief + 0.06 * noise(rng, (SIDE, SIDE), rng.uniform(10, 200), 2)
        image += (light[..., None] * np.asarray(colour(rng)) - image) * soft[..., None]
    return np.asarray(np.clip(image, 0, 255), np.uint8)


def discs(rng: np.random.Generator) -> Image:
    """Shaded discs in rows or strewn about: coins, buttons, pills, stones, bubbles, stars."""
    image = sample_surface(rng)
    reach = np.exp(rng.uniform(np.log(2), np.log(70)))
    step = reach * rng.uniform(2.2, 4)
    places = [
        np.array([x, y]) for y in np.arange(step / 2, SIDE, step) for x in np.arange(step / 2, SIDE, step)
    ]
    strewn = rng.random() < 0.5
    for place in places[:600]:
        at = rng.uniform(0, SIDE, 2) if strewn else place + rng.normal(0, 0.05 * step, 2)
        radius = max(1, round(reach * rng.uniform(0.5 if strewn else 0.9, 1.1)))
        tone = colour(rng, (0.1, 0.6), (0.3, 1))
        cv2.circle(image, pixel(at), radius, tone, -1, cv2.LINE_AA)
        cv2.circle(
            image,
            pixel(at - 0.1 * radius),
            max(1, round(0.75 * radius)),
            colour(rng),
            1 + radius // 12,
            cv2.LINE_AA,
        )
    return image


_MAKERS: tuple[Callable[[np.random.Generator], Image], ...] = (
    page,
    page,
    chart,
    snapshot,
    lattice,
    discs,
)


def sample_decoy(rng: np.random.Generator) -> Image:
    """Return a picture without tiles, uint8 (SIDE, SIDE, 3)."""
    return _MAKERS[int(rng.integers(len(_MAKERS)))](rng)
