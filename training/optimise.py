"""Let onnxruntime rewrite a graph once, before it is shipped: then nobody waits for that when a file is opened."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Final

import onnx
import onnxruntime
from onnxruntime import GraphOptimizationLevel

_OF_THIS_PROCESSOR: Final = ["NchwcTransformer"]
"""Rewrites that depend on the width of the exporting processor's registers: a file is for all processors."""


def folded(model: onnx.ModelProto) -> onnx.ModelProto:
    """The model with its constants computed and its norms folded into the convolutions."""
    return _rewritten(model, GraphOptimizationLevel.ORT_ENABLE_BASIC)


def optimised(model: onnx.ModelProto) -> onnx.ModelProto:
    """The model as the runtime would run it: in operators of its own, and nothing left to rewrite."""
    return _rewritten(model, GraphOptimizationLevel.ORT_ENABLE_ALL)


def _rewritten(model: onnx.ModelProto, level: GraphOptimizationLevel) -> onnx.ModelProto:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "rewritten.onnx"
        options = onnxruntime.SessionOptions()
        options.graph_optimization_level = level
        options.optimized_model_filepath = str(file)
        options.log_severity_level = 3  # it warns that such a file may suit this processor alone: see above
        onnxruntime.InferenceSession(
            model.SerializeToString(), options, providers=["CPUExecutionProvider"], disabled_optimizers=_OF_THIS_PROCESSOR
        )
        return onnx.load(file)
