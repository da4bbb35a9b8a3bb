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

    Only the words of `_PASSED_OVER` may stand beside it. What changes nothing is also taken by its
    sound: "red that back".
    """
    said = [words for text in texts if (words := _said(text))]
    known = _commands()
    exact = next((known[words] for words in said if words in known), None)
    return exact or next(filter(None, map(_by_sound, said)), None)


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
    "pause": ("(pause|paused) (|listening|recording)", "(stop|quit) listening"),
    "resume": (
        "(resume|resumed) (|listening|recording)",
        "(start|go on|keep) listening",
        "listen again",
    ),
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
        "(read|read back|read me) (|that) last (one|entry) (|again|back)",
        "say last one (|again)",
        "read (that|it) (back|again)",
        "what was last one",
        "say that again",
    ),
    "photo note": ("(|take|make) photo note", "(take|make) note (of|for) photo"),
    "keep both": ("keep both (|of them|of those|numbers)", "keep them both", "both are right"),
}
"""What each is called by: one of `(a|b)` is said. Articles are not listed, they are passed over."""

CHANGES_NOTHING: frozenset[Command] = frozenset(
    ("resume", "cut list", "next cut", "left to cut", "which place", "read last")
)
"""To take one of these by mistake costs a few seconds; "that is good" must not cut a piece."""
SHORTEST_SOUND, SOUNDS_PER_SLIP = 6, 8
"""Consonants that a command must have to be taken by its sound, and in how many one may differ."""

_PASSED_OVER = frozenset(
    "hey hi uh um okay ok please alright well so now then yeah joblog the a an me".split()
)
_SHORT = {"that's": "that is", "it's": "it is", "what's": "what is", "where's": "where is"}


def _said(text: str) -> tuple[str, ...]:
    words = [part for word in words_of(text) for part in _SHORT.get(word, word).split()]
    return tuple(word for word in words if word not in _PASSED_OVER)


def _by_sound(said: tuple[str, ...]) -> Command | None:
    from rapidfuzz.distance import Levenshtein

    sound = _sound(said)
    near = {
        known: slips
        for known in _sounds()
        if (slips := Levenshtein.distance(known, sound)) <= len(known) // SOUNDS_PER_SLIP
    }
    return _sounds()[min(near, key=near.__getitem__)] if near else None


@cache
def _sounds() -> dict[str, Command]:
    return {
        sound: command
        for said, command in _commands().items()
        if command in CHANGES_NOTHING and len(sound := _sound(said)) >= SHORTEST_SOUND
    }


def _sound(said: tuple[str, ...]) -> str:
    """Its consonants, alike where they sound alike (double metaphone, Philips 2000)."""
    from metaphone import doublemetaphone

    return str(doublemetaphone(" ".join(said))[0])


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
