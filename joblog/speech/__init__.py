"""Speech in, words out: two recognizers behind one small protocol.

`recognizers` gives them, `listen` has them hear a recording. Nothing heavy is imported before
something is heard.
"""

from __future__ import annotations

from joblog.speech.cross import Candidates, cross_score
from joblog.speech.listen import Heard, listen, recognizers
from joblog.speech.recognizer import Recognizer, Scorer, SpeechError
from joblog.speech.vosk_models import fetch_general_model

__all__ = [
    "Candidates",
    "Heard",
    "Recognizer",
    "Scorer",
    "SpeechError",
    "cross_score",
    "fetch_general_model",
    "listen",
    "recognizers",
]
