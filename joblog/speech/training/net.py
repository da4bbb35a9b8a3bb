"""The network: a factored time-delay network over forty cepstra, one output every third frame.

Povey and others, "Semi-orthogonal low-rank matrix factorization for deep neural networks", 2018,
without the orthogonality, which short training does not miss.
"""

from __future__ import annotations

from typing import Any

import torch
from torch import Tensor, nn
from torch.nn import functional

from joblog.speech.training.features import BANDS
from joblog.speech.training.units import OUTPUTS

EVERY = 3
"""Frames of features for each frame of outputs."""
BYPASS = 0.66
"""How much of a layer's input is added to its output."""


class Net(nn.Module):
    """`forward` gives scores for LF-MMI and, from a second head, log-probabilities of outputs."""

    def __init__(
        self,
        entry: int = 256,
        width: int = 512,
        narrow: int = 128,
        layers: int = 8,
        last: int = 256,
    ) -> None:
        super().__init__()
        self.shape = {
            "entry": entry, "width": width, "narrow": narrow, "layers": layers, "last": last
        }  # fmt: skip
        self.mean: Tensor
        self.spread: Tensor
        self.register_buffer("mean", torch.zeros(BANDS))
        self.register_buffer("spread", torch.ones(BANDS))
        self.entries = nn.ModuleList(
            [
                nn.Conv1d(BANDS, entry, 3),
                nn.Conv1d(entry, entry, 3),
                nn.Conv1d(entry, width, 3, EVERY),
            ]
        )
        self.entry_norms = nn.ModuleList([_norm(size) for size in (entry, entry, width)])
        self.down = nn.ModuleList([nn.Conv1d(width, narrow, 2, bias=False) for _ in range(layers)])
        self.up = nn.ModuleList([nn.Conv1d(narrow, width, 2) for _ in range(layers)])
        self.norms = nn.ModuleList([_norm(width) for _ in range(layers)])
        self.before = nn.Conv1d(width, last, 1)
        self.before_norm = _norm(last)
        self.scores = nn.Conv1d(last, OUTPUTS, 1)
        self.chances = nn.Conv1d(last, OUTPUTS, 1)
        for head in (self.scores, self.chances):
            nn.init.zeros_(head.weight)
            nn.init.zeros_(head.bias)

    @property
    def context(self) -> int:
        """Frames of features that the first and last output see on either side."""
        return 3 + EVERY * len(self.down)

    def forward(self, cepstra: Tensor, drop: float = 0.0) -> tuple[Tensor, Tensor]:
        """(recordings, frames, 40) with `context` frames more on either side becomes two tensors
        (recordings, a third of the frames, outputs)."""
        flow = ((cepstra - self.mean) / self.spread).transpose(1, 2)
        for layer, norm in zip(self.entries, self.entry_norms, strict=True):
            flow = norm(functional.relu(layer(flow)))
        for down, up, norm in zip(self.down, self.up, self.norms, strict=True):
            new = norm(functional.relu(up(down(flow))))
            new = functional.dropout(new, drop, self.training)
            flow = new + BYPASS * flow[:, :, 1:-1]
        flow = self.before_norm(functional.relu(self.before(flow)))
        return (
            self.scores(flow).transpose(1, 2),
            functional.log_softmax(self.chances(flow).float(), 1).transpose(1, 2),
        )


def surrounded(cepstra: Tensor, lengths: Tensor, context: int) -> tuple[Tensor, Tensor]:
    """Cepstra with the first and the last frame of each recording repeated around it, as Kaldi
    does it, and how many frames of outputs each recording has."""
    outputs = (lengths + EVERY - 1) // EVERY
    frames = EVERY * int(outputs.max()) - 2 + 2 * context
    at = torch.arange(frames, device=cepstra.device)[None] - context
    at = torch.minimum(at.clamp(min=0), (lengths - 1)[:, None])
    return cepstra.gather(1, at[..., None].expand(-1, -1, cepstra.shape[2])), outputs


def saved(net: Net) -> dict[str, Any]:
    return {"shape": net.shape, "weights": net.state_dict()}


def restored(saved: dict[str, Any]) -> Net:
    net = Net(**saved["shape"])
    net.load_state_dict(saved["weights"])
    return net


def _norm(size: int) -> nn.BatchNorm1d:
    return nn.BatchNorm1d(size, affine=False)
