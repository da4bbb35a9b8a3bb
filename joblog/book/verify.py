"""Whether the book is as it was written: every row, every original; and what mends what is not."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from secrets import token_hex
from typing import TYPE_CHECKING

from joblog.book import media, seals, searching
from joblog.book.database import Database
from joblog.book.errors import BookError
from joblog.book.making import FILE, MEDIA, OWNER_ONLY
from joblog.book.rows import Row, moment_text
from joblog.book.schema import WAIT, operating_system_words, plainly

if TYPE_CHECKING:
    from joblog.book.store import Book

AT_A_GLANCE = 32 << 20
"""Bytes of originals that `glance` looks at: a fraction of a second."""
FRESH = timedelta(days=30)
"""An original that was whole so short ago is not looked at again by itself."""


@dataclass(frozen=True, slots=True)
class Damage:
    """Something in the book that is not as it was written."""

    what: str
    """Such as "entry 12" or "recording memo.m4a"."""
    why: str
    remedy: str
    """What a person can do, as a sentence."""
    figures: bool = False
    """Whether a figure of some job may be wrong, or lack something, for it."""
    shown: bool = False
    """Whether it stands among the entries, in doubt, until a person settles it there."""
    table: str = ""
    """The table of a row that is damaged or missing; "" for an original."""
    key: str = ""
    """The key of the row there; of an original, its SHA-256."""
    again: str = ""
    """Where it can be had again, such as "the backup in /media/stick"; "" for nowhere."""


def verify(book: Book) -> Iterator[Damage]:
    """All that is damaged in the book: its structure, every row, every original.

    It reads everything, once. What is whole is noted, for `glance`. Raises `BookError`.
    """
    from joblog.book import fits

    book._sound.look_at_all()
    yield from damaged_rows(book, tuple(seals.tables(book._db)))
    yield from fits.misfits(book)
    _make_anew(book)
    whole: list[str] = []
    try:
        for original in originals(book):
            if found := _look_at(book, original):
                yield found
            else:
                whole.append(original["sha256"])
    finally:
        _note(book, whole)


def glance(book: Book, most: int = AT_A_GLANCE) -> tuple[Damage, ...]:
    """The damaged ones among a few originals, those that were not looked at for longest.

    No more than `most` bytes are read; none that was seen whole within thirty days.
    """
    since = moment_text(datetime.now(UTC) - FRESH)
    found, whole = [], []
    for original in originals(book):
        if (original["seen"] or "") > since or most <= 0:
            break
        most -= original["bytes"]
        if damage := _look_at(book, original):
            found.append(damage)
        else:
            whole.append(original["sha256"])
    _note(book, whole)
    return tuple(found)


def damaged_rows(book: Book, tables: tuple[str, ...]) -> Iterator[Damage]:
    """The rows of these tables that are not as they were written."""
    for table in tables:
        for key, gone in sorted(book._hurt(table).items()):
            words = WORDS.get(table, OTHER)
            why = "its line in the book is gone" if gone else "its line in the book is damaged"
            shown = table in SHOWN and not (table == "entry" and gone)
            remedy = words.remedy if not gone or table in SHOWN else f"{words.remedy} {ACCEPT}"
            yield Damage(
                words.name(book, table, key), why, remedy, words.figures, shown, table, key
            )
    if book._sound.saved:
        yield Damage(
            str(book.folder / FILE),
            "its structure is damaged; what can be read is read, and nothing is written in it",
            "Say joblog copy FOLDER; that makes a whole book of all that can be read.",
            figures=False,
        )


def _make_anew(book: Book) -> None:
    """What is searched in, and which photos belong to what, is derived from the rest; making it
    anew loses nothing. A taking in that was killed leaves ties that are behind."""
    from joblog.book.ties import tie_photos

    if book._sound.saved:
        return
    if not searching.in_step(book._db):
        with book._writing():
            searching.make_anew(book._db)
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
    if place.is_file() and media.fingerprint(place) == sha256:
        return False
    stowed = media.stow(book.store, path)
    if stowed.sha256 != sha256:
        media.discard(book.store, stowed)
        raise BookError(f"{path}: changed while it was being read. Add it again.")
    if book.store / stowed.media != place:  # The same bytes under another ending.
        if place.exists():
            media.put_aside(book.store, place)
        (book.store / stowed.media).replace(place)
    _note(book, [sha256])
    return True


def accept(book: Book) -> tuple[Damage, ...]:
    """Takes the rows as they now read for good, after a person has looked at them; which they were.

    Rows that are gone are asked for no more, and what does not fit is as it is.
    """
    from joblog.book import fits

    found = *damaged_rows(book, tuple(seals.tables(book._db))), *fits.misfits(book)
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
    from joblog.book.store import Book

    with plainly(folder):
        if folder.exists():
            raise BookError(f"{folder}: is there already. Nothing was changed; name a new folder.")
        folder.parent.mkdir(parents=True, exist_ok=True)
        passing = folder.parent / f"{folder.name}.{token_hex(4)}.new"
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
    with Book.open(passing) as written:
        damage = tuple(verify(written))
    with plainly(folder):
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
        why = "its original in the book is missing"
    except OSError as error:
        why = f"its original cannot be read: {operating_system_words(error)}"
        return Damage(what, why, GOOD_FILE, key=original["sha256"])
    return Damage(what, why, GOOD_FILE, key=original["sha256"])


def _note(book: Book, whole: Sequence[str]) -> None:
    if not whole or book._sound.saved:
        return
    now = moment_text(datetime.now(UTC))
    # Only a note: while another program writes, or the disk is full, it is made the next time.
    book._db.execute("PRAGMA busy_timeout = 0")
    with suppress(BookError), book._writing(decides=False):
        for sha256 in whole:
            book._db.execute("INSERT OR REPLACE INTO seen_whole VALUES (?, ?)", [sha256, now])
    book._db.execute(f"PRAGMA busy_timeout = {int(WAIT * 1000)}")


# --- what a row is called ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Words:
    name: Callable[[Book, str, str], str]
    remedy: str
    figures: bool = True


def _called(pattern: str) -> Callable[[Book, str, str], str]:
    """Names a row by the parts of its key."""

    def name(book: Book, table: str, key: str) -> str:
        return pattern.format(*key.split("|"), *[""] * 4)

    return name


def _by_name(pattern: str, column: str = "name") -> Callable[[Book, str, str], str]:
    """Names a row by what is legible of its name, and its place."""

    def name(book: Book, table: str, key: str) -> str:
        columns = seals.tables(book._db)[table]
        sql = f"SELECT {column} AS name FROM {table} WHERE {seals.key(columns)} = ?"
        found = book._rows(sql, key)
        return pattern.format(found[0]["name"] if found else key.rpartition("|")[2])

    return name


GOOD_FILE = "Add the good file again with joblog add; the damaged one is kept aside."
ACCEPT = "If it cannot be had again, say joblog check --accept."
SHOWN = frozenset({"entry", "entry_version", "doubt"})
_SETTLE = "It counts nowhere until you settle it with joblog review."
_PLAN = "Load the plan again with joblog plan FILE."
_CATALOG = "Set it again with joblog catalog."
_PAST = "Add the earlier jobs again with joblog rates --add FILE."
_NO_FIGURE = "No figure rests on it. Take it from a copy, or say joblog check --accept."
OTHER = _Words(lambda book, table, key: f"{table} {key}", _NO_FIGURE, figures=False)
WORDS: dict[str, _Words] = {
    "job": _Words(_by_name("job {}"), f"Look at its name, zone and places. {ACCEPT}"),
    "entry": _Words(_called("entry {0}"), _SETTLE),
    "entry_version": _Words(_called("entry {0}, version {1}"), _SETTLE),
    "doubt": _Words(_called("a doubt about entry {0}"), _SETTLE),
    "planned_item": _Words(_by_name("planned item {}"), _PLAN),
    "planned_task": _Words(_by_name("planned task {}"), _PLAN),
    "planned_place": _Words(_by_name("planned place {}"), _PLAN),
    "catalog_item": _Words(_by_name("catalog item {}"), _CATALOG),
    "catalog_task": _Words(_by_name("catalog task {}"), _CATALOG),
    "closing": _Words(_called("closing {0}"), f"Close the job again with joblog close. {ACCEPT}"),
    "closing_undone": _Words(
        _called("closing {0}, that it was taken back"), f"Close the job again. {ACCEPT}"
    ),
    "bid": _Words(_called("bid {0}"), f"Make the bid again with joblog bid. {ACCEPT}"),
    "bid_undone": _Words(
        _called("bid {0}, that it was taken back"), f"Undo the bid again. {ACCEPT}"
    ),
    "house": _Words(
        _called("house {0}"), f"Describe the house again with joblog house. {ACCEPT}", figures=False
    ),
    "house_undone": _Words(
        _called("house {0}, that it was taken back"),
        f"Undo the house again. {ACCEPT}",
        figures=False,
    ),
    "signing": _Words(
        _called("the signature of {1}"), f"Sign the day off again. {ACCEPT}", figures=False
    ),
    "past_use": _Words(_by_name("earlier job {}", "job"), _PAST),
    "past_work": _Words(_by_name("earlier job {}", "job"), _PAST),
    "recording": _Words(_by_name("recording {}"), _NO_FIGURE, figures=False),
    "photo": _Words(_by_name("photo {}"), _NO_FIGURE, figures=False),
    "track": _Words(_by_name("track log {}"), _NO_FIGURE, figures=False),
    "fence": _Words(
        _called("the fence of job {0}"), f"Set it again with joblog fence. {ACCEPT}", figures=False
    ),
    "utterance": _Words(_called("utterance {0}"), _NO_FIGURE, figures=False),
    "hearing": _Words(_called("what was heard in utterance {0}"), _NO_FIGURE, figures=False),
    "clock": _Words(_called("what the clock of {1} was off by on {2}"), _NO_FIGURE, figures=False),
    "hand_clock": _Words(_called("the clock set for {1} on {2}"), _NO_FIGURE, figures=False),
    "tie": _Words(_called("a photo's tie to entry {1}"), _NO_FIGURE, figures=False),
}
IN_THE_WAY = (
    "job", "entry", "planned_item", "planned_task", "planned_place", "catalog_item", "catalog_task"
)  # fmt: skip
"""Tables without which the figures of a job cannot be right, and that no entry stands for."""
FIGURES = tuple(table for table, words in WORDS.items() if words.figures)
"""The tables that figures rest on."""
