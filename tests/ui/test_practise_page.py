"""The page for practice without a browser: tiles are typed where a person would choose drawn ones."""

import json
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from tilewitness.engine.card import Card, load_card
from tilewitness.engine.faces import Face
from tilewitness.engine.judge import judge
from tilewitness.engine.rack import Rack
from tilewitness.ui import practice_labels as said
from tilewitness.ui.choices import keep_card
from tilewitness.ui.notebook import Notebook
from tilewitness.ui.practice_words import more_than_a_hand
from tilewitness.ui.sight import with_face
from tilewitness.vision.reading import Reading

Part = Callable[[AppTest, str], dict[str, Any]]
SAMPLES = resources.files("tilewitness.samples")
FIRST = "Two Lanterns"
RIGHT = "pair of flowers, kong of 1 bam, kong of 5 bam, kong of 9 dot"
WRONG = "pair of flowers, kong of 1 bam, kong of 5 bam, pung of 9 dot, 8 dot"


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path))


@pytest.fixture(scope="module")
def demo() -> Card:
    with resources.as_file(SAMPLES / "card.toml") as path:
        return load_card(path)


def opened() -> AppTest:
    app = AppTest.from_file(str(resources.files("tilewitness.ui") / "app.py"), default_timeout=60).run()
    app.switch_page("screens/practise.py").run()
    assert not app.exception
    return app


def press(app: AppTest, label: str) -> None:
    (button,) = [one for one in app.button if one.label == label]
    button.click().run()
    assert not app.exception


def put(app: AppTest, tiles: str) -> None:
    app.text_input(key="practise typed").set_value(tiles)
    press(app, said.PUT)


def build(app: AppTest, tiles: str) -> None:
    put(app, tiles)
    press(app, said.CHECK)


def choose(app: AppTest, what: str) -> None:
    app.radio(key="practise what").set_value(what).run()


def texts(app: AppTest) -> list[str]:
    return [text.value for text in app.markdown]


def test_the_first_visit_names_a_hand_to_build(part: Part) -> None:
    app = opened()
    task = part(app, "task")

    assert said.INTRO == app.markdown[0].value
    assert task["title"].startswith(f"Build {FIRST}")
    assert "Your card asks for pair of flowers, kongs of 1 and 5" in task["lines"][0]
    assert any("Jokers may stand" in line for line in task["lines"])
    assert not task["speaks"]


def test_a_right_hand_is_right_and_written_down(part: Part) -> None:
    app = opened()
    build(app, RIGHT)
    (attempt,) = Notebook().attempts()

    assert f"Right: {FIRST}" == part(app, "answer")["title"]
    assert any("second opinion" in line for line in [part(app, "answer")["note"]])
    assert ("me", FIRST, True) == (attempt.learner, attempt.hand.hand, attempt.right)
    assert any(": 1 of 53 hands built." in text for text in texts(app))


def test_a_wrong_tile_is_named_by_place_with_its_remedy(part: Part) -> None:
    app = opened()
    build(app, WRONG)
    answer = part(app, "answer")

    assert "no" == answer["tone"]
    assert ["Place 14: an 8 dot does not fit the other numbers, so it must be a 9 dot."] == answer["lead"]
    assert not Notebook().attempts()[0].right


def test_the_hand_stays_until_the_next_is_asked_for(part: Part) -> None:
    app = opened()
    build(app, RIGHT)

    assert part(app, "task")["title"].startswith(f"Build {FIRST}")
    press(app, said.NEXT)
    assert part(app, "task")["title"].startswith("Build Long Pier")
    assert [] == part(app, "builder")["rack"]


def test_building_it_again_begins_with_an_empty_rack(part: Part) -> None:
    app = opened()
    build(app, WRONG)
    press(app, said.AGAIN)

    assert part(app, "task")["title"].startswith(f"Build {FIRST}")
    assert [] == part(app, "builder")["rack"]


def test_a_section_is_practised_by_itself(part: Part) -> None:
    app = opened()
    choose(app, said.SECTION)
    app.selectbox(key="practise section").set_value("Weather Vane").run()

    assert part(app, "task")["title"].startswith("Build Fair Wind")


