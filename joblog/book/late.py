"""What comes in late: said before things that are in the book already, and so perhaps meant there.

A correction that may have meant what has come in since, and a place that would have been another,
are doubtful from then on: joblog does not decide it.
"""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from joblog.book.earlier import changes_elsewhere, standing_before
from joblog.book.history import NOTHING_BEFORE, Version
from joblog.book.steps import Deciding
from joblog.book.store import Book
from joblog.form import describe
from joblog.local import clock_written
from joblog.model import BookEntry, Reading, Vocabulary


def note_late(step: Deciding, job: str, fresh: Sequence[int], words: Vocabulary) -> None:
    """Makes doubtful what was said later that day and would be understood otherwise now.

    `fresh` are entries that have just come in. In most days nothing later is in the book yet.
    """
    book = step.book
    came = [one for one in map(book.entry, fresh) if one.standing != "dropped"]
    if not came:
        return
    zone = ZoneInfo(book.job(job).zone)
    first = min(came, key=lambda one: (one.at, one.id))
    later = [
        one
        for one in book.entries(job, first.at.astimezone(zone).date())
        if one.at > first.at and one.id not in fresh and one.standing != "dropped"
    ]
    if not later:
        return
    since = f"what was said at {clock_written(first.at.astimezone(zone))} came in later"
    for one in later:
        if one.entry.kind == "correction":
            _meant_otherwise(step, job, one, set(fresh), words, since)
    for one, why in _placed_otherwise(came, later, since):
        _doubt(step, one.id, why)
    step.what = step.what or f"{since}, and changes what later words may mean"


def _meant_otherwise(
    step: Deciding, job: str, said: BookEntry, fresh: set[int], words: Vocabulary, since: str
) -> None:
    """Doubts on a correction, and on what it changed, where it would now mean a fresh entry."""
    changed = [(id, was) for _, id, was, _ in changes_elsewhere(step.book, [said.id])]
    if not changed and NOTHING_BEFORE not in said.doubts:
        return  # It put right what was said in the same breath.
    meant = _meant(step.book, job, said, dict(changed), words)
    if meant is None or meant.id not in fresh:
        return
    why = f"{since}: was {describe(meant.entry)} meant?"
    for id in (said.id, *(id for id, _ in changed)):
        _doubt(step, id, why)


def _meant(
    book: Book, job: str, said: BookEntry, was: dict[int, int], words: Vocabulary
) -> BookEntry | None:
    """The entry that a correction would mean if it were read now; `was` is what it changed and
    the version of that before."""
    from joblog.dictation import Context, after, read

    together = [one for one in book.entries(job) if _said_together(one, said)]
    before = list(standing_before(book, job, said.at, [one.id for one in together]))
    before = [book.versions(one.id)[was[one.id] - 1] if one.id in was else one for one in before]
    here = {one.id for one in before}
    before += [book.versions(id)[number - 1] for id, number in was.items() if id not in here]
    before.sort(key=lambda one: (one.at, one.id))
    at = said.at.astimezone(ZoneInfo(book.job(job).zone)).replace(tzinfo=None)
    context = after(Context(at=at), Reading(tuple(one.entry for one in before)))
    read_now = read(said.said, words, context).entries
    which = sum(one.entry.kind == "correction" and one.id < said.id for one in together)
    corrections = [at for at, one in enumerate(read_now) if one.kind == "correction"]
    if which >= len(corrections):
        return None
    number = corrections[which]
    own = sum(one.kind != "correction" for one in read_now[:number])
    back = read_now[number].back - own
    return before[-1 - back] if 0 <= back < len(before) else None


def _said_together(one: BookEntry, other: BookEntry) -> bool:
    if other.utterance is not None:
        return one.utterance == other.utterance
    return (one.utterance, one.at, one.said) == (None, other.at, other.said)


def _placed_otherwise(
    came: Sequence[BookEntry], later: Sequence[BookEntry], since: str
) -> list[tuple[BookEntry, str]]:
    """The entries that took a place over from words before those that came, until one is said."""
    place = next((one.entry.place for one in reversed(came) if one.entry.place), None)
    found: list[tuple[BookEntry, str]] = []
    last = max(one.at for one in came)
    for one in later:
        entry = one.entry
        if place is None or one.at <= last or entry.kind == "correction":
            continue
        if entry.place is not None and "place" not in entry.carried:
            break
        if entry.place is not None and entry.place != place:
            found.append((one, f"{since}: is it {entry.place}, or {place}?"))
    return found


def _doubt(step: Deciding, id: int, why: str) -> None:
    """One doubt more, but on what a person has looked at."""
    now = step.book.entry(id)
    was = now.origin or now.change
    looked_at = now.standing == "accepted" and was in ("accepted", "edited")
    if now.standing != "dropped" and not looked_at:
        doubts = tuple(dict.fromkeys((*now.doubts, why)))
        made = Version(now.entry, doubts, "heard", now.change, now.said, origin=was)
        step.add_version(id, made)
