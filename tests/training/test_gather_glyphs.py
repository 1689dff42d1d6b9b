import io
import tarfile
from pathlib import Path

import numpy as np
import pytest

from tilewitness.training import gather_glyphs
from tilewitness.training.gather_glyphs import LATIN, Fonts, missing
from tilewitness.training.packages import copyright_line

LICENCE = b"Copyright 2018 The Example Project Authors (https://example.org/x), with more\n\nThis Font Software is..."


def _package(folder: Path) -> None:
    files = {
        "package/package.json": b'{"name": "@fonts/example", "license": "OFL-1.1"}',
        "package/LICENSE": LICENCE,
        "package/files/example-latin-ext-400-normal.woff2": b"second",
        "package/files/example-latin-400-normal.woff2": b"first",
        "package/files/example-latin-700-normal.woff2": b"other weight",
        "package/files/example-latin-400-italic.woff2": b"other style",
    }
    with tarfile.open(folder / "fonts-example-1.2.3.tgz", "w:gz") as tar:
        for name, data in files.items():
            member = tarfile.TarInfo(name)
            member.size = len(data)
            tar.addfile(member, io.BytesIO(data))


def test_an_npm_package_gives_its_fonts_of_one_weight_and_the_words_for_its_licence(tmp_path: Path) -> None:
    _package(tmp_path)
    fonts = Fonts.find(tmp_path, {"package": "@fonts/example", "version": "1.2.3", "weight": 400})

    assert [b"first", b"second"] == fonts.files
    assert "Copyright 2018 The Example Project Authors" == fonts.author
    assert ("OFL-1.1", "npm @fonts/example 1.2.3") == (fonts.licence, fonts.source)


def test_the_words_of_a_licence_about_copyright_notices_name_no_author() -> None:
    # So begins the LICENSE of some npm packages of fonts: no year in the first line, or an indented line further down.
    apache = "Apache License\n\n 1. Definitions\n copyright notice that is included in the work\n\n Copyright 2018 A. Hand\n"
    open_font = "Foundry Inc.\n\nThis Font Software is licensed...\ncopyright statement(s).\n"

    assert "Copyright 2018 A. Hand" == copyright_line(apache)
    assert "Foundry Inc." == copyright_line(open_font)


def test_a_debian_package_names_its_file_author_and_licence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(gather_glyphs, "debian", lambda package, version, folder: folder / package)
    (tmp_path / "fonts-brush" / "usr").mkdir(parents=True)
    (tmp_path / "fonts-brush" / "usr" / "brush.ttf").write_bytes(b"font")
    entry = {"package": "fonts-brush", "version": "1-2", "file": "brush.ttf", "author": "A. Brush", "licence": "MIT"}

    assert Fonts([b"font"], "A. Brush", "MIT", "Debian fonts-brush 1-2") == Fonts.find(tmp_path, entry)


def test_missing_characters_are_named() -> None:
    all_but_z = {character: np.zeros((1, 1), np.uint8) for character in LATIN if character != "Z"}

    assert "Z" == missing(all_but_z, "latin")
    assert "nothing" == missing(all_but_z | {"Z": np.zeros((1, 1), np.uint8)}, "latin")
