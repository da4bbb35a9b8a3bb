"""Earlier jobs from paper: one row for each item or task of a job.

Columns: `job`, `date`, `item`, `work` (what the work should have taken), `gone`; then, where they
are known, `cutoffs` (what the cuts forced), `family`, `task`, `quantity`, `man-hours`,
`temperature` (Fahrenheit), `depth` (inches) and `crew` (people). A row may hold an item, a task, or
both. Columns may stand in any order; dates are 2026-10-05 or 10/5/2026 (month first). The names
that an estimator has for some, of `_ALSO`, are read as well.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from pathlib import Path

from joblog.model import History, PastUse, PastWork, Problem
from joblog.quantity import fraction_of, tape
from joblog.rates.learned import key_of, name_of
from joblog.sheet import SheetError, opened


def read_history_csv(
    source: str | Path, *, today: date | None = None
) -> tuple[History, tuple[Problem, ...]]:
    """The jobs, and one problem for every row that needs a person's eye (naming the row).

    `source` is the text itself or a file. A row is left out where it cannot be right: no net,
    something below zero, a date after `today`, a job and item that an earlier row had already, or
    less than half of the net consumed. One that consumed a little less than its net, or over
    three times of it, is kept and told of: counts err both ways, and leaving out only the low
    ones would push every rate up.
    """
    try:
        with opened(source, "history") as (name, text):
            rows = csv.DictReader(text, skipinitialspace=True)
            columns = [_column(column or "") for column in rows.fieldnames or ()]
            rows.fieldnames = columns
            if missing := _missing(columns):
                return History(), (Problem(name, missing),)
            draft = _Draft(name, today)
            for number, row in enumerate(rows, 2):
                _read_row(draft, number, row)
    except SheetError as error:
        return History(), (error.problem,)
    return History(tuple(draft.uses), tuple(draft.work)), tuple(draft.problems)


COLUMNS = (
    "job", "date", "item", "work", "gone", "cutoffs", "family", "task", "quantity", "man-hours",
    "temperature", "depth", "crew",
)  # fmt: skip

_ALSO = {
    "net": "work", "consumed": "gone", "geometric": "cutoffs", "crew hours": "man-hours",
    "man hours": "man-hours",
}  # fmt: skip


@dataclass
class _Draft:
    name: str
    today: date | None
    uses: list[PastUse] = field(default_factory=list)
    work: list[PastWork] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    seen: dict[tuple[str, str, str], tuple[int, PastUse | PastWork]] = field(default_factory=dict)

    def tell(self, number: int, why: str) -> None:
        self.problems.append(Problem(f"{self.name}, row {number}", why))


def _column(heading: str) -> str:
    named = " ".join(heading.lower().replace("_", " ").split())
    return _ALSO.get(named, named)


def _missing(columns: list[str]) -> str:
    needed = ["job", "date"]
    if "task" not in columns or "item" in columns:
        needed += ["item", "work", "gone"]
    if "task" in columns:
        needed += ["quantity", "man-hours"]
    missing = [column for column in needed if column not in columns]
    if not missing:
        return ""
    return (
        f"has no column {' and no column '.join(missing)}; its first row must name the columns: "
        f"{', '.join(COLUMNS[:5])}, and may name {', '.join(COLUMNS[5:])}"
    )


def _read_row(draft: _Draft, number: int, row: dict[str, str | None]) -> None:
    cells = {key: (value or "").strip() for key, value in row.items() if isinstance(key, str)}
    if not any(cells.values()):
        return
    try:
        if None in row:
            raise ValueError("has more cells than there are columns; quote cells that hold commas")
        job, day = " ".join(cells["job"].split()), _day(cells["date"], draft.today)
        if not job:
            raise ValueError("names no job")
        item, task = _name(cells, "item"), _name(cells, "task")
        if not item and not task:
            raise ValueError("names neither an item nor a task")
        use = _use(cells, job, day, item) if item else None
        work = _work(cells, job, day, task) if task else None
        _keep(draft, number, use, work)
    except ValueError as error:
        draft.tell(number, f"{error}; the row is left out")


def _keep(draft: _Draft, number: int, use: PastUse | None, work: PastWork | None) -> None:
    for line in (use, work):
        if line is None:
            continue
        name = name_of(line)
        kind = "item" if isinstance(line, PastUse) else "task"
        earlier = draft.seen.get((kind, key_of(line.job), key_of(name)))
        if earlier is None:
            continue
        if isinstance(line, PastWork) and use is not None and earlier[1] == line:
            work = None  # the job's hours, written again beside another item
            continue
        raise ValueError(
            f"{line.job} has {name} in row {earlier[0]} already; put both into one row"
        )
    if use is not None:
        draft.seen["item", key_of(use.job), key_of(use.item)] = (number, use)
        draft.uses.append(use)
        if use.consumed < use.net:
            draft.tell(
                number,
                f"{use.item}: {tape(use.consumed)} gone is less than the work of "
                f"{tape(use.net)}; it is kept, but look whether something on hand was forgotten",
            )
        if use.consumed > 3 * use.net:
            draft.tell(
                number,
                f"{use.item}: {tape(use.consumed)} gone is more than three times the work of "
                f"{tape(use.net)}; it is kept, but look whether both are in the same unit",
            )
    if work is not None:
        draft.seen["task", key_of(work.job), key_of(work.task)] = (number, work)
        draft.work.append(work)


def _use(cells: dict[str, str], job: str, day: date, item: str) -> PastUse:
    net, consumed = _needed(cells, "work", item), _needed(cells, "gone", item)
    geometric = _amount(cells, "cutoffs", item)
    if net == 0:
        raise ValueError(f"{item}: work is zero, so it has no rate")
    if consumed < net / 2:
        raise ValueError(
            f"{item}: {tape(consumed)} gone is less than half of the work of {tape(net)}; "
            f"are both in the same unit?"
        )
    return PastUse(
        job, day, item, net, consumed, geometric, _name(cells, "family") or None,
        _temperature(cells), _amount(cells, "depth", item), _crew(cells),
    )  # fmt: skip


def _work(cells: dict[str, str], job: str, day: date, task: str) -> PastWork:
    quantity, hours = _needed(cells, "quantity", task), _needed(cells, "man-hours", task)
    if quantity == 0 or hours == 0:
        raise ValueError(f"{task}: quantity and man-hours must be above zero")
    return PastWork(
        job, day, task, quantity, hours,
        _temperature(cells), _amount(cells, "depth", task), _crew(cells),
    )  # fmt: skip


def _day(text: str, today: date | None) -> date:
    try:
        if found := _MONTH_FIRST.fullmatch(text):
            month, day, year = map(int, found.groups())
            read = date(year, month, day)
        else:
            read = date.fromisoformat(text)
    except ValueError:
        raise ValueError(
            f"{text!r} is no date; write 2026-10-05, or 10/5/2026 with the month first"
        ) from None
    if today is not None and read > today:
        raise ValueError(f"{text} has not come yet")
    return read


_MONTH_FIRST = re.compile(r"(\d{1,2})/(\d{1,2})/(\d{4})")


def _name(cells: dict[str, str], column: str) -> str:
    return " ".join(cells.get(column, "").split())


def _needed(cells: dict[str, str], column: str, name: str) -> Fraction:
    amount = _amount(cells, column, name)
    if amount is None:
        raise ValueError(f"{name}: {column} is empty")
    return amount


def _amount(cells: dict[str, str], column: str, name: str) -> Fraction | None:
    text = cells.get(column, "")
    if not text:
        return None
    try:
        amount = fraction_of(text)
    except ValueError as error:
        raise ValueError(f"{name}: {column} {error}") from None
    if amount < 0:
        raise ValueError(f"{name}: {column} {text} is below zero")
    return amount


def _temperature(cells: dict[str, str]) -> Fraction | None:
    text = cells.get("temperature", "")
    if not text:
        return None
    degrees = fraction_of(text)
    if not -80 <= degrees <= 150:
        raise ValueError(f"temperature {text} is not one in Fahrenheit")
    return degrees


def _crew(cells: dict[str, str]) -> int | None:
    text = cells.get("crew", "")
    if not text:
        return None
    people = fraction_of(text)
    if people.denominator != 1 or people < 1:
        raise ValueError(f"crew {text} is not a number of people")
    return int(people)
