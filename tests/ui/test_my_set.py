"""The page My set, and the chosen set where photos are read. Finding tiles is replaced; learning and keeping are real."""

from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from streamlit.testing.v1 import AppTest

from tilewitness.engine.faces import Face
from tilewitness.ui import choices, kept_sets, labels, lessons, set_words
from tilewitness.ui.choices import Choices
from tilewitness.ui.set_files import packed
from tilewitness.ui.sight import see, with_added_tile, with_face
from tilewitness.vision.lesson import Layout, Lesson, Place, layout
from tilewitness.vision.photo import PhotoError
from tilewitness.vision.reading import Advice, Reading, Trouble
from tilewitness.vision.sets import SetError, TileSet

from .test_app import ONE_OFF, PHOTO, MakeReading, Part, upload


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path))
    return tmp_path


@pytest.fixture
def show(monkeypatch: pytest.MonkeyPatch) -> Callable[[Reading], list[str]]:
    """Let every photo be read as this; returns the names of the sets it was read with."""

    def shows(result: Reading) -> list[str]:
        read_with: list[str] = []

        def read_photo(source: object, *, tile_set: TileSet | None = None) -> Reading:
            read_with.append(tile_set.name if tile_set else "")
            return result

        monkeypatch.setattr("tilewitness.ui.sight.read_photo", read_photo)
        return read_with

    return shows


def picture(number: int) -> bytes:
    """The file of a tile that looks like no other."""
    pixels: NDArray[np.uint8] = np.full((144, 108, 3), 230, np.uint8)
    cv2.putText(pixels, str(number), (20, 90), cv2.FONT_HERSHEY_SIMPLEX, 2, (40, 40, 160), 5)
    return cv2.imencode(".jpg", pixels)[1].tobytes()


def lesson_of(
    rows: Layout, *, looks: dict[int, str] | None = None, unseen: tuple[int, ...] = (), faded: tuple[int, ...] = (),
    pale: tuple[int, ...] = ()
) -> Lesson:  # fmt: skip
    """A lesson in which all is as laid out, but for what some look like and some that are not seen, or only faintly."""
    faces = [(r, p, face) for r, row in enumerate(rows) for p, face in enumerate(row)]
    places = []
    for number, (row, place, face) in enumerate(faces):
        seen = Face.named((looks or {}).get(number, face.name))
        known = () if number in unseen else ((seen, 0.99), (Face.named("soap"), 0.001))
        shown = b"" if number in unseen else picture(number)
        places.append(Place(row, place, face, known, shown, faded=number in faded, pale=number in pale))
    return Lesson(tuple(places))


@pytest.fixture
def study(monkeypatch: pytest.MonkeyPatch) -> Callable[..., None]:
    """Let photos of a layout show this."""

    def studies(**differing: Any) -> None:
        def study(sources: object, rows: Layout) -> Lesson:
            return lesson_of(rows, **differing)

        monkeypatch.setattr("tilewitness.ui.lessons.study", study)

    return studies


def opened(page: str = "sets") -> AppTest:
    app = AppTest.from_file(str(resources.files("tilewitness.ui") / "app.py"), default_timeout=60).run()
    app.switch_page(f"screens/{page}.py").run()
    assert not app.exception
    return app


def with_photo(app: AppTest) -> AppTest:
    app.file_uploader[0].set_value([("layout.png", PHOTO, "image/png")])
    app.run()
    assert not app.exception
    return app


def press(app: AppTest, label: str) -> AppTest:
    (button,) = [one for one in app.button if one.label == label]
    button.click().run()
    assert not app.exception
    return app


def keep(name: str) -> TileSet:
    """A set with one picture, kept."""
    tile_set = lesson_of(layout(), unseen=tuple(range(1, 43))).learn(TileSet(name))
    kept_sets.save_set(tile_set)
    return tile_set


def test_the_page_says_which_tiles_to_lay_out_in_which_rows(part: Part) -> None:
    app = opened()
    answer = part(app, "answer")

    assert set_words.layout_lines(layout()) == answer["details"]
    assert set(set_words.layout_lines(layout())) <= set(answer["speech"]["full"])
    (frames,) = [html.proto.body for html in app.get("html") if "tw-layout" in html.proto.body]
    assert 43 == frames.count("tw-blank") - frames.split("</style>")[0].count("tw-blank")


