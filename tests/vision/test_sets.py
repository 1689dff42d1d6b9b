from typing import Any

import cv2
import numpy as np
import pytest

from tilewitness.engine.faces import FACES, Face
from tilewitness.models import ReaderNet
from tilewitness.vision.blend import at_first_sight, is_another_set, likeness, named_with, with_set
from tilewitness.vision.learning import PICTURE_SIZE, contrasts, pictures_of, seen_by, with_examples
from tilewitness.vision.photo import open_photo
from tilewitness.vision.prints import Prints
from tilewitness.vision.reader import Answers
from tilewitness.vision.sets import Addition, Example, SetError, Source, TileSet, looks_of

BAM, CRAK = Face.named("1 bam"), Face.named("1 crak")


def unit(*axes: int) -> Any:
    """Embeddings along one axis each."""
    return np.eye(128, dtype=np.float32)[list(axes)]


def example(face: Face, *axes: int) -> Example:
    return Example(face, b"", unit(*axes).astype(np.float16).tobytes(), known=0.99)


def answers(embedding: Any, *likeliest: Face, confidence: float = 0.6) -> Answers:
    probabilities = np.full((len(embedding), 37), (1 - confidence) / 36, np.float32)
    probabilities[np.arange(len(likeliest)), [face.index for face in likeliest]] = confidence
    return Answers(probabilities, np.zeros(len(embedding), np.float32), embedding)


MINE = TileSet("Mine", (Addition(Source.LAYOUT, (example(BAM, 0, 0, 1, 1), example(CRAK, 2, 2, 3, 3))),))


class ColourReader:
    """Embeds a face by its mean colour, and counts what it is shown."""

    def __init__(self) -> None:
        self.shown = 0

    def run(self, names: Any, feed: Any) -> list[Any]:
        faces = feed["faces"]
        self.shown += len(faces)
        embedding = np.zeros((len(faces), 128), np.float32)
        embedding[:, :3] = faces.mean((1, 2)) / 255
        embedding /= np.linalg.norm(embedding, axis=1, keepdims=True)
        return [np.full((len(faces), 37), 1 / 37, np.float32), np.zeros(len(faces), np.float32), embedding]


def photo_in(*colours: tuple[int, int, int]) -> Any:
    """A photo of plain tiles side by side, and their quads."""
    image = np.full((200, 120 * len(colours), 3), 128, np.uint8)
    for place, colour in enumerate(colours):
        image[:, 120 * place : 120 * place + 120] = colour
    box = np.array([(30, 40), (90, 40), (90, 120), (30, 120)], np.float32)
    return open_photo(image), np.stack([box + (120 * place, 0) for place in range(len(colours))]).astype(np.float32)


def test_looks_come_with_the_faces_they_are_of() -> None:
    looks, labels = looks_of(MINE)

    np.testing.assert_allclose(unit(0, 0, 1, 1, 2, 2, 3, 3), looks)
    assert [BAM.index] * 4 + [CRAK.index] * 4 == labels.tolist()


def test_an_empty_set_has_no_looks() -> None:
    assert (0, 128) == looks_of(TileSet("Mine"))[0].shape


def test_a_tile_like_the_sets_own_picture_takes_its_name() -> None:
    read = at_first_sight(answers(unit(1), CRAK), MINE)

    assert BAM.index == read.probabilities[0].argmax()
    assert 1 == pytest.approx(read.probabilities.sum())


def test_a_tile_unlike_every_picture_of_the_set_keeps_the_name_general_knowledge_gives() -> None:
    read = at_first_sight(answers(unit(9), FACES[20]), MINE)

    assert 20 == read.probabilities[0].argmax()


def test_likeness_is_the_cosine_to_the_nearest_look() -> None:
    between = (unit(0) + unit(2)) / np.sqrt(2)
    like = likeness(answers(between), MINE)[0]

    assert [0.707, 0.707, -1] == pytest.approx([like[BAM.index], like[CRAK.index], like[5]], abs=1e-3)


def alike(*cosines: float) -> Answers:
    """Tiles that are each so much like one picture of the set, and unlike the others."""
    like = np.array(cosines, np.float32).reshape(-1, 1)
    return answers(like * unit(0) + np.sqrt(1 - like**2) * unit(9))


FACE = np.zeros((96, 72, 3), np.uint8)
READER = ReaderNet(ColourReader())  # type: ignore[arg-type]  # as much of a session as is used


