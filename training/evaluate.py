"""Measure the whole camera pipeline on a folder of photos with truth.

    python -m tilewitness.training.evaluate FOLDER... [--learnt 1] [--errors OUT.png] [--corrupted FOLDER] [--tileless COUNT]

A folder holds photos and a `truth.json`: {"photos": [{"file", "size", "tiles": [{"quad", "label", "row",
"col", "skip"}]}]}. Quads are four corners clockwise from the artwork's own top-left; labels are face names
or "blank"; a tile with "skip" is neither a miss nor a false alarm, nor is a blank one, which has no name.
With `--learnt` each folder's set is learnt beforehand from one or two photos of its layout.
"""

from __future__ import annotations

import argparse
import json
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from tilewitness.training.corruptions import KINDS, corrupted
from tilewitness.training.further_strangers import MAKERS as FURTHER
from tilewitness.training.tileless import drawn_photos, sample_images
from tilewitness.vision.lesson import layout, study
from tilewitness.vision.photo import open_photo
from tilewitness.vision.read import read_photo
from tilewitness.vision.reading import Reading, Tile
from tilewitness.vision.sets import TileSet

OVERLAP = 0.6
"""Intersection over union of two quads that counts as finding the tile."""

SURE = 0.9

LAID_OUT = ("laid-out.jpg", "laid-out-again.jpg")
"""The photos of a folder from which its set is learnt, one after the other: eight flowers and two jokers in each."""

Image = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Truth:
    """One tile as it really is."""

    quad: NDArray[np.float32]
    label: str
    row: int
    place: int
    counts: bool


@dataclass(frozen=True, slots=True)
class Scored:
    """One photo measured: pairs of truth and reading, what was missed, what was invented."""

    file: Path
    pairs: tuple[tuple[Truth, Tile], ...]
    missed: tuple[Truth, ...]
    extra: tuple[Tile, ...]

    @property
    def wrong(self) -> tuple[tuple[Truth, Tile], ...]:
        """Found tiles with another name than the true one."""
        return tuple(pair for pair in self.pairs if pair[0].label != pair[1].face.name)

    @property
    def in_order(self) -> bool:
        """Rows and reading order are exactly the true ones, over the tiles that were found."""
        places = [(tile.row, tile.place) for _, tile in self._by_truth()]
        rows = [truth.row for truth, _ in self._by_truth()]
        same_rows = all(
            (a == b) == (p[0] == q[0]) for a, b, p, q in zip(rows, rows[1:], places, places[1:], strict=False)
        )
        return places == sorted(places) and same_rows

    @property
    def perfect(self) -> bool:
        """Every tile found and named, none invented, all in order."""
        return not (self.missed or self.extra or self.wrong) and self.in_order

    def _by_truth(self) -> list[tuple[Truth, Tile]]:
        return sorted(self.pairs, key=lambda pair: (pair[0].row, pair[0].place))


def overlap(first: NDArray[np.float32], second: NDArray[np.float32]) -> float:
    """Intersection over union of two convex quads."""
    shared, _ = cv2.intersectConvexConvex(first, second)
    union = cv2.contourArea(first) + cv2.contourArea(second) - shared
    return float(shared / union) if union > 0 else 0.0


def score(file: Path, truths: Sequence[Truth], reading: Reading) -> Scored:
    """Match truth and reading one to one, best overlap first."""
    candidates = sorted(
        (
            (overlap(truth.quad, tile.quad), t, r)
            for t, truth in enumerate(truths)
            for r, tile in enumerate(reading.tiles)
            if np.abs(truth.quad.mean(0) - tile.quad.mean(0)).max() < np.ptp(truth.quad, axis=0).max()
        ),
        reverse=True,
    )
    of_truth: dict[int, int] = {}
    taken: set[int] = set()
    for share, t, r in candidates:
        if share >= OVERLAP and t not in of_truth and r not in taken:
            of_truth[t] = r
            taken.add(r)
    counted = [t for t, truth in enumerate(truths) if truth.counts]
    return Scored(
        file,
        tuple((truths[t], reading.tiles[of_truth[t]]) for t in counted if t in of_truth),
        tuple(truths[t] for t in counted if t not in of_truth),
        tuple(tile for r, tile in enumerate(reading.tiles) if r not in taken),
    )