def test_a_worn_tile_is_named_and_another_photo_asked_for(study: Any, part: Part) -> None:
    study(faded=(8,))
    app = with_photo(opened())
    answer = part(app, "answer")
    tile = part(app, "tiles")["rows"][0]["tiles"][8]

    assert "Another photo is needed for one tile" == answer["title"]
    assert "Row 1 place 9, 9 bam, hardly shows any print, so it is not learnt." in answer["details"]
    assert set_words.AGAIN in answer["details"]
    assert ("no print", "unsure") == (tile["remark"], tile["state"])


def test_tiles_with_faint_print_are_learnt_and_another_photo_asked_for(study: Any, part: Part) -> None:
    study(pale=(8, 9))
    answer = part(with_photo(opened()), "answer")

    assert "Another photo is needed for two tiles" == answer["title"]
    assert "Row 2 place 1, 1 crak, shows its print only faintly." in answer["details"]


def test_a_photo_in_which_all_print_is_faint_is_told_in_one_sentence(study: Any, part: Part) -> None:
    study(pale=tuple(range(43)))
    answer = part(with_photo(opened()), "answer")

    assert ["43 tiles show their print only faintly. Turn on a light, or use other tiles."] == [
        line for line in answer["details"] if "faintly" in line
    ]


def test_every_place_of_the_layout_can_be_corrected(study: Any, part: Part) -> None:
    study(looks={2: "4 bam", 3: "3 bam"}, unseen=(8,))
    app = with_photo(opened())
    first = part(app, "tiles")["rows"][0]["tiles"]

    assert [9, 9, 9, 7, 9] == [len(row["tiles"]) for row in part(app, "tiles")["rows"]]
    assert ["which?", "which?"] == [tile["remark"] for tile in first[2:4]]
    assert "not seen" == first[8]["remark"]
    assert "Row 1 place 3 should be a 3 bam, and looks like a 4 bam. What is it?" == first[2]["question"]
    assert ["3 bam", "4 bam"] == [face["name"] for face in first[2]["likely"]][:2]


def test_two_tiles_that_changed_places_are_named(study: Any, part: Part) -> None:
    study(looks={2: "4 bam", 3: "3 bam"})
    answer = part(with_photo(opened()), "answer")

    assert "Look at two tiles" == answer["title"]
    assert any("these two seem to have changed places" in line for line in answer["details"])


def test_a_learnt_set_is_kept_used_and_listed(study: Any) -> None:
    study(looks={2: "4 bam"})
    app = press(with_photo(opened()), labels.AS_LAID_OUT)
    app.text_input[0].set_value("Kitchen")
    press(app, labels.KEEP_SET)

    assert ["Kitchen"] == kept_sets.names()
    assert "Kitchen" == choices.load().tile_set
    assert 36 == len(kept_sets.peek("Kitchen").counts)
    assert [set_words.learnt(kept_sets.peek("Kitchen"))] == [one.value for one in app.success]
    assert set_words.set_line(kept_sets.peek("Kitchen")) in [one.label for one in app.expander]


def test_a_file_that_is_no_photo_of_a_layout_gets_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    def open_photo(source: object) -> None:
        raise PhotoError("the photo: the file is empty. Copy or take the photo again.")

    monkeypatch.setattr("tilewitness.ui.lessons.open_photo", open_photo)
    app = with_photo(opened())

    assert ["layout.png: the file is empty. Copy or take the photo again."] == [one.value for one in app.error]


def test_a_set_is_renamed_and_still_used() -> None:
    keep("Mine")
    choices.save(Choices(tile_set="Mine"))
    app = opened()
    app.text_input(key="sets name Mine").set_value("Ours").run()
    press(app, labels.RENAME)

    assert ["Ours"] == kept_sets.names()
    assert "Ours" == choices.load().tile_set


def test_a_set_is_deleted_only_after_asking_back() -> None:
    keep("Mine")
    app = press(opened(), labels.DELETE)
    before = kept_sets.names()
    press(app, labels.DELETE_YES)

    assert ["Mine"] == before
    assert [] == kept_sets.names()
    assert [set_words.deleted("Mine")] == [one.value for one in app.success]


