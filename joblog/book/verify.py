"""Whether the book is as it was written: every row, every original; and what mends what is not."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

from joblog.book import fits, media, seals, searching, seen
from joblog.book.beside import passing_beside
from joblog.book.database import Database
from joblog.book.errors import BookError
from joblog.book.hurt import Damage as Damage
from joblog.book.hurt import damaged_rows as damaged_rows
from joblog.book.hurt import nothing_in_it, rows, structure
from joblog.book.making import FILE, MEDIA, OWNER_ONLY
from joblog.book.rows import Row, moment_text
from joblog.book.schema import operating_system_words, plainly
from joblog.book.store import TURNED_BACK, Book
from joblog.book.ties import tie_photos

ROWS = 20_000
"""So many rows are looked at in turn: a tenth of a second."""
AT_A_GLANCE = 32 << 20
"""Bytes of originals that `glance` looks at: a fraction of a second."""
ADD_IT = "Add the good file again with joblog add, or say joblog check --mend --from FILE."
GOOD_FILE = f"{ADD_IT} The damaged one is kept aside."
FRESH = timedelta(days=30)
"""An original that was whole so short ago is not looked at again by itself."""


def verify(book: Book) -> Iterator[Damage]:
    """All that is damaged in the book: its structure, every row, every original, and what does not
    fit together.

    It reads everything, once. What is whole is noted, for `glance`. Raises `BookError`.
    """
    book._sound.look_at_all()
    whole: list[str] = []
    turned, sound = book._sound.turned_pages(), True
    try:
        for table in seals.tables(book._db):
            found = tuple(rows(book, table))
            yield from found
            sound = sound and not found
            whole += [] if found else [seen.rows_of(table)]
        if book._sound.saved:
            yield structure(book)
        else:
            whole.append(seen.STRUCTURE)
        for look in fits.LOOKS:
            unfit = tuple(fits.misfits(book, (look,)))
            yield from unfit
            whole += [] if unfit else [seen.fits_in(look)]
        if book.setting(TURNED_BACK) == "lost":
            yield _LOST
        _make_anew(book)
        if turned and sound and not (book._sound.saved or book._sound.made_anew):
            book.set_setting(TURNED_PAGES, json.dumps(turned))
        if (known := book.setting(TURNED_PAGES)) is not None:
            yield nothing_in_it(book, json.loads(known))
        for original in originals(book):
            if damage := _look_at(book, original):
                yield damage
            else:
                whole.append(original["sha256"])
    finally:
        seen.note(book, whole)


TURNED_PAGES = "turned pages"
"""The setting that says which pages of the file changed by themselves, until it is written anew."""
_LOST = Damage(
    "what was written last",
    "some of it was lost when the disk damaged it, before it was in the book",
    "Look whether the last entries are there and say them again, then joblog check --accept.",
    figures=True,
)


def glance(book: Book, most: int = AT_A_GLANCE, *, all_parts: bool = False) -> tuple[Damage, ...]:
    """What is damaged of a little of the book, that which was not looked at for longest.

    No more than `most` bytes of originals are read, and of the rest one part: some rows of a table,
    or whether all fits in one way. Without `all_parts` that is left out where the book's file is
    longer. Nothing is looked at that was seen whole within thirty days.
    """
    short = (book.folder / FILE).stat().st_size <= most
    part = _a_part(book) if all_parts or short else ()
    return (*part, *_some_originals(book, most))


def _some_originals(book: Book, most: int) -> Iterator[Damage]:
    since = moment_text(datetime.now(UTC) - FRESH)
    whole = []
    for original in originals(book):
        if (original["seen"] or "") > since or most <= 0:
            break
        most -= original["bytes"]
        if damage := _look_at(book, original):
            yield damage
        else:
            whole.append(original["sha256"])
    seen.note(book, whole)


def _a_part(book: Book) -> Iterator[Damage]:
    """What is damaged in the part, which is no original, that was not seen for longest."""
    since = moment_text(datetime.now(UTC) - FRESH)
    at = seen.moments(book)
    part = min(seen.parts(book), key=lambda part: at.get(part, ""))
    if at.get(part, "") > since or book._sound.saved:
        return
    look = seen.look_of(part)
    found: tuple[Damage, ...] = ()
    if part == seen.STRUCTURE:
        with plainly(book.folder):
            if not book._sound.is_whole():
                found = (structure(book),)
    elif look in fits.LOOKS:
        found = tuple(fits.misfits(book, (look,)))
    else:
        yield from _some_rows(book, part, at)
        return
    yield from found
    if not found:
        seen.note(book, [part])


def _some_rows(book: Book, part: str, at: Mapping[str, str]) -> Iterator[Damage]:
    """Those damaged of a table, where any is among the rows that come next in it."""
    table, so_far = seen.table_of(part), f"{part} so far"
    done = int(at.get(so_far, "0"))
    with plainly(book.folder):
        held, hurt = seals.some(book._db, table, done, ROWS)
    if hurt:
        yield from damaged_rows(book, (table,))
    elif held == ROWS:
        seen.note(book, [so_far], str(done + held))
    else:
        seen.note(book, [so_far], "0")
        seen.note(book, [part])


def _make_anew(book: Book) -> None:
    """What is searched in, and which photos belong to what, is derived from the rest; making it
    anew loses nothing. A taking in that was killed leaves ties that are behind."""
    if book._sound.saved:
        return
    with plainly(book.folder):
        in_step = searching.in_step(book._db)
    if not in_step:
        with book._writing():
            searching.make_anew(book._db)
        book._sound.made_anew.append("what is searched in")
    for row in book._rows(_TIED_WRONGLY):
        with suppress(BookError):  # Those of a damaged job stay as they are.
            tie_photos(book, row["name"])


_TIED_WRONGLY = """
SELECT DISTINCT job.name FROM tie LEFT JOIN photo ON sha256 = photo
LEFT JOIN entry ON entry.id = tie.entry LEFT JOIN entry_version now ON now.entry = entry.id
    AND version = (SELECT max(version) FROM entry_version WHERE entry = entry.id)
