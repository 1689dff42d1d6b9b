import dataclasses
from pathlib import Path

import numpy as np
import pytest

from tilewitness.engine.faces import Face
from tilewitness.training.evaluate import Truth, calibration_error, overlap, report, score
from tilewitness.vision.reading import Reading, Tile

SQUARE = np.array([[0, 0], [30, 0], [30, 40], [0, 40]], np.float32)


def tile(left: float, name: str, place: int, row: int = 0, confidence: float = 0.95) -> Tile:
    odds = ((Face.named(name), confidence), (Face.named("joker"), 1 - confidence))
    return Tile(SQUARE + np.float32([left, 0]), odds, False, row, place, 0)


def truth(left: float, name: str, place: int, counts: bool = True) -> Truth:
    return Truth(SQUARE + np.float32([left, 0]), name, 0, place, counts)


def reading(*tiles: Tile) -> Reading:
    return Reading((200, 60), tiles, ())


def test_overlap_is_shared_area_over_joint_area() -> None:
    assert 1.0 == pytest.approx(overlap(SQUARE, SQUARE))
    assert 1 / 3 == pytest.approx(overlap(SQUARE, SQUARE + np.float32([15, 0])), rel=1e-3)
    assert 0.0 == overlap(SQUARE, SQUARE + np.float32([100, 0]))


def test_a_missed_an_invented_and_a_misnamed_tile_are_told_apart() -> None:
    seen = reading(tile(0, "1 bam", 0), tile(32, "3 bam", 1), tile(120, "east", 2))
    scored = score(Path("x"), [truth(0, "1 bam", 0), truth(32, "2 bam", 1), truth(64, "4 bam", 2)], seen)

    assert ["4 bam"] == [missed.label for missed in scored.missed]
    assert ["east"] == [extra.face.name for extra in scored.extra]
    assert [("2 bam", "3 bam")] == [(true.label, said.face.name) for true, said in scored.wrong]
    figures = report([scored])
    assert 2 / 3 == pytest.approx(figures["found"])
    assert 1 / 2 == pytest.approx(figures["named right of found"])


def test_a_tile_that_does_not_count_is_neither_missed_nor_invented() -> None:
    skipped = [truth(0, "1 bam", 0, counts=False)]

    assert () == score(Path("x"), skipped, reading()).missed
    assert () == score(Path("x"), skipped, reading(tile(0, "9 dot", 0))).extra


def test_swapped_places_and_split_rows_are_not_in_order() -> None:
    truths = [truth(0, "1 bam", 0), truth(32, "2 bam", 1)]
    left, right = tile(0, "1 bam", 0), tile(32, "2 bam", 1)

    assert score(Path("x"), truths, reading(left, right)).in_order
    swapped = reading(dataclasses.replace(left, place=1), dataclasses.replace(right, place=0))
    assert not score(Path("x"), truths, swapped).in_order
    split = reading(left, dataclasses.replace(right, row=1, place=0))
    assert not score(Path("x"), truths, split).in_order


def test_calibration_error_agrees_with_its_definition_written_out() -> None:
    # Source: Guo et al. 2017, equation 5, by a loop over bins (l, u] as in the paper.
    rng = np.random.default_rng(4)
    sure = rng.uniform(0.001, 1, 500)
    right = rng.uniform(size=500) < sure**2
    expected = 0.0
    for b in range(15):
        inside = (sure > b / 15) & (sure <= (b + 1) / 15)
        if inside.any():
            expected += inside.mean() * abs(sure[inside].mean() - right[inside].mean())

    assert expected == pytest.approx(calibration_error(list(sure), list(right)))


def test_calibration_error_agrees_with_torchmetrics() -> None:
    # Source: torchmetrics 1.9, binary_calibration_error with the l1 norm.
    torch = pytest.importorskip("torch", reason="torch comes with the extra for training")
    reference = pytest.importorskip("torchmetrics.functional.classification", reason="torchmetrics is not installed: pip install torchmetrics")
    rng = np.random.default_rng(5)
    sure = rng.uniform(0, 1, 800)
    right = rng.uniform(size=800) < sure**2
    expected = reference.binary_calibration_error(torch.tensor(sure), torch.tensor(right, dtype=torch.int), n_bins=15)

    assert float(expected) == pytest.approx(calibration_error(list(sure), list(right)), abs=1e-6)
