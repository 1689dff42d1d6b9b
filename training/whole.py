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

import torch

HELD_OUT = {"scenes": 384, "foreign": 64, "lookalikes": 64, "sheets": 96, "symbols": 32}
HELD_OUT_SEED = 900
SHARES = {"sheets": 0.4, "symbols": 0.12, "foreign": 0.08, "lookalikes": 0.05}
"""Shares of the rendering processes that draw each kind; the others render scenes."""

TAUGHT_BY = {"finder": ("scenes", "foreign", "lookalikes"), "reader": ("scenes", "sheets", "symbols")}

FIRST_SHARDS = 24
EXPORT_MINUTES = 1.3
"""Left at the end for validation and export."""


def step(module: str, *arguments: str | Path | float, device: int = 0) -> subprocess.Popen[bytes]:
    """Start one training step as a process of its own, on one accelerator if there are any."""
    command = [sys.executable, "-m", f"tilewitness.training.{module}", *map(str, arguments)]
    return subprocess.Popen(command, env={**os.environ, "CUDA_VISIBLE_DEVICES": str(device)})


def done(*processes: subprocess.Popen[bytes]) -> None:
    """Wait for steps; stop everything when one fails."""
    for process in processes:
        if process.wait():
            sys.exit(f"Failed: {process.args!r}")


def main() -> None:
    parser = argparse.ArgumentParser(description="Render, train and export both networks, by the clock.")
    parser.add_argument("out", type=Path)
    parser.add_argument("--scratch", type=Path, help="where scenes go (3 MB each); default OUT/scenes")
    parser.add_argument("--minutes", type=float, default=10.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=12000, help="most pictures of each kind to render")
    parser.add_argument("--workers", type=int, default=max(1, (os.cpu_count() or 1) - 2))
    parser.add_argument("--from", dest="start", type=Path, help="folder with finder.pt and reader.pt to go on from")
    parser.add_argument("--finder", nargs="*", default=[], metavar="key=value")
    parser.add_argument("--reader", nargs="*", default=[], metavar="key=value")
    given = parser.parse_args()
    end = time.time() + 60 * given.minutes
    scratch = given.scratch or given.out / "scenes"
    workers = {kind: max(1, round(given.workers * share)) for kind, share in SHARES.items()}
    workers["scenes"] = max(1, given.workers - sum(workers.values()))
    unseen = {kind: scratch / f"held-out-{kind}" for kind in HELD_OUT}
    pictures = {kind: scratch / kind for kind in HELD_OUT}

    def render(kind: str, out: Path, count: int, seed: int, *more: str | float) -> subprocess.Popen[bytes]:
        return step("shards", out, "--kind", kind, "--count", count, "--seed", seed, "--workers", workers[kind], *more)

    done(*(render(kind, unseen[kind], count, HELD_OUT_SEED, "--held-out") for kind, count in HELD_OUT.items()))
    left = end - time.time() - 60 * EXPORT_MINUTES
    rendering = [render(kind, pictures[kind], given.count, given.seed, "--seconds", left) for kind in HELD_OUT]
    while any(len(list(folder.glob("*.npz"))) < FIRST_SHARDS for folder in pictures.values()):
        time.sleep(1)
    minutes = (end - time.time()) / 60 - EXPORT_MINUTES
    trainings = []
    for kind, lessons in TAUGHT_BY.items():
        data = (*(pictures[lesson] for lesson in lessons), "--held-out", *(unseen[lesson] for lesson in lessons))
        start = ("--from", given.start / f"{kind}.pt") if given.start else ()
        chosen = ("--set", f"minutes={minutes:.2f}", *getattr(given, kind))
        device = 1 if kind == "reader" and torch.cuda.device_count() > 1 else 0
        trainings.append(step(f"train_{kind}", given.out / kind, *data, *start, *chosen, device=device))
    done(*trainings)
    for process in rendering:
        process.wait()  # it stops by its own clock
    done(*(step("export", kind, given.out / kind / "weights.pt", given.out / f"{kind}.onnx") for kind in TAUGHT_BY))


if __name__ == "__main__":
    main()
