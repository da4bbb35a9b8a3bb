"""The general model as two ONNX graphs of its own, 8 bits a weight.

    python -m joblog.speech.training.general.export STATE INTO

`encoder.onnx` takes a `sound` (one, samples) and gives what the decoder attends to: for each of
its layers `keys.N` (heads, size, frames), divided already by the square root of the size, and
`values.N` (heads, frames, size). `decoder.onnx` takes `tokens` (lines, count), the lines' own
`past.keys.N` and `past.values.N` (lines, heads, past, size), of any length or none, and what the
encoder gave, the same for all lines; it gives `logits` (lines, count, pieces) and the `present` of
each past. So one graph serves a search step by step and whole lines at once.

They are written node by node: small, and the same whatever version of a tool exports them. What
is multiplied by 8-bit weights is rounded to 8 bits row by row, so that no line has a say in how
another one is rounded.
"""

from __future__ import annotations

import shutil
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import onnx
from numpy.typing import NDArray
from onnx import TensorProto, helper, numpy_helper

from joblog.speech.training.general.shape import BASE, HEADS, ROTARY, STRIDES, layers
from joblog.speech.training.general.weights import EMBEDDING, MOST, Narrow, Packed, narrow, packed

OPSET, IR = 20, 10
"""What the oldest onnxruntime that joblog allows reads."""
NEVER = -1e9
"""Added to the score of what has not been said yet."""
ZERO = 128
"""What stands for zero in a rounded row."""
TINY = 1e-12
"""The least that a row's largest number is taken for."""


def main(state: str, into: str) -> None:
    """Write both graphs and the pieces of a packed state into a folder."""
    folder = Path(into)
    folder.mkdir(parents=True, exist_ok=True)
    # What was rounded is not rounded again.
    held = {name: _within(value) for name, value in packed(Path(state)).items()}
    onnx.save(encoder(held), str(folder / "encoder.onnx"))
    onnx.save(decoder(held), str(folder / "decoder.onnx"))
    shutil.copy(Path(state, "pieces.bin"), folder / "pieces.bin")
    for file in sorted(folder.iterdir()):
        print(f"{file.stat().st_size / 1e6:7.1f} MB {file}")


def encoder(state: Packed) -> onnx.ModelProto:
    """The graph from a sound to the keys and values of all the decoder's layers."""
    graph = _Graph(state)
    x = graph("Unsqueeze", "sound", graph.whole([1]))
    x = graph("Tanh", graph.convolved(x, "model.encoder.conv1", STRIDES[0]))
    x = graph.over_all(x, "model.encoder.groupnorm")
    x = graph("Gelu", graph.convolved(x, "model.encoder.conv2", STRIDES[1]))
    x = graph("Gelu", graph.convolved(x, "model.encoder.conv3", STRIDES[2]))
    x = graph("Squeeze", graph("Transpose", x, perm=[0, 2, 1]), graph.whole([0]))
    turn = graph.turn(graph.whole(0), graph.length(x, 0))
    for number in range(layers(state, "encoder")):
        layer = f"model.encoder.layers.{number}"
        normal = graph.norm(x, f"{layer}.input_layernorm")
        query, key, value = graph.heads(normal, f"{layer}.self_attn", turn, frames=True)
        score = graph("MatMul", query, graph("Transpose", key, perm=[0, 2, 1]))
        held = graph("MatMul", graph("Softmax", score, axis=-1), value)
        held = graph("Reshape", graph("Transpose", held, perm=[1, 0, 2]), graph.whole([0, -1]))
        x = graph("Add", x, graph.linear(held, f"{layer}.self_attn.o_proj"))
        wider = graph.linear(graph.norm(x, f"{layer}.post_attention_layernorm"), f"{layer}.mlp.fc1")
        x = graph("Add", x, graph.linear(graph("Gelu", wider), f"{layer}.mlp.fc2"))
    x = graph.norm(x, "model.encoder.layer_norm")
    outputs = []
    for number in range(layers(state, "decoder")):
        graph.heard(x, number)
        outputs += _heard(number, graph.size)
    return graph.model([_value("sound", [1, "samples"])], outputs)


