"""Train the finder on rendered scenes.

    python -m tilewitness.training.train_finder RUN SHARDS… [--held-out SHARDS…] [--from RUN/weights.pt] [--set key=value…]
"""

from __future__ import annotations

import torch
from torch import Tensor
from torch.nn import functional as F

from tilewitness.training.blur import unsharp
from tilewitness.training.light import relit
from tilewitness.training.nets import STRIDE, Finder
from tilewitness.training.pool import Patches, ScenePool, cut_patches
from tilewitness.training.runs import Average, Run, arguments, optimizer, rate_at, settings


def targets(patches: Patches, cells: int) -> tuple[Tensor, Tensor, Tensor]:
    """Return what the network should say of a batch.

    Returns:
        heat (N, cells, cells): 1 at the cell of a face's centre, falling off as a Gaussian; -1 where a
            face is to be ignored. owner (N, cells, cells): which face is nearest. size (N, T): square root
            of a face's area in pixels.
    Source: Zhou et al. 2019, "Objects as Points", section 3, with a width that follows the face's size.
    """
    quads = patches.quads
    size = area(quads).clamp(min=1).sqrt()
    centre = crossing(quads) / STRIDE - 0.5
    spread = (0.11 * size / STRIDE).clamp(min=0.7)
    steps = torch.arange(cells, device=quads.device, dtype=torch.float32)
    heat = torch.zeros((len(quads), cells, cells), device=quads.device)
    owner = torch.zeros((len(quads), cells, cells), dtype=torch.int64, device=quads.device)
    veil = torch.zeros_like(heat)
    for tile in range(quads.shape[1]):
        where = centre[:, tile]
        here = torch.round(where)  # the peak is exactly 1 at one cell
        dx = (steps - here[:, :1]) ** 2
        dy = (steps - here[:, 1:]) ** 2
        bell = torch.exp(-(dy[:, :, None] + dx[:, None, :]) / (2 * spread[:, tile, None, None] ** 2))
        mine = bell * patches.wanted[:, tile, None, None]
        owner = torch.where(mine > heat, tile, owner)
        heat = torch.maximum(heat, mine)
        veil = torch.maximum(veil, bell * patches.ignored[:, tile, None, None])
    return torch.where((veil > 0.15) & (veil > heat), -1.0, heat), owner, size


def area(quads: Tensor) -> Tensor:
    """Area (…,) of quads (…, 4, 2) by the shoelace formula."""
    x, y = quads.unbind(-1)
    return 0.5 * (x * y.roll(-1, -1) - x.roll(-1, -1) * y).sum(-1).abs()


def crossing(quads: Tensor) -> Tensor:
    """Where the diagonals of quads (…, 4, 2) cross: the face's true middle under perspective."""
    a, b, c, d = quads.unbind(-2)
    ac, bd, ab = c - a, d - b, b - a
    cross = ac[..., 0] * bd[..., 1] - ac[..., 1] * bd[..., 0]
    cross = torch.where(cross.abs() < 1e-6, torch.full_like(cross, 1e-6), cross)
    along = (ab[..., 0] * bd[..., 1] - ab[..., 1] * bd[..., 0]) / cross
    return a + ac * along.clamp(0, 1)[..., None]


