"""A whole recording, heard utterance by utterance by every recognizer."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from joblog import pulse
from joblog.model import Utterance, Vocabulary
from joblog.speech.cross import Candidates, cross_score
from joblog.speech.nothing import is_speech
from joblog.speech.recognizer import Recognizer

MODEL_VARIABLE = "JOBLOG_VOSK_MODEL"
"""The environment variable that names another Vosk model: a folder, or a name that Vosk knows."""


SPARE, THINNEST = 60.0, 50.0
"""Seconds of speech that any file may hold, and the bytes that each further one takes at least: the
thinnest codecs of speech take 80 (700 bits a second, from memory). A few kilobytes can be made to
hold a day of noise that sounds like speech, which would be listened to for hours."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What is in a recording."""

    seconds: float
    trouble: str | None
    """What a person should know of the recording, such as that it breaks off."""
    utterances: tuple[Utterance, ...]


def listen(
    path: Path,
    vocabulary: Vocabulary,
    recognizers: Sequence[Recognizer],
    candidates: Candidates | None = None,
) -> Heard:
    """The recording's utterances, each with the hearings of all recognizers in their order.

    `candidates` are put to each recognizer that can score lines; without them no line is.

    Memory does not grow with the recording's length, but for the words. Stretches in which no
    recognizer hears a word, or all of them show that nobody spoke, are left out, and so are those
    for which the file is too small to hold speech. Raises
    `AudioError` when the recording cannot be decoded, `SpeechError` when a recognizer cannot work.
    """
    from joblog.audio.clipping import clips
    from joblog.audio.decode import blocks
    from joblog.audio.loudness import loudness
    from joblog.audio.voice import stretches

    for recognizer in recognizers:
        # A recognizer that remembers must not let one recording colour the next.
        getattr(recognizer, "begin", _nothing)()
    stream = blocks(path)
    utterances: list[Utterance] = []
    clipped = 0
    unheard = 0.0
    room = SPARE + path.stat().st_size / THINNEST
    for stretch in stretches(stream):
        room -= stretch.end - stretch.start
        if room < 0:
            unheard += stretch.end - stretch.start
            continue
        hearings = tuple(
            hearing
            for recognizer in recognizers
            for hearing in recognizer.hear(stretch.samples, vocabulary, stretch.start)
        )
        if is_speech(hearings, stretch.end - stretch.start):
            scored = (
                cross_score(stretch.samples, hearings, vocabulary, recognizers, candidates)
                if candidates
                else ()
            )
            loud = loudness(stretch.samples)
            utterances.append(
                Utterance(stretch.start, stretch.end, hearings, scored, loud.level, loud.noise)
            )
            clipped += clips(stretch.samples)
        pulse.goes_on(stretch.end)
    troubles = (
        stream.trouble or (None if utterances else "no speech was found in it"),
        _clipping(clipped, len(utterances)),
        f"is too small a file for so much speech; {unheard:.0f} s of it were not listened to"
        if unheard
        else None,
    )
    return Heard(stream.seconds, "; ".join(filter(None, troubles)) or None, tuple(utterances))


def _clipping(clipped: int, utterances: int) -> str | None:
    if not clipped:
        return None
    where = "" if clipped == utterances else f" in {clipped} of {utterances} utterances"
    return (
        f"the microphone was too loud and cut the voice off{where}: check the words, and hold it"
        " farther away"
    )


def _nothing() -> None:
    """For recognizers that keep nothing between utterances."""


def recognizers(model: Path | str | None = None) -> tuple[Recognizer, ...]:
    """The trade recognizer and the general one, which load when they first hear something.

    `model` is another Vosk model for the trade recognizer: a folder, or a name where Vosk keeps
    models; without it the environment variable JOBLOG_VOSK_MODEL is looked at, and without that
    the model that comes with joblog is used.
    """
    from joblog.speech.general import GeneralRecognizer
    from joblog.speech.trade import TradeRecognizer

    return (TradeRecognizer(model or os.environ.get(MODEL_VARIABLE) or None), GeneralRecognizer())
