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
