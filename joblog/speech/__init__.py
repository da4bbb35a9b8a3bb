"""Speech in, words out: two recognizers behind one small protocol.

`recognizers` gives them, `listen` has them hear a recording. Nothing heavy is imported before
something is heard.
"""

from __future__ import annotations

from joblog.speech.listen import Heard, listen, recognizers
from joblog.speech.recognizer import Recognizer, SpeechError
from joblog.speech.vosk_models import fetch_general_model

__all__ = ["Heard", "Recognizer", "SpeechError", "fetch_general_model", "listen", "recognizers"]
