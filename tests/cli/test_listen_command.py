"""Hands-free on the ladder, from the command line."""

from __future__ import annotations

import json
import sys
import wave
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from running import Say

from joblog.aloud.voices import VoiceError
from joblog.audio.decode import RATE, Samples
from joblog.book import Book
from joblog.dictation import SHIPPED, Judgement, read_heard
from joblog.listening.ear import Said, Unheard
from joblog.model import HeardUtterance, Utterance, Vocabulary
from joblog.service import listening, open_desk
from tests.audio.sound_cards import SoundCards, Stream
from tests.audio.sounds import even_babble, quiet
from tests.listening.talking import hearings

DEMO = Path(__file__).parents[2] / "fixtures" / "demo" / "recordings"
BOOK = ("--book", "book")
FAST = ("--fast", "--answers", "none")


class Hears:
    """An ear that hears one line after the other, whatever is said."""

    lines = ("south eave fourteen and a half", "used four sticks of wall channel")
    trouble: str | None = None

    def __init__(self, vocabulary: Vocabulary, judgement: Judgement = SHIPPED) -> None:
        self._vocabulary, self._lines = vocabulary, iter(self.lines)
        self._judgement = judgement
        self.closed = False

    def wake(self) -> None:
        """It is awake."""

    def hear(self, said: Said) -> HeardUtterance | Unheard:
        if self.trouble:
            return Unheard(self.trouble)
        utterance = Utterance(0.0, len(said.sound) / RATE, hearings(next(self._lines)))
        return read_heard(utterance, self._vocabulary, said.context, self._judgement)

    def close(self) -> None:
        self.closed = True


class StandingStill:
    """A clock by which nothing takes any time, so that answers come whatever the machine."""

    def perf_counter(self) -> float:
        return 0.0


class Hurrying:
    """A clock by which everything is overdue, so that nobody waits."""

    def __init__(self) -> None:
        self._now = 0.0

    def monotonic(self) -> float:
        self._now += 60.0
        return self._now


