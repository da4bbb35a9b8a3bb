"""Entries that make no sense among the others: one look for each way of not fitting.

Worked out anew whenever entries are shown or counted, and never stored: a delivery that is noted
later, or a start that is put right, takes a doubt away as it came. What a person accepted or put
right is settled, and is what the others are held against; what is doubtful already is not. What
was typed in and not looked at again may be a slip like any other.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, time
from fractions import Fraction
from functools import lru_cache, partial
from itertools import islice
from math import lcm
from zoneinfo import ZoneInfo

from joblog.catalog.lines import starter
from joblog.form import amount, unit_shown, units_of
from joblog.local import clock_written, money_written
from joblog.model import STOCK_KINDS, BookEntry, Catalog, DayHours, Item, Job, Kind, Moved, Plan
from joblog.quantity import money, tape
from joblog.reconcile.carried import with_transfers
from joblog.reconcile.counts import clashing_counts, quantity_counted, shortest_bought
from joblog.reconcile.hours import attendance
from joblog.reconcile.one_name import under_one_name
from joblog.reconcile.told import Same, when_it_was
from joblog.reconcile.units import crew_hours, in_unit_of, total

Asked = Iterator[tuple[BookEntry, str]]
"""Entries, each with why it can hardly be so."""


def sensed(
    job: Job,
    plan: Plan,
    entries: Sequence[BookEntry],
    catalog: Catalog | None = None,
    came: Sequence[Moved] = (),
) -> tuple[BookEntry, ...]:
    """The entries as the book keeps them, with a doubt on each that does not fit the others.

    Doubts are added only to what nobody has settled, and what was typed then waits like what was
    heard. In the same order.
    """
    entries = under_one_name(entries, plan, catalog, known_items(plan, catalog))
    gone = partial(_gone, catalog=catalog)
    counts = partial(_counts, catalog=catalog)
    zone = ZoneInfo(job.zone)
    told = (when_it_was(kept, zone) for kept in entries if kept.standing != "dropped")
    standing = with_transfers(told, job.name, came)
    doubted: dict[int, tuple[str, ...]] = {}
    for look in (_below_zero, _measures, gone, counts, _prices, _turns, _breaks, _hours):
        whys: dict[int, tuple[str, ...]] = {}
        for kept, why in look(job, plan, standing):
            if not _settled(kept):
                whys[kept.id] = (*whys.get(kept.id, ()), why)
        if whys:
            standing = [_doubted(kept, whys.get(kept.id, ())) for kept in standing]
            doubted |= {id: (*doubted.get(id, ()), *more) for id, more in whys.items()}
    return tuple(_doubted(kept, doubted.get(kept.id, ())) for kept in entries)


def _doubted(kept: BookEntry, whys: tuple[str, ...]) -> BookEntry:
    return replace(kept, doubts=kept.doubts + whys, standing="heard") if whys else kept


# --- measurements -----------------------------------------------------------------------------

FELLOWS = 3
FAR = Fraction("3.5")
"""Modified z-score from which a value is an outlier (Iglewicz and Hoaglin, How to Detect and Handle
Outliers, 1993)."""
TO_DEVIATION = Fraction("1.4826")
"""Standard deviations in a median absolute deviation, for a normal distribution."""
NEAR_SHARE, NEAR_INCHES = Fraction(1, 10), 1
"""However well its fellows agree, what is off by no more than this is how houses are."""


_FINE = lcm((FAR * TO_DEVIATION / 4).denominator, (NEAR_SHARE / 2).denominator)
_BY_SPREAD, _BY_MIDDLE = int(FAR * TO_DEVIATION / 4 * _FINE), int(NEAR_SHARE / 2 * _FINE)
"""The same in whole numbers, of four times the spread and of two times the middle."""


def _measures(job: Job, plan: Plan, entries: Sequence[BookEntry]) -> Asked:
    """A measurement far from all others of one place, item and day, which agree among themselves.

    A run is measured at many points and comes out nearly the same; a slip of one number happens
    once. So that honest other dimensions are let alone: lengths said in feet are not held against
    depths said in inches, cut pieces not against either, and what was measured twice is no slip.
    """
    for mine in _together(entries, ("measure",), lambda kept: _run_of(kept, job)):
        yield from _far_ones(Same(tuple(mine)))


@lru_cache(maxsize=4096)
def _far_ones(run: Same) -> tuple[tuple[BookEntry, str], ...]:
    """Each of them with why; in order, so that hundreds of a day are looked at in a moment."""
    found = []
    # Whole numbers of the smallest part told, which are compared far quicker than fractions.
    inches = [_inches(kept) for kept in run.entries]
    parts = lcm(*{one.denominator for one in inches})
    whole = [one.numerator * (parts // one.denominator) for one in inches]
    fellows = sorted(one for one, kept in zip(whole, run.entries, strict=True) if not kept.open)
    spreads: dict[int, list[int]] = {}
    for here, kept in zip(whole, run.entries, strict=True):
        if _settled(kept):
            continue
        own = 0 if kept.open else 1
        first = bisect_left(fellows, here - NEAR_INCHES * parts)
        if bisect_right(fellows, here + NEAR_INCHES * parts) - first > own:
            continue  # Another is as near as houses are.
        if len(fellows) - own < FELLOWS:
            continue
        at = bisect_left(fellows, here)
        twice = _twice_median(fellows, at if own else None)
        if twice not in spreads:
            spreads[twice] = sorted(abs(2 * one - twice) for one in fellows)
        apart = spreads[twice]
        off = bisect_left(apart, abs(2 * here - twice)) if own else None
        near = max(
            _BY_SPREAD * _twice_median(apart, off), _BY_MIDDLE * twice, _FINE * NEAR_INCHES * parts
        )
        beside = (*fellows[max(at - 1, 0) : at], *fellows[at + own : at + own + 1])
        if all(_FINE * abs(here - one) > near for one in beside):
            others = (*fellows[:at], *fellows[at + own :])
            shown = ", ".join(tape(Fraction(one, parts)) for one in _first_ones(others))
            why = f"far from the others on {kept.entry.place}, which are {shown} in"
            found.append((kept, why))
    return tuple(found)


def _twice_median(ordered: Sequence[int], without: int | None) -> int:
    """Two times the median of whole numbers in order, one of them left out."""
    many = len(ordered) - (without is not None)
    low, high = (
        at + (without is not None and at >= without) for at in ((many - 1) // 2, many // 2)
    )
    return ordered[low] + ordered[high]


def _first_ones(ordered: Sequence[int]) -> list[int]:
    return list(islice(dict.fromkeys(ordered), 4))


def _run_of(kept: BookEntry, job: Job) -> object:
    """What the measurements of one run have in common; None for what belongs to no run."""
    said = kept.entry
    if said.inches is None or said.place is None or said.pieces is not None:
        return None
    in_feet = any(word in ("feet", "foot") for word in (said.as_said or "").split())
    return _day(kept, job), said.place, said.item, in_feet


def _inches(kept: BookEntry) -> Fraction:
    return kept.entry.inches or Fraction(0)


# --- material ---------------------------------------------------------------------------------

TAKEN: tuple[Kind, ...] = ("used", "spoiled", "returned")


def _gone(
    job: Job, plan: Plan, entries: Sequence[BookEntry], catalog: Catalog | None = None
) -> Asked:
    """What makes more of an item gone than ever came, at any time.

    Where no delivery of it was ever told, not the amounts used are wrong but deliveries missing:
    that is noted once when squaring up, and not asked of every entry.
    """
    planned, known = {line.item.name: line for line in plan.items}, known_items(plan, catalog)
    for mine in _together(entries, (*TAKEN, "delivered"), lambda kept: kept.entry.item):
        if not any(kept.entry.kind == "delivered" for kept in mine):
            continue
        item = _item(mine[0].entry.item, known)
        opening = planned[item.name].opening if item.name in planned else Fraction(0)
        came = opening + total(_amounts(item, mine, ("delivered",)))
        settled = [kept for kept in mine if _settled(kept)]
        gone = total(_amounts(item, settled, TAKEN))
        asked = [
            kept
            for kept in mine
            if not _settled(kept) and not kept.open and kept.entry.kind in TAKEN
        ]
        if gone + total(_amounts(item, asked, TAKEN)) <= came:
            continue  # Nothing here is below zero: that is doubted already.
        for kept in sorted(asked, key=_when):
            quantity = in_unit_of(item, kept.entry.quantity, kept.entry.unit) or Fraction(0)
            if gone + quantity > came:
                every = units_of(gone + quantity, item.unit, item.name)
                yield kept, f"with it {every} would be gone, and only {amount(came)} ever came"
            else:
                gone += quantity


def _below_zero(job: Job, plan: Plan, entries: Sequence[BookEntry]) -> Asked:
    """An amount below nothing."""
    for kept in entries:
        quantity = kept.entry.quantity
        if quantity is not None and quantity.numerator < 0 and kept.entry.kind in STOCK_KINDS:
            yield kept, f"{amount(kept.entry.quantity)} is below zero"


def _counts(
    job: Job, plan: Plan, entries: Sequence[BookEntry], catalog: Catalog | None = None
) -> Asked:
    """A count of what is left that finds more than ever came, or than an earlier count left."""
    planned, known = {line.item.name: line for line in plan.items}, known_items(plan, catalog)
    for mine in _together(entries, ("on_hand", "delivered"), lambda kept: kept.entry.item):
        certain = sorted((kept for kept in mine if not kept.open), key=_when)
        item = _item(mine[0].entry.item, known)
        for clash in clashing_counts(item, certain):
            yield _unsettled(clash.later, clash.earlier), clash.why
        if not any(kept.entry.kind == "delivered" for kept in mine):
            continue
        opening = planned[item.name].opening if item.name in planned else Fraction(0)
        came = opening + total(_amounts(item, mine, ("delivered",)))
        shortest = shortest_bought(item, mine)
        for kept in certain:
            left = quantity_counted(item, kept.entry, shortest)
            if kept.entry.kind == "on_hand" and left is not None and left > came:
                counted = units_of(left, item.unit, item.name)
                yield kept, f"{counted} left, and only {amount(came)} ever came"


def _amounts(item: Item, entries: Iterable[BookEntry], kinds: Sequence[Kind]) -> Iterator[Fraction]:
    for kept in entries:
        if kept.entry.kind in kinds:
            yield in_unit_of(item, kept.entry.quantity, kept.entry.unit) or Fraction(0)


FAR_PRICE = Fraction(3, 2)
"""Prices seldom move by half between a bid and its delivery (from memory); a teen heard as a ten,
or a ten as a teen, is off by more than twice."""


def _prices(job: Job, plan: Plan, entries: Sequence[BookEntry]) -> Asked:
    """A price that is far from the planned one."""
    planned = {line.item.name: line for line in plan.items}
    for kept in entries:
        said = kept.entry
        line = planned.get(said.item or "")
        if said.unit_cost is None or line is None or not line.unit_cost or not said.quantity:
            continue
        quantity = in_unit_of(line.item, said.quantity, said.unit)
        if quantity is None or quantity <= 0 or said.unit_cost <= 0:
            continue
        paid = Fraction(said.unit_cost) * said.quantity / quantity
        times = paid / Fraction(line.unit_cost)
        if max(times, 1 / times) > FAR_PRICE:
            one = unit_shown(line.item.unit, line.item.name)
            told, usual = money_written(money(paid)), money_written(line.unit_cost)
            yield kept, f"{told} a {one} is far from the planned {usual}"


def known_items(plan: Plan, catalog: Catalog | None) -> dict[str, Item]:
    """By name; the plan's own before those of the catalog."""
    known = {item.name: item for item in (catalog.items if catalog else starter())}
    return known | {line.item.name: line.item for line in plan.items}


