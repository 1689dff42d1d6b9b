"""The page on which a card is typed in, without a browser."""

from functools import partial
from importlib import resources
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tilewitness.engine.card import CardError, parse_card
from tilewitness.engine.typed_hand import read_typed
from tilewitness.ui import choices, drafts, labels
from tilewitness.ui.drafts import Draft
from tilewitness.ui.typing_words import MOST_FAULTS, card_faults, typed_sentences

CARD = """name = "Mine"
# a remark
["One"]
"Steps" = "kongs of 2,4,6 in one suit, pair of flowers; worth 25"
"Winds" = "kongs of east, south and west, pair of north; worth 25"
["Two"]
"Dragons" = "kongs of all dragons, pair of flowers; worth 30"
"""


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path))


def opened() -> AppTest:
    app = AppTest.from_file(str(resources.files("tilewitness.ui") / "app.py"), default_timeout=30).run()
    app.switch_page("screens/type_card.py").run()
    assert not app.exception
    return app


def press(app: AppTest, label: str) -> AppTest:
    (button,) = (one for one in app.button if one.label == label)
    button.click().run()
    assert not app.exception
    return app


def test_what_was_typed_is_there_again() -> None:
    drafts.save(Draft("", CARD, "One", "Ladder", "kogn of 4"))
    app = opened()

    assert [labels.TYPE_PAGE] == [title.value for title in app.title]
    assert Draft("", CARD, "One", "Ladder", "kogn of 4") == app.session_state["type draft"]


def test_a_draft_is_kept_as_a_card_and_judged_by() -> None:
    drafts.save(Draft("", CARD))
    app = press(opened(), labels.KEEP_CARD)

    assert ["Mine"] == choices.kept_cards()
    assert CARD == (choices.card_path("Mine") or Path()).read_text(encoding="utf-8")
    assert "Mine" == choices.load().card
    assert None is drafts.latest()
    assert "three hands" in app.success[0].value


def test_a_card_just_kept_is_not_called_a_draft_for_a_hand_that_is_half_typed() -> None:
    drafts.save(Draft("", CARD, "One", "Ladder", "kogn of 4"))
    app = opened()
    assert labels.DRAFT_KEPT in [one.value for one in app.markdown]
    told = [one.value for one in press(app, labels.KEEP_CARD).markdown]

    assert labels.DRAFT_FIELDS in told
    assert labels.DRAFT_KEPT not in told


def test_a_draft_with_faults_stays_a_draft_and_all_are_told() -> None:
    faulty = CARD.replace("kongs of 2", "kogns of 2").replace("all dragons", "all drgons")
    drafts.save(Draft("", faulty))
    app = press(opened(), labels.KEEP_CARD)

    assert [] == choices.kept_cards()
    assert faulty == drafts.load(drafts.NEW).text
    assert ['line 4, hand "Steps"', 'line 7, hand "Dragons"'] == [
        ", ".join(line.split(": ")[0].split(", ")[-2:]) for line in app.error[0].value.splitlines()
    ]


def test_a_new_card_never_takes_the_place_of_another() -> None:
    choices.keep_card("Mine", "something else")
    drafts.save(Draft("", CARD))
    app = press(opened(), labels.KEEP_CARD)

    assert "something else" == (choices.card_path("Mine") or Path()).read_text(encoding="utf-8")
    assert [labels.CARD_NAME_KEPT] == [one.value for one in app.error]


def test_hands_move_and_go_and_come_back() -> None:
    drafts.save(Draft("", CARD))
    app = opened()
    order = partial(lambda: [hand.name for hand in drafts.load(drafts.NEW).file.hands])
    press(app, labels.HAND_DOWN)
    assert ["Winds", "Steps", "Dragons"] == order()
    press(app, labels.DELETE_HAND)
    assert ["Winds", "Dragons"] == order()
    press(app, labels.UNDO_CHANGE)
    press(app, labels.UNDO_CHANGE)
    assert CARD == drafts.load(drafts.NEW).text


def test_two_windows_on_one_card_are_told_and_neither_loses_what_it_typed() -> None:
    left, right = opened(), opened()
    left.text_input[0].set_value("Left").run()
    right.text_input[0].set_value("Right").run()

    assert "Left" == drafts.load(drafts.NEW).file.name
    assert [labels.TWO_WINDOWS] == [warning.value for warning in right.warning]
    press(right, labels.KEEP_THIS)
    assert ("Right", []) == (drafts.load(drafts.NEW).file.name, list(right.warning))
    left.run()
    assert [labels.TWO_WINDOWS] == [warning.value for warning in left.warning]
    press(left, labels.TAKE_OTHER)
    assert "Right" == left.text_input[0].value
    press(left, labels.UNDO_CHANGE)
    assert ("Left", "Left") == (left.text_input[0].value, drafts.load(drafts.NEW).file.name)


def test_a_hand_is_taken_up_for_changing() -> None:
    drafts.save(Draft("", CARD))
    app = press(opened(), labels.CHANGE_HAND)

    assert ("One", "Steps") == app.session_state["type draft"].changing
    assert "Steps" == app.session_state["type draft"].hand


def test_sections_and_the_card_are_renamed_and_moved() -> None:
    drafts.save(Draft("", CARD))
    app = opened()
    next(one for one in app.text_input if one.label == labels.SECTION_CALLED).set_value("Uno").run()
    next(one for one in app.text_input if one.label == labels.CARD_CALLED).set_value("Ours").run()
    press(app, labels.SECTION_DOWN)
    file = drafts.load(drafts.NEW).file

    assert ("Ours", ("Two", "Uno")) == (file.name, file.sections)
    assert "# a remark" in file.text


@pytest.mark.parametrize(
    ("wording", "expected"),
    [
        (" ", [labels.BEGIN_TYPING]),
        ("pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25", ["Three forms."]),
        ("sextet of 1 bam, quint of 2 bam, pung of 3 bam; worth 25", ["One form.", "It needs three jokers."]),
        ("pair of 2 bam; worth 25", ["Warning: It comes to two tiles; a hand has 14."]),
        (
            "pair of flowers, kogn of 4 in bam; wroth 25",
            [
                'Word 4: expected a group, found "kogn". Did you mean "kong"?',
                'Word 9: expected a remark, found "wroth". Did you mean "worth"?',
            ],
        ),
        ("pair of", ['At the end: expected a tile, found the end of the line. Write for example "3", "any number", "east", "matching dragon" or "flowers".', 'At the end: it has no worth. Write for example "; worth 25" at the end.']),
    ],
)  # fmt: skip
def test_a_hand_being_typed_is_told_about(wording: str, expected: list[str]) -> None:
    assert expected == typed_sentences(read_typed(wording), wording)


def test_of_very_many_faults_the_first_are_told() -> None:
    with pytest.raises(CardError) as caught:
        parse_card('name = "x"\n' + "nonsense\n" * 30)

    assert (MOST_FAULTS + 1, "And ten faults more.") == (len(card_faults(caught.value)), card_faults(caught.value)[-1])