def test_a_hand_is_chosen_by_name(part: Part) -> None:
    app = opened()
    choose(app, said.HAND)
    names = app.selectbox(key="practise hand").options
    app.selectbox(key="practise hand").select_index(names.index("Night Watch, worth 60, concealed")).run()

    assert part(app, "task")["title"].startswith("Build Night Watch")


def test_every_learner_has_a_page_of_her_own_in_the_notebook() -> None:
    app = opened()
    build(app, RIGHT)
    app.text_input(key="practise learner").set_value("Ada").run()

    assert any(": 0 of 53 hands built." in text for text in texts(app))
    build(app, RIGHT)
    assert ["Ada", "me"] == Notebook().learners()


def test_typed_tiles_are_put_in_place_and_said(part: Part) -> None:
    app = opened()
    put(app, "pung of 4 bam, two flowers")
    builder = part(app, "builder")

    assert ["4 bam"] * 3 + ["flower"] * 2 == builder["rack"]
    assert "Three 4 bam, two flowers at the end. You have five tiles." == builder["news"]["text"]
    assert "" == app.text_input(key="practise typed").value


def test_a_mistyped_tile_is_said_and_the_text_stays(part: Part) -> None:
    app = opened()
    put(app, "pung of 4 bim")

    assert 'Did you mean "4 bam"?' in part(app, "builder")["news"]["text"]
    assert "pung of 4 bim" == app.text_input(key="practise typed").value


def test_too_many_typed_tiles_find_no_room(part: Part) -> None:
    app = opened()
    put(app, ", ".join(["sextet of flowers"] * 3))
    put(app, "pung of 4 bam")

    assert said.BUILDER["full"] == part(app, "builder")["news"]["text"]
    assert 18 == len(part(app, "builder")["rack"])


def test_nothing_is_checked_before_there_are_tiles() -> None:
    app = opened()
    press(app, said.CHECK)

    assert [said.NOTHING_TO_CHECK] == [warning.value for warning in app.warning]
    assert [] == Notebook().attempts()


def test_other_ways_are_shown_as_tiles() -> None:
    app = opened()
    build(app, RIGHT)
    pictures = [html.proto.body.count("<img") for html in app.get("html") if 'class="tw-small"' in html.proto.body]

    assert [5 * 14] == pictures  # any two of three suits, in either order, but the one that was built


def test_a_notebook_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    (tmp_path / "practice.db").write_text("no notebook at all, but long enough to be looked at" * 30)
    app = opened()
    (error,) = app.error

    assert "practice.db: the practice notebook cannot be used" in error.value
    press(app, said.SET_ASIDE)
    (told,) = app.success
    (aside,) = tmp_path.glob("practice set aside *.db")
    assert aside.name in told.value and str(tmp_path) in told.value
    assert aside.read_text().startswith("no notebook at all")
    build(app, RIGHT)
    assert [True] == [attempt.right for attempt in Notebook().attempts()]


def test_a_name_like_a_learners_is_asked_about_before_a_notebook_is_begun(part: Part) -> None:
    app = opened()
    app.text_input(key="practise learner").set_value("Ruth").run()
    build(app, RIGHT)
    app.text_input(key="practise learner").set_value("Rut").run()

    assert [said.MEANT.format(typed="Rut", known="Ruth")] == [one.value for one in app.warning]
    press(app, said.MEANT_YES.format(known="Ruth"))
    assert any(": 1 of 53 hands built." in text for text in texts(app))
    app.text_input(key="practise learner").set_value("Rut").run()
    press(app, said.MEANT_NO.format(typed="Rut"))
    assert any(": 0 of 53 hands built." in text for text in texts(app))


@pytest.mark.parametrize("what", [said.LEAST, said.SECTION, said.HAND])
def test_a_card_of_which_nothing_can_be_built_is_told(what: str, tmp_path: Path) -> None:
    keep_card("tiny", 'name = "Tiny"\n["One"]\n"Fifteen" = "sextet of flowers, quint of east, kong of south; worth 25"\n')
    (tmp_path / "choices.json").write_text('{"card": "tiny"}', encoding="utf-8")
    app = opened()
    choose(app, what)

    assert not app.exception
    assert ["no hand of"] == [error.value[:10] for error in app.error]


