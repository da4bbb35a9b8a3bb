"""What is learned from closed jobs, and what is said of it."""

import json
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.form import to_json
from joblog.model import History, Interval, PastUse, PastWork, Rate
from joblog.rates import learn, predict, predict_hours
from joblog.rates.learned import Condition
from tests.rates.closed import FIRST, scattered, uses, work

NO_JOBS = learn(History())
FORTY = Fraction(40)


def rate(history: History, name: str = "soffit panel", **options: float) -> Rate:
    learned = learn(history, half_life=options.get("half_life"))
    [found] = [one for one in learned.rates.rates if one.name == name]
    return found


def test_with_no_jobs_the_prior_is_used_and_called_one() -> None:
    found = predict(NO_JOBS, "soffit panel", FORTY, Fraction(2))
    assert (found.n, found.source) == (0, "a rule of thumb; no job of it yet")
    assert "not a measurement" in NO_JOBS.rates.notes[0]
    # The stated prior is five in a hundred: 42 + 5 % is 44.1.
    assert found.median == pytest.approx(44.1, abs=0.5)


def test_with_one_job_the_rate_is_mostly_the_prior() -> None:
    found = rate(History(uses((0.20,))))
    assert (found.n, found.source) == (1, "1 job; mostly a rule of thumb")
    assert 0.05 < found.mean < 0.125
    assert found.own < 0.5


def test_with_many_jobs_the_rate_is_their_own() -> None:
    found = rate(History(uses(scattered(0.11, 0.3, 25))))
    assert found.mean == pytest.approx(0.11, rel=0.15)
    assert found.interval.low < 0.11 < found.interval.high
    assert found.source == "25 jobs"


def test_more_jobs_make_the_rate_surer() -> None:
    few, many = (rate(History(uses(scattered(0.08, 0.4, n)))).interval for n in (4, 24))
    assert many.high - many.low < few.high - few.low


def test_an_item_never_used_learns_from_its_family() -> None:
    trim = (
        *uses(scattered(0.15, 0.3, 12), "fascia"),
        *uses(scattered(0.14, 0.3, 12, 4), "j channel"),
        *uses(scattered(0.16, 0.3, 12, 5), "frieze board"),
    )
    learned = learn(History(trim))
    like = predict(learned, "corner post", FORTY, Fraction(0))
    unlike = predict(learned, "caulk", FORTY, Fraction(0))
    nothing = predict(NO_JOBS, "corner post", FORTY, Fraction(0))
    assert like.source == "borrowed from 36 jobs of other trim; no job of it yet"
    assert like.median > unlike.median > nothing.median


def test_geometric_waste_is_not_learned() -> None:
    # Twice 5 % of handling waste; the second set also had 8 pieces forced by geometry.
    without = rate(History(uses((0.05,) * 9, net=48)))
    forced = rate(History(uses((0.05,) * 9, net=40, geometric=Fraction(8))))
    assert forced.mean == pytest.approx(without.mean)


def test_geometric_waste_of_the_new_job_is_added() -> None:
    learned = learn(History(uses((0.05,) * 9)))
    found = predict(learned, "soffit panel", FORTY, Fraction(10))
    assert found.sure == 50
    assert found.median == pytest.approx(50 * 1.05, abs=0.7)


def test_jobs_from_paper_hold_both_wastes_and_say_so() -> None:
    paper = uses(scattered(0.12, 0.2, 12), geometric=None)
    learned = learn(History(paper))
    [shown] = learned.rates.rates
    whole = predict(learned, "soffit panel", FORTY)
    handling = predict(learned, "soffit panel", FORTY, Fraction(0))
    assert shown.source == "12 jobs; cutoffs not told apart"
    assert shown.mean == pytest.approx(0.12, rel=0.15)
    assert whole.median == pytest.approx(44.8, abs=0.7)
    assert handling.median < whole.median


