"""Days that a person signed off, and what is otherwise on them since.

A signature keeps which version of each entry and which photos it was given for; nothing is written
when they change, so that what is taken back makes the day stand as it was signed.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime

from joblog.book import rows
from joblog.book.decisions import line_of
from joblog.book.errors import BookError
from joblog.book.steps import deciding
from joblog.book.store import Book
from joblog.model import BookEntry, Signed


def sign_off(book: Book, job: str, day: date) -> Signed:
    """Signs a day off as it now stands; a step that can be undone.

    One that is signed and has not changed stays as it is. Raises `BookError` for a day on which
    there is nothing.
    """
    with deciding(book) as step:
        rests_on = _standing(book, job, day)
        if not any(rests_on.values()):
            raise BookError(f"{job}: there is nothing on {day.isoformat()} to sign off")
        noun = f"signing {book._job(job)['id']} {day.isoformat()}"
        before = signed(book, job, day).get(day)
        if before is None or before.changed:
            again = "once more " if before else ""
            step.what = f"signed off {again}{day.isoformat()}"
            step.put(noun, json.dumps([rows.moment_text(step.at), json.dumps(rests_on)]))
    return signed(book, job, day)[day]


def signed(book: Book, job: str, day: date | None = None) -> dict[date, Signed]:
    """The days of a job that are signed off, or this one if it is, and what changed on each."""
    found = book._kept(
        "signing",
        "SELECT * FROM signing WHERE job = :job AND (:day IS NULL OR day = :day) ORDER BY day",
        job=book._job(job)["id"],
        day=day and day.isoformat(),
    )
    return {
        (one := date.fromisoformat(row["day"])): Signed(
            datetime.fromisoformat(row["at"]),
            tuple(_changes(book, job, one, json.loads(row["rests_on"]))),
        )
        for row in found
    }


def _standing(book: Book, job: str, day: date) -> dict[str, dict[str, int]]:
    """The version of each entry of a day, and its photos."""
    where, values = book._of(job, day, "at", "entry.")
    found = book._rows(
        "SELECT id, (SELECT max(version) FROM entry_version WHERE entry = entry.id) AS version"
        f" FROM entry WHERE {where} ORDER BY at, id",
        **values,
    )
    where, values = book._of(job, day, "taken_at")
    taken = book._rows(
        f"SELECT sha256 FROM photo WHERE {where} AND standing IS NOT 'withdrawn'", **values
    )
    return {
        "entries": {str(row["id"]): row["version"] for row in found},
        "photos": {row["sha256"]: 1 for row in taken},
    }


def _changes(
    book: Book, job: str, day: date, was: Mapping[str, Mapping[str, int]]
) -> Iterator[str]:
    now = _standing(book, job, day)
    if now == was:  # Versions are only ever added: the same ones say the same.
        return
    for id, version in now["entries"].items():
        if was["entries"].get(id) != version:
            yield from _change(book, int(id), was["entries"].get(id))
    for id, version in was["entries"].items():
        before = book.versions(int(id))[version - 1]
        if id not in now["entries"] and before.standing != "dropped":
            yield f"entry {id} is on another day or job: {line_of(before.entry)}"
    for one in now["photos"].keys() - was["photos"].keys():
        yield f"photo {book.photo(one).name} is new"
    for one in was["photos"].keys() - now["photos"].keys():
        yield f"photo {book.photo(one).name} is here no more"


def _change(book: Book, id: int, version: int | None) -> Iterator[str]:
    versions: Sequence[BookEntry] = book.versions(id)
    now, line = versions[-1], line_of(versions[-1].entry)
    before = versions[version - 1] if version else None
    if before is None:
        if now.standing != "dropped":
            yield f"entry {id} is new: {line}"
    elif now.standing == "dropped" != before.standing:
        yield f"entry {id} was dropped: {line}"
    elif before.standing == "dropped" != now.standing:
        yield f"entry {id} counts again: {line}"
    elif now.entry != before.entry:
        yield f"entry {id} was {line_of(before.entry)}, and is now {line}"
    elif set(now.doubts) - set(before.doubts):
        yield f"entry {id} is in doubt: {line}"
