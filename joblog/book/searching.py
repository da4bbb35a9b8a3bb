"""Everything that was ever said, in words, where it is found by them: entries as they stand, every
hearing, names of recordings and photos.

All of it is derived from other rows and can be made anew from them, so it carries no seals. Like
the seals it is kept in step by triggers that live in the connection: whatever writes through joblog
is found. The words lie in the table `said`; SQLite's full-text index over it, `said_words`, is left
out where SQLite was built without FTS5, and then every line is looked at.
"""

from __future__ import annotations

import json
import re
import sqlite3
import unicodedata
import zlib
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from functools import lru_cache
from typing import Any

from joblog.book.database import Database
from joblog.form import describe, entry_from_json, plain

METHOD = "1"
"""Counts up with every change of how an entry reads in words, so that older books find theirs."""

Row = dict[str, Any]
Phrase = tuple[str, ...]
"""Words that stand one after the other, in lower case and without accents."""


def find(db: Database, typed: str, job: int, *, every_job: bool = True) -> Iterator[Row]:
    """The lines that hold all that was typed, of this job first, then newest first.

    What is typed is words and never a search language; the last one need not be finished.
    """
    sought = phrases(typed)
    if not sought:
        return
    search = _by_index if indexed(db) else _by_looking
    for here in (True, False) if every_job else (True,):
        yield from search(db, sought, job, here)


def phrases(typed: str) -> tuple[Phrase, ...]:
    """What was typed, word by word; "11 7/8" is one phrase, for that is one number."""
    parts = _NUMBERS.findall(unicodedata.normalize("NFC", plain(typed)))
    return tuple(found for part in parts if (found := tuple(map(_folded, _WORD.findall(part)))))


def marks(text: str, sought: Sequence[Phrase]) -> tuple[tuple[int, int], ...] | None:
    """Where in the text the phrases are, as slices in order; None where one of them is not."""
    places = [found.span() for found in _WORD.finditer(text)]
    words = [_folded(text[start:end]) for start, end in places]
    found: set[tuple[int, int]] = set()
    for number, phrase in enumerate(sought):
        last = number == len(sought) - 1
        here = {
            (places[at][0], _end(phrase, words, places, at, last))
            for at in range(len(words) - len(phrase) + 1)
            if _matches(phrase, words[at : at + len(phrase)], last)
        }
        if not here:
            return None
        found |= here
    return tuple(sorted(found))


def _matches(phrase: Phrase, words: Sequence[str], unfinished: bool) -> bool:
    if unfinished:
        return phrase[:-1] == tuple(words[:-1]) and words[-1].startswith(phrase[-1])
    return phrase == tuple(words)


def _end(
    phrase: Phrase, words: Sequence[str], places: Sequence[tuple[int, int]], at: int, last: bool
) -> int:
    """As far as it is typed, where the folded word is as long as the word."""
    start, end = places[at + len(phrase) - 1]
    whole = len(words[at + len(phrase) - 1]) == end - start
    return start + len(phrase[-1]) if last and whole else end


_WORD = re.compile(r"[^\W_]+")
_NUMBERS = re.compile(r"\d+[ -]\d+/\d+|\S+")
_LETTERS = re.compile(r"[\u0300-\u036f]")


@lru_cache(maxsize=4096)
def _folded(word: str) -> str:
    return _LETTERS.sub("", unicodedata.normalize("NFD", word.lower()))


def _by_index(db: Database, sought: Sequence[Phrase], job: int, here: bool) -> Iterator[Row]:
    # Every word stands in quotes, where FTS5 reads nothing as an operator.
    text = " AND ".join(f'"{" ".join(phrase)}"' for phrase in sought)
    asked = f'text : ({text} *) {"AND" if here else "NOT"} job : "{job}"'
    # A later moment has a higher row: SQLite finds them in order, and stops when we have enough.
    yield from db.query(
        f"SELECT {_SHOWN} FROM said_words CROSS JOIN said ON said.id = said_words.rowid {_BESIDE}"
        " WHERE said_words MATCH ? ORDER BY said_words.rowid DESC",
        [asked],
    )


