import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from onnxruntime import GraphOptimizationLevel, InferenceSession, SessionOptions

from tilewitness import models
from tilewitness.engine.faces import NAMES
from tilewitness.models import ModelError, open_finder, open_reader, start_opening, threads

READER_FACTS = {"faces": list(NAMES), "size": [96, 72], "margin": 0.06, "version": "1"}


@pytest.fixture
def model_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Any:
    """Put a network that returns its input, with the given metadata, in place of the package's own files."""
    onnx = pytest.importorskip(
        "onnx", reason="onnx, from the extra `train`, writes the network for this test"
    )

    def write(name: str, facts: dict[str, Any]) -> None:
        value = onnx.helper.make_tensor_value_info
        node = onnx.helper.make_node("Identity", ["in"], ["out"])
        kind = onnx.TensorProto.FLOAT
        graph = onnx.helper.make_graph([node], "echo", [value("in", kind, [1])], [value("out", kind, [1])])
        opsets = [onnx.helper.make_opsetid("", 17)]
        model = onnx.helper.make_model(graph, opset_imports=opsets, ir_version=9)
        onnx.helper.set_model_props(model, {key: json.dumps(fact) for key, fact in facts.items()})
        onnx.save(model, tmp_path / name)

    monkeypatch.setattr(models, "FOLDER", tmp_path)
    models._finder.cache_clear()
    models._reader.cache_clear()
    yield write
    models._finder.cache_clear()
    models._reader.cache_clear()


def test_a_fitting_file_opens_and_tells_its_facts(model_file: Any) -> None:
    model_file("reader.onnx", READER_FACTS)
    model_file("finder.onnx", {"stride": 4, "version": "1"})

    reader, finder = open_reader(), open_finder()

    assert ((96, 72), 0.06, 4) == (reader.size, reader.margin, finder.stride)
    assert [7.0] == finder.session.run(["out"], {"in": np.array([7], np.float32)})[0].tolist()
    assert reader is open_reader()


def test_opening_can_start_before_the_networks_are_needed(model_file: Any) -> None:
    model_file("reader.onnx", READER_FACTS)
    model_file("finder.onnx", {"stride": 4, "version": "1"})

    start_opening()

    assert (4, (96, 72)) == (open_finder().stride, open_reader().size)


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        ({**READER_FACTS, "version": "2"}, "reader.onnx is of version 2; this program needs version 1"),
        ({**READER_FACTS, "faces": list(NAMES)[::-1]}, "its faces are not the 36 of this program"),
        ({"version": "1"}, "reader.onnx does not say its faces, size, margin"),
    ],
)
def test_a_file_that_does_not_fit_is_refused_with_its_reason(
    model_file: Any, facts: dict[str, Any], says: str
) -> None:
    model_file("reader.onnx", facts)

    with pytest.raises(ModelError, match=says):
        open_reader()


def test_a_missing_file_is_refused(model_file: Any) -> None:
    with pytest.raises(ModelError, match=r"finder\.onnx is missing"):
        open_finder()


def test_a_broken_file_is_refused(model_file: Any, tmp_path: Path) -> None:
    (tmp_path / "finder.onnx").write_bytes(b"not a network")

    with pytest.raises(ModelError, match=r"finder\.onnx cannot be opened"):
        open_finder()


def test_threads_are_bounded_and_can_be_set(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("TILEWITNESS_THREADS", raising=False)
    assert 1 <= threads() <= 4

    monkeypatch.setenv("TILEWITNESS_THREADS", "7")
    assert 7 == threads()


@pytest.mark.parametrize("text", ["", "0", "-1", "two", "1.5"])
def test_a_number_of_threads_that_is_none_is_refused(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setenv("TILEWITNESS_THREADS", text)

    with pytest.raises(ModelError, match=f'TILEWITNESS_THREADS is "{text}": set it to a whole number'):
        threads()


@pytest.mark.parametrize(("name", "shape"), [("finder.onnx", (1, 192, 256, 3)), ("reader.onnx", (5, 96, 72, 3))])
def test_a_shipped_graph_says_what_it_says_when_the_runtime_rewrites_it_again(name: str, shape: tuple[int, ...]) -> None:
    feed = np.random.default_rng(5).integers(0, 256, shape, np.uint8)
    answers = []
    for level in (GraphOptimizationLevel.ORT_DISABLE_ALL, GraphOptimizationLevel.ORT_ENABLE_ALL):
        options = SessionOptions()
        options.graph_optimization_level = level
        session = InferenceSession(models.FOLDER / name, options, providers=["CPUExecutionProvider"])
        answers.append(session.run(None, {session.get_inputs()[0].name: feed}))

    for as_shipped, rewritten in zip(*answers, strict=True):
        np.testing.assert_allclose(as_shipped, rewritten, atol=1e-5)
