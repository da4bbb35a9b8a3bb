"""The general model in PyTorch, to be trained."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import torch
from numpy.typing import NDArray
from torch import Tensor, nn
from transformers import MoonshineConfig, MoonshineForConditionalGeneration

from joblog.speech.tokens import BEGIN, END
from joblog.speech.training.general.shape import (
    BASE,
    HEADS,
    ROTARY,
    STRIDES,
    WIDTHS,
    frames,
    layers,
)
from joblog.speech.training.general.weights import EMBEDDING

STEP = math.prod(STRIDES)
"""Samples from one frame of the encoder to the next."""


def torch_model(state: Mapping[str, NDArray[np.float32]]) -> Any:
    """A `MoonshineForConditionalGeneration` with the sizes and the weights of a state.

    Give it sounds by `batch`, so that what pads them does not count.
    """
    rows, hidden = state[EMBEDDING].shape
    config = MoonshineConfig(
        vocab_size=rows,
        hidden_size=hidden,
        intermediate_size=len(state["model.encoder.layers.0.mlp.fc1.weight"]),
        encoder_num_hidden_layers=layers(state, "encoder"),
        decoder_num_hidden_layers=layers(state, "decoder"),
        rope_parameters={
            "rope_type": "default",
            "rope_theta": BASE,
            "partial_rotary_factor": (ROTARY + 0.5) / (hidden // HEADS),
        },
        bos_token_id=BEGIN,
        decoder_start_token_id=BEGIN,
        eos_token_id=END,
        pad_token_id=END,
    )
    model = MoonshineForConditionalGeneration(config).eval()
    model.model.encoder.groupnorm = _SoundNorm(1, hidden)
    held = {name: torch.tensor(value) for name, value in state.items()}
    held["proj_out.weight"] = held[EMBEDDING]
    model.load_state_dict(held)
    model.tie_weights()
    return model


def state_of(model: Any) -> dict[str, NDArray[np.float32]]:
    """The state of a model, to be packed."""
    return {
        name: value.detach().float().cpu().numpy()
        for name, value in model.state_dict().items()
        if name != "proj_out.weight"
    }


def batch(model: Any, sounds: Sequence[NDArray[np.float32]]) -> dict[str, Tensor]:
    """`input_values` and `attention_mask` for the model's next call, on its device.

    The sounds are mono at 16 kHz, padded with zeros to the longest; each is heard as it would be
    alone. They must be at least a quarter of a second long.
    """
    values = torch.zeros(len(sounds), max(map(len, sounds)))
    mask = torch.zeros(values.shape, dtype=torch.long)
    for row, sound in enumerate(sounds):
        values[row, : len(sound)] = torch.as_tensor(np.asarray(sound, np.float32))
        # The encoder takes every STEP-th place of the mask as that of a frame.
        mask[row, : STEP * (frames(len(sound)) - 1) + 1] = 1
    norm = model.model.encoder.groupnorm
    real = [(len(sound) - WIDTHS[0]) // STRIDES[0] + 1 for sound in sounds]
    norm.frames = torch.tensor(real, device=model.device)
    return {"input_values": values.to(model.device), "attention_mask": mask.to(model.device)}


class _SoundNorm(nn.GroupNorm):
    """The norm over a whole sound; the padding behind `frames` does not count."""

    frames: Tensor | None = None

    def forward(self, held: Tensor) -> Tensor:
        if self.frames is None or len(self.frames) != len(held):
            return super().forward(held)
        places = torch.arange(held.shape[2], device=held.device)
        real = (places < self.frames[:, None])[:, None].float()
        count = (self.frames * held.shape[1]).float()
        sound = held.float() * real
        mean = (sound.sum((1, 2)) / count)[:, None, None]
        spread = (((sound - mean) * real).square().sum((1, 2)) / count)[:, None, None]
        level = (held.float() - mean) * torch.rsqrt(spread + self.eps)
        return (level * self.weight[:, None] + self.bias[:, None]).to(held.dtype)
