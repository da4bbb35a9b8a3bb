"""Trains the network, on a GPU where there is one: `python -m joblog.speech.training.train FOLDER`.

    python -m joblog.speech.training.train KEPT --lexicon LEXICON.json --sound FOLDER [--sound ...]
                    --whole SECONDS [--now SECONDS] [--width 512 ...] [--from FINAL.MDL]

KEPT is a folder that holds how far it has come; the same command goes on from there, for `--now`
seconds at a time, until `--whole` seconds were spent. Every file of KEPT stays under 16 MB, so that
it can be carried between machines. LEXICON.json holds the numbers of phones of each word; words
that it lacks are heard as unknown ones. `--from` begins with a model that is trained already.
"""

from __future__ import annotations

import argparse
import json
import random
import time
from collections.abc import Sequence
from dataclasses import fields
from pathlib import Path
from typing import Any

import torch
from torch import Tensor

from joblog.speech.training import augment, features
from joblog.speech.training.lfmmi import (
    PhoneChances,
    Pronunciations,
    mutual_information,
    phone_chances,
)
from joblog.speech.training.net import Net, restored, saved, surrounded
from joblog.speech.training.recordings import Batch, Batches, Utterance, learned, load
from joblog.speech.training.restore import normalised, restore

RATE_OF_LEARNING = 2e-3
WARM = 200
"""Steps until the full rate of learning."""
DROP = 0.1
SECOND_HEAD = 0.15
"""Weight of the second head's cross-entropy (0.3 in the first tenth of the time)."""
SMALL_OUTPUTS = 5e-4
"""Weight of the square of the outputs."""
LARGEST_STEP = 5.0
KEEP_EVERY = 90.0
CLEAN = 300
"""Seconds: how often what was learned is kept, and how much sound tells a model's statistics."""


def main() -> None:
    ask = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    ask.add_argument("kept", type=Path)
    ask.add_argument("--lexicon", type=Path, required=True)
    ask.add_argument("--sound", type=Path, action="append", required=True)
    ask.add_argument("--whole", type=float, required=True)
    ask.add_argument("--now", type=float, default=float("inf"))
    ask.add_argument("--minutes", type=float, default=25.0, help="sound in a batch")
    ask.add_argument("--workers", type=int, default=12)
    ask.add_argument("--rate", type=float, default=RATE_OF_LEARNING, help="of learning, at first")
    ask.add_argument("--from", dest="model", type=Path, help="am/final.mdl of a model")
    for name, size in Net(1, 1, 1, 1, 1).shape.items():
        ask.add_argument(f"--{name}", type=int, help=f"size of the network, {size}")
    given = ask.parse_args()
    sizes = {name: getattr(given, name) for name in Net(1, 1, 1, 1, 1).shape}
    train(
        given.kept,
        read_lexicon(given.lexicon),
        given.sound,
        given.whole,
        given.now,
        given.minutes,
        given.workers,
        {name: size for name, size in sizes.items() if size},
        given.rate,
        given.model,
    )


def train(
    kept: Path,
    words: Pronunciations,
    folders: Sequence[Path],
    whole: float,
    now: float = float("inf"),
    minutes: float = 25.0,
    workers: int = 0,
    sizes: dict[str, int] | None = None,
    rate: float = RATE_OF_LEARNING,
    model: Path | None = None,
) -> None:
    """Trains until `whole` seconds were spent in all, or `now` seconds in this call; from a
    `model` on where nothing is kept yet."""
    began = time.monotonic()
    device = torch.device("cuda" if torch.cuda.is_available() else "cpu")
    torch.manual_seed(0)
    store, utterances = load(folders)
    hours = len(store) / features.RATE / 3600
    voices = len({one.voice for one in utterances})
    print(f"{len(utterances)} utterances, {hours:.1f} hours, {voices} voices", flush=True)
    chances = phone_chances(_texts(utterances, words), words)
    state = _taught(model, store) if model and not _is_kept(kept) else _begun(kept, sizes or {})
    batches = Batches(
        utterances, words, chances, round(minutes * 60 * features.RATE), state["steps"]
    )
    loader = iter(
        torch.utils.data.DataLoader(
            batches, batch_size=None, num_workers=workers, prefetch_factor=3 if workers else None
        )
    )
    run = _Run(state, store.to(device), chances.to(device), device, rate)
    print(f"{sum(one.numel() for one in run.net.parameters())} weights on {device}", flush=True)
    before = state["spent"]
    kept_at = time.monotonic()
    print(f"ready after {kept_at - began:.0f} s", flush=True)
    began = kept_at
    while True:
        state["spent"] = before + time.monotonic() - began
        if state["spent"] >= whole or state["spent"] - before >= now:
            break
        run.step(next(loader), min(1.0, state["spent"] / whole))
        if time.monotonic() - kept_at > KEEP_EVERY:
            kept_at = time.monotonic()
            _keep(kept, run)
    _keep(kept, run)
    print(f"stopped after {state['steps']} steps, {state['spent']:.0f} s in all", flush=True)


