"""The page of cards and choices: one's card on paper, and what changed since another."""

from importlib import resources
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tilewitness.ui import choices, labels
from tilewitness.ui.choices import Choices

NEW = """name = "This year"
["One"]
"Steps" = "kongs of 2, 4 and 6 in one suit, pair of flowers; worth 30"
"Winds" = "kongs of east, south and west, pair of north; worth 25"
"""
OLD = NEW.replace("This", "Last").replace("worth 30", "worth 25").replace("Winds", "Compass <b>")


@pytest.fixture(autouse=True)
def cards(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path))
    choices.keep_card("new", NEW)
    choices.keep_card("old", OLD)
    choices.save(Choices(card="new"))


def opened() -> AppTest:
    app = AppTest.from_file(str(resources.files("tilewitness.ui") / "app.py"), default_timeout=30).run()
    app.switch_page("screens/card.py").run()
    assert not app.exception
    return app


def compared(app: AppTest) -> AppTest:
    (box,) = (one for one in app.selectbox if one.label == labels.COMPARE_WITH)
    box.set_value("old").run()
    assert not app.exception
    return app


def test_both_papers_are_offered() -> None:
    labelled = [one.proto.label for one in opened().get("download_button")]

    assert [labels.PRACTICE_SHEET, labels.WALL_CHART] == labelled[-2:]


def pressed(app: AppTest, label: str) -> AppTest:
    (button,) = (one for one in app.button if one.label == label)
    button.click().run()
    assert not app.exception
    return app


def test_a_card_is_forgotten_only_after_asking_back() -> None:
    app = pressed(opened(), f"{labels.FORGET} new")
    assert [labels.FORGET_QUESTION.format(name="new")] == [one.value for one in app.warning]
    pressed(pressed(app, labels.DELETE_NO), f"{labels.FORGET} new")
    assert ["new", "old"] == choices.kept_cards()

    pressed(app, labels.DELETE_YES)
    assert ["old"] == choices.kept_cards()
    assert choices.DEMO_CARD == choices.load().card


def test_a_card_file_of_a_name_that_is_taken_is_kept_beside_the_other_and_warned_about() -> None:
    app = opened()
    changed = NEW.replace("pair of north", "pung of north")
    app.file_uploader[0].set_value(("new.toml", changed.encode(), "application/toml")).run()

    assert {"new": NEW, "new 2": changed} == {
        name: (choices.card_path(name) or Path()).read_text(encoding="utf-8") for name in ("new", "new 2")
    }
    assert ["Winds: It comes to 15 tiles; a hand has 14.", labels.KEPT_BESIDE.format(name="new 2")] == (
        app.success[0].value.split("  \n")[1:]
    )


def test_a_card_file_with_letters_in_another_encoding_is_refused_and_not_kept_with_wrong_letters() -> None:
    app = opened()
    app.file_uploader[0].set_value(("café.toml", NEW.replace("Steps", "Café").encode("cp1252"), "application/toml")).run()

    assert "the encoding UTF-8" in app.error[0].value
    assert ["new", "old"] == choices.kept_cards()


def test_a_card_file_that_begins_with_a_mark_of_byte_order_is_kept_without_it() -> None:
    app = opened()
    app.file_uploader[0].set_value(("marked.toml", b"\xef\xbb\xbf" + NEW.encode(), "application/toml")).run()

    assert [] == list(app.error)
    assert NEW == (choices.card_path("marked") or Path()).read_text(encoding="utf-8")


def test_what_changed_is_told_with_names_as_typed() -> None:
    app = compared(opened())
    told = "".join(one.proto.body for one in app.get("html"))

    assert "This year against Last year: two hands changed, no hands the same." in [one.value for one in app.markdown]
    assert "It is now worth 30; it was worth 25." in told
    assert "It was called Compass &lt;b&gt;." in told


def test_a_card_to_compare_with_that_was_damaged_by_hand_gets_a_sentence() -> None:
    path = choices.card_path("old") or Path()
    path.write_text(OLD.replace("kongs", "kogns"), encoding="utf-8")
    app = compared(opened())

    assert 'line 3, hand "Steps": expected a group, found "kogns"' in app.error[0].value
