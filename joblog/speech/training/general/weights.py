"""The general model's weights: read from the files it is published in, pruned, and carried.

A state is a dict of float32 arrays, named as in transformers' MoonshineForConditionalGeneration;
the output matrix is the embedding itself, so it is not named a second time.

    python -m joblog.speech.training.general.weights PUBLISHED INTO

reads the two `.ort` files and the `tokenizer.bin` in one folder and packs the pruned state and its
`pieces.bin` into another.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from joblog.speech.tokens import END, SPACE, read_pieces

State = dict[str, NDArray[np.float32]]


class Narrow(NamedTuple):
    """A tensor in 8 bits: whole numbers, and what each of its rows is multiplied by."""

    rows: NDArray[np.int8]
    scale: NDArray[np.float32]

    def wide(self) -> NDArray[np.float32]:
        """The tensor that this stands for."""
        return self.rows.astype(np.float32) * self.scale.reshape(-1, *[1] * (self.rows.ndim - 1))

    def together(self) -> int:
        """The largest sum of two neighbours in a row, whatever their signs."""
        return int(_neighbours(self.rows.reshape(len(self.rows), -1).astype(int)).max())


Packed = dict[str, Narrow | NDArray[np.float32]]

EMBEDDING = "model.decoder.embed_tokens.weight"
MARKS = range(END + 1)
"""Unknown, begin and end; they keep their numbers."""
PLAIN = re.compile(rb"(?=.) ?[a-z']*")
"""A piece of a word in lower case: letters and apostrophes, a space at most before them."""
PART = 12 << 20
"""About how many bytes one part of a packed state holds at most."""
MOST = 128
"""Of two neighbours together, so that with bytes before them they stay within 16 bits."""

ENCODER, DECODER = "encoder_model.ort", "decoder_model_merged.ort"
PRODUCTS = {"MatMul", "DynamicQuantizeMatMul", "MatMulIntegerToFloat", "Conv", "FusedConv"}
KINDS = {1: np.float32, 2: np.uint8, 3: np.int8, 6: np.int32, 7: np.int64}
"""What the numbers of ONNX's TensorProto.DataType that occur stand for."""
RENAMED = {"up_proj": "fc1", "down_proj": "fc2", "attn.dense": "attn.o_proj"}
"""Names of modules that one of the published models has otherwise."""


def main(published: str, into: str) -> None:
    """Pack the pruned state of a published model."""
    pieces = read_pieces(Path(published, "tokenizer.bin"))
    state, kept = pruned(read_ort(Path(published)), pieces)
    pack(state, Path(into))
    write_pieces(kept, Path(into, "pieces.bin"))
    print(f"{len(state)} tensors and {len(kept)} pieces are in {into}")


def read_ort(folder: Path) -> State:
    """The state in a published model's `encoder_model.ort` and `decoder_model_merged.ort`.

    Their 8-bit numbers are turned back into the floats they stand for. Raises OSError when a file
    is missing.
    """
    return {
        **_state(folder / ENCODER, "model.encoder."),
        **_state(folder / DECODER, "model.decoder."),
    }


def pruned(state: State, pieces: Sequence[bytes]) -> tuple[State, tuple[bytes, ...]]:
    """The state without the pieces that no plain word in lower case is cut into, and the rest.

    The marks stay in front, and the order stays. A piece is made by joining two shorter ones that
    are plain when it is, lowest number first, so text is cut into the same pieces as before.
    """
    last = {piece: number for number, piece in enumerate(pieces)}  # bytes alone come first
    kept = [*MARKS]
    kept += sorted(n for piece, n in last.items() if n not in MARKS and PLAIN.fullmatch(piece))
    return {**state, EMBEDDING: state[EMBEDDING][kept]}, tuple(pieces[n] for n in kept)


def write_pieces(pieces: Sequence[bytes], path: Path) -> None:
    """Write pieces as `tokens.read_pieces` reads them."""
    with path.open("wb") as file:
        for piece in pieces:
            text = piece.replace(b" ", SPACE)
            low, high = len(text) % 128, len(text) // 128
            file.write(bytes([low + 128, high]) if high else bytes([low]))
            file.write(text)


def pack(state: Mapping[str, NDArray[np.float32]], folder: Path) -> None:
    """Write a state as `part-*.npz`, its matrices as `narrowed` has them."""
    folder.mkdir(parents=True, exist_ok=True)
    for old in folder.glob("part-*.npz"):
        old.unlink()
    for number, part in enumerate(_parts(narrowed(state))):
        np.savez(folder / f"part-{number:02}.npz", **part)  # type: ignore[arg-type]


def packed(folder: Path) -> Packed:
    """What was packed into a folder, as it was packed; ValueError when there is nothing."""
    held: dict[str, NDArray[Any]] = {}
    for part in sorted(folder.glob("part-*.npz")):
        with np.load(part) as file:
            held |= file
    if not held:
        raise ValueError(f"{folder} holds no packed weights")
    narrow_names = [name.removesuffix(".rows") for name in held if name.endswith(".rows")]
    return {
        **{name: value for name, value in held.items() if not name.endswith((".rows", ".scale"))},
        **{name: Narrow(held[f"{name}.rows"], held[f"{name}.scale"]) for name in narrow_names},
    }


def unpack(folder: Path) -> State:
    """The state that was packed into a folder; ValueError when there is none."""
    return {
        name: value.wide() if isinstance(value, Narrow) else value
        for name, value in packed(folder).items()
    }


