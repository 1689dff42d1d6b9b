"""Turn a network's convolutions into eight-bit arithmetic, which takes a processor a third of the time.

Ranges come from rendered scenes, the same ones every time, so the step can be repeated. Weights use seven of
their eight bits: processors without dot products of bytes then cannot overflow. Source: Jacob et al. 2018,
"Quantization and Training of Neural Networks for Efficient Integer-Arithmetic-Only Inference".
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import numpy as np
import onnx
from numpy.typing import NDArray
from onnxruntime.quantization import CalibrationDataReader, QuantFormat, QuantType, quantize_static

from tilewitness.training.nets import READER_MARGIN, READER_SIZE
from tilewitness.training.optimise import folded
from tilewitness.training.scenes import render_scene
from tilewitness.vision.finder import LONG_SIDE, Region, letterbox
from tilewitness.vision.photo import Photo
from tilewitness.vision.straighten import straighten

SCENES: Final = 24
SEED: Final = 70_000_000
MOST_HIDDEN: Final = 0.3  # a face hidden more than this is not one that the reader is shown
ANSWERS: Final = 8  # a convolution with no more channels gives the answer itself and keeps its precision

_QUANTISED = ["Conv", "Relu", "Add"]

Feed = dict[str, NDArray[np.uint8]]


def rendered_inputs(kind: str, scenes: int = SCENES) -> Iterator[Feed]:
    """Draw what the finder ("finder") or the reader ("reader") is shown of so many scenes."""
    for number in range(scenes):
        scene = render_scene(SEED + number)
        photo = Photo(scene.image)
        if kind == "finder":
            yield {"photo": letterbox(photo, Region(0, 0, *photo.size), LONG_SIDE / max(photo.size))[0]}
            continue
        quads = np.array([tile.quad for tile in scene.tiles if tile.hidden < MOST_HIDDEN], np.float32)
        if len(quads):
            yield {"faces": straighten(photo, quads, size=READER_SIZE, margin=READER_MARGIN)}


def quantised(model: onnx.ModelProto, inputs: list[Feed]) -> onnx.ModelProto:
    """Return the model with eight-bit convolutions, its ranges those that these inputs need."""
    before = folded(model)
    weights = {weight.name: weight for weight in before.graph.initializer}
    exact = [
        node.name
        for node in before.graph.node
        if node.op_type == "Conv" and weights[node.input[1]].dims[0] <= ANSWERS
    ]
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "quantised.onnx"
        quantize_static(
            before, out, _Inputs(inputs), quant_format=QuantFormat.QDQ, op_types_to_quantize=_QUANTISED,
            per_channel=True, reduce_range=True, nodes_to_exclude=exact,
            activation_type=QuantType.QUInt8, weight_type=QuantType.QInt8,
        )  # fmt: skip
        return onnx.load(out)


class _Inputs(CalibrationDataReader):
    """The inputs in the manner in which onnxruntime asks for them."""

    def __init__(self, inputs: list[Feed]) -> None:
        self.left = iter(inputs)

    def get_next(self) -> Any:
        return next(self.left, None)
