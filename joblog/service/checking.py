"""Whether a book is as it was written, what mends it, and a copy of it that fits together."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from time import monotonic, sleep

from joblog import backup
from joblog.backup.said import counted
from joblog.book import Book, fits, mending, owner, seen, verify
from joblog.book.hurt import Damage as Damage
from joblog.book.mending import Mended as Mended
from joblog.book.store import TURNED_BACK
from joblog.local import moment_written
from joblog.service import keeping_safe
from joblog.service.errors import use_case

ROUNDS = 40
"""In so many, all of a small book is looked at."""
STEP = 0.1
"""Seconds after which it is seen that nobody waits any more."""
LITTLE = 8 << 20
"""Bytes of the latest backup that are read in passing."""


@use_case
def seen_damage(book: Book) -> tuple[Damage, ...]:
    """What can be seen of damage in passing: rows that figures rest on, and a little of the rest,
    that which was not looked at for longest."""
    return (*book.damage(), *verify.glance(book))


@dataclass(frozen=True, slots=True)
class Checked:
    """What came of looking at everything."""

    damage: tuple[Damage, ...]
    notes: tuple[str, ...]
    """What a person should know, and is no damage; a line each."""
    since: str
    """When all of it had been looked at before, in words."""


@use_case
def check(book: Book) -> tuple[Damage, ...]:
    """All that is damaged: every row and every original is read. Each tells where it can be had
    again."""
    return _found(book)


@use_case
def look_at_all(book: Book) -> Checked:
    """The same, with what else there is to know."""
    before = _since(book)
    found = _found(book)
    return Checked(found, tuple(_notes(book)), before)


@use_case
def mend(
    book: Book, files: Iterable[Path] = (), tell: Callable[[Mended], None] = lambda mended: None
) -> int:
    """Puts back all that can be had again, from the backups at hand and from `files`: good
    originals, folders of them, or backups. How many things that were."""
    named = tuple(files)
    count = 0
    with backup.Lookup(book, named) as lookup:
        for count, mended in enumerate(mending.mend(book, lookup, named), 1):  # noqa: B007
            tell(mended)
    return count


@use_case
def look_on(
    book: Book,
    tell: Callable[[Damage], None],
    going: Callable[[], bool] = lambda: True,
    rest: float = 0.0,
    rounds: int = ROUNDS,
) -> None:
    """Tells what is damaged of a little more of the book in each round, and of its latest backup;
    that which was not looked at for longest.

    For an evening, in a thread and with a book of its own: `rest` seconds between two rounds, and
    as long as it is `going`. What was whole is noted when it ends.
    """
    told: set[Damage] = set()
    with seen.later(book):
        for number in range(rounds):
            found = set(verify.glance(book, all_parts=True))
            if not number:
                found |= set(backup.glance(book, LITTLE))
            for damage in found - told:
                tell(damage)
            told |= found
            until = monotonic() + rest
            while going() and monotonic() < until:
                sleep(min(STEP, rest))
            if not going():
                return


@use_case
def accept_damage(book: Book) -> tuple[Damage, ...]:
    """Takes damaged rows as they now read, and what does not fit as it is, for good; which."""
    return verify.accept(book)


@use_case
def copy_book(book: Book, folder: Path) -> tuple[Damage, ...]:
    """Copies a book, its originals too, into a new folder, even while it is written in.

    What is damaged in the copy. Raises `ServiceError` for a folder that is there already.
    """
    return verify.copy(book, folder)


@use_case
def is_copied(book: Book, folder: Path) -> bool:
    """Whether exactly that copy is there already."""
    return backup.copied_already(book, folder)


def _found(book: Book) -> tuple[Damage, ...]:
    found = tuple(verify.verify(book))
    if not found:
        return ()
    with backup.Lookup(book) as lookup:
        return mending.to_be_had(book, found, lookup)


def _since(book: Book) -> str:
    before = seen.seen(book)
    if before.since is None:
        return "never"
    fresh = f"; {counted(before.fresh, 'originals')} came since" if before.fresh else ""
    return f"{moment_written(before.since.astimezone(), year=True)}{fresh}"


def _notes(book: Book) -> Iterable[str]:
    if book.setting(TURNED_BACK) == "turned back":
        book.set_setting(TURNED_BACK, None)
        yield (
            "what was written last, before joblog was stopped, was damaged on the disk, and was put"
            " right by its checksum. Have the disk looked at."
        )
    for what in book._sound.made_anew:
        yield f"{what}: was damaged, and is made anew; nothing is lost. Have the disk looked at."
    if strays := fits.strays(book):
        named = ", ".join(str(one) for one in strays[:_NAMED])
        more = f" and {len(strays) - _NAMED} more" if len(strays) > _NAMED else ""
        yield (
            f"{named}{more}: in the folder of the originals, and in no job. Left there;"
            " joblog add takes it in."
        )
    if places := owner.open_to_others(book.folder):
        yield (
            f"{places[0]}: others on this computer may read it. joblog check --mend lets only you."
        )
    if (due := keeping_safe.due(book)) is not None:
        yield due


_NAMED = 3
