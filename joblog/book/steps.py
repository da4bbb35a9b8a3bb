"""The history of a job in steps: every decision whole, to be taken back and done again in order.

What a step changed are nouns (`nouns.py`): "entry 4", "photo SHA", "plan 1". It keeps what each was
before and after; so that undoing and redoing need not know what was decided. Steps that share no
noun do not touch each other; where they do, the later one rests on the earlier, and is taken back
with it.

The catalog belongs to all jobs, and so do the steps that changed it, the earlier jobs from paper or
what his voice teaches: each job's history holds them in their place, and undo in any job takes one
back where it is the last.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Literal

from joblog.book import entries, nouns, rows
from joblog.book.errors import BookError
from joblog.book.history import Version
from joblog.book.rows import Row
from joblog.book.store import Book
from joblog.book.ties import tie_photos
from joblog.book.turning import Turning
from joblog.model import Step, Turned

YOU, ALOUD, BY_EAR, JOBLOG = "you", "you, aloud", "you, by ear", "joblog"


@dataclass(slots=True)
class Deciding:
    """A step while it is being taken: everything that it changes is changed through this."""

    book: Book
    who: str
    at: datetime = field(default_factory=lambda: datetime.now(UTC))
    what: str = ""
    before: dict[str, str | None] = field(default_factory=dict)
    jobs: set[int] = field(default_factory=set)

    def add_version(
        self, id: int, version: Version, *, job: int | None = None, at: str | None = None
    ) -> int:
        """One more version of an entry, as `entries.add_version`."""
        self._touch(f"entry {id}")
        number = entries.add_version(self.book, id, version, self.at, job=job, at=at)
        self._touch(f"entry {id}")
        return number

    def added(self, id: int) -> int:
        """Notes an entry as one that this step brought; its id."""
        self.brought(f"entry {id}")
        return id

    def brought(self, noun: str) -> None:
        """Notes a noun as one that was not there before this step."""
        self.before[noun] = None
        self._touch(noun)

    def put(self, noun: str, value: str | None) -> None:
        """Makes a noun that is no entry something else."""
        self._touch(noun)
        nouns.write(self.book, noun, value, "done")
        self._touch(noun)

    def put_back(self, values: Mapping[str, str | None]) -> None:
        """Makes many nouns what they were at some time; entries and lines of the catalog too."""
        self._touch_all(values)
        turning = Turning(self.book)
        for noun, value in values.items():
            if _differs(noun, turning.now(noun), value):
                turning.write(noun, value, "restored")
        turning.put_down()
        self._touch_all(values)

    def about(self, nouns_: Iterable[str]) -> None:
        """Notes what nouns are before they are changed by other means."""
        self._touch_all(tuple(nouns_))

    @contextmanager
    def changing(self, noun: str) -> Iterator[None]:
        """For a noun that is changed by other means."""
        self._touch(noun)
        yield
        self._touch(noun)

    def _touch(self, noun: str) -> None:
        self._touch_all((noun,))

    def _touch_all(self, touched: Collection[str]) -> None:
        fresh = [noun for noun in touched if noun not in self.before]
        self.before |= nouns.texts(self.book, fresh)
        for noun in touched:
            self.jobs |= nouns.jobs_of(self.book, noun)


@contextmanager
def deciding(book: Book, who: str = YOU) -> Iterator[Deciding]:
    """One step in one transaction; one that changes nothing is none.

    Whatever was undone before in the same job can no longer be redone.
    """
    with book._writing():
        step = Deciding(book, who)
        yield step
        now = nouns.texts(book, step.before)
        step.before = {
            noun: was for noun, was in step.before.items() if _differs(noun, now[noun], was)
        }
        if step.before:
            forget(book, step.jobs)
            write(step, now)
            _tie(book, step.jobs, ((noun, was, now[noun]) for noun, was in step.before.items()))


def write(step: Deciding, after: Mapping[str, str | None] | None = None) -> int:
    """Writes a step with what its nouns are now, which is `after` where that is known; its id."""
    book = step.book
    now = nouns.texts(book, step.before) if after is None else after
    row = {"at": rows.moment_text(step.at), "who": step.who, "what": step.what}
    id = book._insert("step", row)
    for job in step.jobs:
        book._insert("step_job", {"job": job, "step": id})
    book._insert_all(
        "step_effect",
        [
            {"step": id, "ordinal": ordinal, "noun": noun, "before": before, "after": now[noun]}
            for ordinal, (noun, before) in enumerate(step.before.items())
        ],
    )
    return id


def _differs(noun: str, now: str | None, was: str | None) -> bool:
    return not nouns.same(noun, now, was or nouns.nothing(noun))


def steps(book: Book, job: str) -> tuple[Step, ...]:
    """Everything that was decided in a job, oldest first, what was undone too."""
    return _steps(book, _OF_JOB, book._job(job)["id"])


_OF_ALL = " UNION ALL ".join(
    f"SELECT step FROM step_effect WHERE noun BETWEEN '{kind} ' AND '{kind}!'"
    for kind in nouns.OF_ALL
)
"""The steps that belong to all jobs."""
_OF_JOB = f"id IN (SELECT step FROM step_job WHERE job = ? UNION ALL {_OF_ALL})"


def last_decided(book: Book) -> dict[str, datetime]:
    """By job, when anything was last decided in it; without those where nothing ever was."""
    found = book._rows(
        "SELECT name, max(at) AS at FROM step JOIN step_job ON step = step.id"
        " JOIN job ON job.id = step_job.job GROUP BY job.id"
    )
    return {row["name"]: datetime.fromisoformat(row["at"]) for row in found}


def undo_last(book: Book, job: str) -> tuple[Step, ...]:
    """Takes back the last step that a person took in the job; all that was taken back, in order.

    What was said aloud, and what joblog did by itself, is left to `undo` of the entry and to
    `bring_back`. So is what was let stand by saying nothing: there are a hundred of those in a day,
    nobody remembers any, and taking one back changes no figure. What was dropped, changed or
    answered by ear is taken back like anything else that a person did. Raises `BookError` when
    there is nothing to undo.
    """
    with book._writing():
        last = last_by(book, job, YOU, BY_EAR)
        if last is None:
            raise BookError(f"{job}: there is nothing to undo")
        return take_back(book, last)


def last_by(book: Book, job: str, *who: str) -> int | None:
    """The last step of a job that one of these took and that stands; None for none.

    What was only let stand, by saying nothing against it, is passed over.
    """
    found = book._rows(
        f"SELECT id, who FROM step WHERE {_OF_JOB} AND undone IS NULL"
        f" AND who IN ({', '.join('?' * len(who))}) ORDER BY id DESC",
        book._job(job)["id"],
        *who,
    )
    return next((row["id"] for row in found if not _let_stand(book, row)), None)


def _let_stand(book: Book, step: Row) -> bool:
    """Whether a step by ear did nothing but accept what nobody doubted."""
    if step["who"] != BY_EAR:
        return False
    [changed] = book._rows(
        "SELECT count(*) AS count FROM step_effect WHERE step = :step AND NOT EXISTS"
        " (SELECT 1 FROM entry_version kept WHERE noun LIKE 'entry %' AND change = 'accepted'"
        "  AND entry = CAST(substr(noun, 7) AS INTEGER) AND version = CAST(after AS INTEGER)"
        "  AND NOT EXISTS (SELECT 1 FROM doubt WHERE doubt.entry = kept.entry"
        "   AND doubt.version = CAST(before AS INTEGER)))",
        step=step["id"],
    )
    return not changed["count"]


def redo_last(book: Book, job: str) -> tuple[Step, ...]:
    """Does again what was undone last in the job, as long as nothing else was decided since."""
    with book._writing():
        [last] = book._rows(
            "SELECT max(undone) AS undone FROM step"
            f" WHERE undone IS NOT NULL AND NOT forgotten AND {_OF_JOB}",
            book._job(job)["id"],
        )
        if last["undone"] is None:
            raise BookError(f"{job}: there is nothing to redo")
        return do_again(book, last["undone"])


def take_back(book: Book, id: int, who: str = YOU) -> tuple[Step, ...]:
    """Takes back a step, and before it the later ones that changed the same nouns."""
    going = {id: _nouns(book, "id = ?", id)[id]}
    met = {row["noun"] for row in going[id]}
    for later, effects in _nouns(book, "id > ? AND undone IS NULL", id).items():
        changed = {row["noun"] for row in effects}
        if changed & met:
            going[later] = effects
            met |= changed
    turning = Turning(book)
    for step in sorted(going, reverse=True):
        for row in reversed(going[step]):
            _turn(turning, row, row["after"], row["before"], "undone")
    turning.put_down()
    [last] = book._rows("SELECT max(undone) AS undone FROM step WHERE undone IS NOT NULL")
    return _marked(book, going, (last["undone"] or 0) + 1, who)


def do_again(book: Book, undone: int, who: str = YOU) -> tuple[Step, ...]:
    """Redoes what was undone in one go, and before it what was undone later of the same nouns."""
    times: dict[int, dict[int, list[Row]]] = {}
    for id, effects in _nouns(book, "undone >= ? AND NOT forgotten", undone).items():
        times.setdefault(effects[0]["undone"], {})[id] = effects
    met: set[str] = set()
    coming: list[dict[int, list[Row]]] = []
    for time in sorted(times):
        changed = {row["noun"] for effects in times[time].values() for row in effects}
        if time == undone or changed & met:
            coming.append(times[time])
            met |= changed
    turning = Turning(book)
    for batch in reversed(coming):
        for step in sorted(batch):
            for row in batch[step]:
                _turn(turning, row, row["before"], row["after"], "redone")
    turning.put_down()
    return _marked(book, {id: batch[id] for batch in coming for id in batch}, None, who)


def last_of(book: Book, noun: str) -> Row | None:
    """The last step that changed a noun and is not undone: its `id`, `before` and `after`."""
    found = book._rows(
        "SELECT id, before, after FROM step_effect JOIN step ON step = id"
        " WHERE noun = ? AND undone IS NULL ORDER BY id DESC LIMIT 1",
        noun,
    )
    return found[0] if found else None


def undone_last_of(book: Book, noun: str) -> int | None:
    """When the step was undone that changed this noun and can be redone first; None for none."""
    [found] = book._rows(
        "SELECT max(undone) AS undone FROM step_effect JOIN step ON step = id"
        " WHERE noun = ? AND NOT forgotten",
        noun,
    )
    return None if found["undone"] is None else int(found["undone"])


def forget(book: Book, jobs: Iterable[int]) -> None:
    """Nothing undone in these jobs can be redone, nor what had come after it elsewhere.

    Without a job, which is all of them, nothing undone in any.
    """
    times: dict[int, list[Row]] = {}
    for effects in _nouns(book, "undone IS NOT NULL AND NOT forgotten").values():
        times.setdefault(effects[0]["undone"], []).extend(effects)
    if not times:
        return
    chosen = tuple(jobs)
    marks = ", ".join("?" * len(chosen))
    here = {
        row["id"]
        for row in book._rows(
            "SELECT id FROM step WHERE undone IS NOT NULL AND NOT forgotten AND (id IN"
            f" (SELECT step FROM step_job WHERE job IN ({marks})) OR id IN ({_OF_ALL}) OR ?)",
            *chosen,
            not chosen,
        )
    }
    met: set[str] = set()
    for time in sorted(times, reverse=True):
        changed = {row["noun"] for row in times[time]}
        if changed & met or any(row["step"] in here for row in times[time]):
            met |= changed
            book._db.execute("UPDATE step SET forgotten = 1 WHERE undone = ?", [time])


def _turn(
    turning: Turning,
    row: Row,
    was: str | None,
    value: str | None,
    change: Literal["undone", "redone"],
) -> None:
    if _differs(row["noun"], turning.now(row["noun"]), was):
        raise BookError(f"{row['what']!r} cannot be {change}: what it changed is different by now")
    turning.write(row["noun"], value, change)


def _marked(
    book: Book, steps: Mapping[int, Sequence[Row]], undone: int | None, who: str
) -> tuple[Step, ...]:
    """Marks steps as undone, or as done with None, and ties the photos of their jobs anew."""
    chosen = sorted(steps)
    jobs: set[int] = set()
    turn = {"at": rows.moment_text(datetime.now(UTC)), "who": who, "undone": undone is not None}
    for id in chosen:
        book._db.execute("UPDATE step SET undone = ? WHERE id = ?", [undone, id])
        book._insert("step_turn", {"step": id, **turn})
        jobs |= {row["job"] for row in book._rows("SELECT job FROM step_job WHERE step = ?", id)}
    effects = (row for id in chosen for row in steps[id])
    _tie(book, jobs, ((row["noun"], row["before"], row["after"]) for row in effects))
    marks = ", ".join("?" * len(chosen))
    return _steps(book, f"id IN ({marks})", *chosen)


def _tie(
    book: Book, jobs: Iterable[int], changed: Iterable[tuple[str, str | None, str | None]]
) -> None:
    """Ties the photos of these jobs anew, if anything changed that ties go by."""
    if not any(nouns.moves_ties(book, *one) for one in changed):
        return
    for job in sorted(jobs):
        [row] = book._rows("SELECT name FROM job WHERE id = ?", job)
        tie_photos(book, row["name"])


def _nouns(book: Book, where: str, *values: object) -> dict[int, list[Row]]:
    """The effects of the steps that the condition picks, by their ids, in order."""
    found: dict[int, list[Row]] = {}
    for row in book._rows(
        "SELECT step_effect.*, what, undone FROM step_effect JOIN step ON step = id"
        f" WHERE {where} ORDER BY step, ordinal",
        *values,
    ):
        found.setdefault(row["step"], []).append(row)
    return found


def steps_among(book: Book, ids: Iterable[int]) -> dict[int, Step]:
    """Those of these steps that there are, by their ids."""
    found = _steps(book, "id IN (SELECT value FROM json_each(?))", json.dumps(sorted(ids)))
    return {step.id: step for step in found}


def _steps(book: Book, where: str, *values: object) -> tuple[Step, ...]:
    found = book._rows(f"SELECT * FROM step WHERE {where} ORDER BY id", *values)
    entries_of: dict[int, list[int]] = {}
    chosen = f"(SELECT id FROM step WHERE {where})"
    for row in book._rows(
        f"SELECT step, noun FROM step_effect WHERE step IN {chosen} ORDER BY step, ordinal", *values
    ):
        kind, _, key = row["noun"].partition(" ")
        if kind == "entry":
            entries_of.setdefault(row["step"], []).append(int(key))
    jobs_of: dict[int, list[str]] = {}
    for row in book._rows(
        f"SELECT step, name FROM step_job JOIN job ON job.id = job WHERE step IN {chosen}"
        " ORDER BY step, job",
        *values,
    ):
        jobs_of.setdefault(row["step"], []).append(row["name"])
    turns: dict[int, list[Turned]] = {}
    for row in book._rows(
        f"SELECT * FROM step_turn WHERE step IN {chosen} ORDER BY id",
        *values,
    ):
        turn = Turned(datetime.fromisoformat(row["at"]), row["who"], bool(row["undone"]))
        turns.setdefault(row["step"], []).append(turn)
    return tuple(
        Step(
            row["id"],
            datetime.fromisoformat(row["at"]),
            row["who"],
            row["what"],
            tuple(jobs_of.get(row["id"], ())),
            tuple(entries_of.get(row["id"], ())),
            _state(row),
            tuple(turns.get(row["id"], ())),
        )
        for row in found
    )


def _state(row: Row) -> Literal["done", "undone", "forgotten"]:
    if row["undone"] is None:
        return "done"
    return "forgotten" if row["forgotten"] else "undone"
