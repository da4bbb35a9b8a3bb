"""Writes a trained network as Kaldi's am/final.mdl: transition model, nnet3, contexts, priors.

Binary, with matrices of 16 bits a number (Kaldi's compressed matrices, which it reads wherever it
reads matrices): half the size, and no difference that decoding could tell.
"""

from __future__ import annotations

import io
import math
import struct
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from torch import Tensor, nn

from joblog.speech.training.features import BANDS
from joblog.speech.training.net import BYPASS, EVERY, Net
from joblog.speech.training.units import KINDS, PLACED, bare

Matrix = NDArray[np.float32]


def export(net: Net, path: Path) -> None:
    """Writes the network, in its state for use, not for training."""
    path.parent.mkdir(parents=True, exist_ok=True)
    file = _Kaldi()
    file.raw(b"\0B")
    _transitions(file)
    _network(file, net.cpu().eval())
    path.write_bytes(file.written())


def transition_states() -> list[tuple[int, int]]:
    """Placed phone and kind of the sound before it, in the order of Kaldi's transition states.

    Of the n-th state, counted from 1, staying is transition 2n - 1 and leaving is 2n, because that
    is their order in the topology. Leaving scores a phone's first frame and staying every later
    one, which in a graph therefore comes after it.
    """
    return [(phone, kind) for phone in range(1, len(PLACED)) for kind in range(len(KINDS))]


class _Kaldi:
    """Kaldi's binary form."""

    def __init__(self) -> None:
        self._file = io.BytesIO()

    def written(self) -> bytes:
        return self._file.getvalue()

    def raw(self, what: bytes) -> None:
        self._file.write(what)

    def mark(self, name: str) -> None:
        self.raw(f"{name} ".encode())

    def whole(self, number: int) -> None:
        self.raw(b"\x04" + struct.pack("<i", number))

    def real(self, number: float) -> None:
        self.raw(b"\x04" + struct.pack("<f", number))

    def double(self, number: float) -> None:
        self.raw(b"\x08" + struct.pack("<d", number))

    def true(self) -> None:
        self.raw(b"T")

    def wholes(self, numbers: Sequence[int]) -> None:
        self.whole(len(numbers))
        self.raw(np.asarray(numbers, "<i4").tobytes())

    def vector(self, numbers: Matrix) -> None:
        self.mark("FV")
        self.whole(len(numbers))
        self.raw(np.asarray(numbers, "<f4").tobytes())

    def matrix(self, numbers: Matrix) -> None:
        """Evenly spaced 65 536 values between the smallest and the largest."""
        low, span = float(numbers.min()), float(np.ptp(numbers)) or 1e-6
        self.mark("CM2")
        self.raw(struct.pack("<ffii", low, span, *numbers.shape))
        steps = np.round((numbers.astype(np.float64) - low) / span * 65535)
        self.raw(np.clip(steps, 0, 65535).astype("<u2").tobytes())


def _transitions(file: _Kaldi) -> None:
    """One topology for all phones: a state that is left and stayed in alike."""
    phones = list(range(1, len(PLACED)))
    file.mark("<TransitionModel>")
    file.mark("<Topology>")
    file.wholes(phones)
    file.wholes([-1] + [0] * len(phones))
    # First frame and later ones have outputs of their own, then one entry of two states.
    file.whole(-1)
    file.whole(1)
    file.whole(2)
    file.whole(0)
    file.whole(1)
    file.whole(2)
    for to in (0, 1):
        file.whole(to)
        file.real(0.5)
    file.whole(-1)
    file.whole(-1)
    file.whole(0)
    file.mark("</Topology>")
    states = transition_states()
    file.mark("<Tuples>")
    file.whole(len(states))
    for phone, kind in states:
        first = 2 * (bare(phone) * len(KINDS) + kind)
        for number in (phone, 0, first, first + 1):
            file.whole(number)
    file.mark("</Tuples>")
    file.mark("<LogProbs>")
    file.vector(np.array([0.0] + [math.log(0.5)] * (2 * len(states)), np.float32))
    file.mark("</LogProbs>")
    file.mark("</TransitionModel>")


