"""Lines put to every recognizer: how likely each holds what another heard.

A line that one recognizer did not list gets its opinion all the same, and so does a line that was
put together from two (rescoring and combining lists: Stolcke, Konig and Weintraub, "Explicit word
error minimization in N-best list rescoring", Eurospeech 1997).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from joblog.model import Hearing, Scored, Vocabulary
from joblog.speech.recognizer import Recognizer, Scorer

if TYPE_CHECKING:
    from joblog.audio.decode import Samples

Candidates = Callable[[Sequence[Hearing], Vocabulary], Sequence[str]]
"""The lines that may have been said, given what was heard: lower case, without punctuation."""
TRADE_FAR, GENERAL_FAR = 12.0, 12.0
"""Nats behind the best line from which a recognizer has no more to say of a line."""


def cross_score(
    samples: Samples,
    hearings: Sequence[Hearing],
    vocabulary: Vocabulary,
    recognizers: Sequence[Recognizer],
    candidates: Candidates,
    each: Callable[..., Iterable[Sequence[float | None]]] = map,
) -> tuple[Scored, ...]:
    """The candidate lines as every recognizer that can score them does.

    Lines that were not heard, and that no recognizer holds for near, are left out. `each` is
    `map`, or one like it that works side by side. Raises `SpeechError`.
    """
    scorers = [one for one in recognizers if isinstance(one, Scorer)]
    lines = tuple(candidates(hearings, vocabulary)) if scorers else ()
    if not lines:
        return ()
    scores = {
        scorer.name: told
        for scorer, told in zip(
            scorers, each(lambda one: one.score(samples, lines, vocabulary), scorers), strict=True
        )
    }
    nothing = (None,) * len(lines)
    trade, general = scores.get("trade", nothing), scores.get("general", nothing)
    language = _language(lines, vocabulary)
    heard = {alternative.text.lower() for one in hearings for alternative in one.alternatives}
    return tuple(
        Scored(text, _rounded(own), _rounded(other), round(said, 2))
        for text, own, other, said, near in zip(
            lines, trade, general, language, _near(trade, general), strict=True
        )
        if near or text in heard
    )


def _near(trade: Sequence[float | None], general: Sequence[float | None]) -> list[bool]:
    bars = [
        max((one for one in told if one is not None), default=0.0) - far
        for told, far in ((trade, TRADE_FAR), (general, GENERAL_FAR))
    ]
    return [
        any(one is not None and one >= bar for one, bar in zip(both, bars, strict=True))
        for both in zip(trade, general, strict=True)
    ]


def _language(lines: Sequence[str], vocabulary: Vocabulary) -> list[float]:
    from joblog.speech.expectation import BEGUN, FINISH
    from joblog.speech.words import language_of

    expected = language_of(vocabulary)
    found = []
    for line in lines:
        words = [*BEGUN, *line.split(), FINISH]
        found.append(
            sum(
                expected.log_probability(words[at], (words[at - 2], words[at - 1]))
                for at in range(2, len(words))
            )
        )
    return found


def _rounded(score: float | None) -> float | None:
    return None if score is None else round(score, 3)
