"""A card on paper, read back by libraries that did not write it: pypdf for structure, PDFium for text and pixels."""

import io
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytest
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject

from tilewitness.engine.card import Card, load_card, parse_card
from tilewitness.ui import cli, words
from tilewitness.ui.card_words import described
from tilewitness.ui.paper import Paper, Sheet, letters_without_font, print_card

SAMPLES = Path(__file__).parents[2] / "samples"
pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning:pypdfium2.*")

A_POINT_IN_MILLIMETRES = 25.4 / 72
"""ISO 32000-1, 8.3.2.3: the default unit of user space is 1/72 inch."""


@pytest.fixture(scope="module")
def demo() -> Card:
    return load_card(SAMPLES / "card.toml")


@pytest.fixture(scope="module")
def printed(demo: Card) -> dict[Sheet, bytes]:
    return {sheet: print_card(demo, sheet).pdf for sheet in Sheet}


def text_of(pdf: bytes) -> str:
    """All text of a PDF with plain spaces between words, as somebody would copy it."""
    with pypdfium2.PdfDocument(pdf) as document:
        pages = [page.get_textpage().get_text_range() for page in document]
    return re.sub(r"\s+", " ", " ".join(pages))


def tags(reader: PdfReader) -> Iterator[DictionaryObject]:
    """Every element of the structure tree (ISO 32000-1, 14.7)."""
    waiting: list[Any] = [reader.root_object["/StructTreeRoot"]["/K"]]
    while waiting:
        one = waiting.pop()
        one = one.get_object() if isinstance(one, IndirectObject) else one
        if isinstance(one, ArrayObject):
            waiting.extend(reversed(one))
        elif isinstance(one, DictionaryObject) and "/S" in one:
            yield one
            waiting.append(one.get("/K", ArrayObject()))


@pytest.mark.parametrize("sheet", Sheet)
def test_every_word_of_the_card_can_be_copied_from_the_paper(sheet: Sheet, demo: Card, printed: dict[Sheet, bytes]) -> None:
    text = text_of(printed[sheet])
    wanted = [demo.name, *demo.sections, words.SECOND_OPINION]
    for one in described(demo):
        wanted += [one.hand.name, f"Worth {one.hand.worth}", one.hand.tiles_wording[1:], *words.groups_named(one.example)]

    assert [] == [line for line in wanted if line not in text]


@pytest.mark.parametrize("sheet", Sheet)
def test_screen_readers_get_title_language_headings_and_names_of_pictures(
    sheet: Sheet, demo: Card, printed: dict[Sheet, bytes]
) -> None:
    """What PDF/UA-1 (ISO 14289-1) asks for, as far as a program can check it."""
    reader = PdfReader(io.BytesIO(printed[sheet]))
    found = list(tags(reader))
    kinds = Counter(str(tag["/S"]) for tag in found)
    blocks = sum(len(words.blocks(one.example)) for one in described(demo))
    frames = len(demo.hands) if sheet is Sheet.PRACTICE else 0

    assert f"{demo.name}, {sheet.value}" == reader.metadata.title
    assert "en" == reader.root_object["/Lang"][:2]
    assert reader.root_object["/MarkInfo"]["/Marked"]
    assert reader.root_object["/ViewerPreferences"]["/DisplayDocTitle"]
    assert "<pdfuaid:part>1</pdfuaid:part>" in reader.xmp_metadata.stream.get_data().decode()
    assert (len(demo.sections), len(demo.hands)) == (kinds["/H1"], kinds["/H2"])
    assert blocks + frames == kinds["/Figure"]
    assert all(tag.get("/Alt") for tag in found if tag["/S"] == "/Figure")


def test_the_outline_leads_to_every_section_and_hand(demo: Card, printed: dict[Sheet, bytes]) -> None:
    outline = PdfReader(io.BytesIO(printed[Sheet.CHART])).outline
    titles = [one.title for entry in outline for one in (entry if isinstance(entry, list) else [entry])]

    assert {*demo.sections, *(hand.name for hand in demo.hands)} == set(titles)


@pytest.mark.parametrize("sheet", Sheet)
def test_print_is_large_everywhere(sheet: Sheet, printed: dict[Sheet, bytes]) -> None:
    """18 points and more is what large print means to libraries and charities for low vision (common practice)."""
    with pypdfium2.PdfDocument(printed[sheet]) as document:
        sizes = {
            round(pypdfium2.raw.FPDFText_GetFontSize(text, at), 1)
            for page in document
            for text in [page.get_textpage()]
            for at in range(text.count_chars())
            if text.get_text_range(at, 1).strip()
        }

    assert 18 <= min(sizes)


