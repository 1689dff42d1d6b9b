"""Turn openly licensed fonts into the alpha masks under `artwork/glyphs`, and list their licences.

    python -m tilewitness.training.gather_glyphs FOLDER

FOLDER keeps the packages that `artwork/fonts.toml` names; those that it lacks are fetched into it, from npm and
from Debian. The masks are committed, so nobody needs this script to train: it is here so that a stranger can make
them again, byte for byte, or add a family. It needs fontTools and brotli, `npm`, and `apt-get` of Debian.
"""

from __future__ import annotations

import argparse
import io
import json
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from tilewitness.training.glyphs import CAPITAL, EM, LEVELS, LINE
from tilewitness.training.packages import copyright_line, debian, npm

ARTWORK: Final = Path(__file__).resolve().parent / "artwork"
NUMERALS: Final = "一二三四五伍六七八九"
FORMAL: Final = "壹贰貳叁參肆陆陸柒捌玖"
CHINESE: Final = NUMERALS + FORMAL + "萬万東南西北东中發发発白龍龙竜春夏秋冬梅蘭兰菊竹福祿禄壽寿喜貴贵財财百搭花"
# Arts, trades, plants and beasts on flower tiles, and the other words for a joker.
PICTURED: Final = "琴棋書书畫画漁渔樵耕讀读松鶴荷蓮山水風雪月鳥魚聽用飛神"
LATIN: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789!&"
OPEN: Final = {"OFL-1.1", "Apache-2.0", "MIT", "CC0-1.0", "OGDL-TW-1.0", "public domain"}

Mask = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Fonts:
    """The font files of one family, and the words for its row in the table of licences."""

    files: list[bytes]
    author: str
    licence: str
    source: str

    @classmethod
    def find(cls, folder: Path, entry: dict[str, Any]) -> Fonts:
        """Read the fonts of one entry of `fonts.toml`: a Debian one names its file, an npm one its weight."""
        package, version = entry["package"], entry["version"]
        if "file" in entry:
            file = next(debian(package, version, folder).rglob(entry["file"]))
            return cls([file.read_bytes()], entry["author"], entry["licence"], f"Debian {package} {version}")
        read = npm(package, version, folder)
        ending = f"-{entry['weight']}-normal.woff2"
        # The plain Latin subset first: the others hold strays, without the "H" that sets the height.
        names = sorted((n for n in read if n.endswith(ending)), key=lambda n: not n.endswith("-latin" + ending))
        licence = json.loads(read["package.json"])["license"]
        author = copyright_line(read["LICENSE"].decode())
        return cls([read[n] for n in names], author, licence, f"npm {package} {version}")


def draw_masks(fonts: Fonts, script: str) -> dict[str, Mask]:
    """Return one mask for each wanted character that the fonts have, by character.

    A Chinese mask is the whole em square, a Latin one runs from 0.45 capital heights above the capitals to
    0.45 below the line, so that the parts of a text keep their places.
    """
    from fontTools.ttLib import TTFont

    wanted = CHINESE + PICTURED if script == "chinese" else LATIN
    draw = _draw_em if script == "chinese" else _draw_line
    found: dict[str, Mask] = {}
    for data in fonts.files:
        font = TTFont(io.BytesIO(data))
        here = [c for c in wanted if ord(c) in font.getBestCmap() and c not in found]
        if here:
            font.flavor = None
            font.save(plain := io.BytesIO())
            found |= {c: mask for c in here if (mask := draw(plain, c)).any()}
    return {c: found[c] for c in wanted if c in found}


def _draw_em(font: io.BytesIO, character: str) -> Mask:
    em = EM
    font.seek(0)
    face = ImageFont.truetype(font, em * 92 // 100)
    image = Image.new("L", (em, em))
    box = face.getbbox(character, anchor="ls")
    # Hand fonts sit anywhere in their em: centre the ink sideways, and upright unless it is flat like 一.
    x = (em - box[2] - box[0]) / 2
    y = (em - box[3] - box[1]) / 2
    ImageDraw.Draw(image).text((x, y), character, 255, face, anchor="ls")
    return _quantised(image)


def _draw_line(font: io.BytesIO, character: str) -> Mask:
    cap = CAPITAL
    font.seek(0)
    trial = ImageFont.truetype(font, cap)
    box = trial.getbbox("H" if trial.getmask("H").getbbox() else "8", anchor="ls")
    font.seek(0)
    face = ImageFont.truetype(font, cap * cap / max(box[3] - box[1], 1))
    left, _, right, _ = face.getbbox(character, anchor="ls")
    width = round(max(face.getlength(character), right - min(left, 0)))
    image = Image.new("L", (max(width, 1), round(cap * LINE)))
    ImageDraw.Draw(image).text((max(-left, 0), round(cap * 1.45)), character, 255, face, anchor="ls")
    return _quantised(image)


def _quantised(image: Image.Image) -> Mask:
    return np.round(np.asarray(image) / (255 / LEVELS)).astype(np.uint8)


def gather(folder: Path) -> list[str]:
    """Write one `.npz` a family and return the rows of the table of licences."""
    entries = tomllib.loads((ARTWORK / "fonts.toml").read_text(encoding="utf-8"))
    rows = ["| family | author | licence | package and version |", "| --- | --- | --- | --- |"]
    for script in ("chinese", "latin"):
        (ARTWORK / "glyphs" / script).mkdir(parents=True, exist_ok=True)
        for family, entry in entries[script].items():
            fonts = Fonts.find(folder, entry)
            if fonts.licence not in OPEN:
                raise SystemExit(f"{family}: licence {fonts.licence} is not among the open ones: {sorted(OPEN)}.")
            masks = draw_masks(fonts, script)
            stored = {f"u{ord(c):x}": mask for c, mask in masks.items()}
            np.savez_compressed(ARTWORK / "glyphs" / script / f"{family}.npz", allow_pickle=False, **stored)
            rows.append(f"| {family} | {fonts.author} | {fonts.licence} | {fonts.source} |")
            print(f"{script} {family}: {len(masks)} characters, lacks {missing(masks, script)}", flush=True)
    return rows


def missing(drawn: dict[str, Mask], script: str) -> str:
    """The wanted characters that a family lacks."""
    return "".join(c for c in (CHINESE + PICTURED if script == "chinese" else LATIN) if c not in drawn) or "nothing"


def main() -> None:
    """Gather all families of `artwork/fonts.toml`."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, help="folder that keeps the packages")
    folder = parser.parse_args().folder
    folder.mkdir(parents=True, exist_ok=True)
    rows = gather(folder)
    page = ARTWORK / "LICENCES.md"
    before, rest = page.read_text().split("| family |", 1)
    after = rest.split("\n\n", 1)[1]
    page.write_text(before + "\n".join(rows) + "\n\n" + after)


if __name__ == "__main__":
    main()
