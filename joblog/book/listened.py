"""An utterance that listening caught, out of the spool and into the book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from joblog.book import by_ear, media, spool
from joblog.book.copies import Settled, Shorter, entries_of, keep_print, settle, supersede
from joblog.book.errors import BookError
from joblog.book.keep import keep_recording
from joblog.book.schema import plainly
from joblog.book.steps import JOBLOG, deciding
from joblog.book.store import Book
from joblog.book.ties import tie_photos
from joblog.form import describe
from joblog.model import HeardUtterance, Moment, Reading, Recording, Utterance

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from joblog.audio.sameness import SoundPrint

AROUND = 32
"""Samples by which an utterance may lie beside where its moment, in milliseconds, puts it."""


@dataclass(frozen=True, slots=True)
class LeftOver:
    """An utterance that was caught and not kept, because listening ended in between."""

    path: Path
    at: datetime
    begun: tuple[str, ...]
    """SHA-256 of those in the book of which this one is the whole."""


def keep_listened(
    book: Book,
    job: str,
    path: Path,
    at: datetime,
    utterance: Utterance,
    reading: Reading,
    decision: by_ear.Decision | None = None,
    begun: Sequence[str] = (),
) -> tuple[int, ...]:
    """Keeps an utterance with its hearings and entries, and does what it decided, all or nothing.

    It becomes a recording of its own, also where nothing was read in it. `begun` are recordings of
    which it turned out to be the whole: it takes their place, and what was let stand in them was
    not, for he had not done speaking. Killed at any instant and run again, it ends as if it had not
    been; while other files are being taken in, it neither fails nor waits. The ids of the entries
    that the decision changed, then of its own. Raises `BookError`.
    """
    with plainly(path):
        sha256 = media.fingerprint(path)
    changed: tuple[int, ...] = ()
    if book.holds(sha256) is None:
        prints, trouble = _print_of(path)
        moment = spool.to_the_millisecond(at)
        recording = Recording(
            sha256, path.name, Moment(moment, "container"), prints.seconds, trouble
        )
        with book._writing():
            shorter = [_shorter(book, one, moment) for one in begun]
            settled = _settled(book, utterance, reading, shorter)

            def also() -> None:
                nonlocal changed
                keep_print(book, sha256, prints)
                supersede(book, sha256, shorter, settled)
                if decision is not None:
                    own = next(iter(entries_of(book, sha256)), None)
                    changed = by_ear.decide(book, job, decision, own)
                tie_photos(book, job)

            keep_recording(
                book, job, path, recording, settled.heard, also, passing_in=spool.folder_of(book)
            )
    spool.done(path)
    return tuple(dict.fromkeys((*changed, *entries_of(book, sha256))))


def left_over(book: Book, job: str) -> tuple[LeftOver, ...]:
    """The utterances that an earlier listener left in the spool, as they were said.

    What the book has, and what is only the beginning of another one, waits no longer. Nor does what
    cannot be read any more: it becomes a recording with that trouble, for a person to look at.
    """
    found: list[LeftOver] = []
    for path, at in spool.waiting(book):
        with plainly(path):
            sha256 = media.fingerprint(path)
        if book.holds(sha256) is None:
            try:
                if not _has_all_of(book, job, path, at):
                    found.append(LeftOver(path, at, _begun(book, job, path, at)))
                    continue
            except BookError:
                _keep_damaged(book, job, path, at, sha256)
        spool.done(path)
    return tuple(found)


def _keep_damaged(book: Book, job: str, path: Path, at: datetime, sha256: str) -> None:
    from joblog.audio.sameness import SILENT

    trouble = "was caught by listening, and cannot be read any more; say again what it said"
    recording = Recording(sha256, path.name, Moment(at, "container"), 0.0, trouble)
    keep_recording(
        book,
        job,
        path,
        recording,
        (),
        lambda: keep_print(book, sha256, SILENT),
        passing_in=spool.folder_of(book),
    )


def _print_of(path: Path) -> tuple[SoundPrint, str | None]:
    """What it sounds like, and what is wrong with it."""
    import numpy as np

    from joblog.audio.sameness import sound_print

    sound, whole = spool.sound_and_end(path)
    if not len(sound):
        raise BookError(f"{path}: holds no sound; record it again")
    # As a decoder would have it, so that it is known again among recordings that are added.
    floats = (sound / np.float32(32768)).astype(np.float32)
    prints = sound_print(floats[at : at + spool.RATE] for at in range(0, len(sound), spool.RATE))
    return prints, None if whole else f"ends early: cut off after {prints.seconds:.1f} s"


def _shorter(book: Book, sha256: str, at: datetime) -> Shorter:
    return Shorter(sha256, (at - book.recording(sha256).made.at).total_seconds())


def _settled(
    book: Book, utterance: Utterance, reading: Reading, shorter: Sequence[Shorter]
) -> Settled:
    for one in shorter:
        with deciding(book, JOBLOG) as step:
            for id in entries_of(book, one.sha256):
                before = by_ear.stood_by_silence(book, id)
                if before is not None:
                    step.add_version(id, before)
                    step.what = f"he went on speaking, and it waits again: {describe(before.entry)}"
    return settle(book, [HeardUtterance(utterance, reading)], shorter)


# --- which is the whole of which --------------------------------------------------------------


def _has_all_of(book: Book, job: str, path: Path, at: datetime) -> bool:
    """Whether another utterance, kept or waiting, has all of this one's sound and more."""
    sound = spool.sound_of(path)
    longer = [(other, when) for other, when in spool.waiting(book) if other != path]
    longer += [(book.media(sha256), when) for sha256, when, _ in _near(book, job, at, len(sound))]
    near = [(other, when) for other, when in longer if abs(when - at) < _LONGEST]
    return any(
        len(whole := _sound_if_any(other)) > len(sound) and _within(sound, at, whole, when)
        for other, when in near
    )


def _begun(book: Book, job: str, path: Path, at: datetime) -> tuple[str, ...]:
    whole = spool.sound_of(path)
    return tuple(
        sha256
        for sha256, when, seconds in _near(book, job, at, len(whole))
        if seconds * spool.RATE < len(whole)
        and len(part := _sound_if_any(book.media(sha256)))
        and _within(part, when, whole, at)
    )


def _near(book: Book, job: str, at: datetime, length: int) -> list[tuple[str, datetime, float]]:
    """The utterances of the book that sound while one of so many samples does."""
    end = at + timedelta(seconds=length / spool.RATE)
    return [
        (one.sha256, one.made.at, one.seconds)
        for one in book.recordings(job)
        if one.standing == "kept"
        and spool.is_named_so(one.name)
        and one.made.at < end
        and at < one.made.at + timedelta(seconds=one.seconds)
    ]


def _sound_if_any(path: Path) -> NDArray[np.int16]:
    """Its samples; none where it is damaged, which is told when its own turn comes."""
    import numpy as np

    try:
        return spool.sound_of(path)
    except BookError:
        return np.zeros(0, np.int16)


def _within(
    part: NDArray[np.int16], at: datetime, whole: NDArray[np.int16], when: datetime
) -> bool:
    """Whether the whole has these very samples where their moments put them."""
    begin = round((at - when).total_seconds() * spool.RATE)
    starts = range(max(0, begin - AROUND), min(begin + AROUND, len(whole) - len(part)) + 1)
    return any((whole[start : start + len(part)] == part).all() for start in starts)


_LONGEST = timedelta(minutes=10)
"""Utterances further apart do not overlap."""
