"""How heavy the tails of hours are is learned from the hours themselves."""

from fractions import Fraction

from joblog.rates import learn, predict_hours
from tests.rates.closed import scattered, work

EVEN = scattered(0.11, 0.2, 16)


def test_an_odd_job_of_a_task_is_pointed_out_and_counted_for_less() -> None:
    learned = learn(work([*EVEN, 0.9]))
    [odd] = learned.rates.odd
    assert (odd.kind, odd.job) == ("hours", "job 17")
    assert odd.weight < 0.2


def test_one_odd_job_hardly_moves_what_the_next_is_expected_to_take() -> None:
    plain, wild = (
        predict_hours(learn(work(told)), "hang soffit", Fraction(200))
        for told in (EVEN, [*EVEN, 0.9])
    )
    assert wild.median < 1.15 * plain.median


def test_odd_jobs_make_the_tails_heavier() -> None:
    # The same middle; three odd jobs among sixteen make 95 % reach much further beyond 80 %.
    tails = [
        predict_hours(learn(work(told)), "hang soffit", Fraction(200)).intervals
        for told in (EVEN, [*EVEN, 0.9, 0.02, 0.8])
    ]
    even, odd = ((nearly.high / most.high) for _, most, nearly in tails)
    assert odd > even
