"""The card: always the same, balanced, and found again in what was heard of it."""

from __future__ import annotations

import random
from collections import Counter

from joblog.dictation import fact_of, read, told
from joblog.voice import aligned, card
from joblog.voice.card import known

TEENS = ("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")
TENS = ("thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")


def test_it_is_always_the_same() -> None:
    first = card()
    card.cache_clear()
    random.seed(4)
    assert card() == first


def test_every_line_says_what_it_is_to_say() -> None:
    for line in card():
        reading = read(line.words, known())
        assert [fact_of(one) for one in reading.entries] == [fact_of(line.entry)]
        assert not reading.doubts


def test_it_takes_two_minutes() -> None:
    # Two and a half words a second and a breath of a second after each line (common practice).
    words = sum(len(line.words.split()) for line in card())
    assert 90 < words / 2.5 + len(card()) < 140


def test_numbers_that_are_taken_for_one_another_are_said_as_often() -> None:
    said = Counter(word for line in card() for words in told(line.entry).values() for word in words)
    for teen, ten in zip(TEENS, TENS, strict=True):
        assert said[teen] >= 1
        assert abs(said[teen] - said[ten]) <= 1
    assert {"half", "quarter", "eighth", "sixteenth", "five", "nine"} <= set(said)


def test_a_line_that_was_passed_over_and_a_cough_are_seen() -> None:
    lines = [line.words for line in card()][:6]
    heard = [lines[0], "uh", lines[1].replace("ninety", "nineteen"), lines[3], lines[4], lines[5]]
    assert aligned(heard, lines) == [0, None, 1, 3, 4, 5]


def test_a_line_that_was_heard_badly_is_still_that_line() -> None:
    lines = ["north eave, thirteen and a half", "used six end caps", "west gable, ninety"]
    assert aligned([lines[0], "you sick scent gaps", lines[2]], lines) == [0, 1, 2]


def test_silence_is_no_line() -> None:
    assert aligned([], ["used six end caps"]) == []
