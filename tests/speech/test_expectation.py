"""How likely words follow one another."""

import math

import pytest

from joblog.speech.expectation import BEGUN, FINISH, Expectation

PHRASES = ["used six sheets", "used six sticks", "used two sheets", "need six"]
WORDS = ["used", "need", "six", "two", "sheets", "sticks", "soffit", FINISH]


@pytest.mark.parametrize(
    "context", [BEGUN, ("", "used"), ("used", "six"), ("two", "six"), ("soffit", "soffit")]
)
def test_the_probabilities_of_all_next_words_make_one(context: tuple[str, str]) -> None:
    expectation = Expectation(PHRASES, len(WORDS))
    total = sum(math.exp(expectation.log_probability(word, context)) for word in WORDS)
    assert total == pytest.approx(1.0)


def test_what_has_followed_is_likelier_than_what_has_not() -> None:
    expectation = Expectation(PHRASES, len(WORDS))
    after = ("used", "six")
    assert expectation.log_probability("sheets", after) > expectation.log_probability("two", after)


def test_a_word_that_was_never_seen_stays_possible() -> None:
    expectation = Expectation(PHRASES, len(WORDS))
    assert -10 < expectation.log_probability("soffit", ("used", "six")) < -2
