"""Turn openly licensed fonts into the outlines that the app draws its tiles with, `ui/parts/letters.toml`.

    python -m tilewitness.training.gather_outlines FOLDER > ui/parts/letters.toml

FOLDER keeps the npm packages named below; those that it lacks are fetched into it. The outlines are committed; this
script is here so that a stranger can make them again or add a letter. It needs fontTools and brotli, and `npm`.
"""

from __future__ import annotations

import io
import re
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from tilewitness.training.packages import npm


@dataclass(frozen=True, slots=True)
class Source:
    """One font and the characters wanted of it; `unit` is the letter whose height becomes 100, else the em does."""

    table: str
    package: str
    version: str
    weight: int
    characters: str
    unit: str = ""


SOURCES: Final = (
    Source("latin", "@fontsource/atkinson-hyperlegible", "5.3.0", 700, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", "H"),
    Source("chinese", "@fontsource/lxgw-wenkai-tc", "5.3.0", 700, "一二三四五六七八九萬東南西北中發"),
)
HEADING: Final = """\
# Outlines of the letters on the drawn tiles, as SVG path data with y down from the line (Latin) or from the top of
# the square (Chinese). A Latin capital is 100 high; a Chinese character stands in a square of 100.
# Made by training/gather_outlines.py from fonts under the SIL Open Font License 1.1, as is this file (letters.licence.txt):
"""


def outlines(source: Source, fonts: list[Any]) -> dict[str, tuple[float, str]]:
    """Return width and path data of every character of a source.

    Raises:
        KeyError: no font has a character.
    """
    from fontTools.pens.boundsPen import BoundsPen
    from fontTools.pens.svgPathPen import SVGPathPen
    from fontTools.pens.transformPen import TransformPen

    found = {}
    for character in source.characters:
        font = next((font for font in fonts if ord(character) in font.getBestCmap()), None)
        if font is None:
            raise KeyError(f"{source.package} has no {character}.")
        glyphs, names, em = font.getGlyphSet(), font.getBestCmap(), font["head"].unitsPerEm
        height, top = em, font["OS/2"].sTypoAscender
        if source.unit:
            box = BoundsPen(glyphs)
            glyphs[names[ord(source.unit)]].draw(box)
            height, top = box.bounds[3], 0
        scale = 100 / height
        pen = SVGPathPen(glyphs, ntos=lambda number: f"{number:.1f}".removesuffix(".0"))
        glyph = glyphs[names[ord(character)]]
        glyph.draw(TransformPen(pen, (scale, 0, 0, -scale, 0, top * scale)))
        found[character] = round(glyph.width * scale, 1), pen.getCommands()
    return found


def _fonts(folder: Path, source: Source) -> tuple[list[Any], str]:
    """Every piece of one font, and its copyright line."""
    from fontTools.ttLib import TTFont

    read = npm(source.package, source.version, folder)
    pieces = [read[name] for name in sorted(read) if re.search(rf"-{source.weight}-normal\.woff2$", name)]
    # Each piece of a family says the same; the file of its first style is enough.
    line = read["LICENSE"].decode().splitlines()[0]
    copyright_line = re.split(r"\s+\S+\.ttf:", line)[0]
    return [TTFont(io.BytesIO(piece)) for piece in pieces], copyright_line


def main(folder: Path) -> None:
    """Print the file."""
    folder.mkdir(parents=True, exist_ok=True)
    print(HEADING, end="")
    tables = []
    for source in SOURCES:
        fonts, copyright_line = _fonts(folder, source)
        print(f"# {source.table}: npm {source.package} {source.version}, weight {source.weight}. {copyright_line}")
        found = outlines(source, fonts).items()
        lines = (f'"{character}" = {{ width = {width}, path = "{path}" }}' for character, (width, path) in found)
        tables.append("\n".join(["", f"[{source.table}]", *lines]))
    print("\n".join(tables))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
