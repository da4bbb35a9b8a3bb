"""The rows of a damaged file whose tables' definitions, or where each table begins, are damaged.

What the definitions say is known of each version of the book. Where a table begins is found in the
file's own pages: it is a page that no other leads to, and the definition names it; where that is
damaged too, the seals of the rows tell which table they are of.
"""

from __future__ import annotations

import re
import sqlite3
from collections import defaultdict
from collections.abc import Iterator, Mapping
from contextlib import closing, suppress
from typing import NamedTuple

from joblog.book import seals
from joblog.book.database import Database

HEADER = 100
"""Bytes before the first page's own head (the published format of SQLite's files)."""
INNER, LEAF = (2, 5), (10, 13)
"""Kinds of pages: those that lead to others and those that hold rows, WITHOUT ROWID first."""
PLAIN = b"\x01\x01\x00\x40\x20\x20"
"""No WAL, nothing reserved, and SQLite's fixed fractions, in the file's head."""
SIZES = frozenset(1 << power for power in range(9, 17))


class _Wanted(NamedTuple):
    columns: seals.Columns
    sql: str
    """What stands behind CREATE TABLE and the name: the columns alone, which need no index."""
    without_rowid: bool


def read_through(source: sqlite3.Connection, made: Database) -> sqlite3.Connection | None:
    """The rows of `source` under the definitions of `made`, a whole book of the same version, in
    memory; None where its own lead to them.

    Raises sqlite3.Error where the pages cannot be read.
    """
    with closing(sqlite3.connect(":memory:")) as copy:
        source.backup(copy)
        # With it SQLite reads the pages whatever the definitions say, from the second try on.
        copy.execute("PRAGMA writable_schema = ON")
        with suppress(sqlite3.DatabaseError, UnicodeDecodeError):
            copy.execute("PRAGMA page_count").fetchone()
        image = bytearray(copy.serialize())
    wanted = _wanted(made)
    begins = _begins(image, wanted)
    if _as_it_should_be(source, made, begins):
        return None
    return _under(image, {name: (wanted[name].sql, page) for name, page in begins.items()})


def _wanted(made: Database) -> dict[str, _Wanted]:
    tables = seals.with_their_seals(made)
    return {name: _definition(made, name, columns) for name, columns in tables.items()}


def _definition(made: Database, name: str, columns: seals.Columns) -> _Wanted:
    [(sql,)] = made.execute("SELECT sql FROM sqlite_master WHERE name = ?", [name])
    without_rowid = "WITHOUT ROWID" in sql
    lines, primary = [], {}
    for _, column, kind, _, default, place in made.execute(f"PRAGMA table_info({name})"):
        number = place and kind == "INTEGER" and not without_rowid
        lines.append(
            f'"{column}" {kind}{" PRIMARY KEY" if number else ""}'
            f"{'' if default is None else f' DEFAULT {default}'}"
        )
        if place:
            primary[place] = f'"{column}"'
    if without_rowid:
        lines.append(f"PRIMARY KEY ({', '.join(primary[place] for place in sorted(primary))})")
    elif len(primary) > 1:  # It is no number of its row after all, and needs no index to be read.
        lines = [line.replace(" PRIMARY KEY", "") for line in lines]
    ending = " WITHOUT ROWID" if without_rowid else ""
    return _Wanted(columns, f"({', '.join(lines)}){ending}", without_rowid)


def _as_it_should_be(source: sqlite3.Connection, made: Database, begins: Mapping[str, int]) -> bool:
    """Whether the file's own definitions are those of its version, and lead where tables begin."""
    sql = "SELECT name, type, tbl_name, sql FROM sqlite_master WHERE type = 'table'"
    try:
        own = {row[0]: row for row in source.execute(sql)}
        leads = dict(source.execute("SELECT name, rootpage FROM sqlite_master"))
    except (sqlite3.Error, UnicodeDecodeError):
        return False
    every = {row[0]: row for row in made.execute(sql) if not row[0].startswith("said_words")}
    return all(own.get(name) == row for name, row in every.items()) and all(
        leads[name] == page for name, page in begins.items()
    )


# --- where each table begins ------------------------------------------------------------------


