"""How the stock ledger stood at some moments, so that it need not begin with the first job again.

What jobs did before such a moment is worked out once and kept beside the book, with a mark of each
job that it rests on. Whatever a changed job ever had to do with, before or after the change, is
gone through anew; so what is kept is only gone on from where it cannot have changed. It may be
lost, or be of another joblog: then it is worked out again.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any
from weakref import WeakKeyDictionary

import joblog
from joblog.book.beside import put
from joblog.book.making import FILE
from joblog.book.store import Book
from joblog.model import STOCK
from joblog.stock.standing import Accounts, standing_text

ENDING = ".stock"
MOST = 24
"""So many moments are kept; of more, every other one of the older ones goes."""


@dataclass(frozen=True, slots=True)
class Span:
    """What a job was when it was gone through, and from when to when anything was told of it."""

    mark: str
    """"" of one whose moments are not told, but made up each time."""
    first: datetime | None = None
    last: datetime | None = None


@dataclass(slots=True)
class Stood:
    """What is kept."""

    rests_on: str
    """Of what is not a job's own: the catalog, and what joblog makes of it all."""
    jobs: dict[str, Span] = field(default_factory=dict)
    moments: dict[datetime, str] = field(default_factory=dict)
    """The accounts as they stood before each moment, the oldest first."""

    def up_to(self, at: datetime | None) -> dict[datetime, str]:
        """The moments up to that one; all with None."""
        return {one: text for one, text in self.moments.items() if at is None or one <= at}

    def stands_at(self, at: datetime, accounts: Accounts, spans: Mapping[str, Span]) -> None:
        """Keeps the accounts of all ends that anything is told of from then on."""
        self.moments[at] = standing_text(
            {
                (end, item): account
                for (end, item), account in accounts.items()
                if end == STOCK or end not in spans or _goes_on(spans[end], at)
            }
        )


def goes_on(jobs: Mapping[str, Span], at: datetime | None) -> set[str]:
    """The jobs of which anything is told from a moment on."""
    return {job for job, span in jobs.items() if at is None or _goes_on(span, at)}


def _goes_on(span: Span, at: datetime) -> bool:
    return span.last is not None and span.last >= at


def kept_of(book: Book, catalog: str) -> Stood:
    """What is kept of a book, of this very catalog; nothing where it does not hold any more."""
    rests_on = hashlib.sha256(f"{_joblog()}\n{catalog}".encode()).hexdigest()
    known = _KNOWN.get(book) or _read(book) or Stood("")
    if known.rests_on != rests_on:
        known = Stood(rests_on)
    _KNOWN[book] = known
    return known


def keep(book: Book, stood: Stood, *, write: bool) -> None:
    """Keeps it for this book, and beside it for the next program where that is worth its time."""
    at = sorted(stood.moments)
    while len(at) > MOST:
        at = [*at[: MOST // 2 : 2], *at[MOST // 2 :]]
    stood.moments = {one: stood.moments[one] for one in at}
    _KNOWN[book] = stood
    # What is being written may yet be taken back, and others would go on from it.
    if write and not book._db.conn.in_transaction:
        with suppress(OSError):
            _write(book, stood)


def is_whole(book: Book) -> bool:
    """Whether every row that the ledger rests on is as it was written; else nothing is kept."""
    return not book._sound.saved and not any(book._hurt(table) for table in _RESTS_ON)


_RESTS_ON = (
    "job", "entry", "entry_version", "doubt", "closing", "closing_undone",
    "planned_item", "planned_task", "planned_place", "catalog_item", "catalog_task",
)  # fmt: skip

_KNOWN: WeakKeyDictionary[Book, Stood] = WeakKeyDictionary()


@cache
def _joblog() -> str:
    """This joblog, told from what it was before any change of the rooms that make the ledger."""
    rooms = Path(joblog.__file__).parent
    files = [
        file for room in ("book", "reconcile", "stock") for file in (rooms / room).glob("*.py")
    ]
    with suppress(OSError):
        now = [(file.name, file.stat().st_size, file.stat().st_mtime_ns) for file in sorted(files)]
        return f"{joblog.__version__} {now}"
    return joblog.__version__


# --- beside the book ----------------------------------------------------------------------------


def _read(book: Book) -> Stood | None:
    try:
        seal, text = _beside(book).read_text("utf-8").split("\n", 1)
        if seal != hashlib.sha256(text.encode()).hexdigest():
            return None
        kept = json.loads(text)
        return Stood(
            kept["rests_on"],
            {job: Span(mark, _at(first), _at(last)) for job, mark, first, last in kept["jobs"]},
            {datetime.fromisoformat(at): standing for at, standing in kept["moments"]},
        )
    except (OSError, ValueError, TypeError, KeyError):
        return None


def _write(book: Book, stood: Stood) -> None:
    kept: dict[str, Any] = {
        "rests_on": stood.rests_on,
        "jobs": [
            (job, span.mark, _text(span.first), _text(span.last))
            for job, span in stood.jobs.items()
        ],
        "moments": [(at.isoformat(), text) for at, text in stood.moments.items()],
    }
    text = json.dumps(kept, ensure_ascii=False)
    put(_beside(book), f"{hashlib.sha256(text.encode()).hexdigest()}\n{text}".encode())


def _beside(book: Book) -> Path:
    return book.folder / f"{FILE}{ENDING}"


def _at(text: str | None) -> datetime | None:
    return None if text is None else datetime.fromisoformat(text)


def _text(at: datetime | None) -> str | None:
    return None if at is None else at.isoformat()


def earliest(moments: Iterable[datetime | None]) -> datetime | None:
    """The first of those that are known; None where none is."""
    return min((one for one in moments if one is not None), default=None)
