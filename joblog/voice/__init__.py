"""Whose voice it is: what a person decided of what was heard teaches how sure one may be. Pure."""

from joblog.voice.card import Line, aligned, card
from joblog.voice.decisions import NOTICED, Decision, How, mixed_up_in
from joblog.voice.learn import Voice, learned
from joblog.voice.promise import PROMISE, Interval, interval

__all__ = [
    "NOTICED",
    "PROMISE",
    "Decision",
    "How",
    "Interval",
    "Line",
    "Voice",
    "aligned",
    "card",
    "interval",
    "learned",
    "mixed_up_in",
]
