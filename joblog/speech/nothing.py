"""Whether a stretch of sound was speech at all: music, song and machines are no words.

A recognizer made for speech makes words of anything. Only where every recognizer, each in its own
way, shows that it found none is a stretch left out; one of them with a word to stand on keeps it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from joblog.model import UNHEARD, Hearing

FROM_NOTHING = frozenset((
    "ah", "ah ah", "bye", "bye bye", "hm", "hmm", "huh", "i", "mm", "mm hmm", "oh", "thank you",
    "thank you for watching", "thank you very much", "thanks", "thanks for watching", "uh",
    "uh huh", "um", "you",
))  # fmt: skip
"""Lines that recognizers which learned from films and talks write where nobody speaks; most of them
were met in sung vowels over chords (`tests.bench.edges`), the others from memory."""
SMALL = frozenset(
    "a ah an and are at be but he i in is it of oh on or other she so that the them they to uh um "
    "was we you".split()
)
"""Words so short that a recognizer of few words falls back on them; alone they say nothing."""
SLOWEST = 0.5
"""Words a second. Whoever dictates says two or three; song that is taken for speech gives fewer."""
AROUND = 0.5
"""Seconds of air that a stretch has beside its words, before and after together."""
CIRCLES = 3
"""Times that a line is said over before it is the recognizer going round in circles."""


def is_speech(hearings: Sequence[Hearing], seconds: float) -> bool:
    """Whether anybody spoke in a stretch of so many seconds, as far as the recognizers show.

    True wherever one of them has words that mean something, all have the same line of several
    words, or only one takes part. A single word in a long stretch means something too, unless the
    other recognizer wrote what is written where nobody speaks.
    """
    opinions = [one.text for one in _opinions(hearings)]
    if len(opinions) < 2 or not any(one.text for one in hearings):
        return any(one.text for one in hearings)
    if any(UNHEARD in text for text in opinions):
        # Speech that a recognizer knows no word for is speech.
        return True
    lines = [_line(text) for text in opinions]
    if " " in lines[0] and len(set(lines)) == 1:
        return True
    if all(SMALL.issuperset(line.split()) for line in lines):
        return False
    few = SLOWEST * (seconds - AROUND)
    return not any(map(_of_nothing, lines)) or not all(
        _of_nothing(line) or SMALL.issuperset(words := line.split()) or len(words) < few
        for line in lines
    )


def _opinions(hearings: Sequence[Hearing]) -> list[Hearing]:
    """What each recognizer heard by itself: freely, where it heard in several ways."""
    first: dict[str, Hearing] = {}
    for one in hearings:
        name = one.recognizer.partition(" ")[0]
        if name not in first or one.recognizer.endswith(" free"):
            first[name] = one
    return list(first.values())


def _of_nothing(line: str) -> bool:
    """Whether a recognizer writes such a line where nobody speaks."""
    return line in FROM_NOTHING or _in_circles(line.split())


def _in_circles(words: list[str]) -> bool:
    """Whether the words are a few of them over and over."""
    return any(
        words == words[:length] * (len(words) // length)
        for length in range(1, len(words) // CIRCLES + 1)
        if len(words) % length == 0
    )


def _line(text: str) -> str:
    """The text's words, in lower case, with nothing between them."""
    return " ".join(re.findall(r"[a-z0-9]+", text.lower().replace("'", "")))
