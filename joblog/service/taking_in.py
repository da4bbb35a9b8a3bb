"""What comes in: files, typed words; and what would be heard or read, without keeping it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from joblog.book import decisions
from joblog.model import BookEntry, Problem, Reading, Vocabulary
from joblog.service.desk import Desk, remember
from joblog.service.errors import use_case
from joblog.service.record import read_entries
from joblog.service.said import context_after, said_before

if TYPE_CHECKING:
    from joblog.book.hearing import Listened
    from joblog.book.intake import Intake as Intake
    from joblog.book.progress import Far as Far
    from joblog.book.progress import Progress as Progress


@use_case
def take_in(
    desk: Desk,
    paths: Sequence[Path],
    *,
    model: Path | None = None,
    progress: Progress | None = None,
) -> Intake:
    """Takes recordings and photos, and folders of them, into the job. Originals are copied.

    `model` is the folder of another Vosk model. `progress` is told how far it is. What cannot be
    taken in is told in the answer.
    """
    from joblog.book import intake
    from joblog.service.voice import judgement_in
    from joblog.speech import recognizers

    chosen = recognizers(model) if model else None
    remember(desk)
    return intake.take_in(
        desk.book,
        desk.job.name,
        paths,
        recognizers=chosen,
        judgement=judgement_in(desk.book),
        progress=progress,
    )


def days_of(paths: Sequence[Path], most: int = 500) -> frozenset[date]:
    """The days that the names of files tell, else their own times; of folders, what lies in them.

    Opens none of them: it only helps to tell which job is meant. At most `most` files are looked
    at.
    """
    named = (
        file
        for path in paths
        for file in (path.rglob("*") if path.is_dir() else (path,))
        if file.is_file()
    )
    return frozenset(day for file in islice(named, most) for day in _day_of(file))


def _day_of(file: Path) -> Iterator[date]:
    with suppress(OSError, OverflowError, ValueError):
        found = _DAY_IN_NAME.search(file.stem)
        yield (
            date(*map(int, found.groups())) if found else date.fromtimestamp(file.stat().st_mtime)
        )


_DAY_IN_NAME = re.compile(r"(?<!\d)(20\d\d)[-_.]?([01]\d)[-_.]?([0-3]\d)(?!\d)", re.ASCII)


@dataclass(frozen=True, slots=True)
class Written:
    """A sentence that was written down, and what came of it."""

    said: str
    entries: tuple[BookEntry, ...]
    """What it changed, then what it made; with the doubts that the whole job casts on them."""
    unread: str
    """Its words that belong to no entry."""


@use_case
def write_down(desk: Desk, text: str, at: datetime | None = None) -> tuple[BookEntry, ...]:
    """Keeps words as if they had been said, now or at a moment of the job's own clock.

    What they changed of what was said before, then what they made, in order, with the doubts that
    the whole job casts on them; none where nothing was understood.
    """
    zone = ZoneInfo(desk.job.zone)
    local = at.replace(tzinfo=zone) if at else datetime.now(zone)
    return tuple(entry for one in _written(desk, text, local) for entry in one.entries)


@use_case
def write_notes(
    desk: Desk, text: str, day: date | None = None, clock: time | None = None
) -> tuple[Written, ...]:
    """Keeps a text as if it had been said, sentence by sentence, after what was said that day.

    Now, or at a time of a day where the job is, today unless named. A day without a time is told in
    its evening, after all that was said on it.
    """
    return _written(desk, text, _moment(desk, day, clock))


def _written(desk: Desk, text: str, at: datetime) -> tuple[Written, ...]:
    from joblog.dictation import after, read, sentences

    before = said_before(desk, at)
    context = context_after(desk, before, at)
    said: list[tuple[Reading, str]] = []
    for sentence in sentences(text):
        reading = read(sentence, desk.vocabulary, context)
        context = after(context, reading)
        said.append((reading, sentence))
    ids = _keep(desk, said, at, before)
    made = {entry.id: entry for entry in read_entries(desk)}
    return tuple(
        Written(sentence, tuple(made[id] for id in theirs), reading.unread)
        for (reading, sentence), theirs in zip(said, ids, strict=True)
    )


@use_case
def keep_typed(desk: Desk, reading: Reading, text: str, at: datetime) -> tuple[BookEntry, ...]:
    """Keeps what words that a person typed were read as, at a moment of which nothing was said yet.

    The entries that it changed, then those made.
    """
    ids = _keep(desk, [(reading, text)], at, said_before(desk, at))
    made = {entry.id: entry for entry in read_entries(desk)}
    return tuple(made[id] for theirs in ids for id in theirs)


def _keep(
    desk: Desk,
    said: Sequence[tuple[Reading, str]],
    at: datetime,
    before: Sequence[BookEntry],
) -> tuple[tuple[int, ...], ...]:
    if not any(reading.entries for reading, _ in said):
        return tuple(() for _ in said)
    remember(desk)
    return decisions.write_down(
        desk.book, desk.job.name, said, at.astimezone(UTC), before, desk.vocabulary
    )


def _moment(desk: Desk, day: date | None, clock: time | None) -> datetime:
    zone = ZoneInfo(desk.job.zone)
    now = datetime.now(zone)
    if clock is None and day in (None, now.date()):
        return now
    if clock is not None or day is None:
        return datetime.combine(day or now.date(), clock or time(), zone)
    evening = datetime.combine(day, EVENING, zone)
    said = [entry.at.astimezone(zone) for entry in read_entries(desk, day)]
    return max([evening, *said])


EVENING = time(18)
"""When a day is told of that is over."""


def hear(
    files: Sequence[Path], words: Vocabulary, zone: str | None = None, model: Path | None = None
) -> Iterator[tuple[Path, Listened | Problem]]:
    """What is heard in each of some recordings, and read as what. Keeps nothing."""
    from joblog.book.hearing import heard_in
    from joblog.speech import recognizers
    from joblog.zone import own_zone

    ears = recognizers(model) if model else recognizers()
    yield from heard_in(files, zone or own_zone(), words, ears)


def fetch_model() -> Path:
    """Fetches the general English Vosk model from its makers, over the network; its folder."""
    from joblog.speech import fetch_general_model

    return fetch_general_model()
