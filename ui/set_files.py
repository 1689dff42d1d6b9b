"""One learnt set as one file: a ZIP archive of `set.json`, the pictures, and the looks a network had of them."""

from __future__ import annotations

import io
import json
import zipfile
from typing import Any, Final

from tilewitness.engine.faces import Face
from tilewitness.vision.sets import LOOK_BYTES, Addition, Example, SetError, Source, TileSet

SUFFIX: Final = ".tiles"
VERSION: Final = 1
LARGEST: Final = 64 * 2**20  # bytes, unpacked: a set learnt and corrected a thousand times has 10 MB
_SHORT_LOOKS = 64 * LOOK_BYTES  # bytes, the most that looks of one example take


def packed(tile_set: TileSet) -> bytes:
    """Return the file of a set."""
    content: dict[str, Any] = {"version": VERSION, "name": tile_set.name, "reader": tile_set.reader, "additions": []}
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:  # stored: JPEG files get no smaller
        number = 0
        for addition in tile_set.additions:
            entries = []
            for example in addition.examples:
                archive.writestr(f"{number:05d}.jpg", example.picture)
                archive.writestr(f"{number:05d}.looks", example.looks)
                entries.append({"face": example.face.name, "file": f"{number:05d}", "known": example.known})
                number += 1
            content["additions"].append({"source": addition.source.value, "examples": entries})
        archive.writestr("set.json", json.dumps(content, ensure_ascii=False, indent=1))
    return buffer.getvalue()


def unpacked(data: bytes, called: str) -> TileSet:
    """Return the set in a file.

    Args:
        called: what the file is called in messages.
    Raises:
        SetError: the file is damaged, of a later version, or no set at all.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            if sum(entry.file_size for entry in archive.infolist()) > LARGEST:
                raise SetError(f"{called} is far larger than a set of tiles can be, so it was not opened.")
            content = json.loads(archive.read("set.json"))
            if content["version"] != VERSION:
                raise SetError(f"{called} was made by another version of Tilewitness. Update the older one of the two.")
            additions = tuple(_addition(archive, entry) for entry in content["additions"])
            return TileSet(str(content["name"]), additions, str(content["reader"]))
    except SetError:
        raise
    except (zipfile.BadZipFile, ValueError, KeyError, TypeError, EOFError, NotImplementedError, RuntimeError) as error:
        raise SetError(
            f"{called} is damaged or is no set of Tilewitness, so it was not opened. Other sets are untouched. "
            "Import a copy you exported, or learn the set again."
        ) from error


def _addition(archive: zipfile.ZipFile, entry: dict[str, Any]) -> Addition:
    examples = []
    for example in entry["examples"]:
        picture, looks = (archive.read(f"{example['file']}.{kind}") for kind in ("jpg", "looks"))
        if not picture.startswith(b"\xff\xd8") or len(looks) % LOOK_BYTES or len(looks) > _SHORT_LOOKS:
            raise ValueError("no JPEG picture, or looks of no whole number of embeddings")
        known = float(example["known"])
        if not 0 <= known <= 1:
            raise ValueError("no probability")
        examples.append(Example(Face.named(example["face"]), picture, looks, known))
    return Addition(Source(entry["source"]), tuple(examples))
