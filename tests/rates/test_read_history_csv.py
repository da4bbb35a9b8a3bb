"""Earlier jobs from paper."""

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.model import PastUse, PastWork
from joblog.rates import read_history_csv

HEAD = "job,date,item,net,consumed,task,quantity,crew hours,temperature\n"
TODAY = date(2026, 6, 1)
GOOD = "Elm St,2025-10-05,fascia,12 1/2,14,,,,\n"


def test_items_and_tasks_are_read() -> None:
    history, problems = read_history_csv(
        HEAD + "Elm St,2025-10-05,Fascia,12 1/2,14,Hang soffit,180,20.5,48\n", today=TODAY
    )
    day, cold = date(2025, 10, 5), Fraction(48)
    assert problems == ()
    assert history.uses == (
        PastUse("Elm St", day, "Fascia", Fraction(25, 2), Fraction(14), fahrenheit=cold),
    )
    assert history.work == (
        PastWork("Elm St", day, "Hang soffit", Fraction(180), Fraction(41, 2), fahrenheit=cold),
    )


def test_the_other_columns_may_be_there() -> None:
    history, _ = read_history_csv(
        "Consumed,Net,ITEM,Date,job,geometric,family,depth,crew\n50,44,soffit panel,3/9/2025,a,"
        "2 1/2,vinyl,16,2\n"
    )
    [use] = history.uses
    assert (use.geometric, use.family, use.depth, use.crew) == (Fraction(5, 2), "vinyl", 16, 2)
    assert use.day == date(2025, 3, 9)


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("Elm St,2025-10-05,Fascia ,3,4,,,,", "has Fascia in row 2 already; put both into one row"),
        ("Oak St,2025-10-05,fascia,0,4,,,,", "net is zero"),
        ("Oak St,2025-10-05,fascia,-3,4,,,,", "net -3 is below zero"),
        ("Oak St,2025-10-05,fascia,3,-4,,,,", "consumed -4 is below zero"),
        ("Oak St,2025-10-05,fascia,30,14,,,,", "are both in the same unit?"),
        ("Oak St,2025-10-05,fascia,many,14,,,,", "net 'many' is not a number"),
        ("Oak St,2025-10-05,fascia,,14,,,,", "net is empty"),
        ("Oak St,2026-10-05,fascia,3,4,,,,", "2026-10-05 has not come yet"),
        ("Oak St,15/5/2025,fascia,3,4,,,,", "is no date; write 2026-10-05"),
        ("Oak St,,fascia,3,4,,,,", "'' is no date"),
        (",2025-10-05,fascia,3,4,,,,", "names no job"),
        ("Oak St,2025-10-05,,3,4,,,,", "names neither an item nor a task"),
        ("Oak St,2025-10-05,,,,hang soffit,0,3,", "must be above zero"),
        ("Oak St,2025-10-05,,,,hang soffit,30,,", "crew hours is empty"),
        ("Oak St,2025-10-05,fascia,3,4,,,,900", "temperature 900 is not one in Fahrenheit"),
        ("Oak St,2025-10-05,fascia,3,4,,,,50,1,2", "more cells than there are columns"),
    ],
)
def test_a_bad_row_is_named_and_left_out(row: str, why: str) -> None:
    history, [problem] = read_history_csv(HEAD + GOOD + row + "\n", today=TODAY)
    assert (len(history.uses), len(history.work)) == (1, 0)
    assert problem.what == "history, row 3"
    assert why in problem.why


def test_consumed_a_little_below_net_is_kept_and_told_of() -> None:
    history, [problem] = read_history_csv(HEAD + "Elm St,2025-10-05,fascia,14,13 1/2,,,,\n")
    assert len(history.uses) == 1
    assert "13 1/2 consumed is less than the net of 14; it is kept" in problem.why


def test_consumed_far_above_net_is_kept_and_told_of() -> None:
    history, [problem] = read_history_csv(HEAD + "Elm St,2025-10-05,fascia,14,140,,,,\n")
    assert len(history.uses) == 1
    assert "more than three times the net" in problem.why


def test_the_same_hours_beside_two_items_count_once() -> None:
    hours = "hang soffit,180,20,48\n"
    history, problems = read_history_csv(
        HEAD + f"a,2025-10-05,fascia,12,14,{hours}a,2025-10-05,soffit panel,40,44,{hours}"
    )
    assert problems == ()
    assert (len(history.uses), len(history.work)) == (2, 1)


def test_other_hours_for_the_same_task_of_a_job_are_not_guessed_at() -> None:
    history, [problem] = read_history_csv(
        HEAD
        + "a,2025-10-05,,,,hang soffit,180,20,\n"
        + "a,2025-10-05,fascia,12,14,hang soffit,90,11,\n"
    )
    assert (len(history.uses), len(history.work)) == (0, 1)
    assert "hang soffit in row 2 already" in problem.why


def test_a_table_of_tasks_alone_is_enough() -> None:
    history, problems = read_history_csv(
        "job,date,task,quantity,crew_hours\na,2025-10-05,hang soffit,180,20\n"
    )
    assert problems == ()
    assert len(history.work) == 1


def test_missing_columns_are_named() -> None:
    _, [problem] = read_history_csv("job,item,net\na,fascia,3\n")
    assert "has no column date and no column consumed" in problem.why


def test_a_file_that_is_not_there_says_so(tmp_path: Path) -> None:
    _, [problem] = read_history_csv(tmp_path / "old jobs.csv")
    assert (problem.what, problem.why) == (
        "old jobs.csv",
        "cannot be read: No such file or directory",
    )


def test_a_file_in_another_encoding_says_so(tmp_path: Path) -> None:
    file = tmp_path / "old.csv"
    file.write_bytes(b"job,date\n\xff\xfe")
    _, [problem] = read_history_csv(file)
    assert "no UTF-8 text" in problem.why


@given(st.text(max_size=200))
def test_any_text_at_all_is_read_or_told_of(text: str) -> None:
    read_history_csv(HEAD + text, today=TODAY)
