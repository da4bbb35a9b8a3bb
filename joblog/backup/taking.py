"""Making a backup: what is not there yet is written, read again, and then named in a new state."""

from __future__ import annotations

import errno
import hashlib
import os
import re
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, closing, contextmanager, nullcontext, suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from itertools import chain, islice
from pathlib import Path

from filelock import FileLock, Timeout

import joblog
from joblog.backup import descent, looking_over, memory
from joblog.backup.assembling import PIECE, parity_of
from joblog.backup.medium import (
    BLOCK,
    FOLDER,
    Medium,
    Writing,
    blocks,
    is_backup,
    missing,
    room,
)
from joblog.backup.nouns import Far, Kept, Outcome, Progress, State, nobody
from joblog.backup.passing import passing_in
from joblog.backup.pruning import prune
from joblog.backup.read_me import READ_ME_TEXT
from joblog.backup.said import counts_told, others_told, size_told
from joblog.backup.stated import (
    line_of,
    listed,
    may_be_called,
    states_in,
    with_damaged_put_aside,
    write_state,
)
from joblog.book import Book, BookError, media, schema
from joblog.book.making import FILE, MEDIA

LARGEST = 1 << 30
"""Bytes of an original that make an object: FAT holds no file of 4 GB."""
BESIDE = ("*.toml", "listening/*.wav", "days/*", "papers/*", f"{MEDIA}/{media.DAMAGED}/*")
"""What else in the folder of a book is a person's."""


def back_up(
    book: Book,
    folder: Path | None = None,
    *,
    keep: int | None = None,
    anew: bool = False,
    whole: bool = False,
    tell: Progress = nobody,
) -> Outcome:
    """Keeps the book as it now is in a folder, that of the last time where none is named.

    Killed at any instant, what was there stays good, and the next one goes on. `keep`: of the
    states, so many and the last of each month stay. `anew` begins one where the last is not to be
    found any more. `whole` reads everything that lies there, not a share. Raises `BookError`.
    """
    folder = (folder or memory.last_folder(book)).absolute()
    memory.identity(book)  # A book that has none yet gets it before it is copied.
    with _alone(book), _plainly(folder):
        _must_fit(book, folder, anew=anew)
        tell(Far("looking round"))
        before = descent.begin(book)
        medium = Medium.begun(folder)
        with medium.alone(), _snapshot(book) as file:
            medium.explain(READ_ME_TEXT)
            earlier, _ = states_in(medium.place)
            _must_be_of(book, medium, earlier)
            earlier, bad = with_damaged_put_aside(medium)
            plan = _plan(book, file, medium, earlier, before)
            if keep is not None and earlier and plan.bytes > room(medium.place):
                prune(medium, earlier[0], keep, trusted=True)
                earlier, _ = states_in(medium.place)
            _must_have_room(medium, plan.bytes, _MAKE_ROOM if earlier[1:] else "Take a larger one.")
            state, writing, lacking = _write(book, file, medium, plan, earlier[:1], tell)
            with suppress(BookError) if book._sound.saved else nullcontext():
                memory.remember(book, folder, state, plan.mark)
            all_of_them = earlier if state in earlier else (state, *earlier)
            ends = descent.parted(all_of_them)
            others = descent.others(ends, before, state)
            descent.settle(book, before, state, others)
            looked = looking_over.look_over(book, medium, whole=whole, tell=tell)
            mended, lost = _mend(book, file, medium, plan, earlier, looked.damaged)
            hurt = (_HURT,) if book._sound.saved or book.damage() else ()
            damaged = (*bad, *hurt, *lacking, *looking_over.told(medium, lost, earlier))
            if keep is not None:
                damaged += prune(medium, state, keep, trusted=not (lacking or hurt))
    return Outcome(
        medium.place, state, state not in earlier, writing.objects, writing.length,
        looked.bytes, looked.since, damaged, mended,
        not earlier and _same_disk(book.folder, medium.place),
        others_told(folder, others, ends),
    )  # fmt: skip


