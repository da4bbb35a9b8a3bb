"""What is decided while it is read back: by an answer, or by saying nothing.

Each is one step of the job's history. What is settled here is settled for the evening.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from joblog.book.decisions import line_of, undropped
from joblog.book.entries import as_is
from joblog.book.errors import BookError
from joblog.book.history import Version, replaced
from joblog.book.steps import BY_EAR, Deciding, deciding, last_by, take_back
from joblog.book.store import Book
from joblog.model import BookEntry, Entry


@dataclass(frozen=True, slots=True)
class LetStand:
    """Nothing was said against these. What is doubtful among them stays doubtful."""

    entries: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Drop:
    """ "Scratch that.\""""

    entry: int


@dataclass(frozen=True, slots=True)
class Replace:
    """A number, or more, said again in the place of what was read back; what it does not say stays.

    `doubts` are those of the new words. An utterance that is kept with this decision gives its own
    first entry up for it, and has it back when this is undone: then both stand.
    """

    entry: int
    by: Entry
    said: str
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Settle:
    """What was asked back is answered: it is `by`, or as it stands with None. No doubt is left."""

    entry: int
    by: Entry | None = None
    said: str = ""


@dataclass(frozen=True, slots=True)
class KeepBoth:
    """Takes back the last change that was made by ear: both numbers were meant."""


Outcome = Literal["accepted", "changed", "dropped", "overruled"]
"""Overruled is what was let stand, or said to be right, and put right or dropped afterwards."""
_WORSE: tuple[Outcome, ...] = ("accepted", "changed", "dropped")

Decision = LetStand | Drop | Replace | Settle | KeepBoth


def decide(book: Book, job: str, decision: Decision, own: int | None = None) -> tuple[int, ...]:
    """Does it, in one step; the ids of the entries that it changed, the one it names first.

    `own` is the entry that the words of a `Replace` made by themselves. Raises `BookError` for an
    entry that is not there, and where there is nothing to take back.
    """
    if isinstance(decision, KeepBoth):
        return _keep_both(book, job)
    with deciding(book, BY_EAR) as step:
        match decision:
            case LetStand():
                _let_stand(step, decision)
            case Drop():
                _drop(step, decision)
            case Replace():
                _replace(step, decision)
            case Settle():
                _settle(step, decision)
        if isinstance(decision, Replace) and own is not None:
            step.add_version(own, as_is(book.entry(own), "dropped", "dropped"))
    return tuple(int(noun.split()[1]) for noun in step.before)


def outcomes(book: Book, job: str) -> dict[int, Outcome]:
    """What became by ear of each entry of a job that was read back; the worst, of several.

    Only the first that a step names was: the other entry of a `Replace` is but its words.
    """
    found = book._rows(
        "SELECT entry, change, standing FROM step JOIN step_effect ON step = step.id"
        " JOIN entry_version ON entry = CAST(substr(noun, 7) AS INTEGER)"
        "  AND version = CAST(after AS INTEGER)"
        " WHERE noun LIKE 'entry %' AND who = ? AND undone IS NULL AND job = ?"
        "  AND (ordinal = 0 OR change = 'accepted') ORDER BY step.id",
        BY_EAR,
        book._job(job)["id"],
    )
    every: dict[int, Outcome] = {}
    for row in found:
        became: Outcome = "changed" if row["change"] == "corrected" else "accepted"
        if row["standing"] == "dropped":
            became = "dropped"
        every[row["entry"]] = max(every.get(row["entry"], became), became, key=_WORSE.index)
    now = {id: book.entry(id) for id in every}
    return {
        id: "overruled" if became == "accepted" and _overruled(now[id]) else became
        for id, became in every.items()
        if now[id].change != "withdrawn"  # It was only the beginning of another.
    }


def _overruled(now: BookEntry) -> bool:
    """Whether an entry was changed or dropped otherwise than by ear since it was accepted."""
    return now.standing == "dropped" or (now.origin or now.change) in ("corrected", "edited")


def stood_by_silence(book: Book, id: int) -> Version | None:
    """What an entry was before it was let stand, where nothing else was decided of it since."""
    *_, before, now = (None, *book.versions(id))
    if before is None or now.change != "accepted" or before.doubts:
        return None
    [last] = book._rows(
        "SELECT who FROM step JOIN step_effect ON step = id WHERE noun = ? AND undone IS NULL"
        " ORDER BY id DESC LIMIT 1",
        f"entry {id}",
    )
    return as_is(before, "restored") if last["who"] == BY_EAR else None


def _let_stand(step: Deciding, decision: LetStand) -> None:
    for id in dict.fromkeys(decision.entries):
        now = step.book.entry(id)
        if now.standing == "heard" and not now.doubts:
            step.add_version(id, Version(now.entry, (), "accepted", "accepted", now.said))
            step.what += f"{'; ' if step.what else 'let stand: '}{line_of(now.entry)}"


def _drop(step: Deciding, decision: Drop) -> None:
    now = step.book.entry(decision.entry)
    if now.standing != "dropped":
        step.what = f"dropped: {line_of(now.entry)}"
        step.add_version(now.id, as_is(now, "dropped", "dropped"))


def _replace(step: Deciding, decision: Replace) -> None:
    now = step.book.entry(decision.entry)
    was = as_is(now, "restored") if now.standing != "dropped" else undropped(step.book, now.id)
    new = Version(decision.by, decision.doubts, "heard", "corrected", decision.said)
    made = replaced(was, new, decision.by)
    if not made.doubts:
        made = replace(made, standing="accepted")
    step.what = f"corrected: {line_of(now.entry)}, now {line_of(made.entry)}"
    step.add_version(now.id, made)


def _settle(step: Deciding, decision: Settle) -> None:
    now = step.book.entry(decision.entry)
    entry, said = decision.by or now.entry, decision.said or now.said
    if entry == now.entry:
        if now.standing != "accepted":
            step.what = f"accepted: {line_of(entry)}"
            step.add_version(now.id, Version(entry, (), "accepted", "accepted", now.said))
        return
    step.what = f"corrected: {line_of(now.entry)}, now {line_of(entry)}"
    step.add_version(now.id, Version(entry, (), "accepted", "corrected", said))


def _keep_both(book: Book, job: str) -> tuple[int, ...]:
    with book._writing():
        last = last_by(book, job, BY_EAR)
        if last is None:
            raise BookError(f"{job}: nothing was changed by ear that could be taken back")
        taken = take_back(book, last, BY_EAR)
    first = next(step for step in taken if step.id == last)
    return tuple(dict.fromkeys((*first.entries, *(id for step in taken for id in step.entries))))
