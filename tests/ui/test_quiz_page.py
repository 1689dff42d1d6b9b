"""The page for quizzes without a browser."""

from collections.abc import Callable, Collection
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from tilewitness.engine.quiz import MayClaim, Question, StillPossible, WrongTile
from tilewitness.ui import practice_labels as said
from tilewitness.ui import quiz_words
from tilewitness.ui.choices import keep_card
from tilewitness.ui.notebook import Notebook

Part = Callable[[AppTest, str], dict[str, Any]]


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path))


def opened() -> AppTest:
    app = AppTest.from_file(str(resources.files("tilewitness.ui") / "app.py"), default_timeout=60).run()
    app.switch_page("screens/quiz.py").run()
    assert not app.exception
    return app


def question(app: AppTest) -> Question:
    quiz = app.session_state["quiz"]
    found: Question = quiz.questions[quiz.at]
    return found


def choose(app: AppTest, choices: Collection[int]) -> None:
    quiz = app.session_state["quiz"]
    key = f"quiz {quiz.number} {quiz.at}"
    if isinstance(question(app), StillPossible):
        for at in choices:
            app.checkbox(key=f"{key} {at}").check()
    else:
        app.radio(key=key).set_value(min(choices))
    app.run()


def go(app: AppTest) -> None:
    app.button(key="quiz go").click().run()
    assert not app.exception


def test_ten_questions_answered_rightly_are_all_right(part: Part) -> None:
    app = opened()
    for number in range(1, 11):
        assert f"Question {number} of 10" == part(app, "task")["title"]
        choose(app, question(app).answer)
        go(app)
        assert ("Right", "yes") == (part(app, "answer")["title"], part(app, "answer")["tone"])
        assert part(app, "answer")["lead"]  # and told why
        go(app)

    assert "Ten of ten questions right" == part(app, "answer")["title"]
    assert "Which tile is wrong, easy: 4 of 4 right." in part(app, "answer")["details"]
    assert "second opinion" in part(app, "answer")["note"]


def test_a_wrong_answer_is_told_the_right_one_and_why(part: Part) -> None:
    app = opened()
    asked = question(app)
    choose(app, {next(at for at in range(asked.options) if at not in asked.answer)})
    go(app)
    answer = part(app, "answer")

    assert "no" == answer["tone"]
    assert answer["title"].startswith("Not right. The answer is: Place ")
    assert quiz_words.answer_sentences(asked, ())[1:] == answer["lead"]
    assert ["One question answered, not right.", "Written down in your notebook."] == answer["details"]
    assert [False] == [one.right for one in Notebook().answers("me")]


def test_a_question_must_be_answered_before_the_next_one() -> None:
    app = opened()
    go(app)

    assert [said.CHOOSE_FIRST] == [warning.value for warning in app.warning]
    assert 0 == app.session_state["quiz"].at


@pytest.mark.parametrize(
    ("label", "kind"),
    [(said.WRONG_TILE, WrongTile), (said.STILL_POSSIBLE, StillPossible), (said.MAY_CLAIM, MayClaim)],
)
def test_a_quiz_may_ask_one_kind_only(label: str, kind: type[Question]) -> None:
    app = opened()
    app.radio(key="quiz kind").set_value(label).run()

    assert ([kind] * 10) == [type(one) for one in app.session_state["quiz"].questions]


@pytest.mark.parametrize("level", said.LEVELS)
def test_every_level_asks_ten_questions_of_all_kinds(level: str) -> None:
    app = opened()
    app.radio(key="quiz level").set_value(level).run()
    asked = app.session_state["quiz"].questions

    assert (10, {WrongTile, StillPossible, MayClaim}) == (len(asked), {type(one) for one in asked})


def test_another_quiz_asks_other_questions(part: Part) -> None:
    app = opened()
    before = app.session_state["quiz"].questions
    for _ in range(10):
        choose(app, question(app).answer)
        go(app)
        go(app)
    app.button(key="quiz another").click().run()

    assert "Question 1 of 10" == part(app, "task")["title"]
    assert before != app.session_state["quiz"].questions


def test_a_card_that_gives_no_questions_is_told(tmp_path: Path) -> None:
    keep_card("tiny", 'name = "Tiny"\n["One"]\n"Fifteen" = "sextet of flowers, quint of east, kong of south; worth 25"\n')
    (tmp_path / "choices.json").write_text('{"card": "tiny"}', encoding="utf-8")

    assert [quiz_words.NO_QUESTIONS] == [warning.value for warning in opened().warning]


def test_nothing_but_what_is_meant_stands_on_the_page() -> None:
    assert said.QUIZ_INTRO == opened().markdown[0].value  # a script's bare strings would be shown above it


def test_how_quizzes_went_stands_with_what_was_practised() -> None:
    app = opened()
    choose(app, question(app).answer)
    go(app)
    app.switch_page("screens/practise.py").run()

    assert [said.QUIZ_SCORES] == [one.label for one in app.expander if one.label == said.QUIZ_SCORES]
    assert any("1 of 1 right" in str(table.value) for table in app.table)
