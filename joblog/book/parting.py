"""One entry made into several, and two alike ones made into one: amounts kept exactly.

Each is one step of the job's history. Every function raises `BookError`, in words for a person.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from joblog.book.decisions import line_of
from joblog.book.editing import edited
from joblog.book.entries import add_beside
from joblog.book.errors import BookError
from joblog.book.history import Version
from joblog.book.steps import deciding
from joblog.book.store import Book
from joblog.form import FIELDS, amount, describe
from joblog.model import BookEntry, Entry, Kind, Standing


def split(
    book: Book, id: int, parts: Sequence[Entry], *, settles: Sequence[str] = ()
) -> tuple[BookEntry, ...]:
    """Puts the first of these facts in the place of an entry and the others beside it.

    All of them, the changed one first. Doubts stay on every part, but those in `settles`. Photos
    that were tied by hand stay with the first.
    """
    if len(parts) < 2:
        raise BookError(f"entry {id}: that is one fact; it takes two to split it")
    with deciding(book) as step:
        now = book.entry(id)
        _stands(now)
        doubts = tuple(why for why in now.doubts if why not in settles)
        standing: Standing = "heard" if doubts else "accepted"
        made = [Version(part, doubts, standing, "split", now.said) for part in parts]
        number = step.add_version(id, made[0])
        added = [step.added(add_beside(book, id, number, version)) for version in made[1:]]
        step.what = f"split: {line_of(now.entry)}, into {'; '.join(map(line_of, parts))}"
    return tuple(map(book.entry, [id, *added]))


def merge(book: Book, id: int, other: int) -> BookEntry:
    """Adds what another entry says to this one; the other counts no more, and stays readable.

    The doubts of both stay, and photos tied to the other by hand are tied to this one.
    """
    with deciding(book) as step:
        now, gone = book.entry(id), book.entry(other)
        if id == other:
            raise BookError(f"entry {id}: it takes two to make one")
        if book.job_of(id) != book.job_of(other):
            raise BookError(f"entries {id} and {other} are in two jobs; move one first")
        for one in (now, gone):
            _stands(one)
        whole = together(now.entry, gone.entry)
        doubts = tuple(dict.fromkeys((*now.doubts, *gone.doubts)))
        standing: Standing = "heard" if doubts else "accepted"
        step.what = f"merged: {line_of(now.entry)}, and {line_of(gone.entry)}"
        step.add_version(id, Version(whole, doubts, standing, "merged", now.said))
        step.add_version(other, Version(gone.entry, (), "dropped", "merged", gone.said))
        for row in book._rows("SELECT photo FROM hand_tie WHERE entry = ? AND tied", other):
            step.put(f"tie {row['photo']} {other}", None)
            step.put(f"tie {row['photo']} {id}", "1")
    return book.entry(id)


def _stands(entry: BookEntry) -> None:
    if entry.standing == "dropped":
        raise BookError(f"entry {entry.id} is dropped; restore it first")
    if entry.entry.kind == "correction":
        raise BookError(f"entry {entry.id} only changes another one; drop it, or edit that one")


def shared(entry: Entry, first: object) -> tuple[Entry, Entry]:
    """The entry in two: so much of its amount in the first, as a person types it, the rest in the
    second, exactly. What else adds up in it is shared in the same proportion.

    Raises `BookError` where the entry holds no amount, or so much is no part of it.
    """
    amounts = adds_up(entry)
    if not amounts:
        raise BookError(f"{describe(entry)}: there is no amount in it to share")
    leading, *others = amounts
    try:
        one = edited(entry, leading, first)
    except ValueError as error:
        raise BookError(str(error)) from None
    whole, part = getattr(entry, leading), getattr(one, leading)
    if not 0 < part < whole:
        raise BookError(f"{first} is no part of {amount(Fraction(whole))}: name less, but not 0")
    other = replace(entry, **{leading: whole - part})
    share = Fraction(part) / Fraction(whole)
    for name in others:
        told = getattr(entry, name)
        one = replace(one, **{name: told * share})
        other = replace(other, **{name: told * (1 - share)})
    return one, other


def together(one: Entry, other: Entry) -> Entry:
    """One entry that says what both say, its amounts being the exact sums.

    Raises `BookError` where they are not alike, and says in what.
    """
    if one.kind != other.kind or adds_up(one) != adds_up(other):
        raise BookError(f"these are not alike: {describe(one)}; {describe(other)}")
    amounts = adds_up(one)
    for name in (*FIELDS[one.kind], "place", "day"):
        mine, theirs = getattr(one, name), getattr(other, name)
        if mine != theirs and name not in (*amounts, "as_said"):
            raise BookError(f"they are not alike in {name}: {_or_none(mine)}, {_or_none(theirs)}")
    notes = dict.fromkeys(filter(None, (one.note, other.note)))
    sums = {name: getattr(one, name) + getattr(other, name) for name in amounts}
    carried = tuple(name for name in one.carried if name in other.carried)
    both = replace(one, note="; ".join(notes) or None, carried=carried, **sums)
    return both if one.as_said == other.as_said else replace(both, as_said=None)


def adds_up(entry: Entry) -> tuple[str, ...]:
    """The fields in which two such entries add up, the leading one first; none without amounts."""
    names = _ADD_UP.get(entry.kind, ("quantity",) if "item" in FIELDS[entry.kind] else ())
    return tuple(name for name in names if getattr(entry, name) is not None)


def _or_none(value: object) -> str:
    return "nothing" if value is None else str(value)


_ADD_UP: dict[Kind, tuple[str, ...]] = {
    "measure": ("pieces",),
    "break": ("minutes",),
    "labor": ("hours", "quantity"),
    "extra": ("price", "hours"),
    "expense": ("price",),
    "drive": ("miles", "minutes"),
    "price": (),
}
"""Of the other kinds those with an item add up in its quantity."""
