"""A card file edited line by line: what was not touched stays as it was typed."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewitness.engine.card_file import CardFile, one_line, quoted

TYPED = """# my remarks
name = "Mine"   # from the paper card

["One"]  # first
# about steps
"Steps" = "kongs of 2,4 and 6   in one suit, pair of flowers; worth 25"  # ask Ann
'Twins' = 'kong of any number in one suit; worth 30'

["Two"]
"Winds" = "kong of east; worth 25"
"""


@pytest.fixture
def file() -> CardFile:
    return CardFile(TYPED)


def hands(file: CardFile) -> list[tuple[str, str]]:
    return [(hand.section, hand.name) for hand in file.hands]


def changed(file: CardFile) -> tuple[list[str], list[str]]:
    """Lines that went and lines that came, whatever their order."""
    before, after = TYPED.splitlines(), file.text.splitlines()
    return [line for line in before if line not in after], [line for line in after if line not in before]


def test_the_hands_are_found_on_their_lines(file: CardFile) -> None:
    assert "Mine" == file.name
    assert ("One", "Two") == file.sections
    assert [(6, "Steps"), (7, "Twins"), (10, "Winds")] == [(hand.line, hand.name) for hand in file.hands]


def test_a_hand_is_added_at_the_end_of_its_section(file: CardFile) -> None:
    added = file.with_hand("One", "New", "pair of flowers; worth 25")

    assert [("One", "Steps"), ("One", "Twins"), ("One", "New"), ("Two", "Winds")] == hands(added)
    assert ([], ['"New" = "pair of flowers; worth 25"']) == changed(added)


def test_a_section_is_opened_for_the_first_hand_in_it(file: CardFile) -> None:
    added = file.with_hand("Three", "New", "pair of flowers; worth 25")

    assert ("One", "Two", "Three") == added.sections
    assert ("Three", "New") == hands(added)[-1]


def test_a_hand_is_worded_anew_on_its_line_and_its_remark_stays(file: CardFile) -> None:
    new = file.with_hand("One", "Ladder", "pair of flowers; worth 25", instead_of=file.hand("One", "Steps"))

    assert '"Ladder" = "pair of flowers; worth 25"  # ask Ann' == new.text.splitlines()[5]
    assert 1 == len(changed(new)[0])


def test_a_hand_moves_to_another_section(file: CardFile) -> None:
    moved = file.with_hand("Two", "Steps", "pair of flowers; worth 25", instead_of=file.hand("One", "Steps"))

    assert [("One", "Twins"), ("Two", "Winds"), ("Two", "Steps")] == hands(moved)
    assert moved.text.endswith('"Steps" = "pair of flowers; worth 25"  # ask Ann\n')


def test_a_hand_is_taken_out(file: CardFile) -> None:
    (twins,) = [hand for hand in file.hands if hand.name == "Twins"]

    assert ([TYPED.splitlines()[6]], []) == changed(file.without(twins))


@pytest.mark.parametrize(("name", "steps", "order"), [("Steps", 1, "Twins Steps"), ("Steps", -1, "Steps Twins"), ("Twins", 1, "Steps Twins")])
def test_a_hand_moves_within_its_section(name: str, steps: int, order: str, file: CardFile) -> None:
    (hand,) = [hand for hand in file.hands if hand.name == name]
    moved = file.moved(hand, steps)

    assert order.split() == [hand.name for hand in moved.hands if hand.section == "One"]
    assert ([], []) == changed(moved)


def test_sections_move_with_all_their_lines(file: CardFile) -> None:
    moved = file.moved_section("One", 1)

    assert [("Two", "Winds"), ("One", "Steps"), ("One", "Twins")] == hands(moved)
    assert ([], []) == changed(moved)
    assert hands(file) == hands(moved.moved_section("One", -1))
    assert file == file.moved_section("Two", 1)


def test_a_section_and_the_card_get_other_names(file: CardFile) -> None:
    assert ('["One"]  # first', '["Uno"]  # first') == tuple(one[0] for one in changed(file.renamed_section("One", "Uno")))
    assert 'name = "Ours"  # from the paper card' == file.named("Ours").text.splitlines()[1]
    assert "Ours" == CardFile('["A"]\n').named("Ours").name


def test_a_name_is_taken_by_another_hand_only(file: CardFile) -> None:
    steps = file.hand("One", "Steps")

    assert [True, False, True, False] == [
        file.taken("One", "Steps"),
        file.taken("One", "Steps", by_other_than=steps),
        file.taken("One", "Twins", by_other_than=steps),
        file.taken("Two", "Steps"),
    ]


def test_a_faulty_file_can_be_mended() -> None:
    file = CardFile('name = "x"\n["A"]\n"One" = “curly”\n"Two" = "pair of flowers; worth 25"\n')
    (one, _) = file.hands

    assert ("One", "") == (one.name, one.wording)
    assert "kong of 4" == tomllib.loads(file.with_hand("A", "One", "kong of 4", instead_of=one).text)["A"]["One"]


SOMETHING = st.text(min_size=1).filter(lambda text: quoted(text) not in ('""', '"name"'))


@given(SOMETHING, SOMETHING, st.text())
def test_any_text_that_is_typed_makes_a_file_that_can_be_read(section: str, name: str, wording: str) -> None:
    text = CardFile(TYPED).with_hand(section, name, wording).text
    section, name, wording = map(one_line, (section, name, wording))

    assert wording == tomllib.loads(text)[section][name]
    assert wording == next(hand.wording for hand in CardFile(text).hands if (hand.section, hand.name) == (section, name))
