"""Where a rate came from, in words; and what the figures rest on."""

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import numpy as np
import pytest
from scipy import stats

from joblog.model import History, Interval, Prediction
from joblog.rates import by_job, family_of, knows_task, learn, predict, predict_hours
from joblog.rates.fit import Points
from joblog.rates.learned import Condition, Member
from joblog.rates.predict import LEVELS, interval_of, ratios
from tests.rates.closed import scattered, uses, work

FORTY = Fraction(40)


def source(history: History, item: str, geometric: Fraction | None = Fraction(0)) -> str:
    return predict(learn(history), item, FORTY, geometric).source


def test_an_item_with_few_jobs_leans_on_its_family_and_says_on_how_many() -> None:
    trim = (*uses(scattered(0.1, 0.3, 12), "j channel"), *uses((0.3,), "fascia"))
    assert source(History(trim), "fascia") == "1 job; mostly borrowed from 12 jobs of other trim"


def test_an_item_never_met_says_what_it_was_learned_from() -> None:
    assert source(History(uses((0.1,), "fascia")), "j channel") == (
        "borrowed from 1 job of other trim; no job of it yet"
    )
    assert source(History(uses((0.1,), "fascia")), "caulk") == ("a rule of thumb; no job of it yet")


def test_what_is_not_split_is_said_only_where_there_are_jobs() -> None:
    many = History(uses(scattered(0.1, 0.3, 20), geometric=None))
    assert source(many, "soffit panel", None) == "20 jobs; cutoffs not told apart"
    assert source(many, "soffit panel") == "20 jobs"


def test_an_old_job_of_a_task_leaves_it_mostly_to_the_plan() -> None:
    # Four half-lives old, the job counts a sixteenth.
    [line] = (lines := work([0.1])).work
    learned = learn(
        lines,
        half_life=7,
        as_of=line.day + timedelta(weeks=4),
        estimate={"Hang  soffit": Fraction(1, 10)},
    )
    found = predict_hours(learned, "hang soffit", Fraction(200))
    assert found.source == "1 job; mostly the plan's own hours"
    [shown] = learned.rates.rates
    assert (shown.source, shown.kind, shown.family) == (found.source, "hours", None)
    assert (shown.n, shown.counted) == (1, 1 / 16)


def test_a_fresh_job_of_a_task_says_more_than_the_plan() -> None:
    learned = learn(work([0.1]), estimate={"hang soffit": Fraction(1, 10)})
    assert learned.rates.rates[0].source == "1 job"


def test_a_family_that_is_named_goes_before_that_of_the_items_name() -> None:
    named = tuple(replace(use, family="vinyl") for use in uses(scattered(0.3, 0.2, 20), "slat"))
    learned = learn(History(named))
    of_family = predict(learned, "new thing", FORTY, Fraction(0), family="vinyl")
    assert of_family.source == "borrowed from 20 jobs of other vinyl; no job of it yet"
    assert predict(learned, "new thing", FORTY, Fraction(0)).median < of_family.median


def test_an_item_is_found_however_it_is_written() -> None:
    learned = learn(History(uses((0.1,) * 3), work([0.1]).work))
    assert predict(learned, " Soffit   PANEL ", FORTY, Fraction(0)).n == 3
    assert knows_task(learned, "Hang  Soffit") and not knows_task(learned, "wrap")


@pytest.mark.parametrize(
    ("item", "family"),
    [("two by four", "lumber"), ("white two by four", "lumber"), ("four", "other"), ("", "other")],
)
def test_the_family_is_told_by_whole_names(item: str, family: str) -> None:
    assert family_of(item) == family


@pytest.mark.parametrize(
    ("net", "geometric"), [(Fraction(0), None), (Fraction(-1), None), (FORTY, Fraction(-1))]
)
def test_amounts_that_cannot_be_are_not_predicted(
    net: Fraction, geometric: Fraction | None
) -> None:
    with pytest.raises(ValueError, match="net must be above zero, and geometric waste not below"):
        predict(learn(History()), "soffit panel", net, geometric)


