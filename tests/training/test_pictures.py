from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray

from tilewitness.training import (
    birds,
    court_dragons,
    dragons,
    flying_birds,
    gardens,
    graven_birds,
    graven_dragons,
    joker_figures,
    jokers,
    long_dragons,
    pond_birds,
    revellers,
    still_life,
    terraces,
    townsfolk,
)
from tilewitness.training.bodies import render_face, sample_body
from tilewitness.training.copperplate import sample_palette
from tilewitness.training.engraving import INKS, Canvas, ellipse
from tilewitness.training.fitting import behind
from tilewitness.training.icons import CATEGORIES, FOLDER, LATER, icon, icons, sample_icon
from tilewitness.training.inks import Inks, sample_inks
from tilewitness.training.pens import Pen
from tilewitness.training.pictures import (
    PictureStyle,
    draw_bird,
    draw_dragon,
    draw_flower,
    draw_joker,
    sample_pictures,
    sheet,
)

STYLES = 50


def drawn(style: PictureStyle, inks: Inks, rng: np.random.Generator) -> Iterator[NDArray[np.uint8]]:
    yield draw_bird(style, inks, rng)
    yield draw_dragon(style, inks, rng, face="red")
    yield draw_dragon(style, inks, rng, face="green")
    yield draw_dragon(style, inks, rng, face="white")
    for variant in range(8):
        yield draw_flower(style, inks, rng, variant=variant)
    for variant in range(2):
        yield draw_joker(style, inks, rng, variant=variant)


@cache
def pictures(held_out: bool) -> list[NDArray[np.uint8]]:
    rng = np.random.default_rng(11)
    found = []
    for _ in range(STYLES):
        style, inks = sample_pictures(rng, held_out=held_out), sample_inks(rng)
        found += list(drawn(style, inks, rng))
    return found


@pytest.mark.parametrize("held_out", [False, True])
def test_every_picture_is_a_face_of_rgba(held_out: bool) -> None:
    for picture in pictures(held_out):
        assert (256, 192, 4) == picture.shape
        assert np.uint8 == picture.dtype


@pytest.mark.parametrize("held_out", [False, True])
def test_every_picture_shows_ink_and_leaves_some_of_the_face_bare(held_out: bool) -> None:
    for picture in pictures(held_out):
        covered = (picture[..., 3] > 100).mean()

        assert 0.008 < covered < 0.97


FAMILIES = {
    "birds": tuple(dict.fromkeys(graven_birds.FAMILIES + flying_birds.FAMILIES + flying_birds.HELD_OUT)),
    "later birds": tuple(dict.fromkeys(pond_birds.FAMILIES + pond_birds.HELD_OUT)),
    "revellers": tuple(dict.fromkeys(revellers.FAMILIES + revellers.HELD_OUT)),
    "things": tuple(dict.fromkeys(still_life.FAMILIES + still_life.HELD_OUT)),
    "people": tuple(dict.fromkeys(townsfolk.FAMILIES)),
    "long dragons": tuple(dict.fromkeys(long_dragons.FAMILIES + long_dragons.HELD_OUT)),
    "dragons": graven_dragons.FAMILIES
    + graven_dragons.HELD_OUT
    + tuple(dict.fromkeys(court_dragons.FAMILIES)),
    "plants": (*gardens.GARDENS, *dict.fromkeys(terraces.TERRACES)),
    "figures": joker_figures.FIGURES + joker_figures.HELD_OUT,
}


@pytest.mark.parametrize(
    "family", [pytest.param(f, id=f"{kind}-{f.__name__}") for kind in FAMILIES for f in FAMILIES[kind]]
)
def test_a_family_draws_one_subject_in_many_ways(family: Callable[[Pen], None]) -> None:
    drawn_ones = []
    for seed in range(12):
        rng, canvas = np.random.default_rng(seed), Canvas()
        family(Pen(canvas, sample_palette(rng), rng))
        drawn_ones.append(canvas.planes.max(axis=0) > 100)

    assert all(0.01 < ink.mean() < 0.8 for ink in drawn_ones)
    assert len({ink.tobytes() for ink in drawn_ones}) == len(drawn_ones)


def test_no_family_is_in_both_splits() -> None:
    for module in (birds, dragons, flying_birds, graven_dragons, long_dragons, pond_birds, revellers, still_life):
        assert not set(module.FAMILIES) & set(module.HELD_OUT)


