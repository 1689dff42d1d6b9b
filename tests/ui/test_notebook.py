"""The notebook keeps every attempt it said it kept, whoever writes and whatever dies."""

from __future__ import annotations

import csv
import io
import os
import sqlite3
import subprocess
import sys
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random

import pytest

from tilewitness.engine.coverage import Attempt, HandId
from tilewitness.engine.opinion import Fault
from tilewitness.engine.quiz import Level
from tilewitness.engine.scores import Answer, Asks
from tilewitness.ui.notebook import Notebook, NotebookError

NOON = datetime(2030, 1, 1, 12, tzinfo=UTC)
HAND = HandId("Card", "Section", "Hand", "0123")

WRITER = """
import sys
from datetime import datetime, UTC
from pathlib import Path
from tilewitness.engine.coverage import Attempt, HandId
from tilewitness.ui.notebook import Notebook
notebook = Notebook(Path(sys.argv[1]))
hand = HandId("Card", "Section", "Hand", "0123")
for number in range(int(sys.argv[3])):
    name = f"{sys.argv[2]} {number}"
    notebook.record(Attempt(name, datetime(2030, 1, 1, tzinfo=UTC), hand, "east, " * 14, "way"))
    print(name, flush=True)
"""


def attempt(learner: str = "Ada", minutes: int = 0, *faults: Fault) -> Attempt:
    return Attempt(learner, NOON + timedelta(minutes=minutes), HAND, "east, south", "single of east", faults)


def answer(learner: str, *, right: bool) -> Answer:
    return Answer(learner, NOON, "Card", Asks.MAY_CLAIM, Level.HARD, "east, south", right)


def writer(path: Path, name: str, number: int) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", WRITER, str(path), name, str(number)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def damage(path: Path) -> list[str]:
    """What SQLite's own check finds wrong with the file."""
    database = sqlite3.connect(path)
    found = [line for (line,) in database.execute("PRAGMA integrity_check")]
    database.close()
    return [] if found == ["ok"] else found


def test_attempts_come_back_as_they_were_in_the_order_they_were_made(tmp_path: Path) -> None:
    notebook = Notebook(tmp_path / "new" / "practice.db")
    made = [attempt("Ada", 2, Fault.JOKER_IN_PAIR, Fault.WRONG_WIND), attempt("Bo", 1), attempt("Ada", 3)]
    for one in made:
        notebook.record(one)

    assert made == notebook.attempts()
    assert [made[0], made[2]] == notebook.attempts("Ada")
    assert ["Ada", "Bo"] == notebook.learners()


def test_a_notebook_never_written_to_is_empty_and_makes_no_file(tmp_path: Path) -> None:
    notebook = Notebook(tmp_path / "practice.db")

    assert ([], []) == (notebook.attempts(), notebook.learners())
    assert not notebook.path.exists()


def test_the_list_for_spreadsheets_has_a_line_an_attempt(tmp_path: Path) -> None:
    notebook = Notebook(tmp_path / "practice.db")
    notebook.record(attempt("Ada, the first", 0, Fault.JOKER_IN_PAIR))
    rows = list(csv.DictReader(io.StringIO(notebook.attempts_csv())))

    assert [("Ada, the first", "no", "joker in a pair", "2030-01-01T12:00:00+00:00")] == [
        (row["learner"], row["right"], row["faults"], row["when"]) for row in rows
    ]


def test_quiz_answers_are_kept_beside_the_attempts_and_written_for_a_spreadsheet(tmp_path: Path) -> None:
    notebook = Notebook(tmp_path / "practice.db")
    made = [answer("Ada", right=True), answer("Bo", right=False)]
    for one in made:
        notebook.record_answer(one)
    rows = list(csv.DictReader(io.StringIO(notebook.answers_csv("Bo"))))

    assert (made, made[:1], []) == (notebook.answers(), notebook.answers("Ada"), notebook.attempts())
    assert ["Ada", "Bo"] == notebook.learners()
    assert [("Bo", "Card", "may this be claimed", "hard", "no")] == [
        (row["learner"], row["card"], row["question"], row["level"], row["right"]) for row in rows
    ]


