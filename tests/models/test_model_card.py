"""The model card names the files that are shipped."""

import hashlib
import re
from importlib.resources import files


def test_the_card_states_the_digest_of_every_shipped_network() -> None:
    folder = files("tilewitness.models")
    card = (folder / "README.md").read_text(encoding="utf-8")
    stated = {name: digest for digest, name in re.findall(r"^([0-9a-f]{64})  (\S+)$", card, re.MULTILINE)}

    shipped = {item.name: item for item in folder.iterdir() if item.name.endswith(".onnx")}
    assert {name: hashlib.sha256(item.read_bytes()).hexdigest() for name, item in shipped.items()} == stated


def test_both_networks_together_stay_below_eight_megabytes() -> None:
    shipped = [item for item in files("tilewitness.models").iterdir() if item.name.endswith(".onnx")]

    assert 2 == len(shipped)
    assert sum(len(item.read_bytes()) for item in shipped) < 8_000_000
