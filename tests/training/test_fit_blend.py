"""The weights of reading with a learnt set are fitted to what the experts say, on a set of two kinds of tiles."""

from typing import Any

import numpy as np
import pytest

pytest.importorskip("scipy", reason="fitting needs SciPy: pip install -e .[train]")

from tilewitness.engine.faces import FACES
from tilewitness.training.fit_blend import Fit, Played
from tilewitness.vision.blend import Weights
from tilewitness.vision.read import Models
from tilewitness.vision.reader import Answers
from tilewitness.vision.sets import Addition, Example, Source, TileSet


def played(wrong: int) -> Played:
    """Forty tiles of two faces, all a little likelier to be the one that the set's pictures say; so many are the other."""
    looks = np.eye(128, dtype=np.float32)[:2]
    examples = [Example(FACES[k], b"", looks[k].astype(np.float16).tobytes(), known=0.02) for k in range(2)]
    said = np.arange(40) % 2
    embedding = 0.9 * looks[said] + 0.85 * looks[1 - said]
    embedding /= np.linalg.norm(embedding, axis=1, keepdims=True)
    answers = Answers(np.full((40, 37), 1 / 37, np.float32), np.zeros(40, np.float32), embedding)
    truth = np.where(np.arange(40) < wrong, 1 - said, said)
    return Played(TileSet("Made up", (Addition(Source.LAYOUT, tuple(examples)),)), answers, np.zeros((40, 96, 72, 3), np.uint8), truth)


@pytest.fixture
def models(monkeypatch: pytest.MonkeyPatch) -> Models:
    """No networks; print tells nothing."""
    from tilewitness.vision.prints import Prints

    monkeypatch.setattr("tilewitness.vision.blend.compare", lambda faces, *_: Prints.none(len(faces)))
    nothing: Any = None
    return Models(nothing, nothing)


def test_an_expert_that_is_right_more_often_weighs_more(models: Models) -> None:
    weights = [Fit([played(wrong)], models).fitted(Weights()) for wrong in (4, 12)]

    assert weights[0].likeness > weights[1].likeness > 0
    assert weights[0].trust == Weights().trust


def test_fitted_weights_lose_less_than_those_before(models: Models) -> None:
    fit = Fit([played(12)], models)

    assert fit.first_sight(fit.fitted(Weights(likeness=60.0))) < fit.first_sight(Weights(likeness=60.0))
