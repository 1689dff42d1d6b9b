"""What a discard may be claimed for, in words; the rules themselves are common practice, no source."""

import json
from pathlib import Path

import pytest

from tilewitness.engine.card import Card
from tilewitness.engine.claims import claims_for
from tilewitness.engine.faces import Face
from tilewitness.engine.rack import Rack
from tilewitness.ui import cli
from tilewitness.ui.claim_words import ON_CLAIMS, claim_verdict
from tilewitness.ui.words import Tone, Verdict

WAITING = "pair of flowers, kong of 2 bam, kong of 4 bam, pung of 6 bam"


def said(card: Card, tiles: str, discard: str) -> Verdict:
    face, rack = Face.named(discard), Rack.parse(tiles)
    return claim_verdict(face, rack, claims_for(face, rack, card))


def test_the_last_tile_may_be_claimed_to_win(card: Card) -> None:
    answer = said(card, WAITING, "6 bam")

    assert "You may claim the 6 bam to win" == answer.title
    assert ["To win: it completes Small steps, worth 25.", ON_CLAIMS] == answer.sentences[1:]


def test_half_of_a_pair_may_be_claimed_only_to_win(card: Card) -> None:
    answer = said(card, "flower, kong of 2 bam, kong of 4 bam, kong of 6 bam", "flower")

    assert "You may claim the flower only to win" == answer.title


def test_a_claim_says_what_it_takes_and_what_is_missing_then(card: Card) -> None:
    answer = said(card, "flower, flower, 2 bam, 2 bam, joker, kong of 4 bam, 6 bam, 6 bam, east, west", "2 bam")

    assert "You may claim the 2 bam for a group" == answer.title
    assert "For a kong, with two tiles of your own and one joker, of Small steps, worth 25: two tiles missing after that." in answer.lead


@pytest.mark.parametrize(
    ("tiles", "discard", "says"),
    [
        (WAITING, "joker", "A discarded joker is dead"),
        (WAITING, "2 bam", "The rack holds all four 2 bam"),
        (WAITING, "east", "completes no hand"),
        (f"{WAITING}, east", "6 bam", "This rack has 14 tiles."),
        ("flower, 2 bam", "flower", "No exposed hand of the card takes a group of flowers"),
    ],
)
def test_a_refusal_says_why(card: Card, tiles: str, discard: str, says: str) -> None:
    answer = said(card, tiles, discard)

    assert Tone.NO is answer.tone
    assert any(says in line for line in answer.lead)


def test_the_command_answers_the_discard_first(card_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    command = ["judge", "--tiles", WAITING, "--card", str(card_file), "--discard", "6 bam"]

    assert 0 == cli.main(command)
    assert capsys.readouterr().out.startswith("You may claim the 6 bam to win.\n")
    assert 0 == cli.main([*command, "--json"])
    record = json.loads(capsys.readouterr().out)
    assert "6 bam" == record["discard"]
    assert (True, 0, 0) == tuple(record["claims"][0][key] for key in ("wins", "size", "missing"))


def test_a_discard_that_is_no_tile_is_refused_with_a_hint(
    card_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 2 == cli.main(["judge", "--tiles", WAITING, "--card", str(card_file), "--discard", "6 bma"])
    assert 'Did you mean "6 bam"?' in capsys.readouterr().err
