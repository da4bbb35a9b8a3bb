"""What a person decides: about an entry, a photo, a recording. Each is whole when it returns.

Every decision is a step of the job's history; `undo` and `redo` walk along it, also after the
program was closed.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime

from joblog.book import Book, decisions, parting
from joblog.book import steps as history
from joblog.model import BookEntry, Entry, Photo, Recording, Step, Tie
from joblog.service.desk import Desk, refresh, remember
from joblog.service.editing import change_of, read_entry, settled_by_splitting
from joblog.service.errors import ServiceError, use_case
from joblog.service.rereading import Revision


@use_case
def accept(desk: Desk, entry: int) -> BookEntry:
    """It is right as it stands; its doubts are settled."""
    remember(desk)
    return decisions.accept(desk.book, entry)


@use_case
def drop(desk: Desk, entry: int) -> BookEntry:
    """It does not count; it stays readable."""
    remember(desk)
    return decisions.drop(desk.book, entry)


@use_case
def restore(desk: Desk, entry: int) -> BookEntry:
    """A dropped entry counts again, as it was before."""
    return decisions.restore(desk.book, entry)


@use_case
def correct(desk: Desk, before: BookEntry, revision: Revision) -> tuple[BookEntry, ...]:
    """Puts other words in the place of those of an entry; the entry, then any that came beside it.

    `before` is the entry as the person saw it: what was doubted then, and still is, is not asked
    a second time.
    """
    remember(desk)
    return decisions.correct(
        desk.book, before.id, revision.reading, revision.text, seen=before.doubts
    )


@use_case
def edit(desk: Desk, entry: int, field: str, value: str | None) -> BookEntry:
    """Changes one field of an entry by itself; the value as a person types it, None to empty it.

    What was doubted of this field is settled by it; anything else stays, and is asked on. Raises
    `ServiceError` for a field that the entry's kind has not, or a value that is none.
    """
    change = change_of(desk, read_entry(desk, entry), field, value)
    remember(desk)
    return decisions.edit(
        desk.book,
        entry,
        field,
        change.value,
        settles=change.settles,
        asks=change.asks,
        looked_at=change.looked_at,
    )


@use_case
def split(desk: Desk, entry: int, parts: Sequence[Entry]) -> tuple[BookEntry, ...]:
    """Puts several facts in the place of one entry; all of them, the changed one first."""
    remember(desk)
    return parting.split(desk.book, entry, parts, settles=settled_by_splitting(desk, entry))


@use_case
def merge(desk: Desk, entry: int, other: int) -> BookEntry:
    """Adds another entry to this one, amounts exactly; the other counts no more.

    Raises `ServiceError`, in one line, where they are not alike.
    """
    remember(desk)
    return parting.merge(desk.book, entry, other)


@use_case
def move_entry(
    desk: Desk, entry: int, *, at: datetime | None = None, job: str | None = None
) -> BookEntry:
    """Puts an entry at another moment, or into another job."""
    return decisions.move(desk.book, entry, at=None if at is None else at.astimezone(UTC), job=job)


@use_case
def move_original(desk: Desk, sha256: str, job: str) -> None:
    """Puts a recording with all that was said in it, or a photo, into another job, with ties."""
    decisions.move_original(desk.book, sha256, job)


@use_case
def tie(desk: Desk, photo: str, entry: int) -> Tie:
    """The photo belongs to the entry, whatever else is found out later."""
    return decisions.tie(desk.book, photo, entry)


@use_case
def untie(desk: Desk, photo: str, entry: int) -> None:
    """The photo does not belong to the entry, and is not tied to it again."""
    decisions.untie(desk.book, photo, entry)


@use_case
def withdraw(desk: Desk, sha256: str) -> Recording | Photo:
    """A recording counts no more, nor anything said in it; a photo belongs to no entry and is shown
    nowhere. Both stay readable."""
    if _is_recording(desk, sha256):
        return decisions.withdraw(desk.book, sha256)
    return decisions.withdraw_photo(desk.book, sha256)


@use_case
def bring_back(desk: Desk, sha256: str) -> Recording | Photo:
    """A recording or a photo that was withdrawn counts again."""
    if _is_recording(desk, sha256):
        return decisions.bring_back(desk.book, sha256)
    return decisions.bring_back_photo(desk.book, sha256)


@use_case
def withdrawn_photos(desk: Desk) -> tuple[Photo, ...]:
    """The photos of the job that were withdrawn, in the order in which they were taken."""
    return desk.book.photos(desk.job.name, withdrawn=True)


@use_case
def undo(desk: Desk) -> tuple[Step, ...]:
    """Takes back the last step of the job that stands; what was taken back."""
    taken = history.undo_last(desk.book, desk.job.name)
    refresh(desk)
    return taken


@use_case
def redo(desk: Desk) -> tuple[Step, ...]:
    """Does the step again that was taken back last; what was done again."""
    done = history.redo_last(desk.book, desk.job.name)
    refresh(desk)
    return done


@use_case
def undo_entry(desk: Desk, entry: int) -> BookEntry:
    """Takes back the last step of one entry."""
    return decisions.undo(desk.book, entry)


@use_case
def redo_entry(desk: Desk, entry: int) -> BookEntry:
    """Does the step of one entry again that was taken back last."""
    return decisions.redo(desk.book, entry)


@use_case
def steps(desk: Desk) -> tuple[Step, ...]:
    """Everything that was decided about the job, oldest first."""
    return history.steps(desk.book, desk.job.name)


def _is_recording(desk: Desk, sha256: str) -> bool:
    return any(one.sha256 == sha256 for one in desk.book.recordings(desk.job.name))


@use_case
def original_named(desk: Desk, name: str) -> str:
    """The SHA-256 of the recording or photo of the job with that name.

    Raises `ServiceError` where there is none, or more than one.
    """
    book, job = desk.book, desk.job.name
    found = [
        one.sha256
        for one in _originals(book, job)
        if one.name == name or (len(name) >= 6 and one.sha256.startswith(name))
    ]
    if len(found) == 1:
        return found[0]
    if not found:
        others = [
            other.name
            for other in book.jobs()
            if any(one.name == name for one in _originals(book, other.name))
        ]
        where = f"; it is in {' and in '.join(others)}: say --job" if others else ""
        raise ServiceError(f"{job}: there is no recording or photo called {name!r}{where}")
    choices = ", ".join(sha256[:12] for sha256 in found)
    raise ServiceError(f"{job}: several are called {name!r}; say which: {choices}")


def _originals(book: Book, job: str) -> list[Recording | Photo]:
    return [*book.recordings(job), *book.photos(job), *book.photos(job, withdrawn=True)]
