"""A whole book made of a state of a backup, in a new folder: there, or not there."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path

from filelock import FileLock, Timeout

from joblog.backup import descent, memory
from joblog.backup.assembling import assemble
from joblog.backup.lookup import Lookup
from joblog.backup.medium import Medium, found, settle, state_files
from joblog.backup.nouns import Far, Kept, Progress, Restored, State, nobody
from joblog.backup.said import counted, others_told
from joblog.backup.stated import listed, put_aside, states_in
from joblog.book import Book, BookError, media, mending, schema, seals, verify
from joblog.book.making import FILE, MEDIA
from joblog.local import day_written

PASSING = ".restoring"
"""The ending of a book that is being made: after a kill the next one goes on with it."""


def restore(
    folder: Path,
    new: Path,
    *,
    at: date | None = None,
    copy: int | None = None,
    tell: Progress = nobody,
) -> Restored:
    """Makes a whole book of the newest state, or the last one of that day or before, in a folder
    that is not there yet or empty; of that `copy` of the book, where some were worked in apart.

    What is damaged there is had from other states and other backups where they have it; what is not
    is named, and all the rest is restored. Killed at any instant there is no book in `new`, and the
    same said again goes on. Raises `BookError`.
    """
    folder, new = folder.absolute(), new.absolute()
    with schema.plainly(folder):
        medium = Medium(found(folder))
        states, bad = states_in(medium.place)
        ends = descent.parted(states)
        first = chosen(medium.place, states, ends, at, copy)
        if copy is not None:
            states = tuple(one for one in states if descent.is_in(one, ends[copy - 1]))
    with schema.plainly(new), _alone(new):
        passing = new.with_name(new.name + PASSING)
        passing.mkdir(mode=0o700, parents=True, exist_ok=True)
        state, said = _restore_database(medium, states[states.index(first) :], passing)
        said += _restore_files(medium, state, passing, tell)
        damage = _looked_at(passing, folder, state)
        _put_on_disk(passing)
        if new.is_dir():
            new.rmdir()  # It is empty.
        passing.rename(new)
        settle(new.parent)
    asked = at is not None or copy is not None
    others = [] if asked else [one for one in ends if not descent.is_in(state, one)]
    return Restored(new, state, (*bad, *said, *damage), others_told(folder, others, ends))


def chosen(
    place: Path, states: Sequence[State], ends: Sequence[State], at: date | None, copy: int | None
) -> State:
    """The newest of these, or the last one of that day or before, of that copy. Raises `BookError`
    where there is none, or a newer joblog wrote it."""
    if not any(state_files(place)) and not put_aside(place):
        raise BookError(
            f"{place}: a backup was begun here and never finished; it holds nothing. Nothing"
            " was made; name another folder."
        )
    if not states:
        raise BookError(f"{place}: none of the backups here can be read; nothing was made.")
    if copy is not None:
        if copy > max(1, len(ends)):
            many = f"{len(ends)} copies" if ends[1:] else "one copy"
            raise BookError(f"{place}: there is {many} of the book here. Say restore --list.")
        states = [one for one in states if descent.is_in(one, ends[copy - 1])]
    for state in states:
        if at is None or state.at.astimezone().date() <= at:
            if state.version > len(schema.MIGRATIONS):
                raise BookError(
                    f"{place}: the book there was written by a newer joblog"
                    f" ({state.joblog}). Nothing was made; install the newer joblog."
                )
            return state
    first = day_written(states[-1].at.astimezone().date())
    raise BookError(f"{place}: its first backup is of {first}; name that day or a later one.")


@contextmanager
def _alone(new: Path) -> Iterator[None]:
    lock = FileLock(new.with_name(f"{new.name}{PASSING}.lock"), timeout=0, mode=0o600)
    if new.exists() and (not new.is_dir() or any(new.iterdir())):
        Path(lock.lock_file).unlink(missing_ok=True)  # Of one that was killed as it ended.
        raise BookError(
            f"{new}: is there already, and stays as it is. Name a new folder with --book."
        )
    new.parent.mkdir(parents=True, exist_ok=True)
    try:
        lock.acquire()
    except Timeout:
        raise BookError(f"{new}: is being restored already. Wait until that is done.") from None
    try:
        yield
    finally:
        lock.release()
        Path(lock.lock_file).unlink(missing_ok=True)


# --- the database -----------------------------------------------------------------------------


def _restore_database(
    medium: Medium, states: Sequence[State], passing: Path
) -> tuple[State, tuple[str, ...]]:
    """The state that it is of, and what is to be said: of a damaged one what can be read of it;
    the one before where nothing can."""
    said: list[str] = []
    for state in states:
        for left in passing.glob(f"{FILE}*"):
            left.unlink()
        holes = assemble(medium, state.database, passing / FILE)
        if not holes:
            return state, tuple(said)
        day = day_written(state.at.astimezone().date())
        said.append(
            f"the book of {day} is damaged in the backup:"
            f" {counted(len(holes), 'pieces')} of {len(state.database.pieces):,}"
        )
        with suppress(BookError):
            _make_whole(passing)
            said.append("what can be read of it was taken, and what is gone is named")
            return state, tuple(said)
        said.append("nothing of it can be read, so the backup before was taken")
    raise BookError(
        f"{medium.place}: no backup there has a book that can be read. Nothing was made; the"
        " photos and recordings lie in objects, and can be added to a new book with joblog add."
    )


def _make_whole(passing: Path) -> None:
    """Puts what can be read of a torn database in its place. Raises `BookError`."""
    torn, whole = passing / "torn", passing / "whole"
    for left in (torn, whole):
        shutil.rmtree(left, ignore_errors=True)
    torn.mkdir(mode=0o700)
    (passing / FILE).replace(torn / FILE)
    with Book.open(torn) as book:
        tuple(verify.damaged_rows(book, tuple(seals.tables(book._db))))
        verify.copy(book, whole)
    (whole / FILE).replace(passing / FILE)
    for left in (torn, whole):
        shutil.rmtree(left, ignore_errors=True)


# --- the files --------------------------------------------------------------------------------


def _restore_files(medium: Medium, state: State, passing: Path, tell: Progress) -> tuple[str, ...]:
    """All originals that can be had, and what lay beside them. What is to be said: which of these
    could not; of the originals the book itself says it."""
    files = {one.name: one for one in _originals(medium, state, passing)}
    files |= {one.name: one for one in state.beside}
    for left in (passing / MEDIA).rglob("*"):
        if left.is_file() and left.relative_to(passing).as_posix() not in files:
            left.unlink()
    whole, done, lost = sum(one.bytes for one in files.values()), 0, []
    for one in files.values():
        tell(Far("restoring", done, whole))
        if not _restored(medium, one, passing) and one in state.beside:
            lost.append(f"{one.name}: is damaged in the backup, and was left out")
        done += one.bytes
    return tuple(lost)


def _originals(medium: Medium, state: State, passing: Path) -> Iterator[Kept]:
    """As the state lists them, and as the book itself knows them: one of the two may be torn."""
    with Book.open(passing) as book:
        for row in verify.originals(book):
            name = f"{MEDIA}/{row['media']}"
            yield Kept(name, row["sha256"], row["bytes"], (row["sha256"],))
    yield from listed(medium, state)


def _restored(medium: Medium, one: Kept, passing: Path) -> bool:
    place = passing / fit_for_this_system(one.name)
    if media.is_whole(place, one.sha256):
        return True  # A restore that was killed had it already.
    for folder in reversed([*place.relative_to(passing).parents][:-1]):
        (passing / folder).mkdir(mode=0o700, exist_ok=True)
    if assemble(medium, one, place) or media.fingerprint(place) != one.sha256:
        place.unlink()
        return False
    if one.written:
        os.utime(place, ns=(one.written, one.written))
    return True


def fit_for_this_system(name: str) -> str:
    """What a file of a book is called here: a paper may be called what Windows does not allow."""
    return re.sub(r'[\\:*?"<>|]', "_", name) if os.name == "nt" else name


def _put_on_disk(folder: Path) -> None:
    if hasattr(os, "sync"):
        os.sync()  # All together; what follows finds little left to wait for.
    for at, _, names in os.walk(folder):
        for name in names:
            # Windows puts on the disk what may be written.
            with Path(at, name).open("r+b") as file:
                os.fsync(file.fileno())
        settle(Path(at))


def _looked_at(passing: Path, folder: Path, state: State) -> tuple[str, ...]:
    """What is damaged in the book that was made, and not to be had from any backup at hand; it
    remembers where it is from."""
    with Book.open(passing) as book:
        damage = tuple(verify.verify(book))
        if damage:
            with Lookup(book, [folder]) as lookup:
                tuple(mending.mend(book, lookup))
            damage = tuple(verify.verify(book))
        with suppress(BookError):
            descent.settle(book, descent.of(book), state)
            memory.remember(book, folder, state, memory.mark_of(book._db.conn))
    return tuple(f"{one.what}: {one.why}. {one.remedy}".strip() for one in damage)
