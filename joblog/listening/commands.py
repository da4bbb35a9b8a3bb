"""Spoken control: a few plain commands, taken only when nothing else is said with them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from itertools import product
from typing import Literal

from joblog.dictation.words import words_of

Command = Literal[
    "pause",
    "resume",
    "cut list",
    "next cut",
    "cut done",
    "left to cut",
    "which place",
    "read last",
    "photo note",
    "keep both",
]


def command_in(texts: Sequence[str]) -> Command | None:
    """The command that one of the whole hearings of an utterance is, the first of them that is one.

    Only the words of `_PASSED_OVER` may stand beside it.
    """
    return next((_commands()[said] for text in texts if (said := _said(text)) in _commands()), None)


def spoken_commands() -> tuple[str, ...]:
    """Every way to say a command, for recognizers to expect."""
    plain = [
        " ".join(phrase.split())
        for forms in PHRASES.values()
        for form in forms
        for phrase in _every(form)
    ]
    return tuple(dict.fromkeys([*plain, *map(_with_articles, plain)]))


def _with_articles(phrase: str) -> str:
    return re.sub(
        r"\b(?=last |cut list)(?<!that )", "the ", re.sub(r"\b(?=photo note)", "a ", phrase)
    )


PHRASES: Mapping[Command, tuple[str, ...]] = {
    "pause": ("pause (|listening|recording)", "(stop|quit) listening"),
    "resume": ("resume (|listening|recording)", "(start|go on|keep) listening", "listen again"),
    "cut list": (
        "(read|read back|read me|read off|say) cut list",
        "(what is|what is on|what is in) cut list",
    ),
    "next cut": (
        "what is next (|to cut|on cut list)",
        "what do i cut next",
        "what is next (cut|piece|one)",
        "next cut",
    ),
    "cut done": (
        "next one",
        "next piece",
        "that one is (cut|done)",
        "that one is (cut|done) next one",
        "that is cut",
    ),
    "left to cut": (
        "how many (|are|pieces|pieces are|cuts|cuts are) left (|to cut)",
        "how many (more|to go|more to cut|more to go)",
    ),
    "which place": (
        "(which|what) place (|are we at|are we on|am i at|am i on|is it|is this)",
        "where are we (|at)",
        "where am i (|at)",
    ),
    "read last": (
        "(read|read back|read me|say) (|that) last (one|entry) (|again|back)",
        "read (that|it) (back|again)",
        "what was (|that) last (one|entry)",
        "say that again",
    ),
    "photo note": ("(|take|make) photo note", "(take|make) note (of|for) photo"),
    "keep both": ("keep both (|of them|of those|numbers)", "keep them both", "both are right"),
}
"""What each is called by: one of `(a|b)` is said. Articles are not listed, they are passed over."""

_PASSED_OVER = frozenset(
    "hey hi uh um okay ok please alright well so now then yeah joblog the a an me".split()
)
_SHORT = {"that's": "that is", "it's": "it is", "what's": "what is", "where's": "where is"}


def _said(text: str) -> tuple[str, ...]:
    words = [part for word in words_of(text) for part in _SHORT.get(word, word).split()]
    return tuple(word for word in words if word not in _PASSED_OVER)


@cache
def _commands() -> dict[tuple[str, ...], Command]:
    return {
        _said(phrase): command
        for command, forms in PHRASES.items()
        for form in forms
        for phrase in _every(form)
    }


def _every(form: str) -> Iterator[str]:
    """Each way to say a form."""
    pieces = re.split(r"\(([^()]*)\)", form)
    choices = [piece.split("|") if at % 2 else [piece] for at, piece in enumerate(pieces)]
    return (" ".join(chosen) for chosen in product(*choices))
