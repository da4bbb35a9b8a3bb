"""The history of a job in steps: every decision whole, to be taken back and done again in order.

What a step changed are nouns: "entry 4", "recording SHA", "photo SHA", "tie SHA 4", "fence 1",
"clock 1 CAMERA 2026-10-05". It keeps what each was before and after; so that undoing and redoing
need not know what was decided. Steps that share no noun do not touch each other; where they do, the
later one rests on the earlier, and is taken back with it.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Literal
from urllib.parse import quote, unquote

from joblog.book import entries, rows
from joblog.book.entries import NEVER
from joblog.book.errors import BookError
from joblog.book.history import Version
from joblog.book.rows import Row
from joblog.book.store import Book
from joblog.book.ties import tie_photos
from joblog.model import Step

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
        self.before[f"entry {id}"] = None
        self._touch(f"entry {id}")
        return id

    def put(self, noun: str, value: str | None) -> None:
        """Makes a noun that is no entry something else."""
        self._touch(noun)
        _write(self.book, noun, value, "done")
        self._touch(noun)

    def _touch(self, noun: str) -> None:
        self.before.setdefault(noun, now(self.book, noun))
        self.jobs |= _jobs_of(self.book, noun)


@contextmanager
def deciding(book: Book, who: str = YOU) -> Iterator[Deciding]:
    """One step in one transaction; one that changes nothing is none.

    Whatever was undone before in the same job can no longer be redone.
    """
    with book._writing():
        step = Deciding(book, who)
        yield step
        if step.before:
            forget(book, step.jobs)
            write(step)
            _tie(book, step.jobs)


def write(step: Deciding) -> int:
    """Writes a step with what its nouns are now; its id."""
    book = step.book
    row = {"at": rows.moment_text(step.at), "who": step.who, "what": step.what}
    id = book._insert("step", row)
    for job in step.jobs:
        book._insert("step_job", {"job": job, "step": id})
    for ordinal, (noun, before) in enumerate(step.before.items()):
        values = {"noun": noun, "before": before, "after": now(book, noun)}
        book._insert("step_effect", {"step": id, "ordinal": ordinal, **values})
    return id


def steps(book: Book, job: str) -> tuple[Step, ...]:
    """Everything that was decided in a job, oldest first, what was undone too."""
    return _steps(book, "id IN (SELECT step FROM step_job WHERE job = ?)", book._job(job)["id"])


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
        "SELECT id, who FROM step JOIN step_job ON step = id WHERE job = ? AND undone IS NULL"
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
            "SELECT max(undone) AS undone FROM step JOIN step_job ON step = id"
            " WHERE job = ? AND NOT forgotten",
            book._job(job)["id"],
        )
        if last["undone"] is None:
            raise BookError(f"{job}: there is nothing to redo")
        return do_again(book, last["undone"])


def take_back(book: Book, id: int) -> tuple[Step, ...]:
    """Takes back a step, and before it the later ones that changed the same nouns."""
    going = {id: _nouns(book, "id = ?", id)[id]}
    met = {row["noun"] for row in going[id]}
    for later, effects in _nouns(book, "id > ? AND undone IS NULL", id).items():
        nouns = {row["noun"] for row in effects}
        if nouns & met:
            going[later] = effects
            met |= nouns
    for step in sorted(going, reverse=True):
        for row in reversed(going[step]):
            _turn(book, row, row["after"], row["before"], "undone")
    [last] = book._rows("SELECT coalesce(max(undone), 0) AS undone FROM step")
    return _marked(book, going, last["undone"] + 1)


def do_again(book: Book, undone: int) -> tuple[Step, ...]:
    """Redoes what was undone in one go, and before it what was undone later of the same nouns."""
    times: dict[int, dict[int, list[Row]]] = {}
    for id, effects in _nouns(book, "undone >= ? AND NOT forgotten", undone).items():
        times.setdefault(effects[0]["undone"], {})[id] = effects
    met: set[str] = set()
    coming: list[dict[int, list[Row]]] = []
    for time in sorted(times):
        nouns = {row["noun"] for effects in times[time].values() for row in effects}
        if time == undone or nouns & met:
            coming.append(times[time])
            met |= nouns
    for batch in reversed(coming):
        for step in sorted(batch):
            for row in batch[step]:
                _turn(book, row, row["before"], row["after"], "redone")
    return _marked(book, [id for batch in coming for id in batch], None)


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
    """Nothing undone in these jobs can be redone, nor what had come after it elsewhere."""
    times: dict[int, list[Row]] = {}
    for effects in _nouns(book, "undone IS NOT NULL AND NOT forgotten").values():
        times.setdefault(effects[0]["undone"], []).extend(effects)
    if not times:
        return
    here = {
        row["step"]
        for job in jobs
        for row in book._rows("SELECT step FROM step_job WHERE job = ?", job)
    }
    met: set[str] = set()
    for time in sorted(times, reverse=True):
        nouns = {row["noun"] for row in times[time]}
        if nouns & met or any(row["step"] in here for row in times[time]):
            met |= nouns
            book._db.execute("UPDATE step SET forgotten = 1 WHERE undone = ?", [time])


def _turn(
    book: Book, row: Row, was: str | None, value: str | None, change: Literal["undone", "redone"]
) -> None:
    if now(book, row["noun"]) != (was or _nothing(row["noun"])):
        raise BookError(f"{row['what']!r} cannot be {change}: what it changed is different by now")
    _write(book, row["noun"], value, change)


def _marked(book: Book, ids: Iterable[int], undone: int | None) -> tuple[Step, ...]:
    """Marks steps as undone, or as done with None, and ties the photos of their jobs anew."""
    chosen = sorted(ids)
    jobs: set[int] = set()
    for id in chosen:
        book._db.execute("UPDATE step SET undone = ? WHERE id = ?", [undone, id])
        jobs |= {row["job"] for row in book._rows("SELECT job FROM step_job WHERE step = ?", id)}
    _tie(book, jobs)
    marks = ", ".join("?" * len(chosen))
    return _steps(book, f"id IN ({marks})", *chosen)


def _tie(book: Book, jobs: Iterable[int]) -> None:
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
    return tuple(
        Step(
            row["id"],
            datetime.fromisoformat(row["at"]),
            row["who"],
            row["what"],
            tuple(jobs_of.get(row["id"], ())),
            tuple(entries_of.get(row["id"], ())),
            _state(row),
        )
        for row in found
    )


def _state(row: Row) -> Literal["done", "undone", "forgotten"]:
    if row["undone"] is None:
        return "done"
    return "forgotten" if row["forgotten"] else "undone"


# --- the nouns --------------------------------------------------------------------------------

Change = Literal["done", "undone", "redone"]


def recording_text(job: int, standing: str, superseded_by: str | None) -> str:
    """What a recording is, as a step keeps it."""
    return json.dumps([job, standing, superseded_by])


def now(book: Book, noun: str) -> str | None:
    """What a noun is now: the version that an entry shows, the job of a photo and the like."""
    kind, *key = noun.split()
    return _READ[kind](book, *key)


def _write(book: Book, noun: str, value: str | None, change: Change) -> None:
    kind, *key = noun.split()
    _WRITE[kind](book, key, value, change)


def _nothing(noun: str) -> str | None:
    """How it reads when a noun is not there: an entry stays, as if never noted."""
    return str(NEVER) if noun.startswith("entry ") else None


def _jobs_of(book: Book, noun: str) -> set[int]:
    kind, key, *_ = noun.split()
    table, column = _TABLES[kind]
    found = book._rows(f"SELECT job FROM {table} WHERE {column} = ?", key)
    return {row["job"] for row in found}


def _recording_now(book: Book, sha256: str) -> str:
    [row] = book._rows(
        "SELECT job, standing, superseded_by FROM recording WHERE sha256 = ?", sha256
    )
    return recording_text(row["job"], row["standing"], row["superseded_by"])


def _photo_now(book: Book, sha256: str) -> str:
    [row] = book._rows("SELECT job FROM photo WHERE sha256 = ?", sha256)
    return str(row["job"])


def _tie_now(book: Book, photo: str, entry: str) -> str | None:
    found = book._rows("SELECT tied FROM hand_tie WHERE photo = ? AND entry = ?", photo, entry)
    return str(found[0]["tied"]) if found else None


def clock_noun(job: int, camera: str, day: date) -> str:
    """The noun of a camera's clock on one day; spaces in a camera's name would end it."""
    return f"clock {job} {quote(camera, safe='')} {day.isoformat()}"


def _clock_now(book: Book, job: str, camera: str, day: str) -> str | None:
    found = book._rows(
        "SELECT seconds FROM hand_clock WHERE job = ? AND camera = ? AND day = ?",
        int(job),
        unquote(camera),
        day,
    )
    return str(found[0]["seconds"]) if found else None


def _write_entry(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    assert change != "done"
    entries.bring_back(book, int(key[0]), int(value or NEVER), change)


def _write_recording(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    job, standing, superseded_by = json.loads(value or "")
    book._db.execute(
        "UPDATE recording SET job = ?, standing = ?, superseded_by = ? WHERE sha256 = ?",
        [job, standing, superseded_by, key[0]],
    )


def _write_photo(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    # Its ties are made anew afterwards, and those of the job that it leaves must not stay.
    book._db.execute("DELETE FROM tie WHERE photo = ?", [key[0]])
    book._db.execute("UPDATE photo SET job = ? WHERE sha256 = ?", [int(value or 0), key[0]])


def _write_tie(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    photo, entry = key
    book._db.execute("DELETE FROM hand_tie WHERE photo = ? AND entry = ?", [photo, int(entry)])
    if value is not None:
        book._insert("hand_tie", {"photo": photo, "entry": int(entry), "tied": int(value)})


def _write_clock(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    job, camera, day = int(key[0]), unquote(key[1]), key[2]
    book._db.execute(
        "DELETE FROM hand_clock WHERE job = ? AND camera = ? AND day = ?", [job, camera, day]
    )
    if value is not None:
        row = {"job": job, "camera": camera, "day": day, "seconds": float(value)}
        book._insert("hand_clock", row)


def _fence_now(book: Book, job: str) -> str | None:
    found = book._rows("SELECT latitude, longitude, radius FROM fence WHERE job = ?", int(job))
    return json.dumps(list(found[0].values())) if found else None


def _write_fence(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    book._db.execute("DELETE FROM fence WHERE job = ?", [int(key[0])])
    if value is not None:
        latitude, longitude, radius = json.loads(value)
        row = {"latitude": latitude, "longitude": longitude, "radius": radius}
        book._insert("fence", {"job": int(key[0]), **row})


_TABLES = {
    "clock": ("(SELECT id, id AS job FROM job)", "id"),
    "entry": ("entry", "id"),
    "recording": ("recording", "sha256"),
    "photo": ("photo", "sha256"),
    "tie": ("photo", "sha256"),
    "fence": ("(SELECT id AS job FROM job)", "job"),
}
_READ: dict[str, Callable[..., str | None]] = {
    "entry": lambda book, id: str(entries.state(book, int(id))),
    "recording": _recording_now,
    "photo": _photo_now,
    "tie": _tie_now,
    "clock": _clock_now,
    "fence": _fence_now,
}
_WRITE: dict[str, Callable[[Book, Sequence[str], str | None, Change], None]] = {
    "entry": _write_entry,
    "recording": _write_recording,
    "photo": _write_photo,
    "tie": _write_tie,
    "clock": _write_clock,
    "fence": _write_fence,
}
