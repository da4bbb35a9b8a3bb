"""What can hardly be so is doubted as soon as it is read."""

from joblog.dictation import read
from joblog.model import Plan, PlannedTask, Task
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