def _item(name: str | None, known: dict[str, Item]) -> Item:
    return known.get(name or "") or Item(name or "", "each")


# --- hours ------------------------------------------------------------------------------------


def _turns(job: Job, plan: Plan, entries: Sequence[BookEntry]) -> Asked:
    """A stop before the day's first start, and a start while work was going on already."""
    for mine in _together(entries, ("start", "stop"), lambda kept: _day(kept, job)):
        turns = sorted(
            (kept for kept in mine if kept.entry.time and not kept.open),
            key=lambda kept: (_clock(kept), kept.entry.kind == "stop", _when(kept)),
        )
        starts = [kept for kept in turns if kept.entry.kind == "start"]
        working: BookEntry | None = None
        for kept in turns:
            if kept.entry.kind == "stop":
                if starts and _clock(kept) < _clock(starts[0]):
                    why = f"stops at {_shown(kept)}, before the start at {_shown(starts[0])}"
                    yield _unsettled(kept, starts[0]), why
                working = None
                continue
            if working is not None and _said_again(kept, working):
                why = f"a start at {_shown(kept)}, and no stop since the one at {_shown(working)}"
                yield _unsettled(kept, working), why
            working = kept


def _said_again(kept: BookEntry, working: BookEntry) -> bool:
    """Whether a second start says no more than the first: others may join in later."""
    people = kept.entry.workers
    return people in (None, working.entry.workers) and kept.entry.time != working.entry.time