def decoder(state: Packed) -> onnx.ModelProto:
    """The graph from tokens, what the lines were before, and what was heard, to logits."""
    graph = _Graph(state)
    x = graph.embedded("tokens")
    before = graph.length("past.keys.0", 2)
    after = graph("Add", before, graph.length("tokens", 1))
    turn, mask = graph.turn(before, after), graph.mask(before, after)
    wide = graph("Concat", graph("Shape", "tokens"), graph.whole([HEADS * graph.size]), axis=0)
    inputs = [_value("tokens", ["lines", "count"], TensorProto.INT64)]
    outputs = [_value("logits", ["lines", "count", len(graph.matrix(EMBEDDING).rows)])]
    for number in range(layers(state, "decoder")):
        layer = f"model.decoder.layers.{number}"
        normal = graph.norm(x, f"{layer}.input_layernorm")
        query, key, value = graph.heads(normal, f"{layer}.self_attn", turn, frames=False)
        key = graph("Concat", f"past.keys.{number}", key, axis=2, name=f"present.keys.{number}")
        value = graph(
            "Concat", f"past.values.{number}", value, axis=2, name=f"present.values.{number}"
        )
        score = graph("MatMul", query, graph("Transpose", key, perm=[0, 1, 3, 2]))
        score = graph("Softmax", graph("Add", score, mask), axis=-1)
        held = graph("Transpose", graph("MatMul", score, value), perm=[0, 2, 1, 3])
        held = graph("Reshape", held, graph.whole([0, 0, -1]))
        x = graph("Add", x, graph.linear(held, f"{layer}.self_attn.o_proj"))
        normal = graph.norm(x, f"{layer}.post_attention_layernorm")
        held = graph("Reshape", graph.listening(normal, number), wide)
        x = graph("Add", x, graph.linear(held, f"{layer}.encoder_attn.o_proj"))
        wider = graph.linear(graph.norm(x, f"{layer}.final_layernorm"), f"{layer}.mlp.fc1")
        half, gate = graph.split(wider, [len(graph.vector(f"{layer}.mlp.fc1.bias")) // 2] * 2, -1)
        gated = graph("Mul", half, graph("Mul", gate, graph("Sigmoid", gate)))
        x = graph("Add", x, graph.linear(gated, f"{layer}.mlp.fc2"))
        inputs += [*_own("past", number, graph.size), *_heard(number, graph.size)]
        outputs += _own("present", number, graph.size)
    normal = graph.norm(x, "model.decoder.norm")
    graph.product(normal, EMBEDDING, graph.matrix(EMBEDDING), name="logits")
    return graph.model(inputs, outputs)


class _Graph:
    """A graph that grows: every call adds a node and gives the name of what comes out of it."""

    def __init__(self, state: Packed) -> None:
        self._state = state
        self._nodes: list[onnx.NodeProto] = []
        self._tensors: dict[str, onnx.TensorProto] = {}

    def __call__(self, kind: str, *inputs: str, name: str = "", **attributes: Any) -> str:
        name = name or f"{kind} {len(self._nodes)}"
        self._nodes.append(helper.make_node(kind, inputs, [name], **attributes))
        return name

    @property
    def size(self) -> int:
        """Numbers of each head."""
        hidden: int = self.matrix(EMBEDDING).rows.shape[1]
        return hidden // HEADS

    def matrix(self, name: str) -> Narrow:
        """A tensor of the state that is kept in 8 bits."""
        held = self._state[name]
        assert isinstance(held, Narrow)
        return held

    def vector(self, name: str) -> NDArray[np.float32]:
        """A tensor of the state that is kept as it is."""
        held = self._state[name]
        assert not isinstance(held, Narrow)
        return held

    def model(
        self, inputs: Sequence[onnx.ValueInfoProto], outputs: Sequence[onnx.ValueInfoProto]
    ) -> onnx.ModelProto:
        graph = helper.make_graph(
            self._nodes, "general", inputs, outputs, list(self._tensors.values())
        )
        opsets = [helper.make_opsetid("", OPSET)]
        model = helper.make_model(
            graph, opset_imports=opsets, ir_version=IR, producer_name="joblog"
        )
        onnx.checker.check_model(model)
        return model

    def split(self, x: str, sizes: Sequence[int], axis: int) -> list[str]:
        names = [f"Split {len(self._nodes)} {part}" for part in range(len(sizes))]
        self._nodes.append(helper.make_node("Split", [x, self.whole(sizes)], names, axis=axis))
        return names

    def whole(self, value: int | Sequence[int]) -> str:
        """A constant of whole numbers."""
        return self._kept(f"whole {value}", np.array(value, np.int64))

    def real(self, value: float) -> str:
        """A constant."""
        return self._kept(f"real {value}", np.array(value, np.float32))

    def length(self, x: str, axis: int) -> str:
        """How long something is along an axis."""
        return self("Squeeze", self("Shape", x, start=axis, end=axis + 1))

    def linear(self, x: str, module: str) -> str:
        """Rows times a module's matrix, and its bias if it has one."""
        held = self.product(x, f"{module}.weight", self.matrix(f"{module}.weight"))
        bias = f"{module}.bias"
        return self("Add", held, self._own(bias)) if bias in self._state else held

    def product(self, x: str, of: str, matrix: Narrow, name: str = "") -> str:
        """Rows, each rounded to 8 bits by its own largest number, times a matrix in 8 bits."""
        weights, scale = self._kept_narrow(of, matrix)
        largest = self("ReduceMax", self("Abs", x), self.whole([-1]), keepdims=1)
        step = self("Add", self("Mul", largest, self.real(1 / (ZERO - 1))), self.real(TINY))
        # The cast cuts off what is behind the point, hence the half.
        rounded = self("Add", self("Div", x, step), self.real(ZERO + 0.5))
        rounded = self("Cast", rounded, to=TensorProto.UINT8)
        zero = self._kept("zero", np.array(ZERO, np.uint8))
        sums = self("Cast", self("MatMulInteger", rounded, weights, zero), to=TensorProto.FLOAT)
        return self("Mul", self("Mul", sums, step), scale, name=name)

    def embedded(self, tokens: str) -> str:
        """The embedding's rows of tokens, taken from the columns of the output matrix."""
        weights, scale = self._kept_narrow(EMBEDDING, self.matrix(EMBEDDING))
        held = self("Transpose", self("Gather", weights, tokens, axis=1), perm=[1, 2, 0])
        scales = self("Unsqueeze", self("Gather", scale, tokens, axis=0), self.whole([-1]))
        return self("Mul", self("Cast", held, to=TensorProto.FLOAT), scales)

    def norm(self, x: str, module: str) -> str:
        weight = self._own(f"{module}.weight")
        return self("LayerNormalization", x, weight, axis=-1, epsilon=1e-5)

    def over_all(self, x: str, module: str) -> str:
        """The norm over all channels and frames of a sound together."""
        flat = self("Reshape", x, self.whole([0, 1, -1]))
        one, none = (self._kept(f"level {at}", np.array([at], np.float32)) for at in (1, 0))
        flat = self("InstanceNormalization", flat, one, none, epsilon=1e-5)
        weight, bias = (
            self._kept(f"{module}.{part}", self.vector(f"{module}.{part}")[:, None])
            for part in ("weight", "bias")
        )
        return self("Add", self("Mul", self("Reshape", flat, self("Shape", x)), weight), bias)

    def convolved(self, x: str, module: str, stride: int) -> str:
        weight = f"{module}.weight"
        rows, scale = self.matrix(weight)
        scales = self._kept(f"{weight} scale", scale)
        weights = self("DequantizeLinear", self._kept(weight, rows), scales, axis=0)
        bias = f"{module}.bias"
        with_bias = [self._own(bias)] if bias in self._state else []
        return self("Conv", x, weights, *with_bias, strides=[stride])

    def turn(self, first: str, after: str) -> tuple[str, str]:
        """Cosine and sine, (places, pairs), of how far the places from one to another turn.

        Su and others, "RoFormer: enhanced transformer with rotary position embedding", 2021.
        """
        speed = (BASE ** (-np.arange(0, ROTARY, 2) / ROTARY)).astype(np.float32)
        places = self("Cast", self._count(first, after), to=TensorProto.FLOAT)
        angles = self("Mul", self("Unsqueeze", places, self.whole([1])), self._kept("speed", speed))
        return self("Cos", angles), self("Sin", angles)

    def mask(self, before: str, after: str) -> str:
        """What is added to scores (new places, all places): much less than 0 where it is later."""
        new = self("Unsqueeze", self._count(before, after), self.whole([1]))
        later = self("Less", new, self._count(self.whole(0), after))
        return self("Where", later, self.real(NEVER), self.real(0))

    def heads(self, x: str, module: str, turn: tuple[str, str], frames: bool) -> list[str]:
        """Queries, keys and values, (heads, places, size), with lines first if not of frames.

        Queries are divided by the square root of the size. Queries and keys are turned: the
        matrices' rows are sorted so that the first and second numbers of the pairs that turn
        together are side by side.
        """
        order = np.r_[0:ROTARY:2, 1:ROTARY:2, ROTARY : self.size]
        rows = (np.arange(HEADS)[:, None] * self.size + order).ravel()
        q, k, v = (self.matrix(f"{module}.{part}_proj.weight") for part in "qkv")
        turned = [Narrow(one.rows[rows], one.scale[rows]) for one in (self._rooted(q), k)]
        held = self.product(x, f"{module}.heads", _together(*turned, v))
        lead = [0] if frames else [0, 0]
        held = self("Reshape", held, self.whole([*lead, 3 * HEADS, self.size]))
        held = self("Transpose", held, perm=[1, 0, 2] if frames else [0, 2, 1, 3])
        axis = len(lead) - 1
        turning, value = self.split(held, [2 * HEADS, HEADS], axis)
        pairs = ROTARY // 2
        one, other, rest = self.split(turning, [pairs, pairs, self.size - ROTARY], -1)
        cosine, sine = turn
        first = self("Sub", self("Mul", one, cosine), self("Mul", other, sine))
        second = self("Add", self("Mul", other, cosine), self("Mul", one, sine))
        turning = self("Concat", first, second, rest, axis=-1)
        return [*self.split(turning, [HEADS, HEADS], axis), value]

    def heard(self, x: str, number: int) -> None:
        """A decoder layer's keys and values of what was heard."""
        module = f"model.decoder.layers.{number}.encoder_attn"
        k, v = (self.matrix(f"{module}.{part}_proj.weight") for part in "kv")
        held = self.product(x, f"{module}.heads", _together(self._rooted(k), v))
        held = self("Reshape", held, self.whole([0, 2 * HEADS, self.size]))
        key, value = self.split(held, [HEADS, HEADS], 1)
        self("Transpose", key, perm=[1, 2, 0], name=f"keys.{number}")
        self("Transpose", value, perm=[1, 0, 2], name=f"values.{number}")

    def listening(self, x: str, number: int) -> str:
        """What a decoder layer attends to in what was heard, (all lines' places, heads, size)."""
        query = self.linear(x, f"model.decoder.layers.{number}.encoder_attn.q_proj")
        # The lines' places are taken as one row, since all lines hear the same.
        query = self("Reshape", query, self.whole([-1, HEADS, self.size]))
        query = self("Transpose", query, perm=[1, 0, 2])
        score = self("Softmax", self("MatMul", query, f"keys.{number}"), axis=-1)
        return self("Transpose", self("MatMul", score, f"values.{number}"), perm=[1, 0, 2])

    def _rooted(self, matrix: Narrow) -> Narrow:
        return Narrow(matrix.rows, matrix.scale / np.float32(np.sqrt(self.size)))

    def _count(self, first: str, after: str) -> str:
        return self("Range", first, after, self.whole(1))

    def _own(self, name: str) -> str:
        return self._kept(name, self.vector(name))

    def _kept_narrow(self, name: str, matrix: Narrow) -> tuple[str, str]:
        return self._kept(name, matrix.rows.T), self._kept(f"{name} scale", matrix.scale)

    def _kept(self, name: str, value: NDArray[Any]) -> str:
        if name not in self._tensors:
            self._tensors[name] = numpy_helper.from_array(np.ascontiguousarray(value), name)
        return name


def _together(*matrices: Narrow) -> Narrow:
    rows, scales = zip(*matrices, strict=True)
    return Narrow(np.concatenate(rows), np.concatenate(scales))


def _within(value: Narrow | NDArray[np.float32]) -> Narrow | NDArray[np.float32]:
    """The same, rounded anew where neighbours make up too much together."""
    if isinstance(value, Narrow) and value.together() > MOST:
        return narrow(value.wide())
    return value


def _heard(number: int, size: int) -> list[onnx.ValueInfoProto]:
    return [
        _value(f"keys.{number}", [HEADS, size, "frames"]),
        _value(f"values.{number}", [HEADS, "frames", size]),
    ]


def _own(when: str, number: int, size: int) -> list[onnx.ValueInfoProto]:
    return [
        _value(f"{when}.{part}.{number}", ["lines", HEADS, when, size])
        for part in ("keys", "values")
    ]


def _value(
    name: str, shape: Sequence[int | str], kind: int = TensorProto.FLOAT
) -> onnx.ValueInfoProto:
    return helper.make_tensor_value_info(name, kind, shape)


if __name__ == "__main__":
    main(*sys.argv[1:])
