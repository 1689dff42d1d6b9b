import numpy as np

from tilewitness.training.inks import sample_inks


def test_the_same_seed_gives_the_same_inks() -> None:
    assert sample_inks(np.random.default_rng(4)) == sample_inks(np.random.default_rng(4))


def test_every_ink_is_dark_enough_to_read_on_a_light_tile() -> None:
    for seed in range(300):
        inks = sample_inks(np.random.default_rng(seed))
        for ink in (inks.red, inks.green, inks.blue, inks.black):
            assert all(0 <= channel <= 255 for channel in ink)
            assert 200 > min(ink)


def test_inks_of_different_sets_differ_and_sometimes_merge() -> None:
    sets = [sample_inks(np.random.default_rng(seed)) for seed in range(300)]

    assert 300 == len({inks.red for inks in sets})
    assert any(inks.green == inks.blue for inks in sets)
    assert any(inks.blue == inks.black for inks in sets)