@contextmanager
def _alone(book: Book) -> Iterator[None]:
    with schema.plainly(book.folder):
        lock = FileLock(book.folder / f"{FILE}.backup.lock", timeout=0, mode=0o600)
        try:
            lock.acquire()
        except Timeout:
            raise BookError(
                f"{book.folder}: is being backed up already. Wait until that is done."
            ) from None
    try:
        yield
    finally:
        lock.release()


@contextmanager
def _plainly(folder: Path) -> Iterator[None]:
    try:
        with schema.plainly(folder):
            yield
    except BookError as error:
        cause = error.__cause__
        if isinstance(cause, OSError) and cause.errno in (errno.ENOSPC, errno.EDQUOT):
            raise BookError(
                f"{folder}: is full. {_MAKE_ROOM} What was there before is as it was."
            ) from cause
        if isinstance(cause, FileNotFoundError) and not folder.is_dir():
            raise BookError(
                f"{folder}: is not there any more. Plug it in and say joblog backup again; what was"
                " there before is as it was."
            ) from cause
        raise


_HURT = (
    "the book itself is damaged, and was backed up as far as it can be read; the backups before are"
    " as they were. Say joblog check --mend"
)
_MAKE_ROOM = "Take a larger one, or say joblog backup FOLDER --keep 10, which drops older backups."


def _must_fit(book: Book, folder: Path, *, anew: bool) -> None:
    if folder.resolve().is_relative_to(book.folder.resolve()):
        raise BookError(f"{folder}: lies in the book itself. Name a folder elsewhere, or a stick.")
    last = memory.last_at(book, folder)
    if last and folder.is_dir() and not anew and not any(map(is_backup, (folder, folder / FOLDER))):
        raise BookError(
            f"{folder}: held the backup of {last}, and it is not there now. Is the right stick"
            " plugged in? To begin a new backup there, say joblog backup FOLDER --anew."
        )


def _must_be_of(book: Book, medium: Medium, earlier: tuple[State, ...]) -> None:
    if earlier and earlier[0].book != memory.identity(book):
        raise BookError(
            f"{medium.place}: is the backup of another book ({counts_told(earlier[0])}). Nothing"
            " was changed; name another folder."
        )


def _must_have_room(medium: Medium, length: int, remedy: str) -> None:
    free = room(medium.place)
    if length > free:
        raise BookError(
            f"{medium.place}: has no room: {size_told(length - free)} more are needed than are"
            f" free. Nothing of the book was written. {remedy}"
        )


def _same_disk(one: Path, other: Path) -> bool:
    return one.stat().st_dev == other.stat().st_dev


# --- what there is to write -------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Plan:
    at: datetime
    number: int
    version: int
    database: Kept
    originals: tuple[Kept, ...]
    """In the order of the list before, so that its pieces stay as they are."""
    beside: dict[str, Kept]
    """By name, what lay beside the originals in the state before."""
    called: dict[str, str]
    """What a person calls each original."""
    counts: dict[str, int]
    before: descent.Descent
    of: str
    mark: memory.Mark
    bytes: int
    """To be written, as far as that is known before."""


def _plan(
    book: Book, file: Path, medium: Medium, earlier: tuple[State, ...], before: descent.Descent
) -> _Plan:
    database = _cut(file)
    size = PIECE * len(missing(medium, database))
    known = {one.name: one for one in listed(medium, earlier[0])} if earlier else {}
    with closing(sqlite3.connect(file)) as db:
        rows = db.execute(_ORIGINALS).fetchall()
        counts = {sort: db.execute(count).fetchone()[0] for sort, count in _COUNTS.items()}
        version = schema.version(db)
        mark = memory.mark_of(db)
    there = {f"{MEDIA}/{place}": (sha256, length) for sha256, _, place, length in rows}
    originals = [one for name, one in known.items() if name in there]
    originals += [
        Kept(name, sha256, length, (sha256,))
        for name, (sha256, length) in there.items()
        if name not in known
    ]
    size += sum(one.bytes for one in originals if not _holds(medium, one))
    return _Plan(
        datetime.now(UTC), earlier[0].number + 1 if earlier else 1, version, database,
        tuple(originals), {one.name: one for state in earlier[:1] for one in state.beside},
        {f"{MEDIA}/{place}": name for _, name, place, _ in rows}, counts, before,
        descent.where(book), mark, size,
    )  # fmt: skip