def read_lexicon(path: Path) -> Pronunciations:
    rows = json.loads(path.read_text("utf-8"))
    return {word: tuple(map(tuple, forms)) for word, forms in rows.items()}


def trained(kept: Path) -> Net:
    """The network of a folder."""
    net = restored(torch.load(kept / "net.pt", "cpu", weights_only=True))
    net.eval()
    return net


class _Run:
    """The network, its optimizer, and what a step needs."""

    def __init__(
        self,
        state: dict[str, Any],
        store: Tensor,
        chances: PhoneChances,
        device: torch.device,
        rate: float,
    ) -> None:
        self.state = state
        self._rate = rate
        self.net: Net = state["net"].to(device)
        self.optimizer = torch.optim.AdamW(
            self.net.parameters(), RATE_OF_LEARNING, (0.9, 0.98), weight_decay=1e-3
        )
        if state["moments"]:
            _set_moments(self.optimizer, state["moments"], device)
        self._store = store
        self._chances = chances
        self._device = device
        self._draw = torch.Generator(device)
        self._draw.manual_seed(state["steps"])
        self._sums = torch.zeros(3, device=device)
        self._since = time.monotonic()
        self._heard = 0.0

    def step(self, batch: Batch, share: float) -> None:
        """One step; `share` is how much of the time is spent."""
        for group in self.optimizer.param_groups:
            warm = min(1.0, (self.state["steps"] + 1) / WARM)
            group["lr"] = self._rate * (warm * (1 - share) + 0.01)
        cepstra, lengths = self._features(batch)
        self.net.train()
        around, outputs = surrounded(cepstra, lengths, self.net.context)
        with torch.autocast(self._device.type, torch.bfloat16, self._device.type == "cuda"):
            scores, second = self.net(around, DROP)
        scores = scores.float()
        gain, shares = mutual_information(
            scores, outputs, batch.said.to(self._device), self._chances
        )
        known = torch.arange(scores.shape[1], device=self._device)[None] < outputs[:, None]
        frames = outputs.sum()
        information = gain.sum() / frames
        entropy = -(shares * second).sum() / frames
        size = ((scores**2).mean(2) * known).sum() / frames
        weight = 0.3 if share < 0.1 else SECOND_HEAD
        loss = weight * entropy + SMALL_OUTPUTS * size - information
        self.optimizer.zero_grad(set_to_none=True)
        loss.backward()
        norm = torch.nn.utils.clip_grad_norm_(self.net.parameters(), LARGEST_STEP)
        if torch.isfinite(norm):
            self.optimizer.step()
        self.state["steps"] += 1
        self._tell(batch, information.detach(), entropy.detach(), norm)

    def _features(self, batch: Batch) -> tuple[Tensor, Tensor]:
        with torch.no_grad():
            pieces = augment.Pieces(
                *(
                    getattr(batch.pieces, one.name).to(self._device)
                    for one in fields(augment.Pieces)
                )
            )
            samples = -(-int(batch.lengths.max()) // 4000) * 4000
            sound, spoken = augment.joined(self._store, pieces, samples, self._draw)
            sound = augment.recorded(sound, spoken, self._draw)
            edges = augment.throats(len(sound), sound, self._draw)
            bands = augment.masked(features.log_bands(sound, edges), self._draw)
            cepstra = features.from_log_bands(bands)
            lengths = ((batch.lengths - features.WINDOW) // features.STEP + 1).to(self._device)
            if self.state["steps"] == 0:
                known = torch.arange(cepstra.shape[1], device=self._device) < lengths[:, None]
                self.net.mean.copy_(cepstra[known].mean(0))
                self.net.spread.copy_(cepstra[known].std(0))
        return cepstra, lengths

    def _tell(self, batch: Batch, information: Tensor, entropy: Tensor, norm: Tensor) -> None:
        self._sums += torch.stack([information, entropy, norm])
        self._heard += float(batch.lengths.sum()) / features.RATE / 3600
        if self.state["steps"] % 50 == 0:
            gain, entropy_of, norm_of = (self._sums / 50).tolist()
            took = time.monotonic() - self._since
            print(
                f"step {self.state['steps']}: information {gain:.4f}, cross-entropy"
                f" {entropy_of:.3f}, gradient {norm_of:.2f}, {took / 50:.3f} s a step,"
                f" {self._heard:.1f} hours",
                flush=True,
            )
            self._sums.zero_()
            self._since, self._heard = time.monotonic(), 0.0


def _texts(utterances: Sequence[Utterance], words: Pronunciations) -> list[tuple[str, ...]]:
    """What is said, with some words as unknown as in the batches."""
    draw = random.Random(0)
    return [tuple(learned(word, one.kind, words, draw) for word in one.words) for one in utterances]


def _taught(model: Path, store: Tensor) -> dict[str, Any]:
    """A model that is trained already, with the statistics of some of the sound; one step is
    counted, because the first one would set them."""
    sound = store[: CLEAN * features.RATE].float()
    sound = sound + torch.randn(sound.shape, generator=torch.Generator().manual_seed(0))
    cepstra = features.cepstra(sound[None])[0]
    net = normalised(restore(model), cepstra.mean(0), cepstra.std(0))
    return {"net": net, "steps": 1, "spent": 0.0, "moments": None}


def _is_kept(kept: Path) -> bool:
    return (kept / "net.pt").is_file()


def _begun(kept: Path, sizes: dict[str, int]) -> dict[str, Any]:
    if not _is_kept(kept):
        return {"net": Net(**sizes), "steps": 0, "spent": 0.0, "moments": None}
    so_far = json.loads((kept / "progress.json").read_text("utf-8"))
    moments = [
        torch.load(kept / f"moment{number}.pt", "cpu", weights_only=True) for number in (1, 2)
    ]
    net = restored(torch.load(kept / "net.pt", "cpu", weights_only=True))
    return {"net": net, "moments": moments if moments[0] else None, **so_far}


def _keep(kept: Path, run: _Run) -> None:
    kept.mkdir(parents=True, exist_ok=True)
    weights = saved(run.net)
    torch.save(weights, kept / "net.pt")
    for number, name in ((1, "exp_avg"), (2, "exp_avg_sq")):
        rows = [
            run.optimizer.state[one][name].to(torch.bfloat16).cpu()
            for one in run.net.parameters()
            if one in run.optimizer.state
        ]
        torch.save(rows, kept / f"moment{number}.pt")
    so_far = {name: run.state[name] for name in ("steps", "spent")}
    (kept / "progress.json").write_text(json.dumps(so_far), "utf-8")


def _set_moments(
    optimizer: torch.optim.Optimizer, moments: Sequence[Sequence[Tensor]], device: torch.device
) -> None:
    for group in optimizer.param_groups:
        for one, first, second in zip(group["params"], *moments, strict=True):
            optimizer.state[one] = {
                "step": torch.tensor(1000.0),
                "exp_avg": first.float().to(device),
                "exp_avg_sq": second.float().to(device),
            }


if __name__ == "__main__":
    main()
