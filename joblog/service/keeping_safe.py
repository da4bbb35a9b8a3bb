"""Backups of the book, and a book made of one again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from joblog import backup
from joblog.backup import descent, memory
from joblog.backup.nouns import Far as Far
from joblog.backup.nouns import Outcome as Outcome
from joblog.backup.nouns import Restored as Restored
from joblog.backup.nouns import State as State
from joblog.backup.nouns import nobody
from joblog.backup.said import counts_told, joined, size_told
from joblog.book import Book, BookError
from joblog.local import day_written, moment_written
from joblog.service.errors import ServiceError, use_case
from joblog.service.places import Place, lasts

Progress = Callable[[Far], None]


@dataclass(frozen=True, slots=True)
class Kept:
    """A state of a backup, in words for a person."""

    when: str
    day: date
    what: str
    lacks: str
    copy: str
    """Of which copy of the book, where some were worked in apart; else ""."""


@use_case
def back_up(
    book: Book,
    folder: Path | None = None,
    *,
    keep: int | None = None,
    anew: bool = False,
    whole: bool = False,
    tell: Progress = nobody,
) -> Outcome:
    """Backs the book up into a folder, that of the last time where none is named."""
    return backup.back_up(book, folder, keep=keep, anew=anew, whole=whole, tell=tell)


@use_case
def restore(
    folder: Path,
    place: Place,
    at: date | None = None,
    tell: Progress = nobody,
    *,
    copy: int | None = None,
) -> Restored:
    """Makes a whole book of a backup at a place where none is, or exactly that one."""
    if place.has_book:
        there = backup.restored_already(folder, place.folder, at=at, copy=copy)
        if there is not None:
            return there
        raise ServiceError(
            f"{place.folder}: a book is here already, and stays as it is. Name a new folder with"
            " --book."
        )
    return backup.restore(folder, place.folder, at=at, copy=copy, tell=tell)


@use_case
def states(folder: Path) -> tuple[tuple[State, ...], tuple[str, ...]]:
    """The states that lie in a backup, the newest first, and what is said of damaged ones."""
    return backup.states(folder)


@use_case
def states_at_hand(book: Book) -> tuple[str, tuple[State, ...]]:
    """The folder of the last backup and its states, as far as it is at hand; "" where none was."""
    for one in memory.remembered(book):
        try:
            return one.folder, backup.states(Path(one.folder))[0]
        except BookError:
            return one.folder, ()
    return "", ()


@use_case
def due(book: Book, now: datetime | None = None, *, evening: bool = False) -> str | None:
    """One line where a backup is due: in the `evening` of a day of work, or after a week."""
    if not lasts(book.folder):
        return None
    return backup.due(book, now or datetime.now().astimezone(), evening=evening)


def reminder(book: Book, now: datetime | None = None) -> str | None:
    """The same, once an evening. Of a book that cannot be read nothing is said here."""
    now = now or datetime.now().astimezone()
    with suppress(ServiceError, BookError):
        if memory.was_told(book, now.date()):
            return None
        line = due(book, now)
        if line is not None:
            memory.tell(book, now.date())
        return line
    return None


def short(noun: Outcome | Restored | State) -> dict[str, object]:
    """What a program may want to know of it, without the thousands of pieces."""
    state = noun if isinstance(noun, State) else noun.state
    told = {name: getattr(state, name) for name in ("file", "at", "joblog", "counts", "lacking")}
    own = () if noun is state else (name for name in noun.__dataclass_fields__ if name != "state")
    values = {name: getattr(noun, name) for name in own}
    return {n: str(v) if isinstance(v, Path) else v for n, v in (values | told).items()}


def far_told(far: Far) -> str:
    """How far it is, in words."""
    share = f": {100 * far.done // far.whole} % of {size_told(far.whole)}" if far.whole else ""
    return f"{far.doing}{share}"


def told(outcome: Outcome) -> tuple[str, ...]:
    """What came of a backup, a line each."""
    new = f"{size_told(outcome.bytes)} new" if outcome.objects else "nothing new"
    since = outcome.read_since
    again = (
        f"all of it was read again since {_day(since)}, and is whole"
        if since and not outcome.damaged
        else f"{size_told(outcome.looked_at)} of it read again"
    )
    when = moment_written(outcome.state.at.astimezone(), year=True)
    lines = [
        f"backed up to {outcome.folder}: {counts_told(outcome.state)}; {new}, read again from there"
        if outcome.new
        else f"nothing is new since the backup of {when} in {outcome.folder}"
    ]
    if outcome.mended:
        lines.append(f"{outcome.mended} damaged pieces there were written anew from the book")
    lines.append(again)
    if outcome.same_disk:
        lines.append(
            "it lies on the same disk as the book, and is lost with it unless another program"
            " takes it elsewhere"
        )
    return tuple(lines)


def listed(states: Sequence[State]) -> tuple[Kept, ...]:
    """The backups in words."""
    ends = descent.parted(states)
    return tuple(
        Kept(
            moment_written(state.at.astimezone(), year=True),
            state.at.astimezone().date(),
            counts_told(state),
            joined([f"{len(state.lacking)} originals lacking" if state.lacking else ""]),
            _copies_told(descent.copies_of(state, ends), len(ends)),
        )
        for state in states
    )


def _copies_told(copies: Sequence[int], of: int) -> str:
    if not copies or len(copies) == of:
        return "of all copies" if copies else ""
    return f"of {'copy' if len(copies) == 1 else 'copies'} {' and '.join(map(str, copies))}"


def copies_told(states: Sequence[State]) -> tuple[str, ...]:
    """What is said of copies of one book that were worked in apart: nothing of only one."""
    ends = descent.parted(states)
    if len(ends) < 2:
        return ()
    return (
        f"these are of {len(ends)} copies of one book that were worked in apart; none holds the"
        " work of the others. --copy N takes the one of that number:",
        *(f"  copy {n}: {one.of or 'it is not known where'}" for n, one in enumerate(ends, 1)),
    )


def restored_told(restored: Restored) -> str:
    """What came of a restore, in one line."""
    when = moment_written(restored.state.at.astimezone(), year=True)
    if restored.already:
        return (
            f"restored already: the book in {restored.folder} is that of {when},"
            f" {counts_told(restored.state)}; nothing was changed"
        )
    return f"restored to {restored.folder}: the book of {when}, {counts_told(restored.state)}"


def _day(at: datetime) -> str:
    return day_written(at.astimezone().date(), short=True)
