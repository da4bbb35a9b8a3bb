"""Closed jobs: freezing their figures, what has changed since, and what they all teach."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from datetime import UTC, date, datetime

from joblog.book import rows
from joblog.book.closing import (
    changed_since,
    footings,
    footings_from,
    footings_text,
    taught,
    taught_from,
    taught_text,
    tells_no_figure,
)
from joblog.book.errors import BookError
from joblog.book.hurt import IN_THE_WAY, Damage, damaged_rows
from joblog.book.paper import past
from joblog.book.rows import Row
from joblog.book.steps import deciding
from joblog.book.store import PLANNED, Book
from joblog.book.transfers import (
    came_told,
    first_closed,
    told_elsewhere,
    versions_told_elsewhere,
)
from joblog.form import from_json, reopening
from joblog.local import day_written
from joblog.model import BookEntry, Closing, History, PastUse, Plan, Reconciliation


def close_job(
    book: Book,
    job: str,
    day: date,
    figures: Reconciliation,
    entries: Sequence[BookEntry] | None = None,
) -> Closing:
    """Freezes the figures of a job, with the plan and the entries that they rest on.

    `day` is the one it counts for when rates are learned. Closing again adds a closing, and
    the earlier ones stay. A catalog that changes later reopens nothing by itself. With
    `entries`, those that the figures were made of, it raises `BookError` where one of them
    has changed meanwhile.
    """
    if figures.job != job:
        raise BookError(f"these are the figures of {figures.job!r}, and not of {job!r}")
    number = book._job(job)["id"]
    damaged = [
        found
        for found in damaged_rows(book, IN_THE_WAY)
        if not (found.shown or _of_another(found, number))
    ]
    if damaged:
        why = "; ".join(f"{found.what}: {found.why}. {found.remedy}" for found in damaged)
        raise BookError(f"{job}: was not closed, for its figures may lack something. {why}")
    with deciding(book) as step:
        now = _sensed(book, job)
        if entries is not None and _versions(entries) != _versions(now):
            raise BookError(f"{job}: changed while it was being closed. Look again, and close it.")
        row = {
            "job": number,
            "day": day.isoformat(),
            "closed_at": rows.moment_text(datetime.now(UTC)),
            "versions": _counts(book, {number}).get(number, 0),
            "plan_mark": _plan_marks(book, {number})[number],
            "taught": taught_text(taught(day, figures)),
            "rests_on": footings_text(footings((*now, *told_elsewhere(book, job)))),
            "plan": rows.as_json(book.plan(job)),
            "figures": rows.as_json(figures),
        }
        id = book._insert("closing", row)
        step.brought(f"closing {id}")
        step.what = f"closed the job, for {day_written(day)}"
    [written] = _closings(book, "closing.id = ?", id)
    return written


def reopen(book: Book, job: str) -> None:
    """Takes the last closing of a job back, so that it is open; a step that can be undone.

    The one before it counts again. Raises `BookError` where it was never closed.
    """
    with deciding(book) as step:
        found = book._rows(
            f"SELECT id, day FROM closing WHERE job = ? AND {_STANDS} ORDER BY id DESC LIMIT 1",
            book._job(job)["id"],
        )
        if not found:
            raise BookError(f"{job}: is not closed; there is nothing to reopen")
        step.what = f"reopened the job, which was closed for {found[0]['day']}"
        step.put(f"closing {found[0]['id']}", None)


def _of_another(found: Damage, job: int) -> bool:
    return found.table.startswith("planned") and not found.key.startswith(f"{job}|")


def closing(book: Book, job: str) -> Closing | None:
    """How a job was last closed, and what has changed since; None while it never was."""
    return next(iter(closings_of(book, job)[-1:]), None)


def closings_of(book: Book, job: str) -> tuple[Closing, ...]:
    """Every time that a job was closed, oldest first, each with what has changed since."""
    return _closings(book, f"closing.job = ? AND {_STANDS}", book._job(job)["id"])


def closings(book: Book) -> tuple[Closing, ...]:
    """The newest closing of every job that was ever closed, in the order of the jobs."""
    return _closings(book, _NEWEST)


def latest_closings(book: Book, most: int) -> tuple[Closing, ...]:
    """The closings of the jobs that count for the latest days and were not reopened since."""
    latest = f"SELECT id FROM closing WHERE {_NEWEST} ORDER BY day DESC, id DESC LIMIT ?"
    found = _closings(book, f"closing.id IN ({latest})", most)
    return tuple(closing for closing in found if not closing.reopened)


def closed_jobs(book: Book) -> frozenset[str]:
    """The names of the jobs that are closed, and were not reopened by a change."""
    found = book._kept(
        "closing",
        "SELECT closing.id, closing.job, versions, plan_mark, name"
        f" FROM closing JOIN job ON job.id = closing.job WHERE {_NEWEST}",
    )
    return frozenset(
        row["name"]
        for row, changed, plan_changed in _since(book, found)
        if not (changed or plan_changed)
    )


def marks_of_all(book: Book) -> dict[str, tuple[str, bool]]:
    """By job, a mark that is another one after any change of what its figures rest on, what other
    jobs tell of it too, but for the catalog; and whether the job is closed."""
    jobs = {row["id"]: row for row in book._kept("job", "SELECT id, name, zone, places FROM job")}
    counts, marks = _counts(book, set(jobs)), _plan_marks(book, set(jobs))
    found = book._kept(
        "closing",
        "SELECT closing.id, closing.job, closed_at, versions, plan_mark, name"
        f" FROM closing JOIN job ON job.id = closing.job WHERE {_NEWEST}",
    )
    since = _since_then(book, found, counts, marks)
    closed = {row["job"]: row for row, changed, plan in since if not (changed or plan)}
    # The figures of a closed job are frozen. In a book that was put in the place of a later one, as
    # many versions of an open job may be others: their moments tell.
    latest = {
        row["job"]: row["latest"]
        for row in book._rows(
            "SELECT job, max(changed_at) AS latest FROM entry_version"
            " WHERE job IN (SELECT value FROM json_each(?)) GROUP BY job",
            json.dumps(sorted(set(jobs) - set(closed))),
        )
    }
    over = first_closed(book)
    return {
        row["name"]: (
            repr(
                (
                    tuple(row.values()),
                    counts.get(id, 0),
                    marks[id],
                    over.get(row["name"]),
                    (closed[id]["id"], closed[id]["closed_at"]) if id in closed else latest.get(id),
                )
            ),
            id in closed,
        )
        for id, row in jobs.items()
    }


def history(
    book: Book, under_names: Callable[[History], History] = lambda told: told
) -> tuple[History, tuple[str, ...]]:
    """What all closed jobs teach, those from paper too, and a line on each that is left out.

    A job that was reopened teaches nothing until it is closed again. `under_names` puts the lines
    under the names that their items have now, before what both hold is told apart.
    """
    from joblog.rates import joined

    found = book._kept(
        "closing",
        "SELECT closing.id, closing.job, day, versions, plan_mark, taught, name"
        f" FROM closing JOIN job ON job.id = closing.job WHERE {_NEWEST} ORDER BY day, closing.id",
    )
    lines, notes = [], []
    for row, changed, plan_changed in _since(book, found):
        if changed or plan_changed:
            why = reopening(changed, plan_changed, _told_on(book, row["name"], changed))
            notes.append(f"{row['name']}: {why}; close it again")
        else:
            lines.append(taught_from(row["name"], date.fromisoformat(row["day"]), row["taught"]))
    jobs = History(
        tuple(use for job in lines for use in job.uses),
        tuple(work for job in lines for work in job.work),
    )
    both, twice = joined(under_names(jobs), under_names(past(book)))
    return both, (*notes, *_older(jobs.uses), *twice)


def _older(uses: Sequence[PastUse]) -> Iterator[str]:
    """A line on the jobs that were closed before waste was held against what was allowed."""
    jobs = tuple(dict.fromkeys(use.job for use in uses if not use.allowed_by))
    if jobs:
        more = f" and {len(jobs) - _NAMED} more" if len(jobs) > _NAMED else ""
        yield (
            "closed by an older joblog, so their waste is held against what was told installed, and"
            f" not against the plan: {', '.join(jobs[:_NAMED])}{more}; close them again to change"
            " that"
        )


_NAMED = 6


def units_of(book: Book, jobs: Set[str]) -> dict[tuple[str, str], str]:
    """What each of these jobs, as it was closed last, counted each of its items in."""
    found = book._rows(
        "SELECT job.name AS job, json_extract(line.value, '$.item') AS item,"
        " json_extract(line.value, '$.unit') AS unit FROM closing"
        " JOIN job ON job.id = closing.job, json_each(figures, '$.stock') AS line"
        f" WHERE {_NEWEST} AND json_valid(figures)"
        " AND job.name IN (SELECT value FROM json_each(?))",
        json.dumps(sorted(jobs)),
    )
    return {(row["job"], row["item"]): row["unit"] for row in found}


_STANDS = "closing.id NOT IN (SELECT closing FROM closing_undone)"
_NEWEST = f"closing.id IN (SELECT max(id) FROM closing WHERE {_STANDS} GROUP BY job)"


def _closings(book: Book, where: str, *values: object) -> tuple[Closing, ...]:
    """The closings that the condition picks, job by job, oldest first."""
    found = book._kept(
        "closing",
        "SELECT closing.*, job.name AS name FROM closing JOIN job ON job.id = closing.job"
        f" WHERE {where} ORDER BY closing.job, closing.id",
        *values,
    )
    return tuple(
        Closing(
            job=row["name"],
            day=date.fromisoformat(row["day"]),
            closed_at=datetime.fromisoformat(row["closed_at"]),
            figures=from_json(Reconciliation, json.loads(row["figures"])),
            changed=changed,
            plan_changed=plan_changed,
            told_on=_told_on(book, row["name"], changed),
        )
        for row, changed, plan_changed in _since(book, found)
    )


def _told_on(book: Book, job: str, changed: Sequence[int]) -> tuple[tuple[int, str], ...]:
    """Of the entries that changed, those that another job tells, with that job."""
    found = book._rows(
        "SELECT entry.id, job.name FROM entry JOIN job ON job.id = entry.job"
        " WHERE entry.id IN (SELECT value FROM json_each(?)) AND job.name != ? ORDER BY entry.id",
        json.dumps(changed),
        job,
    )
    return tuple((row["id"], row["name"]) for row in found)


def _since(book: Book, found: Sequence[Row]) -> Iterator[tuple[Row, tuple[int, ...], bool]]:
    """Each closing with the entries, and whether the plan, that say otherwise now."""
    # Versions are only ever added, so as many as there were are the same ones, of the same job;
    # and a plan of the same rows is the same plan. Nearly all closed jobs end here, a thousand in
    # a moment.
    jobs = {row["job"] for row in found}
    yield from _since_then(book, found, _counts(book, jobs), _plan_marks(book, jobs))


def _since_then(
    book: Book, found: Sequence[Row], counts: Mapping[int, int], marks: Mapping[int, str]
) -> Iterator[tuple[Row, tuple[int, ...], bool]]:
    for row in found:
        changed: tuple[int, ...] = ()
        if counts.get(row["job"], 0) != row["versions"]:
            changed = _changed(book, row)
        same = marks[row["job"]] == row["plan_mark"]
        yield row, changed, not same and _frozen_plan(book, row) != book.plan(row["name"])


def _changed(book: Book, row: Row) -> tuple[int, ...]:
    [kept] = book._rows("SELECT rests_on FROM closing WHERE id = ?", row["id"])
    closed = footings_from(kept["rests_on"])
    elsewhere = told_elsewhere(book, row["name"])
    entries = (*book.entries(row["name"]), *elsewhere)
    versions = _versions(entries)
    newer = [one for one in closed if versions.get(one.entry) != one.version]
    was = {one.entry: book.versions(one.entry)[one.version - 1] for one in newer}
    rested = {one.entry: one.version for one in closed}
    fresh = [one for one in entries if rested.get(one.id) != one.version]
    if all(tells_no_figure(one.entry) and not one.open for one in (*fresh, *was.values())):
        return ()  # Nor do they cast a doubt on any other, so the job is not looked over for them.
    return changed_since(closed, was, (*_sensed(book, row["name"]), *elsewhere))


def _frozen_plan(book: Book, row: Row) -> Plan:
    [kept] = book._rows("SELECT plan FROM closing WHERE id = ?", row["id"])
    return from_json(Plan, json.loads(kept["plan"]))


def _sensed(book: Book, job: str) -> Sequence[BookEntry]:
    from joblog.reconcile import sensed

    came = came_told(book, job)
    return sensed(book.job(job), book.plan(job), book.entries(job), book.catalog(), came)


def _versions(entries: Sequence[BookEntry]) -> Mapping[int, int]:
    return {entry.id: entry.version for entry in entries}


def _counts(book: Book, jobs: Set[int]) -> dict[int, int]:
    """How many versions were written of entries of each job, those that left it counted too, and
    those of other jobs that tell of it."""
    where, values = _among(jobs)
    found = book._rows(
        "SELECT job, sum(versions) AS versions FROM ("
        f"SELECT job, count(*) AS versions FROM entry_version WHERE {where} GROUP BY job"
        " UNION ALL SELECT left_job, count(*) FROM entry_version"
        f" WHERE left_job IS NOT NULL AND {where.replace('job', 'left_job')} GROUP BY left_job"
        ") GROUP BY job",
        *values,
        *values,
    )
    counts = {row["job"]: row["versions"] for row in found}
    if elsewhere := versions_told_elsewhere(book):
        for row in book._rows("SELECT id, name FROM job"):
            counts[row["id"]] = counts.get(row["id"], 0) + elsewhere.get(row["name"], 0)
    return counts


def _plan_marks(book: Book, jobs: Set[int]) -> dict[int, str]:
    """A fingerprint of the rows of each job's plan."""
    known = book._remembered.plan_marks(book.written()[0])
    if fresh := jobs - known.keys():
        known |= _marks_of_plans(book, fresh)
    return known


def _marks_of_plans(book: Book, jobs: Set[int]) -> dict[int, str]:
    where, values = _among(jobs)
    marks = {job: hashlib.sha256() for job in jobs}
    for table in PLANNED:
        order = f"SELECT * FROM {table} WHERE {where} ORDER BY job, ordinal"
        for row in book._db.execute(order, values):
            if table == "planned_item" and not row[-1]:
                # Jobs were closed before an item could name its task.
                row = row[:-1]
            if row[0] in marks:
                marks[row[0]].update(f"{table} {row!r}\n".encode())
    return {job: mark.hexdigest() for job, mark in marks.items()}


def _among(jobs: Set[int]) -> tuple[str, tuple[int, ...]]:
    """The condition that picks one job; of several it is faster to look at all."""
    return ("job = ?", tuple(jobs)) if len(jobs) == 1 else ("true", ())