def _by_looking(db: Database, sought: Sequence[Phrase], job: int, here: bool) -> Iterator[Row]:
    order = f"WHERE (said.job = ?) = {int(here)} ORDER BY said.id DESC"
    for row in db.query(f"SELECT {_SHOWN} FROM said {_BESIDE} {order}", [job]):
        if marks(row["text"], sought) is not None:
            yield row


_SHOWN = """
said.at, said.text, said.utterance, said.photo, entry.id AS entry,
coalesce(said.recording, utterance.recording) AS recording,
coalesce(home.name, job.name) AS job, coalesce(home.zone, job.zone) AS zone
"""
_BESIDE = """
LEFT JOIN entry ON entry.id = coalesce(said.entry,
    (SELECT min(id) FROM entry WHERE entry.utterance = said.utterance))
LEFT JOIN utterance ON utterance.id = entry.utterance
LEFT JOIN job home ON home.id = entry.job LEFT JOIN job ON job.id = said.job
"""


# --- kept in step -----------------------------------------------------------------------------

APART = frozenset(
    {"said", "said_words"}
    | {f"said_words_{part}" for part in ("data", "idx", "content", "docsize", "config")}
)
"""The tables of the search, which carry no seals: they are made anew from the others."""


def begin(db: Database) -> None:
    """The migration that makes a book's words ready to be found; those of an older book too."""
    for statement in _TABLE.split(";\n\n"):
        db.execute(statement)
    fill(db)


_TABLE = """
CREATE TABLE said (
    id INTEGER PRIMARY KEY,
    job INTEGER NOT NULL,
    at TEXT NOT NULL,
    entry INTEGER,
    utterance INTEGER,
    recording TEXT,
    photo TEXT,
    text TEXT NOT NULL
) STRICT;

CREATE UNIQUE INDEX said_of_entry ON said (entry) WHERE entry IS NOT NULL;

CREATE INDEX said_of_utterance ON said (utterance) WHERE utterance IS NOT NULL;

CREATE INDEX said_of_recording ON said (recording) WHERE recording IS NOT NULL;

CREATE INDEX said_of_photo ON said (photo) WHERE photo IS NOT NULL
"""
_INDEX = """
CREATE VIRTUAL TABLE said_words USING fts5(text, job, content='said', content_rowid='id',
tokenize="unicode61 remove_diacritics 2", prefix='1 2 3')
"""


def know(db: Database) -> None:
    """Gives the connection the functions that turn rows into words."""
    db.conn.create_function("in_words", 3, _in_words)
    db.conn.create_function("in_line", 1, _in_line)


def behind(db: Database) -> bool:
    """Whether the words, or their index, are not made or were made by another method."""
    if not _has(db, "said"):
        return False  # The book is older, and not to be changed.
    state = _state(db)
    return state != METHOD and not (state == _UNINDEXED and not _can_index(db))


def catch_up(db: Database) -> None:
    """Makes what is not in step; in a transaction of the caller's."""
    if _state(db) != _UNINDEXED:
        fill(db)
    if _can_index(db):
        db.execute("DROP TABLE IF EXISTS said_words")
        db.execute(_INDEX)
        db.execute("INSERT INTO said_words (said_words) VALUES ('rebuild')")
        _note(db, METHOD)


def watch(db: Database) -> None:
    """From now on, what this connection writes is found in the same transaction."""
    if not _has(db, "said"):
        return
    for table, event, does in (*_IN_WORDS, *(_IN_INDEX if indexed(db) else _LEFT_BEHIND)):
        db.execute(
            f"CREATE TEMP TRIGGER say_{table}_{event.split()[0].lower()} AFTER {event}"
            f" ON main.{table} BEGIN {does} END"
        )