def narrowed(state: Mapping[str, NDArray[np.float32]]) -> Packed:
    """A state with 8 bits and a scale for each row of a matrix; what has one axis stays."""
    return {name: narrow(value) if value.ndim > 1 else value for name, value in state.items()}


def narrow(matrix: NDArray[np.float32]) -> Narrow:
    """A tensor's rows in whole numbers, no two neighbours in a row more than `MOST` together.

    Processors without 8-bit dot products add the products of two neighbours with bytes in 16
    bits, and cut off what is more; so nothing is, and all processors find the same.
    """
    rows = matrix.reshape(len(matrix), -1)
    scale = (_neighbours(rows) / (MOST - 1)).astype(np.float32)
    scale[scale == 0] = 1
    return Narrow(np.rint(rows / scale[:, None]).astype(np.int8).reshape(matrix.shape), scale)


def _neighbours(rows: NDArray[Any]) -> NDArray[Any]:
    """The largest sum of two neighbours' sizes in each row."""
    sizes = np.pad(np.abs(rows), ((0, 0), (0, 1)))
    sums: NDArray[Any] = (sizes[:, 1:] + sizes[:, :-1]).max(axis=1)
    return sums


def _parts(held: Packed) -> Iterator[dict[str, NDArray[Any]]]:
    part: dict[str, NDArray[Any]] = {}
    for name, value in held.items():
        if isinstance(value, Narrow):
            own: dict[str, NDArray[Any]] = {
                f"{name}.rows": value.rows,
                f"{name}.scale": value.scale,
            }
        else:
            own = {name: value}
        if part and sum(one.nbytes for one in [*part.values(), *own.values()]) > PART:
            yield part
            part = {}
        part |= own
    yield part


def _state(path: Path, front: str) -> State:
    tensors, nodes = _graph(path)
    state: State = {}
    for kind, name, inputs in nodes:
        module = _module(name, front)
        if kind in PRODUCTS:
            for stem in filter(None, map(_stem, inputs)):
                if f"{stem}_quantized" in tensors:
                    held = _floats(tensors, stem)
                    state[f"{module}.weight"] = held if "Conv" in kind else held.T
        elif kind in ("Mul", "Add") and module.endswith("encoder.groupnorm"):
            part = "weight" if kind == "Mul" else "bias"
            own = [tensors[one].ravel() for one in inputs if one in tensors]
            state |= {f"{module}.{part}": one for one in own}
    for name, value in tensors.items():
        plain = re.sub(r"_(merged_\d+|add_tensor)$", "", name)
        if plain.endswith((".weight", ".bias")) and value.dtype == np.float32:
            state[_module(plain, front)] = value
    embedding = next((n for n in tensors if n.startswith(EMBEDDING) and "_quantized" in n), "")
    if embedding:
        state[EMBEDDING] = _floats(tensors, embedding.removesuffix("_quantized"))
    state.pop("proj_out.weight", None)
    return {name: np.ascontiguousarray(value, np.float32) for name, value in state.items()}


def _module(name: str, front: str) -> str:
    """The module that a node or a tensor belongs to: "/layers.0/mlp/fc1/MatMul" is "...mlp.fc1"."""
    module = re.sub(r"/(MatMul|Conv|Mul|Add)(_quant)?$", "", name).strip("/").replace("/", ".")
    for old, new in RENAMED.items():
        module = module.replace(old, new)
    return module if module.startswith(("model.", "proj_out")) else front + module


def _stem(name: str) -> str:
    found = re.fullmatch(r"(.+)_(?:add_tensor|quantized)", name)
    return found[1] if found else ""


def _floats(tensors: Mapping[str, NDArray[Any]], stem: str) -> NDArray[np.float32]:
    """One published model keeps whole numbers with a whole zero point, the other adds a float."""
    whole, scale, zero = (
        tensors[f"{stem}_{part}"].astype(np.float32)
        for part in ("quantized", "scale", "zero_point")
    )
    added = tensors[f"{stem}_zero_point"].dtype == np.float32
    return whole * scale + zero if added else (whole - zero) * scale


def _graph(path: Path) -> tuple[dict[str, NDArray[Any]], list[tuple[str, str, list[str]]]]:
    """The tensors of an `.ort` file by name, and the kind, name and inputs of its nodes."""
    import onnxruntime

    sys.path.insert(0, str(Path(onnxruntime.__file__).parent / "tools" / "ort_format_model"))
    from ort_flatbuffers_py.fbs.InferenceSession import InferenceSession

    session = InferenceSession.GetRootAsInferenceSession(bytearray(path.read_bytes()), 0)
    tensors: dict[str, NDArray[Any]] = {}
    nodes: list[tuple[str, str, list[str]]] = []

    def walk(graph: Any) -> None:
        for one in map(graph.Initializers, range(graph.InitializersLength())):
            if one.DataType() in KINDS and one.RawDataLength():
                shape = [one.Dims(axis) for axis in range(one.DimsLength())]
                raw = one.RawDataAsNumpy().view(KINDS[one.DataType()])
                tensors[one.Name().decode()] = raw.reshape(shape)
        for node in map(graph.Nodes, range(graph.NodesLength())):
            inputs = [node.Inputs(place).decode() for place in range(node.InputsLength())]
            nodes.append((node.OpType().decode(), node.Name().decode(), inputs))
            for held in map(node.Attributes, range(node.AttributesLength())):
                if held.G() is not None:
                    walk(held.G())

    walk(session.Model().Graph())
    return tensors, nodes


if __name__ == "__main__":
    main(*sys.argv[1:])
