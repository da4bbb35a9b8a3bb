"""Whole recordings, and recognizers of any make."""

import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest
from said import CLIPS, JOB, LINES, clip, plain

from fixtures.voices import write
from joblog.audio.decode import RATE, AudioError, Samples
from joblog.model import Hearing, Vocabulary
from joblog.speech import Recognizer, SpeechError, listen, recognizers


@dataclass
class Echo:
    """A recognizer of another make, which hears how long the sound is."""

    name: str = "echo"

    def hear(
        self, samples: Samples, vocabulary: Vocabulary, start: float = 0.0
    ) -> tuple[Hearing, ...]:
        return (Hearing(self.name, f"{len(samples) / RATE:.0f} seconds"),)


@dataclass
class Deaf:
    name: str = "deaf"

    def hear(
        self, samples: Samples, vocabulary: Vocabulary, start: float = 0.0
    ) -> tuple[Hearing, ...]:
        return (Hearing(self.name, ""),)


def test_a_recording_is_heard_by_every_recognizer_in_order() -> None:
    heard = listen(CLIPS / "used.ogg", JOB, recognizers())
    (utterance,) = heard.utterances
    assert [hearing.recognizer for hearing in utterance.hearings] == [
        "trade",
        "general free",
        "general constrained",
    ]
    assert plain(utterance.hearings[0].text) == LINES["used"]
    assert heard.trouble is None
    assert heard.seconds == pytest.approx(len(clip("used")) / RATE)


def test_words_stand_where_they_are_in_the_recording() -> None:
    (utterance,) = listen(CLIPS / "used.ogg", JOB, recognizers()).utterances
    for hearing in utterance.hearings:
        for word in hearing.words:
            assert utterance.start <= word.start <= word.end <= utterance.end + 0.01


def test_a_third_recognizer_takes_part_by_its_one_method() -> None:
    (utterance,) = listen(CLIPS / "used.ogg", JOB, [*recognizers(), Echo()]).utterances
    assert isinstance(Echo(), Recognizer)
    assert utterance.hearings[-1] == Hearing("echo", "2 seconds")


def test_a_recording_in_which_nobody_hears_a_word_says_so() -> None:
    heard = listen(CLIPS / "used.ogg", JOB, [Deaf()])
    assert heard.utterances == ()
    assert heard.trouble == "no speech was found in it"


def test_a_recording_that_was_too_loud_says_so(tmp_path: Path) -> None:
    fine, loud = clip("used"), np.clip(clip("used") * 20, -1, 1).astype(np.float32)
    pause = np.zeros(2 * RATE, np.float32)
    one = write(tmp_path / "loud.wav", loud)
    both = write(tmp_path / "both.wav", np.concatenate([fine, pause, loud]))
    assert listen(one, JOB, [Echo()]).trouble == (
        "the microphone was too loud and cut the voice off: check the words, and hold it farther"
        " away"
    )
    assert "cut the voice off in 1 of 2 utterances" in str(listen(both, JOB, [Echo()]).trouble)


def test_a_file_that_is_no_recording_is_an_error_of_the_audio_room(tmp_path: Path) -> None:
    path = tmp_path / "words.wav"
    path.write_text("not a recording")
    with pytest.raises(AudioError):
        listen(path, JOB, [Echo()])


def test_another_model_comes_from_the_environment_unless_one_is_named(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("JOBLOG_VOSK_MODEL", str(tmp_path / "gone"))
    with pytest.raises(SpeechError, match="gone"):
        recognizers()[0].hear(np.zeros(RATE, np.float32), JOB)
    with pytest.raises(SpeechError, match="elsewhere"):
        recognizers(tmp_path / "elsewhere")[0].hear(np.zeros(RATE, np.float32), JOB)


def test_nothing_heavy_is_imported_before_something_is_heard() -> None:
    heavy = "{'numpy', 'vosk', 'onnxruntime', 'av', 'moonshine_voice'}"
    code = f"import sys, joblog.speech; print(sorted({heavy} & set(sys.modules)))"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


def test_a_recording_is_heard_alike_whatever_was_heard_before_it() -> None:
    fresh, used = recognizers()[:1], recognizers()[:1]
    for other in sorted(CLIPS.glob("*.ogg")):
        listen(other, JOB, used)
    assert listen(CLIPS / "used.ogg", JOB, used) == listen(CLIPS / "used.ogg", JOB, fresh)


@dataclass
class Remembering(Echo):
    """A recognizer that keeps something between utterances."""

    begun: int = 0

    def begin(self) -> None:
        self.begun += 1


def test_a_recognizer_that_remembers_is_told_when_a_recording_begins() -> None:
    ear = Remembering()
    listen(CLIPS / "used.ogg", JOB, [ear])
    listen(CLIPS / "used.ogg", JOB, [ear])
    assert ear.begun == 2


def test_more_speech_than_its_bytes_can_hold_is_not_listened_to(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sound = np.concatenate([clip("used"), np.zeros(2 * RATE, np.float32)] * 3)
    path = write(tmp_path / "a.wav", sound)
    module = sys.modules["joblog.speech.listen"]
    monkeypatch.setattr(module, "SPARE", 1.5 * len(clip("used")) / RATE)
    monkeypatch.setattr(module, "THINNEST", float("inf"))
    heard = listen(path, JOB, (Echo(),))
    assert len(heard.utterances) == 1
    assert heard.seconds == pytest.approx(len(sound) / RATE)
    assert heard.trouble is not None
    assert "is too small a file for so much speech" in heard.trouble


def test_a_voice_at_the_thinnest_has_room_for_a_day() -> None:
    # AMR at its lowest: 4.75 kbit/s, 13 bytes of 20 ms with their head (RFC 4867, section 5.3).
    assert sys.modules["joblog.speech.listen"].THINNEST < 13 * 50 / 2
