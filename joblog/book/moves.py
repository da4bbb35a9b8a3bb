"""What every job did with its material, for the ledger that goes through all of them."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field
from datetime import UTC, datetime
from fractions import Fraction
from typing import Any
from zoneinfo import ZoneInfo

from joblog.book import rows
from joblog.book.closed import closed_jobs, marks_of_all
from joblog.book.damaged import hurt_entries
from joblog.book.packed import beside, bought_for, with_known_costs
from joblog.book.stood import Span, Stood, earliest, goes_on, is_whole, keep, kept_of
from joblog.book.store import Book
from joblog.book.transfers import came_told, first_closed, transfers_told
from joblog.model import BookEntry, Item, Moved, Plan
from joblog.reconcile.told import when_it_was
from joblog.reconcile.units import in_unit_of
from joblog.stock import Ledger, Movement, each_once, through_jobs
from joblog.stock.ledger import What, moved_from_then_on
from joblog.stock.standing import standing_from


def came_to(book: Book, job: str) -> tuple[Moved, ...]:
    """The transfers of a job and what it began with, each with what it cost; for `reconcile`."""
    told = came_told(book, job)
    began = {line.item.name for line in book.plan(job).items if line.opening}
    items = {one.item for one in told} | began
    if not items:
        return ()
    moved = _gone_on(book, job) if is_whole(book) else ledger_of_all(book, items).moved
    mine = (one for one in moved if job in (one.from_job, one.to_job) and one.item in items)
    return with_known_costs(book, job, mine)


def ledger_of_all(book: Book, items: Iterable[str] | None = None, *, gone: bool = False) -> Ledger:
    """The stock ledger through all jobs, of these items or of every one; what is gone only where
    that is asked."""
    wanted = None if items is None else frozenset(items)
    found = [one for one in transfers_told(book) if wanted is None or one.item in wanted]
    met, gave = _met(found), _gave(found)
    for life in _lives(book, wanted, closed_jobs(book)):
        found += _movements(life, met, gave)
    return through_jobs(found, gone=gone)


def _gone_on(book: Book, job: str) -> Sequence[Moved]:
    """What the ledger of all tells to have been moved, from a moment on that comes before all that
    has to do with a job; from where it stood as far back as nothing has changed since."""
    stood = kept_of(book, repr(book.catalog().items))
    marks = marks_of_all(book)
    told = transfers_told(book)
    met, gave = _met(told), _gave(told)
    touched = _touched(met)
    frozen = frozenset(name for name, (_, closed) in marks.items() if closed)
    fresh = {name for name, (mark, _) in marks.items() if stood.jobs.get(name, _NEW).mark != mark}
    lives = {life.job: life for life in _lives(book, None, frozen, fresh)}
    movements = {name: [*_movements(life, met, gave)] for name, life in lives.items()}
    spans = {name: span for name, span in stood.jobs.items() if name in marks}
    for name in fresh:
        at = [*(one.at for one in movements.get(name, ())), *touched.get(name, ())]
        # Where nothing was told, what it began with is of the moment that it is looked at.
        steady = not movements.get(name) or bool(lives[name].told)
        spans[name] = Span(
            marks[name][0] if steady else "", min(at, default=None), max(at, default=None)
        )
    asked = spans[job].first
    if asked is None:
        return ()
    changed = [of.get(name, _NEW).first for name in fresh for of in (stood.jobs, spans)]
    sound = stood.up_to(earliest(changed)) if stood.jobs.keys() <= marks.keys() else {}
    begin = max((at for at in sound if at <= asked), default=None)
    rest = goes_on(spans, begin) - movements.keys()
    for life in _lives(book, None, frozen, rest):
        movements[life.job] = [*_movements(life, met, gave)]
    now = Stood(stood.rests_on, spans, dict(sound))
    moved = moved_from_then_on(
        standing_from(sound[begin]) if begin else {},
        [
            one
            for noun in (*book.jobs(), *beside(book))
            for one in movements.get(noun.name, ())
            if begin is None or one.at >= begin
        ],
        [one for one in each_once(told)[0] if begin is None or one.at >= begin],
        [] if begin == asked else [asked, *_stops(spans, movements, begin)],
        lambda at, accounts: now.stands_at(at, accounts, spans),
    )
    keep(book, now, write=len(movements) > FEW and now.moments != stood.moments)
    return moved


FEW = 5
"""So many jobs are gone through again in less time than it takes to write."""
_NEW = Span("")


def _stops(
    spans: Mapping[str, Span], gone_through: Collection[str], begin: datetime | None
) -> list[datetime]:
    """Where to note how all stood, here and there among the jobs that were gone through."""
    first = sorted(
        span.first
        for name, span in spans.items()
        if name in gone_through and span.first is not None and (begin is None or span.first > begin)
    )
    return first[:: max(len(first) // STOPS, 1)] if len(first) > FEW else []


STOPS = 8


def _met(told: Iterable[Movement]) -> dict[tuple[str, str], list[datetime]]:
    """By end and item, when transfers were told of it."""
    met: dict[tuple[str, str], list[datetime]] = {}
    for one in told:
        for end in (one.job, one.other):
            met.setdefault((end, one.item), []).append(one.at)
    return met


def _gave(told: Iterable[Movement]) -> dict[tuple[str, str], list[datetime]]:
    """By end and item, when transfers took of it."""
    gave: dict[tuple[str, str], list[datetime]] = {}
    for one in told:
        gave.setdefault((one.other if one.into else one.job, one.item), []).append(one.at)
    return gave


def _touched(met: Mapping[tuple[str, str], list[datetime]]) -> dict[str, list[datetime]]:
    """By end, when transfers were told of it."""
    touched: dict[str, list[datetime]] = {}
    for (end, _), at in met.items():
        touched.setdefault(end, []).extend(at)
    return touched


@dataclass(slots=True)
class _Life:
    """What one job tells of its material."""

    job: str
    zone: ZoneInfo
    over: bool
    """It was closed: what is left of it lies in stock."""
    items: dict[str, Item]
    opening: dict[str, Fraction]
    left: dict[str, Fraction | None]
    installed: dict[str, Fraction]
    """What went into the work, with the offcuts that nobody kept."""
    unexplained: dict[str, Fraction | None]
    told: list[BookEntry] = field(default_factory=list)
    bought: Sequence[Movement] = ()
    """Of a job that is here only beside a packed one: what went from it to that one."""


def _movements(
    life: _Life,
    met: Mapping[tuple[str, str], list[datetime]],
    gave: Mapping[tuple[str, str], list[datetime]],
) -> Iterator[Movement]:
    yield from life.bought
    times: dict[str, list[datetime]] = {}
    used: dict[str, Fraction] = {}
    cut: dict[str, BookEntry] = {}
    counted: dict[str, BookEntry] = {}
    for kept in life.told:
        said = kept.entry
        item = life.items.get(said.item or "") or Item(said.item or "", said.unit or "each")
        if said.kind == "measure":
            cut[item.name] = kept
            times.setdefault(item.name, []).append(kept.at)
            continue
        quantity = in_unit_of(item, said.quantity, said.unit)
        if quantity is None or quantity < 0:
            continue
        times.setdefault(item.name, []).append(kept.at)
        if said.kind == "on_hand":
            counted[item.name] = kept
        if said.kind == "used":
            used[item.name] = used.get(item.name, Fraction(0)) + quantity
        what = _WHAT.get(said.kind)
        if what is None:
            continue
        each = None
        if said.unit_cost is not None and said.quantity and quantity:
            each = Fraction(said.unit_cost) * said.quantity / quantity
        day = kept.at.astimezone(life.zone).date()
        yield Movement(
            life.job, item.name, item.unit, what, quantity, kept.at, each, day, entry=kept.id
        )
    every = [at for found in times.values() for at in found]
    for name, item in life.items.items():
        own = (*times.get(name, ()), *gave.get((life.job, name), ()))
        mine = sorted((*own, *met.get((life.job, name), ())))
        # What others sent before the work began was no beginning of it.
        first = min(own or every or mine, default=datetime.now(UTC))
        last = mine[-1] if mine else max(every, default=first)
        opening, left = life.opening.get(name, Fraction(0)), life.left.get(name)
        if opening:
            yield Movement(life.job, name, item.unit, "opening", opening, first)
        # Pieces went with the last of them; what a count did not find was gone by then.
        by_pieces = life.installed.get(name, Fraction(0)) - used.get(name, Fraction(0))
        for last_told, gone in (
            (cut.get(name), by_pieces), (counted.get(name), life.unexplained.get(name)),
        ):  # fmt: skip
            if last_told is not None and gone is not None and gone > 0:
                yield Movement(life.job, name, item.unit, "consumed", gone, last_told.at)
        if left is not None and left >= 0 and (mine or opening):
            yield Movement(
                life.job, name, item.unit, "ended" if life.over else "counted", left, last
            )


_WHAT: Mapping[str, What] = {
    "delivered": "delivered", "returned": "returned", "used": "consumed", "spoiled": "consumed",
}  # fmt: skip


# --- one job after the other ------------------------------------------------------------------


def _lives(
    book: Book,
    wanted: frozenset[str] | None,
    frozen: frozenset[str],
    among: Set[str] | None = None,
) -> Iterator[_Life]:
    """What each job tells, or each of these alone; those that are `frozen` as they were closed."""
    if among is not None and not among:
        return
    known = {item.name: item for item in book.catalog().items}
    over = first_closed(book)
    told = _told(book, wanted, among)
    figures = _figures(book, frozen if among is None else frozen & among)
    for job in book.jobs():
        if among is not None and job.name not in among:
            continue
        mine, zone = told.get(job.name, []), ZoneInfo(job.zone)
        if job.name in figures:
            lines, plan = figures[job.name]
            yield _closed(job.name, zone, _of(lines, wanted), plan, mine, known)
        elif mine or (wanted is None or _begins_with(book, job.name, wanted)):
            yield _open(book, job.name, zone, job.name in over, wanted)
    for job in beside(book):
        bought = [one for one in bought_for(book, job.name) if wanted is None or one.item in wanted]
        if bought and (among is None or job.name in among):
            zone = ZoneInfo(job.zone)
            yield _Life(job.name, zone, False, {}, {}, {}, {}, {}, bought=bought)


def _closed(
    job: str,
    zone: ZoneInfo,
    lines: Sequence[Mapping[str, Any]],
    plan: str,
    told: Sequence[BookEntry],
    known: Mapping[str, Item],
) -> _Life:
    """A job as it was closed: what counted then, and what was left."""
    counted = {number for line in lines for number in line["entries"]}
    mine = [when_it_was(kept, zone) for kept in told if kept.id in counted]
    units = {(kept.entry.item, kept.entry.unit) for kept in mine if kept.entry.unit}
    otherwise = {item for item, _ in units - _own_units(lines)}
    items = {
        line["item"]: _item(line, plan, known)
        if line["item"] in otherwise
        else Item(line["item"], line["unit"])
        for line in lines
    }
    return _Life(
        job,
        zone,
        True,
        items,
        {line["item"]: Fraction(line["opening"]) for line in lines},
        {line["item"]: _number(line["on_hand"]) for line in lines},
        {line["item"]: Fraction(line["placed"]) + Fraction(line["offcut"]) for line in lines},
        {line["item"]: _number(line["unaccounted"]) for line in lines},
        mine,
    )


def _own_units(lines: Sequence[Mapping[str, Any]]) -> frozenset[tuple[str | None, str | None]]:
    """Only what was told in another unit has to be turned, and then the plan is read for it."""
    return frozenset((line["item"], line["unit"]) for line in lines)


def _open(
    book: Book, name: str, zone: ZoneInfo, over: bool, wanted: frozenset[str] | None
) -> _Life:
    """A job as it now stands."""
    from joblog.reconcile.square_up import stock_told_of

    job, plan, catalog = book.job(name), book.plan(name), book.catalog()
    entries = book.entries(name)
    told = stock_told_of(job, plan, entries, catalog, came_told(book, name))
    lines = [line for line in told if wanted is None or line.item in wanted]
    planned = {line.item.name: line.item for line in plan.items}
    known = {item.name: item for item in catalog.items}
    counted = {number for line in lines for number in line.entries}
    return _Life(
        name,
        zone,
        over,
        {
            line.item: planned.get(line.item) or known.get(line.item) or Item(line.item, line.unit)
            for line in lines
        },
        {line.item: line.opening for line in lines},
        {line.item: line.on_hand for line in lines},
        {line.item: line.placed + line.offcut for line in lines},
        {line.item: line.unaccounted for line in lines},
        [when_it_was(kept, zone) for kept in entries if kept.id in counted],
    )


def _item(line: Mapping[str, Any], plan: str, known: Mapping[str, Item]) -> Item:
    """The item as the job counted it: the catalog's, unless it was counted otherwise then."""
    found = known.get(line["item"])
    if found is not None and found.unit == line["unit"]:
        return found
    from joblog.form import from_json

    planned = from_json(Plan, json.loads(plan)).items
    own = (one.item for one in planned if one.item.name == line["item"])
    return next(own, Item(line["item"], line["unit"]))