JOIN job ON job.id IN (photo.job, entry.job)
WHERE photo.job IS NOT entry.job OR photo.standing IS NOT 'kept' OR now.standing IS 'dropped'
"""
"""The jobs with a tie between what is in two jobs, was withdrawn or was dropped. To tie all photos
anew, only to see that nothing changes, would take a minute in a book of some thousands a day."""


def heal(book: Book, path: Path, sha256: str) -> bool:
    """Puts the good file in the place of a damaged or missing original; whether that was needed.

    `path` is a file of that SHA-256. The damaged one is kept in `media/damaged`. Raises OSError,
    and `BookError` where the book holds no such original.
    """
    place = book.media(sha256)
    if media.is_whole(place, sha256):
        return False
    stowed = media.stow(book.store, path)
    if stowed.sha256 != sha256:
        media.discard(book.store, stowed)
        raise BookError(f"{path}: changed while it was being read. Add it again.")
    if book.store / stowed.media != place:  # The same bytes under another ending.
        if place.exists():
            media.put_aside(book.store, place)
        (book.store / stowed.media).replace(place)
    seen.note(book, [sha256])
    return True


def accept(book: Book) -> tuple[Damage, ...]:
    """Takes the rows as they now read for good, after a person has looked at them; which they were.

    Rows that are gone are asked for no more, and what does not fit is as it is.
    """
    found = (*damaged_rows(book, tuple(seals.tables(book._db))), *fits.misfits(book))
    if book.setting(TURNED_BACK) == "lost":
        found = (*found, _LOST)
        book.set_setting(TURNED_BACK, None)
    book.set_setting(TURNED_PAGES, None)
    with book._writing():
        seals.seal_all(book._db)
        fits.accept(book)  # What rests on a row that is taken as gone does not fit only now.
    return found


def copy(book: Book, folder: Path) -> tuple[Damage, ...]:
    """Writes a copy of the book that fits together, even while others write; its damage, if any.

    The originals are held against their SHA-256 when they are written. Of a damaged book it makes
    a whole one of all that can be read; what is damaged stays named in it. Killed, it leaves no
    `folder`. Raises `BookError`; a folder that is there already is left as it is.
    """
    with plainly(folder):
        if folder.exists():
            raise BookError(f"{folder}: is there already. Nothing was changed; name a new folder.")
        folder.parent.mkdir(parents=True, exist_ok=True)
        passing = passing_beside(folder)
        passing.mkdir(mode=OWNER_ONLY[0])
        os.close(os.open(passing / FILE, os.O_CREAT | os.O_WRONLY, OWNER_ONLY[1]))
        target = Database(passing / FILE)
        try:
            book._db.conn.backup(target.conn)
        finally:
            target.close()
        _copy_originals(book, passing / MEDIA)
        for one in book.folder.glob("*.toml"):
            with open(passing / one.name, "xb", opener=media.for_its_owner) as writing:
                writing.write(one.read_bytes())
                writing.flush()
                os.fsync(writing.fileno())
    with Book.open(passing) as written:
        damage = tuple(verify(written))
    with plainly(folder):
        media.settle(passing)
        passing.rename(folder)
        media.settle(folder.parent)
    return damage


def _copy_originals(book: Book, store: Path) -> None:
    for original in originals(book):
        source, place = book.store / original["media"], store / original["media"]
        if not source.is_file():
            continue  # It is named by `verify`.
        stowed = media.stow(store, source)
        if store / stowed.media != place:  # It is damaged, and goes along as it is.
            place.parent.mkdir(mode=OWNER_ONLY[0], parents=True, exist_ok=True)
            (store / stowed.media).replace(place)


def originals(book: Book) -> list[Row]:
    """Every original, with when it was last seen whole; the one longest not looked at first."""
    return book._rows(
        "SELECT original.*, job.name AS job, seen_whole.at AS seen FROM"
        " (SELECT 'recording' AS sort, sha256, job, name, media, bytes FROM recording"
        " UNION ALL SELECT 'photo', sha256, job, name, media, bytes FROM photo"
        " UNION ALL SELECT 'track log', sha256, job, name, media, bytes FROM track) original"
        " LEFT JOIN job ON job.id = original.job"
        " LEFT JOIN seen_whole ON seen_whole.sha256 = original.sha256 ORDER BY seen, sha256"
    )


def _look_at(book: Book, original: Row) -> Damage | None:
    place = book.store / original["media"]
    what = f"{original['sort']} {original['name']}"
    try:
        if media.fingerprint(place) == original["sha256"]:
            return None
        why = "its original in the book is damaged"
    except FileNotFoundError:
        return Damage(what, "its original in the book is missing", ADD_IT, key=original["sha256"])
    except OSError as error:
        why = f"its original cannot be read: {operating_system_words(error)}"
        return Damage(what, why, GOOD_FILE, key=original["sha256"])
    return Damage(what, why, GOOD_FILE, key=original["sha256"])
