"""Make the picture artwork: rasterise chosen icons of open icon sets into small images of colour regions.

Run once by hand; the results are committed, so drawing and training never need it. It needs `npm` and the
Python package `resvg_py`, and fetches the icon sets through npm. Only the licences in `ALLOWED` pass.

    python -m tilewitness.training.gather_icons

Each icon becomes an indexed PNG cropped to its ink, the longer side `SIZE` pixels: index 0 is empty, 1 to 6 are
its colour regions from dark to light. The PNGs of one category go into one zip; LICENCES.md lists them all.
"""

from __future__ import annotations

import io
import json
import subprocess
import tarfile
import tempfile
import tomllib
import zipfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import resvg_py
from numpy.typing import NDArray
from PIL import Image

SIZE = 208
MAX_REGIONS = 6
ALLOWED = {"CC0-1.0", "CC-BY-3.0", "CC-BY-4.0", "MIT", "Apache-2.0", "ISC"}
CATEGORIES = ("birds", "dragons", "flowers", "scenes", "jokers")
FOLDER = Path(__file__).resolve().parent / "artwork" / "icons"


@dataclass(frozen=True, slots=True)
class IconSet:
    """One npm package `@iconify-json/NAME` with what its own files say of licence and author."""

    name: str
    version: str
    licence: str
    author: str
    icons: dict[str, str]

    @classmethod
    def fetch(cls, name: str, folder: Path) -> IconSet:
        """Fetch the newest package through npm.

        Raises:
            ValueError: its licence is not one of `ALLOWED`.
        """
        packed = subprocess.run(
            ["npm", "pack", f"@iconify-json/{name}", "--silent"], cwd=folder, check=True, capture_output=True
        ).stdout.decode().split()[-1]  # fmt: skip
        with tarfile.open(folder / packed) as archive:
            read = {part: _member(archive, part) for part in ("info", "package", "icons")}
        licence = read["info"]["license"]["spdx"]
        if licence not in ALLOWED:
            raise ValueError(
                f"@iconify-json/{name} is under {licence}; allowed are {', '.join(sorted(ALLOWED))}."
            )
        data = read["icons"]
        width, height = data.get("width", 16), data.get("height", 16)
        icons = {key: _svg(icon, width, height) for key, icon in data["icons"].items()}
        return cls(name, read["package"]["version"], licence, read["info"]["author"]["name"], icons)


def _member(archive: tarfile.TarFile, part: str) -> dict[str, Any]:
    stream = archive.extractfile(f"package/{part}.json")
    assert stream is not None
    data: dict[str, Any] = json.load(stream)
    return data


def _svg(icon: dict[str, Any], width: int, height: int) -> str:
    box = (
        f"{icon.get('left', 0)} {icon.get('top', 0)} {icon.get('width', width)} {icon.get('height', height)}"
    )
    body = icon["body"].replace("currentColor", "#000")
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" width="{SIZE}">{body}</svg>'


def regions(svg: str) -> Image.Image:
    """Return the icon as an indexed image of at most `MAX_REGIONS` colour regions, cropped to its ink."""
    png = resvg_py.svg_to_bytes(svg_string=svg, width=2 * SIZE)
    rgba = np.asarray(Image.open(io.BytesIO(bytes(png))).convert("RGBA"))
    ink = rgba[..., 3] > 110
    labels, palette = _quantise(rgba[..., :3], ink)
    ys, xs = np.nonzero(labels)
    labels = labels[ys.min() : ys.max() + 1, xs.min() : xs.max() + 1]
    scale = SIZE / max(labels.shape)
    size = (max(1, round(labels.shape[1] * scale)), max(1, round(labels.shape[0] * scale)))
    # Resampling each region apart keeps thin strokes that taking every other pixel would drop.
    shares = [
        cv2.resize((labels == k).astype(np.float32), size, interpolation=cv2.INTER_AREA)
        for k in range(len(palette) + 1)
    ]
    shares[0] *= 0.8
    image = Image.fromarray(np.argmax(shares, axis=0).astype(np.uint8))
    image.putpalette([255, 255, 255, *palette.astype(int).ravel()])
    return image


