"""Earlier jobs from paper: one row for each item or task of a job.

Columns: `job`, `date`, `item`, `work` (what the work should have taken), `gone`; then, where they
are known, `cutoffs` (what the cuts forced), `family`, `task`, `quantity`, `man-hours`,
`temperature` (Fahrenheit), `depth` (inches) and `crew` (people). A row may hold an item, a task, or
both. Columns may stand in any order; dates are 2026-10-05 or 10/5/2026 (month first). The names
that an estimator has for some, of `_ALSO`, are read as well.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from pathlib import Path

from joblog.model import History, PastUse, PastWork, Problem
from joblog.quantity import fraction_of, tape
from joblog.rates.learned import key_of, name_of
from joblog.reason import BeyondReason, check
from joblog.sheet import AS_IT_IS, Columns, Notice, Reading, Row, each_row, read_sheet, refused


def read_history_csv(
    source: str | Path, *, today: date | None = None, reading: Reading = AS_IT_IS
) -> tuple[History, tuple[Problem, ...]]:
    """The jobs, and one problem for every row that needs a person's eye (naming the row).

    `source` is the text itself or a file. A row is left out where it cannot be right: no net,
    something below zero, a date after `today`, a job and item that an earlier row had already, or
    less than half of the net consumed. One that consumed a little less than its net, or over
    three times of it, is kept and told of in a `Notice`: counts err both ways, and leaving out only
    the low ones would push every rate up.
    """
    sheet = read_sheet(source, "history", OF_JOBS, reading)
    read = sheet.columns or not refused(sheet.problems)
    if read and (missing := _missing(sheet.columns)):
        return History(), (*sheet.problems, Problem(sheet.name, missing))
    draft = _Draft(today, sheet.decimal, reading.sure)
    problems = each_row(sheet, lambda row: _read_row(draft, row))
    return History(tuple(draft.uses), tuple(draft.work)), (*problems, *draft.notices)


COLUMNS = (
    "job", "date", "item", "work", "gone", "cutoffs", "family", "task", "quantity", "man-hours",
    "temperature", "depth", "crew",
)  # fmt: skip

OF_JOBS = Columns(
    "a list of earlier jobs",
    COLUMNS,
    alike={
        "net": "work", "consumed": "gone", "geometric": "cutoffs", "crew hours": "man-hours",
        "jobs": "job", "items": "item", "tasks": "task",
    },
    perhaps={
        "day": "date", "used": "gone", "actual": "gone", "gross": "gone", "planned": "work",
        "measured": "work", "offcut": "cutoffs", "offcuts": "cutoffs", "waste": "cutoffs",
        "hours": "man-hours", "labor": "man-hours", "amount": "quantity", "qty": "quantity",
        "people": "crew", "fahrenheit": "temperature", "name": "job", "variant of": "family",
    },
    words=("job", "item", "family", "task"),
    days=("date",),
)  # fmt: skip


@dataclass
class _Draft:
    today: date | None
    decimal: str
    sure: bool
    uses: list[PastUse] = field(default_factory=list)
    work: list[PastWork] = field(default_factory=list)
    notices: list[Notice] = field(default_factory=list)
    seen: dict[tuple[str, str, str], tuple[str, PastUse | PastWork]] = field(default_factory=dict)
    """With the row that had it."""


def _missing(columns: tuple[str, ...]) -> str:
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


def _read_row(draft: _Draft, row: Row) -> None:
    cells = row.cells
    try:
        job, day = " ".join(cells["job"].split()), _day(cells["date"], draft)
        if not job:
            raise ValueError("names no job")
        item, task = _name(cells, "item"), _name(cells, "task")
        if not item and not task:
            raise ValueError("names neither an item nor a task")
        _check_alone(cells, item, task)
        use = _use(draft, cells, job, day, item) if item else None
        work = _work(draft, cells, job, day, task) if task else None
        _keep(draft, row, use, work)
    except ValueError as error:
        raise type(error)(f"{error}; the row is left out") from None


def _check_alone(cells: Mapping[str, str], item: str, task: str) -> None:
    """Raises ValueError for a number that nothing in the row is a number of."""
    for name, what, columns in (
        (item, "item", ("work", "gone", "cutoffs", "family")),
        (task, "task", ("quantity", "man-hours")),
    ):
        for column in columns:
            if not name and cells.get(column):
                raise ValueError(f"has {column} {cells[column]} but names no {what}")


def _keep(draft: _Draft, row: Row, use: PastUse | None, work: PastWork | None) -> None:
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
        raise ValueError(f"{line.job} has {name} in {earlier[0]} already; put both into one row")
    if use is not None:
        draft.seen["item", key_of(use.job), key_of(use.item)] = (_number(row), use)
        draft.uses.append(use)
        draft.notices += [Notice(row.where, why) for why in _odd(use)]
    if work is not None:
        draft.seen["task", key_of(work.job), key_of(work.task)] = (_number(row), work)
        draft.work.append(work)


def _number(row: Row) -> str:
    return row.where.rpartition(", ")[2]


def _odd(use: PastUse) -> Iterator[str]:
    if use.consumed < use.net:
        yield (
            f"{use.item}: {tape(use.consumed)} gone is less than the work of "
            f"{tape(use.net)}; it is kept, but look whether something on hand was forgotten"
        )
    if use.consumed > 3 * use.net:
        yield (
            f"{use.item}: {tape(use.consumed)} gone is more than three times the work of "
            f"{tape(use.net)}; it is kept, but look whether both are in the same unit"
        )


def _use(draft: _Draft, cells: Mapping[str, str], job: str, day: date, item: str) -> PastUse:
    net, consumed = _needed(draft, cells, "work", item), _needed(draft, cells, "gone", item)
    geometric = _amount(draft, cells, "cutoffs", item)
    if net == 0:
        raise ValueError(f"{item}: work is zero, so it has no rate")
    if consumed < net / 2:
        raise ValueError(
            f"{item}: {tape(consumed)} gone is less than half of the work of {tape(net)}; "
            f"are both in the same unit?"
        )
    return PastUse(
        job, day, item, net, consumed, geometric, _name(cells, "family") or None,
        _temperature(draft, cells), _amount(draft, cells, "depth", item), _crew(draft, cells),
    )  # fmt: skip


def _work(draft: _Draft, cells: Mapping[str, str], job: str, day: date, task: str) -> PastWork:
    quantity, hours = (
        _needed(draft, cells, "quantity", task),
        _needed(draft, cells, "man-hours", task),
    )
    if quantity == 0 or hours == 0:
        raise ValueError(f"{task}: quantity and man-hours must be above zero")
    return PastWork(
        job, day, task, quantity, hours,
        _temperature(draft, cells), _amount(draft, cells, "depth", task), _crew(draft, cells),
    )  # fmt: skip


def _day(text: str, draft: _Draft) -> date:
    found = _MONTH_FIRST.fullmatch(text)
    if found and draft.decimal == ",":
        raise ValueError(
            f"{text!r} may have the day first, as decimal commas go with; write it like 2026-10-05"
        )
    try:
        if found:
            month, day, year = map(int, found.groups())
            read = date(year, month, day)
        else:
            read = date.fromisoformat(text)
    except ValueError:
        raise ValueError(
            f"{text!r} is no date; write 2026-10-05, or 10/5/2026 with the month first"
        ) from None
    if draft.today is not None and read > draft.today:
        raise ValueError(f"{text} has not come yet")
    if read.year < _FIRST_YEAR:
        raise ValueError(f"{text} is long ago; write the year with its four digits")
    return read


_MONTH_FIRST = re.compile(r"([0-9]{1,2})/([0-9]{1,2})/([0-9]{4})")
_FIRST_YEAR = 1950


def _name(cells: Mapping[str, str], column: str) -> str:
    return " ".join(cells.get(column, "").split())


def _needed(draft: _Draft, cells: Mapping[str, str], column: str, name: str) -> Fraction:
    amount = _amount(draft, cells, column, name)
    if amount is None:
        raise ValueError(f"{name}: {column} is empty")
    return amount


def _has_unit(text: str) -> bool:
    """Whether a number with letters behind it stands there: "140 ft"."""
    return text[0].isdigit() and any(map(str.isalpha, text))


def _amount(draft: _Draft, cells: Mapping[str, str], column: str, name: str) -> Fraction | None:
    text = cells.get(column, "")
    if not text:
        return None
    try:
        amount = fraction_of(text, decimal=draft.decimal)
    except ValueError as error:
        alone = "; write the number alone" if _has_unit(text) else ""
        raise type(error)(f"{name}: {column} {error}{alone}") from None
    if amount < 0:
        raise ValueError(f"{name}: {column} {text} is below zero")
    try:
        _check(column, amount, sure=draft.sure)
    except BeyondReason as error:
        raise BeyondReason(f"{name}: {error}") from None
    return amount


def _check(column: str, amount: Fraction, *, sure: bool) -> None:
    """Raises BeyondReason. What is counted in a unit that nobody names is held to the widest."""
    if column == "man-hours":
        check("hours", amount, sure=sure)
    elif column == "depth":
        check("depth", amount, "in", sure=sure)
    else:
        check(column, amount, "each", sure=sure)


def _temperature(draft: _Draft, cells: Mapping[str, str]) -> Fraction | None:
    text = cells.get("temperature", "")
    if not text:
        return None
    degrees = fraction_of(text, decimal=draft.decimal)
    if not -80 <= degrees <= 150:
        raise ValueError(f"temperature {text} is not one in Fahrenheit")
    check("temperature", degrees, sure=draft.sure)
    return degrees


def _crew(draft: _Draft, cells: Mapping[str, str]) -> int | None:
    text = cells.get("crew", "")
    if not text:
        return None
    people = fraction_of(text, decimal=draft.decimal)
    if people.denominator != 1 or people < 1:
        raise ValueError(f"crew {text} is not a number of people")
    check("crew", people, sure=draft.sure)
    return int(people)
