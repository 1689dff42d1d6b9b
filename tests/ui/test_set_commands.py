"""The command `set` as a person runs it; photos are replaced by lessons made up, keeping is real."""

import json
from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
import pytest

from tilewitness.engine.faces import FACES, Face
from tilewitness.models import ReaderNet
from tilewitness.ui import cli, kept_sets, set_words
from tilewitness.vision.learning import PICTURE_SIZE
from tilewitness.vision.lesson import Lesson, Place, layout
from tilewitness.vision.read import Models

Capture = pytest.CaptureFixture[str]
ROWS = layout(flowers=1, jokers=1)
PICTURE = cv2.imencode(".jpg", np.full((*PICTURE_SIZE, 3), 90, np.uint8))[1].tobytes()


class NoReader:
    def run(self, names: object, feed: dict[str, np.ndarray]) -> list[np.ndarray]:
        count = len(feed["faces"])
        embedding = np.full((count, 128), 128**-0.5, np.float32)
        return [np.full((count, 37), 1 / 37, np.float32), np.zeros(count, np.float32), embedding]


def lesson(looks: dict[tuple[int, int], Face | None]) -> Lesson:
    """A lesson in which some places look like another face, or like nothing at all."""
    places = []
    for r, row in enumerate(ROWS):
        for p, face in enumerate(row):
            seen = looks.get((r, p), face)
            probabilities = ((seen, 0.98), (FACES[0], 0.01)) if seen else ()
            places.append(Place(r, p, face, probabilities, PICTURE if seen else b""))
    return Lesson(tuple(places))


@pytest.fixture(autouse=True)
def seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[dict[tuple[int, int], Face | None]], None]:
    """Let every photo show this lesson."""
    net = ReaderNet(NoReader(), fingerprint="now")
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path / "data"))
    monkeypatch.setattr("tilewitness.models.open_reader", lambda: net)
    monkeypatch.setattr("tilewitness.models.start_opening", lambda: None)
    monkeypatch.setattr(Models, "shipped", lambda: Models(None, net))  # type: ignore[arg-type]  # unused

    def shows(looks: dict[tuple[int, int], Face | None]) -> None:
        monkeypatch.setattr("tilewitness.ui.set_commands.study", lambda photos, rows: lesson(looks))

    shows({})
    return shows


def test_the_layout_is_told_row_by_row(capsys: Capture) -> None:
    status = cli.main(["set", "layout", "--flowers", "4", "--jokers", "1"])
    shown = capsys.readouterr().out

    assert 0 == status
    assert "Row 2: 1 crak to 9 crak." in shown
    assert "Row 5: four different flowers, joker." in shown


def test_a_set_is_learnt_listed_and_deleted(capsys: Capture) -> None:
    assert 0 == cli.main(["set", "learn", "Mine", "photo.jpg"])
    assert 'The set "Mine" is kept: 36 pictures of 36 faces.' in capsys.readouterr().out
    cli.main(["set", "list"])
    assert "Mine: 36 pictures of 36 faces\n" == capsys.readouterr().out
    assert 0 == cli.main(["set", "rename", "Mine", "Ours"])
    assert 0 == cli.main(["set", "delete", "Ours"])
    assert [set_words.renamed("Mine", "Ours"), set_words.deleted("Ours")] == capsys.readouterr().out.splitlines()[-2:]
    cli.main(["set", "list"])
    assert f"{set_words.NO_SETS}\n" == capsys.readouterr().out


def test_swapped_tiles_are_named_and_not_learnt(seen: Callable[..., None], capsys: Capture) -> None:
    seen({(0, 2): FACES[3], (0, 3): FACES[2]})
    cli.main(["set", "learn", "Mine", "photo.jpg"])
    shown = capsys.readouterr().out

    assert "Row 1 place 3 looks like a 4 bam and row 1 place 4 like a 3 bam: these two seem to have changed places." in shown
    assert "There is none of 3 bam and 4 bam" in shown


def test_a_person_says_what_a_tile_is_or_that_the_layout_is_right(seen: Callable[..., None], capsys: Capture) -> None:
    seen({(1, 3): FACES[20], (1, 4): None})
    cli.main(["set", "learn", "Mine", "photo.jpg", "--place", "row 2 place 4: 4 crak"])
    assert 1 == kept_sets.peek("Mine").counts[Face.named("4 crak")]
    cli.main(["set", "learn", "Ours", "photo.jpg", "--as-laid-out"])
    assert 1 == kept_sets.peek("Ours").counts[Face.named("4 crak")]
    assert "Row 2 place 5, 5 crak, was not seen." in capsys.readouterr().out


