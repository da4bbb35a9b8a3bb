"""The general model's weights, pruned and packed, and the two graphs that are made of them."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
import onnxruntime
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as shapes

torch = pytest.importorskip("torch", reason="needs the extra train")
pytest.importorskip("transformers", reason="needs the extra train")
pytest.importorskip("onnx", reason="needs the extra train")

from joblog.speech.tokens import cut, numbered, read_pieces  # noqa: E402
from joblog.speech.training.general.export import decoder, encoder  # noqa: E402
from joblog.speech.training.general.net import batch, state_of, torch_model  # noqa: E402
from joblog.speech.training.general.shape import frames  # noqa: E402
from joblog.speech.training.general.weights import (  # noqa: E402
    EMBEDDING,
    MOST,
    narrow,
    narrowed,
    pack,
    pruned,
    unpack,
    write_pieces,
)

MARKS = [b"<unk>", b"<s>", b"</s>"]
LETTERS = [letter.encode() for letter in " abcdefghijklmnopqrstuvwxyz'"]
JOINED = [b" e", b"av", b"eav", b" eav", b" eave", b"es", b" w", b"al", b"ll", b" wal", b" wall"]
STRANGE = [b"\xc3", b" North", b"12", b" a b", b"  ", b",", b"<<ST_0>>"]
SIZE = 36
ROWS = 40
HIDDEN, WIDER, LAYERS = 8 * SIZE, 64, 2


def fresh(seed: int = 1) -> dict[str, np.ndarray]:
    """A small model's state; what it says means nothing."""
    chance = np.random.default_rng(seed)

    def some(*shape: int) -> np.ndarray:
        return (chance.standard_normal(shape) / np.sqrt(np.prod(shape[1:]))).astype(np.float32)

    state = {
        EMBEDDING: some(ROWS, HIDDEN) * 4,
        "model.encoder.conv1.weight": some(HIDDEN, 1, 127) * 8,
        "model.encoder.conv2.weight": some(2 * HIDDEN, HIDDEN, 7),
        "model.encoder.conv2.bias": some(2 * HIDDEN) / 10,
        "model.encoder.conv3.weight": some(HIDDEN, 2 * HIDDEN, 3),
        "model.encoder.conv3.bias": some(HIDDEN) / 10,
        "model.encoder.groupnorm.bias": some(HIDDEN) / 10,
    }
    norms = ["model.encoder.groupnorm", "model.encoder.layer_norm", "model.decoder.norm"]
    parts = {"encoder": ["self_attn"], "decoder": ["self_attn", "encoder_attn"]}
    named = {
        "encoder": ["input_layernorm", "post_attention_layernorm"],
        "decoder": ["input_layernorm", "post_attention_layernorm", "final_layernorm"],
    }
    for side, attentions in parts.items():
        for number in range(LAYERS):
            layer = f"model.{side}.layers.{number}"
            norms += [f"{layer}.{name}" for name in named[side]]
            for attention in attentions:
                for part in "qkvo":
                    state[f"{layer}.{attention}.{part}_proj.weight"] = some(HIDDEN, HIDDEN)
            entry = WIDER * (2 if side == "decoder" else 1)
            state[f"{layer}.mlp.fc1.weight"] = some(entry, HIDDEN)
            state[f"{layer}.mlp.fc1.bias"] = some(entry) / 10
            state[f"{layer}.mlp.fc2.weight"] = some(HIDDEN, WIDER)
            state[f"{layer}.mlp.fc2.bias"] = some(HIDDEN) / 10
    return state | {f"{norm}.weight": 1 + some(HIDDEN) / 10 for norm in norms}


def sound(seconds: float, seed: int = 1) -> np.ndarray:
    chance = np.random.default_rng(seed)
    return (chance.standard_normal(int(16_000 * seconds)) / 10).astype(np.float32)


def logits(state: dict[str, np.ndarray], tokens: Sequence[int]) -> np.ndarray:
    model = torch_model(state)
    with torch.no_grad():
        held = model(**batch(model, [sound(1)]), decoder_input_ids=torch.tensor([tokens]))
    return held.logits[0].numpy()


class Graphs:
    """The graphs of a state, run as joblog runs them."""

    def __init__(self, state: dict[str, np.ndarray]) -> None:
        held = narrowed(state)
        self.encoder, self.decoder = (
            onnxruntime.InferenceSession(graph(held).SerializeToString())
            for graph in (encoder, decoder)
        )
        self.past = [i.name for i in self.decoder.get_inputs() if i.name.startswith("past")]

    def heard(self, samples: np.ndarray) -> dict[str, np.ndarray]:
        names = [output.name for output in self.encoder.get_outputs()]
        found = self.encoder.run(names, {"sound": samples[None]})
        return dict(zip(names, found, strict=True))

    def said(
        self, heard: dict[str, np.ndarray], tokens: list[list[int]], past: list[np.ndarray] | None
    ) -> tuple[np.ndarray, list[np.ndarray]]:
        nothing = np.zeros((len(tokens), 8, 0, SIZE), np.float32)
        before = dict(zip(self.past, past or [nothing] * len(self.past), strict=True))
        names = [output.name for output in self.decoder.get_outputs()]
        feeds = {"tokens": np.array(tokens, np.int64), **before, **heard}
        found = dict(zip(names, self.decoder.run(names, feeds), strict=True))
        present = [found[name.replace("past", "present")] for name in self.past]
        return found["logits"], present