@pytest.mark.parametrize(
    ("quantity", "estimate"), [(Fraction(0), None), (FORTY, Fraction(0)), (FORTY, Fraction(-1))]
)
def test_hours_that_cannot_be_are_not_predicted(
    quantity: Fraction, estimate: Fraction | None
) -> None:
    with pytest.raises(ValueError, match="quantity and estimate must be above zero"):
        predict_hours(learn(work([0.1])), "hang soffit", quantity, estimate=estimate)


def test_a_single_piece_is_predicted_too() -> None:
    assert predict(learn(History()), "soffit panel", Fraction(1, 2), Fraction(0)).sure == 0.5
    assert predict_hours(learn(work([0.1])), "hang soffit", Fraction(1, 2)).sure == 0


# --- a prediction's figures


def test_the_median_and_the_intervals_are_those_of_the_equally_likely_amounts() -> None:
    found = predict(
        learn(History(uses(scattered(0.1, 0.3, 9)))), "soffit panel", FORTY, Fraction(0)
    )
    amounts = np.array(found.equally_likely)
    lowest, highest = np.quantile(amounts, [0.025, 0.975])
    assert amounts.size == 1000
    assert found.mean == pytest.approx(amounts.clip(lowest, highest).mean(), rel=1e-4)
    assert found.median == pytest.approx(np.median(amounts))
    assert [one.level for one in found.intervals] == [0.5, 0.8, 0.95]
    for one in found.intervals:
        # Told in halves of a piece, so that the ends are halves: those that are told of the ends
        # of the amounts, which lie no more than a quarter away.
        assert (2 * one.low).is_integer() and (2 * one.high).is_integer()
        ends = np.quantile(amounts, [0.5 - one.level / 2, 0.5 + one.level / 2])
        assert (one.low, one.high) == pytest.approx(ends, abs=0.26)
        told = np.round(2 * amounts) / 2
        assert ((told >= one.low) & (told <= one.high)).mean() >= one.level - 0.002


def test_hours_and_what_is_little_beside_a_step_are_not_rounded() -> None:
    history = History(uses(scattered(0.1, 0.3, 9)), work([0.1, 0.13]).work)
    hours = predict_hours(learn(history), "hang soffit", FORTY)
    little = predict(learn(history), "soffit panel", Fraction(1), Fraction(0))
    for found in (hours, little):
        amounts = np.array(found.equally_likely)
        for one in found.intervals:
            assert one == interval_of(amounts, one.level)


def test_the_middle_of_evenly_spread_amounts() -> None:
    # 0 to 1,000 evenly: the middle 80 % lie from 100 to 900.
    found = interval_of(1000 * LEVELS, 0.8)
    assert found == Interval(0.8, pytest.approx(100), pytest.approx(900))


def test_waste_beyond_the_whole_base_again_is_not_believed() -> None:
    found = predict(learn(History(uses((0.9,) * 9))), "soffit panel", FORTY, Fraction(0))
    assert 70 < found.median < max(found.equally_likely) <= 80


# --- notes


def test_an_effect_is_told_with_its_step_and_its_error() -> None:
    degrees = [25, 75] * 8
    wastes = [0.14 if cold == 25 else 0.05 for cold in degrees]
    lines = tuple(
        replace(use, fahrenheit=Fraction(cold))
        for use, cold in zip(uses(wastes), degrees, strict=True)
    )
    learned = learn(History(lines))
    [note] = learned.rates.notes
    group = learned.waste["panels"]
    effect, error = float(group.effect[1]), float(np.sqrt(group.unsure[1, 1]))
    assert note == (
        f"panels: 20 F warmer wastes less, by about {-np.expm1(effect):.0%}, "
        f"give or take {error:.0%}"
    )
    # Threefold over 50 F would be -0.44 for each 20 F; few jobs are held back a bit.
    assert -0.44 < effect < -0.25


def test_an_effect_that_may_be_nothing_is_not_told() -> None:
    lines = tuple(
        replace(use, fahrenheit=Fraction(40 + at % 5), crew=1 + at % 2)
        for at, use in enumerate(uses(scattered(0.08, 0.3, 16)))
    )
    assert learn(History(lines)).rates.notes == ()


