"""Kaldi's features in PyTorch: forty mel-frequency cepstra for every hundredth of a second.

The same numbers as Kaldi gives with the model's conf/mfcc.conf, for many recordings at once and on
any device; here the mel bands may be shifted, recording by recording, as if another throat spoke.
"""

from __future__ import annotations

import math

import torch
from torch import Tensor

RATE = 16_000
WINDOW = 400
STEP = 160
SPECTRUM = 512
"""Samples of a window, from one to the next, and of its Fourier transform."""
BANDS = 40
LOW, HIGH = 20.0, 7600.0
"""The lowest and highest frequency of the mel bands, in Hz."""
CONF = f"""--use-energy=false
--num-mel-bins={BANDS}
--num-ceps={BANDS}
--low-freq={LOW:g}
--high-freq={HIGH:g}
--allow-upsample=true
--dither=0
"""
"""conf/mfcc.conf of the model."""


def cepstra(sound: Tensor, edges: Tensor | None = None) -> Tensor:
    """Cepstra (recordings, frames, 40) of sound (recordings, samples) of the size of 16-bit whole
    numbers at 16 kHz.

    `edges` are the 42 corners of the mel bands in Hz of each recording, by default Kaldi's.
    """
    return torch.matmul(log_bands(sound, edges), _cosines(sound))


def log_bands(sound: Tensor, edges: Tensor | None = None) -> Tensor:
    """Logarithms of the energy in each mel band, (recordings, frames, 40)."""
    frames = sound.unfold(1, WINDOW, STEP)
    frames = frames - frames.mean(2, keepdim=True)
    before = torch.cat([frames[..., :1], frames[..., :-1]], 2)
    spectrum = torch.fft.rfft((frames - 0.97 * before) * _povey(sound), SPECTRUM)
    power = spectrum.real**2 + spectrum.imag**2
    corners = band_edges(sound.device)[None] if edges is None else edges
    bands = torch.matmul(power, _triangles(corners).transpose(1, 2))
    return bands.clamp(min=torch.finfo(torch.float32).eps).log()


def from_log_bands(bands: Tensor) -> Tensor:
    """The cepstra of such logarithms."""
    return torch.matmul(bands, _cosines(bands))


def band_edges(device: torch.device | str = "cpu") -> Tensor:
    """The 42 corners of Kaldi's 40 mel bands, in Hz."""
    mel = torch.linspace(_mel(LOW), _mel(HIGH), BANDS + 2, device=device)
    return 700.0 * ((mel / 1127.0).exp() - 1.0)


def frames_of(samples: int) -> int:
    """How many frames a recording has."""
    return max(0, (samples - WINDOW) // STEP + 1)


def _triangles(edges: Tensor) -> Tensor:
    """Weights (recordings, 40, 257) of each frequency in each band, straight in mel."""
    mel = 1127.0 * (1.0 + edges / 700.0).log()
    hertz = torch.arange(SPECTRUM // 2 + 1, device=edges.device) * (RATE / SPECTRUM)
    at = 1127.0 * (1.0 + hertz / 700.0).log()
    left, middle, right = (mel[:, skip : skip + BANDS, None] for skip in range(3))
    weights = torch.minimum((at - left) / (middle - left), (right - at) / (right - middle))
    weights[..., -1] = 0.0
    return weights.clamp(min=0.0)


def _mel(hertz: float) -> float:
    return 1127.0 * math.log(1.0 + hertz / 700.0)


def _povey(like: Tensor) -> Tensor:
    turn = torch.arange(WINDOW, device=like.device) * (2 * math.pi / (WINDOW - 1))
    return (0.5 - 0.5 * turn.cos()) ** 0.85


def _cosines(like: Tensor) -> Tensor:
    """The cosine transform with Kaldi's lifter of 22."""
    order = torch.arange(BANDS, device=like.device)
    cosines = torch.cos(math.pi / BANDS * (order[None] + 0.5) * order[:, None])
    cosines *= math.sqrt(2.0 / BANDS)
    cosines[0] = math.sqrt(1.0 / BANDS)
    return (cosines * (1.0 + 11.0 * (math.pi * order / 22.0).sin())[:, None]).T.to(like.dtype)