def _of(
    lines: Sequence[Mapping[str, Any]], wanted: frozenset[str] | None
) -> list[Mapping[str, Any]]:
    return [line for line in lines if wanted is None or line["item"] in wanted]


def _number(text: str | None) -> Fraction | None:
    return None if text is None else Fraction(text)


def _begins_with(book: Book, job: str, wanted: frozenset[str]) -> bool:
    return any(line.opening and line.item.name in wanted for line in book.plan(job).items)


def _figures(
    book: Book, jobs: frozenset[str]
) -> dict[str, tuple[Sequence[Mapping[str, Any]], str]]:
    """Of these closed jobs the lines of their stock, and their plan, as they were frozen."""
    if not jobs:
        return {}
    found = book._kept(
        "closing",
        "SELECT closing.id, job.name AS job, json_extract(figures, '$.stock') AS stock, plan"
        " FROM closing JOIN job ON job.id = closing.job WHERE closing.id IN (SELECT max(id)"
        " FROM closing WHERE id NOT IN (SELECT closing FROM closing_undone) GROUP BY job)"
        " AND job.name IN (SELECT value FROM json_each(?))",
        json.dumps(sorted(jobs)),
    )
    return {row["job"]: (json.loads(row["stock"]), row["plan"]) for row in found}


def _told(
    book: Book, wanted: frozenset[str] | None, among: Set[str] | None = None
) -> dict[str, list[BookEntry]]:
    """By job, what was told of material, in the order of time; of these items, or of all, and on
    these jobs, or on all."""
    kinds = json.dumps([*_WHAT, "on_hand", "moved", "measure"])
    where = (
        "json_valid(content) AND json_extract(content, '$.kind') IN"
        " (SELECT value FROM json_each(:kinds))"
    )
    values: dict[str, Any] = {"kinds": kinds}
    if wanted is not None:
        where += " AND json_extract(content, '$.item') IN (SELECT value FROM json_each(:items))"
        values["items"] = json.dumps(sorted(wanted))
    if among is not None:
        where += (
            " AND entry.job IN (SELECT id FROM job WHERE name IN"
            " (SELECT value FROM json_each(:among)))"
        )
        values["among"] = json.dumps(sorted(among))
    newest = "(SELECT max(version) FROM entry_version WHERE entry = entry.id)"
    found = book._rows(
        "SELECT job.name AS job, entry.id, entry.at, content, version FROM entry"
        f" JOIN entry_version ON entry_version.entry = entry.id AND version = {newest}"
        f" JOIN job ON job.id = entry.job WHERE {where} ORDER BY entry.at, entry.ordinal, entry.id",
        **values,
    )
    hurt = hurt_entries(book._hurt, book._rows)
    by_job: dict[str, list[BookEntry]] = {}
    for row in found:
        if row["id"] in hurt:
            continue
        by_job.setdefault(row["job"], []).append(_kept(row))
    return by_job


def _kept(row: rows.Row) -> BookEntry:
    at = datetime.fromisoformat(row["at"])
    entry = rows._entry(row["content"])
    return BookEntry(row["id"], row["version"], at, entry, (), "heard", "heard", at, "")
