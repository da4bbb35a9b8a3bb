"""What decisions teach."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from joblog.dictation import SHIPPED, read
from joblog.model import Entry, Vocabulary
from joblog.voice import Decision, learned, mixed_up_in
from joblog.voice.learn import _left_out
from joblog.voice.promise import Strangers

STRANGERS = Strangers(1600, 4, (*(0.99,) * 7, 0.97, 0.6))
LOG_ODDS = 1
"""Which sign is how likely the whole meaning is, in log-odds."""


def decision(sure: float, right: bool = True, **more: object) -> Decision:
    """One of which the weights that come with joblog are so sure, in log-odds."""
    weights = SHIPPED.weights
    signs = [1.0] + [0.0] * (len(weights) - 1)
    signs[LOG_ODDS] = (sure - weights[0]) / weights[LOG_ODDS]
    made = Decision(tuple(signs), right, "card", False)
    return replace(made, **more)  # type: ignore[arg-type]


def several(count: int, sure: float, right: bool = True, first: int = 0) -> list[Decision]:
    return [decision(sure, right, together=first + at) for at in range(count)]


def test_nothing_decided_is_nothing_learned() -> None:
    voice = learned([], strangers=STRANGERS)
    assert voice.judgement.weights == SHIPPED.weights
    assert voice.judgement.asks_below == pytest.approx(0.97)
    assert (voice.decisions, voice.asks, voice.silent, voice.own) == (0, None, None, 0.0)


def test_who_is_heard_well_is_asked_less() -> None:
    voice = learned(several(100, 2.5) + several(100, 4.0, first=100), strangers=STRANGERS)
    assert voice.asked_before is not None and voice.asks is not None
    assert voice.asked_before.share == 0.5
    assert voice.asks.share == 0.0
    assert voice.own == 0.125


def test_who_is_heard_badly_is_asked_more() -> None:
    wrong = several(12, 4.5, right=False) + several(60, 4.5, first=12)
    voice = learned(wrong, strangers=STRANGERS)
    assert voice.asked_before is not None and voice.asks is not None
    assert voice.asked_before.share == 0.0
    assert voice.asks.share == 1.0
    assert voice.silent is not None
    assert (voice.silent.found, voice.silent.count) == (12, 72)


def test_no_decision_judges_itself() -> None:
    wrong = decision(3.0, right=False, together=99)
    [*_, alone] = _left_out([*several(40, 3.0), wrong])
    [*_, more] = _left_out([*several(40, 3.0), wrong, decision(3.0, right=False, together=98)])[:-1]
    assert alone > SHIPPED.sureness(wrong.signs) > 0
    assert more < alone


def test_a_word_that_is_mixed_up_twice_makes_it_ask() -> None:
    fifty = frozenset({"fifty", "sheets"})
    mixed = [
        decision(4.0, False, words=fifty, meant=(("fifty", "fifteen"),), together=at)
        for at in range(2)
    ]
    fine = [decision(4.0, words=frozenset({"nine"}), together=at) for at in range(2, 60)]
    voice = learned([*mixed, *fine], strangers=STRANGERS)
    assert voice.mixed_up == (("fifty", "fifteen", 2),)
    signs = decision(4.0).signs
    assert voice.judgement.sureness(signs, {"fifty"}) < voice.judgement.sureness(signs, {"nine"})
    once = learned([mixed[0], *fine], strangers=STRANGERS).judgement
    assert once.mixed_up == ()


def test_a_word_that_is_always_right_makes_it_ask_no_less() -> None:
    voice = learned([decision(4.0, words=frozenset({"nine"})) for _ in range(50)])
    assert voice.judgement.mixed_up == ()


def test_what_its_words_alone_make_doubtful_is_no_silent_error() -> None:
    wrong = [decision(6.0, False, anyway=True, asked=True, together=at) for at in range(3)]
    rest = several(400, 6.0, first=10)
    certain = learned([*wrong, *rest]).judgement.asks_below
    silent = [replace(one, anyway=False) for one in wrong]
    assert certain < learned([*silent, *rest]).judgement.asks_below


def test_how_much_a_decision_counts_for_the_promise() -> None:
    review = decision(4.0, how="in review")
    assert decision(4.0).share == 1.0
    assert replace(review, asked=True).share == 0.25
    assert replace(review, asked=True, right=False).share == 0.25
    assert replace(review, right=False).share == 1.0
    assert replace(review, said=False, stands_for=4).share == 1.0
    assert decision(4.0, how="by ear").share == 0.5


def test_the_words_that_were_mixed_up_are_found() -> None:
    words = Vocabulary()

    def entry(text: str) -> Entry:
        return read(text, words).entries[0]

    assert mixed_up_in(entry("fifty and a half"), entry("fifteen and a half")) == (
        ("fifty", "fifteen"),
    )
    assert mixed_up_in(entry("eighteen and five eighths"), entry("eighteen and an eighth")) == (
        ("five", "one"),
    )
    used = Entry("used", item="j channel", quantity=Fraction(30), unit="stick")
    assert mixed_up_in(used, replace(used, item="f channel")) == (("j", "f"),)
    assert mixed_up_in(used, replace(used, quantity=Fraction(31))) == ()