def fill(db: Database) -> None:
    """Puts the words of everything in the book in the place of those that were there."""
    db.execute("DELETE FROM said")
    last: dict[int, int] = {}
    for at, *rest in _lines(db):
        first = _first_row(at)
        row = last[first] = last.get(first, first - 1) + 1
        db.execute(
            "INSERT INTO said VALUES (?, ?, ?, ?, ?, ?, ?, ?)", [row, rest[0], at, *rest[1:]]
        )
    _note(db, _UNINDEXED)


def make_anew(db: Database) -> None:
    """All of it anew, whatever was there; in a transaction of the caller's."""
    # Without the triggers, for an index that is damaged takes nothing out any more.
    for (name,) in db.execute(
        "SELECT name FROM temp.sqlite_master WHERE type = 'trigger' AND name GLOB 'say_*'"
    ).fetchall():
        db.execute(f"DROP TRIGGER temp.{name}")
    db.execute("DELETE FROM setting WHERE name = ?", [_MADE])
    catch_up(db)
    watch(db)


def in_step(db: Database) -> bool:
    """Whether the words, and their index, are those of the rows that they are made of."""
    try:
        held = db.execute("SELECT at, job, entry, utterance, recording, photo, text FROM said")
        if _checksum(held) != _checksum(_lines(db)):
            return False
    except sqlite3.OperationalError as error:
        if "decode" not in str(error):
            raise
        return False  # What is damaged need not be text any more.
    if not indexed(db):
        return True
    try:
        db.execute("INSERT INTO said_words (said_words) VALUES ('integrity-check')")
    except sqlite3.OperationalError:
        return True  # Another program writes; it is looked at the next time.
    except sqlite3.DatabaseError:
        return False
    finally:
        db.rollback()
    return True


def _checksum(lines: Iterable[tuple[object, ...]]) -> tuple[int, int]:
    """How many there are, and what they come to in whatever order."""
    found = [zlib.crc32(repr(tuple(line)).encode()) for line in lines]
    return len(found), sum(found)


def _lines(db: Database) -> Iterator[tuple[str, int, object, object, object, object, str]]:
    """The lines of `said` as they are made of the other tables, without their rows' numbers."""
    newest = "(SELECT max(version) FROM entry_version WHERE entry = kept.entry)"
    for at, job, entry, content, standing, words in db.execute(
        "SELECT at, job, entry, content, standing, said FROM entry_version kept"
        f" WHERE version = {newest}"
    ):
        yield at, job, entry, None, None, None, _in_words(content, standing, words)
    met: set[tuple[int, str]] = set()
    for at, job, utterance, recording, heard in db.execute(
        "SELECT utterance.at, job, utterance, recording, text FROM hearing"
        " JOIN utterance ON utterance.id = utterance JOIN recording ON sha256 = recording"
        " ORDER BY utterance, hearing.ordinal"
    ):
        line = _in_line(heard)
        if line and (utterance, line) not in met:
            met.add((utterance, line))
            yield at, job, None, utterance, recording, None, line
    for at, job, recording, name in db.execute("SELECT made_at, job, sha256, name FROM recording"):
        yield at, job, None, None, recording, None, _in_line(name)
    for at, job, photo, name in db.execute("SELECT taken_at, job, sha256, name FROM photo"):
        yield at, job, None, None, None, photo, _in_line(name)


def _in_words(content: object, standing: object, said: object) -> str:
    """An entry in one line: what it is, and the words that it was said or written in."""
    words = _in_line(said)
    try:
        line = _in_line(describe(entry_from_json(json.loads(str(content)))))
    except Exception:  # A damaged row: its entry is shown in doubt, and its words are found.
        return words
    if standing == "dropped":
        line += " (dropped)"
    return f'{line}  "{words}"' if words and words != line else line


def _in_line(text: object) -> str:
    return unicodedata.normalize("NFC", plain(" ".join(str(text or "").split())))


