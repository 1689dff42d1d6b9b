"""What is said of two cards compared."""

from pathlib import Path

import pytest

from tilewitness.engine.card import parse_card
from tilewitness.engine.compare import compare_cards
from tilewitness.ui import cli
from tilewitness.ui.compare_words import comparison_lines

OLD = """name = "Last year"
["One"]
"Steps" = "pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25"
"Quiet" = "pairs of any number to 6 above in one suit; worth 50"
["Two"]
"Winds" = "kongs of east, south and west, pair of north; worth 25; note hold on"
"Twins" = "kong of any number in one suit, kong of the same number in a second suit, sextet of flowers; worth 30"
"""
NEW = """name = "This year"
["One"]
"Steps" = "kong of 6, kong of 4, kong of 2 in one suit, pair of flowers; worth 30; no jokers"
"Quiet" = "pairs of any number to 6 above in bam; worth 50; concealed"
"Winds" = "kongs of east, south and west, pair of north; worth 25; note hold on"
["Two"]
"Dragons" = "kongs of all dragons, pair of flowers; worth 25"
"""


def test_every_kind_of_change_gets_its_sentence() -> None:
    lines = comparison_lines(compare_cards(parse_card(OLD), parse_card(NEW)))
    expected = [
        ("This year against Last year: one hand new, two hands changed, one hand moved to another section, one hand gone, "
        "no hands the same."),
        "",
        "New",
        "  Dragons, in Two: kongs of all dragons, pair of flowers; exposed; worth 25.",
        "",
        "Changed",
        "  Steps, in One:",
        "    It is now worth 30; it was worth 25.",
        "    It is now without jokers; it was open to jokers.",
        ("    The same tiles in other words. They were: pair of flowers, kongs of 2, 4 and 6 in one suit; exposed; worth 25. "
        "They are now: kong of 6, kong of 4, kong of 2 in one suit, pair of flowers; no jokers; exposed; worth 30."),
        "  Quiet, in One:",
        ("    Other tiles complete it: six forms gone. It was: pairs of any number to 6 above in one suit; exposed; worth 50. "
        "It is now: pairs of any number to 6 above in bam; concealed; worth 50."),
        "    It is now concealed; it was exposed.",
        "",
        "Moved to another section",
        "  Winds, in One:",
        "    It stood in Two.",
        "",
        "Gone",
        ("  Twins, in Two: kong of any number in the first suit, kong of the same number in the second suit, "
        "sextet of flowers; exposed; worth 30."),
    ]

    assert expected == lines


def test_the_command_compares_two_files(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name, text in (("old", OLD), ("new", NEW)):
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")

    assert 0 == cli.main(["card", str(tmp_path / "new.toml"), "--against", str(tmp_path / "old.toml")])
    assert "one hand gone" in capsys.readouterr().out
    assert 0 == cli.main(["card", str(tmp_path / "new.toml"), "--against", str(tmp_path / "new.toml")])
    assert "This year against This year: all four hands are the same.\n" == capsys.readouterr().out


def test_the_command_says_everything_that_is_wrong_with_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(NEW.replace("kong of 6", "kogn of 6").replace("all dragons", "all drgons"), encoding="utf-8")

    assert 2 == cli.main(["card", str(path)])
    errors = capsys.readouterr().err.splitlines()
    assert [f'tilewitness: {path}, line 3, hand "Steps"', f'tilewitness: {path}, line 7, hand "Dragons"'] == [
        line.split(": expected")[0] for line in errors
    ]