def test_an_unsure_attempt_is_kept_as_such(tmp_path: Path) -> None:
    notebook = Notebook(tmp_path / "practice.db")
    unsure = replace(attempt(), unsure=True)
    notebook.record(unsure)

    assert [unsure] == notebook.attempts()
    assert ["unsure"] == [row["right"] for row in csv.DictReader(io.StringIO(notebook.attempts_csv()))]


def test_a_notebook_of_the_first_layout_is_brought_up_to_date_with_all_that_is_in_it(tmp_path: Path) -> None:
    path = tmp_path / "practice.db"
    database = sqlite3.connect(path)
    columns = ("learner", "at", "card", "section", "hand", "wording", "rack", "way", "faults")
    database.execute(f"CREATE TABLE attempts (number INTEGER PRIMARY KEY AUTOINCREMENT, {' TEXT, '.join(columns)} TEXT)")
    row = ("Ada", NOON.isoformat(), "Card", "Section", "Hand", "0123", "east, south", "single of east", "[]")
    database.execute(f"INSERT INTO attempts ({', '.join(columns)}) VALUES ({', '.join('?' * 9)})", row)
    database.execute("PRAGMA user_version = 1")
    database.commit()
    database.close()
    notebook = Notebook(path)
    notebook.record_answer(answer("Bo", right=True))

    assert [attempt()] == notebook.attempts()
    assert ["Ada", "Bo"] == notebook.learners()
    assert [] == damage(path)


def test_nothing_recorded_can_be_changed_or_deleted(tmp_path: Path) -> None:
    notebook = Notebook(tmp_path / "practice.db")
    notebook.record(attempt())
    notebook.record_answer(answer("Ada", right=True))
    database = sqlite3.connect(notebook.path)
    orders = [f"{order} {table}" for table in ("attempts", "answers") for order in ("DELETE FROM", "UPDATE")]
    for order in (f"{one} SET learner = 'Bo'" if one.startswith("UPDATE") else one for one in orders):
        with pytest.raises(sqlite3.IntegrityError, match="only ever added"):
            database.execute(order)
    database.close()

    assert [attempt()] == notebook.attempts()


def test_every_attempt_is_synchronised_with_the_disk(tmp_path: Path) -> None:
    """Write-ahead mode loses nothing on a power cut when `synchronous` is FULL (2): SQLite's documentation of it."""
    notebook = Notebook(tmp_path / "practice.db")
    with notebook._opened() as database:
        assert ("wal", 2) == (
            database.execute("PRAGMA journal_mode").fetchone()[0], database.execute("PRAGMA synchronous").fetchone()[0]
        )  # fmt: skip


