"""`tilewitness practise` and `tilewitness quiz`; reading a photo is replaced, checking is real."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tilewitness.ui import cli
from tilewitness.ui.notebook import Notebook
from tilewitness.vision.reading import Reading

Capture = pytest.CaptureFixture[str]
MakeReading = Callable[..., Reading]
Practise = Callable[..., tuple[int, str, str]]

WIN = "pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam, joker"
JOKER_IN_PAIR = "flower, joker, kong of 2 bam, kong of 4 bam, kong of 6 bam"
ANOTHER = "pair of flowers, kong of 3 dot, kong of 4 dot, kong of soap"


@pytest.fixture(autouse=True)
def own_data(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Keep the notebook out of the user's real data folder."""
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


@pytest.fixture
def practise(card_file: Path, capsys: Capture) -> Practise:
    """Run the command and return status and what it wrote."""

    def run(*options: str) -> tuple[int, str, str]:
        status = cli.main(["practise", "--card", str(card_file), *options])
        shown = capsys.readouterr()
        return status, shown.out, shown.err

    return run


def _show(monkeypatch: pytest.MonkeyPatch, reading: Reading) -> None:
    monkeypatch.setattr("tilewitness.vision.read.read_photo", lambda source, *, tile_set=None: reading)


def test_without_tiles_it_names_a_hand_to_build(practise: Practise) -> None:
    assert practise()[1].startswith("Build Small steps, worth 25.\nYour card asks for pair of flowers")
    assert practise("--next") == practise()
    assert practise("--section", "behind the rack")[1].startswith("Build Quiet pairs")
    assert practise("--hand", "own dragon")[1].startswith("Build Own dragon")


def test_what_was_built_is_checked_and_written_down(practise: Practise) -> None:
    status, told, _ = practise("--hand", "Small steps", "--tiles", JOKER_IN_PAIR, "--learner", "Ada")

    assert (0, "Not yet Small steps: a joker stands in a pair.") == (status, told.splitlines()[0])
    assert "Written down in the notebook of Ada." in told
    assert "second opinion" in told
    assert [("Ada", "Small steps", False)] == [
        (one.learner, one.hand.hand, one.right) for one in Notebook().attempts()
    ]


def test_without_a_name_the_hand_that_comes_next_is_checked(practise: Practise) -> None:
    assert practise("--tiles", WIN)[1].startswith("Right: Small steps.")
    assert practise("--tiles", ANOTHER)[1].startswith("Right: Own dragon.")
    assert practise()[1].startswith("Build Quiet pairs")


def test_each_learner_has_a_coverage_of_their_own(practise: Practise) -> None:
    practise("--tiles", WIN, "--learner", "Ada")

    assert practise("--coverage", "--learner", "Ada")[1].startswith("Test card: 1 of three hands built.")
    assert practise("--coverage", "--learner", "Bo")[1].startswith("Test card: 0 of three hands built.")


def test_attempts_are_written_for_a_spreadsheet(practise: Practise, tmp_path: Path) -> None:
    practise("--tiles", WIN)
    practise("--hand", "own dragon", "--tiles", WIN)
    status, told, _ = practise("--export", str(tmp_path / "out.csv"))

    assert (0, f"Two attempts written to {tmp_path / 'out.csv'}.\n") == (status, told)
    assert 3 == len((tmp_path / "out.csv").read_text(encoding="utf-8").splitlines())


def test_a_photo_is_checked_as_one_rack(practise: Practise, monkeypatch: pytest.MonkeyPatch, make_reading: MakeReading) -> None:
    _show(monkeypatch, make_reading("pair of flowers, kong of 2 bam, 4 bam, 4 bam", "4 bam, 4 bam, kong of 6 bam", sure=True))
    told = practise("--hand", "small steps", "--photo", "any.jpg")[1]

    assert told.startswith("Right: Small steps.")
    assert 1 == len(Notebook().attempts())


