from pathlib import Path

import pytest

from tilewitness.engine.card import CardError, load_card, parse_card

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
