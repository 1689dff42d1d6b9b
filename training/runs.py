"""What every training run leaves behind: its settings, one line an epoch, and where it ran."""

from __future__ import annotations

import argparse
import csv
import json
import platform
import subprocess
import time
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import torch
from torch import Tensor, nn


class SettingsError(ValueError):
    """A settings file or an override names a key that the training step does not know."""


def settings(name: str, overrides: list[str]) -> dict[str, Any]:
    """Read `settings/NAME.toml` beside this file and lay "key=value" overrides over it.

    Raises:
        SettingsError: an override names an unknown key.
    """
    values = tomllib.loads((Path(__file__).parent / "settings" / f"{name}.toml").read_text())
    for override in overrides:
        key, _, text = override.partition("=")
        if key not in values:
            raise SettingsError(f'"{key}" is no setting of {name}. It has: {", ".join(values)}.')
        values[key] = type(values[key])(json.loads(text)) if not isinstance(values[key], str) else text
    return values


def arguments(text: str) -> argparse.Namespace:
    """Read a training step's command line: where the run goes, folders of shards, and what differs from its settings."""
    parser = argparse.ArgumentParser(description=text)
    parser.add_argument("run", type=Path)
    parser.add_argument("shards", type=Path, nargs="+")
    parser.add_argument("--held-out", type=Path, nargs="+")
    parser.add_argument("--from", dest="start", type=Path)
    parser.add_argument("--set", dest="overrides", nargs="*", default=[], metavar="key=value")
    return parser.parse_args()


@dataclass
class Run:
    """One run's folder: `settings.json`, `log.csv`, `weights.pt`, `result.json`."""

    folder: Path
    settings: Mapping[str, Any]
    started: float = field(default_factory=time.time)
    _fields: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.folder.mkdir(parents=True, exist_ok=True)
        device = torch.cuda.get_device_name() if torch.cuda.is_available() else platform.processor()
        commit = subprocess.run(["git", "rev-parse", "HEAD"], capture_output=True, text=True, check=False)
        about = {
            "settings": dict(self.settings),
            "python": platform.python_version(),
            "torch": torch.__version__,
            "device": device,
            "commit": commit.stdout.strip(),
        }
        (self.folder / "settings.json").write_text(json.dumps(about, indent=1))

    @property
    def seconds(self) -> float:
        """Seconds since the run began."""
        return time.time() - self.started

    def log(self, **values: float) -> None:
        """Append one row to `log.csv` and print it."""
        values = {"seconds": round(self.seconds, 1), **values}
        new = not self._fields
        self._fields = self._fields or list(values)
        with (self.folder / "log.csv").open("a", newline="") as file:
            writer = csv.DictWriter(file, self._fields, extrasaction="ignore")
            if new:
                writer.writeheader()
            writer.writerow(values)
        shown(self.folder.name, values)

    def finish(self, **values: float) -> None:
        """Write the figures of the finished run to `result.json` and print them."""
        (self.folder / "result.json").write_text(json.dumps({"seconds": round(self.seconds), **values}, indent=1))
        shown(self.folder.name, values)


def shown(name: str, values: Mapping[str, float]) -> None:
    """Print figures on one line."""
    print(name, " ".join(f"{key}={value:.5g}" for key, value in values.items()), flush=True)


class Average:
    """A running average of a network's weights, which reads better than the last step's.

    Source: Polyak & Juditsky 1992; the warm-up of the decay as in the TensorFlow documentation.
    """

    def __init__(self, network: nn.Module, decay: float) -> None:
        self.decay, self.steps = decay, 0
        self.state = {key: value.detach().clone() for key, value in network.state_dict().items()}

    @torch.no_grad()
    def update(self, network: nn.Module) -> None:
        self.steps += 1
        decay = min(self.decay, (1 + self.steps) / (10 + self.steps))
        for key, value in network.state_dict().items():
            if value.dtype.is_floating_point:
                self.state[key].lerp_(value.detach(), 1 - decay)
            else:
                self.state[key].copy_(value)


def rate_at(share: float, peak: float) -> float:
    """Learning rate when `share` (0 to 1) of the time is gone: a short warm-up, then a half cosine."""
    warm = 0.04
    if share < warm:
        return peak * (0.05 + 0.95 * share / warm)
    half = torch.tensor((share - warm) / (1 - warm) * torch.pi)
    return peak * float(0.5 * (1 + torch.cos(half))) + 1e-6


def optimizer(network: nn.Module, peak: float, decay: float) -> torch.optim.AdamW:
    """AdamW that leaves biases and batch norms without weight decay."""
    heavy: list[Tensor] = [p for p in network.parameters() if p.ndim > 1]
    light: list[Tensor] = [p for p in network.parameters() if p.ndim <= 1]
    groups = [{"params": heavy, "weight_decay": decay}, {"params": light, "weight_decay": 0.0}]
    return torch.optim.AdamW(groups, lr=peak, fused=torch.cuda.is_available())