def test_five_jobs_are_too_few_for_a_condition_and_six_are_enough() -> None:
    def conditions(count: int) -> list[str]:
        lines = tuple(
            replace(use, crew=1 + at % 2) if at < count else use
            for at, use in enumerate(uses(scattered(0.08, 0.3, 12)))
        )
        return [one.name for one in learn(History(lines)).waste["panels"].conditions]

    assert conditions(5) == ["not split"]
    assert conditions(6) == ["not split", "crew"]


def test_many_lines_of_few_jobs_are_no_more_than_those_jobs() -> None:
    tasks = ("hang", "wrap", "vent")
    lines = tuple(
        replace(line, crew=1 + at % 2)
        for task in tasks
        for at, line in enumerate(work([0.1] * 5, task).work)
    )
    assert learn(History(work=lines)).hours.conditions == ()


def test_a_condition_that_hardly_changes_takes_no_part() -> None:
    # Twelve jobs between 60 and 64 F: less than a quarter of the step of 20 F.
    lines = tuple(
        replace(use, fahrenheit=Fraction(60 + at % 5))
        for at, use in enumerate(uses(scattered(0.08, 0.3, 12)))
    )
    assert [one.name for one in learn(History(lines)).waste["panels"].conditions] == ["not split"]


WINTER = tuple(
    replace(line, fahrenheit=Fraction(degrees))
    for task in ("hang soffit", "wrap fascia", "cut vents")
    for degrees, line in zip((35, 33, 30), work([0.13, 0.15, 0.12], task, 80).work, strict=True)
)


@pytest.mark.parametrize("degrees", [78, 90])
def test_three_winter_jobs_do_not_explode_in_summer(degrees: int) -> None:
    # 82 ft at about 0.133 hours a foot are 11.
    found = predict_hours(
        learn(History(work=WINTER)), "hang soffit", Fraction(82), fahrenheit=Fraction(degrees)
    )
    assert found.mean == pytest.approx(11, rel=0.1)
    assert found.median == pytest.approx(11, rel=0.1)
    # Nobody knows yet what the heat does: 0.15 for a step of 20 F, two steps at most.
    assert found.intervals[-1].high < 2.5 * 11
    assert found.source == "3 jobs; no job was that warm"


def test_a_condition_beyond_all_that_was_seen_counts_as_the_nearest_and_says_so() -> None:
    lines = tuple(
        replace(line, fahrenheit=Fraction(30 + 20 * (at % 2)), crew=1 + at % 2)
        for at, line in enumerate(work(scattered(0.1, 0.1, 12)).work)
    )
    learned = learn(History(work=lines))

    def hours(degrees: int, crew: int) -> Prediction:
        return predict_hours(
            learned, "hang soffit", Fraction(82), fahrenheit=Fraction(degrees), crew=crew
        )

    edge, hot, far, cold = hours(50, 2), hours(90, 2), hours(500, 2), hours(10, 5)
    assert edge.source == "12 jobs"
    assert hot.source == "12 jobs; no job was that warm, so taken as 50 F"
    assert cold.source == (
        "12 jobs; no job was that cold, so taken as 30 F; no job had that many people, so taken as "
        "a crew of 2"
    )
    assert hot.median == pytest.approx(edge.median, rel=0.02)
    # Two steps of 20 F, 0.15 each: less sure, but however hot it is no more than that.
    assert hot.intervals[1].high > 1.05 * edge.intervals[1].high
    assert far.equally_likely == hot.equally_likely


def test_a_condition_that_never_changes_takes_no_part() -> None:
    lines = tuple(replace(use, crew=2) for use in uses(scattered(0.08, 0.3, 12)))
    assert [one.name for one in learn(History(lines)).waste["panels"].conditions] == ["not split"]


def test_a_condition_nobody_told_stands_in_the_middle() -> None:
    lines = tuple(
        replace(use, crew=1 + 2 * (at % 2)) if at else use
        for at, use in enumerate(uses(scattered(0.08, 0.3, 9)))
    )
    [_, crew] = learn(History(lines)).waste["panels"].conditions
    # Four of one and four of three.
    assert (crew.centre, crew.scale) == (2, 1)


# --- each job