def _breaks(job: Job, plan: Plan, entries: Sequence[BookEntry]) -> Asked:
    """A break longer than the day, or outside it."""
    for day, mine in _days(job, entries, "break"):
        if day.started is None:
            continue
        for kept in mine:
            clock, minutes = kept.entry.time, kept.entry.minutes
            if clock and clock < day.started:
                started = clock_written(day.started)
                yield kept, f"a break at {clock_written(clock)}, before the start at {started}"
            if day.stopped is None:
                continue
            if clock and clock >= day.stopped:
                stopped = clock_written(day.stopped)
                yield kept, f"a break at {clock_written(clock)}, after the stop at {stopped}"
            if minutes is not None and minutes >= _minutes(day.stopped) - _minutes(day.started):
                yield kept, "the break is as long as the whole day's work"


ROUNDED = Fraction(1, 4)
"""Crew hours by which each told task may be rounded up: people tell quarter and half hours."""


def _hours(job: Job, plan: Plan, entries: Sequence[BookEntry]) -> Asked:
    """What makes more hours on tasks than anybody was at work that day."""
    for day, mine in _days(job, entries, "labor"):
        if day.crew_hours is None:
            continue
        most = day.crew_hours + ROUNDED * len(mine)
        on_tasks = total(_crew(kept) for kept in mine if _settled(kept))
        for kept in mine:
            if _settled(kept) or kept.open:
                continue
            if on_tasks + _crew(kept) > most:
                yield (
                    kept,
                    f"with it {amount(on_tasks + _crew(kept))} man-hours would be put to tasks, "
                    f"and only {amount(day.crew_hours)} were worked that day",
                )
            else:
                on_tasks += _crew(kept)