def loss(logits: Tensor, corners: Tensor, patches: Patches) -> tuple[Tensor, Tensor, Tensor]:
    """Return the loss, its corner part and the mean corner error as a share of the face's size."""
    heat, owner, size = targets(patches, logits.shape[-1])
    here = heat == 1
    likely = torch.sigmoid(logits).clamp(1e-5, 1 - 1e-5)
    found = -(here * (1 - likely) ** 2 * likely.log())
    empty = -((~here & (heat >= 0)) * (1 - heat.clamp(0, 1)) ** 4 * likely**2 * (1 - likely).log())
    count = here.sum().clamp(min=1)
    centre_loss = (found.sum() + empty.sum()) / count

    # Corners are asked of every cell near a centre, so that a peak one cell off still gives a good face.
    picture, row, column = (heat > 0.45).nonzero().unbind(-1)
    if not len(picture):
        return centre_loss, centre_loss.detach() * 0, centre_loss.detach() * 0
    tile = owner[picture, row, column]
    middle = (torch.stack((column, row), -1) + 0.5) * STRIDE
    wanted = (patches.quads[picture, tile] - middle[:, None]).flatten(1)
    scale = size[picture, tile, None]
    error = (corners[picture, :, row, column] - wanted) / scale
    weight = heat[picture, row, column]
    share = 1 / torch.bincount(picture * patches.quads.shape[1] + tile).float()
    weight = weight * share[picture * patches.quads.shape[1] + tile]  # each face counts once, large or small
    weight = weight / weight.sum()
    corner_loss = (F.smooth_l1_loss(error, torch.zeros_like(error), beta=0.02, reduction="none").mean(-1) * weight).sum()
    off = error.view(-1, 4, 2).norm(dim=-1).mean(-1)
    return centre_loss + 20 * corner_loss, corner_loss.detach(), (off.detach() * weight).sum()


def main() -> None:
    given = arguments("Train the finder on rendered scenes.")
    chosen = settings("finder", given.overrides)
    device = torch.device("cuda" if torch.cuda.is_available() else "cpu")
    torch.manual_seed(chosen["seed"])
    rng = torch.Generator(device).manual_seed(chosen["seed"])
    run = Run(given.run, chosen)
    pool = ScenePool(given.shards, chosen["pool"], device)
    pool.refresh()
    network = Finder().to(device, memory_format=torch.channels_last)
    if given.start:
        network.load_state_dict(torch.load(given.start, map_location=device)["network"])
    average = Average(network, chosen["average"])
    steps = optimizer(network, chosen["rate"], chosen["decay"])
    step, refreshed, reported = 0, run.seconds, run.seconds
    while (gone := run.seconds / 60 / chosen["minutes"]) < 1:
        for group in steps.param_groups:
            group["lr"] = rate_at(gone, chosen["rate"])
        scene = torch.randint(pool.filled, (chosen["batch"],), device=device, generator=rng)
        patches = cut_patches(
            pool, scene, chosen["patch"], scales=(chosen["smallest"], chosen["largest"]), turn=chosen["turn"], rng=rng
        )
        pictures = relit(unsharp(patches.pictures, rng), rng, strength=0.7).permute(0, 2, 3, 1)
        with torch.autocast(device.type, torch.bfloat16):
            logits, corners = network(pictures)
        total, corner_part, off = loss(logits, corners, patches)
        steps.zero_grad(set_to_none=True)
        total.backward()
        torch.nn.utils.clip_grad_norm_(network.parameters(), 5.0)
        steps.step()
        average.update(network)
        step += 1
        if run.seconds - refreshed > 8:
            pool.refresh(most=60)
            refreshed = run.seconds
        if run.seconds - reported > 15:
            reported = run.seconds
            run.log(step=step, scenes=pool.filled, loss=total.item(), corner=corner_part.item(), off=off.item())
    torch.save({"network": average.state}, run.folder / "weights.pt")
    if given.held_out:
        network.load_state_dict(average.state)
        held_out = ScenePool.whole(given.held_out, device)
        run.finish(steps=step, **validate(network.eval(), held_out, rng))


@torch.no_grad()
def validate(network: Finder, pool: ScenePool, rng: torch.Generator) -> dict[str, float]:
    """Loss and mean corner error (share of face size) on unseen artwork."""
    sums = torch.zeros(2, dtype=torch.float64)
    batches = pool.filled // 16
    for first in range(0, batches * 16, 16):
        scene = torch.arange(first, first + 16, device=pool.device)
        patches = cut_patches(pool, scene, 768, scales=(0.9, 1.1), turn=0.0, rng=rng)
        logits, corners = network(patches.pictures.permute(0, 2, 3, 1))
        total, _, off = loss(logits, corners, patches)
        sums += torch.tensor([total.item(), off.item()], dtype=torch.float64)
    return {"held_out_loss": float(sums[0]) / batches, "held_out_off": float(sums[1]) / batches}


if __name__ == "__main__":
    main()