KILLER = """
import os, random, signal, sys, time
from datetime import datetime, UTC
from pathlib import Path
from tilewitness.engine.coverage import Attempt, HandId
from tilewitness.engine.quiz import Level
from tilewitness.engine.scores import Answer, Asks
from tilewitness.ui.notebook import Notebook
hand = HandId("Card", "Section", "Hand", "0123")
noon = datetime(2030, 1, 1, tzinfo=UTC)
chance = random.Random(7)
for turn in range(200):
    child = os.fork()
    if not child:
        for number in range(1000):
            name, notebook = f"{turn} {number}", Notebook(Path(sys.argv[1]))
            if number % 2:
                notebook.record_answer(Answer(name, noon, "Card", Asks.WRONG_TILE, Level.EASY, "east", True))
            else:
                notebook.record(Attempt(name, noon, hand, "east", "way"))
            os.write(1, (name + "\\n").encode())
    time.sleep(chance.uniform(0.005, 0.06))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork, and so many programs start too slowly")
def test_a_writer_killed_at_any_moment_loses_nothing_it_said_was_kept(tmp_path: Path) -> None:
    """Two hundred times: kill the writer at a moment of chance, then look whether all it acknowledged is there."""
    path = tmp_path / "practice.db"
    done = subprocess.run([sys.executable, "-c", KILLER, str(path)], capture_output=True, text=True, check=True)
    acknowledged = done.stdout.splitlines()
    kept = [one.learner for one in (*Notebook(path).attempts(), *Notebook(path).answers())]

    assert acknowledged
    assert set() == set(acknowledged) - set(kept)
    assert len(set(kept)) == len(kept)
    assert [] == damage(path)


def test_a_power_cut_in_the_middle_of_a_later_write_loses_nothing_kept_before(tmp_path: Path) -> None:
    """What was synchronised stays; of what came after, the disk may hold any part, or rubbish in its place."""
    notebook = Notebook(tmp_path / "practice.db")
    notebook.record(attempt("first"))
    reader = sqlite3.connect(notebook.path)  # while another window is open, the log of writes stays
    reader.execute("SELECT count(*) FROM attempts").fetchone()
    log = notebook.path.with_name("practice.db-wal")
    sizes = []
    for number in range(12):
        notebook.record(attempt(f"later {number}"))
        sizes.append(log.stat().st_size)
    whole, main = log.read_bytes(), notebook.path.read_bytes()
    reader.close()
    random = Random(3)
    for turn in range(200):
        after = turn % len(sizes)
        cut = random.randint(sizes[after], len(whole))
        rubbish = random.randbytes(random.choice([0, 1, 500, 5000]))
        copy = tmp_path / f"cut {turn}" / "practice.db"
        copy.parent.mkdir()
        copy.write_bytes(main)
        copy.with_name("practice.db-wal").write_bytes(whole[:cut] + rubbish)
        kept = [one.learner for one in Notebook(copy).attempts()]

        assert ["first", *(f"later {number}" for number in range(after + 1))] == kept[: after + 2]
        assert [] == damage(copy)


def test_two_windows_may_write_at_once(tmp_path: Path) -> None:
    path = tmp_path / "practice.db"
    children = [writer(path, name, 60) for name in ("left", "right", "third")]
    for child in children:
        child.communicate()

    assert [0, 0, 0] == [child.returncode for child in children]
    assert {f"{name} {at}" for name in ("left", "right", "third") for at in range(60)} == {
        one.learner for one in Notebook(path).attempts()
    }
    assert [] == damage(path)


def test_a_file_that_is_no_notebook_is_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "practice.db"
    path.write_bytes(b"not a database at all, but long enough to be read as one" * 20)
    before = path.read_bytes()
    with pytest.raises(NotebookError, match=r"practice\.db.*move it aside") as told:
        Notebook(path).record(attempt())

    assert told.value.damaged
    assert before == path.read_bytes()


def test_a_damaged_notebook_is_set_aside_as_it_is_and_a_new_one_begun(tmp_path: Path) -> None:
    path = tmp_path / "practice.db"
    path.write_bytes(b"not a database at all, but long enough to be read as one" * 20)
    path.with_name("practice.db-wal").write_bytes(b"what SQLite kept beside it")
    before = path.read_bytes()
    aside = Notebook(path).set_aside()
    Notebook(path).record(attempt())

    assert before == aside.read_bytes()
    assert b"what SQLite kept beside it" == aside.with_name(f"{aside.name}-wal").read_bytes()
    assert [attempt()] == Notebook(path).attempts()


def test_a_notebook_that_may_not_be_written_to_is_not_called_damaged(tmp_path: Path) -> None:
    (tmp_path / "practice.db").mkdir()
    with pytest.raises(NotebookError, match="may you not write there") as told:
        Notebook(tmp_path / "practice.db").record(attempt())

    assert not told.value.damaged


def test_a_line_that_says_nothing_known_is_damage(tmp_path: Path) -> None:
    notebook = Notebook(tmp_path / "practice.db")
    notebook.record(attempt())
    database = sqlite3.connect(notebook.path)
    names = "learner, at, card, section, hand, wording, rack, way, faults"
    database.execute(f"INSERT INTO attempts ({names}) VALUES ('Ada', 'noon', '', '', '', '', '', '', '[]')")
    database.commit()
    database.close()

    with pytest.raises(NotebookError) as told:
        notebook.attempts()
    assert told.value.damaged


def test_a_notebook_of_a_newer_version_is_not_touched(tmp_path: Path) -> None:
    notebook = Notebook(tmp_path / "practice.db")
    notebook.record(attempt())
    database = sqlite3.connect(notebook.path)
    database.execute("PRAGMA user_version = 99")
    database.close()

    with pytest.raises(NotebookError, match="newer Tilewitness"):
        notebook.attempts()