def _begins(image: bytearray, wanted: Mapping[str, _Wanted]) -> dict[str, int]:
    """The first page of each table, of those that can be told."""
    free = _first_pages(image)
    size = _page_size(image)
    named: dict[str, int] = {}
    for name, one in wanted.items():
        hits = list(_hits(image, name))
        for at, _ in hits:  # That page holds definitions.
            free.pop(at // size + 1, None)
        pages = {page for _, page in hits if free.get(page) is one.without_rowid}
        if len(pages) == 1:
            named[name] = pages.pop()
    claims: dict[int, list[str]] = defaultdict(list)
    for name, page in named.items():
        claims[page].append(name)
    found = {names[0]: page for page, names in claims.items() if len(names) == 1}
    left = {page: kind for page, kind in free.items() if page not in found.values()}
    return found | _by_their_rows(image, wanted, found, left)


def _hits(image: bytearray, name: str) -> Iterator[tuple[int, int]]:
    """Where in the file a definition of a table is, and the page that it leads to."""
    own = re.escape(name.encode())
    for hit in re.finditer(rb"table" + own + own + rb"(.{1,4}?)CREATE TABLE", image, re.DOTALL):
        yield hit.start(), int.from_bytes(hit[1], "big")


def _by_their_rows(
    image: bytearray,
    wanted: Mapping[str, _Wanted],
    found: Mapping[str, int],
    left: Mapping[int, bool],
) -> dict[str, int]:
    """Of the tables whose definition leads nowhere, those that their rows' seals tell."""
    pairs = [
        (name, page)
        for name, one in wanted.items()
        for page, without_rowid in left.items()
        if name not in found and without_rowid is one.without_rowid
    ]
    again: dict[str, int] = {}
    if (seals_at := found.get(seals.SEALED)) is None:
        for page in [page for name, page in pairs if name == seals.SEALED]:
            with closing(_under(image, {seals.SEALED: (wanted[seals.SEALED].sql, page)})) as db:
                if _counted(db, f"{seals.SEALED} WHERE of = '{seals.DEFINITIONS}'"):
                    seals_at = again[seals.SEALED] = page
    if not pairs or seals_at is None:
        return again
    tried = {f"{name} {page}": (wanted[name].sql, page) for name, page in pairs}
    with closing(
        _under(image, {seals.SEALED: (wanted[seals.SEALED].sql, seals_at), **tried})
    ) as db:
        sound = {
            (name, page): _counted(
                db, f'"{name} {page}" WHERE {seals.is_sound(wanted[name].columns, name)}'
            )
            for name, page in pairs
            if name != seals.SEALED
        }
    for (name, page), many in sorted(sound.items(), key=lambda one: -one[1]):
        if many and name not in again and page not in again.values():
            again[name] = page
    return again


def _counted(db: sqlite3.Connection, what: str) -> int:
    with suppress(sqlite3.Error):
        return int(db.execute(f"SELECT count(*) FROM {what}").fetchone()[0])
    return 0


# --- the file's pages -------------------------------------------------------------------------


def _page_size(image: bytearray) -> int:
    size = int.from_bytes(image[16:18], "big")
    return size if size in SIZES else 65_536 if size == 1 else 4096


def _first_pages(image: bytearray) -> dict[int, bool]:
    """The pages that hold rows or lead to some, and that none leads to, but the very first; True
    for those of tables WITHOUT ROWID, and of indexes."""
    size = _page_size(image)
    unused, led_to, kinds = _unused(image, size), set(), {}
    for page in range(1, len(image) // size + 1):
        whole = image[(page - 1) * size : page * size]
        head = HEADER if page == 1 else 0
        if (kind := whole[head]) not in (*INNER, *LEAF) or page in unused:
            continue
        kinds[page] = kind in (INNER[0], LEAF[0])
        if kind in INNER:
            cells = int.from_bytes(whole[head + 3 : head + 5], "big")
            led_to.add(int.from_bytes(whole[head + 8 : head + 12], "big"))
            for at in range(head + 12, min(head + 12 + 2 * cells, size), 2):
                cell = int.from_bytes(whole[at : at + 2], "big")
                led_to.add(int.from_bytes(whole[cell : cell + 4], "big"))
    return {page: kind for page, kind in kinds.items() if page not in led_to and page != 1}


def _unused(image: bytearray, size: int) -> set[int]:
    """The pages that the file keeps for later; they may hold what they held once."""
    unused: set[int] = set()
    page = int.from_bytes(image[32:36], "big")
    while 0 < page <= len(image) // size and page not in unused:
        unused.add(page)
        whole = image[(page - 1) * size : page * size]
        many = min(int.from_bytes(whole[4:8], "big"), size // 4 - 2)
        unused |= {int.from_bytes(whole[at : at + 4], "big") for at in range(8, 8 + 4 * many, 4)}
        page = int.from_bytes(whole[:4], "big")
    return unused


def _under(image: bytearray, tables: Mapping[str, tuple[str, int]]) -> sqlite3.Connection:
    """The pages with no definitions but these: by name, what it says and where it begins."""
    size = _page_size(image)
    turned = bytearray(image)
    turned[:16] = b"SQLite format 3\0"
    turned[16:18] = (size % 65_535).to_bytes(2, "big")
    turned[18:24] = PLAIN
    turned[28:32] = (len(image) // size).to_bytes(4, "big")
    turned[32:40] = bytes(8)  # No page is there for later: who knows which.
    turned[44:60] = b"\0\0\0\4" + bytes(8) + b"\0\0\0\1"
    turned[92:96] = turned[24:28]
    turned[HEADER : HEADER + 8] = (
        bytes([LEAF[1], 0, 0, 0, 0]) + (size % 65_536).to_bytes(2, "big") + b"\0"
    )
    with closing(sqlite3.connect(":memory:")) as changing:
        changing.deserialize(bytes(turned))
        changing.execute("PRAGMA writable_schema = ON")
        for name, (sql, page) in tables.items():
            changing.execute(
                "INSERT INTO sqlite_master VALUES ('table', ?, ?, ?, ?)",
                [name, name, page, f'CREATE TABLE "{name}" {sql}'],
            )
        changing.commit()
        whole = changing.serialize()
    db = sqlite3.connect(":memory:")
    db.deserialize(whole)
    seals.know(Database(db))
    return db