@pytest.mark.parametrize(
    ("sheet", "paper", "size"),
    [
        (Sheet.PRACTICE, Paper.A4, (210, 297)),  # ISO 216
        (Sheet.CHART, Paper.A4, (297, 420)),
        (Sheet.PRACTICE, Paper.LETTER, (216, 279)),  # ANSI/ASME Y14.1, sizes A and B
        (Sheet.CHART, Paper.LETTER, (279, 432)),
    ],
)
def test_pages_have_the_size_of_the_paper(sheet: Sheet, paper: Paper, size: tuple[int, int]) -> None:
    pdf = print_card(parse_card(PLAIN), sheet, paper).pdf
    box = PdfReader(io.BytesIO(pdf)).pages[0].mediabox

    assert size == tuple(round(float(side) * A_POINT_IN_MILLIMETRES) for side in (box.width, box.height))


def test_tiles_are_shapes_and_no_pixels(printed: dict[Sheet, bytes]) -> None:
    with pypdfium2.PdfDocument(printed[Sheet.PRACTICE]) as document:
        kinds = Counter(kind.type for kind in document[0].get_objects(max_depth=6))

    assert 0 == kinds[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE]
    assert kinds[pypdfium2.raw.FPDF_PAGEOBJ_PATH] > 100


def test_in_black_and_white_suits_still_differ(printed: dict[Sheet, bytes]) -> None:
    """A page in shades of grey keeps dark print on light paper: nothing important is pale."""
    with pypdfium2.PdfDocument(printed[Sheet.PRACTICE]) as document:
        grey = np.asarray(document[0].render(scale=2, grayscale=True).to_pil().convert("L"))

    assert 250 < np.median(grey)
    assert 0.02 < (grey < 110).mean()


PLAIN = 'name = "Plain"\n["One"]\n"Steps" = "pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25"\n'


@pytest.mark.parametrize(
    "name",
    [
        'Quotes " and \\ backslash',
        "#set page(width: 1cm) $x$ *bold* @label <tag> `raw` // gone",
        "Größe, Žluťoučký kůň, Łódź",
        "Ελληνικά и кириллица",
        "四副杠 麻雀",
        "بيت הבית",
        "🀄 🀐 😀",
        "private \ue000 use and \U000e0041 tag",
        "Averyveryveryveryveryveryveryveryveryveryveryveryveryveryverylongwordwithoutanyspace",
    ],
)
@pytest.mark.parametrize("sheet", Sheet)
def test_a_name_in_any_script_is_printed_and_never_stops_the_printing(name: str, sheet: Sheet) -> None:
    typed = name.replace("\\", "\\\\").replace('"', '\\"')
    card = parse_card(PLAIN.replace("Plain", typed).replace("Steps", typed))
    printed = print_card(card, sheet)

    assert name == card.name
    assert f"{name}, {sheet.value}" == PdfReader(io.BytesIO(printed.pdf)).metadata.title
    assert printed.complete == ("empty boxes" not in text_of(printed.pdf))
    if name.isascii():
        assert printed.complete
        assert name.replace(" ", "") in text_of(printed.pdf).replace(" ", "")


def test_letters_without_a_font_are_named_with_what_to_do() -> None:
    """No font has a letter of a private use area (The Unicode Standard, chapter 23.5), but this computer may."""
    card = parse_card(PLAIN.replace("Steps", "Steps \ue000 \U0010fffd"))
    lost = letters_without_font(card)
    printed = print_card(card, Sheet.CHART)

    assert {"\ue000", "\U0010fffd"} >= set(lost)
    assert (lost, not lost) == (printed.lost, printed.complete)
    if lost:
        assert all(f"U+{ord(letter):04X}" in text_of(printed.pdf) for letter in lost)
        assert "Noto Sans CJK" in text_of(printed.pdf)


def test_a_card_in_latin_letters_lacks_none() -> None:
    assert () == letters_without_font(parse_card(PLAIN.replace("Steps", "Ægir’s “fête” Łódź")))


def test_a_hand_that_cannot_be_built_is_printed_with_its_warning() -> None:
    card = parse_card(PLAIN + '"Short" = "pair of 2 in one suit; worth 25"\n')

    assert "It comes to two tiles; a hand has 14." in text_of(print_card(card, Sheet.PRACTICE).pdf)


def test_the_command_writes_both_papers(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    card = tmp_path / "card.toml"
    card.write_text(PLAIN, encoding="utf-8")
    sheet, chart = tmp_path / "sheet.pdf", tmp_path / "chart.pdf"

    assert 0 == cli.main(["card", str(card), "--sheet", str(sheet), "--chart", str(chart), "--paper", "letter"])
    assert "Plain: one hand in one section." in capsys.readouterr().out
    assert all("Steps" in text_of(path.read_bytes()) for path in (sheet, chart))


@pytest.mark.parametrize(("out", "says"), [("card.toml", "ends in .pdf"), ("no/such/folder.pdf", "cannot be written")])
def test_what_cannot_be_written_is_said_and_the_card_is_safe(
    out: str, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    card = tmp_path / "card.toml"
    card.write_text(PLAIN, encoding="utf-8")

    assert 2 == cli.main(["card", str(card), "--sheet", str(tmp_path / out)])
    assert says in capsys.readouterr().err
    assert PLAIN == card.read_text(encoding="utf-8")
