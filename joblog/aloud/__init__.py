"""What is said aloud: an entry in few words; `voices` and `beeps` say it."""

from joblog.aloud.say import (
    say_changed,
    say_doubtful,
    say_dropped,
    say_entries,
    say_entry,
    say_question,
    say_unsure,
)

__all__ = [
    "say_changed",
    "say_doubtful",
    "say_dropped",
    "say_entries",
    "say_entry",
    "say_question",
    "say_unsure",
]
