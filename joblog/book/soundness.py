"""Which rows of an open book are not as they were written, and reading on without them."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, suppress
from datetime import UTC, datetime
from pathlib import Path

from joblog.book import definitions, last_writes, looked_at, pages, seals, searching
from joblog.book.database import Database
from joblog.book.errors import BookError
from joblog.book.making import MEDIA
from joblog.book.schema import MIGRATIONS, database, migrate, plainly, version, writing

HARMLESS = ("is never used", "Fragmentation of")
OF_AN_INDEX = ("missing from index", "entries in index", "entry in index")


def opened(file: Path) -> Soundness:
    """The database of a book, or what can be read of one whose structure is damaged.

    Raises `BookError`.
    """
    with plainly(file):
        turned_back = last_writes.put_right(file, file.parent / MEDIA)
    found = _opened(file)
    found.turned_back = turned_back
    return found


def _opened(file: Path) -> Soundness:
    try:
        db = database(file)
    except BookError as error:
        cause = error.__cause__
        if not isinstance(cause, UnicodeDecodeError | sqlite3.Error) or not malformed(cause):
            raise
    else:
        with suppress(UnicodeDecodeError, sqlite3.OperationalError):
            if not seals.definitions_changed(db):
                return Soundness(file, db)
        db.close()
    with plainly(file):
        return Soundness(file, None)


class Soundness:
    """Looks each table over when it is first read, unless it was sound lately (`looked_at`).

    `db` is what the book is read from.

    That is the file; or, where the file's own structure is damaged, what could be read of it, in
    memory. Nothing is written then: who adds to a damaged structure damages more.
    """

    def __init__(self, file: Path, db: Database | None) -> None:
        """Without `db`, which could not be opened, what can be read of the file."""
        self.saved = False
        self.made_anew: list[str] = []
        """What held nothing of its own, was damaged and was made anew, in words."""
        self.turned_back: last_writes.PutRight | None = None
        self._file = file
        self._found: dict[str, dict[str, bool]] = {}
        self._changes: dict[str, int] = {}
        self._looked_over = self._looked_at_all = False
        self._now = datetime.now(UTC)
        self._seen = {} if db is None else looked_at.lately(file, self._now)
        if db is None:
            self.save()
        else:
            self.db = db

    def of(self, table: str) -> dict[str, bool]:
        """The keys of its unsound rows; True for those that are gone."""
        if not self.saved and table not in self._seen:
            try:
                self._look_over()
                self._look_at(table)
            except sqlite3.DatabaseError as error:
                if not malformed(error):
                    raise
                self.save()
        found = self._found.get(table, {})
        if found:
            # A damaged text may be no text at all; it is shown, and counts nowhere.
            self.db.conn.text_factory = _as_far_as_legible
        return found

    def close(self) -> None:
        """Closes the database, and notes which tables were sound, for who opens it next."""
        self.db.close()
        if not self.saved:
            sound = {table: self._now for table, found in self._found.items() if not found}
            looked_at.note(self._file, {**sound, **self._seen})
            pages.note(self._file, long=self._looked_at_all)

    def look_at_all(self) -> None:
        """Trusts no earlier look."""
        self._seen = {}
        self._looked_at_all = True

    def is_whole(self) -> bool:
        """Looks the structure over; where it is damaged, it is read on in what can be read."""
        try:
            self._look_over()
        except sqlite3.DatabaseError as error:
            if not self.rescued(error):
                raise
        return not self.saved

    def turned_pages(self) -> tuple[int, ...]:
        """The pages of the file that have changed although nothing was written in it."""
        return () if self.saved else pages.turned(self._file)

    def write_anew(self) -> None:
        """Writes all pages of the file anew, of what is in it. Raises sqlite3.Error."""
        self.db.execute("VACUUM")

    def save(self) -> None:
        """Reads on in what can be read of the file; sqlite3.DatabaseError where nothing can."""
        saved = legible(self._file)
        with suppress(AttributeError):
            self.db.close()
        self.db, self.saved = saved, True
        self._found = seals.all_unsound(saved)
        saved.execute("PRAGMA query_only = ON")

    def write_back(self) -> None:
        """Puts what could be read in the place of the damaged file's content, in one transaction,
        and reads on in the file. Raises sqlite3.Error where the file is too damaged even for that.
        """
        with closing(sqlite3.connect(self._file)) as file:
            self.db.conn.backup(file)
        self.db.close()
        self.db, self.saved = database(self._file), False
        self._found, self._changes, self._looked_over = {}, {}, False

    def before_writing(self) -> None:
        """What was noted of the file as it lies is not true for long. Raises `BookError` where only
        what could be read is at hand."""
        if self.saved:
            raise BookError(
                f"{self._file}: its structure is damaged, so nothing is written in it. Say"
                " joblog copy FOLDER; that makes a whole book of all that can be read."
            )
        pages.forget(self._file)

    def rescued(self, error: sqlite3.Error) -> bool:
        """Whether it is read from now on in what can be read, because of this error."""
        if self.saved or not malformed(error):
            return False
        self.save()
        return True

    def _look_over(self) -> None:
        if self._looked_over:
            return
        said = _complaints(self.db)
        if said and all(any(words in line for words in OF_AN_INDEX) for line in said):
            # An index holds nothing that the rows do not; making it anew loses nothing.
            with suppress(sqlite3.OperationalError):
                self.db.execute("REINDEX")
                self.made_anew.append("an index of the book's file")
            said = _complaints(self.db)
        if said:
            raise sqlite3.DatabaseError(f"malformed: {said[0]}")
        self._looked_over = True

    def _look_at(self, table: str) -> None:
        changes = self.db.conn.total_changes
        known = self._found.get(table)
        # What this book writes itself is sound, so only what was damaged can have changed by it.
        if known is None or (known and changes != self._changes[table]):
            self._found[table] = seals.unsound(self.db, table)
            self._changes[table] = changes


def malformed(error: Exception) -> bool:
    """Whether SQLite says that the structure of the file is damaged."""
    signs = ("malformed", "already exists", "no such column", "no such table", "decode")
    return any(words in str(error) for words in signs)


def legible(file: Path) -> Database:
    """What can be read of a damaged file, with its seals, in memory.

    Rows are found from both ends of a table and by the keys that its seals name, whatever became of
    the tables' definitions. Raises sqlite3.DatabaseError where not even the first page can be read.
    """
    db = Database(sqlite3.connect(":memory:"))
    seals.know(db)
    searching.know(db)
    with closing(sqlite3.connect(f"{file.resolve().as_uri()}?mode=ro", uri=True)) as itself:
        itself.execute("PRAGMA temp_store = MEMORY")
        migrate(db, _version(itself))
        columns = seals.with_their_seals(db)
        with closing(_readable(itself, db)) as source:
            source.text_factory = _as_far_as_legible
            found = {
                table: dict(_scanned(source, table, seals.key(own)))
                for table, own in columns.items()
            }
            for of, one, *_ in list(found.get(seals.SEALED, {}).values()):
                if of in columns and one not in found[of]:
                    key = seals.key(columns[str(of)])
                    found[of].update(_by_key(source, str(of), key, str(one)))
    db.execute("BEGIN")
    for table, held in found.items():
        db.execute(f"DELETE FROM {table}")
        for row in held.values():
            with suppress(sqlite3.Error):  # It broke its table's own rules: it is named as gone.
                db.execute(f"INSERT INTO {table} VALUES ({', '.join('?' * len(row))})", row)
    db.execute("COMMIT")
    migrate(db)
    with writing(db):
        searching.make_anew(db)
    return db


def _version(source: sqlite3.Connection) -> int | None:
    """The version of the file; None, for the newest, where that is damaged."""
    found = version(source)
    return found if 0 < found <= len(MIGRATIONS) else None


def _readable(itself: sqlite3.Connection, made: Database) -> sqlite3.Connection:
    """The file; or, where its definitions lead to no rows, its pages under those of `made`."""
    # A SQLite may be built without what that takes.
    with suppress(sqlite3.Error, AttributeError, MemoryError):
        if (through := definitions.read_through(itself, made)) is not None:
            return through
    itself.execute("SELECT count(*) FROM sqlite_master").fetchone()
    return itself


def _complaints(db: Database) -> list[str]:
    said = [str(row[0]) for row in db.execute("PRAGMA integrity_check(50)")]
    lines = [line for text in said for line in text.splitlines() if not line.startswith("***")]
    return [line for line in lines if line != "ok" and not any(one in line for one in HARMLESS)]


Row = tuple[object, ...]


def _scanned(source: sqlite3.Connection, table: str, key: str) -> Iterator[tuple[str, Row]]:
    for order in ("", " ORDER BY rowid DESC", f" ORDER BY {key}"):
        with suppress(sqlite3.Error):
            for row in source.execute(f"SELECT {key}, * FROM {table} NOT INDEXED{order}"):
                yield str(row[0]), row[1:]
            if not order:
                return


def _by_key(
    source: sqlite3.Connection, table: str, key: str, one: str
) -> Iterator[tuple[str, Row]]:
    names = key.replace("CAST(", "").replace(" AS TEXT)", "").split("||'|'||")
    where = " AND ".join(f"{name} = ?" for name in names)
    with suppress(sqlite3.Error):
        for row in source.execute(f"SELECT * FROM {table} WHERE {where}", one.split("|")):
            yield one, row


_as_far_as_legible: Callable[[bytes], str] = lambda text: text.decode("utf-8", "replace")  # noqa: E731
