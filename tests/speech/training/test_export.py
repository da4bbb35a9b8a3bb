"""The exported network and the graph, through Vosk itself."""

import json
import math
import os
import shutil
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest

# Both carry OpenFst; Vosk cannot be loaded after pywrapfst.
import vosk

torch = pytest.importorskip("torch", reason="needs the extra train")
# Looked for, not imported: what compiled library comes second may not bear the first.
if find_spec("pywrapfst") is None or shutil.which("fstconvert") is None:
    pytest.skip("needs the extra train, and fstconvert of libfst-tools", allow_module_level=True)

from joblog.speech.training.export import export  # noqa: E402
from joblog.speech.training.features import cepstra  # noqa: E402
from joblog.speech.training.graph import SECOND_FORM, graph  # noqa: E402
from joblog.speech.training.language_model import LanguageModel, Step, language_model  # noqa: E402
from joblog.speech.training.lfmmi import PAUSE  # noqa: E402
from joblog.speech.training.net import Net, surrounded  # noqa: E402
from joblog.speech.training.units import NUMBER, SIL, output  # noqa: E402

RATE = 16_000
GRAPH = 0.9
"""Vosk counts this much of the graph's costs when it lists alternatives (its recognizer.cc)."""
K, AH, T, S, IY = (NUMBER[phone] for phone in ("K", "AH", "T", "S", "IY"))
WORDS = {"cut": ((K, AH, T),), "see": ((S, IY),), "sea": ((S, IY),), "a": ((AH,), (IY,))}
START, AFTER = ("<s>",), ("cut",)
ONE_WORD = LanguageModel(START, (Step(START, AFTER, "cut", 0.5),), {AFTER: 0.25})


def sound() -> np.ndarray:
    return (np.random.default_rng(1).standard_normal(RATE) * 2000).astype("<i2")


def small_net() -> Net:
    """A network with weights and statistics that are nowhere zero or one."""
    torch.manual_seed(2)
    net = Net(entry=24, width=40, narrow=16, layers=3, last=20)
    for name, part in net.state_dict().items():
        part.copy_(
            torch.rand_like(part) + 0.5
            if "var" in name or "spread" in name
            else torch.randn_like(part) * 0.3
            if part.is_floating_point()
            else part
        )
    # Small outputs, so that no path falls out of the search's beam.
    net.scores.weight.data *= 0.0005
    return net.eval()


def model(folder: Path, language: LanguageModel) -> vosk.Model:
    vosk.SetLogLevel(-1)
    export(small_net(), folder / "am" / "final.mdl")
    graph(folder, WORDS, language)
    return vosk.Model(str(folder))


def heard(loaded: vosk.Model, *grammar: str) -> dict:
    recognizer = vosk.KaldiRecognizer(loaded, RATE, *([json.dumps(grammar)] if grammar else []))
    recognizer.SetMaxAlternatives(1)
    recognizer.AcceptWaveform(sound().tobytes())
    return json.loads(recognizer.FinalResult())["alternatives"][0]


def scores() -> np.ndarray:
    """The network's outputs for the sound, by PyTorch."""
    net = small_net()
    features = cepstra(torch.from_numpy(sound().astype(np.float32))[None])
    around, _ = surrounded(features, torch.tensor([features.shape[1]]), net.context)
    with torch.no_grad():
        return net(around)[0][0].numpy()


def best(phones: tuple[int, ...], rows: np.ndarray) -> float:
    """The likeliest way in which these phones, one after another, take up all frames."""
    begins = [output(phone, before) for before, phone in zip((SIL, *phones), phones, strict=False)]
    reached = np.full(len(phones), -math.inf)
    reached[0] = rows[0, begins[0]]
    for row in rows[1:]:
        stayed = reached + row[[begin + 1 for begin in begins]]
        entered = np.concatenate([[-math.inf], reached[:-1]]) + row[begins]
        reached = np.maximum(stayed, entered)
    return float(reached[-1])


def test_vosk_finds_the_likelihood_that_pytorch_finds(tmp_path: Path) -> None:
    rows = scores()
    no_pause, pause = (
        GRAPH * (math.log(end) - math.log(2) - 0.5 - 0.25) for end in (1 - PAUSE, PAUSE)
    )
    ways = (
        best((K, AH, T), rows) + no_pause,
        best((SIL, K, AH, T), rows) + no_pause,
        best((K, AH, T, SIL), rows) + pause,
        best((SIL, K, AH, T, SIL), rows) + pause,
    )
    found = heard(model(tmp_path, ONE_WORD))
    assert found["text"] == "cut"
    # Weights of 16 bits, and Kaldi adds up in another order.
    assert found["confidence"] == pytest.approx(max(ways), abs=0.05)


def test_a_grammar_may_use_words_that_the_language_model_lacks(tmp_path: Path) -> None:
    loaded = model(tmp_path, ONE_WORD)
    assert set(heard(loaded, "see a")["text"].split()) <= {"see", "a"}
    assert heard(loaded, "see a")["text"]


def test_every_word_and_the_unknown_one_have_a_number(tmp_path: Path) -> None:
    loaded = model(tmp_path, ONE_WORD)
    numbers = {word: loaded.vosk_model_find_word(word) for word in (*WORDS, "[unk]", "saw")}
    assert numbers.pop("saw") == -1
    assert len(set(numbers.values())) == len(WORDS) + 1
    assert min(numbers.values()) > 0


def test_words_that_sound_alike_are_told_apart_by_what_is_likely(tmp_path: Path) -> None:
    texts = [["sea"]] * 9 + [["cut", "a"]]
    loaded = model(tmp_path, language_model(texts))
    found = heard(loaded)["text"].split()
    assert found
    assert "see" not in found


def test_a_missing_tool_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", os.devnull)
    with pytest.raises(RuntimeError, match="install libfst-tools and libfst22-plugins-base"):
        graph(tmp_path, WORDS, ONE_WORD)


def test_a_second_form_costs_its_share() -> None:
    assert SECOND_FORM * math.log(2) == pytest.approx(0.208, abs=0.001)
