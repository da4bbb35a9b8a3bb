"""What makes the demo's sound: noises mixed to measure, files dated, missing voices named."""

import sys
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from sounds import babble, quiet

from fixtures import voices
from fixtures.voices import (
    CODECS,
    LOCKED,
    NOISES,
    VOICES,
    VoiceError,
    mix,
    noise,
    speak,
    write,
)
from joblog.audio.made import dated
from joblog.speech.training.voices import VOICES as TRAINED_ON
from tests.bench.spoken import VOICES as FITTED_TO


def power(sound: np.ndarray) -> float:
    return float(np.mean(sound.astype(np.float64) ** 2))


@pytest.mark.parametrize("decibels", [0.0, 15.0])
def test_noise_is_mixed_to_the_ratio_asked_for(decibels: float) -> None:
    speech, steady = babble(4.0), noise("compressor", 4.0)
    mixed = mix(speech, steady, decibels)
    share = mixed / np.abs(mixed).max()
    scale = float(np.dot(share, speech) / np.dot(speech, speech))
    under = share - scale * speech
    ratio = 10 * np.log10(power(scale * speech) / power(under))
    assert ratio == pytest.approx(decibels, abs=1.5)  # pauses between syllables do not count


@pytest.mark.parametrize("kind", NOISES)
def test_a_noise_is_the_same_for_the_same_seed_only(kind: str) -> None:
    np.testing.assert_array_equal(noise(kind, 2.0, 7), noise(kind, 2.0, 7))
    assert not np.array_equal(noise(kind, 2.0, 7), noise(kind, 2.0, 8))


def test_a_saw_is_started_and_stopped() -> None:
    seconds = noise("saw", 40.0).reshape(40, -1)
    levels = (seconds**2).mean(axis=1)
    assert (levels > 0.003).any()
    assert (levels < 0.0001).any()


@pytest.mark.parametrize("ending", CODECS)
def test_every_kind_of_file_can_be_written_with_its_time(tmp_path: Path, ending: str) -> None:
    made = datetime(2025, 10, 5, 14, 30, 12, tzinfo=ZoneInfo("America/New_York"))
    path = write(tmp_path / f"20251005_143012{ending}", quiet(1.0), made)
    assert dated(path, "America/New_York", 1.0)[0].at == made


@pytest.mark.parametrize(
    ("voice", "package"),
    [("espeak", "espeak-ng"), ("flite slt", "flite"), ("festival ked", "festvox-kdlpc16k")],
)
def test_a_missing_synthesizer_is_named(monkeypatch, voice: str, package: str) -> None:
    monkeypatch.setattr(voices.shutil, "which", lambda _: None)
    with pytest.raises(VoiceError, match=f"apt-get install .*{package}"):
        speak("north wall", voice)


def test_an_unknown_voice_or_noise_is_refused() -> None:
    with pytest.raises(VoiceError, match="no voice"):
        speak("north wall", "nobody")
    with pytest.raises(VoiceError, match="no noise"):
        noise("nothing", 1.0)


def test_a_missing_package_of_a_locked_voice_is_named(monkeypatch) -> None:
    monkeypatch.setitem(sys.modules, "py_nanotts", None)
    with pytest.raises(VoiceError, match="pip install py-nanotts"):
        speak("north wall", "pico us")


def test_a_missing_program_of_a_locked_voice_is_named(monkeypatch) -> None:
    monkeypatch.setattr(voices.shutil, "which", lambda _: None)
    with pytest.raises(VoiceError, match="node is not installed; it is needed for @echogarden"):
        speak("north wall", "gnuspeech male")


def test_nothing_is_trained_on_a_locked_voice_or_fitted_to_one() -> None:
    trained = {voice.engine for voice in TRAINED_ON if voice.share}
    assert not trained & {voice.split()[0] for voice in LOCKED}
    assert not {*VOICES, *FITTED_TO} & {*LOCKED}
