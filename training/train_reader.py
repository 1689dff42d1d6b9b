"""Train the reader on faces cut from rendered scenes: to name them, and to tell their looks apart.

    python -m tilewitness.training.train_reader RUN SHARDS… [--held-out SHARDS…] [--from RUN/weights.pt] [--set key=value…]
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import torch
from torch import Tensor
from torch.nn import functional as F

from tilewitness.training.blur import unsharp
from tilewitness.training.light import reinked, relit
from tilewitness.training.looks import TILES, LookSampler, certainty, contrast, nearest_right
from tilewitness.training.nets import EMBEDDING, Reader
from tilewitness.training.pool import FaceSampler, ScenePool
from tilewitness.training.runs import Average, Run, arguments, optimizer, rate_at, settings
from tilewitness.training.shards import NO_FACE

CLASSES = NO_FACE + 1


def main() -> None:
    given = arguments("Train the reader on faces cut from rendered scenes.")
    chosen = settings("reader", given.overrides)
    device = torch.device("cuda" if torch.cuda.is_available() else "cpu")
    torch.manual_seed(chosen["seed"])
    rng = torch.Generator(device).manual_seed(chosen["seed"])
    run = Run(given.run, chosen)
    pool = ScenePool(given.shards, chosen["pool"], device)
    pool.refresh()
    sampler = FaceSampler(pool, no_face=chosen["no_face"])
    look_sampler = LookSampler(pool)
    network = Reader(CLASSES).to(device, memory_format=torch.channels_last)
    if given.start:
        network.go_on_from(torch.load(given.start, map_location=device)["network"])
    average = Average(network, chosen["average"])
    steps = optimizer(network, chosen["rate"], chosen["decay"])
    step, refreshed, reported = 0, run.seconds, run.seconds
    while (gone := run.seconds / 60 / chosen["minutes"]) < 1:
        for group in steps.param_groups:
            group["lr"] = rate_at(gone, chosen["rate"])
        faces = sampler.draw(chosen["batch"], jitter=chosen["jitter"], ripple=chosen["ripple"], rng=rng)
        looks = look_sampler.draw(chosen["groups"], jitter=chosen["jitter"], ripple=chosen["ripple"], rng=rng)
        sharp = torch.cat((reinked(faces.pictures, rng), looks.pictures))
        pictures = relit(unsharp(sharp, rng, strength=0.6), rng, strength=0.6).permute(0, 2, 3, 1)
        with torch.autocast(device.type, torch.bfloat16):
            logits, turned, embeddings = network(pictures)
        named = len(faces.labels)
        apart = contrast(embeddings[named:].view(-1, 2 * TILES, EMBEDDING), looks.looks, looks.faces)
        too_sure = certainty(logits[named:].float(), looks.faces.flatten())
        logits = logits[:named].float()
        total = loss(logits, turned[:named].float(), faces.labels, faces.upside_down)
        total = total + chosen["look"] * apart + chosen["even"] * too_sure
        steps.zero_grad(set_to_none=True)
        total.backward()
        torch.nn.utils.clip_grad_norm_(network.parameters(), 5.0)
        steps.step()
        average.update(network)
        step += 1
        if run.seconds - refreshed > 8 and pool.refresh(most=60):
            sampler.update()
            look_sampler.update()
            refreshed = run.seconds
        if run.seconds - reported > 15:
            reported = run.seconds
            right = (logits.argmax(-1) == faces.labels).float().mean().item()
            run.log(step=step, scenes=pool.filled, loss=total.item(), right=right, apart=apart.item(), too_sure=too_sure.item())
    network.load_state_dict(average.state)
    network.eval()
    temperature = 1.0
    if given.held_out:
        held_out = ScenePool.whole(given.held_out, device)
        logits, labels = answers(network, held_out, rng)
        temperature = best_temperature(logits, labels)
        right = (logits.argmax(-1) == labels).float()
        nearest = nearest_right(network, held_out, rng)
        run.finish(steps=step, held_out_right=right.mean().item(), temperature=temperature, nearest_right=nearest)
        confusions(logits, labels, run.folder / "confusions.txt")
        # What calibration and the engine's idea of "sure" are checked with, away from the accelerator.
        stored = {"logits": logits.half().cpu().numpy(), "labels": labels.byte().cpu().numpy()}
        np.savez_compressed(run.folder / "held-out.npz", **stored)
    torch.save({"network": average.state, "temperature": temperature}, run.folder / "weights.pt")


def loss(logits: Tensor, turned: Tensor, labels: Tensor, upside_down: Tensor) -> Tensor:
    """Cross entropy of the face plus that of the way up, which is only asked of real faces."""
    way_up = F.binary_cross_entropy_with_logits(turned, upside_down.float(), reduction="none")
    return F.cross_entropy(logits, labels) + 0.3 * (way_up * (labels != NO_FACE)).mean()


@torch.no_grad()
def answers(network: Reader, pool: ScenePool, rng: torch.Generator, *, batches: int = 40) -> tuple[Tensor, Tensor]:
    """Logits and labels of faces in artwork and light unseen in training."""
    sampler = FaceSampler(pool, no_face=0.05)
    logits, labels = [], []
    for _ in range(batches):
        faces = sampler.draw(512, jitter=0.015, ripple=0.0, rng=rng)
        logits.append(network(relit(faces.pictures, rng, strength=0.5).permute(0, 2, 3, 1))[0].float())
        labels.append(faces.labels)
    return torch.cat(logits), torch.cat(labels)


def best_temperature(logits: Tensor, labels: Tensor) -> float:
    """The divisor of the logits that makes confidences honest. Source: Guo et al. 2017, section 4.2."""
    choices = torch.linspace(0.5, 4.0, 71)
    losses = [F.cross_entropy(logits / float(choice), labels).item() for choice in choices]
    return float(choices[losses.index(min(losses))])


def confusions(logits: Tensor, labels: Tensor, path: Path) -> None:
    """Write each class's share of right answers and its commonest wrong ones."""
    from tilewitness.engine.faces import NAMES

    names = [*NAMES, "no face"]
    said = logits.argmax(-1)
    lines = []
    for label, name in enumerate(names):
        mine = said[labels == label]
        if not len(mine):
            continue
        wrong = torch.bincount(mine[mine != label], minlength=CLASSES)
        worst = wrong.argsort(descending=True)[:4].tolist()
        listed = ", ".join(f"{names[i]} {int(wrong[i])}" for i in worst if wrong[i])
        lines.append(f"{name:14s} {(mine == label).float().mean().item():.4f} of {len(mine):5d}   {listed}")
    path.write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
