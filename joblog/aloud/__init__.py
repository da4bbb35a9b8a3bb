"""What is said aloud: an entry in few words, and the voices and beeps that say it."""

from joblog.aloud.say import (
    say_changed,
    say_doubtful,
    say_dropped,
    say_entries,
    say_entry,
    say_question,
    say_unsure,
)
from joblog.aloud.voices import Voice, VoiceError, best_voice

__all__ = [
    "Voice",
    "VoiceError",
    "best_voice",
    "say_changed",
    "say_doubtful",
    "say_dropped",
    "say_entries",
    "say_entry",
    "say_question",
    "say_unsure",
]
