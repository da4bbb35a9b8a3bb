"""The sums of the hierarchical model, against the same sums written out one by one."""

import itertools

import numpy as np
import pytest

from joblog.model import History
from joblog.rates import learn
from joblog.rates.pool import pool
from tests.rates.closed import scattered, uses, work

ITEMS, PLACES, SCATTERS, FAMILIES = 2, 3, 2, 2


def test_every_probability_is_the_sum_over_all_that_could_be() -> None:
    luck = np.random.default_rng(4)
    likelihood = luck.normal(-50, 2, (ITEMS, PLACES, SCATTERS))
    prior = luck.normal(0, 1, (ITEMS, PLACES, FAMILIES))
    before = luck.normal(0, 1, (SCATTERS, FAMILIES))
    whole = dict.fromkeys(itertools.product(range(SCATTERS), range(FAMILIES)), 0.0)
    places = np.zeros((ITEMS, PLACES, SCATTERS))
    explained = np.zeros((SCATTERS, FAMILIES))
    for k, h in whole:
        for chosen in itertools.product(range(PLACES), repeat=ITEMS):
            # One place for each item: its lines there, and how likely the place is.
            lines = sum(likelihood[i, g, k] + prior[i, g, h] for i, g in enumerate(chosen))
            weight = float(np.exp(100 + lines))
            whole[k, h] += weight * np.exp(before[k, h])
            explained[k, h] += weight
            for i, g in enumerate(chosen):
                places[i, g, k] += weight * np.exp(before[k, h])
    total = sum(whole.values())
    found = pool(likelihood, prior, before)
    assert found.items == pytest.approx(places / total)
    for (k, h), weight in whole.items():
        assert found.shared[k, h] == pytest.approx(weight / total)
    # Of the evidence only the differences are told.
    expected = np.log(explained)
    assert found.evidence - found.evidence[0, 0] == pytest.approx(expected - expected[0, 0])


@pytest.mark.parametrize("part", [1, 5, 7])
def test_lines_are_added_up_alike_in_parts_of_any_size(
    part: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    history = History(
        (
            *uses(scattered(0.05, 0.3, 5)),
            *uses(scattered(0.1, 0.3, 6, 4), "siding panel"),
            *uses(scattered(0.2, 0.3, 4, 5), "vented soffit panel"),
        ),
        work(scattered(0.1, 0.3, 9)).work,
    )
    whole = learn(history).rates
    monkeypatch.setattr("joblog.rates.fit._PART", part)
    assert [rate.mean for rate in learn(history).rates.rates] == pytest.approx(
        [rate.mean for rate in whole.rates]
    )


def test_sixty_lines_of_an_item_are_summed_as_if_each_were_the_latest(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # How jobs scatter is learned from the latest fifty; that it is enough is what is tested.
    history = History(uses(scattered(0.08, 0.4, 60)))
    [latest] = learn(history).rates.rates
    monkeypatch.setattr("joblog.rates.fit._LATEST", 1000)
    [every] = learn(history).rates.rates
    assert latest.mean == pytest.approx(every.mean, rel=0.02)
    assert latest.interval.high == pytest.approx(every.interval.high, rel=0.03)