def test_an_odd_job_is_pointed_out_kept_and_counted_for_less() -> None:
    plain = scattered(0.05, 0.3, 14)
    learned = learn(History(uses((*plain, 0.60))))
    [odd] = learned.rates.odd
    [shown] = learned.rates.rates
    assert (odd.job, odd.name) == ("job 15", "soffit panel")
    assert odd.weight < 0.2
    assert shown.n == 15
    assert shown.mean < (sum(plain) + 0.60) / 15


def test_a_half_life_lets_old_jobs_count_less() -> None:
    old, new = uses((0.20,) * 10), uses((0.04,) * 10, first=FIRST + timedelta(weeks=60))
    history = History((*old, *(replace(use, job=f"later {use.job}") for use in new)))
    whole, recent = rate(history), rate(history, half_life=60.0)
    assert recent.mean < whole.mean
    assert recent.mean == pytest.approx(0.04, abs=0.015)
    assert (recent.n, round(recent.counted)) == (20, 7)


def test_cold_that_breaks_panels_raises_what_a_cold_job_needs() -> None:
    degrees = [25, 75] * 8
    wastes = [0.14 if cold == 25 else 0.05 for cold in degrees]
    told = tuple(
        replace(use, fahrenheit=Fraction(cold))
        for use, cold in zip(uses(wastes), degrees, strict=True)
    )
    learned = learn(History(told))
    cold, warm = (
        predict(learned, "soffit panel", FORTY, Fraction(0), fahrenheit=Fraction(at)).median
        for at in (25, 75)
    )
    assert cold - warm > 40 * 0.04
    assert any("20 F warmer wastes less" in note for note in learned.rates.notes)


def test_weather_never_met_makes_a_prediction_less_sure() -> None:
    degrees = [50 + 4 * (number % 7) for number in range(16)]
    told = tuple(
        replace(use, fahrenheit=Fraction(at))
        for use, at in zip(uses(scattered(0.08, 0.3, 16)), degrees, strict=True)
    )
    learned = learn(History(told))
    usual, cold, hot = (
        predict(learned, "soffit panel", FORTY, Fraction(0), fahrenheit=Fraction(at)).equally_likely
        for at in (62, 20, 104)
    )
    assert usual[100] > max(cold[100], hot[100])
    assert usual[900] < min(cold[900], hot[900])


def test_a_bigger_job_scatters_less() -> None:
    learned = learn(History(uses(scattered(0.08, 0.4, 12))))
    small, big = (predict(learned, "soffit panel", Fraction(n), Fraction(0)) for n in (10, 400))
    assert _relative_width(big.intervals[1], 400) < _relative_width(small.intervals[1], 10)


def _relative_width(interval: Interval, size: int) -> float:
    return (interval.high - interval.low) / size


def test_hours_are_learned_for_one_unit_of_a_task() -> None:
    learned = learn(work(scattered(0.11, 0.2, 15)))
    found = predict_hours(learned, "Hang soffit", Fraction(200))
    assert found.median == pytest.approx(22, rel=0.1)
    assert found.intervals[1].low < 22 < found.intervals[1].high


def test_the_hours_before_the_first_unit_are_learned_apart() -> None:
    # An hour to set up and a tenth of an hour for each foot, on small jobs and large ones.
    lines = tuple(
        replace(line, quantity=Fraction(feet), crew_hours=1 + Fraction(feet, 10))
        for line, feet in zip(work([0.1] * 12).work, (10, 20, 40, 80, 160, 320) * 2, strict=True)
    )
    learned = learn(History(work=lines))
    for feet in (10, 50, 400):
        found = predict_hours(learned, "hang soffit", Fraction(feet)).median
        assert found == pytest.approx(1 + feet / 10, rel=0.05)


