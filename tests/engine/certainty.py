"""Measure the engine's word "sure": how often a rack that is called a sure win is none, and how many wins are called so.

    python tests/engine/certainty.py CARD [--sets 200] [--racks 40] [--seed 1] [--photos FOLDER...]

Real readings of the shipped reader, put together to racks. Each made-up set, in artwork kept out of training, is
photographed once with all its tiles, and read; a rack takes every tile's reading from the tiles of one such photo
that truly show that face. So what a reader takes for another in a whole set is misread in a whole rack. Folders of
real photos (see `training.evaluate`) are measured likewise, set by set, and choose nothing.

Of one half of the racks the card's hands are complete; of the other half one tile is another than it should be: any
face, or one that the reader is known to take for the right one, which is the hardest case and told apart.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import os
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import partial
from itertools import chain
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tilewitness.engine.batch import Patterns, distances
from tilewitness.engine.card import Card, load_card
from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.forms import Counts
from tilewitness.engine.unsure import SURE_TILE, Certainty, judge_unsure
from tilewitness.training.dataset import photo_truth
from tilewitness.training.evaluate import measure, score, truths_of
from tilewitness.training.set_photos import render_wall
from tilewitness.vision.read import read_photo
from tilewitness.vision.reading import Tile

COPIES: Final = np.array([face.copies for face in FACES], np.uint8)
JOKER: Final = FACES[-1].index
JOKERS: Final = 3
"""Every second rack has one to so many jokers, where its hand has room for them."""
IN_FULL: Final = 20
"""One rack in so many is judged in full, the others only as far as they may be sure wins."""
LEVEL: Final = 0.95
"""Of the intervals printed."""
SEED_STRIDE: Final = 1_000_000


class Made(Enum):
    """How a rack was put together."""

    WIN = "win"
    ANY = "one tile is any other"
    ALIKE = "one tile is one that is taken for the right one"


@dataclass(frozen=True, slots=True, eq=False)
class SetRead:
    """The tiles of one set: their true faces (N,), and what was read at each."""

    name: str
    faces: NDArray[np.int_]
    tiles: tuple[Tile, ...]


@dataclass(frozen=True, slots=True)
class Judged:
    """A rack judged.

    Attributes:
        read_right: the likeliest face of each tile is the true one.
        least: the least confidence of any of its tiles.
    """

    set_name: str
    made: Made
    read_right: bool
    least: float
    certainty: Certainty


def read_wall(seed: int) -> SetRead:
    """Read a photo of all tiles of the held-out set with this number."""
    scene = render_wall(seed, held_out=True)
    scored = score(Path(), truths_of(photo_truth(scene, "")), read_photo(scene.image))
    return _set_read(str(seed), [(truth.label, tile) for truth, tile in scored.pairs])


def read_folder(folder: Path) -> list[SetRead]:
    """Read the photos of a folder, and put those of one set together."""
    photos = json.loads((folder / "truth.json").read_text())["photos"]
    pairs: dict[str, list[tuple[str, Tile]]] = defaultdict(list)
    for photo, scored in zip(photos, measure(folder), strict=True):
        pairs[photo["set"]] += [(truth.label, tile) for truth, tile in scored.pairs]
    return [_set_read(f"{folder.name} {name}", found) for name, found in pairs.items()]


def _set_read(name: str, pairs: Sequence[tuple[str, Tile]]) -> SetRead:
    faces = np.array([Face.named(label).index for label, _ in pairs], np.int_)
    return SetRead(name, faces, tuple(tile for _, tile in pairs))


def taken_for(sets: Iterable[SetRead]) -> NDArray[np.int_]:
    """How many tiles of each face (36,) were read as each (36,)."""
    counts = np.zeros((len(FACES), len(FACES)), np.int_)
    for one in sets:
        np.add.at(counts, (one.faces, np.array([tile.face.index for tile in one.tiles])), 1)
    return counts


class Racks:
    """Draws racks of a card."""

    def __init__(self, card: Card, confused: NDArray[np.int_]) -> None:
        self.card, self.patterns, self.confused = card, Patterns.of(card), confused
        fixed = np.flatnonzero(~card.forms.is_free)
        self.forms_of = [fixed[card.forms.hand[fixed] == hand] for hand in np.unique(card.forms.hand[fixed])]

    def is_win(self, faces: NDArray[np.int_]) -> bool:
        """Whether the tiles can be and are a win."""
        counts = _counts(faces)
        return bool((counts <= COPIES).all() and (distances(self.patterns, counts[None]) == 0).any())

    def draw(self, made: Made, rng: np.random.Generator) -> NDArray[np.int_] | None:
        """Draw the faces (14,) of a rack; None where the draw comes to something else than was wanted."""
        column = int(rng.choice(self.forms_of[rng.integers(len(self.forms_of))]))
        faces = self.card.forms.slots[:, column].astype(np.int_)
        if rng.random() < 0.5:
            room = np.flatnonzero(self.card.forms.sizes[:, column] >= 3)
            faces[rng.permutation(room)[: rng.integers(1, JOKERS + 1)]] = JOKER
        if not self.is_win(faces) or made is Made.WIN:
            return faces if self.is_win(faces) else None
        place = int(rng.integers(len(faces)))
        odds = np.ones(len(FACES)) if made is Made.ANY else self.confused[:, faces[place]].astype(float)
        odds[faces[place]] = 0
        if not odds.any():
            return None
        faces[place] = rng.choice(len(FACES), p=odds / odds.sum())
        return faces if (_counts(faces) <= COPIES).all() and not self.is_win(faces) else None


def _counts(faces: NDArray[np.int_]) -> Counts:
    return np.bincount(faces, minlength=len(FACES)).astype(np.uint8)


def judge_set(one: SetRead, racks: Racks, count: int, seed: int, *, wins_alone: bool) -> list[Judged]:
    """Judge `count` racks of each kind, made of the tiles of one set.

    Args:
        wins_alone: racks that cannot be a sure win are not judged but taken for ones to look at, which saves time.
    """
    rng = np.random.default_rng((seed, len(one.tiles), int(one.faces.sum())))
    found: list[Judged] = []
    for made in (made for made in Made for _ in range(count)):
        faces = racks.draw(made, rng)
        places = None if faces is None else _places(one, faces, rng)
        if faces is None or places is None:
            continue
        tiles = [one.tiles[place] for place in places]
        read = np.array([tile.face.index for tile in tiles])
        least = min(tile.confidence for tile in tiles)
        if wins_alone and (least < SURE_TILE or not racks.is_win(read)):
            certainty = Certainty.LOOK
        else:
            likely = [tile.probabilities for tile in tiles]
            certainty = judge_unsure(likely, racks.card, patterns=racks.patterns, limit=1).certainty
        found.append(Judged(one.name, made, bool((read == faces).all()), least, certainty))
    return found


def _places(one: SetRead, faces: NDArray[np.int_], rng: np.random.Generator) -> list[int] | None:
    """Choose a tile of the set for every face, none twice; None if it has too few."""
    left = {face: rng.permutation(np.flatnonzero(one.faces == face)).tolist() for face in set(faces.tolist())}
    return [left[face].pop() for face in faces.tolist()] if all(
        len(left[face]) >= number for face, number in zip(*np.unique(faces, return_counts=True), strict=True)
    ) else None  # fmt: skip


def interval(wrong: int, of: int) -> tuple[float, float]:
    """Bounds of a share, exact. Source: Clopper & Pearson 1934, Biometrika 26, 404-413."""
    from scipy.stats import beta

    tail = (1 - LEVEL) / 2
    low = float(beta.ppf(tail, wrong, of - wrong + 1)) if wrong else 0.0
    high = float(beta.ppf(1 - tail, wrong + 1, of - wrong)) if wrong < of else 1.0
    return low, high


def print_wrong(said: Certainty, judged: Sequence[Judged]) -> None:
    """Print how often a sure answer is wrong where every second rack is a win, by what the others are."""
    for other in (Made.ANY, Made.ALIKE):
        sure = [one for one in judged if one.made in (Made.WIN, other) and one.certainty is said]
        wrong = [one for one in sure if (one.made is Made.WIN) != (said is Certainty.SURE_YES)]
        low, high = interval(len(wrong), len(sure))
        print(
            f"  {said.value} and wrong, half wins, of the others {other.value}: {len(wrong)} of {len(sure)}, "
            f"{len(wrong) / max(len(sure), 1):.3%} ({low:.3%} to {high:.3%}), in {len({one.set_name for one in wrong})} sets"
        )


def print_sure(said: Certainty, title: str, judged: Sequence[Judged]) -> None:
    """Print how often the answer is sure."""
    sure = sum(one.certainty is said for one in judged)
    print(f"  {said.value} of {title}: {sure} of {len(judged)}, {sure / max(len(judged), 1):.1%}")


def print_figures(title: str, for_wins: Sequence[Judged], for_all: Sequence[Judged]) -> None:
    """Print what became of the racks: of many whether they are sure wins, of fewer all that is said."""
    print(f"{title}: {len({one.set_name for one in for_wins})} sets")
    wins = [one for one in for_wins if one.made is Made.WIN]
    right = [one for one in wins if one.read_right]
    print_wrong(Certainty.SURE_YES, for_wins)
    print_sure(Certainty.SURE_YES, "all wins", wins)
    print_sure(Certainty.SURE_YES, "wins of which every tile is read right", right)
    clean = [one for one in right if one.least >= SURE_TILE]
    print_sure(Certainty.SURE_YES, f"wins of which every tile is read right, with {SURE_TILE} or more", clean)
    print_wrong(Certainty.SURE_NO, for_all)
    for made in (Made.ANY, Made.ALIKE):
        print_sure(Certainty.SURE_NO, f"racks of which {made.value}", [one for one in for_all if one.made is made])


def main() -> None:
    """Read the command line, measure and print."""
    parser = argparse.ArgumentParser(description='Measure the engine\'s word "sure".')
    parser.add_argument("card", type=Path)
    parser.add_argument("--sets", type=int, default=200)
    parser.add_argument("--racks", type=int, default=100, help="of each kind, of each made-up set")
    parser.add_argument("--photos", type=Path, nargs="*", default=[], help="folders of real photos, with truth")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    given = parser.parse_args()
    os.environ["TILEWITNESS_THREADS"] = "1"
    first = given.seed * SEED_STRIDE
    with multiprocessing.get_context("spawn").Pool(given.workers) as pool:
        drawn = pool.map(read_wall, range(first, first + given.sets), chunksize=4)
        racks = Racks(load_card(given.card), taken_for(drawn))
        for title, sets in (("made-up sets", drawn), *((folder.name, read_folder(folder)) for folder in given.photos)):
            count = given.racks * given.sets // len(sets)
            work = partial(judge_set, racks=racks, seed=given.seed)
            many = pool.map(partial(work, count=count, wins_alone=True), sets)
            fewer = pool.map(partial(work, count=count // IN_FULL, wins_alone=False), sets)
            print_figures(title, list(chain(*many)), list(chain(*fewer)))


if __name__ == "__main__":
    main()
