"""Earlier jobs from paper."""

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.model import History, PastUse, PastWork
from joblog.rates import read_history_csv
from joblog.sheet import Reading

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
        ("Oak St,2025-10-05,fascia,0,4,,,,", "work is zero"),
        ("Oak St,2025-10-05,fascia,-3,4,,,,", "work -3 is below zero"),
        ("Oak St,2025-10-05,fascia,3,-4,,,,", "gone -4 is below zero"),
        ("Oak St,2025-10-05,fascia,30,14,,,,", "are both in the same unit?"),
        ("Oak St,2025-10-05,fascia,many,14,,,,", "work 'many' is not a number"),
        ("Oak St,2025-10-05,fascia,,14,,,,", "work is empty"),
        ("Oak St,2026-10-05,fascia,3,4,,,,", "2026-10-05 has not come yet"),
        ("Oak St,15/5/2025,fascia,3,4,,,,", "is no date; write 2026-10-05"),
        ("Oak St,,fascia,3,4,,,,", "'' is no date"),
        (",2025-10-05,fascia,3,4,,,,", "names no job"),
        ("Oak St,2025-10-05,,3,4,,,,", "names neither an item nor a task"),
        ("Oak St,2025-10-05,,,,hang soffit,0,3,", "must be above zero"),
        ("Oak St,2025-10-05,,,,hang soffit,30,,", "man-hours is empty"),
        ("Oak St,2025-10-05,fascia,3,4,,,,900", "temperature 900 is not one in Fahrenheit"),
        ("Oak St,2025-10-05,fascia,3,4,,,,50,1,2", "more cells than there are columns"),
        ("Oak St,0205-10-05,fascia,3,4,,,,", "write the year with its four digits"),
        ("Oak St,2025-10-05,,3,4,hang,9,2,", "has work 3 but names no item"),
        ("Oak St,2025-10-05,fascia,3,4,,9,,", "has quantity 9 but names no task"),
        ("Oak St,2025-10-05,,,,hang,9,9000,", "say --sure if it is so"),
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
    assert "13 1/2 gone is less than the work of 14; it is kept" in problem.why


def test_consumed_far_above_net_is_kept_and_told_of() -> None:
    history, [problem] = read_history_csv(HEAD + "Elm St,2025-10-05,fascia,14,140,,,,\n")
    assert len(history.uses) == 1
    assert "more than three times the work" in problem.why


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
    assert "has no column date and no column gone" in problem.why


def test_a_day_with_strokes_is_not_guessed_at_where_decimals_have_commas() -> None:
    history, problems = read_history_csv(
        "job;date;item;work;gone\nElm;5/10/2025;fascia;12,5;13,5\n"
    )
    assert history == History()
    assert "may have the day first" in problems[-1].why


def test_a_file_that_is_not_there_says_so(tmp_path: Path) -> None:
    _, [problem] = read_history_csv(tmp_path / "old jobs.csv")
    assert (problem.what, problem.why) == (
        "old jobs.csv",
        "is not there. Check the name.",
    )


def test_a_file_in_another_encoding_says_so(tmp_path: Path) -> None:
    file = tmp_path / "old.csv"
    file.write_bytes((HEAD + "Zo\u00eb,2025-10-05,fascia,3,4,,,,\n").encode("cp1252"))
    history, [notice] = read_history_csv(file)
    assert history.uses[0].job == "Zo\u00eb"
    assert notice.why == "read with Windows letters"


@given(st.text(max_size=200))
def test_any_text_at_all_is_read_or_told_of(text: str) -> None:
    read_history_csv(HEAD + text, today=TODAY)


# --- at the edges


def lines(*rows: str, head: str = HEAD) -> tuple[History, list[tuple[str, str]]]:
    history, problems = read_history_csv(head + "".join(f"{row}\n" for row in rows), today=TODAY)
    return history, [(problem.what, problem.why) for problem in problems]


@pytest.mark.parametrize(
    ("consumed", "kept", "why"),
    [
        ("6 7/8", False, "6 7/8 gone is less than half of the work of 14"),
        ("7", True, "7 gone is less than the work of 14"),
        ("14", True, ""),
        ("42", True, ""),
        ("42 1/8", True, "42 1/8 gone is more than three times the work of 14"),
    ],
)
def test_what_can_be_consumed_of_fourteen(consumed: str, kept: bool, why: str) -> None:
    history, problems = lines(f"Elm St,2025-10-05,fascia,14,{consumed},,,,")
    assert len(history.uses) == kept
    assert len(problems) == bool(why)
    assert all(what == "history, row 2" and why in said for what, said in problems)


@pytest.mark.parametrize(
    ("degrees", "kept"), [("-81", False), ("-80", True), ("0", True), ("150", True), ("151", False)]
)
def test_temperatures_in_which_somebody_may_work(degrees: str, kept: bool) -> None:
    row = f"Elm St,2025-10-05,fascia,14,15,,,,{degrees}\n"
    history, _ = read_history_csv(HEAD + row, reading=Reading(sure=True))
    assert len(history.uses) == kept
    assert all(use.fahrenheit == Fraction(degrees) for use in history.uses)


