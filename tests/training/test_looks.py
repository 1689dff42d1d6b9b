"""Unnamed symbols, and learning to tell their looks apart."""

from dataclasses import replace

import numpy as np
import pytest

from tilewitness.training.foreign import render_foreign
from tilewitness.training.sheets import render_symbols
from tilewitness.training.symbols import Symbol, draw_symbol, sample_symbols


@pytest.mark.parametrize("held_out", [False, True])
def test_a_sheet_of_symbols_shows_each_more_than_once_and_names_none(held_out: bool) -> None:
    tiles = render_symbols(3, held_out=held_out).tiles
    counts = np.bincount([tile.look for tile in tiles])

    assert {None} == {tile.face for tile in tiles}
    assert (True, True) == (len(counts) > 15, set(counts[:-1]) <= {2, 3, 4})


def test_tiles_of_a_foreign_scene_have_looks_and_no_names() -> None:
    foreign = next(scene for seed in range(70, 90) if len((scene := render_foreign(seed)).tiles) > 5)

    assert {None} == {tile.face for tile in foreign.tiles}
    assert len({tile.look for tile in foreign.tiles}) > 2


def test_two_symbols_of_one_set_differ_more_than_two_tiles_with_one_symbol() -> None:
    rng = np.random.default_rng(4)
    symbols = sample_symbols(rng, 12)
    ones, others = ([_seen(draw_symbol(symbol, rng)) for symbol in symbols] for _ in range(2))
    apart = np.array([[np.abs(one - other).mean() for other in others] for one in ones])

    assert list(range(12)) == apart.argmin(1).tolist()


def _seen(drawn: np.ndarray) -> np.ndarray:
    alpha = drawn[:, :, 3:] / np.float32(255)
    return np.asarray(drawn[:, :, :3] * alpha + 245 * (1 - alpha))


def test_the_loss_is_that_of_cross_entropy_where_each_tile_has_one_partner() -> None:
    torch = pytest.importorskip("torch", reason="training needs PyTorch: pip install -e .[train]")
    from tilewitness.training.looks import TEMPERATURE, contrast
    from tilewitness.training.shards import UNNAMED

    embeddings = torch.randn(1, 6, 128, generator=torch.Generator().manual_seed(1))
    looks = torch.tensor([[0, 1, 2, 0, 1, 2]])
    unit = embeddings[0] / embeddings[0].norm(dim=1, keepdim=True)
    alike = (unit @ unit.T / TEMPERATURE).fill_diagonal_(-torch.inf)
    wanted = torch.nn.functional.cross_entropy(alike, torch.tensor([3, 4, 5, 0, 1, 2]))

    assert pytest.approx(wanted.item(), rel=1e-5) == contrast(embeddings, looks, torch.full_like(looks, UNNAMED)).item()


def test_certainty_of_strange_symbols_is_the_cross_entropy_beyond_even_odds() -> None:
    torch = pytest.importorskip("torch", reason="training needs PyTorch: pip install -e .[train]")
    from tilewitness.training.looks import certainty
    from tilewitness.training.shards import NO_FACE, STRANGE, UNNAMED

    logits = torch.randn(3, NO_FACE + 1, generator=torch.Generator().manual_seed(1))
    even = torch.tensor([1 / NO_FACE] * NO_FACE + [0.0])
    wanted = torch.nn.functional.cross_entropy(logits[:2], even.expand(2, -1)) - np.log(NO_FACE)

    assert pytest.approx(wanted.item(), rel=1e-5) == certainty(logits, torch.tensor([STRANGE, STRANGE, UNNAMED])).item()
    assert 0 == certainty(logits, torch.tensor([3, NO_FACE, UNNAMED])).item()


def test_single_icons_and_words_are_not_strange_but_many_icons_and_patterns_are() -> None:
    flower = Symbol("icon", 1, 1, 0, ((0, 0, 0),))

    assert (False, True) == (flower.strange, replace(flower, count=3).strange)
    assert (False, True) == (replace(flower, kind="word").strange, replace(flower, kind="mosaic").strange)


def test_two_pictures_of_one_named_face_count_neither_way() -> None:
    torch = pytest.importorskip("torch", reason="training needs PyTorch: pip install -e .[train]")
    from tilewitness.training.looks import contrast

    embeddings = torch.randn(1, 4, 128, generator=torch.Generator().manual_seed(1))
    looks = torch.tensor([[0, 1, 0, 1]])

    assert pytest.approx(0.0, abs=1e-6) == contrast(embeddings, looks, torch.full_like(looks, 34)).item()
    assert contrast(embeddings, looks, torch.tensor([[34, 5, 34, 5]])).item() > 0.1


def test_a_reader_takes_over_weights_that_tell_no_looks_apart() -> None:
    torch = pytest.importorskip("torch", reason="training needs PyTorch: pip install -e .[train]")
    from tilewitness.training.nets import Reader

    old, new = Reader(37), Reader(37)
    state = {name: value for name, value in old.state_dict().items() if not name.startswith("look.")}
    kept = new.look[2].weight.clone()
    new.go_on_from(state)

    assert torch.equal(kept, new.look[2].weight)
    assert torch.equal(old.face.weight, new.face.weight)