def test_a_job_is_shown_beside_what_was_expected_of_it() -> None:
    learned = learn(History(uses(scattered(0.08, 0.3, 25))))
    rates = by_job(learned, "soffit panel")
    [shown] = learned.rates.rates
    assert [one.usual for one in rates] == pytest.approx([shown.mean] * 25, rel=0.05)
    assert all(0 < one.weight <= 1 for one in rates)
    assert not any(one.odd for one in rates)
    nearest = min(rates, key=lambda one: abs(one.value - one.usual))
    assert nearest.weight > 0.95


def test_an_odd_job_says_what_it_took_and_what_was_usual() -> None:
    learned = learn(History(uses((*scattered(0.05, 0.3, 14), 0.60))))
    [odd] = learned.rates.odd
    assert (odd.kind, odd.value) == ("waste", pytest.approx(0.6))
    assert odd.usual == pytest.approx(0.055, abs=0.015)
    assert odd.weight == by_job(learned, "soffit panel")[-1].weight


def test_the_next_job_is_of_the_usual_size_the_median() -> None:
    lines = tuple(
        replace(use, net=Fraction(size), consumed=use.consumed * size / 40)
        for use, size in zip(uses((0.1,) * 5), (10, 20, 30, 200, 500), strict=True)
    )
    learned = learn(History(lines))
    [member] = learned.waste["panels"].members.values()
    assert (member.base, member.n, member.counted) == (30, 5, 5)
    [shown] = learned.rates.rates
    found = interval_of(
        np.array(predict(learned, "soffit panel", Fraction(30), Fraction(0)).equally_likely), 0.8
    )
    assert (shown.next_job.low, shown.next_job.high) == pytest.approx(
        (found.low / 30 - 1, found.high / 30 - 1)
    )


def test_a_condition_that_is_not_told_of_the_new_job_is_taken_as_the_mean() -> None:
    lines = tuple(
        replace(use, crew=1 + 2 * (at % 2)) for at, use in enumerate(uses([0.05, 0.2] * 6))
    )
    learned = learn(History(lines))
    mean, missing = (
        predict(learned, "soffit panel", FORTY, Fraction(0), crew=crew) for crew in (2, None)
    )
    assert mean.equally_likely == missing.equally_likely


# --- one point of what is believed, by hand


def test_the_rates_of_a_job_are_those_of_its_t() -> None:
    # A rate of 8 %, half a unit lost at a time, a spread of 60 %, 20 degrees; a condition one
    # step from the middle whose effect is 0.1, give or take 0.5.
    one = np.ones(1)
    points = Points(np.log(0.08) * one, 0.5 * one, 0.6 * one, 20 * one, one)
    member = Member("panel", points, np.zeros(1), 9, 9.0, 40.0, 1.0)
    group = replace(
        learn(History()).nobody,
        members={"panel": member},
        conditions=(Condition("crew", 2, 1),),
        effect=np.array([0.1]),
        unsure=np.array([[0.25]]),
    )
    found = ratios(group, member, 40.0, np.array([1.0]))
    rate, slack = 0.08 * np.exp(0.1), 0.01 + 0.25 / 40
    squared = np.log1p(
        (0.5 * rate / 40 + (0.6 * rate) ** 2 + (slack / 2) ** 2) / (rate + slack) ** 2
    )
    scale = np.sqrt(squared + (rate / (rate + slack)) ** 2 * 0.25)
    expected = np.exp(stats.t.ppf(LEVELS, 20, np.log(rate + slack) - squared / 2, scale)) - slack
    assert found[50:950] == pytest.approx(expected[50:950], rel=0.01)


def test_the_next_job_of_a_task_has_all_earlier_ones_as_practice() -> None:
    learned = learn(work([0.2 * number**-0.3 for number in range(1, 31)]))
    [condition], [member] = learned.hours.conditions, learned.hours.members.values()
    after_thirty = np.array([np.log(31) - condition.centre])
    expected = 200 * ratios(learned.hours, member, 200.0, after_thirty)
    found = predict_hours(learned, "hang soffit", Fraction(200))
    assert found.equally_likely == pytest.approx(expected.tolist())


def test_an_item_nobody_met_counts_no_jobs() -> None:
    new = learn(History(uses((0.1,) * 9))).waste["panels"].new
    assert (new.n, new.counted, new.own) == (0, 0, 0)
