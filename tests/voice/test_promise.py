"""The threshold by conformal risk control: its formula, and what it promises, tried out."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
import pytest
from statsmodels.stats.proportion import proportion_confint

from joblog.dictation.judgement import DOUBTFUL
from joblog.voice.promise import LEAST, Strangers, enough, folds, interval, threshold
from joblog.voice.strangers import STRANGERS

NOBODY = Strangers(0, 0, ())
PROMISE = Fraction(1, 200)


def test_with_nothing_wrong_one_in_two_hundred_takes_one_less_than_two_hundred() -> None:
    # n/(n+1) * 0 + 1/(n+1) <= 1/200 from n = 199 on: arXiv 2208.02814, equation 4, with B = 1.
    assert threshold((), 199, NOBODY, PROMISE) == LEAST
    assert threshold((), 198, NOBODY, PROMISE) == math.inf


def test_it_must_be_surer_than_the_first_wrong_one_that_is_too_many() -> None:
    # n = 399: 399/400 * (k/399) + 1/400 <= 2/400 allows k = 1.
    wrong = [(0.7, 1.0), (0.97, 1.0), (0.9, 1.0)]
    below = threshold(wrong, 399, NOBODY, PROMISE)
    assert 0.9 < below < 0.9 + 1e-12
    assert threshold(wrong[:2], 399, NOBODY, PROMISE) == pytest.approx(0.7)
    assert threshold(wrong[:1], 399, NOBODY, PROMISE) == LEAST


def test_it_is_the_least_of_all_thresholds_that_keep_the_formula() -> None:
    draw = np.random.default_rng(5)
    for _ in range(50):
        count = int(draw.integers(20, 300))
        sure = draw.beta(6, 1, count)
        wrong = draw.random(count) > sure
        promise = Fraction(1, int(draw.integers(8, 40)))
        found = threshold([(one, 1.0) for one in sure[wrong]], count, NOBODY, promise)

        def bound(below: float, wrong=wrong, sure=sure, count=count) -> float:
            losses = wrong & (sure >= below)
            return count / (count + 1) * losses.mean() + 1 / (count + 1)

        tried = [LEAST, *np.nextafter(sure[sure > LEAST], 2), math.inf]
        kept = [below for below in sorted(tried) if bound(below) <= promise + 1e-12]
        assert found == min(kept, default=math.inf)


def test_of_voices_like_those_before_no_more_is_wrong_in_silence_than_was_promised() -> None:
    draw, promise, count = np.random.default_rng(6), Fraction(1, 20), 60
    losses, asked = [], []
    for _ in range(4000):
        sure = draw.beta(5, 1, count + 1)
        wrong = draw.random(count + 1) > sure
        mine = [(one, 1.0) for one in sure[:count][wrong[:count]]]
        below = threshold(mine, count, NOBODY, promise)
        losses.append(wrong[-1] and sure[-1] >= below)
        asked.append(sure[-1] < below)
    error = (float(promise) / 4000) ** 0.5
    assert np.mean(losses) <= promise + 3 * error
    # And it is no empty promise: theorem 2 there, not less than promised by more than 2/(n + 1).
    assert np.mean(losses) >= promise - 2 / (count + 1) - 3 * error
    assert np.mean(asked) < 0.9


def test_strangers_stand_in_until_there_is_enough_of_his_own() -> None:
    strangers = Strangers(4000, 4, tuple(0.999 - 0.001 * at for at in range(20)))
    # 1,600 strangers, 0.4 for each: 17 are 6.8, 18 are 7.2 of 1601/200 - 1 = 7.005.
    assert threshold((), 0, strangers, PROMISE) == pytest.approx(0.982)
    assert enough(PROMISE) == 1600
    # With 800 of his own each is 0.2, and all twenty are fewer than is allowed.
    assert threshold((), 800, strangers, PROMISE) == LEAST
    mine = [(0.9995, 1.0)] * 4
    assert threshold(mine, 800, strangers, PROMISE) == pytest.approx(0.984)
    assert threshold(mine, 1600, strangers, PROMISE) == LEAST


def test_a_stranger_counts_for_no_more_than_one() -> None:
    few = Strangers(50, 2, (0.9,))
    assert threshold((), 100, few, PROMISE) == math.inf  # 150 cannot promise one in two hundred
    assert threshold((), 150, few, PROMISE) == pytest.approx(0.9)  # 200 only with none wrong
    assert threshold((), 349, few, PROMISE) == LEAST


def test_a_voice_of_which_nothing_is_known_is_asked_alike_with_a_book_and_without() -> None:
    assert threshold((), 0, STRANGERS, PROMISE) == pytest.approx(DOUBTFUL, abs=0.01)


def test_a_stricter_promise_never_asks_less() -> None:
    strangers = Strangers(500, 4, tuple(np.linspace(0.5, 0.999, 40)))
    found = [
        threshold([(0.9, 1.0)], 100, strangers, Fraction(1, one)) for one in (20, 50, 200, 1000)
    ]
    assert found == sorted(found)
    assert found[0] < found[-1]


@pytest.mark.parametrize(("found", "count"), [(0, 40), (1, 40), (20, 41), (40, 40)])
def test_the_interval_is_clopper_and_pearsons(found: int, count: int) -> None:
    low, high = proportion_confint(found, count, method="beta")
    shown = interval(found, count)
    assert (shown.low, shown.high) == (pytest.approx(low, abs=1e-6), pytest.approx(high, abs=1e-6))


def test_nothing_known_is_no_figure() -> None:
    assert (interval(0, 0).low, interval(0, 0).high, interval(0, 0).share) == (0.0, 1.0, 0.0)


def test_what_was_said_in_one_breath_is_left_out_together() -> None:
    parts = folds([7, 7, 9, 7, 4, 9], 2)
    assert parts == [0, 0, 1, 0, 0, 1]