def truths_of(photo: dict[str, Any]) -> list[Truth]:
    """The tiles of one photo in a truth file."""
    return [
        Truth(
            np.array(tile["quad"], np.float32),
            tile["label"],
            tile["row"],
            tile["col"],
            not tile["skip"] and tile["label"] != "blank",
        )
        for tile in photo["tiles"]
    ]


def learnt_from(folder: Path, photos: int, *, asked: bool = False) -> TileSet:
    """The set of a folder, learnt from photos of the layout by a person who laid it out right.

    Args:
        asked: she takes the next photo, up to so many, only where the lesson asks for one.
    """
    tile_set = TileSet(folder.name)
    for file in LAID_OUT[:photos]:
        lesson = study([folder / file], layout(flowers=8, jokers=2))
        tile_set = lesson.as_laid_out().learn(tile_set)
        if asked and not lesson.again:
            break
    return tile_set


def measure(
    folder: Path, spoil: Callable[[Image], Image] | None = None, *, tile_set: TileSet | None = None
) -> Iterator[Scored]:
    """Read and score every photo of a folder, spoilt beforehand or read with a learnt set if asked."""
    for photo in json.loads((folder / "truth.json").read_text())["photos"]:
        file = folder / photo["file"]
        source = file if spoil is None else spoil(open_photo(file).in_full().pixels)
        yield score(file, truths_of(photo), read_photo(source, tile_set=tile_set))


def calibration_error(confidences: Sequence[float], right: Sequence[bool], bins: int = 15) -> float:
    """Expected calibration error. Source: Guo et al. 2017, "On Calibration of Modern Neural Networks"."""
    sure, good = np.array(confidences), np.array(right, float)
    bin_of = np.clip(np.ceil(sure * bins) - 1, 0, bins - 1)
    gaps = [abs(sure[bin_of == b].mean() - good[bin_of == b].mean()) * (bin_of == b).mean() for b in set(bin_of)]
    return float(sum(gaps))


def corner_error(pair: tuple[Truth, Tile]) -> float:
    """Mean distance of the four corners, as a share of the tile's height, whichever way up it was read."""
    truth, tile = pair[0].quad, pair[1].quad
    height = np.linalg.norm(truth[[0, 1]].mean(0) - truth[[2, 3]].mean(0))
    off = min(np.linalg.norm(truth - np.roll(tile, turn, axis=0), axis=1).mean() for turn in range(4))
    return float(off / height)


def report(scored: Sequence[Scored]) -> dict[str, float]:
    """The figures of the model card, as shares of one."""
    pairs = [pair for photo in scored for pair in photo.pairs]
    wrong = [pair for photo in scored for pair in photo.wrong]
    missed = sum(len(photo.missed) for photo in scored)
    extra = sum(len(photo.extra) for photo in scored)
    confidences = [tile.confidence for _, tile in pairs]
    right = [truth.label == tile.face.name for truth, tile in pairs]
    total = len(pairs) + missed
    sure = [good for good, confidence in zip(right, confidences, strict=True) if confidence >= SURE]
    return {
        "photos": len(scored),
        "tiles": total,
        "found": len(pairs) / max(total, 1),
        "extra": extra / max(total, 1),
        "named right of found": 1 - len(wrong) / max(len(pairs), 1),
        "right end to end": (len(pairs) - len(wrong)) / max(total, 1),
        "rows and order right": sum(photo.in_order for photo in scored) / max(len(scored), 1),
        "photos perfect": sum(photo.perfect for photo in scored) / max(len(scored), 1),
        "mean corner error": float(np.mean([corner_error(pair) for pair in pairs])) if pairs else 0.0,
        "calibration error": calibration_error(confidences, right) if pairs else 0.0,
        f"wrong at {SURE} or more": 1 - sum(sure) / max(len(sure), 1),
    }


def error_sheet(scored: Sequence[Scored]) -> NDArray[np.uint8]:
    """Every misnamed tile as the reader saw it, with its true name and what was said."""
    from tilewitness.vision.straighten import straighten

    cells = []
    for photo in scored:
        image = open_photo(photo.file).in_full()
        for truth, tile in photo.wrong:
            face = cv2.resize(straighten(image, tile.quad[None])[0], (144, 192))
            cell = np.full((236, 190, 3), 255, np.uint8)
            cell[:192, 23:167] = face
            for line, text in enumerate((truth.label, f"-> {tile.face.name} {tile.confidence:.2f}")):
                cv2.putText(cell, text, (2, 208 + 16 * line), cv2.FONT_HERSHEY_SIMPLEX, 0.45, (0, 0, 0), 1)
            cells.append(cell)
    columns = 8
    cells += [np.full((236, 190, 3), 255, np.uint8)] * (-len(cells) % columns or (columns if not cells else 0))
    return np.vstack([np.hstack(cells[i : i + columns]) for i in range(0, len(cells), columns)])


