"""A person who wastes more than before, or takes longer, is noticed; one who does not is not."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from joblog.model import History, PastUse, PastWork
from joblog.rates import by_job, learn, predict, predict_hours
from tests.rates.closed import scattered, uses, work

FORTY = Fraction(40)


def moved(times: float, jobs: int = 30, seed: int = 3) -> tuple[PastUse, ...]:
    """Three items, 6 % of waste in the first half of the jobs, so many times that in the second."""
    half = jobs // 2
    return tuple(
        use
        for number, item in enumerate(("fascia", "soffit panel", "gutter"))
        for use in uses(
            [
                waste * (times if at >= half else 1)
                for at, waste in enumerate(scattered(0.06, 0.3, jobs, seed + number))
            ],
            item,
        )
    )


def test_waste_that_doubled_is_said_with_its_month() -> None:
    learned = learn(History(moved(2.5)))
    [note] = learned.rates.notes
    # The sixteenth job, sixteen weeks after March 3.
    assert note.startswith("you waste more since June 2025, to about 2.")
    assert note.endswith(" times; newer jobs weigh most")


def test_waste_that_went_down_to_a_third_is_said_too() -> None:
    [note] = learn(History(moved(1 / 3))).rates.notes
    assert note.startswith("you waste less since June 2025, by about ")


def test_the_next_job_is_foretold_from_how_it_is_now() -> None:
    # Now 15 %, over all jobs 10.5 %.
    history = History(moved(2.5))
    found = predict(learn(history), "fascia", FORTY, Fraction(0))
    assert found.median == pytest.approx(40 * 1.15, abs=0.9)
    # A half-life that is asked for is used instead, and nothing is said of drift.
    slow = learn(history, half_life=10_000)
    assert slow.rates.notes == ()
    assert predict(slow, "fascia", FORTY, Fraction(0)).median < found.median - 0.5


def test_an_early_job_is_held_against_what_was_usual_then() -> None:
    learned = learn(History(moved(2.5)))
    first, *_, last = by_job(learned, "fascia")
    assert first.usual < 0.6 * last.usual


@pytest.mark.parametrize("seed", range(8))
def test_one_who_stays_as_he_is_hears_nothing(seed: int) -> None:
    assert learn(History(moved(1, seed=100 * seed))).rates.notes == ()


def test_few_jobs_tell_no_drift() -> None:
    assert learn(History(moved(4, jobs=8))).rates.notes == ()


def test_one_odd_job_is_no_drift() -> None:
    lines = tuple(
        replace(use, consumed=use.net * 2) if use.job == "job 20" else use for use in moved(1)
    )
    assert learn(History(lines)).rates.notes == ()


def slower(times: float) -> tuple[PastWork, ...]:
    luck = np.random.default_rng(4)
    return tuple(
        line
        for task in ("hang soffit", "wrap fascia", "cut vents")
        for line in work(
            [
                0.1 * float(np.exp(0.2 * luck.normal())) * (times if at >= 15 else 1)
                for at in range(30)
            ],
            task,
        ).work
    )


def test_work_that_takes_longer_is_said_and_planned() -> None:
    learned = learn(History(work=slower(1.8)))
    [note] = [note for note in learned.rates.notes if "since" in note]
    assert note.startswith("you take more time since June 2025, ")
    # Over all jobs, old and new alike, it would be 200 x 0.14 at most.
    found = predict_hours(learned, "hang soffit", Fraction(200))
    assert 200 * 0.15 < found.median < 200 * 0.19
