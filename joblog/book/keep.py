"""Keeping what was heard or seen: an original and what was read from it, all or nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, nullcontext
from datetime import datetime, timedelta
from pathlib import Path

from filelock import Timeout

from joblog.book import media, rows
from joblog.book.entries import add_entry, as_is
from joblog.book.errors import BookError
from joblog.book.ground import track_row
from joblog.book.history import Version, spoken_after
from joblog.book.media import Stowed
from joblog.book.rows import moment_text
from joblog.book.schema import plainly
from joblog.book.steps import ALOUD, Deciding, forget, write
from joblog.book.store import Book
from joblog.model import BookEntry, HeardUtterance, Photo, Recording, Track


class BusyError(BookError):
    """Files are being taken in already, which will be done some time."""


def keep_recording(
    book: Book,
    job: str,
    path: Path,
    recording: Recording,
    heard: Sequence[HeardUtterance],
    also: Callable[[], None] | None = None,
    passing_in: Path | None = None,
    before: Sequence[BookEntry] = (),
) -> bool:
    """Keeps a recording, all that was heard in it and the entries that were read from that.

    "Scratch that" and the like, said in the recording, are done to the entry that they mean: one of
    the recording, or of `before`, what stands of what was said earlier that day, oldest first;
    there as a step of its own. `also` is what else has to happen in the same moment, or not at all.
    With `passing_in`, a folder of the caller's own, it is copied by way of that, and does not wait
    for files that are being taken in.
    False when the book has it already; then nothing changes. Raises `BookError`.
    """
    number = book._job(job)["id"]
    if book.holds(recording.sha256):
        return False
    stowed = _stowed(book, path, recording.sha256, passing_in)
    with book._writing():
        if book.holds(recording.sha256):
            return False
        row = {"job": number, "media": stowed.media, "bytes": stowed.bytes}
        book._insert("recording", {**rows.recording_row(recording), **row})
        _keep_heard(book, number, recording, heard, before)
        if also is not None:
            also()
    return True


def keep_photo(book: Book, job: str, path: Path, photo: Photo) -> bool:
    """Keeps a photo. False when the book has it already; then nothing changes."""
    number = book._job(job)["id"]
    if book.holds(photo.sha256):
        return False
    stowed = _stowed(book, path, photo.sha256)
    with book._writing():
        if book.holds(photo.sha256):
            return False
        row = {"job": number, "media": stowed.media, "bytes": stowed.bytes}
        book._insert("photo", {**rows.photo_row(photo), **row})
    return True


def keep_track(book: Book, job: str, path: Path, track: Track) -> bool:
    """Keeps a track log. False when the book has it already; then nothing changes."""
    number = book._job(job)["id"]
    if book.holds(track.sha256):
        return False
    stowed = _stowed(book, path, track.sha256)
    with book._writing():
        if book.holds(track.sha256):
            return False
        row = {"job": number, "media": stowed.media, "bytes": stowed.bytes}
        book._insert("track", {**track_row(track), **row})
    return True


@contextmanager
def taking_in(book: Book) -> Iterator[None]:
    """Held while files are copied in; `BusyError` when that is going on already."""
    with plainly(book.folder):
        lock = media.in_use(book.store)
        try:
            lock.acquire()
        except Timeout:
            raise BusyError(
                f"{book.folder}: files are being taken in already. Wait until that is done."
            ) from None
    try:
        yield
    finally:
        lock.release()


def _stowed(book: Book, path: Path, sha256: str, passing_in: Path | None = None) -> Stowed:
    with plainly(path):
        if path.is_relative_to(book.store):
            place = path.relative_to(book.store).as_posix()
            return Stowed(path.stem, place, path.stat().st_size)
        with taking_in(book) if passing_in is None else nullcontext():
            stowed = media.stow(book.store, path, passing_in)
    if stowed.sha256 != sha256:
        raise BookError(f"{path}: changed while it was being read. Add it again.")
    return stowed


def _keep_heard(
    book: Book,
    job: int,
    recording: Recording,
    heard: Sequence[HeardUtterance],
    before: Sequence[BookEntry],
) -> None:
    moments = [recording.made.at + timedelta(seconds=h.utterance.start) for h in heard]
    utterances = [
        _keep_utterance(book, recording.sha256, ordinal, moment, one)
        for ordinal, (moment, one) in enumerate(zip(moments, heard, strict=True))
    ]
    said = [(one.reading, _chosen_text(one)) for one in heard]
    earlier, kept = spoken_after([as_is(one, one.change) for one in before], said, "heard")
    later: list[tuple[int, int, Version]] = []
    ids: list[int] = []
    for ordinal, (first, *changes) in enumerate(kept):
        # A version that was heard is as old as the words: intake run again writes it alike.
        at = moments[first.part]
        id = add_entry(book, job, utterances[first.part], ordinal, at, [first], [at])
        ids.append(id)
        later += [(version.part, id, version) for version in changes]
    later += [
        (version.part, one.id, version)
        for one, changes in zip(before, earlier, strict=True)
        for version in changes
    ]
    elsewhere = {one.id for one in before}
    for part, id, version in sorted(later, key=lambda change: change[:2]):
        step = Deciding(book, ALOUD, moments[part])
        if id in elsewhere:
            # Undone, the correction goes as well; nothing that was undone before comes over it.
            step.added(ids[version.by])
            forget(book, step.jobs)
        step.add_version(id, version)
        step.what = f"{version.change}: {said[part][1]}"
        write(step)


def _keep_utterance(
    book: Book, recording: str, ordinal: int, at: datetime, heard: HeardUtterance
) -> int:
    utterance = heard.utterance
    id = book._insert(
        "utterance",
        {
            "recording": recording,
            "ordinal": ordinal,
            "at": moment_text(at),
            **rows.utterance_row(utterance),
            "unread": heard.reading.unread,
        },
    )
    for number, hearing in enumerate(utterance.hearings):
        row = {"utterance": id, "ordinal": number, **rows.hearing_row(hearing)}
        book._insert("hearing", row)
    return id


def _chosen_text(heard: HeardUtterance) -> str:
    return heard.utterance.hearings[0].text if heard.utterance.hearings else ""
