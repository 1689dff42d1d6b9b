"""Makes the sample photos and the truth beside each: `python -m tilewitness.training.samples OUT`.

Every photo is made up: an invented set on an invented table, showing hands of the demo card. The same
command gives the same photos. The seeds are ones whose artwork the reader knows well: samples show what the
program does, and measure nothing.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from pathlib import Path

import cv2
import numpy as np

from tilewitness.engine.faces import Face
from tilewitness.training.bodies import Body, sample_body
from tilewitness.training.clutter import cup, die, paper, playing_card
from tilewitness.training.dataset import photo_truth
from tilewitness.training.effects import lit
from tilewitness.training.faces import sample_style
from tilewitness.training.kinds import Plan, View, stocked_rack, surround
from tilewitness.training.lens import photographed
from tilewitness.training.placing import Layout, Manner, Shown, rows_on_table
from tilewitness.training.scenes import Scene, aim, paint_plan, truth
from tilewitness.training.solids import Floats, placed, turned

LONG = 1600
QUALITY = 88
TIDY = Manner(gap=0.01, group_gap=0.0, group_chance=0.0, shift=0.01, twist=0.3)


Row = tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class Sample:
    """A sample photo.

    Attributes:
        rows: from the top row down, runs of equal tiles as (how many, which); none for a table without tiles.
        on_their_heads: places of the last row's tiles that stand upside down.
        build: lays the rows out.
        seed: picks the set, the table, the light and the lens.
        view: how the photo is taken.
    """

    name: str
    rows: tuple[Row, ...]
    build: Callable[[np.random.Generator, Body, list[list[Shown]]], Layout]
    seed: int
    view: View
    on_their_heads: tuple[int, ...] = ()


def faces_of(line: Row) -> list[Face]:
    """Return the faces of one row from the left."""
    return [Face.named(name) for size, name in line for _ in range(size)]


def _shown(line: Row, on_their_heads: Sequence[int] = ()) -> list[Shown]:
    """Return the tiles of one row; each flower and joker shows another picture than the one before."""
    return [
        Shown(face, place % 8 if face.index >= 34 else 0, place in on_their_heads)
        for place, face in enumerate(faces_of(line))
    ]


def _on_rack(rng: np.random.Generator, body: Body, rows: list[list[Shown]]) -> Layout:
    """One row on a rack, or a second one laid open above it."""
    layout, _ = stocked_rack(rng, body, rows[-1], rows[0] if len(rows) > 1 else [], TIDY)
    surround(rng, layout, body, 4.0, discards=False)
    return layout


def _on_table(rng: np.random.Generator, body: Body, rows: list[list[Shown]]) -> Layout:
    """One hand a row, lying face up."""
    return rows_on_table(rng, rows, body, TIDY)


def _bare_table(rng: np.random.Generator, body: Body, rows: list[list[Shown]]) -> Layout:
    """Dice, a cup, cards and a sheet of paper, and not one tile."""
    layout = Layout()
    things = ((die, -2.4, -0.6), (die, -1.2, 0.4), (cup, 4.2, 1.8), (playing_card, 0.8, -1.6),
              (playing_card, 2.6, -2.0), (paper, -5.5, 1.2))  # fmt: skip
    for make, x, y in things:
        layout.solids.append(placed(make(rng), turned(z=rng.normal(0, 20)), np.array([x, y, 0.0])))
    corners: Floats = np.array([(-6, -3, 0), (6, -3, 0), (6, 3, 0), (-6, 3, 1)], np.float32)
    layout.focus.append(corners)
    return layout


_SEATED = View(elevation=34, azimuth=8, roll=-1.5, distance=2.6, aspect=4 / 3, against=False, fill=0.95,
               offset=(0, 0.15), bend=0.0)  # fmt: skip
_FROM_ABOVE = replace(_SEATED, elevation=68, azimuth=-4, roll=1.0, offset=(0, 0))

SAMPLES: tuple[Sample, ...] = (
    Sample("win", (
        ((3, "2 bam"), (3, "8 bam"), (2, "5 dot"), (3, "2 crak"), (3, "8 crak")),
    ), _on_rack, 201, _SEATED),
    Sample("one-off", (
        ((2, "2 bam"), (3, "4 bam"), (3, "6 bam"), (3, "6 dot"), (2, "8 dot"), (1, "5 crak")),
    ), _on_rack, 201, replace(_SEATED, azimuth=-11)),
    Sample("joker-in-pair", (
        ((1, "flower"), (1, "joker"), (4, "1 crak"), (4, "5 crak"), (4, "9 bam")),
    ), _on_rack, 208, replace(_SEATED, azimuth=3, elevation=40)),
    Sample("upside-down-tile", (
        ((3, "3 bam"), (4, "5 bam"), (3, "3 crak"), (4, "5 crak")),
    ), _on_rack, 201, replace(_SEATED, azimuth=-6), (1, 12)),
    Sample("exposed", (
        ((4, "7 dot"), (4, "red dragon")),
        ((4, "7 crak"), (2, "flower")),
    ), _on_rack, 201, replace(_SEATED, azimuth=14, elevation=38)),
    Sample("table", (
        ((2, "flower"), (4, "1 bam"), (4, "5 bam"), (4, "9 crak")),
        ((2, "2 dot"), (3, "4 dot"), (3, "6 dot"), (3, "6 bam"), (1, "8 bam"), (1, "joker"), (1, "8 bam")),
        ((5, "flower"), (1, "3 crak"), (1, "5 crak"), (1, "7 crak"), (3, "3 dot"), (3, "7 dot")),
        ((3, "2 bam"), (3, "8 bam"), (2, "5 dot"), (3, "2 crak"), (3, "8 crak")),
        ((4, "7 crak"), (2, "7 dot"), (2, "joker"), (4, "red dragon"), (2, "flower")),
    ), _on_table, 228, _FROM_ABOVE),
    Sample("no-rack", (), _bare_table, 8, replace(_SEATED, elevation=48)),
)  # fmt: skip


def make(sample: Sample, *, long: int = LONG) -> Scene:
    """Render one sample, `long` pixels on its longer side."""
    # streams of their own, so that a change of one leaves the others as they are
    rng, ink_rng, light_rng = (np.random.default_rng((sample.seed, stream)) for stream in range(3))
    body, style = sample_body(rng), sample_style(ink_rng)
    rows = [_shown(line) for line in sample.rows[:-1]]
    rows += [_shown(line, sample.on_their_heads) for line in sample.rows[-1:]]
    plan = Plan(sample.build(rng, body, rows), sample.view)
    camera = aim(plan, long)
    painting = paint_plan(plan, body, style, camera, light_rng)
    tiles = truth(plan.layout.spots, body, camera, painting)
    image = photographed(lit(painting, 0.3, light_rng), light_rng, detail=60, heavy=0.0)
    return Scene(image, tiles, sample.name)


def rack_photo(faces: Sequence[Face], seed: int, *, long: int = LONG) -> bytes:
    """Render these tiles on a rack, as their player sees them, and return the photo as a JPEG file."""
    line = tuple((len(list(run)), face.name) for face, run in groupby(faces))
    return _jpeg(make(Sample("rack", (line,), _on_rack, seed, _SEATED), long=long))


def _jpeg(scene: Scene) -> bytes:
    return cv2.imencode(".jpg", scene.image, [cv2.IMWRITE_JPEG_QUALITY, QUALITY])[1].tobytes()


def write(out: Path) -> None:
    """Write every sample as NAME.jpg with NAME.json beside it."""
    out.mkdir(parents=True, exist_ok=True)
    for sample in SAMPLES:
        scene = make(sample)
        (out / f"{sample.name}.jpg").write_bytes(_jpeg(scene))
        entry = photo_truth(scene, f"{sample.name}.jpg")
        text = json.dumps(entry, indent=None, separators=(", ", ": ")).replace('{"quad"', '\n  {"quad"')
        (out / f"{sample.name}.json").write_text(text + "\n", encoding="utf-8")


def main() -> None:
    """Read the command line and write the folder."""
    parser = argparse.ArgumentParser(prog="python -m tilewitness.training.samples", description=__doc__)
    parser.add_argument("out", type=Path, nargs="?", default=Path("samples"))
    write(parser.parse_args().out)


if __name__ == "__main__":
    main()
