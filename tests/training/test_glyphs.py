import tomllib

import numpy as np
import pytest

from tilewitness.training.glyphs import ARTWORK, Script, draw_text, families, has_text

SCRIPTS: tuple[Script, Script] = ("chinese", "latin")


@pytest.mark.parametrize("script", SCRIPTS)
def test_no_family_is_in_both_splits(script: Script) -> None:
    training, held_out = families(script), families(script, held_out=True)

    assert set() == set(training) & set(held_out)
    assert 0.12 < len(held_out) / len(training + held_out) < 0.3


def test_there_are_enough_families_for_variety() -> None:
    assert 25 <= len(families("chinese"))
    assert 40 <= len(families("latin"))


@pytest.mark.parametrize("held_out", [False, True])
def test_both_splits_can_write_every_tile(held_out: bool) -> None:
    for text in "一二三四五伍六七八九萬万東南西北东中發发白龍春夏秋冬梅蘭菊竹":
        assert families("chinese", held_out=held_out, text=text)
    for text in ("0123456789", "Joker", "WHITE", "GREEN"):
        assert families("latin", held_out=held_out, text=text)


def test_a_text_is_trimmed_to_its_ink_and_scales() -> None:
    for family in families("chinese", text="中"):
        mask = draw_text("中", family, 60)
        rows, columns = np.nonzero(mask)

        assert (np.uint8, 2) == (mask.dtype, mask.ndim)
        assert (0, 0) == (rows.min(), columns.min())
        assert mask.shape == (rows.max() + 1, columns.max() + 1)
        assert 25 < mask.shape[0] <= 60


def test_a_flat_character_stays_flat() -> None:
    for family in families("chinese"):
        height, width = draw_text("一", family, 80).shape

        assert height < 0.6 * width


def test_a_word_is_wider_than_its_letters() -> None:
    for family in families("latin"):
        word, letter = draw_text("JOKER", family, 30), draw_text("O", family, 30)

        assert word.shape[1] > 2 * letter.shape[1]


def test_a_text_with_a_space_is_wider() -> None:
    family = families("latin")[0]

    assert draw_text("MAH JONG", family, 30).shape[1] > draw_text("MAHJONG", family, 30).shape[1]


def test_a_character_that_a_family_lacks_is_refused() -> None:
    assert not has_text("萬", "lobster")
    with pytest.raises(KeyError):
        draw_text("萬", "lobster", 40)
    with pytest.raises(KeyError, match="No family"):
        draw_text("A", "no-such-family", 40)


@pytest.mark.parametrize("script", SCRIPTS)
def test_every_file_of_masks_has_a_row_in_the_table_of_licences(script: Script) -> None:
    page = (ARTWORK / "LICENCES.md").read_text(encoding="utf-8")
    fonts = tomllib.loads((ARTWORK / "fonts.toml").read_text(encoding="utf-8"))
    stored = {file.name.removesuffix(".npz") for file in (ARTWORK / "glyphs" / script).iterdir()}

    assert stored == set(fonts[script])
    for family in stored:
        row = next(line for line in page.splitlines() if line.startswith(f"| {family} |"))
        assert any(f"| {licence} |" in row for licence in ("OFL-1.1", "Apache-2.0", "MIT", "OGDL-TW-1.0", "public domain"))


def test_no_two_families_draw_the_same_characters() -> None:
    # Some fonts share their Chinese characters under two names; in two splits they would tell on each other.
    families_of_both = [*families("chinese"), *families("chinese", held_out=True)]
    drawn = {name: draw_text("西南三六", name, 60) for name in families_of_both}
    for index, one in enumerate(families_of_both):
        for other in families_of_both[index + 1 :]:
            assert drawn[one].shape != drawn[other].shape or not np.array_equal(drawn[one], drawn[other])
