"""Many problems in a few lines."""

from joblog.model import Problem
from joblog.sheet import Notice, summed_up


def test_a_few_problems_stay_as_they_are() -> None:
    few = tuple(Problem(f"plan.csv, row {row}", "needs a quantity") for row in range(2, 8))
    assert summed_up(few) == few


def test_the_same_trouble_in_many_rows_is_one_line() -> None:
    many = [Problem(f"plan.csv, row {row}", "needs a quantity") for row in range(2, 5002)]
    assert summed_up(many) == (
        Problem("plan.csv, rows 2, 3, 4 and 4,997 more", "needs a quantity"),
    )


def test_trouble_that_differs_in_name_and_number_alone_is_shown_once() -> None:
    many = [
        Problem(f"plan.csv, row {row}", f"board {row}: '{row},5' is not a number")
        for row in range(2, 502)
    ]
    assert summed_up(many) == (
        Problem(
            "plan.csv, row 2",
            "board 2: '2,5' is not a number; so it is in rows 3, 4, 5 and 496 more",
        ),
    )


def test_kinds_beyond_a_dozen_are_counted() -> None:
    kinds = "abcdefghijklmnopqrst"
    many = [Problem("plan.csv, row 2", f"has {kind}") for kind in kinds]
    lines = summed_up(many, 12)
    assert len(lines) == 12
    assert lines[-1].why == "9 problems more like this one"


def test_what_is_only_told_of_is_not_mixed_with_what_is_refused() -> None:
    many = [Problem(f"a.csv, row {row}", "is bad") for row in range(20)]
    told = [Notice(f"a.csv, row {row}", "is bad") for row in range(20)]
    assert [type(line) for line in summed_up([*many, *told])] == [Problem, Notice]
