"""The shipped networks and the one place that opens them.

Both are ONNX files beside this module. Their metadata carries, as JSON, what the code must know of them;
it is checked here, so a file that does not fit is refused with a sentence and never misread.
"""

from __future__ import annotations

import hashlib
import importlib
import json
import os
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Protocol, TypeVar

from tilewitness.engine.faces import NAMES
from tilewitness.models.underway import Underway

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    import onnxruntime
    from numpy.typing import NDArray

FOLDER: Final = Path(__file__).parent  # onnxruntime wants a path; importlib.resources would take 10 ms to find it
VERSION: Final = 1  # of the contract between these files and the code
THREADS_VARIABLE: Final = "TILEWITNESS_THREADS"
_MOST_THREADS = 4
_Net = TypeVar("_Net")


class ModelError(RuntimeError):
    """A network is missing or does not fit this version of the program."""


class Session(Protocol):
    """What is used of `onnxruntime.InferenceSession`."""

    def run(self, output_names: Sequence[str], feed: Mapping[str, NDArray[Any]]) -> list[NDArray[Any]]: ...


@dataclass(frozen=True, slots=True)
class FinderNet:
    """The network that finds tile faces.

    Attributes:
        session: input `photo` uint8 (1, H, W, 3) BGR, sides multiples of 32; outputs `centres` float32
            (1, H/stride, W/stride), probabilities, zero but at local peaks, and `corners` float32
            (1, 8, H/stride, W/stride), offsets x, y of four corners from the cell's centre in network pixels.
        stride: network pixels per output cell.
    """

    session: Session
    stride: int = 4


@dataclass(frozen=True, slots=True)
class ReaderNet:
    """The network that names straightened faces.

    Attributes:
        session: input `faces` uint8 (N, height, width, 3) BGR; outputs `probabilities` float32 (N, 37), the
            faces in stored order and then "no face", `upside_down` float32 (N,) and `embedding` (N, 128).
        size: height and width of a straightened face with its margin, in pixels.
        margin: part of the face's own height and width that is added on each side.
        fingerprint: of its file: what was kept of one network's embeddings says nothing to another.
    """

    session: Session
    size: tuple[int, int] = (96, 72)
    margin: float = 0.06
    fingerprint: str = ""


def open_finder() -> FinderNet:
    """Open the finder once per process.

    Raises:
        ModelError: the file is missing or does not fit.
    """
    return _finder().result()


def open_reader() -> ReaderNet:
    """Open the reader once per process.

    Raises:
        ModelError: the file is missing or does not fit.
    """
    return _reader().result()


def start_opening() -> None:
    """Begin to open both in the background, while other work, such as loading a photo, goes on."""
    _finder()
    _reader()


@cache
def _finder() -> Underway[FinderNet]:
    return _opening(_load_finder)


@cache
def _reader() -> Underway[ReaderNet]:
    return _opening(_load_reader)


def _opening(load: Callable[[], _Net]) -> Underway[_Net]:
    # In the caller's thread: numpy breaks when two threads import it at once.
    importlib.import_module("onnxruntime")
    return Underway(load)


def _load_finder() -> FinderNet:
    session, facts = _open("finder.onnx", ("stride", "version"))
    return FinderNet(session, int(facts["stride"]))


def _load_reader() -> ReaderNet:
    session, facts = _open("reader.onnx", ("faces", "size", "margin", "version"))
    if tuple(facts["faces"]) != NAMES:
        raise ModelError(
            "reader.onnx: its faces are not the 36 of this program, in their order. Reinstall tilewitness."
        )
    height, width = facts["size"]
    fingerprint = hashlib.sha256((FOLDER / "reader.onnx").read_bytes()).hexdigest()[:16]
    return ReaderNet(session, (int(height), int(width)), float(facts["margin"]), fingerprint)


def threads() -> int:
    """Threads a network may use: the variable TILEWITNESS_THREADS, else every core up to four.

    Raises:
        ModelError: the variable is not a whole number of at least 1.
    """
    text = os.environ.get(THREADS_VARIABLE)
    if text is None:
        cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
        return min(_MOST_THREADS, cores)
    if not text.isdecimal() or int(text) < 1:
        raise ModelError(
            f'{THREADS_VARIABLE} is "{text}": set it to a whole number of threads, for example 2.'
        )
    return int(text)


def _open(name: str, keys: tuple[str, ...]) -> tuple[onnxruntime.InferenceSession, dict[str, Any]]:
    import onnxruntime

    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = threads()
    options.add_session_config_entry("session.intra_op.allow_spinning", "0")  # waiting threads leave the cores to others
    options.graph_optimization_level = onnxruntime.GraphOptimizationLevel.ORT_DISABLE_ALL  # done before it was shipped
    options.log_severity_level = 3
    path = FOLDER / name
    if not path.exists():
        raise ModelError(f"{name} is missing from the installed package. Reinstall tilewitness.")
    try:
        session = onnxruntime.InferenceSession(path, options, providers=["CPUExecutionProvider"])
    except Exception as error:  # onnxruntime raises a dozen kinds of its own
        raise ModelError(f"{name} cannot be opened ({error}). Reinstall tilewitness.") from error
    return session, _facts(session.get_modelmeta().custom_metadata_map, name, keys)


def _facts(metadata: Mapping[str, str], name: str, keys: tuple[str, ...]) -> dict[str, Any]:
    """The JSON values under `keys`, with the version checked."""
    missing = [key for key in keys if key not in metadata]
    if missing:
        raise ModelError(f"{name} does not say its {', '.join(missing)}. Export it again.")
    facts = {key: json.loads(metadata[key]) for key in keys}
    if int(facts["version"]) != VERSION:
        raise ModelError(f"{name} is of version {facts['version']}; this program needs version {VERSION}.")
    return facts
