import unicodedata

import pytest

from tilewitness.engine.faces import FACES, SET_SIZE, Face, FaceError


def test_a_set_holds_152_tiles() -> None:
    assert 152 == SET_SIZE


def test_a_name_reads_back_as_the_same_face() -> None:
    for face in FACES:
        assert face == Face.named(str(face))
        assert face == eval(repr(face))


def test_unicode_characters_are_the_ones_the_standard_names() -> None:
    # Source: The Unicode Standard, block Mahjong Tiles, names as carried by Python's unicodedata.
    digits = ["ONE", "TWO", "THREE", "FOUR", "FIVE", "SIX", "SEVEN", "EIGHT", "NINE"]
    words = {"bam": "BAMBOOS", "crak": "CHARACTERS", "dot": "CIRCLES"}
    for face in FACES:
        if face.unicode is None:
            assert "flower" == face.name
            continue
        if face.number is not None and face.suit is not None:
            expected = f"MAHJONG TILE {digits[face.number - 1]} OF {words[face.suit.value]}"
        elif face.name == "joker":
            expected = "MAHJONG TILE JOKER"
        else:
            expected = f"MAHJONG TILE {face.name.upper()}" + ("" if "dragon" in face.name else " WIND")

        assert expected == unicodedata.name(face.unicode)


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("bam", 'Write its number too, for example "3 bam".'),  # and not: did you mean "9 bam"
        ("9", 'Write its suit too, for example "9 bam".'),
        ("b2", 'Did you mean "2 bam"?'),
        ("2 bams", 'Did you mean "2 bam"?'),
        ("3 characters", 'Did you mean "3 crak"?'),  # the words of the Unicode Standard for the suits
        ("4 circles", 'Did you mean "4 dot"?'),
        ("white dragons", 'Did you mean "white dragon"?'),
        ("15 tiles", 'Write for example "3 bam" or "red dragon".'),
    ],
)
def test_a_slip_of_the_pen_gets_a_hint_that_helps(typed: str, hint: str) -> None:
    with pytest.raises(FaceError) as caught:
        Face.named(typed)

    assert f'"{typed}" is not a tile. {hint}' == str(caught.value)
