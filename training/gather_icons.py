"""Make the picture artwork: rasterise chosen icons of open icon sets into small images of colour regions.

    python -m tilewitness.training.gather_icons FOLDER

FOLDER keeps the packages that `selection.toml` names; those that it lacks are fetched into it, from npm and from
Debian. The results are committed, so drawing and training never need this script: it makes them again, byte for
byte, or adds to them. It needs the Python packages `resvg_py` and `fontTools`, `npm`, and `apt-get` of Debian.

Each icon becomes an indexed PNG cropped to its ink, the longer side `SIZE` pixels: index 0 is empty, 1 to 6 are
its colour regions from dark to light. The PNGs of one category go into one zip; LICENCES.md lists them all.
"""

from __future__ import annotations

import argparse
import io
import tomllib
import zipfile
from pathlib import Path

import cv2
import numpy as np
import resvg_py
from numpy.typing import NDArray
from PIL import Image

from tilewitness.training.icon_sources import IconSet, fetch
from tilewitness.training.icons import CATEGORIES

SIZE = 208
MAX_REGIONS = 6
FOLDER = Path(__file__).resolve().parent / "artwork" / "icons"


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


def gather(folder: Path) -> None:
    """Fetch, rasterise and pack every icon of selection.toml, and write LICENCES.md."""
    selection = tomllib.loads((FOLDER / "selection.toml").read_text())
    emoji = selection["emoji"]
    wanted = {c: {name: text.split() for name, text in selection[c].items()} for c in CATEGORIES}
    sets = {name: fetch(name, version, folder) for name, version in sorted(selection["versions"].items())}
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
        f"| {s.name} | {s.package} | {s.version} | {s.author} | {s.licence} |"
        for s in sets.values() if s.name in used
    ]  # fmt: skip
    text = [
        "# Where the icons come from",
        "",
        "Made by `training/gather_icons.py` from npm packages and one of Debian, changed as it says: rasterised, cropped,",
        "reduced to a few colour regions. Each keeps the licence of its set. Game-icons' authors include Lorc and Delapouite.",
        "Of the clip art only pictures whose own metadata says public domain were taken; CC-PDDC is the SPDX name of the",
        "Creative Commons public domain dedication.",
        "",
        "| set | package | version | author | licence (SPDX) |",
        "| --- | --- | --- | --- | --- |",
        *table,
        "",
        "| category | split | set | icon |",
        "| --- | --- | --- | --- |",
        *rows,
    ]
    (FOLDER / "LICENCES.md").write_text("\n".join(text) + "\n")


def main() -> None:
    """Gather all icons of selection.toml."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, help="folder that keeps the packages")
    folder = parser.parse_args().folder
    folder.mkdir(parents=True, exist_ok=True)
    gather(folder)


if __name__ == "__main__":
    main()
