"""Where the picture artwork comes from: icon sets on npm, a Debian package of clip art, two fonts of pictures.

Each source is one `IconSet` of SVG texts with the licence that its own files state. Only `ALLOWED` passes.
"""

from __future__ import annotations

import io
import json
import re
import unicodedata
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from tilewitness.training.packages import debian, npm

ALLOWED: Final = {
    "CC0-1.0", "CC-BY-3.0", "CC-BY-4.0", "MIT", "Apache-2.0", "ISC", "OFL-1.1", "CC-PDDC",
}  # fmt: skip
CLIPART: Final = "openclipart"
SIGNS: Final = "hieroglyphs"
_CLIPART_PACKAGE: Final = "openclipart-svg"
LINE_DRAWINGS: Final = "noto-emoji"
_DRAWINGS_PACKAGE: Final = "@fontsource/noto-emoji"
_SIGNS_PACKAGE: Final = "@fontsource/noto-sans-egyptian-hieroglyphs"
_DEDICATED: Final = re.compile(r'rdf:resource="http://web\.resource\.org/cc/PublicDomain"')
# Lengths as Inkscape of that time wrote them, 90 dots an inch. Values from memory.
_PIXELS: Final = {"": 1.0, "px": 1.0, "pt": 1.25, "mm": 3.543307, "cm": 35.43307, "in": 90.0}


@dataclass(frozen=True, slots=True)
class IconSet:
    """A package with what its own files say of licence and author; `icons` are SVG texts by name."""

    name: str
    package: str
    version: str
    licence: str
    author: str
    icons: dict[str, str]

    def __post_init__(self) -> None:
        """Refuse a licence that is not one of `ALLOWED`."""
        if self.licence not in ALLOWED:
            raise ValueError(
                f"{self.package} is under {self.licence}; allowed are {', '.join(sorted(ALLOWED))}."
            )


def fetch(name: str, version: str, folder: Path) -> IconSet:
    """Fetch one source into a folder that may hold it: `CLIPART`, `SIGNS`, `LINE_DRAWINGS`, or npm's `@iconify-json/NAME`.

    Raises:
        ValueError: its licence is not one of `ALLOWED`.
        subprocess.CalledProcessError: there is no such version.
    """
    if name == CLIPART:
        return _clipart(version, folder)
    if name == LINE_DRAWINGS:
        return _line_drawings(version, folder)
    return _signs(version, folder) if name == SIGNS else _icons(name, version, folder)


def _icons(name: str, version: str, folder: Path) -> IconSet:
    package = f"@iconify-json/{name}"
    files = npm(package, version, folder)
    info, data = (json.loads(files[f"{part}.json"]) for part in ("info", "icons"))
    width, height = data.get("width", 16), data.get("height", 16)
    icons = {key: _svg(icon, width, height) for key, icon in data["icons"].items()}
    return IconSet(name, package, version, info["license"]["spdx"], info["author"]["name"], icons)


def _svg(icon: dict[str, Any], width: int, height: int) -> str:
    box = (
        f"{icon.get('left', 0)} {icon.get('top', 0)} {icon.get('width', width)} {icon.get('height', height)}"
    )
    body = icon["body"].replace("currentColor", "#000")
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}">{body}</svg>'


def _signs(version: str, folder: Path) -> IconSet:
    """The hieroglyphs of a font by their numbers in Gardiner's list, such as "g001", as Unicode names them."""
    files, prefix = npm(_SIGNS_PACKAGE, version, folder), "EGYPTIAN HIEROGLYPH "
    data = next(
        read for path, read in files.items() if path.endswith("-egyptian-hieroglyphs-400-normal.woff2")
    )
    icons = {name.split()[-1].lower(): svg for name, svg in _glyphs(data).items() if name.startswith(prefix)}
    licence = json.loads(files["package.json"])["license"]
    return IconSet(SIGNS, _SIGNS_PACKAGE, version, licence, "The Noto Project Authors", icons)


def _line_drawings(version: str, folder: Path) -> IconSet:
    """The emoji of a font in one colour, named as Unicode names them, such as "front-facing-baby-chick"."""
    files = npm(_DRAWINGS_PACKAGE, version, folder)
    icons: dict[str, str] = {}
    for path in sorted(files):  # the font comes in parts
        if re.search(r"/noto-emoji-\d+-400-normal\.woff2$", path):
            icons |= {name.lower().replace(" ", "-"): svg for name, svg in _glyphs(files[path]).items()}
    licence = json.loads(files["package.json"])["license"]
    return IconSet(LINE_DRAWINGS, _DRAWINGS_PACKAGE, version, licence, "The Noto Project Authors", icons)


def _glyphs(data: bytes) -> dict[str, str]:
    """The characters of a font file that leave ink, as SVG texts by their Unicode names."""
    from fontTools.pens.boundsPen import BoundsPen
    from fontTools.pens.svgPathPen import SVGPathPen
    from fontTools.ttLib import TTFont

    font = TTFont(io.BytesIO(data))
    glyphs, drawn = font.getGlyphSet(), {}
    for code, glyph in font.getBestCmap().items():
        bounds, path = BoundsPen(glyphs), SVGPathPen(glyphs)
        glyphs[glyph].draw(bounds)
        glyphs[glyph].draw(path)
        name = unicodedata.name(chr(code), "")
        if bounds.bounds and name:
            x0, y0, x1, y1 = bounds.bounds
            box = f"{x0} {-y1} {x1 - x0} {y1 - y0}"
            drawn[name] = (
                f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}">'
                f'<path transform="scale(1,-1)" d="{path.getCommands()}"/></svg>'
            )
    return drawn


def _clipart(version: str, folder: Path) -> IconSet:
    """The pictures of the Debian package whose own metadata dedicates them to the public domain."""
    icons = {}
    for path in sorted(debian(_CLIPART_PACKAGE, version, folder).rglob("*.svg")):
        text = path.read_text(errors="replace")
        if _DEDICATED.search(text):
            icons[path.stem] = with_box(text)
    return IconSet(
        CLIPART, f"Debian {_CLIPART_PACKAGE}", version, "CC-PDDC",
        "Open Clip Art Library, each picture's author in its name", icons,
    )  # fmt: skip


def with_box(svg: str) -> str:
    """Give an SVG text a view box of its own size, so that it can be drawn at any other."""
    root = re.search(r"<svg\b[^>]*>", svg, re.DOTALL)
    if root is None:
        return svg
    head = root[0]
    if "viewBox" not in head:
        sides = [
            re.search(rf"\s{side}\s*=\s*[\"']\s*([\d.]+)\s*([a-z]*)\s*[\"']", head)
            for side in ("width", "height")
        ]
        lengths = [float(side[1]) * _PIXELS[side[2]] for side in sides if side and side[2] in _PIXELS]
        if len(lengths) < 2:
            return svg
        head = head.replace("<svg", f'<svg viewBox="0 0 {lengths[0]} {lengths[1]}"', 1)
    head = re.sub(r"\s(width|height)\s*=\s*[\"'][^\"']*[\"']", "", head)
    return svg[: root.start()] + head + svg[root.end() :]