def test_a_damaged_set_is_told_and_can_be_deleted(data_folder: Path) -> None:
    keep("Mine")
    (data_folder / "sets" / "Mine.tiles").write_bytes(b"nonsense")
    app = opened()
    told = [one.value for one in app.error]
    press(press(app, labels.DELETE), labels.DELETE_YES)

    assert ["damaged" in one for one in told] == [True]
    assert [] == kept_sets.names()


@pytest.mark.parametrize("whole", [True, False])
def test_a_set_saved_to_a_file_comes_back_and_a_damaged_file_gets_a_sentence(whole: bool) -> None:
    data = packed(keep("Mine"))
    kept_sets.delete("Mine")
    app = opened()
    app.file_uploader[-1].set_value(("mine.tiles", data if whole else data[:200], "application/octet-stream"))
    app.run()

    assert not app.exception
    assert (["Mine"] if whole else []) == kept_sets.names()
    assert [] == [one.value for one in app.error] if whole else "mine.tiles is damaged" in app.error[0].value


def test_photos_are_read_with_the_chosen_set_and_again_when_another_is_chosen(show: Any, make_reading: MakeReading) -> None:
    keep("Mine")
    choices.save(Choices(tile_set="Mine"))
    read_with = show(make_reading(ONE_OFF, sure=True, advice=(Advice(Trouble.OTHER_SET),)))
    app = upload(opened("rack"))
    said = [one.value for one in app.markdown]
    app.selectbox(key="rack set").select_index(0).run()

    assert ["Mine", ""] == read_with
    assert "" == choices.load().tile_set
    assert any("unlike the set you chose" in line for line in said)


def test_a_chosen_set_that_is_gone_or_damaged_costs_a_sentence_at_most(
    show: Any, make_reading: MakeReading, data_folder: Path
) -> None:
    keep("Mine")
    choices.save(Choices(tile_set="Gone"))
    read_with = show(make_reading(ONE_OFF, sure=True))
    upload(opened("rack"))
    choices.save(Choices(tile_set="Mine"))
    (data_folder / "sets" / "Mine.tiles").write_bytes(b"nonsense")
    app = upload(opened("rack"))

    assert [""] == read_with
    assert labels.OTHER_SET_HELP in app.error[0].value


def corrected(app: AppTest) -> AppTest:
    """The same page after its first tile was named by a person."""
    history = app.session_state["rack sights"]
    history.append(with_face(history[-1], 0, Face.named("north")))
    return app.run()


def test_a_corrected_tile_is_taught_to_the_set_and_taken_back(show: Any, make_reading: MakeReading) -> None:
    before = keep("Mine")
    choices.save(Choices(tile_set="Mine"))
    show(make_reading(ONE_OFF, sure=True))
    app = corrected(upload(opened("rack")))
    press(app, set_words.teaching("Mine", [Face.named("north")]))
    taught = kept_sets.peek("Mine")
    told = [one.value for one in app.info]
    offered = [one.label for one in app.button]
    press(app, labels.TAKE_BACK)

    assert before.counts[Face.named("north")] + 1 == taught.counts[Face.named("north")]
    assert [set_words.corrected(taught, Face.named("north"))] == told
    assert set_words.teaching("Mine", [Face.named("north")]) not in offered
    assert before.counts == kept_sets.peek("Mine").counts


def test_no_set_is_offered_a_correction_when_none_is_chosen(show: Any, make_reading: MakeReading) -> None:
    show(make_reading(ONE_OFF, sure=True))
    app = corrected(upload(opened("rack")))

    assert [] == [one.label for one in app.button if one.label.startswith("Teach")]


def test_a_tile_added_by_hand_shows_nothing_to_learn(show: Any, make_reading: MakeReading) -> None:
    show(make_reading(ONE_OFF, sure=True))
    sight = with_added_tile(with_face(see("rack.png", PHOTO), 3, Face.named("north")), Face.named("south"), row=0)

    assert [3] == lessons.can_teach(sight)


def test_a_set_without_a_name_is_not_kept(study: Any) -> None:
    study()
    app = with_photo(opened())
    app.text_input[0].set_value("?!")
    press(app, labels.KEEP_SET)

    assert [] == kept_sets.names()
    with pytest.raises(SetError) as wrong:
        kept_sets.plain("?!")
    assert [str(wrong.value)] == [one.value for one in app.error]
