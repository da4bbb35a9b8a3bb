"""Silence costs next to nothing, and what is heard around it is the same as if it did."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import av
import numpy as np
import pytest
from sounds import babble, quiet, silent_flac

from fixtures.voices import write
from joblog.audio import decode, voice
from joblog.audio.decode import RATE, Samples, blocks, samples
from joblog.audio.sameness import sound_print
from joblog.audio.voice import Stretch, stretches


@pytest.mark.parametrize(
    ("ending", "rate", "channels"),
    [("wav", 8_000, 1), ("flac", 44_100, 2), ("ogg", 48_000, 1), ("wav", 48_000, 2)],
)
def test_sound_around_silence_is_what_it_would_be_if_all_was_worked_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ending: str, rate: int, channels: int
) -> None:
    sound = np.concatenate([babble(0.7), quiet(7.31), babble(0.3), quiet(0.9), babble(0.4)])
    path = write(tmp_path / f"a.{ending}", sound, codec_rate=rate, channels=channels)
    found = samples(path)
    monkeypatch.setattr(decode, "_is_silent", lambda frame: False)
    assert np.array_equal(found, samples(path))


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[int]]:
    """One for every frame that the detector of speech is asked about."""
    asked: list[int] = []
    of = voice.SpeechJudge.of

    def counting(judge: voice.SpeechJudge, frame: Samples) -> float:
        asked.append(1)
        return of(judge, frame)

    monkeypatch.setattr(voice.SpeechJudge, "of", counting)
    yield asked


def cut(sound: Samples) -> list[Stretch]:
    return list(stretches(iter(np.array_split(sound, max(1, len(sound) // RATE)))))


@pytest.mark.parametrize(
    "between",
    [
        quiet(12.0),
        np.full(12 * RATE, 1.5e-3, np.float32),
        np.random.default_rng(1).uniform(-8e-5, 8e-5, 12 * RATE).astype(np.float32),
    ],
    ids=["nothing", "a constant", "the last bits"],
)
def test_speech_after_long_silence_is_cut_as_frame_by_frame(
    between: Samples, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(voice, "STEADY", 200)
    sound = np.concatenate([babble(1.5), between, babble(0.7), between, babble(1.0) * 0.01])
    found = cut(sound)
    monkeypatch.setattr(voice.SpeechJudge, "silence", lambda judge, block: None)
    alone = cut(sound)
    assert [(one.start, one.end) for one in found] == [(one.start, one.end) for one in alone]
    for one, other in zip(found, alone, strict=True):
        assert np.array_equal(one.samples, other.samples)
    assert len(found) >= 2


@pytest.mark.parametrize(("value", "most"), [(0, 100), (50, 300)])
def test_long_silence_in_a_few_kilobytes_hardly_asks_the_detector(
    tmp_path: Path, counted: list[int], value: int, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(voice, "STEADY", 200)
    path = tmp_path / "silent.flac"
    path.write_bytes(silent_flac(1200, 8_000, value))
    assert path.stat().st_size < 5_000
    assert list(stretches(blocks(path))) == []
    assert len(counted) < most


def test_silence_is_not_resampled(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "silent.flac"
    path.write_bytes(silent_flac(1200, 8_000))
    worked_out = 0
    arrays: Callable[[list[av.AudioFrame]], Iterator[Samples]] = decode._arrays

    def counting(frames: list[av.AudioFrame]) -> Iterator[Samples]:
        nonlocal worked_out
        for sound in arrays(frames):
            worked_out += len(sound)
            yield sound

    monkeypatch.setattr(decode, "_arrays", counting)
    assert sound_print(blocks(path)).seconds == 1200
    assert worked_out < 30 * RATE
