"""The trigram of what is said on a job."""

import math

import pytest

from joblog.speech.training.language_model import (
    LanguageModel,
    language_model,
    with_strange_words,
)

TEXTS = [
    ("north", "wall", "nine"),
    ("north", "wall", "ten"),
    ("south", "wall", "nine"),
    ("nine",),
]


def chance(model: LanguageModel, context: tuple[str, ...], word: str) -> float:
    """Probability of a word, backing off as the graph does."""
    arcs = {step.word: step for step in model.steps if step.source == context}
    if word == "</s>" and context in model.ends:
        return math.exp(-model.ends[context])
    if word in arcs:
        return math.exp(-arcs[word].cost)
    return math.exp(-arcs[None].cost) * chance(model, arcs[None].target, word)


@pytest.mark.parametrize("context", [(), ("wall",), ("<s>", "north"), ("<s>",)])
def test_the_words_after_any_context_share_one_probability(context: tuple[str, ...]) -> None:
    model = language_model(TEXTS)
    words = ("north", "south", "wall", "nine", "ten", "</s>")
    assert sum(chance(model, context, word) for word in words) == pytest.approx(1.0, abs=1e-6)


def test_what_was_said_is_likelier_than_what_was_not() -> None:
    model = language_model(TEXTS)
    assert chance(model, ("<s>",), "north") > chance(model, ("<s>",), "ten") > 0


def test_rare_rows_of_three_words_are_left_out() -> None:
    model = language_model(TEXTS)
    sources = {step.source for step in model.steps}
    assert ("north", "wall") not in sources
    assert ("<s>", "north") in sources


def test_some_utterances_are_of_no_known_word_at_all() -> None:
    texts = list(with_strange_words([("north", "wall")] * 500))
    strange = [text for text in texts if set(text) == {"[unk]"}]
    assert 15 <= len(strange) <= 60
    assert sum(text == ("north", "wall") for text in texts) > 450
