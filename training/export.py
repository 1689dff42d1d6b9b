"""Turn trained weights into the two shipped files, and refuse a file that does not say what PyTorch says.

The convolutions of a shipped file work in eight bits; what that changes is bounded too.

    python -m tilewitness.training.export finder RUN/weights.pt OUT/finder.onnx
    python -m tilewitness.training.export reader RUN/weights.pt OUT/reader.onnx
"""

from __future__ import annotations

import argparse
import hashlib
import json
from pathlib import Path
from typing import Any

import numpy as np
import onnx
import onnxruntime
import torch
from onnx import helper
from torch import Tensor, nn
from torch.nn import functional as F

from tilewitness.engine.faces import NAMES
from tilewitness.training.nets import READER_MARGIN, READER_SIZE, STRIDE, Finder, Reader
from tilewitness.training.optimise import optimised
from tilewitness.training.quantise import SCENES, Feed, quantised, rendered_inputs

VERSION = "1"
LARGEST_DIFFERENCE = 5e-3
"""Of the exact network from PyTorch, in probabilities; in corners the same share of 100 pixels."""

LARGEST_LOSS = 2e-2
"""Of the eight-bit network from the exact one, on average over rendered faces, in the same units."""


class ExportError(ValueError):
    """The exported file does not agree with the network it was made from."""


class FinderFile(nn.Module):
    """The finder as shipped: probabilities at local peaks only, zero elsewhere."""

    def __init__(self, network: Finder) -> None:
        super().__init__()
        self.network = network

    def forward(self, photo: Tensor) -> tuple[Tensor, Tensor]:
        logits, corners = self.network(photo)
        likely = torch.sigmoid(logits)
        highest = F.max_pool2d(likely[:, None], 3, 1, 1)[:, 0]
        return torch.where(likely >= highest, likely, torch.zeros_like(likely)), corners


class ReaderFile(nn.Module):
    """The reader as shipped: calibrated probabilities, way up, unit-length embedding."""

    def __init__(self, network: Reader, temperature: float) -> None:
        super().__init__()
        self.network, self.temperature = network, temperature

    def forward(self, faces: Tensor) -> tuple[Tensor, Tensor, Tensor]:
        logits, turned, embedding = self.network(faces)
        unit = embedding / embedding.norm(dim=1, keepdim=True).clamp(min=1e-6)
        return torch.softmax(logits / self.temperature, 1), torch.sigmoid(turned), unit


def about(kind: str) -> dict[str, Any]:
    """The metadata that travels inside the file."""
    if kind == "finder":
        return {"stride": STRIDE, "version": VERSION}
    return {"faces": list(NAMES), "size": list(READER_SIZE), "margin": READER_MARGIN, "version": VERSION}


def export(kind: str, weights: Path, out: Path, *, scenes: int = SCENES) -> tuple[float, float]:
    """Write one ONNX file.

    Args:
        scenes: how many are drawn to find the ranges of the eight-bit numbers.
    Returns:
        The largest difference of the exact network from PyTorch on random pictures, and the mean difference of
        the written file from the exact network on rendered ones.
    Raises:
        ExportError: the differences are above `LARGEST_DIFFERENCE` and `LARGEST_LOSS`.
    """
    saved = torch.load(weights, map_location="cpu")
    if kind == "finder":
        network: nn.Module = Finder()
        network.load_state_dict(saved["network"])
        whole: nn.Module = FinderFile(network)
        sample, names = torch.randint(0, 256, (1, 256, 320, 3), dtype=torch.uint8), ["centres", "corners"]
        rows, columns = torch.export.Dim("rows", min=2, max=200), torch.export.Dim("columns", min=2, max=200)
        shapes: Any = {"photo": {1: 32 * rows, 2: 32 * columns}}
    else:
        network = Reader(len(NAMES) + 1)
        network.load_state_dict(saved["network"])
        whole = ReaderFile(network, saved["temperature"])
        sample = torch.randint(0, 256, (3, *READER_SIZE, 3), dtype=torch.uint8)
        names = ["probabilities", "upside_down", "embedding"]
        shapes = {"faces": {0: torch.export.Dim("count", min=1, max=4096)}}
    whole.eval()
    program = torch.onnx.export(
        whole, (sample,), input_names=[next(iter(shapes))], output_names=names, dynamic_shapes=shapes, dynamo=True
    )
    assert program is not None
    exact = program.model_proto
    difference = _difference(whole, exact, sample)
    inputs = list(rendered_inputs(kind, scenes))
    model = optimised(quantised(exact, inputs))
    loss = _loss(exact, model, inputs)
    helper.set_model_props(model, {key: json.dumps(value) for key, value in about(kind).items()})
    onnx.checker.check_model(model)
    onnx.save(model, out)
    return difference, loss


def _open(model: onnx.ModelProto) -> onnxruntime.InferenceSession:
    return onnxruntime.InferenceSession(model.SerializeToString(), providers=["CPUExecutionProvider"])


def _difference(network: nn.Module, model: onnx.ModelProto, sample: Tensor) -> float:
    session = _open(model)
    with torch.no_grad():
        wanted = network(sample)
    got = session.run(None, {session.get_inputs()[0].name: sample.numpy()})
    largest = 0.0
    for name, ours, theirs in zip((o.name for o in session.get_outputs()), wanted, got, strict=True):
        scale = 100.0 if name == "corners" else 1.0
        # Two equal neighbours may trade the place of the peak: compare where both see one.
        both = (ours.numpy() > 0) & (theirs > 0) if name == "centres" else np.True_
        largest = max(largest, float(np.abs(np.where(both, ours.numpy() - theirs, 0)).max()) / scale)
    if largest > LARGEST_DIFFERENCE:
        raise ExportError(f"The file differs from PyTorch by {largest:.4g}, allowed is {LARGEST_DIFFERENCE}.")
    return largest


def _loss(exact: onnx.ModelProto, model: onnx.ModelProto, inputs: list[Feed]) -> float:
    """The largest mean difference of any output; the finder's are compared where it sees a face."""
    sessions = [_open(one) for one in (exact, model)]
    names = [output.name for output in sessions[0].get_outputs()]
    differences: dict[str, list[float]] = {name: [] for name in names}
    for feed in inputs:
        wanted, got = (dict(zip(names, session.run(None, feed), strict=True)) for session in sessions)
        for name in names:
            off = np.abs(wanted[name] - got[name])
            if "centres" in wanted:
                off = off[..., (wanted["centres"][0] > 0.5) & (got["centres"][0] > 0.5)]
            differences[name] += (off / (100.0 if name == "corners" else 1.0)).ravel().tolist()
    loss = max(float(np.mean(values)) if values else 0.0 for values in differences.values())
    if loss > LARGEST_LOSS:
        raise ExportError(f"In eight bits the network changes by {loss:.4g}, allowed is {LARGEST_LOSS}.")
    return loss


def main() -> None:
    parser = argparse.ArgumentParser(description="Turn trained weights into a shipped ONNX file.")
    parser.add_argument("kind", choices=("finder", "reader"))
    parser.add_argument("weights", type=Path)
    parser.add_argument("out", type=Path)
    given = parser.parse_args()
    difference, loss = export(given.kind, given.weights, given.out)
    digest = hashlib.sha256(given.out.read_bytes()).hexdigest()
    print(f"{given.out}: {given.out.stat().st_size} bytes, SHA-256 {digest}")
    print(f"largest difference from PyTorch {difference:.2g}, mean change by eight bits {loss:.2g}")


if __name__ == "__main__":
    main()
