"""What a closed job rests on, what has changed of that since, and what it teaches. Pure."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date, datetime
from fractions import Fraction
from functools import cache
from typing import Any, Literal

from joblog.form import to_json
from joblog.model import (
    WALK_KINDS,
    BookEntry,
    Entry,
    History,
    Kind,
    PastUse,
    PastWork,
    Plan,
    Reconciliation,
)

Counting = Literal["counted", "waiting", "dropped"]


@dataclass(frozen=True, slots=True)
class Footing:
    """What one entry was when its job was closed."""

    entry: int
    version: int
    counting: Counting


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Why a job should not be closed yet, in words, and the entries that they name."""

    why: str
    entries: tuple[int, ...] = ()


def in_the_way(
    plan: Plan, figures: Reconciliation, entries: Sequence[BookEntry]
) -> tuple[Obstacle, ...]:
    """Why a job should not be closed yet, in words that name the entries; empty when it may.

    `entries` with the doubts that the whole job casts on them (`sensed`). What is only missing is
    not in the way: it is frozen as missing.
    """
    return tuple(_in_the_way(plan, figures, entries))


def footings(entries: Sequence[BookEntry]) -> tuple[Footing, ...]:
    """What figures made of these entries rest on."""
    return tuple(Footing(kept.id, kept.version, counting_of(kept)) for kept in entries)


def counting_of(kept: BookEntry) -> Counting:
    """Whether it is in the figures, waits to be, or is not to be."""
    if kept.standing == "dropped":
        return "dropped"
    return "waiting" if kept.open else "counted"


def changed_since(
    closed: Sequence[Footing], was: Mapping[int, BookEntry], now: Sequence[BookEntry]
) -> tuple[int, ...]:
    """The entries that say or count otherwise than when the job was closed, in the order of `now`.

    Those that counted and are in the job no more come last. `was` holds what each entry was then,
    of those that have a newer version or are gone. One that came and was dropped since, or was
    changed and changed back, makes no difference; nor does what no figure is made of, such as a
    note, once nobody doubts it.
    """
    known = {footing.entry: footing for footing in closed}
    here = {kept.id for kept in now}
    gone = (
        one.entry
        for one in closed
        if one.entry not in here and _weighs(one.counting, was.get(one.entry)) != "dropped"
    )
    return (
        *(kept.id for kept in now if _differs(known.get(kept.id), was.get(kept.id), kept)),
        *gone,
    )


def taught(day: date, figures: Reconciliation) -> History:
    """What a closed job teaches; of items and tasks that contradict themselves, nothing."""
    from joblog.rates.past import history_of

    wrong = {gap.name for gap in figures.gaps if gap.contradiction}
    sound = replace(
        figures,
        stock=tuple(line for line in figures.stock if line.item not in wrong),
        tasks=tuple(line for line in figures.tasks if line.task not in wrong),
    )
    return history_of([(day, sound)])


def taught_text(history: History) -> str:
    """The lines of one job as short JSON: a thousand jobs are read whenever rates are asked for."""
    uses = [to_json([getattr(use, name) for name in _of(PastUse)]) for use in history.uses]
    work = [to_json([getattr(done, name) for name in _of(PastWork)]) for done in history.work]
    return json.dumps([uses, work], ensure_ascii=False, separators=(",", ":"))


def taught_from(job: str, day: date, text: str) -> History:
    """The lines behind `taught_text`."""
    uses, work = json.loads(text)
    return History(
        tuple(PastUse(job, day, *_read(_of(PastUse), use)) for use in uses),
        tuple(PastWork(job, day, *_read(_of(PastWork), done)) for done in work),
    )


def footings_text(rested: Sequence[Footing]) -> str:
    return json.dumps([[one.entry, one.version, one.counting] for one in rested])


def footings_from(text: str) -> tuple[Footing, ...]:
    return tuple(Footing(*one) for one in json.loads(text))


def _in_the_way(
    plan: Plan, figures: Reconciliation, entries: Sequence[BookEntry]
) -> Iterator[Obstacle]:
    if not (plan.items or plan.tasks):
        yield Obstacle("there is no plan for this job; put one in with joblog plan FILE")
    waiting = tuple(kept.id for kept in entries if kept.open)
    if waiting:
        wait = "waits" if len(waiting) == 1 else "wait"
        why = f"{_entries(waiting)} {wait} for a decision; settle them with joblog review"
        yield Obstacle(why, waiting)
    for gap in figures.gaps:
        if gap.contradiction:
            why = f"{gap.text}: {_entries(gap.entries)} cannot all be right"
            yield Obstacle(why, gap.entries)


def _entries(ids: Sequence[int]) -> str:
    return f"{'entry' if len(ids) == 1 else 'entries'} {', '.join(map(str, ids))}"


def _differs(closed: Footing | None, was: BookEntry | None, now: BookEntry) -> bool:
    before = "dropped" if closed is None else _weighs(closed.counting, was or now)
    after = _weighs(counting_of(now), now)
    if before != after:
        return True
    if after == "dropped" or closed is None or closed.version == now.version:
        return False
    return was is not None and _figure(was) != _figure(now)


def _weighs(counting: Counting, kept: BookEntry | None) -> Counting:
    """As it counts; what no figure is made of is as if it were not there. What waits may yet become
    something else."""
    if counting == "counted" and kept is not None and tells_no_figure(kept.entry):
        return "dropped"
    return counting


def tells_no_figure(said: Entry) -> bool:
    """Whether the figures of a squared-up job are the same with and without it."""
    if said.kind == "needed":
        return said.item is not None
    return said.kind in _NO_FIGURE or (said.kind == "weather" and said.fahrenheit is None)


_NO_FIGURE: tuple[Kind, ...] = (
    "note", "problem", "covered", "photo", "todo", "price", "inspection", "visit", *WALK_KINDS,
)  # fmt: skip


def _figure(kept: BookEntry) -> tuple[Entry, datetime]:
    """What figures are made of in an entry that counts: of most, not the words beside it."""
    said, worded = kept.entry, kept.entry.kind in ("extra", "expense", "drive")
    return (said if worded else replace(said, note=None)), kept.at


@cache
def _of(kind: type[PastUse] | type[PastWork]) -> tuple[str, ...]:
    """Fields of a line that are its own and not its job's."""
    return tuple(field.name for field in fields(kind) if field.name not in ("job", "day"))


def _read(names: Sequence[str], cells: Sequence[Any]) -> list[Any]:
    return [
        cell if cell is None or name in _AS_WRITTEN else _fraction(cell)
        for name, cell in zip(names, cells, strict=False)
    ]
    # What an older joblog wrote ends earlier; what has come since takes its default.


_AS_WRITTEN = ("item", "task", "family", "crew", "allowed_by")


def _fraction(text: str) -> Fraction:
    over, _, under = text.partition("/")
    return Fraction(int(over), int(under)) if under else Fraction(int(over))
