"""The two networks: a finder of tile faces in a photo and a reader of one straightened face.

Both take raw uint8 BGR pictures, height × width × 3, so that the exported files hold their own
normalisation and nobody can feed them differently scaled numbers.
"""

from __future__ import annotations

import torch
from torch import Tensor, nn
from torch.nn import functional as F

STRIDE = 4
"""Photo pixels (as fed to the finder) per cell of its outputs."""

OFFSET_UNIT = 16.0
"""Pixels one unit of the finder's raw corner output stands for: keeps activations near 1."""

READER_SIZE = (96, 72)
"""Height and width of the reader's input."""

READER_MARGIN = 0.06
"""Share of the face's size that the reader's input shows beyond each side of the face."""

EMBEDDING = 128


def conv(inputs: int, outputs: int, *, kernel: int = 3, stride: int = 1, act: bool = True) -> nn.Sequential:
    """Convolution, batch norm and, by default, ReLU."""
    layers: list[nn.Module] = [
        nn.Conv2d(inputs, outputs, kernel, stride, kernel // 2, bias=False),
        nn.BatchNorm2d(outputs),
    ]
    return nn.Sequential(*layers, nn.ReLU(inplace=True)) if act else nn.Sequential(*layers)


class Residual(nn.Module):
    """Two 3×3 convolutions and a shortcut. Source: He et al. 2016, "Deep Residual Learning"."""

    def __init__(self, inputs: int, outputs: int, *, stride: int = 1) -> None:
        super().__init__()
        self.body = nn.Sequential(conv(inputs, outputs, stride=stride), conv(outputs, outputs, act=False))
        same = inputs == outputs and stride == 1
        self.shortcut = nn.Identity() if same else conv(inputs, outputs, kernel=1, stride=stride, act=False)

    def forward(self, x: Tensor) -> Tensor:
        return F.relu(self.body(x) + self.shortcut(x))


def as_network_input(pictures: Tensor) -> Tensor:
    """Turn uint8 (N, H, W, 3) into float (N, 3, H, W) around zero."""
    return (pictures.permute(0, 3, 1, 2).float() - 127.5) / 64.0


class Finder(nn.Module):
    """Heat map of face centres with four corner offsets at every cell.

    Source of the idea: Zhou et al. 2019, "Objects as Points"; the pyramid: Lin et al. 2017, "Feature
    Pyramid Networks". Light enough for two CPU cores: most work is done at strides 8 to 32.
    """

    WIDTHS = (32, 64, 128, 144, 104)
    PYRAMID = 48

    def __init__(self) -> None:
        super().__init__()
        w4, w8, w16, w32, w64 = self.WIDTHS
        self.stem = nn.Sequential(conv(3, 16, stride=2), conv(16, w4, stride=2))
        self.at4 = Residual(w4, w4)
        self.at8 = nn.Sequential(Residual(w4, w8, stride=2), Residual(w8, w8))
        self.at16 = nn.Sequential(Residual(w8, w16, stride=2), Residual(w16, w16))
        self.at32 = nn.Sequential(Residual(w16, w32, stride=2), Residual(w32, w32))
        self.at64 = Residual(w32, w64, stride=2)
        self.lateral = nn.ModuleList(conv(width, self.PYRAMID, kernel=1) for width in self.WIDTHS)
        self.smooth = nn.ModuleList(conv(self.PYRAMID, self.PYRAMID) for _ in self.WIDTHS[:-1])
        self.last = conv(self.PYRAMID, self.PYRAMID)
        self.centre = nn.Conv2d(self.PYRAMID, 1, 1)
        self.corner = nn.Conv2d(self.PYRAMID, 8, 1)
        nn.init.constant_(self.centre.bias, -4.0)  # faces are rare: start from "nothing here"

    def forward(self, pictures: Tensor) -> tuple[Tensor, Tensor]:
        """Return centre logits (N, H/4, W/4) and corner offsets (N, 8, H/4, W/4) in pixels."""
        levels = [self.at4(self.stem(as_network_input(pictures)))]
        for stage in (self.at8, self.at16, self.at32, self.at64):
            levels.append(stage(levels[-1]))
        x = self.lateral[4](levels[4])
        for level in (3, 2, 1, 0):
            wanted = levels[level].shape[-2:]
            x = F.interpolate(x, scale_factor=2.0, mode="nearest")[..., : wanted[0], : wanted[1]]
            x = self.smooth[level](x + self.lateral[level](levels[level]))
        x = self.last(x)
        with torch.autocast(x.device.type, enabled=False):  # sub-pixel corners need full precision
            x = x.float()
            return self.centre(x)[:, 0], self.corner(x) * OFFSET_UNIT


class Reader(nn.Module):
    """Names one straightened face, says which way up it stands, and gives numbers that tell artwork apart."""

    WIDTHS = (32, 64, 128, 192)
    LOOK = 48

    def __init__(self, classes: int) -> None:
        super().__init__()
        a, b, c, d = self.WIDTHS
        self.trunk = nn.Sequential(
            conv(3, a, stride=2),
            conv(a, a),
            Residual(a, b, stride=2),
            Residual(b, b),
            Residual(b, b),
            Residual(b, c, stride=2),
            Residual(c, c),
            Residual(c, d, stride=2),
            Residual(d, d),
        )
        height, width = (-(-size // 16) for size in READER_SIZE)
        # One weight per place instead of an average: where a mark stands matters on a tile face.
        self.pool = nn.Sequential(nn.Conv2d(d, d, (height, width), groups=d, bias=False), nn.BatchNorm2d(d))
        self.embed = nn.Sequential(nn.Linear(d, EMBEDDING, bias=False), nn.BatchNorm1d(EMBEDDING))
        # Pictures without a name differ by what stands where: this head sees every place for itself.
        self.look = nn.Sequential(
            conv(d, self.LOOK, kernel=1), nn.Flatten(), nn.Linear(self.LOOK * height * width, EMBEDDING, bias=False)
        )
        self.face = nn.Linear(EMBEDDING, classes)
        self.turned = nn.Linear(EMBEDDING, 1)
        self.drop = nn.Dropout(0.1)

    def forward(self, pictures: Tensor) -> tuple[Tensor, Tensor, Tensor]:
        """Return face logits (N, classes), upside-down logits (N,) and embeddings of the look (N, EMBEDDING)."""
        seen = self.trunk(as_network_input(pictures))
        hidden = self.drop(F.relu(self.embed(self.pool(seen).flatten(1))))
        return self.face(hidden), self.turned(hidden)[:, 0], self.look(seen)

    def go_on_from(self, state: dict[str, Tensor]) -> None:
        """Take over weights; those of a reader that told no looks apart leave that part as it is."""
        told = any(name.startswith("look.") for name in state)
        fresh = {} if told else {name: value for name, value in self.state_dict().items() if name.startswith("look.")}
        self.load_state_dict({**state, **fresh})
