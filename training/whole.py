"""From nothing to both shipped files, by the clock: render, train and export side by side.

    python -m tilewitness.training.whole OUT --minutes 10 [--from EARLIER]

Rendering keeps every processor core busy until training ends; both trainings share the accelerator and
take in new scenes as they appear. OUT then holds `finder.onnx`, `reader.onnx` and one folder per run.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import time
from pathlib import Path

HELD_OUT_SCENES = 512
HELD_OUT_SEED = 900
FIRST_SHARDS = 24
EXPORT_MINUTES = 0.7
"""Left at the end for validation and export."""


def step(module: str, *arguments: str | Path | float) -> subprocess.Popen[bytes]:
    """Start one training step as a process of its own."""
    command = [sys.executable, "-m", f"tilewitness.training.{module}", *map(str, arguments)]
    return subprocess.Popen(command)


def done(*processes: subprocess.Popen[bytes]) -> None:
    """Wait for steps; stop everything when one fails."""
    for process in processes:
        if process.wait():
            sys.exit(f"{' '.join(map(str, process.args[2:4]))} failed.")  # type: ignore[index]


def main() -> None:
    parser = argparse.ArgumentParser(description="Render, train and export both networks, by the clock.")
    parser.add_argument("out", type=Path)
    parser.add_argument("--scratch", type=Path, help="where scenes go (3 MB each); default OUT/scenes")
    parser.add_argument("--minutes", type=float, default=10.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=16000, help="most scenes to render")
    parser.add_argument("--workers", type=int, default=max(1, (os.cpu_count() or 1) - 2))
    parser.add_argument("--from", dest="start", type=Path, help="OUT of an earlier run to go on from")
    parser.add_argument("--finder", nargs="*", default=[], metavar="key=value")
    parser.add_argument("--reader", nargs="*", default=[], metavar="key=value")
    given = parser.parse_args()
    end = time.time() + 60 * given.minutes
    scratch = given.scratch or given.out / "scenes"
    unseen, scenes = scratch / "held-out", scratch / "train"
    workers = ("--workers", given.workers)
    done(step("shards", unseen, "--count", HELD_OUT_SCENES, "--seed", HELD_OUT_SEED, "--held-out", *workers))
    left = end - time.time() - 60 * EXPORT_MINUTES
    rendering = step(
        "shards", scenes, "--count", given.count, "--seed", given.seed, *workers, "--seconds", left
    )
    while len(list(scenes.glob("*.npz"))) < FIRST_SHARDS and rendering.poll() is None:
        time.sleep(1)
    minutes = (end - time.time()) / 60 - EXPORT_MINUTES
    trainings = []
    for kind in ("finder", "reader"):
        start = ("--from", given.start / kind / "weights.pt") if given.start else ()
        chosen = ("--set", f"minutes={minutes:.2f}", *getattr(given, kind))
        trainings.append(
            step(f"train_{kind}", scenes, given.out / kind, "--held-out", unseen, *start, *chosen)
        )
    done(*trainings)
    rendering.terminate()
    for kind in ("finder", "reader"):
        done(step("export", kind, given.out / kind / "weights.pt", given.out / f"{kind}.onnx"))


if __name__ == "__main__":
    main()
