"""Rates and back-tests as text."""

from datetime import date

from joblog.model import BackTest, Interval, OddJob, Rate, Rates
from joblog.report import back_tested, learned
from joblog.report.learned import rate_between

WASTE = Rate(
    "waste", "soffit panel", "panels", 7, 7.0, 0.062, Interval(0.8, 0.041, 0.084),
    Interval(0.8, 0.01, 0.15), 0.8, "7 jobs",
)  # fmt: skip
HOURS = Rate(
    "hours", "hang soffit", None, 3, 3.0, 0.11, Interval(0.8, 0.1, 0.12),
    Interval(0.8, 0.08, 0.15), 0.9, "3 jobs",
)  # fmt: skip


def test_a_rate_shows_its_jobs_its_intervals_and_its_source() -> None:
    shown = learned(Rates((WASTE, HOURS)))
    assert "soffit panel     7     6.2%     4.1% to 8.4%       1.0% to 15%  7 jobs" in shown
    # 0.11 hours a foot are 9.09 ft an hour.
    assert "hang soffit     3     9.09       8.33 to 10      6.67 to 12.5  3 jobs" in shown


def test_waste_that_may_be_none_is_up_to_so_much() -> None:
    assert rate_between("waste", -0.008, 0.15) == "up to 15%"
    assert rate_between("waste", -0.008, 0.0) == "none"
    assert rate_between("hours", 0.1, 0.125) == "8 to 10"


def test_an_odd_job_is_shown_in_one_line_without_control_characters() -> None:
    odd = OddJob("waste", "fascia", "Elm\x1b[2J St", date(2025, 10, 5), 0.41, 0.07, 0.12)
    shown = learned(Rates((WASTE,), (odd,)))
    assert "Elm [2J St, Sun, Oct 5, 2025: fascia 41% where 7.0% is usual; counts for 12%" in shown


def test_nothing_learned_says_so() -> None:
    assert learned(Rates()) == "nothing here yet"


def test_a_back_test_without_hours_leaves_them_open() -> None:
    shown = back_tested(
        BackTest(
            4,
            9,
            ((0.5, 0.44), (0.8, 0.78)),
            0,
            (),
            (("learned", 1.5),),
            (("learned", 0.1),),
            (("learned", 0.7),),
        )
    )
    assert "80%            78%           -" in shown
    assert "learned                      1.50        10%        0.70" in shown