def test_tiles_of_one_row_that_were_not_seen_are_told_together(seen: Callable[..., None], capsys: Capture) -> None:
    seen({(0, place): None for place in range(9)} | {(1, 3): None, (1, 4): None})
    cli.main(["set", "learn", "Mine", "photo.jpg"])
    shown = capsys.readouterr().out

    assert "Row 1: 1 bam to 9 bam were not seen.\nRow 2: 4 crak and 5 crak were not seen.\n" in shown


@pytest.mark.parametrize("place", ["row 2: 3 bam", "2/3: 3 bam", "row 2 place 4: 33 bam", "row 9 place 1: 3 bam"])
def test_a_place_that_is_none_is_refused_and_nothing_is_kept(place: str, capsys: Capture) -> None:
    assert 2 == cli.main(["set", "learn", "Mine", "photo.jpg", "--place", place])
    assert capsys.readouterr().err.startswith("tilewitness: ")
    assert [] == kept_sets.names()


def test_more_photos_add_to_a_set_and_can_be_undone(capsys: Capture) -> None:
    cli.main(["set", "learn", "Mine", "photo.jpg"])
    cli.main(["set", "learn", "Mine", "photo.jpg"])
    assert 72 == len(kept_sets.peek("Mine").examples)
    assert 0 == cli.main(["set", "undo", "Mine"])
    assert 36 == len(kept_sets.peek("Mine").examples)
    assert 2 == cli.main(["set", "undo", "Mine"])
    assert "delete it" in capsys.readouterr().err


def test_a_set_goes_into_one_file_and_comes_back(tmp_path: Path) -> None:
    file = str(tmp_path / "mine.tiles")
    cli.main(["set", "learn", "Mine", "photo.jpg"])

    assert 0 == cli.main(["set", "export", "Mine", file])
    assert 2 == cli.main(["set", "import", file])
    assert 0 == cli.main(["set", "import", file, "--name", "Copy"])
    assert ["Copy", "Mine"] == kept_sets.names()


def test_a_file_that_cannot_be_written_or_read_is_told_in_a_sentence(tmp_path: Path, capsys: Capture) -> None:
    (tmp_path / "taken").write_bytes(b"no folder")
    cli.main(["set", "learn", "Mine", "photo.jpg"])

    assert 2 == cli.main(["set", "export", "Mine", str(tmp_path / "taken" / "mine.tiles")])
    assert 2 == cli.main(["set", "import", str(tmp_path / "mine.tiles")])
    told = capsys.readouterr().err.splitlines()
    assert ["cannot be written", "cannot be read"] == [line.split(": ")[2].split(".")[0] for line in told]


def test_a_damaged_set_is_told_and_the_others_are_listed(tmp_path: Path, capsys: Capture) -> None:
    cli.main(["set", "learn", "Mine", "photo.jpg"])
    (tmp_path / "data" / "sets" / "Bad.tiles").write_bytes(b"PK nothing")
    capsys.readouterr()
    status = cli.main(["set", "list"])
    shown = capsys.readouterr()

    assert (2, "Mine: 36 pictures of 36 faces\n") == (status, shown.out)
    assert '"Bad" is damaged' in shown.err


def test_what_was_made_of_each_place_is_one_json_object(seen: Callable[..., None], capsys: Capture) -> None:
    seen({(0, 2): FACES[3]})
    cli.main(["set", "learn", "Mine", "photo.jpg", "--json"])
    record = json.loads(capsys.readouterr().out)

    assert 36 == len(record["places"])
    assert {
        "row": 0, "place": 2, "expected": "3 bam", "looks_like": "4 bam", "agreement": "other", "learnt_as": None,
    } == record["places"][2]  # fmt: skip


def test_reading_with_a_set_that_was_never_learnt_says_so(capsys: Capture) -> None:
    assert 2 == cli.main(["read", "photo.jpg", "--set", "Yours"])
    assert 'There is no set "Yours". None has been learnt yet.' in capsys.readouterr().err
