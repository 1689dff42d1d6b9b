"""The commands as a person or a program runs them; reading a photo is replaced, judging is real."""

import errno
import io
import json
import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tilewitness.ui import cli
from tilewitness.vision.jpeg import _without_complaints
from tilewitness.vision.photo import PhotoError
from tilewitness.vision.reading import Advice, Reading, Trouble

WIN = "pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam, joker"
READ_KEYS = ["photo", "size", "tiles", "advice"]
TILE_KEYS = ["face", "confidence", "runner_up", "quad", "row", "place", "upside_down"]

Capture = pytest.CaptureFixture[str]
Show = Callable[[Reading | Exception], None]


@pytest.fixture
def show(monkeypatch: pytest.MonkeyPatch) -> Show:
    """Let every photo be read as this."""

    def shows(result: Reading | Exception) -> None:
        def read_photo(source: object, *, tile_set: object = None) -> Reading:
            if isinstance(result, Exception):
                raise result
            return result

        monkeypatch.setattr("tilewitness.vision.read.read_photo", read_photo)

    return shows


def test_typed_tiles_are_judged(card_file: Path, capsys: Capture) -> None:
    status = cli.main(["judge", "--tiles", WIN, "--card", str(card_file)])
    shown = capsys.readouterr()

    assert 0 == status
    assert shown.out.startswith("Complete: Small steps.\n")
    assert "second opinion" in shown.out
    assert "" == shown.err


def test_a_rack_that_is_no_win_is_an_opinion_too(card_file: Path) -> None:
    assert 0 == cli.main(["judge", "--tiles", "3 bam, joker", "--card", str(card_file)])


def test_judged_json_is_one_line_with_everything(card_file: Path, capsys: Capture) -> None:
    cli.main(["judge", "--tiles", WIN, "--card", str(card_file), "--json"])
    (line,) = capsys.readouterr().out.splitlines()
    record = json.loads(line)

    assert "complete" == record["verdict"]
    assert "Small steps" == record["hand"]["name"]
    assert [{"place": 13, "stands_for": "6 bam"}] == record["jokers"]
    assert [2, 4, 4, 4] == [group["size"] for group in record["layout"]]
    assert 25 == record["worth"]
    assert "second opinion" in record["note"]


def test_what_is_missing_and_claimable_stands_in_json(card_file: Path, capsys: Capture) -> None:
    tiles = "pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam, east"
    cli.main(["judge", "--tiles", tiles, "--card", str(card_file), "--json"])
    record = json.loads(capsys.readouterr().out)

    assert "not complete" == record["verdict"]
    assert ["6 bam"] == [get["face"] for get in record["missing"]]
    assert ["6 bam"] == record["claimable"]
    assert [13] == record["nearest"][0]["let_go"]


def test_read_lists_tiles_in_words(show: Show, make_reading: Callable[..., Reading], capsys: Capture) -> None:
    show(make_reading("flower, flower, 4 bam, 4 bam"))

    assert 0 == cli.main(["read", "rack.jpg"])
    assert "rack.jpg:\nFour tiles: two flowers, two 4 bam.\n" == capsys.readouterr().out


def test_read_json_has_the_published_keys(show: Show, make_reading: Callable[..., Reading], capsys: Capture) -> None:
    show(make_reading("east, 8 bam", unsure={1: "6 bam"}))
    cli.main(["read", "one.jpg", "two.jpg", "--json"])
    records = [json.loads(line) for line in capsys.readouterr().out.splitlines()]

    assert ["one.jpg", "two.jpg"] == [record["photo"] for record in records]
    assert READ_KEYS == list(records[0])
    assert TILE_KEYS == list(records[0]["tiles"][1])
    assert {"face": "6 bam", "confidence": 0.2871} == records[0]["tiles"][1]["runner_up"]
    assert 4 == len(records[0]["tiles"][0]["quad"])


def test_a_photo_without_tiles_exits_1_with_help(
    show: Show, make_reading: Callable[..., Reading], card_file: Path, capsys: Capture
) -> None:
    show(make_reading(advice=(Advice(Trouble.NO_TILES),)))

    assert 1 == cli.main(["judge", "sea.jpg", "--card", str(card_file)])
    assert capsys.readouterr().out.startswith("No tiles found.\nLay the tiles face up")


def test_an_unreadable_photo_exits_2_with_a_sentence(show: Show, card_file: Path, capsys: Capture) -> None:
    show(PhotoError("rack.jpg: the file is empty. Copy or take the photo again."))

    assert 2 == cli.main(["judge", "rack.jpg", "--card", str(card_file)])
    assert ("", "tilewitness: rack.jpg: the file is empty. Copy or take the photo again.\n") == capsys.readouterr()


