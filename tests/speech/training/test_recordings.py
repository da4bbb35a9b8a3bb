"""What the training hears: lines alone, in pairs and in rows, cut and recorded in many ways."""

import json
import random
from itertools import islice

import numpy as np
import pytest

torch = pytest.importorskip("torch", reason="needs the extra train")

from joblog.speech.trade import UNKNOWN  # noqa: E402
from joblog.speech.training import augment  # noqa: E402
from joblog.speech.training.lfmmi import phone_chances  # noqa: E402
from joblog.speech.training.recordings import CLOSE, TIGHT, Batches, learned, load  # noqa: E402
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


def test_rows_without_a_gap_are_cut_tightly_and_so_are_half_of_the_others(folder):
    _, drawn = batches(folder, 8)
    rows = [
        length
        for batch in drawn
        for lengths, speeds in zip(batch.pieces.length, batch.pieces.speed, strict=True)
        for length in (lengths * speeds)[: 1 if (lengths > 0).sum() > 2 else 0].tolist()
    ]
    whole, tight = QUIET + LOUD + QUIET, LOUD + 0.11 * RATE + 2
    share = CLOSE + (1 - CLOSE) * TIGHT
    assert sum(length <= tight for length in rows) / len(rows) == pytest.approx(share, abs=0.12)
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


def test_some_rows_are_said_without_a_gap(folder):
    _, drawn = batches(folder, 8)
    gaps = [
        row[1 : int((lengths > 0).sum())]
        for batch in drawn
        for row, lengths in zip(batch.pieces.gap, batch.pieces.length, strict=True)
        if (lengths > 0).sum() > 2
    ]
    share = sum(bool((gap == 0).all()) for gap in gaps) / len(gaps)
    assert share == pytest.approx(CLOSE, abs=0.12)


def test_a_word_that_nobody_knows_how_to_say_is_learned_as_an_unknown_one():
    draw = random.Random(1)
    assert [learned(word, "alone", WORDS, draw) for word in ("two", "cucumetto")] == [
        "two",
        UNKNOWN,
    ]


def test_lines_that_are_heard_first_are_words_alone_one_time_in_six(tmp_path):
    """A voice with far more words cut out than whole lines is still heard in whole lines."""
    rows = [
        {"pack": "p.s16", "start": 0, "length": LOUD, "voice": "an4/x", "kind": kind, "text": text}
        for kind, text, count in (("alone", "two", 60), ("digits", "four two four two", 6))
        for _ in range(count)
    ]
    tone = 0.3 * np.sin(np.arange(4 * LOUD) * 0.2)
    (tone * 32767).astype("<i2").tofile(tmp_path / "p.s16")
    (tmp_path / "p.jsonl").write_text("".join(json.dumps(row) + "\n" for row in rows))
    _, utterances = load([tmp_path])
    recordings = Batches(utterances, WORDS, phone_chances([("two", "four")], WORDS), RATE, 1)
    draw = random.Random(2)
    drawn = [recordings._recording(draw) for _ in range(900)]
    single = [one.text for one in drawn if one is not None and len(one.pieces) == 1]
    assert sum(len(text) > 1 for text in single) > 2 * sum(len(text) == 1 for text in single)
