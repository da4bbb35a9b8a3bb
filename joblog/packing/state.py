"""A job as it is in whatever book: its rows with numbers that all books share, and one mark of all.

A row that was made in one book and came into another keeps the number that it had where it was
made, with the id of that book. So what two books have of a job can be held against each other.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from joblog.book.database import Database
from joblog.book.rows import Row
from joblog.packing.columns import TABLES, Turn
from joblog.packing.gather import Rows

Key = tuple[str, str]
"""A table, and what tells a row apart in it."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A row as it is in every book: what of it stays, and what of it may change."""

    fixed: str
    changing: str
    row: Row
    """As it stands in its own book."""


State = Mapping[Key, Kept]


@dataclass(frozen=True, slots=True)
class Shared:
    """What the numbers and names of a book are in all books."""

    book: str
    rows: Mapping[tuple[str, int], tuple[str, int]]
    """Of rows that came from elsewhere, by sort and number: the book that made them, and their
    number there."""
    names: Mapping[str, str]
    """Of jobs that came from elsewhere, what they are called there."""

    def origin(self, sort: str, number: int) -> tuple[str, int]:
        """The book that made a row, and its number there."""
        return self.rows.get((sort, number), (self.book, number))


def shared(db: Database, book: str) -> Shared:
    """What this database says of rows that came from elsewhere; `book` made the others."""
    rows = {
        (sort, number): (made, there)
        for sort, number, made, there in db.execute(
            "SELECT sort, number, book, number_there FROM packed_row"
            " UNION ALL SELECT 'job', job, book, number FROM packed_job"
        )
    }
    names = db.execute(
        "SELECT job.name, packed_job.name FROM packed_job JOIN job ON job.id = packed_job.job"
    )
    return Shared(book, rows, dict(names.fetchall()))


def state(found: Rows, known: Shared, held: Collection[str] = ()) -> State:
    """The rows of a job, held against no book in particular; those that are derived are left out.

    `held` are originals that another job of some book has: their rows are left out, and so is
    where in them an entry was heard.
    """
    job = found["job"][0]["id"]
    utterances = {
        row["id"]: None if row["recording"] in held else f"{row['recording']}/{row['ordinal']}"
        for row in found["utterance"]
    }
    undone, apart = ranks(found), elsewhere(found, held)

    def number(sort: str, one: int) -> int | str | None:
        if sort == "utterance":
            return utterances.get(one)
        if sort == "undone":
            return undone[one]
        return ":".join(map(str, known.origin(sort, one)))

    turn = Turn(number, lambda name: known.names.get(name, name))
    every: dict[Key, Kept] = {}
    for name, table in TABLES.items():
        for row in found[name] if not table.derived else ():
            if (name == "job" and row["id"] != job) or apart.has(name, row):
                continue
            turned = table.turned(row, turn)
            key = "|".join(str(turned[one]) for one in table.key)
            changing = {one: turned.pop(one) for one in table.changing}
            every[name, key] = Kept(_text(turned), _text(changing), row)
    return every


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """Originals that another job of the book has, and what was heard in them."""

    originals: Collection[str]
    utterances: Collection[int] = ()
    steps: Collection[int] = ()
    """Steps that were about these alone."""

    def has(self, table: str, row: Row) -> bool:
        """Whether a row is of one of them."""
        if not self.originals:
            return False
        if table in ("step", "step_job", "step_turn"):
            return row["id" if table == "step" else "step"] in self.steps
        if table == "step_effect":
            kind, one, *_ = row["noun"].split()
            return kind in ("recording", "photo", "tie") and one in self.originals
        if table == "hearing":
            return row["utterance"] in self.utterances
        column = _ORIGINAL_IN.get(table)
        return column is not None and row[column] in self.originals


_ORIGINAL_IN = {
    "recording": "sha256", "photo": "sha256", "track": "sha256", "utterance": "recording",
    "sound_print": "recording", "tie": "photo", "hand_tie": "photo",
}  # fmt: skip


def elsewhere(found: Rows, originals: Collection[str]) -> Elsewhere:
    """Those originals among the rows of a job."""
    heard = {row["id"] for row in found["utterance"] if row["recording"] in originals}
    apart = Elsewhere(originals, heard)
    left = {row["step"] for row in found["step_effect"] if not apart.has("step_effect", row)}
    return replace(apart, steps={row["id"] for row in found["step"]} - left)


def ranks(found: Rows) -> dict[int, int]:
    """What was undone in one go has a number in each book: of these, the order in which it was."""
    numbers = {row["undone"] for row in found["step"] if row["undone"] is not None}
    return {number: rank for rank, number in enumerate(sorted(numbers), 1)}


def digest(every: State) -> str:
    """One mark of a state: another one after any change.

    What says nothing is left out, so that columns that books get later do not change it.
    """
    whole = hashlib.sha256()
    for (table, key), kept in sorted(every.items(), key=lambda one: one[0]):
        said = {**json.loads(kept.fixed), **json.loads(kept.changing)}
        told = {name: value for name, value in said.items() if value not in _NOTHING}
        whole.update(_text([table, key, told]).encode("utf-8", "surrogatepass"))
    return whole.hexdigest()


_NOTHING = (None, "", 0, "0", "[]", "{}")


def _text(value: object) -> str:
    return json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
