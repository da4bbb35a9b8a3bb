"""What a person said, in the review or by ear, of entries that were heard: right, or what instead.

Nothing of it is kept beside the history; what was undone is no verdict.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from joblog.book.rows import Row
from joblog.book.steps import BY_EAR, YOU
from joblog.book.store import Book
from joblog.model import BookEntry, Entry


@dataclass(frozen=True, slots=True)
class Verdict:
    """One entry as it was heard, and what became of it."""

    heard: BookEntry
    now: Entry | None
    """None where it was dropped."""
    job: str
    by_ear: bool
    """Whether it was read back; else he saw it in the review."""
    said: bool
    """False where he let it pass on a day that he went through, or with all the others."""
    at: datetime


def verdicts(book: Book, since: datetime | None = None) -> tuple[Verdict, ...]:
    """Those of all jobs, given after `since`, in the order in which they were given.

    Left out is what says nothing of how words were heard: an entry that was changed by later words,
    that took what was said by ear of another one, that was split or merged, or that was withdrawn
    with its recording.
    """
    found = [one for job in book.jobs() for one in _of_job(book, job.name, ZoneInfo(job.zone))]
    late = [one for one in found if since is None or one.at > since]
    return tuple(sorted(late, key=lambda one: (one.at, one.heard.id)))


def _of_job(book: Book, job: str, zone: ZoneInfo) -> Iterator[Verdict]:
    steps = _steps(book, job)
    heard = [one for one in book.entries(job) if one.utterance is not None]
    decided = {
        one.id: verdict
        for one in heard
        if _standing(steps, one) and (verdict := _decided(book, job, one, steps[one.id]))
    }
    yield from decided.values()
    gone_through: dict[object, datetime] = {}
    for verdict in decided.values():
        if any(step["who"] == YOU for step in _standing(steps, verdict.heard)):
            day = verdict.heard.at.astimezone(zone).date()
            gone_through[day] = max(verdict.at, gone_through.get(day, verdict.at))
    for one in heard:
        at = gone_through.get(one.at.astimezone(zone).date())
        untouched = one.id not in steps and (one.version, one.standing) == (1, "heard")
        if at is not None and at > one.at and untouched and not one.doubts:
            yield Verdict(one, one.entry, job, False, False, at)


def _standing(steps: dict[int, list[Row]], entry: BookEntry) -> list[Row]:
    return [row for row in steps.get(entry.id, ()) if row["undone"] is None]


def _decided(book: Book, job: str, now: BookEntry, every: list[Row]) -> Verdict | None:
    versions = book.versions(now.id)
    steps = [row for row in every if row["undone"] is None]
    first, last = versions[0], steps[-1]
    by_steps = {str(row["after"]) for row in every}
    aside = any(
        row["who"] not in (YOU, BY_EAR)
        # Of a step by ear, what changed besides the first are only the words that changed it.
        or (row["who"] == BY_EAR and row["ordinal"] and row["change"] != "accepted")
        or row["change"] in ("split", "merged")
        for row in steps
    )
    by_words = any(
        str(one.version) not in by_steps and one.change in ("heard", "corrected", "dropped")
        for one in versions[1:]
    )
    if aside or by_words or "withdrawn" in (now.change, now.origin):
        return None
    if now.standing == "heard" and now.entry == first.entry:
        return None  # It was only moved, or still waits.
    by_ear = any(row["who"] == BY_EAR for row in steps)
    stands = None if now.standing == "dropped" else now.entry
    # One key for all that nobody doubted looks at none of them closely.
    passed = last["who"] == YOU and last["together"] > 1 and not first.doubts
    said = not (passed and stands == first.entry)
    return Verdict(first, stands, job, by_ear, said, datetime.fromisoformat(last["at"]))


def _steps(book: Book, job: str) -> dict[int, list[Row]]:
    """By entry, the steps that changed it, oldest first, with what each did; undone ones too."""
    found: dict[int, list[Row]] = {}
    for row in book._rows(
        "SELECT entry, who, step.at, undone, ordinal, after, change,"
        "  (SELECT count(*) FROM step_effect AS beside WHERE beside.step = step.id) AS together"
        " FROM step"
        " JOIN step_effect ON step = step.id JOIN entry_version"
        "  ON entry = CAST(substr(noun, 7) AS INTEGER) AND version = CAST(after AS INTEGER)"
        " WHERE noun LIKE 'entry %' AND step.id IN"
        "  (SELECT step FROM step_job WHERE job = ?) ORDER BY step.id, ordinal",
        book._job(job)["id"],
    ):
        found.setdefault(int(row["entry"]), []).append(row)
    return found