def test_a_doubtful_photo_is_written_down_as_unsure_and_does_not_count(practise: Practise, monkeypatch: pytest.MonkeyPatch, make_reading: MakeReading) -> None:
    _show(monkeypatch, make_reading(WIN, unsure={0: "joker"}, sure=True))
    told = practise("--hand", "small steps", "--photo", "any.jpg")[1]

    assert told.startswith("Look first: as read, Small steps is right.")
    assert "Look at place 1: it is a win if it is a flower" in told
    assert "Written down in your notebook as unsure: it does not count" in told
    assert "--tiles" in told
    assert [(True, False)] == [(one.unsure, one.right) for one in Notebook().attempts()]
    assert "Small steps: not tried yet. One photo left unsure." in practise("--coverage")[1]


def test_a_photo_without_tiles_is_no_attempt(practise: Practise, monkeypatch: pytest.MonkeyPatch, make_reading: MakeReading) -> None:
    _show(monkeypatch, make_reading())
    status, told, _ = practise("--photo", "any.jpg")

    assert (1, True) == (status, told.startswith("No tiles found."))
    assert [] == Notebook().attempts()


def test_a_photo_of_a_whole_table_is_no_attempt(practise: Practise, monkeypatch: pytest.MonkeyPatch, make_reading: MakeReading) -> None:
    _show(monkeypatch, make_reading(WIN, WIN, WIN))
    status, told, _ = practise("--photo", "any.jpg")

    assert (1, "The photo shows 42 tiles; a hand has 14. Photograph the hand alone.\n") == (status, told)
    assert [] == Notebook().attempts()


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (["--hand", "Smal steps"], 'Did you mean "Small steps"?'),
        (["--section", "zzz"], "There are: Warming up, Behind the rack."),
        (["--tiles", "3 bim"], "tile 1"),
        (["--tiles", " , "], "names no tile"),
        (["--tiles", WIN, "--set", "Mine"], "Name a photo in place of --tiles"),
        (["--export", "/no/such/folder/out.csv"], "cannot be written"),
    ],
)
def test_a_slip_is_told_in_a_sentence(practise: Practise, options: list[str], message: str) -> None:
    practise("--tiles", WIN)
    status, told, slip = practise(*options)

    assert (2, "") == (status, told)
    assert message in slip and "Traceback" not in slip


def test_a_notebook_that_cannot_be_written_to_costs_the_memory_never_the_answer(
    practise: Practise, own_data: Path
) -> None:
    practise("--tiles", WIN)
    (own_data / "practice.db").write_bytes(b"no notebook at all, and long enough to be looked at" * 40)
    status, told, slip = practise("--hand", "small steps", "--tiles", WIN)

    assert (0, "") == (status, slip)
    assert told.startswith("Right: Small steps.") and "move it aside" in told
    assert (2, True) == ((other := practise())[0], "move it aside" in other[2])


def test_a_real_photo_is_checked_place_by_place(capsys: Capture) -> None:
    samples = Path(__file__).parents[2] / "samples"
    photo, card = str(samples / "joker-in-pair.jpg"), str(samples / "card.toml")
    status = cli.main(["practise", "--card", card, "--hand", "Two Lanterns", "--photo", photo])

    assert 0 == status
    assert "Place 2: a joker never stands in a pair" in capsys.readouterr().out


def test_a_quiz_asks_reads_choices_and_counts(card_file: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("99\nx\n1\n"))
    status = cli.main(["quiz", "--card", str(card_file), "--seed", "1", "--count", "3"])
    told, asked = capsys.readouterr()

    assert 0 == status
    assert 2 == asked.count("That is not a choice from 1 to 14.")
    assert "One question answered, " in told  # the end of the input ends the quiz
    assert "second opinion" in told


