import dataclasses
from pathlib import Path

import pytest

from tilewitness.ui import choices
from tilewitness.ui.choices import DEMO_CARD, Choices


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TILEWITNESS_DATA", str(tmp_path))
    return tmp_path


def test_choices_last_until_the_next_visit() -> None:
    chosen = Choices(card="spring", rate=1.25, speaks=False)
    choices.save(chosen)

    assert chosen == choices.load()


@pytest.mark.parametrize("damage", ["", "nonsense", "[1]", '{"rate": "fast", "colour": 3}', "\x00"])
def test_damaged_choices_fall_back_to_the_defaults(damage: str, data_folder: Path) -> None:
    (data_folder / "choices.json").write_text(damage, encoding="utf-8")

    assert Choices() == choices.load()


def test_a_kept_card_is_found_again_and_can_be_forgotten() -> None:
    name = choices.keep_card("../Spring 2031!.toml", 'name = "x"')

    assert "Spring 2031" == name
    assert ["Spring 2031"] == choices.kept_cards()
    path = choices.card_path(name)
    assert path and 'name = "x"' == path.read_text(encoding="utf-8")
    choices.forget_card(name)
    assert [] == choices.kept_cards()


def test_a_card_file_replaces_no_other_card_of_its_name() -> None:
    choices.keep_card("mine.toml", 'name = "x"')

    assert "mine" == choices.name_beside("mine.toml", 'name = "x"')
    assert "mine 2" == choices.name_beside("mine.toml", 'name = "y"')
    choices.keep_card("mine 2", 'name = "y"')
    assert "mine 3" == choices.name_beside("mine.toml", 'name = "z"')


def test_the_demo_card_is_never_a_kept_card() -> None:
    assert DEMO_CARD != choices.keep_card("demo.toml", "")
    assert choices.card_path(DEMO_CARD) is None


def test_a_folder_that_cannot_be_written_to_costs_only_the_memory(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    blocked = tmp_path / "a file"
    blocked.write_text("")
    monkeypatch.setenv("TILEWITNESS_DATA", str(blocked / "below"))
    choices.save(dataclasses.replace(Choices(), rate=1.5))

    assert Choices() == choices.load()
