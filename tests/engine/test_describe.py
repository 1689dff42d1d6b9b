import pytest

from tilewitness.engine.card import parse_card
from tilewitness.engine.describe import Concern, Description, describe


def described(wording: str) -> Description:
    return describe(parse_card(f'name = "T"\n["One"]\n"Hand" = "{wording}; worth 25"'))[0]


@pytest.mark.parametrize(
    ("wording", "concern", "tiles", "never"),
    [
        ("kong of 4 in bam", Concern.NOT_FOURTEEN_TILES, 4, True),
        ("either kong of east or pair of east, kongs of 1, 2 in bam, pair of flowers", Concern.NOT_FOURTEEN_TILES, 12, False),
        ("pair of 4, pung of 4, single of 4, pair of 4, kong of 5, pair of 6 in bam", Concern.TOO_MANY_WITHOUT_JOKERS, 1, True),
        ("sextet of flowers, quint of flowers, pung of east", Concern.MORE_THAN_EIGHT_FLOWERS, 1, False),
        ("sextet of 1 bam, sextet of 1 bam, pair of 1 bam", Concern.TOO_MANY_JOKERS_NEEDED, 1, True),
        ("kong of any number, kong of 9 above, sextet of east in bam", Concern.NO_FORM, 0, True),
    ],
)  # fmt: skip
def test_a_hand_that_cannot_be_built_is_warned_about(
    wording: str, concern: Concern, tiles: int, never: bool
) -> None:
    told = described(wording)

    assert (concern, tiles, never) in [(w.concern, w.tiles, w.never) for w in told.warnings]
    assert never is (told.forms == 0)
    assert never is (not told.example)


def test_a_good_hand_has_an_example_and_no_warning() -> None:
    told = described("pair of flowers, kongs of 2, 4 and 6 in one suit")

    assert (3, (), 0) == (told.forms, told.warnings, told.fewest_jokers)
    assert [(2, "flower"), (4, "2 bam"), (4, "4 bam"), (4, "6 bam")] == [(g.size, g.face.name) for g in told.example]


def test_free_choices_are_counted_without_listing_them() -> None:
    # 34 kinds without flowers and jokers; 7 of them: 34! / (27! 7!) = 5 379 616.
    assert 5379616 == described("7 different pairs of any tiles").forms
    assert 1716 == described("7 different pairs of terminals or honours").forms
    # Three pairs of suits, 7 of 9 numbers: 3 * 36.
    assert 108 == described("7 different knitted pairs").forms


def test_the_example_of_a_quint_needs_a_joker() -> None:
    assert 1 == described("quint of 1 bam, kong of 2 bam, quint of flowers").fewest_jokers