def test_a_quiz_without_any_input_ends_as_at_the_end_of_it(
    card_file: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", None)

    assert 0 == cli.main(["quiz", "--card", str(card_file), "--seed", "1"])
    assert "No question was answered." in capsys.readouterr().out


def test_the_right_answers_to_a_quiz_are_all_right(card_file: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    from tilewitness.engine.card import load_card
    from tilewitness.engine.quiz import Level, questions

    asked = questions(load_card(card_file), Level.MIDDLE, 8, 6)
    typed = "".join(", ".join(str(at + 1) for at in one.answer) + "\n" for one in asked)
    monkeypatch.setattr("sys.stdin", io.StringIO(typed))
    cli.main(["quiz", "--card", str(card_file), "--level", "2", "--seed", "8", "--count", "6"])

    assert f"{['', 'One', 'Two', 'Three', 'Four', 'Five', 'Six'][len(asked)]} of" in capsys.readouterr().out


def _objects(text: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in text.splitlines()]


def test_programs_get_the_task_the_check_and_the_coverage_as_objects(practise: Practise) -> None:
    (task,) = _objects(practise("--json")[1])
    (wrong,) = _objects(practise("--json", "--hand", "small steps", "--tiles", JOKER_IN_PAIR)[1])
    (right,) = _objects(practise("--json", "--hand", "small steps", "--tiles", WIN)[1])
    (done,) = _objects(practise("--json", "--coverage")[1])

    assert "Small steps" == task["hand"]["name"]
    assert ("not right", "counts") == (wrong["verdict"], wrong["kept"])
    assert [("joker in a pair", [1], "joker", ["flower"])] == [
        (one["fault"], one["places"], one["found"], one["wanted"]) for one in wrong["corrections"]
    ]
    assert ("right", [], 2) == (right["verdict"], right["corrections"], len(right["other_ways"]))
    assert {"size": 4, "face": "2 bam"} in right["joker_groups"]
    assert (1, 3, "me") == (done["built"], done["hands"], done["learner"])
    assert {"joker in a pair": 1} == done["sections"][0]["hands"][0]["mistakes"]


def test_programs_get_what_was_read_with_the_check(
    practise: Practise, monkeypatch: pytest.MonkeyPatch, make_reading: MakeReading
) -> None:
    _show(monkeypatch, make_reading(WIN, unsure={0: "joker"}, sure=True))
    (seen,) = _objects(practise("--json", "--hand", "small steps", "--photo", "any.jpg")[1])

    assert (14, "any.jpg", "look", "unsure") == (len(seen["tiles"]), seen["photo"], seen["verdict"], seen["kept"])


def test_a_quiz_speaks_in_objects_and_keeps_its_answers(
    card_file: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch, practise: Practise, tmp_path: Path
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("1\n1\n1\n"))
    cli.main(["quiz", "--card", str(card_file), "--seed", "1", "--count", "3", "--json", "--learner", "Ada"])
    objects = _objects(capsys.readouterr().out)
    right = objects[-1]["right"]

    assert [1, 1, 2, 2, 3, 3, None] == [one.get("question") for one in objects]
    assert "which tile is wrong" == objects[0]["asks"]
    assert (objects[1]["chosen"] == objects[1]["answer"]) == objects[1]["right"]
    assert (3, right) == (len(Notebook().answers("Ada")), sum(one.right for one in Notebook().answers("Ada")))
    assert "  Which tile is wrong, easy: " in practise("--coverage", "--learner", "Ada")[1]
    assert 0 == cli.main(["quiz", "--card", str(card_file), "--export", str(tmp_path / "quiz.csv")])
    assert 4 == len((tmp_path / "quiz.csv").read_text(encoding="utf-8").splitlines())


def test_a_quiz_left_at_once_counts_nothing(card_file: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    cli.main(["quiz", "--card", str(card_file), "--seed", "1"])

    assert "No question was answered." == capsys.readouterr().out.splitlines()[-2]


def test_a_misspelt_learner_is_asked_for_before_a_notebook_is_begun(practise: Practise) -> None:
    practise("--tiles", WIN, "--learner", "Ruth")
    status, told, slip = practise("--tiles", WIN, "--learner", "Rut")

    assert (2, "") == (status, told)
    assert 'Did you mean "Ruth"?' in slip and '--new-learner "Rut"' in slip
    assert 0 == practise("--tiles", WIN, "--learner", "ruth")[0]
    assert ["Ruth"] == Notebook().learners()
    assert 0 == practise("--tiles", WIN, "--new-learner", "Rut")[0]
    assert ["Rut", "Ruth"] == Notebook().learners()
