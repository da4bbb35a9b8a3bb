"""The day that is meant: "yesterday", "on Friday", "tomorrow"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from joblog.dictation.draft import Draft, Parts
from joblog.dictation.grammar import Atom, Stretch, has_any, is_a
from joblog.dictation.language.days import WEEKDAYS
from joblog.dictation.numbers import Number
from joblog.model import STOCK_KINDS, Entry, Kind


def add_days(draft: Draft) -> None:
    """Gives the entries of the draft the days that were said with them.

    A day said first holds for all that follows it, one said behind a fact for that fact and those
    of its sort before it. Where the day cannot be reckoned its words go into the note, with a
    doubt.
    """
    if not has_any(draft.atoms, *_DAYS):
        return
    marks = [at for at, atom in enumerate(draft.atoms) if has_any((atom,), *_DAYS)]
    covered: set[int] = set()
    for mark, until in zip(marks, [*marks[1:], len(draft.atoms)], strict=True):
        if not is_a(draft.atoms[mark], "DAYNOW"):
            for at in _told_of(draft, mark, until, covered):
                covered.add(at)
                _date(draft, at, mark)


_DAYS = ("DAYBACK", "DAYAHEAD", "DAYNAMED", "DAYSINCE", "DAYNOW", "DAYSAGO")


def _told_of(draft: Draft, mark: int, until: int, covered: set[int]) -> list[int]:
    """The entries that a day holds for, `until` the next one is named."""
    made = {at: by for at, by in draft.made_by.items() if at < len(draft.entries)}
    holding = [at for at, by in made.items() if by.start <= mark < by.end]
    behind = [at for at, by in made.items() if mark < by.start < until]
    before = [at for at, by in made.items() if by.end <= mark and at not in covered]
    if holding:
        first = made[holding[0]].start == mark or not before
        return sorted({*holding, *(behind if first and len(holding) == 1 else ())})
    if before and (not behind or _closes(draft, mark, made[behind[0]].start)):
        last = draft.entries[before[-1]]
        kept = [before[-1]]
        for at in reversed(before[:-1]):
            if _sort(draft.entries[at]) != _sort(last):
                break
            kept.append(at)
        return kept
    return behind or [at for at in range(len(draft.entries)) if at not in made][:1]


def _closes(draft: Draft, mark: int, following: int) -> bool:
    """True where a day belongs to what stands before it: "used two yesterday, and today three"."""
    if draft.atoms[mark].pause or (mark and is_a(draft.atoms[mark - 1], "AND")):
        return False
    between = draft.atoms[mark + 1 : following + 1]
    return any(atom.pause or is_a(atom, "AND") for atom in between)


def _sort(entry: Entry) -> str:
    if entry.kind in STOCK_KINDS:
        return "stock"
    return "hours" if entry.kind in _ATTENDED else entry.kind


_ATTENDED: tuple[Kind, ...] = ("start", "stop", "break", "labor")


def _date(draft: Draft, at: int, mark: int) -> None:
    entry = draft.entries[at]
    if entry.kind == "correction" or entry.day is not None:
        return
    words = draft.atoms[mark].words
    before = draft.atoms[mark - 1] if mark else None
    day, why = day_of(
        draft.atoms[mark],
        before,
        draft.context.at,
        ahead=is_ahead(draft.atoms, entry),
    )
    if is_a(draft.atoms[mark], "DAYSINCE"):
        if entry.kind not in ("weather", "note", "problem"):
            draft.doubts.append((at, f"{words!r}: on which of these days?"))
        day = None
    if why is not None and (day is not None or entry.kind not in _TOLD):
        draft.doubts.append((at, why))
    if day is None and words not in (entry.note or ""):
        entry = replace(entry, note=" ".join(filter(None, (entry.note, words))))
    draft.entries[at] = replace(entry, day=day)


_TOLD: tuple[Kind, ...] = (
    "note", "todo", "needed", "visit", "inspection", "weather", "problem", "covered", "photo",
)  # fmt: skip
"""Kinds that nothing is reckoned from by the day: the words in the note will do."""


def is_ahead(atoms: Sequence[Atom], entry: Entry) -> bool:
    """True where an entry speaks of what is still to come."""
    if entry.kind in ("needed", "todo"):
        return True
    if entry.kind in ("used", "spoiled", "delivered", "returned", "on_hand", *_ATTENDED):
        return False
    if entry.kind in ("visit", "inspection"):
        if any(atom.words.split()[0] in _PUT_OFF for atom in atoms):
            return True
        return not any(_is_past(atom) for atom in atoms)
    if any(atom.words.partition(" ")[0] in _TO_COME for atom in atoms):
        return True
    return has_any(atoms, "FUTURE", "WILLBE", "COMING")


_PUT_OFF = ("moved", "pushed", "rescheduled", "scheduled", "postponed", "bumped")
_TO_COME = ("gets", "goes", "leaves", "opens", "closes", "starts", "delivers", "arrives", "due")


def _is_past(atom: Atom) -> bool:
    word = atom.words.partition(" ")[0]
    return word in _PAST or (word.endswith("ed") and len(word) > _SHORT)


_PAST = (
    "was",
    "were",
    "came",
    "met",
    "had",
    "did",
    "didn't",
    "wasn't",
    "said",
    "told",
    "swung",
    "got",
)
_SHORT = 4
"""Letters of a word whose "ed" is no ending: "need", "shed"."""


def day_of(
    atom: Atom, before: Atom | None, at: datetime | None, *, ahead: bool
) -> tuple[date | None, str | None]:
    """The date that the words of a day mean when they are said `at` a moment, and a doubt.

    A weekday by itself is the last one, or the next one of what is still `ahead`.
    """
    words = atom.words.split()
    if at is None:
        return None, f"{atom.words!r}: of which day was that said?"
    today = at.date()
    if is_a(atom, "DAYSAGO"):
        return _ago(today, before)
    if "yesterday" in words:
        return today - timedelta(days=2 if "before" in words[:-1] else 1), None
    if "tomorrow" in words:
        return today + timedelta(days=2 if "after" in words else 1), None
    named = next((name for name in WEEKDAYS if name in words), None)
    if named is None:
        return _of_night(words, today)
    back = (today.weekday() - WEEKDAYS.index(named)) % 7
    ahead = (ahead or is_a(atom, "DAYAHEAD")) and not is_a(atom, "DAYBACK")
    day = today + timedelta(days=(7 - back) % 7) if ahead else today - timedelta(days=back)
    return _which_week(day, today, words, atom.words, ahead=ahead)


def _ago(today: date, before: Atom | None) -> tuple[date | None, str | None]:
    if before is None or not isinstance(before.value, Number):
        few = before is not None and is_a(before, "COUPLE")
        return today - timedelta(days=2 if few else 1), "how many days ago?" if few else None
    many = before.value.value
    if many.denominator != 1 or not 0 < many < _LONG_AGO:
        return None, f"{before.words!r} days ago?"
    return today - timedelta(days=int(many)), None


_LONG_AGO = 60
"""Days that nobody counts back to; common practice."""


def _of_night(words: Sequence[str], today: date) -> tuple[date | None, str | None]:
    if words[:2] == ["last", "night"]:
        return today - timedelta(days=1), None
    return today + timedelta(days=1), None  # First thing in the morning.


def _which_week(
    day: date, today: date, words: Sequence[str], said: str, *, ahead: bool
) -> tuple[date, str | None]:
    """The day, a week off where its own words put it there, and a doubt where they may."""
    if day == today:
        if "last" in words or "past" in words:
            return day - timedelta(days=7), None
        if "next" in words or ahead:
            return day + timedelta(days=7), None if "next" in words else f"{said!r}: which one?"
        return day, f"{said!r}: today, or a week ago?"
    monday = today - timedelta(days=today.weekday())
    this_week = monday <= day < monday + timedelta(days=7)
    if "next" in words and this_week:
        return day + timedelta(days=7), f"{said!r}: this week's, or the one after?"
    if "last" in words and this_week:
        return day, f"{said!r}: this week's, or the one before?"
    return day, None


def hour_to_go_by(draft: Draft) -> datetime | None:
    """The moment up to which a clock time of these words may lie: the end of a day that is past."""
    at = draft.context.at
    if at is None or not has_any(draft.atoms, "DAYBACK", "DAYNAMED", "DAYSAGO"):
        return at
    return datetime.combine(at.date(), time(23, 59), at.tzinfo)


def add_day(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """Nothing by itself: `add_days` gives it to the entries around it."""
    return len(draft.atoms) > len(stretch.atoms)
