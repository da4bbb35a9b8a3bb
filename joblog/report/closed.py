"""A closed job on half a page: what was frozen, what is missing in it, and what it teaches."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from joblog.form import WORDS, amount, plain, units_of
from joblog.local import day_written, money_written
from joblog.model import (
    Closing,
    History,
    LaborVariance,
    MoneyVariance,
    Reconciliation,
    TaskLine,
)
from joblog.reconcile.allowed import why_it_teaches_nothing
from joblog.report.differences import in_words, known_line
from joblog.report.figures import entries_shown, gap_line, than_planned


def closed_sheet(closing: Closing, taught: History, width: int = 100) -> str:
    """One line for every figure worth remembering, as text."""
    title = f"{closing.job}, closed on {day_written(closing.day)}"
    figures = closing.figures
    parts = [
        [title, "=" * len(title), *_frozen(figures)],
        _listed("missing, and it stays so:", map(gap_line, figures.gaps)),
        _listed("what it teaches:", _lessons(taught, figures)),
        _listed("what it cannot teach:", _silent(taught, figures)),
    ]
    return "\n\n".join("\n".join(_wrapped(part, width)) for part in parts if part)


def _frozen(figures: Reconciliation) -> Iterator[str]:
    if figures.record is not None and (known := known_line(figures.record)):
        yield f"known: {known}"
    if figures.material is not None:
        yield f"material: {_cost(figures.material)}, on {_of(figures)}"
    if figures.labor is not None:
        yield f"hours: {_labor(figures.labor)}"
    for line in figures.stock:
        if line.consumed is not None:
            planned = "not planned" if line.planned is None else f"planned {amount(line.planned)}"
            gone = units_of(line.consumed, line.unit, line.item)
            yield (
                f"{line.item}: {gone} {WORDS['consumed']}, {planned}; "
                + ", ".join(
                    f"{amount(getattr(line, part))} {WORDS[part]}"
                    for part in ("placed", "spoiled", "offcut", "unaccounted")
                )
            )
    for task in figures.tasks:
        if task.entries:
            planned = "not planned" if task.planned is None else f"planned {amount(task.planned)}"
            done = "" if task.done is None else f" for {units_of(task.done, task.unit)}"
            yield f"{task.task}: {amount(task.actual)} {WORDS['crew_hours']}{done}, {planned}"


def _labor(parts: LaborVariance) -> str:
    size = f"{amount(abs(parts.hours))} {WORDS['crew_hours']}"
    hours = than_planned(parts.hours, size)
    return hours if parts.total is None else f"{hours}; {_cost(parts)}"


def _cost(parts: MoneyVariance | LaborVariance) -> str:
    size = "" if parts.total is None else money_written(abs(parts.total))
    whole, why = than_planned(parts.total, size), in_words(parts)
    return f"{whole} ({why})" if why else whole


def _of(figures: Reconciliation) -> str:
    return f"{len(figures.material_of)} of {len(figures.stock)} items"


def _lessons(taught: History, figures: Reconciliation) -> Iterator[str]:
    units = {line.item: line.unit for line in figures.stock}
    units |= {line.task: line.unit for line in figures.tasks}
    for use in taught.uses:
        forced = f" and {amount(use.geometric)} of {WORDS['offcut']}" if use.geometric else ""
        used = units_of(use.consumed, units.get(use.item), use.item)
        done = units_of(use.net, units.get(use.item), use.item)
        how = f" ({use.allowed_by})" if use.allowed_by else ""
        yield f"{use.item}: {done} of work{how}{forced} took {used}"
    for work in taught.work:
        done = units_of(work.quantity, units.get(work.task))
        yield f"{work.task}: {done} took {amount(work.crew_hours)} {WORDS['crew_hours']}"


def _silent(taught: History, figures: Reconciliation) -> Iterator[str]:
    teaching = {use.item for use in taught.uses} | {work.task for work in taught.work}
    wrong = {gap.name for gap in figures.gaps if gap.contradiction}
    for line in figures.stock:
        if line.item not in teaching:
            why = _CONTRADICTS if line.item in wrong else why_it_teaches_nothing(line)
            yield f"{line.item}: {why}"
    for task in figures.tasks:
        if task.task not in teaching:
            yield f"{task.task}: {_CONTRADICTS if task.task in wrong else _why_no_rate(task)}"


_CONTRADICTS = "what was said of it cannot all be right"


def _why_no_rate(task: TaskLine) -> str:
    if task.left_out:
        return _not_whole(task.left_out)
    return "nobody said how much was done" if task.entries else "no hours were said"


def _not_whole(left_out: tuple[int, ...]) -> str:
    named = "entry" if len(left_out) == 1 else "entries"
    return f"without {named} {entries_shown(left_out)} it is not whole"


def _listed(heading: str, lines: Iterator[str]) -> list[str]:
    found = [f"  {line}" for line in lines]
    return [heading, *found] if found else []


def _wrapped(lines: list[str], width: int) -> Iterator[str]:
    for line in lines:
        indent = "    " if line.startswith("  ") else "  "
        yield from textwrap.wrap(
            plain(line), width, subsequent_indent=indent, drop_whitespace=True
        ) or [""]