@pytest.fixture
def compared(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many tiles were compared in print each time; 1 crak is always likest, by 0.5."""
    shown: list[int] = []

    def compare(faces: Any, tile_set: TileSet, net: ReaderNet, likely: Any = None) -> Prints:
        shown.append(len(faces))
        found = Prints.none(len(faces))
        found.likeness[:, CRAK.index] = 0.5
        return found

    monkeypatch.setattr("tilewitness.vision.blend.compare", compare)
    return shown


def another(*cosines: float) -> bool:
    return is_another_set(alike(*cosines), np.stack([FACE] * len(cosines)) if cosines else FACE[None][:0], MINE, READER)


def test_tiles_mostly_unlike_the_sets_pictures_belong_to_another_set(compared: list[int]) -> None:
    assert another(0.3, 0.4, 0.3, 0.9, 0.2)
    assert [5] == compared


def test_tiles_like_the_sets_pictures_are_its_own_without_comparing_in_print(compared: list[int]) -> None:
    assert not another(0.97, 0.98, 0.97, 0.4, 0.97)
    assert [] == compared


def test_few_tiles_do_not_tell_one_set_from_another(compared: list[int]) -> None:
    assert not another(0.1, 0.1, 0.1, 0.1)
    assert not another()


def test_pictures_are_compared_in_print_only_where_the_first_sight_is_not_clear(compared: list[int]) -> None:
    between = (unit(0) + unit(2)) / np.sqrt(2)
    seen = answers(np.concatenate([unit(1), between, unit(1)]))
    read = with_set(seen, np.stack([FACE] * 3), MINE, READER)

    assert [1] == compared
    assert [BAM.index, CRAK.index, BAM.index] == read.probabilities.argmax(1).tolist()


def test_tiles_of_another_set_are_read_by_general_knowledge(compared: list[int]) -> None:
    mine = seen_by(TileSet("Mine", (Addition(Source.LAYOUT, (red_example(),)),)), READER)
    faces = np.stack([FACE + np.uint8([200, 0, 0])] * 5)
    named = named_with(lambda which, margin: faces[which], faces, mine, READER)

    assert (True, [False] * 5) == (named.strange, named.own.tolist())
    np.testing.assert_allclose(1 / 37, named.answers.probabilities, rtol=1e-5)


def test_a_set_that_settles_every_name_spares_the_network_further_looks() -> None:
    mine = seen_by(TileSet("Mine", (Addition(Source.LAYOUT, (red_example(),)),)), READER)
    faces = np.stack([FACE + np.uint8([0, 0, 200])] * 5)
    reader = ReaderNet(ColourReader())  # type: ignore[arg-type]  # as much of a session as is used
    named = named_with(lambda which, margin: faces[which], faces, mine, reader)

    assert (False, [True] * 5) == (named.strange, named.own.tolist())
    assert {BAM.index} == set(named.answers.probabilities.argmax(1).tolist())
    assert len(faces) == reader.session.shown


def red_example() -> Example:
    photo, quads = photo_in((0, 0, 200))
    return Example(BAM, pictures_of(photo, quads)[0])


def test_contrast_tells_print_from_its_trace_however_small_in_any_light() -> None:
    def picture(mark: float, light: float) -> bytes:
        face = np.full((*PICTURE_SIZE, 3), 230.0)
        face[60:90, 45:65] *= mark
        return bytes(cv2.imencode(".jpg", face * light)[1].tobytes())

    bold, dark, trace, bare = contrasts([picture(0.2, 1), picture(0.2, 0.4), picture(0.95, 1), picture(1, 1)])

    assert [0.8, 0.8, 0.05, 0] == pytest.approx([bold, dark, trace, bare], abs=0.06)


def test_undo_takes_back_the_last_addition() -> None:
    more = MINE.with_addition(Addition(Source.CORRECTION, (example(CRAK, 5),)))

    assert MINE == more.without_last()
    assert {BAM: 1, CRAK: 2} == more.counts


def test_what_a_set_was_first_learnt_from_cannot_be_undone() -> None:
    with pytest.raises(SetError, match="delete it"):
        MINE.without_last()


def test_examples_are_upright_pictures_seen_several_times_each_way_up() -> None:
    reader = ColourReader()
    photo, quads = photo_in((0, 0, 200), (200, 0, 0))
    pictures = pictures_of(photo, quads)
    mine = with_examples(TileSet("Mine"), Source.LAYOUT, pictures, [BAM, CRAK], ReaderNet(reader, fingerprint="new"))
    looks, labels = looks_of(mine)

    assert PICTURE_SIZE == (144, 108)
    assert [20, 20] == [int((labels == face.index).sum()) for face in (BAM, CRAK)]
    assert 40 == reader.shown
    assert "new" == mine.reader
    assert (looks[labels == BAM.index, 2] > 0.9).all()
    assert (looks[labels == CRAK.index, 0] > 0.9).all()


def test_examples_are_looked_at_once_by_each_network() -> None:
    first, second = (ReaderNet(ColourReader(), fingerprint=name) for name in ("first", "second"))
    photo, quads = photo_in((0, 0, 200))
    mine = with_examples(TileSet("Mine"), Source.LAYOUT, pictures_of(photo, quads), [BAM], first)

    assert mine == seen_by(mine, first)
    assert "second" == seen_by(mine, second).reader
    assert mine.examples[0].picture == seen_by(mine, second).examples[0].picture


def test_a_damaged_picture_is_named() -> None:
    broken = TileSet("Mine", (Addition(Source.LAYOUT, (Example(BAM, b"no picture"),)),))

    with pytest.raises(SetError, match="1 bam"):
        seen_by(broken, ReaderNet(ColourReader(), fingerprint="any"))
