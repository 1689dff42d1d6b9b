"""The whole way from nothing to a shipped file, as small as it goes: it must run, not learn."""

import sys
from pathlib import Path

import numpy as np
import pytest

torch = pytest.importorskip("torch", reason="training needs PyTorch: pip install -e .[train]")
onnx = pytest.importorskip("onnx", reason="export needs onnx: pip install -e .[train]")
pytest.importorskip("onnxscript", reason="export needs onnxscript: pip install -e .[train]")

from tilewitness.training import shards, train_finder, train_reader
from tilewitness.training.export import export
from tilewitness.training.pool import ScenePool, cut_patches
from tilewitness.training.runs import SettingsError, settings
from tilewitness.training.whole import TAUGHT_BY


@pytest.fixture(scope="module")
def pictures(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folders = {kind: tmp_path_factory.mktemp(kind) for kind in shards.KINDS}
    for kind, folder in folders.items():
        shards.render_shards(folder, 5, range(shards.PER_SHARD), False, kind, float("inf"))
    return folders


def test_a_shard_holds_pictures_and_the_tiles_in_them(pictures: dict[str, Path]) -> None:
    (file,) = pictures["sheets"].glob("*.npz")
    with np.load(file) as shard:
        images, tiles, counts = shard["images"], shard["tiles"], shard["counts"]

    assert (shards.PER_SHARD, shards.SIDE, shards.SIDE, 3) == images.shape
    assert [70] * shards.PER_SHARD == counts.tolist()
    assert {*range(37)} >= set(tiles["face"][:, :70].ravel().tolist())


def test_the_finder_is_asked_for_tiles_without_names(pictures: dict[str, Path]) -> None:
    pool = ScenePool.whole([pictures["foreign"]], torch.device("cpu"))
    shows_tiles = (pool.faces == shards.UNNAMED).any(1).nonzero()[:, 0]
    rng = torch.Generator().manual_seed(1)
    patches = cut_patches(pool, shows_tiles[:4], 512, scales=(1.0, 1.0), turn=0.0, rng=rng)

    assert [True] * 4 == patches.wanted.any(1).tolist()


@pytest.mark.filterwarnings("ignore")  # the exporter's own libraries warn of their future
@pytest.mark.parametrize(("kind", "options"), [("finder", ["patch=128"]), ("reader", [])])
def test_both_networks_train_and_export(
    kind: str, options: list[str], pictures: dict[str, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folders = [str(pictures[lesson]) for lesson in TAUGHT_BY[kind]]
    small = ["minutes=0.03", "pool=32", "batch=4", *options]
    monkeypatch.setattr(sys, "argv", [kind, str(tmp_path), *folders, "--set", *small])
    {"finder": train_finder, "reader": train_reader}[kind].main()

    assert (tmp_path / "settings.json").exists()
    difference, loss = export(kind, tmp_path / "weights.pt", tmp_path / "out.onnx", scenes=2)

    assert (True, True) == (difference < 5e-3, loss < 2e-2)
    kinds = {node.op_type for node in onnx.load(tmp_path / "out.onnx").graph.node}
    assert "QLinearConv" in kinds  # convolutions of bytes: nothing is left for the runtime to put together


def test_an_unknown_setting_is_refused_by_name() -> None:
    with pytest.raises(SettingsError, match='"speed" is no setting of finder. It has: seed, minutes'):
        settings("finder", ["speed=2"])
