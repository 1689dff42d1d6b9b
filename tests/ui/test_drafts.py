"""A card being typed in: nothing is lost, and the file keeps what was not touched."""

from pathlib import Path

import pytest

from tilewitness.ui import choices, drafts, labels
from tilewitness.ui.drafts import Draft

CARD = 'name = "Mine"\n["One"]\n# remark\n"Steps" = "kongs of 2,4,6 in one suit, pair of flowers; worth 25"\n'


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path))
    return tmp_path


def test_a_draft_comes_back_as_it_was_left() -> None:
    choices.keep_card("mine", CARD)
    for draft in (
        Draft("", CARD, "One", "Twins", "kogn of"),
        Draft("mine", CARD, "One", "Steps", "四 kong", ("One", "Steps")),
    ):
        assert drafts.save(draft)
        assert draft == drafts.load(draft.card)
        assert draft.card == drafts.latest()


def test_without_a_draft_a_card_opens_as_it_is_kept() -> None:
    choices.keep_card("mine", CARD)

    assert Draft("mine", CARD) == drafts.load("mine")
    assert Draft() == drafts.load(drafts.NEW)
    assert None is drafts.latest()


@pytest.mark.parametrize("damage", ["", "{", "[]", '{"card": 1, "changing": []}', '{"changing": [1]}', '{"other": "", "changing": []}'])
def test_a_damaged_draft_begins_anew(damage: str, data_folder: Path) -> None:
    drafts.save(Draft(hand="x"))
    next((data_folder / "drafts").iterdir()).write_text(damage, encoding="utf-8")

    assert Draft() == drafts.load(drafts.NEW)


def test_a_draft_that_holds_nothing_new_leaves_no_file() -> None:
    drafts.save(Draft(hand="x"))
    drafts.save(Draft())

    assert None is drafts.latest()


def test_a_card_just_kept_is_no_draft_though_the_next_hand_would_stand_in_a_section_of_it() -> None:
    choices.keep_card("mine", CARD)

    assert Draft("mine", CARD, "One").is_untouched
    assert not Draft("mine", CARD, "Two").is_untouched
    assert not Draft("mine", CARD, "One", "Twins").is_untouched


def test_a_folder_that_cannot_be_written_to_is_told(data_folder: Path) -> None:
    (data_folder / "drafts").write_text("in the way", encoding="utf-8")

    assert not drafts.save(Draft(hand="x"))


@pytest.mark.parametrize(
    ("section", "hand", "says"),
    [
        (" ", "New", labels.NO_SECTION),
        ("One", "\t", labels.NO_HAND_NAME),
        ("One", "Steps", labels.NAME_TAKEN),
        ("One", " Steps ", labels.NAME_TAKEN),
        ("One", "New", ""),
        ("Two", "Steps", ""),
    ],
)
def test_a_hand_needs_a_place_and_a_name_of_its_own(section: str, hand: str, says: str) -> None:
    assert says == drafts.why_not(Draft("", CARD, section, hand, "pair of flowers; worth 25"))


def test_a_hand_under_change_may_keep_its_name_and_goes_back_to_its_line() -> None:
    steps = Draft("", CARD).file.hands[0]
    changed = drafts.change(Draft("", CARD), steps)
    after = drafts.put(Draft("", CARD, "One", "Steps", "pair of flowers; worth 30", changed.changing))

    assert ("One", "Steps", steps.wording) == (changed.section, changed.hand, changed.wording)
    assert "" == drafts.why_not(changed)
    assert CARD.splitlines()[:3] == after.text.splitlines()[:3]
    assert ['"Steps" = "pair of flowers; worth 30"'] == after.text.splitlines()[3:]
    assert ("One", "", "", ()) == (after.section, after.hand, after.wording, after.changing)
