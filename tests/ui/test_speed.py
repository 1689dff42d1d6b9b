"""Speed as ratios, each pair in one run; nothing here fails for being slow.

To read the numbers, while the machine is quiet (in brackets: ratio to the fastest of the group):
TILEWITNESS_THREADS=2 python -m pytest tests/ui/test_speed.py --benchmark-enable --benchmark-group-by=group,param
    --benchmark-columns=min,median,rounds
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from pytest_benchmark.fixture import BenchmarkFixture

from tilewitness.training.designer import DESIGNER_SETS
from tilewitness.training.set_photos import render_set
from tilewitness.vision.lesson import layout, study
from tilewitness.vision.read import read_photo
from tilewitness.vision.sets import TileSet

SAMPLES = Path(__file__).parents[2] / "samples"
WIDTH, HEIGHT = 4000, 3000
START = "a cold start"
LEARNT = "a photo of 70 tiles, with their set learnt or not"
LARGE = "a 12-megapixel photo on 2 threads"


@pytest.fixture(scope="module", params=["win.jpg", "table.jpg", "smooth table.jpg"])
def large_photo(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A drawn sample, one rack or a table of them, blown up to 12 megapixels.

    With a sensor's noise and little compression, as a camera writes it (4 MB), it takes longer to decode than the
    smooth one.
    """
    file = tmp_path_factory.mktemp("large") / "large.jpg"
    smooth, name = "smooth" in request.param, request.param.removeprefix("smooth ")
    large = cv2.resize(cv2.imread(str(SAMPLES / name)), (WIDTH, HEIGHT), interpolation=cv2.INTER_CUBIC)
    if not smooth:
        cv2.setRNGSeed(1)
        noise = cv2.randn(np.empty(large.shape, np.int16), (0, 0, 0), (5, 5, 5))
        large = np.clip(large + noise, 0, 255).astype(np.uint8)
    cv2.imwrite(str(file), large, [cv2.IMWRITE_JPEG_QUALITY, 95])
    return file


@pytest.fixture
def _two_threads() -> Iterator[None]:
    before = cv2.getNumThreads()
    cv2.setNumThreads(2)
    yield
    cv2.setNumThreads(before)


@pytest.mark.benchmark(group=LARGE)
@pytest.mark.usefixtures("_two_threads")
def test_read_end_to_end(benchmark: BenchmarkFixture, large_photo: Path) -> None:
    reading = benchmark.pedantic(read_photo, (large_photo,), rounds=9, warmup_rounds=1)

    assert (WIDTH, HEIGHT) == reading.size
    assert reading.tiles


@pytest.mark.benchmark(group=LARGE)
@pytest.mark.usefixtures("_two_threads")
def test_opencv_decodes_the_same_file(benchmark: BenchmarkFixture, large_photo: Path) -> None:
    image = benchmark.pedantic(cv2.imread, (str(large_photo),), rounds=9, warmup_rounds=1)

    assert (HEIGHT, WIDTH, 3) == image.shape


@pytest.fixture(scope="module", params=["usual artwork", "a designer's"])
def learnt_set(request: pytest.FixtureRequest) -> tuple[TileSet, NDArray[np.uint8]]:
    """A set learnt from a photo of its layout, and a photo of 70 of its tiles in play."""
    artwork = DESIGNER_SETS["letters"] if request.param == "a designer's" else None
    photos = render_set(4, layout(flowers=8, jokers=2), held_out=artwork is None, artwork=artwork, count=1)
    lesson = study([photos.laid_out.image], layout(flowers=8, jokers=2))
    return lesson.as_laid_out().learn(TileSet("Learnt")), photos.in_play[0].image


@pytest.mark.benchmark(group=LEARNT)
@pytest.mark.usefixtures("_two_threads")
@pytest.mark.parametrize("known", ["without the set", "with the set"])
def test_read_with_a_learnt_set(benchmark: BenchmarkFixture, learnt_set: tuple[TileSet, NDArray[np.uint8]], known: str) -> None:
    tile_set, photo = learnt_set
    chosen = {"tile_set": tile_set} if known == "with the set" else {}

    assert benchmark.pedantic(read_photo, (photo,), chosen, rounds=11, warmup_rounds=1).tiles


def _run(*arguments: str) -> str:
    """Run Python, which may keep its bytecode, as it does wherever a program is installed (the first round is not counted)."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return subprocess.run([sys.executable, *arguments], check=True, capture_output=True, text=True, env=kept).stdout


@pytest.mark.benchmark(group=START)
def test_the_command_line_reads_a_photo(benchmark: BenchmarkFixture) -> None:
    answer = benchmark.pedantic(_run, ("-m", "tilewitness", "read", str(SAMPLES / "win.jpg")), rounds=7, warmup_rounds=1)

    assert "14 tiles" in answer


@pytest.mark.benchmark(group=START)
def test_the_command_line_judges_a_photo(benchmark: BenchmarkFixture) -> None:
    judge = ("-m", "tilewitness", "judge", str(SAMPLES / "win.jpg"), "--card", str(SAMPLES / "card.toml"))

    assert "second opinion" in benchmark.pedantic(_run, judge, rounds=7, warmup_rounds=1)


@pytest.mark.benchmark(group=START)
def test_python_imports_opencv_and_onnxruntime(benchmark: BenchmarkFixture) -> None:
    assert "" == benchmark.pedantic(_run, ("-c", "import cv2, onnxruntime"), rounds=7, warmup_rounds=1)
