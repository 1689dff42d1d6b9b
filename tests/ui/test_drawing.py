"""The tiles that the app draws itself."""

from base64 import b64decode
from importlib import resources
from xml.etree import ElementTree

import pytest

from tilewitness.engine.faces import FACES, Face, Kind, Suit
from tilewitness.ui.drawing import (
    EDGE,
    FLOWER,
    HEIGHT,
    INK,
    IVORY,
    JOKER,
    SUITS,
    WIDTH,
    tile_shapes,
    tile_svg,
)
from tilewitness.ui.emblem import icon_address, name_svg

SVG = "{http://www.w3.org/2000/svg}"


def luminance(colour: str) -> float:
    """Relative luminance of a colour "#rrggbb". Source: WCAG 2.2, "relative luminance"."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_every_face_has_a_picture_of_its_own_and_so_has_the_missing_tile():
    assert len(FACES) + 1 == len({tile_shapes(face) for face in (*FACES, None)})


@pytest.mark.parametrize("face", [*FACES, None])
def test_a_picture_says_the_name_of_its_tile(face):
    root = ElementTree.fromstring(tile_svg(face))
    assert ("img", face.name if face else "missing") == (root.get("role"), root.get("aria-label"))


@pytest.mark.parametrize("face", [*FACES, None])
def test_a_picture_is_made_of_plain_filled_shapes_that_pdf_libraries_draw(face):
    shapes = list(ElementTree.fromstring(tile_svg(face)))
    assert {SVG + "path", SVG + "rect", SVG + "circle"} >= {shape.tag for shape in shapes}
    assert all(shape.get("fill", "").startswith("#") for shape in shapes)


def test_a_picture_keeps_its_proportions_at_any_width():
    root = ElementTree.fromstring(tile_svg(FACES[0], width=30))
    assert WIDTH / HEIGHT == float(root.get("width", 0)) / float(root.get("height", 0))


@pytest.mark.parametrize("number", range(2, 10))
def test_dots_and_sticks_can_be_counted(number):
    dots = tile_shapes(Face.named(f"{number} dot")).count("<circle")
    sticks = tile_shapes(Face.named(f"{number} bam")).count("<rect")
    assert (number, number) == (dots // 3, (sticks - 1) // 5)


def test_without_any_colour_no_two_tiles_look_alike():
    colours = [*SUITS.values(), FLOWER, JOKER]

    def grey(face: Face) -> str:
        shapes = tile_shapes(face)
        for colour in colours:
            shapes = shapes.replace(colour, INK)
        return shapes

    assert len(FACES) == len({grey(face) for face in FACES})


@pytest.mark.parametrize("ink", [*SUITS.values(), FLOWER, JOKER, INK, EDGE])
def test_every_ink_has_the_contrast_that_text_needs(ink):
    """WCAG 2.2, success criterion 1.4.3: 4.5 to 1."""
    contrast = (luminance(IVORY) + 0.05) / (luminance(ink) + 0.05)
    assert contrast >= 4.5


def test_dragons_say_the_suit_they_go_with():
    """Common practice, no source: green with bam, red with crak, white (soap) with dot."""
    tied = {face.name: face.suit for face in FACES if face.kind is Kind.DRAGON}
    assert {"red dragon": Suit.CRAK, "green dragon": Suit.BAM, "white dragon": Suit.DOT} == tied
    for name, suit in tied.items():
        assert SUITS[suit] in tile_shapes(Face.named(name))


def test_the_letters_state_their_licence_beside_them():
    parts = resources.files("tilewitness.ui") / "parts"
    assert "SIL Open Font License 1.1" in (parts / "letters.toml").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in (parts / "letters.licence.txt").read_text(encoding="utf-8")


def test_the_sign_is_a_picture_and_stands_left_of_the_whole_name() -> None:
    sign = ElementTree.fromstring(b64decode(icon_address().removeprefix("data:image/svg+xml;base64,")))
    named = ElementTree.fromstring(name_svg())

    assert (f"{SVG}svg", f"{SVG}svg") == (sign.tag, named.tag)
    assert len(sign) + len("tilewitness") == len(named)