@pytest.fixture
def ladder(say: Say, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[tuple[Say, Path]]:
    """A fresh book with an invented job, a recording of two utterances, and an ear for them."""
    monkeypatch.setattr("joblog.listening.ear.Ear", Hears)
    monkeypatch.setattr("joblog.listening.doing.time", StandingStill())
    assert say("new", "Corner porch", "--zone", "America/Chicago", *BOOK)[0] == 0
    sounds = (quiet(0.6), even_babble(1.5), quiet(4.4), even_babble(1.5), quiet(3.0))
    yield say, wave_of(tmp_path / "2026-10-05 08.00.00.wav", *sounds)


def wave_of(file: Path, *sounds: Samples) -> Path:
    with wave.open(str(file), "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(RATE)
        sound.writeframes((np.concatenate(sounds) * 32767).astype("<i2").tobytes())
    return file


def entries(say: Say) -> list[dict[str, Any]]:
    return json.loads(say("entries", "--json", *BOOK)[1])


def plainly(complaint: str) -> bool:
    """Whether it is for a person: a line or two, and not the inside of the program."""
    return 0 < len(complaint.strip().splitlines()) <= 4 and "Traceback" not in complaint


def test_a_recording_of_the_demo_is_listened_to_and_its_entries_kept(say: Say) -> None:
    assert say("new", "Corner porch", "--zone", "America/Chicago", *BOOK)[0] == 0
    source = DEMO / "tuesday-3.opus"
    status, shown, complaint = say("listen", "--from", str(source), *FAST, *BOOK)
    assert (status, complaint) == (0, "")
    assert [(one["entry"]["kind"], one["entry"].get("quantity")) for one in entries(say)] == [
        ("break", None),
        ("used", "7"),
        ("spoiled", "2"),
        ("used", "4"),
    ]
    assert "11:31:00 AM  break half an hour\n          break: 30 minutes\n" in shown
    assert "4 entries, " in shown.splitlines()[-1]


def test_the_cautions_are_read_before_anything_is_heard(ladder: tuple[Say, Path]) -> None:
    say, source = ladder
    _, shown, _ = say("listen", "--from", str(source), *FAST, *BOOK)
    cautions, _, rest = shown.partition("loading; then it listens for Corner porch.")
    assert "one foot out for every four up" in cautions
    assert "This log is no safety system." in cautions
    assert "8:00:00 AM  south eave fourteen and a half" in rest


def test_listened_to_again_nothing_doubles(ladder: tuple[Say, Path]) -> None:
    say, source = ladder
    assert say("listen", "--from", str(source), *FAST, *BOOK)[0] == 0
    first = entries(say)
    assert [one["entry"]["kind"] for one in first] == ["measure", "used"]
    assert say("listen", "--from", str(source), *FAST, *BOOK)[0] == 0
    assert entries(say) == first


def test_each_utterance_is_shown_with_its_entries_and_what_was_answered(
    ladder: tuple[Say, Path],
) -> None:
    say, source = ladder
    answered = ("--fast", "--answers", "beeps", "--shorter", "1/4")
    status, shown, complaint = say("listen", "--from", str(source), *answered, *BOOK)
    assert (status, complaint) == (0, "")
    lines = shown.splitlines()
    answer = '          answers: "south eave, fourteen and a half, cut fourteen and a quarter"'
    assert answer in lines
    assert "          measure: 14 1/2 in, south eave" in lines
    assert lines[-1] == (
        "2 entries, 0 of them to be settled in joblog review; "
        "0 times something was said and noted nowhere"
    )


def test_what_was_not_heard_is_told_and_its_sound_kept(
    ladder: tuple[Say, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    say, source = ladder
    monkeypatch.setattr(Hears, "trouble", "what hears it got stuck; it is begun anew")
    status, shown, _ = say("listen", "--from", str(source), *FAST, *BOOK)
    assert status == 0
    assert shown.count("! something was not heard: what hears it got stuck") == 1
    assert "0 entries, 0 of them to be settled in joblog review; 2 times" in shown
    with Book.open(Path("book")) as book:
        assert len(book.utterances("Corner porch")) == 2


def test_the_recording_of_the_day_is_kept_by_choice(ladder: tuple[Say, Path]) -> None:
    say, source = ladder
    assert "the day's recording" not in say("listen", "--from", str(source), *FAST, *BOOK)[1]
    assert not Path("book/days").exists()
    shown = say("listen", "--from", str(source), *FAST, "--keep-day", *BOOK)[1]
    assert "the day's recording: " in shown
    assert [file.name for file in Path("book/days/2026-10-05").iterdir()] == ["08-00-00.opus"]


def test_only_one_listens_into_a_book_at_a_time(ladder: tuple[Say, Path]) -> None:
    say, source = ladder
    with (
        Book.open(Path("book")) as book,
        listening.open_spool(open_desk(book, "Corner porch")),
    ):
        status, _, complaint = say("listen", "--from", str(source), *FAST, *BOOK)
    assert status == 1
    assert "is being listened for already. Stop that first." in complaint
    assert plainly(complaint)
    assert say("listen", "--from", str(source), *FAST, *BOOK)[0] == 0


@pytest.mark.parametrize(
    ("words", "status", "why"),
    [
        (("--fast",), 2, "--fast needs a recording: --from FILE"),
        (("--from", "missing.wav", "--fast"), 1, "missing.wav"),
        (("--from", "letter.wav", "--fast"), 1, "letter.wav"),
        (("--shorter", "a bit"), 2, "--shorter: "),
        (("--answers", "songs"), 2, "songs"),
        (("--volume", "101"), 2, "101"),
        (("--from", "2026-10-05 08.00.00.wav", "--cuts", "letter.wav", *FAST), 1, "letter.wav"),
        (("--from", "2026-10-05 08.00.00.wav", "--cuts", "no.json", *FAST), 1, "no.json"),
        (("--from", "2026-10-05 08.00.00.wav", "--fast", "--voice", "parrot"), 1, "parrot"),
    ],
)
def test_what_cannot_be_done_is_refused_in_a_line(
    ladder: tuple[Say, Path], words: tuple[str, ...], status: int, why: str
) -> None:
    say, _ = ladder
    Path("letter.wav").write_text("dear")
    done, _, complaint = say("listen", *words, *BOOK)
    assert done == status
    assert why in complaint
    assert plainly(complaint)
    assert entries(say) == []


# --- devices ----------------------------------------------------------------------------------


@pytest.fixture
def cards(monkeypatch: pytest.MonkeyPatch) -> SoundCards:
    cards = SoundCards("Headset", "Desk speaker")
    monkeypatch.setitem(sys.modules, "sounddevice", cards)
    monkeypatch.setattr("joblog.audio.portaudio._STREAMS", [])
    return cards


def test_microphones_and_loudspeakers_are_listed(say: Say, cards: SoundCards) -> None:
    status, shown, _ = say("listen", "--devices")
    assert status == 0
    assert shown == (
        "  0  Headset (Sound), hears and plays\n  1  Desk speaker (Sound), hears and plays\n"
    )


@pytest.mark.parametrize("words", [("--devices",), ("--try",), ()])
def test_without_sounddevice_one_is_told_what_to_install(
    ladder: tuple[Say, Path], monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    say, _ = ladder
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    status, _, complaint = say("listen", *words, "--answers", "none", *BOOK)
    assert status == 1
    assert "pip install sounddevice" in complaint
    assert plainly(complaint)


def test_a_microphone_that_is_not_there_is_refused_by_its_name(
    ladder: tuple[Say, Path], cards: SoundCards
) -> None:
    say, _ = ladder
    status, _, complaint = say("listen", "--microphone", "Lapel", "--answers", "none", *BOOK)
    assert status == 1
    assert "Lapel" in complaint
    assert plainly(complaint)


def test_a_recording_is_listened_to_on_a_machine_without_sound(
    ladder: tuple[Say, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    say, source = ladder
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    monkeypatch.setattr("joblog.listening.doing.Beside", AtOnceThen)
    monkeypatch.setattr("joblog.audio.microphone.time", Hurrying())
    short = wave_of(source, quiet(0.3), even_babble(0.6))
    status, shown, _ = say("listen", "--from", str(short), "--answers", "beeps", *BOOK)
    assert status == 0
    assert "nothing is said aloud" in shown
    assert len(entries(say)) == 1


def test_without_a_voice_it_answers_by_beeps_unless_one_was_named(
    ladder: tuple[Say, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    say, source = ladder

    def none(passing: Path, name: str | None = None) -> None:
        raise VoiceError("no voice here")

    monkeypatch.setattr("joblog.aloud.voices.best_voice", none)
    short = wave_of(source, quiet(0.3), even_babble(0.6))
    status, shown, _ = say("listen", "--from", str(short), "--fast", *BOOK)
    assert (status, len(entries(say))) == (0, 1)
    assert "no voice here Until then it answers by beeps." in shown
    status, _, complained = say("listen", "--from", str(short), "--voice", "espeak", *BOOK)
    assert (status, complained) == (1, "Error: no voice here\n")


class AtOnceThen:
    """Done at once and ready at once."""

    live = False

    def start(self, now: float, do: Any) -> Any:
        from joblog.listening.doing import AtOnce

        return AtOnce().start(now, do)

    def close(self) -> None:
        """There is nothing to close."""


def heard_at_once(*sounds: Samples) -> Any:
    """Has a microphone hear this as soon as it is opened."""
    whole = (np.concatenate(sounds) * 32767).astype(np.int16)

    def hears(stream: Stream) -> None:
        size = stream.settings["blocksize"]
        for at in range(0, len(whole) - size, size):
            stream.hears(whole[at : at + size])

    return hears


def test_a_try_tells_how_loud_it_is_and_what_is_understood_and_keeps_nothing(
    ladder: tuple[Say, Path], cards: SoundCards
) -> None:
    say, _ = ladder
    cards.began = heard_at_once(quiet(1.0), even_babble(1.5, decibels=-6.0), quiet(3.5))
    status, shown, complaint = say("listen", "--try", *BOOK)
    assert (status, complaint) == (0, "")
    lines = shown.splitlines()
    assert "Headset: speak now, for five seconds" in lines
    [loudest] = [line for line in lines if line.startswith("loudest: ")]
    assert -40 < float(loudest.split()[1]) < -15
    assert "heard: south eave fourteen and a half" in lines
    assert "  measure: 14 1/2 in, south eave" in lines
    assert entries(say) == []
    assert not Path("book/listening").exists()


def test_a_try_in_which_nobody_speaks_says_so(ladder: tuple[Say, Path], cards: SoundCards) -> None:
    say, _ = ladder
    cards.began = heard_at_once(quiet(6.0))
    status, shown, _ = say("listen", "--try", "--microphone", "Desk", *BOOK)
    assert status == 1
    assert "Desk speaker: speak now" in shown
    assert "nothing was understood; nearer to the microphone" in shown


def test_a_try_that_nothing_could_hear_says_why(
    ladder: tuple[Say, Path], cards: SoundCards, monkeypatch: pytest.MonkeyPatch
) -> None:
    say, _ = ladder
    monkeypatch.setattr(Hears, "trouble", "the model is missing")
    cards.began = heard_at_once(quiet(1.0), even_babble(1.5), quiet(3.5))
    status, _, complaint = say("listen", "--try", *BOOK)
    assert status == 1
    assert "the model is missing" in complaint
