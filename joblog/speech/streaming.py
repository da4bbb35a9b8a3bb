"""Words while they are being said, for showing; what counts is heard anew when it is all said."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from joblog.model import UNHEARD
from joblog.speech.recognizer import RATE
from joblog.speech.trade import UNKNOWN, load_trade_model, pcm

if TYPE_CHECKING:
    from joblog.audio.decode import Samples


class WordsSoFar:
    """The trade recognizer, listening along."""

    def __init__(self, model: Path | str | None = None) -> None:
        """`model` as for `TradeRecognizer`. Raises `SpeechError` when there is none."""
        from joblog.speech.vosk_alone import vosk

        self._recognizer: Any = vosk().KaldiRecognizer(load_trade_model(model), RATE)
        self._before = ""
        self.ended = False
        """True once the recognizer itself finds that what was said is over."""

    def feed(self, sound: Samples) -> str:
        """All words of the utterance up to here; `sound` is mono float32 at 16 kHz."""
        if self._recognizer.AcceptWaveform(pcm(sound)):
            said = json.loads(self._recognizer.Result())["text"]
            self._before = f"{self._before} {said}".strip()
            self.ended = bool(self._before)
            return _shown(self._before)
        said = json.loads(self._recognizer.PartialResult())["partial"]
        self.ended = self.ended and not said
        return _shown(f"{self._before} {said}".strip())

    def begin(self) -> None:
        """Forgets what was said: the next utterance begins."""
        # Not by Reset: sound that it has not looked at yet would turn up in the next utterance.
        self._recognizer.FinalResult()
        self._before, self.ended = "", False


def _shown(text: str) -> str:
    return text.replace(UNKNOWN, UNHEARD)