STATE = fresh()
GRAPHS = Graphs(STATE)


def test_plain_words_are_cut_as_before_and_written_as_before(tmp_path: Path) -> None:
    pieces = [*MARKS, *LETTERS[1:], *STRANGE, *JOINED, *LETTERS]
    state = {EMBEDDING: np.arange(len(pieces), dtype=np.float32)[:, None]}
    less, kept = pruned(state, pieces)
    write_pieces(kept, tmp_path / "pieces.bin")
    text = "all eaves' walls wave"
    before, after = cut(text, numbered(pieces)), cut(text, numbered(kept))
    assert read_pieces(tmp_path / "pieces.bin") == kept
    assert not set(kept) & set(STRANGE)
    assert [pieces[token] for token in before] == [kept[token] for token in after]
    assert less[EMBEDDING][list(after), 0].tolist() == list(before)
    assert list(kept[:3]) == MARKS


@given(
    shapes.arrays(
        np.float32,
        shapes.array_shapes(min_dims=2, max_dims=3, max_side=8),
        elements=st.floats(-100, 100, width=32),
    )
)
def test_a_matrix_in_8_bits_is_off_by_half_a_step_at_most_and_has_no_heavy_neighbours(
    matrix: np.ndarray,
) -> None:
    held = narrow(matrix)
    steps = held.scale.reshape(-1, *[1] * (matrix.ndim - 1))
    assert (np.abs(held.wide() - matrix) <= steps * 0.501).all()
    assert held.together() <= MOST


def test_a_state_comes_back_from_its_parts_and_says_nearly_the_same(tmp_path: Path) -> None:
    pack(STATE, tmp_path)
    again = unpack(tmp_path)
    assert again.keys() == STATE.keys()
    tokens = [1, 7, 8, 9]
    assert logits(again, tokens) == pytest.approx(logits(STATE, tokens), abs=0.5)


def test_the_state_of_a_model_is_the_one_that_it_was_made_of() -> None:
    again = state_of(torch_model(STATE))
    assert again.keys() == STATE.keys()
    assert all(np.array_equal(again[name], STATE[name]) for name in STATE)


def test_a_folder_without_weights_is_named(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="holds no packed weights"):
        unpack(tmp_path)


def test_a_sound_is_heard_as_it_is_alone_however_it_is_padded() -> None:
    model = torch_model(STATE)
    short, long = sound(0.5, seed=2), sound(1.3)
    with torch.no_grad():
        both = model.model.encoder(**batch(model, [short, long])).last_hidden_state
        alone = model.model.encoder(**batch(model, [short])).last_hidden_state
    assert alone.shape[1] == frames(len(short)) < both.shape[1]
    assert both[0, : alone.shape[1]].numpy() == pytest.approx(alone[0].numpy(), abs=1e-4)


def test_the_graphs_say_what_the_model_in_pytorch_says() -> None:
    """But for rows rounded to 8 bits: 3 % of the spread of logits at most, 1.4 % when written."""
    tokens = [1, 7, 8, 9, 30, 12]
    same = {
        name: getattr(value, "wide", lambda v=value: v)() for name, value in narrowed(STATE).items()
    }
    expected = logits(same, tokens)
    found, _ = GRAPHS.said(GRAPHS.heard(sound(1)), [tokens], None)
    off = found[0] - expected
    assert expected.std() > 1
    assert np.sqrt((off**2).mean()) < 0.03 * expected.std()
    assert np.abs(off).max() < 0.1 * expected.std()


def test_step_by_step_says_the_same_as_all_at_once() -> None:
    heard = GRAPHS.heard(sound(1))
    tokens = [1, 7, 8, 9]
    whole, _ = GRAPHS.said(heard, [tokens], None)
    past = None
    for place, token in enumerate(tokens):
        step, past = GRAPHS.said(heard, [[token]], past)
        assert step[0, 0] == pytest.approx(whole[0, place], abs=0.1)


def test_a_line_says_the_same_whatever_other_lines_there_are() -> None:
    heard = GRAPHS.heard(sound(1))
    lines = [[1, 7, 8, 9], [1, 30, 31, 32], [1, 4, 4, 4]]
    together, _ = GRAPHS.said(heard, lines, None)
    for line, said in zip(lines, together, strict=True):
        assert GRAPHS.said(heard, [line], None)[0][0] == pytest.approx(said, abs=0.1)
