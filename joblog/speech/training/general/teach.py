"""Teaches the general model, on a GPU where there is one.

    python -m joblog.speech.training.general.teach STATE INTO --sound FOLDER [--sound ...]
                                     --seconds 600 [--judge FOLDER ...] [--rate 1e-4]

STATE holds the weights to begin with, as `weights.pack` writes them; INTO gets those that were
learned, averaged over the last steps. Each recording is heard with another speed, room, microphone,
noise and level every time, as `augment` makes them; what is said is written in lower case, numbers
as words, without punctuation. Word errors on the packs of `--judge`, clean and with noise 10 dB
below, are printed before, at times, and after.
"""

from __future__ import annotations

import argparse
import math
import random
import shutil
import time
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import Any

import numpy as np
import torch
from numpy.typing import NDArray
from torch import Tensor
from torch.nn import functional

from joblog.speech.tokens import BEGIN, END, cut, numbered, read_pieces, write_out
from joblog.speech.training import augment
from joblog.speech.training.features import RATE
from joblog.speech.training.general.net import batch as padded
from joblog.speech.training.general.net import state_of, torch_model
from joblog.speech.training.general.weights import pack, unpack
from joblog.speech.training.recordings import Batches, Utterance, _Recording, load, pieces_of

RATE_OF_LEARNING = 1e-4
WARM = 100
"""Steps until the full rate of learning."""
AVERAGED = 0.35
"""Share of the training, its end, over which weights are averaged."""
SMOOTHED = 0.03
"""Probability given away to all other pieces, so that the model stays unsure where it may be."""
SILENT = 0.03
"""Share of the recordings that hold noise alone, and no word."""
LARGEST_STEP = 1.0
TOLD_EVERY, JUDGED_EVERY = 50, 120.0
"""Steps, and seconds."""


@dataclass(frozen=True)
class Taught:
    """Recordings to join, how many samples each has, and the tokens of what is said in it."""

    pieces: augment.Pieces
    lengths: Tensor
    tokens: Tensor
    """(recordings, longest) from the first to the end token; -100 after it."""


class Lessons(Batches):
    """Batches of recordings with the tokens of their words."""

    def __init__(
        self, utterances: Sequence[Utterance], pieces: Sequence[bytes], samples: int, seed: int
    ) -> None:
        super().__init__(utterances, {}, None, samples, seed)  # type: ignore[arg-type]
        self._numbers = numbered(pieces)

    def _recording(self, draw: random.Random) -> _Recording | None:
        one = super()._recording(draw)
        if one is None or draw.random() >= SILENT:
            return one
        return replace(one, pieces=tuple(replace(piece, gain=0.0) for piece in one.pieces), text=())

    def _can_be_said(self, text: Sequence[str], samples: int) -> bool:
        return True

    def _word(self, word: str, kind: str, draw: random.Random) -> str:
        return word

    def _batch(self, recordings: Sequence[_Recording]) -> Taught:  # type: ignore[override]
        lines = [self._tokens(" ".join(one.text)) for one in recordings]
        lengths = torch.tensor([one.samples for one in recordings])
        return Taught(pieces_of(recordings), lengths, _padded(lines))

    def _tokens(self, text: str) -> list[int]:
        return [BEGIN, *(cut(text, self._numbers) if text else ()), END]


def main() -> None:
    ask = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    ask.add_argument("state", type=Path)
    ask.add_argument("into", type=Path)
    ask.add_argument("--sound", type=Path, action="append", required=True)
    ask.add_argument("--judge", type=Path, action="append", default=[])
    ask.add_argument("--seconds", type=float, default=600.0, help="of training")
    ask.add_argument("--minutes", type=float, default=12.0, help="of sound in a batch")
    ask.add_argument("--rate", type=float, default=RATE_OF_LEARNING, help="of learning, at most")
    ask.add_argument("--workers", type=int, default=6)
    given = ask.parse_args()
    teach(
        given.state, given.into, given.sound, given.judge, given.seconds, given.minutes,
        given.rate, given.workers,
    )  # fmt: skip


