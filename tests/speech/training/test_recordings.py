"""What the training hears: lines alone, in pairs and in rows, cut and recorded in many ways."""

import json
from itertools import islice

import numpy as np
import pytest

torch = pytest.importorskip("torch", reason="needs the extra train")

from joblog.speech.training import augment  # noqa: E402
from joblog.speech.training.lfmmi import phone_chances  # noqa: E402
from joblog.speech.training.recordings import Batches, load  # noqa: E402
from joblog.speech.training.synthesize import RATE  # noqa: E402
from joblog.speech.training.units import NUMBER  # noqa: E402

WORDS = {
    "two": ((NUMBER["T"], NUMBER["UW"]),),
    "four": ((NUMBER["F"], NUMBER["AO"], NUMBER["R"]),),
}
QUIET, LOUD = RATE // 4, RATE // 2


@pytest.fixture
def folder(tmp_path):
    """A pack of a voice that says eight words alone, each with a quarter second of quiet around."""
    tone = 0.3 * np.sin(np.arange(LOUD) * 0.2)
    word = np.concatenate([np.zeros(QUIET), tone, np.zeros(QUIET)])
    rows = [
        {
            "pack": "one.s16", "start": number * len(word), "length": len(word),
            "voice": "flite/one", "kind": "alone", "text": ("two", "four")[number % 2],
        }
        for number in range(8)
    ]  # fmt: skip
    (np.tile(word, 8) * 32767).astype("<i2").tofile(tmp_path / "one.s16")
    (tmp_path / "one.jsonl").write_text("".join(json.dumps(row) + "\n" for row in rows))
    return tmp_path


def batches(folder, count=4):
    store, utterances = load([folder])
    chances = phone_chances([one.words for one in utterances] * 9, WORDS)
    return store, list(islice(Batches(utterances, WORDS, chances, 300 * RATE, 1), count))


def test_where_a_word_is_heard_is_found(folder):
    _, utterances = load([folder])
    assert all(abs(one.spoken[0] - QUIET) < 40 for one in utterances)
    assert all(abs(one.spoken[1] - QUIET - LOUD) < 40 for one in utterances)


def test_rows_of_words_are_cut_tightly_as_often_as_not(folder):
    _, drawn = batches(folder, 8)
    rows = [
        length
        for batch in drawn
        for lengths, speeds in zip(batch.pieces.length, batch.pieces.speed, strict=True)
        for length in (lengths * speeds)[: 1 if (lengths > 0).sum() > 2 else 0].tolist()
    ]
    whole, tight = QUIET + LOUD + QUIET, LOUD + 0.11 * RATE + 2
    assert sum(length <= tight for length in rows) / len(rows) == pytest.approx(0.5, abs=0.12)
    assert all(length <= tight or length >= whole - 3 for length in rows)


def test_a_recording_is_as_long_as_its_batch_says(folder):
    store, drawn = batches(folder)
    for batch in drawn:
        ends = (batch.pieces.gap + batch.pieces.length).sum(1)
        assert (ends <= batch.lengths).all()
        sound, spoken = augment.joined(
            store, batch.pieces, int(batch.lengths.max()), torch.Generator().manual_seed(2)
        )
        assert float(sound.abs().max()) <= 1.0
        assert not sound[~spoken].any()


def test_some_recorders_are_silent_between_words_but_for_the_recognizers_own_noise(folder):
    store, (batch, *_) = batches(folder, 1)
    draw = torch.Generator().manual_seed(5)
    sound, spoken = augment.joined(store, batch.pieces, int(batch.lengths.max()), draw)
    heard = augment.recorded(sound, spoken, draw)
    assert heard.abs().max() <= 40000
    between = [row[~said].std() / row.std() for row, said in zip(heard, spoken, strict=True)]
    assert min(between) < 0.02 < max(between)
