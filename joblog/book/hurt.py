"""The rows of the book that are not as they were written, named for a person."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from joblog.book import seals
from joblog.book.making import FILE

if TYPE_CHECKING:
    from joblog.book.store import Book


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


def damaged_rows(book: Book, tables: tuple[str, ...]) -> Iterator[Damage]:
    """The rows of these tables that are not as they were written, and a damaged structure."""
    for table in tables:
        yield from rows(book, table)
    if book._sound.saved:
        yield structure(book)


def rows(book: Book, table: str) -> Iterator[Damage]:
    """The rows of one table that are not as they were written."""
    for key, gone in sorted(book._hurt(table).items()):
        words = WORDS.get(table, OTHER)
        why = "its line in the book is gone" if gone else "its line in the book is damaged"
        shown = table in SHOWN and not (table == "entry" and gone)
        remedy = words.remedy if not gone or table in SHOWN else f"{words.remedy} {ACCEPT}"
        yield Damage(words.name(book, table, key), why, remedy, words.figures, shown, table, key)


def structure(book: Book) -> Damage:
    """That the file's own structure is damaged."""
    return Damage(
        str(book.folder / FILE),
        "its structure is damaged; what can be read is read, and nothing is written in it",
        "Say joblog check --mend; that makes it whole of all that can be read.",
    )


def nothing_in_it(book: Book, turned: Sequence[int]) -> Damage:
    """That pages of the file have changed by themselves, where they hold nothing."""
    which = f"page {turned[0]}" if len(turned) == 1 else f"{len(turned)} pages"
    return Damage(
        str(book.folder / FILE),
        f"{which} of it changed by itself, where nothing is written",
        f"{NOTHING_LOST} Back the book up, and have the disk looked at.",
    )


NOTHING_LOST = "Nothing is lost; joblog check --mend writes the file anew."


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


def _sounding(book: Book, table: str, key: str) -> str:
    found = book._rows("SELECT name FROM recording WHERE sha256 = ?", key)
    return f"what recording {found[0]['name'] if found else key} is known again by"


ACCEPT = "If it cannot be had again, say joblog check --accept."
SHOWN = frozenset({"entry", "entry_version", "doubt"})
_SETTLE = "It counts nowhere until you settle it with joblog review."
_PLAN = "Load the plan again with joblog plan FILE."
_CATALOG = "Set it again with joblog catalog."
_PAST = "Add the earlier jobs again with joblog rates --add FILE."
_NO_FIGURE = (
    "No figure rests on it. If it cannot be had from a backup (joblog check --mend --from FOLDER),"
    " say joblog check --accept."
)
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
    "packed_job": _Words(_called("where job {0} came from"), _NO_FIGURE, figures=False),
    "packed_row": _Words(_called("where {0} {1} came from"), _NO_FIGURE, figures=False),
    "packed_state": _Words(_called("in which pack job {0} came"), _NO_FIGURE, figures=False),
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
    "sound_print": _Words(_sounding, _NO_FIGURE, figures=False),
    "repeat": _Words(_called("the note of a command that was run"), _NO_FIGURE, figures=False),
    "setting": _Words(_called("what is noted as '{0}'"), _NO_FIGURE, figures=False),
    "step": _Words(_called("step {0} of the history"), _NO_FIGURE, figures=False),
    "step_effect": _Words(_called("what step {0} did"), _NO_FIGURE, figures=False),
    "step_turn": _Words(_called("when a step was undone or redone"), _NO_FIGURE, figures=False),
    "hand_tie": _Words(
        _called("the tie of a photo to entry {1}, by hand"), _NO_FIGURE, figures=False
    ),
    "step_job": _Words(_called("the job of step {1}"), _NO_FIGURE, figures=False),
    "tie": _Words(_called("a photo's tie to entry {1}"), _NO_FIGURE, figures=False),
}
IN_THE_WAY = (
    "job", "entry", "planned_item", "planned_task", "planned_place", "catalog_item", "catalog_task"
)  # fmt: skip
"""Tables without which the figures of a job cannot be right, and that no entry stands for."""
FIGURES = tuple(table for table, words in WORDS.items() if words.figures)
"""The tables that figures rest on."""