def print_photos(scored: Sequence[Scored]) -> None:
    """One line a photo: what was found, missed, invented and misnamed."""
    for photo in scored:
        wrong = Counter(f"{truth.label} as {tile.face.name}" for truth, tile in photo.wrong)
        listed = ", ".join(f"{name} ×{count}" if count > 1 else name for name, count in wrong.most_common())
        print(
            f"  {photo.file.name:14s} found {len(photo.pairs):3d}, missed {len(photo.missed):2d}, "
            f"extra {len(photo.extra):2d}, {'in order' if photo.in_order else 'NOT in order'}  {listed}"
        )


def print_report(scored: Sequence[Scored]) -> None:
    """The figures of these photos."""
    for name, value in report(scored).items():
        print(f"  {name:24s} {value:.0f}" if name in ("photos", "tiles") else f"  {name:24s} {value:.2%}")


def print_corrupted(folder: Path) -> None:
    """Tiles right end to end under every corruption, as a share of those right in the clean photos."""
    print(f"{folder.name}, corrupted")
    clean = report(list(measure(folder)))["right end to end"]
    shares = []
    for kind in KINDS:
        spoilt = report(list(measure(folder, partial(corrupted, kind=kind))))
        shares.append(spoilt["right end to end"] / clean)
        print(f"  {kind:24s} {shares[-1]:.2%}, found {spoilt['found']:.2%}", flush=True)
    print(f"  {'mean over kinds':24s} {np.mean(shares):.2%}")


def print_tileless(count: int) -> None:
    """What is found in photos without tiles: sample images of installed packages, and twice `count` drawn ones."""
    for title, photos in (
        ("sample images without tiles", [(file.name, file) for file in sample_images()]),
        ("drawn photos without tiles", drawn_photos(count)),
        (f"drawn photos of {', '.join(FURTHER)}", drawn_photos(count, tuple(FURTHER))),
    ):
        found = [(name, len(read_photo(source).tiles)) for name, source in photos]
        total = sum(tiles for _, tiles in found)
        print(title)
        for name, tiles in found:
            if tiles:
                print(f"  {name:24s} {tiles}")
        print(f"  {'photos':24s} {len(found)}")
        print(f"  {'false tiles per 50':24s} {50 * total / max(len(found), 1):.2f}")


def arguments() -> argparse.Namespace:
    """What was asked for on the command line."""
    parser = argparse.ArgumentParser(description="Measure the camera pipeline on photos with truth.")
    parser.add_argument("folders", type=Path, nargs="*")
    parser.add_argument("--learnt", type=int, choices=(1, 2), help=f"learn each folder's set from so many of {LAID_OUT}")
    parser.add_argument("--asked", action="store_true", help="of two photos, take the second only where the lesson asks for it")
    parser.add_argument("--errors", type=Path, help="write a sheet of every misnamed tile to this PNG")
    parser.add_argument("--corrupted", type=Path, metavar="FOLDER", help="also read these photos corrupted (minutes)")
    parser.add_argument("--tileless", type=int, metavar="COUNT", help="also read COUNT drawn photos without tiles")
    return parser.parse_args()


def amount_of_photos(tile_set: TileSet) -> str:
    """How many photos a set was learnt from."""
    return f"{len(tile_set.additions)} photo{'s' * (len(tile_set.additions) > 1)}"


def main() -> None:
    given = arguments()
    everything: list[Scored] = []
    for folder in given.folders:
        tile_set = learnt_from(folder, given.learnt, asked=given.asked) if given.learnt else None
        scored = list(measure(folder, tile_set=tile_set))
        everything += scored
        print(f"{folder.name}, learnt from {amount_of_photos(tile_set)}" if tile_set else folder.name)
        print_photos(scored)
        print_report(scored)
    if len(given.folders) > 1:
        print("all folders")
        print_report(everything)
    if given.errors:
        cv2.imwrite(str(given.errors), error_sheet(everything))
    if given.corrupted:
        print_corrupted(given.corrupted)
    if given.tileless:
        print_tileless(given.tileless)


if __name__ == "__main__":
    main()