def test_a_task_never_done_takes_the_hours_of_the_plan_and_says_so() -> None:
    found = predict_hours(NO_JOBS, "bend fascia", Fraction(100), estimate=Fraction(1, 10))
    assert found.source == "the plan's own hours; no job of this task yet"
    assert found.median == pytest.approx(10, rel=0.1)


def test_a_task_with_neither_job_nor_plan_has_no_rate() -> None:
    with pytest.raises(ValueError, match="no closed job has it, and the plan gives no hours"):
        predict_hours(NO_JOBS, "bend fascia", Fraction(100))


def test_practice_that_saves_time_is_carried_on() -> None:
    # Wright's curve at 80 %, a job a unit: from memory, in the tests of the published values.
    rates = [0.2 * number**-0.3219 for number in range(1, 31)]
    found = predict_hours(learn(work(rates)), "hang soffit", Fraction(200))
    assert found.median / 200 < 0.2 * 25**-0.3219


def test_what_was_learned_does_not_depend_on_the_order_of_the_lines() -> None:
    told = (*uses(scattered(0.1, 0.4, 9)), *uses(scattered(0.04, 0.4, 9, 8), "fascia"))
    forwards, backwards = learn(History(told)).rates, learn(History(told[::-1])).rates
    assert [one.mean for one in forwards.rates] == pytest.approx(
        [one.mean for one in backwards.rates]
    )


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(-2, 40), max_size=8),
    st.integers(1, 400),
    st.fractions(0, 20, max_denominator=8),
)
def test_every_prediction_is_a_distribution_with_nested_intervals(
    wastes: list[int], net: int, geometric: Fraction
) -> None:
    learned = learn(History(uses([waste / 100 for waste in wastes])))
    found = predict(learned, "soffit panel", Fraction(net), geometric)
    half, most, nearly = found.intervals
    assert nearly.low <= most.low <= half.low <= found.median
    assert found.median <= half.high <= most.high <= nearly.high
    assert list(found.equally_likely) == sorted(found.equally_likely)
    assert found.equally_likely[0] > 0


def test_every_rate_goes_out_as_json() -> None:
    told = History(uses(scattered(0.1, 0.4, 5)), work([0.1, 0.12]).work)
    shown = json.loads(json.dumps(to_json(learn(told).rates)))
    assert [one["n"] for one in shown["rates"]] == [5, 2]
    assert set(shown["rates"][0]["interval"]) == {"level", "low", "high"}


@pytest.mark.parametrize(
    "history",
    [
        History((PastUse("a", FIRST, "fascia", Fraction(0), Fraction(3)),)),
        History(work=(PastWork("a", FIRST, "hang soffit", Fraction(9), Fraction(0)),)),
        History(work=(PastWork("a", FIRST, "hang soffit", Fraction(0), Fraction(9)),)),
    ],
)
def test_lines_that_cannot_be_are_refused(history: History) -> None:
    with pytest.raises(ValueError, match=r"must be above zero|measures nothing"):
        learn(history)


def test_a_half_life_must_be_above_zero() -> None:
    with pytest.raises(ValueError, match="above zero"):
        learn(History(), half_life=0, as_of=date(2026, 1, 1))


def test_practice_is_the_logarithm_of_how_many_jobs_of_the_task_came_before_and_one() -> None:
    hung, bent = work([0.1] * 9).work, work([0.2] * 3, "bend fascia").work
    [condition] = learn(History(work=(*hung, *bent))).hours.conditions
    counts = [1, 2, 3, 1, 2, 3, 4, 5, 6, 7, 8, 9]
    assert condition == Condition("practice", pytest.approx(float(np.log(counts).mean())))


def test_practice_takes_part_from_the_eighth_job_of_a_task_on() -> None:
    assert learn(work([0.1] * 7)).hours.conditions == ()
    assert len(learn(work([0.1] * 8)).hours.conditions) == 1
    of_two = History(work=(*work([0.1] * 7).work, *work([0.2] * 7, "bend fascia").work))
    assert learn(of_two).hours.conditions == ()