def photographed(app: AppTest, photo: bytes, kind: str) -> None:
    app.radio(key="practise how").set_value(said.PHOTO).run()
    app.file_uploader[0].set_value((f"rack.{kind}", photo, f"image/{kind}"))
    app.run()
    press(app, said.CHECK)


def test_a_photo_of_the_built_hand_is_read_checked_and_written_down(demo: Card, part: Part) -> None:
    """One of the rendered samples, through both networks; what it shows is stated beside it."""
    truth = json.loads((SAMPLES / "win.json").read_text(encoding="utf-8"))
    rack = Rack(tuple(Face.named(tile["label"]) for tile in truth["tiles"]))
    hand = judge(rack, demo).wins[0].hand
    app = opened()
    choose(app, said.HAND)
    app.selectbox(key="practise hand").set_value(hand).run()
    photographed(app, (SAMPLES / "win.jpg").read_bytes(), "jpeg")

    shown = [tile["name"] for row in part(app, "tiles")["rows"] for tile in row["tiles"]]
    assert [face.name for face in rack.faces] == shown
    if part(app, "answer")["tone"] == "look":
        assert f"Look first: as read, {hand.name} is right" == part(app, "answer")["title"]
        press(app, said.CONFIRM)
    assert f"Right: {hand.name}" == part(app, "answer")["title"]
    kept = [(attempt.hand.hand, attempt.right) for attempt in Notebook().attempts() if not attempt.unsure]
    assert [(hand.name, True)] == kept


def test_a_photo_of_a_whole_table_is_not_checked_as_one_hand(
    make_reading: Callable[..., Reading], monkeypatch: pytest.MonkeyPatch
) -> None:
    reading = make_reading(*["kong of 1 bam, kong of 5 bam, kong of 9 dot, pair of flowers"] * 3)
    monkeypatch.setattr("tilewitness.ui.sight.read_photo", lambda source, tile_set: reading)
    app = opened()
    photographed(app, (SAMPLES / "win.jpg").read_bytes(), "jpeg")

    assert [more_than_a_hand(42)] == [warning.value for warning in app.warning]
    assert not Notebook().attempts()


def test_an_unsure_photo_counts_only_after_a_person_has_looked(
    make_reading: Callable[..., Reading], monkeypatch: pytest.MonkeyPatch, part: Part
) -> None:
    reading = make_reading(RIGHT, unsure={9: "6 bam"})
    monkeypatch.setattr("tilewitness.ui.sight.read_photo", lambda source, tile_set: reading)
    app = opened()
    photographed(app, (SAMPLES / "win.jpg").read_bytes(), "jpeg")

    assert "look" == part(app, "answer")["tone"]
    assert any("as unsure: it does not count" in line for line in part(app, "answer")["details"])
    assert any(": 0 of 53 hands built." in text for text in texts(app))
    assert [(True, False)] == [(attempt.unsure, attempt.right) for attempt in Notebook().attempts()]
    press(app, said.CONFIRM)
    assert "yes" == part(app, "answer")["tone"]
    assert any(": 1 of 53 hands built." in text for text in texts(app))
    assert [False, True] == [attempt.right for attempt in Notebook().attempts()]


def test_whoever_corrects_the_unsure_tile_is_answered_at_once(
    make_reading: Callable[..., Reading], monkeypatch: pytest.MonkeyPatch, part: Part
) -> None:
    reading = make_reading(RIGHT, unsure={9: "6 bam"})
    monkeypatch.setattr("tilewitness.ui.sight.read_photo", lambda source, tile_set: reading)
    app = opened()
    photographed(app, (SAMPLES / "win.jpg").read_bytes(), "jpeg")
    history = app.session_state["practise sights"]
    app.session_state["practise sights"] = [*history, with_face(history[-1], 9, Face.named("6 bam"))]
    app.run()

    assert ("no", True) == (part(app, "answer")["tone"], "Place 10: " in part(app, "answer")["lead"][0])
    assert [(True, False), (False, False)] == [(one.unsure, one.right) for one in Notebook().attempts()]
