"""The commands on the photos that ship with the program, with the shipped networks."""

import json
from pathlib import Path

import pytest

from tilewitness.ui import cli

SAMPLES = Path(__file__).parents[2] / "samples"
CARD = str(SAMPLES / "card.toml")


def test_a_photo_is_read_judged_and_marked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    marked = tmp_path / "marked.png"
    status = cli.main(["judge", str(SAMPLES / "win.jpg"), "--card", CARD, "--json", "--mark", str(marked)])
    record = json.loads(capsys.readouterr().out)

    assert 0 == status
    assert 14 == len(record["tiles"]) == len(record["rack"]) == len(record["tiles_of_photo"])
    assert record["certainty"] in ("sure yes", "sure no", "look")
    assert {"name", "section", "worth", "concealed", "wording", "note"} == set(record["hand"])
    assert 1 == len(record["racks"])
    assert marked.read_bytes().startswith(b"\x89PNG")


def test_a_photo_of_several_racks_tells_each(capsys: pytest.CaptureFixture[str]) -> None:
    cli.main(["judge", str(SAMPLES / "table.jpg"), "--card", CARD, "--json"])
    record = json.loads(capsys.readouterr().out)

    assert "several racks" == record["verdict"]
    assert [[0], [1], [2], [3], [4]] == [rack["rows"] for rack in record["racks"]]


def test_a_mark_that_is_no_png_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status = cli.main(["read", str(SAMPLES / "win.jpg"), "--mark", str(tmp_path / "marked.gif")])

    assert 2 == status
    assert "ends in .png" in capsys.readouterr().err
