"""Which words follow one another on a job, for the model's own graph: a trigram that backs off.

Smoothed as Witten and Bell do (1991); `UNKNOWN` stands among the words as any other.
"""

from __future__ import annotations

import math
import random
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from joblog.speech.trade import UNKNOWN

Context = tuple[str, ...]
BEGIN = "<s>"
END = "</s>"
FEWEST = 2
"""A row of three words that came less often is left out."""
OFF_SUBJECT = 0.06
"""Share of utterances that are of no known word throughout."""
STRANGE = 0.015
"""Share of words of an utterance that are of no known word."""


@dataclass(frozen=True)
class Step:
    """One arc of the grammar; the word None backs off."""

    source: Context
    target: Context
    word: str | None
    cost: float
    """Negative natural logarithm of its probability."""


@dataclass(frozen=True)
class LanguageModel:
    start: Context
    steps: tuple[Step, ...]
    ends: Mapping[Context, float]
    """Cost to end, where that was seen."""


def language_model(texts: Iterable[Sequence[str]]) -> LanguageModel:
    """A trigram of texts, each a row of words."""
    counts = _counts(texts)
    chances: dict[Context, dict[str, float]] = {(): _alone(counts[1][()])}
    held: dict[Context, float] = {}
    for size in (2, 3):
        for context, after in sorted(counts[size].items()):
            whole, kinds = sum(after.values()), len(after)
            lower = {word: _chance(word, context[1:], chances, held) for word in after}
            known = {
                word: (times + kinds * lower[word]) / (whole + kinds)
                for word, times in after.items()
            }
            chances[context] = known
            left, left_below = 1 - sum(known.values()), 1 - sum(lower.values())
            held[context] = max(left, 1e-9) / max(left_below, 1e-9)
    return _as_steps(chances, held)


def with_strange_words(texts: Iterable[Sequence[str]], seed: int = 4) -> Iterable[tuple[str, ...]]:
    """The texts with words here and there, and some utterances as a whole, of no known word."""
    draw = random.Random(seed)
    for text in texts:
        yield tuple(UNKNOWN if draw.random() < STRANGE else word for word in text)
        if draw.random() < OFF_SUBJECT:
            yield (UNKNOWN,) * draw.randint(1, 12)


def _counts(texts: Iterable[Sequence[str]]) -> dict[int, dict[Context, Counter[str]]]:
    counts: dict[int, dict[Context, Counter[str]]] = {
        size: defaultdict(Counter) for size in (1, 2, 3)
    }
    for text in texts:
        row = (BEGIN, *text, END)
        for at in range(1, len(row)):
            for size in (1, 2, 3):
                if at - size + 1 >= 0:
                    counts[size][row[at - size + 1 : at]][row[at]] += 1
    for context in list(counts[3]):
        often = Counter({w: n for w, n in counts[3][context].items() if n >= FEWEST})
        if often:
            counts[3][context] = often
        else:
            del counts[3][context]
    return counts


def _alone(seen: Counter[str]) -> dict[str, float]:
    whole = sum(seen.values()) + len(seen)
    return {word: (times + 1) / whole for word, times in seen.items()}


def _chance(
    word: str,
    context: Context,
    chances: Mapping[Context, Mapping[str, float]],
    held: Mapping[Context, float],
) -> float:
    if word in chances.get(context, {}):
        return chances[context][word]
    return held.get(context, 1.0) * _chance(word, context[1:], chances, held)


def _as_steps(
    chances: Mapping[Context, Mapping[str, float]], held: Mapping[Context, float]
) -> LanguageModel:
    def known(context: Context) -> Context:
        while context not in chances:
            context = context[1:]
        return context

    steps: list[Step] = []
    ends: dict[Context, float] = {}
    for context, after in chances.items():
        for word, chance in after.items():
            if word == END:
                ends[context] = -math.log(chance)
            else:
                target = known((*context, word)[-2:])
                steps.append(Step(context, target, word, -math.log(chance)))
        if context:
            steps.append(Step(context, known(context[1:]), None, -math.log(held[context])))
    return LanguageModel(known((BEGIN,)), tuple(steps), ends)