def teach(
    state: Path,
    into: Path,
    folders: Sequence[Path],
    judges: Sequence[Path],
    seconds: float,
    minutes: float = 12.0,
    rate: float = RATE_OF_LEARNING,
    workers: int = 0,
) -> None:
    """Teaches for `seconds` and writes the averaged weights."""
    device = torch.device("cuda" if torch.cuda.is_available() else "cpu")
    torch.manual_seed(0)
    pieces = read_pieces(state / "pieces.bin")
    model = torch_model(unpack(state)).to(device)
    store, utterances = load(folders)
    hours = sum(one.length for one in utterances) / RATE / 3600
    print(f"{len(utterances)} utterances, {hours:.1f} hours", flush=True)
    lessons = Lessons(utterances, pieces, round(minutes * 60 * RATE), 1)
    loader = iter(
        torch.utils.data.DataLoader(
            lessons, batch_size=None, num_workers=workers, prefetch_factor=3 if workers else None
        )
    )
    judged = [(folder.name, *load([folder])) for folder in judges]
    _judge(model, judged, pieces, device, "before")
    school = _School(model, store.to(device), device, rate)
    began = told = looked = time.monotonic()
    while (share := (time.monotonic() - began) / seconds) < 1:
        school.step(next(loader), share)
        if school.steps % TOLD_EVERY == 0:
            took, told = time.monotonic() - told, time.monotonic()
            print(
                f"step {school.steps}: loss {school.loss:.3f}, {took / TOLD_EVERY:.3f} s a step",
                flush=True,
            )
        if time.monotonic() - looked > JUDGED_EVERY:
            spent = time.monotonic()
            _judge(model, judged, pieces, device, f"step {school.steps}", most=96)
            began += time.monotonic() - spent
            looked = told = time.monotonic()
    model.load_state_dict(school.averaged())
    pack(state_of(model), into)
    shutil.copy(state / "pieces.bin", into)
    _judge(model, judged, pieces, device, f"after {school.steps} steps, averaged")