def _quantise(
    rgb: NDArray[np.uint8], ink: NDArray[np.bool_]
) -> tuple[NDArray[np.uint8], NDArray[np.float32]]:
    """Split the ink into colour regions, dark to light; colours nearer than a glance can tell are merged."""
    lab = cv2.cvtColor(rgb, cv2.COLOR_RGB2LAB)
    samples = lab[ink].astype(np.float32)
    cv2.setRNGSeed(1)
    count = min(MAX_REGIONS, len(np.unique(samples.astype(np.uint8), axis=0)))
    criteria = (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_MAX_ITER, 30, 0.5)
    _, found, means = cv2.kmeans(samples, count, np.empty((0,), np.int32), criteria, 3, cv2.KMEANS_PP_CENTERS)
    centres, index = _merge(np.asarray(means, np.float32), np.asarray(found, np.int32).ravel())
    labels = np.zeros(ink.shape, np.uint8)
    labels[ink] = index + 1
    if len(centres) > 1:
        smooth = cv2.medianBlur(labels, 5)
        labels[ink & (smooth > 0)] = smooth[ink & (smooth > 0)]
    colours = cv2.cvtColor(centres[None].astype(np.uint8), cv2.COLOR_LAB2RGB)[0]
    return labels, colours.astype(np.float32)


def _merge(
    centres: NDArray[np.float32], index: NDArray[np.int32]
) -> tuple[NDArray[np.float32], NDArray[np.int32]]:
    kept: list[int] = []
    target = np.zeros(len(centres), np.int32)
    for i in np.argsort(centres[:, 0]):
        near = [k for k, other in enumerate(kept) if np.linalg.norm(centres[other] - centres[i]) < 26]
        if not near:
            kept.append(int(i))
        target[i] = near[0] if near else len(kept) - 1
    return centres[kept], target[index]


def main() -> None:
    """Fetch, rasterise and pack every icon of selection.toml, and write LICENCES.md."""
    selection = tomllib.loads((FOLDER / "selection.toml").read_text())
    emoji = selection["emoji"]
    wanted = {c: {name: text.split() for name, text in selection[c].items()} for c in CATEGORIES}
    names = sorted({n for sets in wanted.values() for n in sets if n != "emoji"} | set(emoji))
    with tempfile.TemporaryDirectory() as folder:
        sets = {name: IconSet.fetch(name, Path(folder)) for name in names}
    rows: list[str] = []
    for category in CATEGORIES:
        rows += _pack(category, wanted[category], emoji, sets, selection["held_out"][category].split())
    _write_licences(sets, rows)


def _pack(
    category: str, wanted: dict[str, list[str]], emoji: list[str], sets: dict[str, IconSet], held: list[str]
) -> list[str]:
    """Write one category's zip and return its rows of the licence table."""
    chosen = [(s, n) for s, ns in wanted.items() if s != "emoji" for n in ns]
    chosen += [(s, n) for s in emoji for n in wanted.get("emoji", [])]
    rows = []
    with zipfile.ZipFile(FOLDER / f"{category}.zip", "w") as archive:
        for name, icon in sorted(set(chosen)):
            if icon not in sets[name].icons:
                if name not in emoji:
                    print(f"{category}: {name} has no icon {icon}")
                continue
            out = io.BytesIO()
            regions(sets[name].icons[icon]).save(out, "png", optimize=True)
            split = "held-out" if icon in held or f"{name}:{icon}" in held else "training"
            archive.writestr(zipfile.ZipInfo(f"{split}/{name}--{icon}.png"), out.getvalue())
            rows.append(f"| {category} | {split} | {name} | {icon} |")
    return rows


def _write_licences(sets: dict[str, IconSet], rows: list[str]) -> None:
    used = {row.split(" | ")[2] for row in rows}
    table = [
        f"| {s.name} | @iconify-json/{s.name} | {s.version} | {s.author} | {s.licence} |"
        for s in sets.values() if s.name in used
    ]  # fmt: skip
    text = [
        "# Where the icons come from",
        "",
        "Made by `training/gather_icons.py` from npm packages, changed as it says: rasterised, cropped, reduced to a few",
        "colour regions. Each keeps the licence of its set. Game-icons' authors include Lorc and Delapouite.",
        "",
        "| set | npm package | version | author | licence (SPDX) |",
        "| --- | --- | --- | --- | --- |",
        *table,
        "",
        "| category | split | set | icon |",
        "| --- | --- | --- | --- |",
        *rows,
    ]
    (FOLDER / "LICENCES.md").write_text("\n".join(text) + "\n")


if __name__ == "__main__":
    main()
