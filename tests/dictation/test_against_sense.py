"""What can hardly be so is doubted as soon as it is read."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.dictation import read
from joblog.dictation.sense import against_sense
from joblog.model import Entry, Plan, PlannedTask, Task
from joblog.plan import vocabulary

TASKS = (PlannedTask(Task("hang soffit", ("soffit",)), 8),)  # type: ignore[arg-type]
WORDS = vocabulary(Plan(tasks=TASKS, places=("north eave",)))


def doubts(text: str) -> list[str]:
    return [doubt.why for doubt in read(text, WORDS).doubts]


def test_forty_helpers_are_doubted() -> None:
    assert doubts("started at seven thirty am with forty helpers") == ["41 people?"]


def test_a_piece_longer_than_its_stock_is_doubted() -> None:
    # The starter catalog's fascia comes twelve feet long.
    [why] = doubts("cut two pieces of fascia at thirteen feet")
    assert "cannot be cut from fascia" in why


def test_a_piece_as_long_as_its_stock_is_not_doubted() -> None:
    assert doubts("cut two pieces of fascia at twelve feet") == []


def test_a_run_longer_than_the_stock_is_not_doubted() -> None:
    assert doubts("north eave fascia run forty feet six inches") == []


def test_a_break_longer_than_a_day_of_work_is_doubted() -> None:
    assert doubts("break nine hours") == ["a break of 9 hours is longer than a day's work"]


def test_thirty_hours_in_a_day_are_doubted() -> None:
    assert doubts("thirty hours on soffit") == ["30 hours is more than a day's work"]


@pytest.mark.parametrize(
    ("field", "most", "question"),
    [  # common practice: more than a small job ever has of anything
        ("quantity", Fraction(100_000), "so many?"),
        ("pieces", 10_000, "so many pieces?"),
        ("inches", Fraction(12_000), "so long?"),  # a thousand feet
        ("square_inches", Fraction(144_000_000), "so large?"),  # a million square feet
        ("unit_cost", Decimal(100_000), "so much money?"),
        ("workers", 12, "13 people?"),
    ],
)
def test_what_is_beyond_a_small_job_is_asked_about(field: str, most: int, question: str) -> None:
    entry = Entry("used", quantity=None)
    assert against_sense(replace(entry, **{field: most}), WORDS) == ()
    assert against_sense(replace(entry, **{field: most + 1}), WORDS) == (question,)


def test_a_correction_is_doubted_for_what_it_puts_in_place() -> None:
    inner = Entry("measure", inches=Fraction(99_999))
    assert against_sense(Entry("correction", action="replace", replacement=inner), WORDS)