def _days(
    job: Job, entries: Sequence[BookEntry], kind: Kind
) -> Iterator[tuple[DayHours, list[BookEntry]]]:
    """Each day's attendance with what was said of one kind on it, as it was said."""
    days = {line.day: line for line in attendance(job, entries)}
    for mine in _together(entries, (kind,), lambda kept: _day(kept, job)):
        if (day := days.get(_day(mine[0], job))) is not None:
            yield day, sorted(mine, key=_when)


def _crew(kept: BookEntry) -> Fraction:
    return crew_hours(kept.entry.hours, kept.entry.workers)


# --- in order ---------------------------------------------------------------------------------


def _together(
    entries: Sequence[BookEntry], kinds: Sequence[Kind], by: Callable[[BookEntry], object]
) -> list[list[BookEntry]]:
    """Entries of some kinds in groups of what `by` makes of them; None belongs to no group."""
    groups: dict[object, list[BookEntry]] = {}
    for kept in entries:
        if kept.entry.kind in kinds and (group := by(kept)) is not None:
            groups.setdefault(group, []).append(kept)
    return list(groups.values())


def _settled(kept: BookEntry) -> bool:
    """Whether a person looked at the entry and let it stand."""
    return kept.looked_at


def _unsettled(kept: BookEntry, other: BookEntry) -> BookEntry:
    """Of two that contradict each other, the one that nobody has looked at."""
    return other if _settled(kept) else kept


def _when(kept: BookEntry) -> tuple[datetime, int]:
    return kept.at, kept.id


def _day(kept: BookEntry, job: Job) -> date:
    return kept.at.astimezone(ZoneInfo(job.zone)).date()


def _clock(kept: BookEntry) -> time:
    return kept.entry.time or time()


def _shown(kept: BookEntry) -> str:
    return clock_written(_clock(kept))


def _minutes(clock: time) -> int:
    return clock.hour * 60 + clock.minute