@pytest.mark.parametrize(
    ("crew", "people"), [("1", 1), ("3", 3), ("0", None), ("-2", None), ("1 1/2", None)]
)
def test_a_crew_is_a_whole_number_of_people(crew: str, people: int | None) -> None:
    head = "job,date,item,net,consumed,crew\n"
    history, problems = lines(f"a,2025-10-05,fascia,3,4,{crew}", head=head)
    assert [use.crew for use in history.uses] == ([] if people is None else [people])
    assert [why for _, why in problems] == (
        [] if people else [f"crew {crew} is not a number of people; the row is left out"]
    )


def test_the_conditions_of_a_row_go_with_its_hours_too() -> None:
    head = "job,date,task,quantity,crew hours,temperature,depth,crew\n"
    history, problems = lines("a,10/5/2025,hang,90,11,40,16,2", head=head)
    day = date(2025, 10, 5)
    assert problems == []
    assert history.work == (
        PastWork("a", day, "hang", Fraction(90), Fraction(11), Fraction(40), Fraction(16), 2),
    )


def test_today_has_come_and_without_a_today_every_day_has() -> None:
    assert len(lines("a,2026-06-01,fascia,3,4,,,,")[0].uses) == 1
    assert lines("a,2026-06-02,fascia,3,4,,,,")[0].uses == ()
    history, problems = read_history_csv(HEAD + "a,2099-01-01,fascia,3,4,,,,\n")
    assert (len(history.uses), problems) == (1, ())


def test_the_same_item_in_another_job_and_a_task_of_the_items_name_are_no_doubles() -> None:
    history, problems = lines(
        "a,2025-10-05,fascia,3,4,,,,", "b,2025-10-05,fascia,3,4,,,,", "a,2025-10-05,,,,fascia,9,2,"
    )
    assert problems == []
    assert (len(history.uses), len(history.work)) == (2, 1)


def test_a_row_that_was_left_out_is_no_earlier_row() -> None:
    history, problems = lines("a,2025-10-05,fascia,0,4,,,,", "a,2025-10-05,fascia,3,4,,,,")
    assert [what for what, _ in problems] == ["history, row 2"]
    assert len(history.uses) == 1


def test_the_same_hours_without_an_item_beside_them_are_a_double() -> None:
    hours = "a,2025-10-05,,,,hang soffit,180,20,"
    history, problems = lines(hours, hours)
    assert len(history.work) == 1
    assert problems == [
        (
            "history, row 3",
            "a has hang soffit in row 2 already; put both into one row; the row is left out",
        )
    ]


def test_a_task_is_told_of_by_its_own_name() -> None:
    _, problems = lines(
        "a,2025-10-05,,,,hang,many,3,",
        "a,2025-10-05,,,,hang,140 ft,3,",
        "a,2025-10-05,,,,hang,30,0,",
        head=HEAD,
    )
    assert [why for _, why in problems] == [
        "hang: quantity 'many' is not a number; the row is left out",
        "hang: quantity '140 ft' is not a number; write the number alone; the row is left out",
        "hang: quantity and man-hours must be above zero; the row is left out",
    ]


def test_empty_rows_are_passed_over_and_counted() -> None:
    history, problems = lines(",,,,,,,,", "a,2025-10-05,fascia,0,4,,,,")
    assert [what for what, _ in problems] == ["history, row 3"]
    assert history == History()


def test_spaces_in_names_are_one_and_headings_are_read_as_written() -> None:
    history, problems = lines(
        " Elm   St ,2025-10-05, white  fascia ,3,4", head="JOB, Date ,item,net,Consumed\n"
    )
    assert problems == []
    assert [(use.job, use.item) for use in history.uses] == [("Elm St", "white fascia")]


@pytest.mark.parametrize(
    ("head", "why"),
    [
        ("net\n", "has no column job and no column date and no column item and no column gone"),
        ("job,date,task\n", "has no column quantity and no column man-hours"),
        ("job,date,item,task,quantity,crew hours\n", "has no column work and no column gone"),
        ("job,date,item,net,consumed,task,quantity\n", "has no column man-hours;"),
    ],
)
def test_the_columns_that_a_table_needs(head: str, why: str) -> None:
    history, problems = lines("x", head=head)
    assert history == History()
    [(what, said)] = problems
    assert what == "history" and said.startswith(why)
    assert said.endswith(
        "its first row must name the columns: job, date, item, work, gone, and may name "
        "cutoffs, family, task, quantity, man-hours, temperature, depth, crew"
    )


def test_columns_are_named_as_the_pages_name_their_figures() -> None:
    pages = "job,date,item,work,gone,cutoffs,task,quantity,man-hours\n"
    estimator = "job,date,item,net,consumed,geometric,task,quantity,crew hours\n"
    row = "Elm St,2025-10-05,fascia,14,16,1,wrap fascia,80,5\n"
    assert read_history_csv(pages + row) == read_history_csv(estimator + row)
    assert read_history_csv(pages + row)[1] == ()


def test_a_missing_column_is_told_of_where_a_row_is_bad_as_well() -> None:
    history, problems = read_history_csv("date,item,work,gone\n2025-10-06,fascia,38,39,x\n")
    assert history == History()
    assert [problem.why.partition(";")[0] for problem in problems] == [
        "has more cells than there are columns ('x')",
        "has no column job",
    ]
