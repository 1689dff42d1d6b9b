"""Two cards compared: hands are the same when the same tiles complete them, however they are worded."""

import pytest

from tilewitness.engine.card import Card, parse_card
from tilewitness.engine.compare import Change, compare_cards

OLD = {
    ("One", "Steps"): "pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25",
    ("One", "Twins"): "kong of any number in one suit, kong of the same number in a second suit, sextet of flowers; worth 30",
    ("Two", "Pairs"): "7 different pairs of any tiles; concealed; worth 40",
}


def card(hands: dict[tuple[str, str], str], name: str = "Card") -> Card:
    sections: dict[str, list[str]] = {}
    for (section, hand), wording in hands.items():
        sections.setdefault(section, []).append(f'"{hand}" = "{wording}"')
    body = "\n".join(line for section, lines in sections.items() for line in (f'["{section}"]', *lines))
    return parse_card(f'name = "{name}"\n{body}\n')


def changes(new: dict[tuple[str, str], str]) -> dict[str, tuple[Change, ...]]:
    found = compare_cards(card(OLD), card(new)).differences
    return {hand.name: one.changes for one in found if (hand := one.new or one.old)}


def test_a_card_is_the_same_as_itself(demo: Card, handbook: Card) -> None:
    for each in (demo, handbook):
        found = compare_cards(each, each)

        assert ((), len(each.hands)) == (found.differences, found.same)


@pytest.mark.parametrize(
    ("key", "wording", "expected"),
    [
        (("One", "Steps"), OLD["One", "Steps"].replace("25", "30"), (Change.WORTH,)),
        (("One", "Steps"), OLD["One", "Steps"] + "; concealed", (Change.CONCEALED,)),
        (("One", "Steps"), OLD["One", "Steps"] + "; no jokers", (Change.JOKERS,)),
        (("One", "Steps"), OLD["One", "Steps"] + "; note quietly", (Change.NOTE,)),
        (("One", "Steps"), OLD["One", "Steps"].replace("6", "8"), (Change.MEANING,)),
        (
            ("One", "Steps"),
            "kong of 6, kong of 4, kong of 2 in one suit, pair of flowers; worth 25",
            (Change.WORDING,),
        ),
        (
            ("One", "Twins"),
            "sextet of flowers, kong of any number in one suit, kong of the same number in the third suit; worth 35",
            (Change.WORTH, Change.WORDING),
        ),
        (("Two", "Pairs"), "7 pairs of any tiles; concealed; worth 40", (Change.MEANING,)),
    ],
)
def test_a_change_is_told_by_its_kind(key: tuple[str, str], wording: str, expected: tuple[Change, ...]) -> None:
    assert {key[1]: expected} == changes(OLD | {key: wording})


def test_other_spellings_of_the_same_words_are_no_change() -> None:
    steps = "Pair of Flowers, kongs of 2, 4, 6 in the first suit; exposed; worth 25."

    assert {} == changes(OLD | {("One", "Steps"): steps})


def test_a_moved_hand_and_a_renamed_hand_are_found_by_meaning() -> None:
    new = {
        ("One", "Ladder"): OLD["One", "Steps"],
        ("Two", "Twins"): OLD["One", "Twins"],
        ("Two", "Pairs"): OLD["Two", "Pairs"],
    }

    assert {"Ladder": (Change.NAME,), "Twins": (Change.SECTION,)} == changes(new)


def test_new_and_gone_hands_are_told_apart() -> None:
    new = {key: wording for key, wording in OLD.items() if key != ("One", "Twins")}
    new["Two", "Winds"] = "kongs of east, south and west, pair of north; worth 25"

    assert {"Winds": (Change.NEW,), "Twins": (Change.GONE,)} == changes(new)


def test_swapped_names_are_two_renamed_hands_not_two_changed_ones() -> None:
    new = OLD | {("One", "Steps"): OLD["One", "Twins"], ("One", "Twins"): OLD["One", "Steps"]}

    assert {"Steps": (Change.NAME,), "Twins": (Change.NAME,)} == changes(new)


def test_forms_gone_and_new_are_counted() -> None:
    low = OLD | {("One", "Steps"): "pair of flowers, kongs of 2, 4 and 6 in bam; worth 25"}
    (narrowed,) = compare_cards(card(OLD), card(low)).differences
    (widened,) = compare_cards(card(low), card(OLD)).differences

    assert (2, 0) == (narrowed.lost, narrowed.gained)
    assert (0, 2) == (widened.lost, widened.gained)


def test_a_hand_that_cannot_be_built_is_compared_by_what_it_says() -> None:
    short = OLD | {("One", "Short"): "pair of 2 in one suit; worth 25"}
    other = OLD | {("One", "Short"): "pair of 4 in one suit; worth 25"}
    found = compare_cards(card(short), card(other)).differences

    assert [(Change.MEANING,)] == [one.changes for one in found]
    assert () == compare_cards(card(short), card(short)).differences


def test_the_other_way_round_new_is_gone(demo: Card, handbook: Card) -> None:
    there, back = compare_cards(demo, handbook), compare_cards(handbook, demo)
    turned = {Change.NEW: Change.GONE, Change.GONE: Change.NEW}

    assert there.same == back.same
    assert sorted(sorted(turned.get(c, c).name for c in one.changes) for one in there.differences) == sorted(
        sorted(c.name for c in one.changes) for one in back.differences
    )


def test_a_card_printed_back_and_typed_again_is_the_same(demo: Card, handbook: Card) -> None:
    for each in (demo, handbook):
        again = card({(hand.section, hand.name): str(hand) for hand in each.hands})

        assert () == compare_cards(each, again).differences