def test_one_bad_photo_does_not_stop_the_others(
    make_reading: Callable[..., Reading], monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    def read_photo(source: str, *, tile_set: object = None) -> Reading:
        if source == "bad.jpg":
            raise PhotoError("bad.jpg: broken.")
        return make_reading("east")

    monkeypatch.setattr("tilewitness.vision.read.read_photo", read_photo)

    assert 2 == cli.main(["read", "good.jpg", "bad.jpg", "fine.jpg"])
    assert "good.jpg:\nOne tile: east.\nfine.jpg:\nOne tile: east.\n" == capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["jugde", "x"], 'Did you mean "judge"?'),
        (["read", "x.jpg", "--jsn"], 'Did you mean "--json"?'),
        (["app", "--port", "99999"], "1024 to 65535"),
        (["quiz", "--card", "x", "--count", "0"], "ask for one or more"),
        (["judge", "--crad", "x"], "--card"),
        (["judge", "rack.jpg"], "--card"),
        (["read"], "PHOTO"),
    ],
)
def test_wrong_usage_exits_2_and_helps(
    arguments: list[str], says: str, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.setattr("sys.argv", ["tilewitness", *arguments])

    with pytest.raises(SystemExit) as left:
        cli.main(arguments)

    assert 2 == left.value.code
    assert says in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["judge", "--tiles", "3 bma", "--card", "CARD"], 'Did you mean "3 bam"?'),
        (["judge", "--tiles", " , ", "--card", "CARD"], "names no tile"),
        (["judge", "--tiles", "3 bam", "--card", "missing.toml"], "missing.toml"),
        (["judge", "--tiles", "3 bam", "--card", "CARD", "--mark", "x.png"], "--mark"),
        (["judge", "--tiles", "3 bam", "--card", "CARD", "--set", "Mine"], "--set"),
        (["read", "a.jpg", "b.jpg", "--mark", "x.png"], "one photo"),
        (["card", "missing.toml"], "missing.toml"),
    ],
)
def test_unreadable_input_exits_2_with_a_sentence(
    arguments: list[str], says: str, card_file: Path, capsys: Capture
) -> None:
    given = [str(card_file) if word == "CARD" else word for word in arguments]

    assert 2 == cli.main(given)
    shown = capsys.readouterr()
    assert "" == shown.out
    assert says in shown.err and "Traceback" not in shown.err


def test_debug_shows_the_traceback(card_file: Path) -> None:
    with pytest.raises(ValueError, match="3 bma"):
        cli.main(["judge", "--tiles", "3 bma", "--card", str(card_file), "--debug"])


def test_an_interrupted_command_exits_130(monkeypatch: pytest.MonkeyPatch, card_file: Path) -> None:
    def interrupted(path: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("tilewitness.ui.card_commands.load_card", interrupted)

    assert 130 == cli.main(["card", str(card_file)])


def test_a_card_is_printed_back_in_sentences(card_file: Path, capsys: Capture) -> None:
    assert 0 == cli.main(["card", str(card_file)])
    shown = capsys.readouterr().out
    assert "Test card: three hands in two sections." in shown
    assert "Small steps: pair of flowers, kongs of 2, 4 and 6" in shown


def test_the_answer_can_be_said_aloud(card_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    said: list[str] = []
    monkeypatch.setattr("tilewitness.ui.aloud.speak", said.extend)
    cli.main(["judge", "--tiles", WIN, "--card", str(card_file), "--aloud"])

    assert "Complete: Small steps." == said[0]
    assert "second opinion" in said[-1]


def test_of_a_text_full_of_faults_the_first_are_said_and_how_many_more_there_are(tmp_path: Path, capsys: Capture) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("\n".join(f"a line = that is no hand {number}" for number in range(100)))

    assert 2 == cli.main(["judge", "--tiles", WIN, "--card", str(letter)])
    *said, last = capsys.readouterr().err.splitlines()
    assert (20, True) == (len(said), f"tilewitness: {letter}, line 1: " in said[0])
    assert "tilewitness: And 81 faults more." == last


def test_what_is_wrong_with_the_card_is_told_after_the_photo_is_read_lest_it_gets_lost(
    capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    # The decoder keeps from standard error what it writes there itself; meanwhile nothing else is heard either.
    def read_photo(source: object, *, tile_set: object = None) -> None:
        with _without_complaints():
            time.sleep(0.3)

    monkeypatch.setattr("tilewitness.vision.read.read_photo", read_photo)

    assert 2 == cli.main(["judge", "rack.jpg", "--card", "no-card.toml"])
    assert "no-card.toml: there is no such file" in capfd.readouterr().err


@pytest.mark.parametrize("options", [[], ["--json"]])
def test_letters_that_the_terminal_cannot_write_do_not_cost_the_answer(
    tmp_path: Path, card_file: Path, monkeypatch: pytest.MonkeyPatch, options: list[str]
) -> None:
    card = tmp_path / "gärten.toml"
    card.write_text(card_file.read_text(encoding="utf-8").replace("Small steps", "小步"), encoding="utf-8")
    out = io.BytesIO()
    monkeypatch.setattr("sys.stdout", io.TextIOWrapper(out, encoding="ascii", write_through=True))

    assert 0 == cli.main(["judge", "--tiles", WIN, "--card", str(card), *options])
    told = out.getvalue().decode("ascii")
    assert "小步" == json.loads(told)["hand"]["name"] if options else "Complete: ??." == told.splitlines()[0]


def test_a_full_disk_is_told_without_an_error_number(monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    def full(options: object) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("tilewitness.ui.commands.run", full)

    assert 2 == cli.main(["set", "list"])
    assert f"tilewitness: {os.strerror(errno.ENOSPC)}.\n" == capsys.readouterr().err
