"""Where the picture artwork comes from: icon sets on npm, a Debian package of clip art, a font of picture signs.

Each source is one `IconSet` of SVG texts with the licence that its own files state. Only `ALLOWED` passes.
"""

from __future__ import annotations

import io
import json
import re
import subprocess
import tarfile
import unicodedata
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

ALLOWED: Final = {
    "CC0-1.0", "CC-BY-3.0", "CC-BY-4.0", "MIT", "Apache-2.0", "ISC", "OFL-1.1", "CC-PDDC",
}  # fmt: skip
CLIPART: Final = "openclipart"
SIGNS: Final = "hieroglyphs"
_CLIPART_PACKAGE: Final = "openclipart-svg"
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


def fetch(name: str, folder: Path) -> IconSet:
    """Fetch one source into a folder: `CLIPART`, `SIGNS`, or else the npm package `@iconify-json/NAME`.

    Raises:
        ValueError: its licence is not one of `ALLOWED`.
    """
    if name == CLIPART:
        return _clipart(folder)
    return _signs(folder) if name == SIGNS else _icons(name, folder)


def _npm(package: str, folder: Path) -> dict[str, bytes]:
    """Fetch the newest version of a package through npm; returns its files by path."""
    packed = subprocess.run(
        ["npm", "pack", package, "--silent"], cwd=folder, check=True, capture_output=True
    ).stdout.decode().split()[-1]  # fmt: skip
    with tarfile.open(folder / packed) as archive:
        return {m.name.removeprefix("package/"): s.read() for m in archive if (s := archive.extractfile(m))}


def _icons(name: str, folder: Path) -> IconSet:
    files = _npm(f"@iconify-json/{name}", folder)
    info, package, data = (json.loads(files[f"{part}.json"]) for part in ("info", "package", "icons"))
    width, height = data.get("width", 16), data.get("height", 16)
    icons = {key: _svg(icon, width, height) for key, icon in data["icons"].items()}
    return IconSet(
        name,
        f"@iconify-json/{name}",
        package["version"],
        info["license"]["spdx"],
        info["author"]["name"],
        icons,
    )


def _svg(icon: dict[str, Any], width: int, height: int) -> str:
    box = (
        f"{icon.get('left', 0)} {icon.get('top', 0)} {icon.get('width', width)} {icon.get('height', height)}"
    )
    body = icon["body"].replace("currentColor", "#000")
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}">{body}</svg>'


def _signs(folder: Path) -> IconSet:
    """The hieroglyphs of a font by their numbers in Gardiner's list, such as "g001", as Unicode names them."""
    from fontTools.pens.boundsPen import BoundsPen
    from fontTools.pens.svgPathPen import SVGPathPen
    from fontTools.ttLib import TTFont

    files = _npm(_SIGNS_PACKAGE, folder)
    package = json.loads(files["package.json"])
    data = next(
        read for path, read in files.items() if path.endswith("-egyptian-hieroglyphs-400-normal.woff2")
    )
    font = TTFont(io.BytesIO(data))
    glyphs, icons = font.getGlyphSet(), {}
    for code, glyph in font.getBestCmap().items():
        bounds, path = BoundsPen(glyphs), SVGPathPen(glyphs)
        glyphs[glyph].draw(bounds)
        glyphs[glyph].draw(path)
        name = unicodedata.name(chr(code), "")
        if bounds.bounds and name.startswith("EGYPTIAN HIEROGLYPH "):
            x0, y0, x1, y1 = bounds.bounds
            box = f"{x0} {-y1} {x1 - x0} {y1 - y0}"
            icons[name.split()[-1].lower()] = (
                f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}">'
                f'<path transform="scale(1,-1)" d="{path.getCommands()}"/></svg>'
            )
    return IconSet(
        SIGNS, _SIGNS_PACKAGE, package["version"], package["license"], "The Noto Project Authors", icons
    )


def _clipart(folder: Path) -> IconSet:
    """The pictures of the Debian package whose own metadata dedicates them to the public domain."""
    subprocess.run(["apt-get", "download", _CLIPART_PACKAGE], cwd=folder, check=True, capture_output=True)
    packed = next(folder.glob(f"{_CLIPART_PACKAGE}_*.deb"))
    subprocess.run(["dpkg-deb", "-x", packed, folder / CLIPART], check=True)
    version = subprocess.run(["dpkg-deb", "-f", packed, "Version"], check=True, capture_output=True)
    icons = {}
    for path in sorted((folder / CLIPART).rglob("*.svg")):
        text = path.read_text(errors="replace")
        if _DEDICATED.search(text):
            icons[path.stem] = with_box(text)
    return IconSet(
        CLIPART, f"Debian {_CLIPART_PACKAGE}", version.stdout.decode().strip(), "CC-PDDC",
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
