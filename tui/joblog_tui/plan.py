"""The plan of the job, line by line, beside what was used of it so far."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction

from textual.content import Content

from joblog.form import WORDS, plain, unit_shown, units_of
from joblog.report.figures import amount, money_shown
from joblog.service.desk import Desk
from joblog.service.planned import ItemSoFar, TaskSoFar, plan_so_far
from joblog_tui.behind import BehindScreen
from joblog_tui.columns import in_columns
from joblog_tui.listed import ListedScreen, ListLine
from joblog_tui.squared_row import SquaredRow, not_counted
from joblog_tui.wording import FAINT, counted, in_doubt

_EMPTY = """\
This job has no plan yet.

Take off what was measured, and make it the plan:

    joblog takeoff RUNS.csv --to-plan

or load one that you have:

    joblog plan PLAN.csv"""


class PlanScreen(ListedScreen):
    ENTER = "entries behind the line"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._items: tuple[ItemSoFar, ...] = ()
        self._tasks: tuple[TaskSoFar, ...] = ()

    def read(self) -> None:
        self._items, self._tasks = plan_so_far(self._desk)

    def head(self) -> Content:
        counts = f"{counted(len(self._items), 'item')}, {counted(len(self._tasks), 'task')} planned"
        return Content.assemble((plain(self._desk.job.name), "bold"), f": {counts}")

    def lines(self, width: int) -> Sequence[ListLine]:
        return (*_items(self._items, width), *_tasks(self._tasks, width))

    def empty(self) -> str:
        return _EMPTY

    def open(self, line: ListLine) -> None:
        every: list[ItemSoFar | TaskSoFar] = [*self._items, *self._tasks]
        found = next(one for one in every if _id(one) == line.id)
        if not (found.line.entries or found.line.left_out):
            self.notify("No entry stands behind this line.")
            return
        row = SquaredRow("", "", line.meaning, found.line.entries, found.line.left_out)
        self.app.push_screen(BehindScreen(self._desk, row))


def _id(one: ItemSoFar | TaskSoFar) -> str:
    if isinstance(one, ItemSoFar):
        return f"item {one.planned.item.name}"
    return f"task {one.planned.task.name}"


def _items(items: Sequence[ItemSoFar], width: int) -> Iterable[ListLine]:
    names = [
        plain(
            f"{one.planned.item.name}, {unit_shown(one.planned.item.unit, one.planned.item.name)}"
        )
        for one in items
    ]
    rows = [(amount(one.planned.quantity), amount(one.used), _to_go(one.left)) for one in items]
    head, shown = in_columns("item", ("planned", "gone so far", "to go"), names, rows, width)
    for one, text in zip(items, shown, strict=True):
        over = in_doubt(text) if one.left < 0 else text
        yield ListLine(head, over, _id(one), _item_meaning(one))


def _item_meaning(one: ItemSoFar) -> Content:
    planned, line = one.planned, one.line
    unit = plain(planned.item.unit)

    def of(quantity: object) -> str:
        return units_of(quantity, unit, planned.item.name)  # type: ignore[arg-type]

    made = ""
    if planned.net is not None:
        parted = (of(planned.net), of(planned.offcut), of(one.allowance))
        made = ": {} for the work, {} for cutoffs, {} extra".format(*parted)
    parts = [
        Content.assemble(
            (plain(planned.item.name), "bold"),
            f", planned {of(planned.quantity)}{made}{_at(planned.unit_cost)}",
        )
    ]
    if planned.source:
        parts.append(Content.assemble(("extra from: ", FAINT), plain(planned.source)))
    gone = tuple((getattr(line, part), WORDS[part]) for part in ("placed", "spoiled", "offcut"))
    told = ", ".join(f"{of(quantity)} {word}" for quantity, word in gone if quantity)
    parts.append(
        Content(f"delivered {of(line.delivered)}; gone {of(one.used)}{told and ': '}{told}")
    )
    if one.left < 0:
        parts.append(in_doubt(f"{of(-one.left)} more than planned."))
    return Content("\n").join([*parts, *not_counted(line.left_out)])


def _tasks(tasks: Sequence[TaskSoFar], width: int) -> Iterable[ListLine]:
    names = [plain(one.planned.task.name) for one in tasks]
    rows = [(amount(one.planned.hours), amount(one.line.actual), _to_go(one.left)) for one in tasks]
    heads = ("planned", "so far", "to go")
    head, shown = in_columns(f"task, {WORDS['crew_hours']}", heads, names, rows, width)
    for one, text in zip(tasks, shown, strict=True):
        over = in_doubt(text) if one.left < 0 else text
        yield ListLine(head, over, _id(one), _task_meaning(one))


def _task_meaning(one: TaskSoFar) -> Content:
    planned, line = one.planned, one.line
    unit = plain(planned.task.unit)
    much = "" if planned.quantity is None else f" for {units_of(planned.quantity, unit)}"
    parts = [
        Content.assemble(
            (plain(planned.task.name), "bold"),
            f", planned {amount(planned.hours)} man-hours{much}{_at(planned.hourly_cost)}",
        )
    ]
    if planned.source:
        parts.append(Content.assemble(("hours from: ", FAINT), plain(planned.source)))
    done = "" if line.done is None else f"; done: {units_of(line.done, unit)}"
    parts.append(Content(f"so far {amount(line.actual)} man-hours{done}"))
    if one.left < 0:
        parts.append(in_doubt(f"{amount(-one.left)} man-hours more than planned."))
    return Content("\n").join([*parts, *not_counted(line.left_out)])


def _to_go(left: Fraction) -> str:
    """What of the plan is not used yet, or how much it is over."""
    return amount(left) if left >= 0 else f"{amount(-left)} over"


def _at(cost: Decimal | None) -> str:
    return "" if cost is None else f", at {money_shown(cost)}"