class _School:
    """The model, its optimizer, and what a step needs."""

    def __init__(self, model: Any, store: Tensor, device: torch.device, rate: float) -> None:
        self.steps = 0
        self.loss = 0.0
        self._model = model
        self._store = store
        self._device = device
        self._rate = rate
        self._draw = torch.Generator(device)
        self._draw.manual_seed(3)
        self._mean: dict[str, Tensor] = {}
        self._summed = 0
        norms = [one for one in model.parameters() if one.ndim < 2]
        others = [one for one in model.parameters() if one.ndim >= 2]
        self._optimizer = torch.optim.AdamW(
            [{"params": others, "weight_decay": 0.01}, {"params": norms, "weight_decay": 0.0}],
            rate,
            (0.9, 0.98),
        )

    def step(self, batch: Taught, share: float) -> None:
        """One step; `share` is how much of the time is spent."""
        for group in self._optimizer.param_groups:
            # A cosine that stays at a fifth while weights are averaged.
            falling = 0.2 + 0.8 * 0.5 * (1 + math.cos(math.pi * min(1, share / (1 - AVERAGED))))
            group["lr"] = self._rate * min(1.0, (self.steps + 1) / WARM) * falling
        sound = self._sound(batch)
        tokens = batch.tokens.to(self._device)
        self._model.train()
        with torch.autocast(self._device.type, torch.bfloat16, self._device.type == "cuda"):
            logits = self._model(
                sound, decoder_input_ids=tokens[:, :-1].clamp(min=0), use_cache=False
            ).logits
        loss = functional.cross_entropy(
            logits.float().flatten(0, 1),
            tokens[:, 1:].flatten(),
            ignore_index=-100,
            label_smoothing=SMOOTHED,
        )
        self._optimizer.zero_grad(set_to_none=True)
        loss.backward()
        norm = torch.nn.utils.clip_grad_norm_(self._model.parameters(), LARGEST_STEP)
        if torch.isfinite(norm):
            self._optimizer.step()
        self.steps += 1
        if self.steps % 10 == 0:
            self.loss = 0.9 * self.loss + 0.1 * loss.item() if self.loss else loss.item()
        if share > 1 - AVERAGED and self.steps % 5 == 0:
            self._average()

    def averaged(self) -> dict[str, Tensor]:
        """The mean of the last weights, or those of now where the end was not come to."""
        if not self._summed:
            self._average()
        return self._mean

    def _average(self) -> None:
        self._summed += 1
        for name, value in self._model.state_dict().items():
            value = value.detach().float()
            if name in self._mean:
                self._mean[name] += (value - self._mean[name]) / self._summed
            else:
                self._mean[name] = value.clone()

    @torch.no_grad()
    def _sound(self, batch: Taught) -> Tensor:
        parts = (getattr(batch.pieces, one.name) for one in fields(augment.Pieces))
        pieces = augment.Pieces(*(part.to(self._device) for part in parts))
        samples = -(-int(batch.lengths.max()) // 1920) * 1920
        sound, spoken = augment.joined(self._store, pieces, samples, self._draw)
        return augment.recorded(sound, spoken, self._draw) / augment.LOUDEST


def _padded(lines: Sequence[Sequence[int]]) -> Tensor:
    longest = max(map(len, lines))
    return torch.tensor([[*line, *[-100] * (longest - len(line))] for line in lines])


# --- judging ----------------------------------------------------------------------------------


def _judge(
    model: Any,
    judged: Sequence[tuple[str, Tensor, Sequence[Utterance]]],
    pieces: Sequence[bytes],
    device: torch.device,
    when: str,
    most: int = 400,
) -> None:
    """Word errors of the likeliest piece at every step, on so many utterances of each folder."""
    from rapidfuzz.distance import Levenshtein

    model.eval()
    for name, store, every in judged:
        utterances = sorted(every[:: max(1, len(every) // most)], key=lambda one: one.length)
        for noisy in (False, True):
            draw = torch.Generator(device)
            draw.manual_seed(1)
            wrong = said = right = 0
            for at in range(0, len(utterances), 48):
                group = utterances[at : at + 48]
                width = max(one.length for one in group) + RATE // 2
                sound = torch.zeros(len(group), width, device=device)
                for row, one in enumerate(group):
                    whole = store[one.start : one.start + one.length].to(device).float() / 32768
                    sound[row, RATE // 4 : RATE // 4 + one.length] = whole
                if noisy:
                    power = (sound**2).mean(1, keepdim=True).sqrt()
                    sound = sound + power * 10 ** (-10 / 20) * augment._noise(sound, draw)
                heard = [
                    row[: one.length + RATE // 2].cpu().numpy()
                    for row, one in zip(sound, group, strict=True)
                ]
                for one, line in zip(group, greedy(model, heard, pieces), strict=True):
                    errors = Levenshtein.distance(one.words, line.split())
                    wrong, said, right = wrong + errors, said + len(one.words), right + (not errors)
            print(
                f"{when}: {name}, {'10 dB' if noisy else 'clean'}: word errors"
                f" {100 * wrong / said:.1f} %, lines right {100 * right / len(utterances):.1f} %",
                flush=True,
            )


@torch.no_grad()
def greedy(model: Any, sounds: Sequence[NDArray[np.float32]], pieces: Sequence[bytes]) -> list[str]:
    """What the model writes when it takes the likeliest piece every time."""
    heard = padded(model, sounds)
    encoded = model.model.encoder(**heard)
    model.model.encoder.groupnorm.frames = None
    mask = heard["attention_mask"]
    tokens = torch.full((len(sounds), 1), BEGIN, device=model.device)
    done = torch.zeros(len(sounds), dtype=torch.bool, device=model.device)
    for _ in range(8 + int(mask.shape[1] / RATE * 7)):
        out = model(
            encoder_outputs=encoded, attention_mask=mask, decoder_input_ids=tokens, use_cache=False
        )
        best = out.logits[:, -1].argmax(1).masked_fill(done, END)
        tokens = torch.cat([tokens, best[:, None]], 1)
        done |= best == END
        if done.all():
            break
    return [write_out(row, pieces) for row in tokens[:, 1:].tolist()]


if __name__ == "__main__":
    main()
