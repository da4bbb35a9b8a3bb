"""The migration that gives a book its steps: what was decided, to be undone and redone."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Any

from joblog.book.database import Database

Row = dict[str, Any]


def steps(db: Database) -> None:
    """Entries that can be moved, recordings withdrawn, ties made by hand; all decisions as steps.

    The decisions of an older book become steps too. Foreign keys must be off.
    """
    _versions_that_say_where(db)
    for statement in _TABLES.split(";\n\n"):
        db.execute(statement)
    for number, step in enumerate(_decided(db), 1):
        _insert(db, number, step)


def _versions_that_say_where(db: Database) -> None:
    """Versions with a job and a moment of their own, and more kinds of change."""
    more = ("redone", "edited", "restored", "moved", "withdrawn")
    more_changes(db, more, _COLUMNS.split(";\n\n"))


def more_changes(db: Database, more: Sequence[str], then: Sequence[str] = ()) -> None:
    """Lets versions be made by more kinds of change; `then` what else becomes of the table, before
    its triggers watch over it again."""
    [table] = db.query("SELECT sql FROM sqlite_master WHERE name = 'entry_version'")
    beside = list(
        db.query(
            "SELECT sql FROM sqlite_master WHERE tbl_name = 'entry_version'"
            " AND type IN ('index', 'trigger') AND sql IS NOT NULL"
        )
    )
    named = re.sub(r'TABLE "?entry_version"?', "TABLE entry_version_now", table["sql"], count=1)
    # A CHECK cannot be changed in place. Whatever other columns the table has come along.
    kinds = ", ".join(f"'{kind}'" for kind in ("undone", *more))
    db.execute(named.replace("'undone'", kinds))
    # A row that was damaged comes along as it is; what reads it tells.
    db.execute("PRAGMA ignore_check_constraints = ON")
    db.execute("INSERT INTO entry_version_now SELECT * FROM entry_version")
    db.execute("PRAGMA ignore_check_constraints = OFF")
    db.execute("DROP TABLE entry_version")
    db.execute("PRAGMA legacy_alter_table = ON")
    db.execute("ALTER TABLE entry_version_now RENAME TO entry_version")
    db.execute("PRAGMA legacy_alter_table = OFF")
    for statement in then:
        db.execute(statement)
    for row in beside:
        db.execute(row["sql"])


_COLUMNS = """
ALTER TABLE entry_version ADD COLUMN job INTEGER REFERENCES job;

ALTER TABLE entry_version ADD COLUMN at TEXT;

ALTER TABLE entry_version ADD COLUMN left_job INTEGER REFERENCES job;

ALTER TABLE entry_version ADD COLUMN origin TEXT;

UPDATE entry_version SET restores = 0 WHERE change = 'undone' AND restores IS NULL;

UPDATE entry_version SET
    job = (SELECT job FROM entry WHERE id = entry),
    at = (SELECT at FROM entry WHERE id = entry),
    origin = (SELECT older.change FROM entry_version older
        WHERE older.entry = entry_version.entry AND older.version = entry_version.restores);

CREATE INDEX entry_version_of_job ON entry_version (job);

CREATE INDEX entry_version_left_job ON entry_version (left_job) WHERE left_job IS NOT NULL
"""

_TABLES = """
ALTER TABLE recording ADD COLUMN standing TEXT NOT NULL DEFAULT 'kept'
    CHECK (standing IN ('kept', 'withdrawn', 'superseded'));

ALTER TABLE recording ADD COLUMN superseded_by TEXT REFERENCES recording;

CREATE TABLE hand_tie (
    photo TEXT NOT NULL REFERENCES photo,
    entry INTEGER NOT NULL REFERENCES entry,
    tied INTEGER NOT NULL CHECK (tied IN (0, 1)),
    PRIMARY KEY (photo, entry)
) STRICT, WITHOUT ROWID;

CREATE TABLE step (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    who TEXT NOT NULL,
    what TEXT NOT NULL,
    undone INTEGER,
    forgotten INTEGER NOT NULL DEFAULT 0 CHECK (forgotten IN (0, 1))
) STRICT;

CREATE INDEX step_undone ON step (undone) WHERE undone IS NOT NULL;

CREATE TABLE step_job (
    job INTEGER NOT NULL REFERENCES job,
    step INTEGER NOT NULL REFERENCES step,
    PRIMARY KEY (job, step)
) STRICT, WITHOUT ROWID;

CREATE TABLE step_effect (
    step INTEGER NOT NULL REFERENCES step,
    ordinal INTEGER NOT NULL,
    noun TEXT NOT NULL,
    before TEXT,
    after TEXT,
    PRIMARY KEY (step, ordinal)
) STRICT, WITHOUT ROWID;

CREATE INDEX step_effect_of_noun ON step_effect (noun, step);

CREATE TABLE setting (
    name TEXT PRIMARY KEY,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID
"""


# --- the decisions of an older book -----------------------------------------------------------


def _decided(db: Database) -> Iterator[list[Row]]:
    """The versions of each decision, oldest first, each with the version `before` it.

    One that was taken back since is marked as `lost`: it could not be redone then either.
    """
    found = list(
        db.query(
            "SELECT entry_version.*, beside, beside_version, utterance FROM entry_version"
            " JOIN entry ON entry.id = entry_version.entry ORDER BY changed_at, entry, version"
        )
    )
    before = _before(sorted(found, key=lambda row: (row["entry"], row["version"])))
    grouped: dict[object, list[Row]] = {}
    typed = {row["entry"]: row for row in found if row["change"] == "typed"}
    for row in found:
        if row["restores"] is not None:
            continue
        first = typed.get(row["entry"])
        key: object = (row["entry"], row["version"])
        if row["version"] == 1 and row["beside"] is not None:
            key = (row["beside"], row["beside_version"])
        elif first and row["changed_at"] == first["changed_at"]:
            key = (row["job"], row["changed_at"])
        elif row["version"] == 1:
            continue
        earlier = before.get((row["entry"], row["version"]))
        row |= {"before": earlier or None, "lost": earlier is None}
        grouped.setdefault(key, []).append(row)
    yield from grouped.values()


def _before(found: Iterable[Row]) -> dict[tuple[int, int], int]:
    """Of each version that was not taken back the one before it; 0 where it was the first."""
    stacks: dict[int, list[int]] = {}
    for row in found:
        stack = stacks.setdefault(row["entry"], [0])
        number = row["version"] if row["restores"] is None else row["restores"]
        if number in stack:
            del stack[stack.index(number) + 1 :]
        else:
            stack.append(number)
    return {
        (entry, after): before
        for entry, stack in stacks.items()
        for before, after in pairwise(stack)
    }


def _insert(db: Any, number: int, step: list[Row]) -> None:
    first = step[0]
    aloud = first["change"] != "typed" and first["changed_at"] == first["at"]
    lost = first["lost"]
    who, what = "you, aloud" if aloud else "you", f"{first['change']}: {first['said']}"
    undone = number if lost else None
    db["step"].insert(
        {"id": number, "at": first["changed_at"], "who": who, "what": what}
        | {"undone": undone, "forgotten": int(lost)},
    )
    db["step_job"].insert({"job": first["job"], "step": number})
    effects: dict[int, Row] = {}
    for row in step:
        effect = effects.setdefault(row["entry"], {"before": row["before"]})
        effect["after"] = row["version"]
    for ordinal, (entry, effect) in enumerate(effects.items()):
        values = {name: None if value is None else str(value) for name, value in effect.items()}
        row = {"step": number, "ordinal": ordinal, "noun": f"entry {entry}", **values}
        db["step_effect"].insert(row)
