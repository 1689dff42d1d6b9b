from pathlib import Path

import numpy as np
import pytest

from tilewitness.engine import cache
from tilewitness.engine.cache import cached_forms
from tilewitness.engine.card import Card
from tilewitness.engine.forms import Forms, compile_forms


def same(one: Forms, other: Forms) -> bool:
    names = ("total", "bare", "slots", "sizes", "plan", "hand")
    return one.plans == other.plans and all(np.array_equal(getattr(one, n), getattr(other, n)) for n in names)


def test_forms_come_back_from_the_cache_as_they_were(demo: Card, handbook: Card, tmp_path: Path) -> None:
    for card in (demo, handbook):
        fresh = cached_forms(card.hands, folder=tmp_path)

        assert same(fresh, cached_forms(card.hands, folder=tmp_path))
        assert same(fresh, compile_forms(card.hands))
    assert 2 == len(list(tmp_path.iterdir()))


@pytest.mark.parametrize("damage", [b"", b"not an archive", b"PK\x03\x04 cut short"])
def test_a_damaged_cache_is_compiled_anew(demo: Card, tmp_path: Path, damage: bytes) -> None:
    cached_forms(demo.hands, folder=tmp_path)
    (path,) = tmp_path.iterdir()
    whole = path.read_bytes()
    for broken in (damage, whole[: len(whole) // 2], whole[:2000] + b"\0" * 50 + whole[2050:]):
        path.write_bytes(broken)

        assert same(compile_forms(demo.hands), cached_forms(demo.hands, folder=tmp_path))
        assert whole[:4] == path.read_bytes()[:4]


def test_another_cards_forms_are_not_taken(demo: Card, handbook: Card, tmp_path: Path) -> None:
    cached_forms(handbook.hands, folder=tmp_path)
    (other,) = tmp_path.iterdir()
    cached_forms(demo.hands, folder=tmp_path)
    (own,) = set(tmp_path.iterdir()) - {other}
    own.write_bytes(other.read_bytes())

    assert len(compile_forms(demo.hands)) >= len(cached_forms(demo.hands, folder=tmp_path))


def test_a_folder_that_cannot_be_written_does_no_harm(demo: Card, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")

    assert same(compile_forms(demo.hands), cached_forms(demo.hands, folder=tmp_path / "file"))


def test_only_the_latest_cards_are_kept(
    demo: Card, handbook: Card, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cache, "MOST_FILES", 1)
    (tmp_path / "of an older version.npz").write_bytes(b"forms")
    cached_forms(demo.hands, folder=tmp_path)
    cached_forms(handbook.hands, folder=tmp_path)

    assert 1 == len(list(tmp_path.iterdir()))