_ORIGINALS = f"{media.in_all('sha256, name, media, bytes')} ORDER BY sha256"
_COUNTS = {
    "jobs": "SELECT count(*) FROM job",
    "entries": "SELECT count(*) FROM entry",
    "recordings": "SELECT count(*) FROM recording",
    "photos": "SELECT count(*) FROM photo",
}


def _holds(medium: Medium, one: Kept) -> bool:
    length = one.bytes if one.pieces == (one.sha256,) else None
    return all(medium.has(piece, length) for piece in one.pieces)


def _cut(file: Path) -> Kept:
    """The book's file in pieces, each by its SHA-256, and their parities."""
    digest, pieces, length = hashlib.sha256(), [], 0
    for piece in blocks(file, PIECE):
        digest.update(piece)
        length += len(piece)
        pieces.append(hashlib.sha256(piece).hexdigest())
    parity = (hashlib.sha256(one).hexdigest() for one in parity_of(blocks(file, PIECE), PIECE))
    return Kept(FILE, digest.hexdigest(), length, tuple(pieces), 0, tuple(parity), PIECE)


@contextmanager
def _snapshot(book: Book) -> Iterator[Path]:
    """A copy of the book's file that fits together, whatever else is writing in it."""
    with ExitStack() as until:
        with schema.plainly(book.folder):
            file = until.enter_context(passing_in(book)) / FILE
            os.close(os.open(file, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
            with closing(sqlite3.connect(file)) as target:
                # It is gone again in a moment, and need not outlive a pulled plug.
                target.execute("PRAGMA synchronous = OFF")
                book._db.conn.backup(target)
        yield file


# --- writing it -------------------------------------------------------------------------------


def _write(
    book: Book,
    file: Path,
    medium: Medium,
    plan: _Plan,
    last: tuple[State, ...],
    tell: Progress,
) -> tuple[State, Writing, tuple[str, ...]]:
    lacking: list[str] = []
    with Writing(medium) as writing:
        originals = tuple(_put_originals(book, writing, plan, lacking, tell))
        beside = tuple(_put_beside(book, writing, plan))
        listing = _put_list(writing, originals)
        for state in last:
            if _says_all(medium, state, plan, listing, beside, lacking):
                return state, writing, tuple(lacking)
        _put_pieces(file, writing, plan, tell)
        tell(Far("reading again", writing.length, writing.length))
    state = write_state(
        medium,
        State(
            "", plan.at, plan.number, memory.identity(book), joblog.__version__, plan.version,
            plan.database, listing, beside, plan.counts, plan.mark.exact, tuple(lacking),
            plan.before.name, plan.before.names, plan.of,
        ),
    )  # fmt: skip
    return state, writing, tuple(lacking)


def _says_all(
    medium: Medium,
    state: State,
    plan: _Plan,
    listing: Kept,
    beside: tuple[Kept, ...],
    lacking: list[str],
) -> bool:
    """Whether the last state is that of the book as it is now, and whole as far as can be seen."""
    then = (state.mark, state.version, state.originals, state.lacking)
    files = {(one.name, one.sha256) for one in state.beside}
    return (
        then == (plan.mark.exact, plan.version, listing, tuple(lacking))
        and files == {(one.name, one.sha256) for one in beside}
        and not missing(medium, state.database)
    )


def _mend(
    book: Book,
    file: Path,
    medium: Medium,
    plan: _Plan,
    earlier: Iterable[State],
    damaged: Iterable[str],
) -> tuple[int, tuple[str, ...]]:
    """Writes anew what was damaged on the medium, from the book; how much of it, and what of it the
    book does not have any more."""
    hurt = {*damaged, *looking_over.gone(medium, earlier)}
    if hurt:
        with Writing(medium) as writing:
            originals = tuple(_put_originals(book, writing, plan, [], nobody))
            tuple(_put_beside(book, writing, plan))
            _put_pieces(file, writing, plan, nobody)
            _put_list(writing, originals)
        looking_over.recover(medium, earlier)
    lost = tuple(one for one in hurt if not medium.has(one))
    return len(hurt) - len(lost), lost


def _put_originals(
    book: Book, writing: Writing, plan: _Plan, lacking: list[str], tell: Progress
) -> Iterator[Kept]:
    for one in plan.originals:
        if _holds(writing.medium, one):
            yield one
            continue
        tell(Far("writing", writing.length, plan.bytes))
        try:
            yield _put(writing, one, book.folder / one.name)
        except _UnreadableError as why:
            lacking.append(f"{plan.called[one.name]}: {why}")
            yield one


def _put(writing: Writing, one: Kept, path: Path) -> Kept:
    """Writes an original as an object, or as several where it is large; how it is kept then."""
    if one.bytes <= LARGEST:
        if writing.put(_of_the_book(path), one.sha256, _ending(path)) != one.sha256:
            raise _UnreadableError(_DAMAGED)
        return one
    kept = _put_file(writing, path, one.name)
    if kept.sha256 != one.sha256:
        raise _UnreadableError(_DAMAGED)
    return kept


def _put_beside(book: Book, writing: Writing, plan: _Plan) -> Iterator[Kept]:
    for pattern in BESIDE:
        for path in sorted(book.folder.glob(pattern)):
            called = path.relative_to(book.folder).as_posix()
            if not path.is_file() or path.is_symlink() or not may_be_called(called):
                continue
            with suppress(_UnreadableError):  # What waited to be kept is in the book by now.
                now, name = path.stat(), path.relative_to(book.folder).as_posix()
                before = plan.beside.get(name)
                if before and _is_as_before(path, before) and not missing(writing.medium, before):
                    yield before
                else:
                    yield replace(_put_file(writing, path, name), written=now.st_mtime_ns)


def _is_as_before(path: Path, before: Kept) -> bool:
    now = path.stat()
    return (before.bytes, before.written) == (now.st_size, now.st_mtime_ns)


def _put_file(writing: Writing, path: Path, name: str) -> Kept:
    whole, pieces, length = hashlib.sha256(), [], 0

    def seen(read: Iterable[bytes]) -> Iterator[bytes]:
        nonlocal length
        for block in read:
            whole.update(block)
            length += len(block)
            yield block

    read = seen(_of_the_book(path))
    for first in chain(islice(read, 1), read):
        rest = islice(read, LARGEST // BLOCK - 1)
        pieces.append(writing.put(chain([first], rest), ending=_ending(path)))
    return Kept(name, whole.hexdigest(), length, tuple(pieces))


def _put_pieces(file: Path, writing: Writing, plan: _Plan, tell: Progress) -> None:
    names = (*plan.database.pieces, *plan.database.parity)
    pieces = chain(blocks(file, PIECE), parity_of(blocks(file, PIECE), PIECE))
    for sha256, piece in zip(names, pieces, strict=True):
        if not writing.medium.has(sha256, len(piece)):
            tell(Far("writing", writing.length, plan.bytes))
            writing.put([piece], sha256)


def _put_list(writing: Writing, kept: Iterable[Kept]) -> Kept:
    text, pieces = b"".join(map(line_of, kept)), []
    for begin in range(0, len(text), PIECE):
        piece = text[begin : begin + PIECE]
        pieces.append(hashlib.sha256(piece).hexdigest())
        if not writing.medium.has(pieces[-1], len(piece)):
            writing.put([piece], pieces[-1])
    return Kept("originals", hashlib.sha256(text).hexdigest(), len(text), tuple(pieces))


def _ending(path: Path) -> str:
    """So that a person can open the object with what opens such files."""
    return path.suffix.lower() if re.fullmatch(r"\.[a-z0-9]{1,8}", path.suffix.lower()) else ""


class _UnreadableError(Exception):
    """A file of the book cannot be backed up; why, in words."""


def _of_the_book(path: Path) -> Iterator[bytes]:
    """What is wrong with the book's own disk is told apart from what is wrong with the medium."""
    try:
        yield from blocks(path)
    except FileNotFoundError:
        raise _UnreadableError(_MISSING) from None
    except OSError as error:
        why = schema.operating_system_words(error)
        raise _UnreadableError(f"its original in the book cannot be read: {why}") from error


_DAMAGED = "its original in the book is damaged, and no backup here has it. Say joblog check."
_MISSING = "its original in the book is missing, and no backup here has it. Say joblog check."