def _network(file: _Kaldi, net: Net) -> None:
    parts = _Parts()
    flow = "input"
    for number, (layer, norm) in enumerate(zip(net.entries, net.entry_norms, strict=True), 1):
        weights, bias = _affine(layer)
        if number == 1:
            weights, bias = _on_raw_features(weights, bias, net)
        name = f"entry{number}"
        spliced = f"Append(Offset({flow}, -1), {flow}, Offset({flow}, 1))"
        flow = parts.rectified(name, weights, bias, norm, spliced)
    for number, (down, up, norm) in enumerate(zip(net.down, net.up, net.norms, strict=True), 1):
        name = f"layer{number}"
        narrow = parts.affine(
            f"{name}.down", *_affine(down), f"Append(Offset({flow}, -{EVERY}), {flow})"
        )
        new = parts.rectified(
            name, *_affine(up), norm, f"Append({narrow}, Offset({narrow}, {EVERY}))"
        )
        flow = parts.same(
            f"{name}.sum", len(norm.running_mean), f"Sum(Scale({BYPASS}, {flow}), {new})"
        )
    flow = parts.rectified("before", *_affine(net.before), net.before_norm, flow)
    flow = parts.affine("scores", *_affine(net.scores), flow)
    lines = [
        f"input-node name=input dim={BANDS}",
        *parts.nodes,
        f"output-node name=output input={flow} objective=linear",
    ]
    file.mark("<Nnet3>")
    file.raw(("\n" + "\n".join(lines) + "\n\n").encode())
    file.mark("<NumComponents>")
    file.whole(len(parts.written))
    for name, written in parts.written:
        file.mark("<ComponentName>")
        file.mark(name)
        file.raw(written)
    file.mark("</Nnet3>")
    for side in ("<LeftContext>", "<RightContext>"):
        file.mark(side)
        file.whole(net.context)
    file.mark("<Priors>")
    file.vector(np.zeros(0, np.float32))


class _Parts:
    """Kaldi's components and the nodes that use them; each method gives its node's name."""

    def __init__(self) -> None:
        self.nodes: list[str] = []
        self.written: list[tuple[str, bytes]] = []

    def rectified(self, name: str, weights: Matrix, bias: Matrix, norm: Any, source: str) -> str:
        before = self.affine(f"{name}.affine", weights, bias, source)
        relu = _Kaldi()
        relu.mark("<RectifiedLinearComponent>")
        relu.mark("<Dim>")
        relu.whole(len(bias))
        for statistic in ("<ValueAvg>", "<DerivAvg>"):
            relu.mark(statistic)
            relu.vector(np.zeros(0, np.float32))
        relu.mark("<Count>")
        relu.double(0.0)
        relu.mark("</RectifiedLinearComponent>")
        middle = self._add(f"{name}.relu", relu, before)
        return self._add(f"{name}.norm", _normalised(norm), middle)

    def affine(self, name: str, weights: Matrix, bias: Matrix, source: str) -> str:
        file = _Kaldi()
        file.mark("<AffineComponent>")
        file.mark("<LearningRate>")
        file.real(0.001)
        file.mark("<LinearParams>")
        file.matrix(weights)
        file.mark("<BiasParams>")
        file.vector(bias)
        file.mark("</AffineComponent>")
        return self._add(name, file, source)

    def same(self, name: str, size: int, source: str) -> str:
        file = _Kaldi()
        file.mark("<NoOpComponent>")
        file.mark("<Dim>")
        file.whole(size)
        file.mark("<BackpropScale>")
        file.real(1.0)
        file.mark("</NoOpComponent>")
        return self._add(name, file, source)

    def _add(self, name: str, file: _Kaldi, source: str) -> str:
        self.written.append((name, file.written()))
        self.nodes.append(f"component-node name={name} component={name} input={source}")
        return name


def _normalised(norm: nn.BatchNorm1d) -> _Kaldi:
    mean, spread = _numbers(norm.running_mean), _numbers(norm.running_var)
    file = _Kaldi()
    file.mark("<BatchNormComponent>")
    for name in ("<Dim>", "<BlockDim>"):
        file.mark(name)
        file.whole(len(mean))
    file.mark("<Epsilon>")
    file.real(norm.eps)
    file.mark("<TargetRms>")
    file.real(1.0)
    file.mark("<TestMode>")
    file.true()
    file.mark("<Count>")
    file.double(10_000.0)
    file.mark("<StatsMean>")
    file.vector(mean)
    file.mark("<StatsVar>")
    file.vector(spread)
    file.mark("</BatchNormComponent>")
    return file


def _affine(layer: Any) -> tuple[Matrix, Matrix]:
    """Weights (outputs, frames one after another) and bias of a convolution."""
    weights = _numbers(layer.weight)
    flat = weights.transpose(0, 2, 1).reshape(len(weights), -1)
    bias = np.zeros(len(flat), np.float32) if layer.bias is None else _numbers(layer.bias)
    return flat, bias


def _on_raw_features(weights: Matrix, bias: Matrix, net: Net) -> tuple[Matrix, Matrix]:
    """The same layer for features that are not normalised."""
    frames = weights.shape[1] // BANDS
    scaled = np.asarray(weights / np.tile(_numbers(net.spread), frames), np.float32)
    shift = scaled @ np.tile(_numbers(net.mean), frames)
    return scaled, np.asarray(bias - shift, np.float32)


def _numbers(tensor: Tensor | None) -> Matrix:
    assert tensor is not None
    return np.asarray(tensor.detach().cpu().numpy(), np.float32)
