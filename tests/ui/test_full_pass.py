"""Once through the whole demo card on the page for practice: every hand built, a mistake planted in every fifth.

Once with typed tiles, and once with a photo of each rack, rendered by the same code that makes the sample photos and
read by both networks. The sets photographed are ones whose artwork the reader knows well: this is about practising, not
about reading. A tile that is misread all the same is named by the learner, as the page asks.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import cycle
from pathlib import Path
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from tilewitness.engine.card import Card, load_card
from tilewitness.engine.describe import Description
from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.hands import Hand
from tilewitness.engine.rack import JOKER, Rack
from tilewitness.training.samples import rack_photo
from tilewitness.ui import practice_labels as said
from tilewitness.ui import practising
from tilewitness.ui.card_words import described
from tilewitness.ui.notebook import Notebook
from tilewitness.ui.sight import with_face

from .test_practise_page import SAMPLES, build, opened, press

Part = Callable[[AppTest, str], dict[str, Any]]
Faces = tuple[Face, ...]
SETS = (216, 220, 248)
LONG = 1000
EVERY = 5


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path))


@dataclass(frozen=True, slots=True)
class Spoiled:
    """A rack with a mistake planted in it, and what has to be said of it."""

    faces: Faces
    told: tuple[str, ...]


def example(one: Description) -> Faces:
    """A rack that is the hand: its example, with jokers where it needs them."""
    faces = [group.face for group in one.example for _ in group.slots]
    over = {face: faces.count(face) - face.copies for face in set(faces) if faces.count(face) > face.copies}
    for face, number in over.items():
        sizes = [group.size for group in one.example if group.face == face]
        start = next(at for at in range(len(faces)) if faces[at : at + max(sizes)] == [face] * max(sizes))
        faces[start : start + number] = [JOKER] * number
    return tuple(faces)


def stranger_to(faces: Faces) -> Face:
    """A tile that nothing on the rack resembles."""
    return next(face for face in FACES if face not in faces and face != JOKER)


def last_wrong(faces: Faces) -> Spoiled:
    stranger = stranger_to(faces)
    return Spoiled((*faces[:-1], stranger), ("Place 14: ", stranger.name, faces[-1].name))


def middle_wrong(faces: Faces) -> Spoiled:
    stranger = stranger_to(faces)
    return Spoiled((*faces[:6], stranger, *faces[7:]), ("Place 7: ", stranger.name, faces[6].name))


def one_missing(faces: Faces) -> Spoiled:
    told = "six must lie between, and here five lie.", "Missing: ", faces[-1].name
    return Spoiled(faces[:-1], told)


def one_too_many(faces: Faces) -> Spoiled:
    stranger = stranger_to(faces)
    told = "six must lie between, and here seven lie.", "Place 15: ", stranger.name, "Take it away."
    return Spoiled((*faces, stranger), told)


def joker_at_the_start(faces: Faces) -> Spoiled:
    """A joker in a pair or among singles is a mistake; where the hand begins otherwise, so is a stranger."""
    if faces[0] == JOKER or faces.count(faces[0]) > 2:
        return middle_wrong(faces)
    return Spoiled((JOKER, *faces[1:]), ("Place 1: ", "joker", faces[0].name))


MISTAKES = (last_wrong, joker_at_the_start, one_missing, middle_wrong, one_too_many)


def pass_through(card: Card, app: AppTest, part: Part, lay: Callable[[AppTest, Faces], None]) -> None:
    """Build whatever hand the page names until all were built, as `lay` builds one and has it checked."""
    wanted = {one.hand: example(one) for one in described(card) if one.forms}
    mistakes = cycle(MISTAKES)
    for turn in range(len(wanted)):
        hand = named(part(app, "task")["title"], list(wanted))
        if turn % EVERY == 0:
            spoiled = next(mistakes)(wanted[hand])
            lay(app, spoiled.faces)
            answer = part(app, "answer")
            lead = " ".join(answer["lead"])
            assert answer["title"].startswith(f"Not yet {hand.name}")
            assert [] == [told for told in spoiled.told if told not in lead], (hand.name, lead)
            press(app, said.AGAIN)
        lay(app, wanted[hand])
        assert (f"Right: {hand.name}", "yes") == (part(app, "answer")["title"], part(app, "answer")["tone"])
        if turn < len(wanted) - 1:
            press(app, said.NEXT)

    done = practising.covered(card, "me", Notebook())
    planted = -(-len(wanted) // EVERY)
    assert (len(wanted), len(wanted)) == (done.built, len(done.hands))
    assert any(f": {len(wanted)} of {len(wanted)} hands built." in text.value for text in app.markdown)
    counted = [attempt for attempt in Notebook().attempts() if not attempt.unsure]
    assert (planted, len(wanted) + planted) == (sum(not one.right for one in counted), len(counted))


def named(title: str, hands: Sequence[Hand]) -> Hand:
    """The hand that the page asks for."""
    return next(hand for hand in hands if title.startswith(f"Build {hand.name},"))


@pytest.fixture(scope="module")
def demo() -> Card:
    return load_card(str(SAMPLES / "card.toml"))


def test_every_hand_of_the_card_is_built_with_typed_tiles_and_every_mistake_found(demo: Card, part: Part) -> None:
    pass_through(demo, opened(), part, lambda app, faces: build(app, str(Rack(faces))))


def test_every_hand_of_the_card_is_built_and_photographed_and_every_mistake_found(demo: Card, part: Part) -> None:
    """What the page calls unsure is looked at: the tiles are compared with what was laid, and then confirmed."""
    sets = cycle(SETS)

    def shown(app: AppTest) -> list[str]:
        return [tile["name"] for row in part(app, "tiles")["rows"] for tile in row["tiles"]]

    def photograph(app: AppTest, faces: Faces) -> None:
        app.file_uploader[0].set_value(("rack.jpg", rack_photo(faces, next(sets), long=LONG), "image/jpeg")).run()
        for at, (face, name) in enumerate(zip(faces, shown(app), strict=True)):
            if face.name != name:  # without a browser: what a click on the tile and on its name comes to
                history = app.session_state["practise sights"]
                app.session_state["practise sights"] = [*history, with_face(history[-1], at, face)]
                app.run()
        assert [face.name for face in faces] == shown(app)
        press(app, said.CHECK)
        if part(app, "answer")["tone"] == "look":
            press(app, said.CONFIRM)

    app = opened()
    app.radio(key="practise how").set_value(said.PHOTO).run()
    pass_through(demo, app, part, photograph)
