import dataclasses
import io
import os
import zipfile
from collections.abc import Iterator
from pathlib import Path

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tilewitness.engine.faces import FACES, Face
from tilewitness.models import ReaderNet
from tilewitness.ui import kept_sets
from tilewitness.ui.set_files import packed, unpacked
from tilewitness.vision.learning import PICTURE_SIZE
from tilewitness.vision.sets import Addition, Example, SetError, Source, TileSet


class NoReader:
    """Embeds every face alike."""

    def run(self, names: object, feed: dict[str, np.ndarray]) -> list[np.ndarray]:
        count = len(feed["faces"])
        embedding = np.full((count, 128), 128**-0.5, np.float32)
        return [np.full((count, 37), 1 / 37, np.float32), np.zeros(count, np.float32), embedding]


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path / "data"))
    monkeypatch.setattr("tilewitness.models.open_reader", lambda: ReaderNet(NoReader(), fingerprint="now"))
    yield tmp_path / "data"


def picture(shade: int) -> bytes:
    return cv2.imencode(".jpg", np.full((*PICTURE_SIZE, 3), shade, np.uint8))[1].tobytes()


def a_set(name: str = "Grandma's bone set") -> TileSet:
    looks = np.full((2, 128), 128**-0.5, np.float16).tobytes()
    first = tuple(Example(face, picture(face.index), looks) for face in FACES[:3])
    later = (Example(Face.named("joker"), picture(200), looks),)
    return TileSet(
        kept_sets.plain(name), (Addition(Source.LAYOUT, first), Addition(Source.CORRECTION, later)), "now"
    )


def test_a_kept_set_is_found_again_whole() -> None:
    kept_sets.save_set(a_set())

    assert ["Grandma s bone set"] == kept_sets.names()
    assert a_set() == kept_sets.load_set("Grandma's bone set")


def test_a_set_seen_by_an_older_network_is_looked_at_again_and_kept_so() -> None:
    kept_sets.save_set(dataclasses.replace(a_set("Mine"), reader="old"))

    assert "now" == kept_sets.load_set("Mine").reader
    assert "now" == kept_sets.peek("Mine").reader
    assert [example.picture for example in a_set().examples] == [
        example.picture for example in kept_sets.peek("Mine").examples
    ]


def test_a_set_is_renamed_and_deleted_without_touching_others() -> None:
    kept_sets.save_set(a_set("Red"))
    kept_sets.save_set(a_set("Blue"))
    kept_sets.rename("Red", "Green")

    assert ["Blue", "Green"] == kept_sets.names()
    assert "Green" == kept_sets.peek("Green").name
    kept_sets.delete("Green")
    assert ["Blue"] == kept_sets.names()


def test_a_name_in_use_is_not_taken_from_another_set() -> None:
    kept_sets.save_set(a_set("Red"))
    kept_sets.save_set(a_set("Blue"))

    with pytest.raises(SetError, match="already"):
        kept_sets.rename("Red", "Blue")
    assert ["Blue", "Red"] == kept_sets.names()


def test_an_exported_set_is_taken_in_elsewhere_under_a_name_of_choice(tmp_path: Path) -> None:
    kept_sets.save_set(a_set("Mine"))
    kept_sets.export("Mine", tmp_path / "mine.tiles")
    data = (tmp_path / "mine.tiles").read_bytes()

    with pytest.raises(SetError, match="already"):
        kept_sets.take_in(data, "mine.tiles")
    taken = kept_sets.take_in(data, "mine.tiles", name="Hers")
    assert "Hers" == taken.name
    assert ["Hers", "Mine"] == kept_sets.names()
    assert a_set().counts == taken.counts


def test_a_correction_is_undone_in_the_file() -> None:
    kept_sets.save_set(a_set("Mine"))
    kept_sets.change("Mine", TileSet.without_last)

    assert 3 == len(kept_sets.peek("Mine").examples)


def test_a_missing_set_is_told_with_those_there_are() -> None:
    kept_sets.save_set(a_set("Mine"))

    with pytest.raises(SetError, match='no set "Yours". There is Mine'):
        kept_sets.load_set("Yours")


@pytest.mark.parametrize("name", ["", "   ", "../..", "x" * 61])
def test_what_is_no_name_is_refused(name: str) -> None:
    with pytest.raises(SetError, match="no name for a set"):
        kept_sets.save_set(dataclasses.replace(a_set(), name=name))


def test_a_name_cannot_leave_the_folder(data_folder: Path) -> None:
    kept_sets.save_set(dataclasses.replace(a_set(), name="../../away"))

    assert [data_folder / "sets" / "away.tiles"] == list(data_folder.rglob("*.tiles"))


def test_a_crash_while_writing_leaves_the_old_set(monkeypatch: pytest.MonkeyPatch, data_folder: Path) -> None:
    kept_sets.save_set(a_set("Mine"))

    def full(*paths: object) -> None:
        raise OSError("no space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="no space"):
        kept_sets.save_set(dataclasses.replace(a_set("Mine"), additions=()))
    monkeypatch.undo()
    monkeypatch.setenv("TILEWITNESS_DATA", str(data_folder))

    assert 4 == len(kept_sets.peek("Mine").examples)
    assert ["Mine.tiles"] == [path.name for path in (data_folder / "sets").iterdir()]


def test_a_damaged_set_is_refused_and_no_other_is_lost(data_folder: Path) -> None:
    kept_sets.save_set(a_set("Good"))
    (data_folder / "sets" / "Bad.tiles").write_bytes(packed(a_set("Bad"))[:-300])

    with pytest.raises(SetError, match='"Bad" is damaged.*Other sets are untouched'):
        kept_sets.load_set("Bad")
    assert ["Bad", "Good"] == kept_sets.names()
    assert 4 == len(kept_sets.load_set("Good").examples)
    kept_sets.delete("Bad")
    assert ["Good"] == kept_sets.names()


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_whatever_befalls_a_file_it_is_opened_whole_or_refused(data: st.DataObject) -> None:
    whole = packed(a_set("Mine"))
    at = data.draw(st.integers(0, len(whole) - 1))
    damaged = bytearray(whole)
    if data.draw(st.booleans()):
        damaged[at] ^= data.draw(st.integers(1, 255))
    else:
        del damaged[at:]
    try:
        assert a_set("Mine").counts == unpacked(bytes(damaged), "mine.tiles").counts
    except SetError as error:
        assert "mine.tiles" in str(error)


@pytest.mark.parametrize(
    "content",
    ["[]", "{}", "3", '{"version": 1, "name": "x", "reader": "", "additions": [{"source": "gift", "examples": []}]}',
     '{"version": 1, "name": "x", "reader": "", "additions": [{"source": "layout", "examples": ["1 bam"]}]}'],
)  # fmt: skip
def test_another_programs_archive_is_refused(content: str) -> None:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        archive.writestr("set.json", content)

    with pytest.raises(SetError, match="no set of Tilewitness"):
        unpacked(buffer.getvalue(), "x.tiles")


def test_a_file_of_a_later_version_says_so() -> None:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        archive.writestr("set.json", '{"version": 2}')

    with pytest.raises(SetError, match="another version"):
        unpacked(buffer.getvalue(), "x.tiles")


def test_an_archive_that_unpacks_to_too_much_is_not_opened() -> None:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("set.json", b" " * (65 * 2**20))

    with pytest.raises(SetError, match="far larger"):
        unpacked(buffer.getvalue(), "x.tiles")