_PLACES = 24
"""Bits of a row's number that tell what was said in one second apart; the others are the second."""


def _first_row(at: str) -> int:
    try:
        return int(datetime.fromisoformat(at).timestamp() // 1) << _PLACES
    except ValueError:
        return 0


def _next_row(at: str) -> str:
    first = f"(coalesce(CAST(strftime('%s', {at}) AS INTEGER), 0) << {_PLACES})"
    return (
        f"(SELECT coalesce(max(id) + 1, {first}) FROM said"
        f" WHERE id >= {first} AND id < {first} + {1 << _PLACES})"
    )


def _named(of: str, moment: str) -> tuple[tuple[str, str, str], ...]:
    return (
        (
            of,
            "INSERT",
            f"INSERT INTO said (id, job, at, {of}, text) VALUES ({_next_row(f'NEW.{moment}')},"
            f" NEW.job, NEW.{moment}, NEW.sha256, in_line(NEW.name));",
        ),
        (of, "UPDATE OF job", f"UPDATE said SET job = NEW.job WHERE {of} = NEW.sha256;"),
    )


_IN_WORDS = (
    (
        "entry_version",
        "INSERT",
        "DELETE FROM said WHERE entry = NEW.entry; INSERT INTO said (id, job, at, entry, text)"
        f" VALUES ({_next_row('NEW.at')}, NEW.job, NEW.at, NEW.entry,"
        " in_words(NEW.content, NEW.standing, NEW.said));",
    ),
    (
        "hearing",
        "INSERT",
        "INSERT INTO said (id, job, at, utterance, recording, text)"
        f" SELECT {_next_row('utterance.at')}, job, at, utterance.id, sha256, in_line(NEW.text)"
        " FROM utterance JOIN recording ON sha256 = recording WHERE utterance.id = NEW.utterance"
        " AND in_line(NEW.text) != '' AND NOT EXISTS (SELECT 1 FROM said"
        "  WHERE said.utterance = NEW.utterance AND said.text = in_line(NEW.text));",
    ),
    *_named("recording", "made_at"),
    *_named("photo", "taken_at"),
)
"""Table, event, and what it does to the words."""
_PUT = "INSERT INTO said_words (rowid, text, job) VALUES (NEW.id, NEW.text, NEW.job);"
_TAKE = (
    "INSERT INTO said_words (said_words, rowid, text, job)"
    " VALUES ('delete', OLD.id, OLD.text, OLD.job);"
)
_IN_INDEX = (
    ("said", "INSERT", _PUT),
    ("said", "DELETE", _TAKE),
    ("said", "UPDATE OF job", _TAKE + _PUT),
)
_MADE, _UNINDEXED = "search", f"{METHOD}, without its index"
_LEFT_BEHIND = tuple(
    (table, event, f"INSERT OR REPLACE INTO setting VALUES ('{_MADE}', '{_UNINDEXED}');")
    for table, event, _ in _IN_INDEX
)
"""What a SQLite without a full-text index leaves for one that has it."""


def indexed(db: Database) -> bool:
    """Whether SQLite finds by its index; else every line is looked at, which takes its time."""
    return _can_index(db) and _has(db, "said_words") and _state(db) == METHOD


def _can_index(db: Database) -> bool:
    found = db.execute("SELECT 1 FROM pragma_module_list WHERE name = 'fts5'")
    return found.fetchone() is not None


def _has(db: Database, table: str) -> bool:
    found = db.execute("SELECT 1 FROM main.sqlite_master WHERE name = ?", [table])
    return found.fetchone() is not None


def _state(db: Database) -> str | None:
    found = db.execute("SELECT value FROM setting WHERE name = ?", [_MADE]).fetchone()
    return None if found is None else str(found[0])


def _note(db: Database, state: str) -> None:
    db.execute("INSERT OR REPLACE INTO setting VALUES (?, ?)", [_MADE, state])
