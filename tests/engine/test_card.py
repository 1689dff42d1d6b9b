import itertools
from pathlib import Path

import pytest

from tilewitness.engine.card import Card, CardError, load_card, parse_card
from tilewitness.engine.hands import Either, Group, Honour, Number, NumberName, SuitRule

DEMO = Path(__file__).parents[2] / "samples" / "card.toml"


def test_every_hand_of_the_demo_card_has_forms() -> None:
    card = load_card(DEMO)

    assert list(range(len(card.hands))) == sorted(set(card.forms.hand.tolist()))


def test_an_error_names_file_line_hand_and_what_would_be_right() -> None:
    text = 'name = "x"\n\n["One"]\n"Two Rivers" = "kogn of 4 in bam; worth 25"\n'

    with pytest.raises(CardError) as caught:
        parse_card(text, source="spring.toml")

    expected = (
        'spring.toml, line 4, hand "Two Rivers": expected a group, found "kogn". Did you mean "kong"?'
    )
    assert expected == str(caught.value)


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("name = 'x'\n[A]\n'H' = kong\n", 3, "not a hand. Write each hand on a line of its own"),
        ('name = "x"\n[A]\n"H" = "kong of east; worth 25\n"J" = "x"', 3, "a quote is missing"),
        ('name = "x"\n[A]\n"H" = "kong of east; worth 25', 3, "a quote is missing"),
        ("name = \u201cx\u201d\n[A]\n", 1, "quotes are curly"),
        ("name = x\n", 1, 'name = "My card"'),
        ("name = 'x'\n[Warm up]\n", 2, "quotes and square brackets"),
        ("name = 'x'\n[A]\nH = 'kong of east; worth 25'\n[A]\n", 4, "section is there twice"),
        ("[A]\n'H' = 'kong of east; worth 25'\n", 1, "no name"),
        ("name = 'x'\n", 0, "no hands"),
        ("# Notes\nBuy milk.\nCall Ann.\n\nWater the fern.\nSleep.\n", 0, "no card file"),
        ("name = 'x'\n\n'H' = 'kong of east; worth 25'\n", 3, "stands in no section"),
        ("name = 'x'\n[A]\nH = 25\n", 3, "one line of words"),
        ("name = 'x'\n['A B']\nC = 'kong of east; worth 25'\n['D']\nC = 'kong of est; worth 25'", 5, '"est"'),
        ("name = 'x'\n[A]\nH = 'kong of east; worth 25'\nH = 'kong of east; worth 30'", 4, "there twice"),
    ],
)
def test_what_is_no_card_says_where_and_why(text: str, line: int, words: str) -> None:
    with pytest.raises(CardError) as caught:
        parse_card(text, source="mine.toml")

    assert line == caught.value.faults[0].line
    assert words in str(caught.value)
    assert str(caught.value).startswith("mine.toml")


def test_all_that_is_wrong_is_said_at_once_by_line_and_word() -> None:
    text = """name = "x"
[Warm up]
"Good" = "kong of 4 in bam; worth 25"
"Two" = "kogn of 4 in bam, pair of flowers, pung off 6, pair of 8 in one siut; wroth 25"
"Late" = "kong of est; worth 25; closed"
["B"]
"Late" = "pung of 2; worth 25"
"No quote = "pung of 2"
"Late" = "pair of flowers"
["B"]
"Other" = “pair of flowers”
"""

    with pytest.raises(CardError) as caught:
        parse_card(text, source="mine.toml")

    expected = [
        (2, "", 0), (4, "kogn", 1), (4, "off", 41), (4, "siut", 65), (4, "wroth", 71), (5, "est", 9), (5, "closed", 24),
        (7, "pung", 1), (8, "", 0), (9, "", 0), (10, "", 0), (11, "", 0),
    ]  # fmt: skip
    assert expected == [(one.line, one.word, one.column) for one in caught.value.faults]
    assert 12 == str(caught.value).count("mine.toml, line ")


def test_a_hand_that_leaves_too_much_open_is_refused_by_name() -> None:
    free = "single of the first number in any suit, " * 9
    text = f'name = "x"\n[A]\n"Wide" = "{free} quint of the sum in one suit; worth 25"'

    with pytest.raises(CardError, match='line 3, hand "Wide": there are .* ways'):
        parse_card(text)


def test_a_file_that_cannot_be_read_is_a_clear_error(tmp_path: Path) -> None:
    (tmp_path / "photo.jpg").write_bytes(b"\xff\xd8\xff\xe0")
    for path, words in ((tmp_path / "photo.jpg", "not a text file"), (tmp_path / "none.toml", "no such file")):
        with pytest.raises(CardError, match=words):
            load_card(path)


def test_a_card_saved_by_an_editor_that_marks_the_byte_order_is_read(tmp_path: Path) -> None:
    # Source of the mark: The Unicode Standard, section 23.8; Windows editors put it first.
    text = 'name = "Tiny"\r\n["One"]\r\n"Only" = "singles of 1 to 9 bam, quint of flowers; worth 50"\r\n'
    (tmp_path / "card.toml").write_bytes(b"\xef\xbb\xbf" + text.encode())

    assert "Tiny" == load_card(tmp_path / "card.toml").name


def test_a_card_in_another_encoding_is_told_how_to_save_it(tmp_path: Path) -> None:
    for encoding in ("cp1252", "utf-16"):
        (tmp_path / "card.toml").write_bytes('name = "Café"\n'.encode(encoding))
        with pytest.raises(CardError, match="the encoding UTF-8"):
            load_card(tmp_path / "card.toml")


def test_sections_stand_in_card_order(demo: Card) -> None:
    assert ("Harbour Lights", "Quiet Bay") == (demo.sections[0], demo.sections[-1])
    assert 10 == len(demo.sections)
    assert 53 == len(demo.hands)


def test_the_demo_card_uses_everything_that_the_wording_can_say(demo: Card) -> None:
    printed = " ".join(str(hand) for hand in demo.hands)
    parts = [part for hand in demo.hands for part in hand.parts]
    groups = [g for p in parts for g in (itertools.chain(*p.branches) if isinstance(p, Either) else [p])]
    tiles = {tile for group in groups if isinstance(group, Group) for tile in group.tiles}

    assert set(range(1, 7)) == {group.size for group in groups if isinstance(group, Group)}
    assert set(SuitRule) == {group.suit for group in groups if isinstance(group, Group)} - {None}
    assert set(NumberName) == {tile.of for tile in tiles if isinstance(tile, Number)} - {None}
    assert {Honour.MATCHING_DRAGON, Honour.OPPOSITE_DRAGON, Honour.SECOND_DRAGON, Honour.OPPOSITE_WIND} <= tiles
    for word in ("either", "zero", "below", "sum", "in turn", "no jokers", "concealed", "note", "numbers differ"):
        assert word in printed