@pytest.mark.parametrize("held_out", [False, True])
def test_families_added_later_leave_most_older_designs_as_they_were(
    held_out: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    def designs() -> list[bytes]:
        return [
            draw(np.random.default_rng(seed), held_out=held_out).planes.tobytes()
            for draw in (birds.bird, dragons.dragon, jokers.joker)
            for seed in range(30)
        ]

    now = designs()
    for module, share in ((birds, "POND_SHARE"), (dragons, "LONG_SHARE"), (jokers, "REVELLERS")):
        monkeypatch.setattr(module, share, 0.0)
    alike = [one == other for one, other in zip(now, designs(), strict=True)]

    assert 0.65 < np.mean(alike) < 1


def test_a_groove_without_paint_is_still_cut() -> None:
    artwork = np.zeros((256, 192, 4), np.uint8)
    artwork[100:150, 60:130] = (200, 0, 0, 255)
    body = replace(sample_body(np.random.default_rng(1)), engraving=0.5, fade=0.0, wear=0.0)

    face, blank = (render_face(art, body, np.random.default_rng(2)).astype(int) for art in (artwork, None))

    changed = np.abs(face - blank).max(axis=2) > 12
    assert changed[95:155, 55:135].any()
    assert not changed[:80].any()


def test_the_same_generator_draws_the_same_pictures() -> None:
    first, second = (
        list(drawn(sample_pictures(rng), sample_inks(rng), rng))
        for rng in (np.random.default_rng(3) for _ in range(2))
    )

    assert all(np.array_equal(a, b) for a, b in zip(first, second, strict=True))


def test_two_tiles_of_a_set_carry_the_same_design() -> None:
    rng = np.random.default_rng(4)
    style, inks = sample_pictures(rng), sample_inks(rng)

    one, other = (draw_bird(style, inks, rng)[..., 3] > 100 for _ in range(2))

    assert (one & other).sum() > 0.3 * (one | other).sum()


def test_red_and_green_dragons_are_one_picture_in_two_inks() -> None:
    rng = np.random.default_rng(5)
    style, inks = sample_pictures(rng), Inks((200, 0, 0), (0, 120, 0), (0, 0, 160), (0, 0, 0))

    red, green = (draw_dragon(style, inks, np.random.default_rng(0), face=face) for face in ("red", "green"))

    assert np.array_equal(red[..., 3], green[..., 3])
    assert not np.array_equal(red, green)


def test_the_splits_share_no_icon() -> None:
    for category in CATEGORIES:
        assert not set(icons(category)) & set(icons(category, held_out=True))


@pytest.mark.parametrize("held_out", [False, True])
def test_an_icon_is_chosen_within_its_split_and_seldom_from_a_later_set(held_out: bool) -> None:
    for category in CATEGORIES:
        chosen = [sample_icon(np.random.default_rng(seed), category, held_out=held_out) for seed in range(400)]

        assert set(chosen) <= set(icons(category, held_out=held_out))
        assert 0.05 < np.mean([name.startswith(LATER) for name in chosen]) < 0.16


def test_a_share_of_every_category_is_held_out() -> None:
    for category in CATEGORIES:
        held, used = len(icons(category, held_out=True)), len(icons(category))

        assert 0.1 < held / (held + used) < 0.3


def test_every_icon_has_its_licence_in_the_table() -> None:
    rows = (FOLDER / "LICENCES.md").read_text().splitlines()
    allowed = {"CC0-1.0", "CC-BY-3.0", "CC-BY-4.0", "MIT", "Apache-2.0", "ISC", "OFL-1.1", "CC-PDDC"}
    licences = {cells[1]: cells[5] for row in rows if len(cells := [c.strip() for c in row.split("|")]) == 7}
    listed = {tuple(cells[1:5]) for row in rows if len(cells := [c.strip() for c in row.split("|")]) == 6}
    for category in CATEGORIES:
        for held_out, split in ((False, "training"), (True, "held-out")):
            for name in icons(category, held_out=held_out):
                package, key = name.split("--", 1)

                assert (category, split, package, key) in listed
                assert licences[package] in allowed


def test_a_contact_sheet_has_one_set_in_each_row() -> None:
    image = sheet(1, rows=2)

    assert 2 * (256 * 5 // 9 + 6) == image.shape[0]
    assert 14 * (192 * 5 // 9 + 6) == image.shape[1]


def test_an_icon_is_cropped_to_its_ink() -> None:
    for category in CATEGORIES:
        for name in icons(category)[::20]:
            regions = icon(category, name)

            assert 208 == max(regions.shape)
            assert all(edge.any() for edge in (regions[:2], regions[-2:], regions[:, :2], regions[:, -2:]))


def test_a_picture_behind_another_keeps_off_it() -> None:
    front, back = Canvas(), Canvas()
    front.line(ellipse((96, 128), 40, 40), 4, "red", closed=True)
    back.fill(ellipse((96, 128), 90, 90), "green")

    both = behind(front, back)

    assert not both.planes[INKS.index("green"), 128, 96]
    assert both.planes[INKS.index("green"), 128, 20]
    assert both.planes[INKS.index("red")].any()
