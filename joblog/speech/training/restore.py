"""A model's am/final.mdl as a network again, to go on training from: what `export` wrote.

Kept are weights and statistics, to 16 bits. Features are not normalised in it, so that the network
takes them as they are; `normalised` gives them back a mean and a spread. The second head is no part
of the file and begins as the first one, whose scores are nearly the logarithms that it learns.
"""

from __future__ import annotations

import re
import struct
from pathlib import Path
from typing import Any

import numpy as np
import torch
from numpy.typing import NDArray
from torch import Tensor, nn

from joblog.speech.training.net import Net

Matrix = NDArray[np.float32]
Part = dict[str, Any]


def restore(path: Path) -> Net:
    """The network of a file. Raises `ValueError` where another program than `export` wrote it."""
    parts = _parts(path.read_bytes())
    layers = sum(name.endswith(".down") for name in parts)
    width, entry = len(parts["entry3.affine"]["bias"]), len(parts["entry1.affine"]["bias"])
    narrow, last = len(parts["layer1.down"]["bias"]), len(parts["before.affine"]["bias"])
    net = Net(entry, width, narrow, layers, last)
    for number, (layer, norm) in enumerate(zip(net.entries, net.entry_norms, strict=True), 1):
        _fill(layer, norm, parts, f"entry{number}")
    for number, (down, up, norm) in enumerate(zip(net.down, net.up, net.norms, strict=True), 1):
        _fill_affine(down, parts[f"layer{number}.down"])
        _fill(up, norm, parts, f"layer{number}")
    _fill(net.before, net.before_norm, parts, "before")
    for head in (net.scores, net.chances):
        _fill_affine(head, parts["scores"])
    return net


def normalised(net: Net, mean: Tensor, spread: Tensor) -> Net:
    """The network, its outputs unchanged, with these statistics of the features."""
    first: Any = net.entries[0]
    with torch.no_grad():
        raw = first.weight / net.spread[None, :, None]
        first.bias += torch.einsum("oft,f->o", raw, mean - net.mean)
        first.weight.copy_(raw * spread[None, :, None])
        net.mean.copy_(mean)
        net.spread.copy_(spread)
    return net


def _fill(layer: Any, norm: Any, parts: dict[str, Part], name: str) -> None:
    _fill_affine(layer, parts[f"{name}.affine"])
    with torch.no_grad():
        norm.running_mean.copy_(torch.from_numpy(parts[f"{name}.norm"]["mean"]))
        norm.running_var.copy_(torch.from_numpy(parts[f"{name}.norm"]["variance"]))


def _fill_affine(layer: nn.Module, part: Part) -> None:
    """Weights (outputs, frames one after another) as those of a convolution."""
    convolution: Any = layer
    outputs, inputs, frames = convolution.weight.shape
    weights = part["weights"].reshape(outputs, frames, inputs).transpose(0, 2, 1)
    with torch.no_grad():
        convolution.weight.copy_(torch.from_numpy(np.ascontiguousarray(weights)))
        if convolution.bias is not None:
            convolution.bias.copy_(torch.from_numpy(part["bias"]))


def _parts(written: bytes) -> dict[str, Part]:
    """The components with numbers in them, by name."""
    begin = re.search(rb"<NumComponents> \x04(.{4})", written, re.DOTALL)
    if not begin or b"<ComponentName> entry1.affine " not in written:
        raise ValueError("the file holds no network as joblog's export writes it")
    file = _Kaldi(written, begin.end())
    parts: dict[str, Part] = {}
    for _ in range(struct.unpack("<i", begin[1])[0]):
        file.expect("<ComponentName>")
        name = file.mark()
        kind = file.mark()
        if kind == "<AffineComponent>":
            file.after("<LinearParams>")
            weights = file.matrix()
            file.expect("<BiasParams>")
            parts[name] = {"weights": weights, "bias": file.vector()}
        elif kind == "<BatchNormComponent>":
            file.after("<StatsMean>")
            mean = file.vector()
            file.expect("<StatsVar>")
            parts[name] = {"mean": mean, "variance": file.vector()}
        file.after(kind.replace("<", "</"))
    return parts


class _Kaldi:
    """Kaldi's binary form, read from one place to the next."""

    def __init__(self, written: bytes, at: int) -> None:
        self._written = written
        self._at = at

    def mark(self) -> str:
        end = self._written.index(b" ", self._at)
        mark = self._written[self._at : end].decode("ascii")
        self._at = end + 1
        return mark

    def expect(self, mark: str) -> None:
        if self.mark() != mark:
            raise ValueError(f"the network's file has no {mark} where it should be")

    def after(self, mark: str) -> None:
        """On to what follows the next such mark; what is in between holds no free numbers."""
        self._at = self._written.index(f"{mark} ".encode(), self._at) + len(mark) + 1

    def vector(self) -> Matrix:
        self.expect("FV")
        (size,) = self._numbers("<xi")
        return np.array(self._array("<f4", size), np.float32)

    def matrix(self) -> Matrix:
        self.expect("CM2")
        low, span, rows, columns = self._numbers("<ffii")
        steps = self._array("<u2", rows * columns).reshape(rows, columns)
        return np.asarray(low + steps.astype(np.float64) * span / 65535, np.float32)

    def _numbers(self, form: str) -> tuple[Any, ...]:
        numbers = struct.unpack_from(form, self._written, self._at)
        self._at += struct.calcsize(form)
        return numbers

    def _array(self, kind: str, size: int) -> Any:
        array = np.frombuffer(self._written, kind, size, self._at)
        self._at += array.nbytes
        return array
