"""Time and labor: clocks, starts and stops, breaks, hours on tasks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta
from fractions import Fraction
from typing import cast

from joblog.dictation.draft import Draft, Parts, whole_in, words_of
from joblog.dictation.grammar import CLOCK, FRAC, NUMBERS, Atom, Stretch, is_a
from joblog.dictation.numbers import Number
from joblog.dictation.places import place_in
from joblog.model import Entry, Kind, Vocabulary


def add_attendance(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    kind = cast(Kind, stretch.meaning)
    whys: list[str | None] = []
    last = draft.entries[-1] if draft.entries else None
    if "t" in parts:
        clock, why = time_of(parts["t"], draft.context.at, kind)
        if clock is None:
            return False
        whys.append(why)
        if last is not None and last.kind == kind and draft.timeless == len(draft.entries):
            draft.entries[-1] = replace(last, time=clock)  # "Packed up and left at five."
            return True
    elif _before_a_number(draft, stretch):
        return False
    elif draft.context.at is not None:
        clock = draft.context.at.time().replace(second=0, microsecond=0)
    else:
        clock = None
        whys.append("when? No time was said")
    workers, why = hands(parts.get("w"), stretch.atoms)
    whys.append(why)
    if "t" not in parts:
        draft.timeless = len(draft.entries) + 1
    if "h" in parts:
        # A helper who comes or goes: the day itself neither starts nor stops.
        return draft.add(Entry(kind, time=clock), "how many are at work from then on?")
    note = words_of(parts.get("y", ())) or None
    return draft.add(Entry(kind, time=clock, workers=workers, note=note), *whys)


def _before_a_number(draft: Draft, stretch: Stretch) -> bool:
    """A time was said, but not one that could be read."""
    after = draft.atoms[stretch.end : stretch.end + 2]
    return any(atom.char in NUMBERS for atom in after)


def add_span(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Worked seven to four thirty": a start and a stop."""
    first, why = time_of(parts["a"], draft.context.at, "start")
    second, other_why = time_of(parts["b"], draft.context.at, "stop")
    if first is None or second is None:
        return False
    draft.add(Entry("start", time=first), why)
    return draft.add(Entry("stop", time=second), other_why)


def add_break(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if "m" in parts:
        number = cast(Number, parts["m"][0].value).value
        return draft.add(Entry("break", minutes=number)) if number in _IDIOM else False
    clock, why = None, None
    if "t" in parts:
        clock, why = time_of(parts["t"], draft.context.at, "break")
        if clock is None:
            return False
    if "d" in parts:
        minutes, other_why = duration(parts["d"])
        return draft.add(Entry("break", time=clock, minutes=minutes), why, other_why)
    if "t" in parts:
        return draft.add(Entry("break", time=clock), why, "how long was the break?")
    between = _between(draft, parts)
    if between is None:
        return False
    clock, minutes, why = between
    return draft.add(Entry("break", time=clock, minutes=minutes), why)


_IDIOM = (5, 10, 15)
"""Minutes one "takes"."""


def _between(draft: Draft, parts: Parts) -> tuple[time, Fraction, str | None] | None:
    first, why = time_of(parts["a"], draft.context.at, "break")
    second, other_why = time_of(parts["b"], draft.context.at, "break")
    if first is None or second is None:
        return None
    minutes = (second.hour * 60 + second.minute - first.hour * 60 - first.minute) % (12 * 60)
    return first, Fraction(minutes), why or other_why


def add_crew(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    workers, why = hands(parts.get("w"), stretch.atoms)
    last = draft.entries[-1] if draft.entries else None
    if last is not None and last.kind in ("start", "stop", "labor") and last.workers is None:
        draft.entries[-1] = replace(last, workers=workers)
        draft.doubts.extend([(len(draft.entries) - 1, why)] if why else [])
        return True
    if stretch.end == len(draft.atoms):
        return False
    draft.workers = workers
    return True


def add_labor(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    why: str | None
    if "a" in parts:
        between = _between(draft, parts)
        if between is None:
            return False
        _, minutes, why = between
    else:
        minutes, why = duration(parts["d"])
    workers, hands_why = hands(parts.get("w"), stretch.atoms)
    whys = [why, hands_why]
    task: str | None = None
    note: str | None = None
    place: str | None = None
    if "task" in parts:
        words = words_of(parts["task"])
        task = _task(draft.vocabulary, words)
        place = place_in(parts["task"])
        if task is None:
            note = words
            whys.append(f"{words!r} is no task of this job")
    else:
        whys.append("hours on which task?")
    entry = Entry("labor", hours=minutes / 60, workers=workers, task=task, note=note, place=place)
    return draft.add(entry, *whys)


def _task(vocabulary: Vocabulary, words: str) -> str | None:
    """The task whose spoken name stands in the words; the longest name wins."""
    padded = f" {words} "
    found = [
        (len(name), task.name)
        for task in vocabulary.tasks
        for name in (task.name, *task.spoken)
        if f" {name.lower()} " in padded
    ]
    return max(found)[1] if found else None


def duration(atoms: Sequence[Atom]) -> tuple[Fraction, str | None]:
    """Minutes, and a doubt when they were only roughly said."""
    minutes = Fraction(0)
    pending: Fraction | None = None
    why: str | None = None
    in_hours = False
    for atom in atoms:
        if isinstance(atom.value, Number):
            if atom.char == FRAC and in_hours:
                minutes += atom.value.value * 60
            else:
                pending = atom.value.value
        elif is_a(atom, "HOURWORD"):
            minutes += (pending if pending is not None else Fraction(1)) * 60
            pending, in_hours = None, True
        elif is_a(atom, "MINUTE"):
            minutes += pending if pending is not None else Fraction(1)
            pending = None
        elif is_a(atom, "ABOUT"):
            why = f"only roughly: {atom.words!r}"
    return minutes, why


def hands(count: tuple[Atom, ...] | None, atoms: Sequence[Atom]) -> tuple[int | None, str | None]:
    """People at work, the speaker included."""
    if count is None:
        return (1, None) if any(is_a(atom, "ALONE") for atom in atoms) else (None, None)
    number = whole_in(count) or 1
    if any(is_a(atom, "HELPER") for atom in atoms):
        number += 1
    elif any(atom.words == "crew" for atom in atoms):
        return number, None
    elif any(atom.words == "with" for atom in atoms):
        return number + 1, f"{number} besides you, or {number} in all?"
    return number, f"{number} people?" if number > 12 else None


def time_of(
    atoms: Sequence[Atom], near: datetime | None, kind: str
) -> tuple[time | None, str | None]:
    """A clock time; morning or afternoon from the words, else from the recording's own time."""
    read = _clock(atoms)
    if read is None:
        return None, None
    hour, minute = read
    if not (0 <= hour <= 23 and 0 <= minute <= 59):
        return None, None
    if any(is_a(atom, "PM") for atom in atoms):
        return time(hour % 12 + 12, minute), None
    if any(is_a(atom, "AM") for atom in atoms):
        return time(hour % 12 if hour == 12 else hour, minute), None
    if any(is_a(atom, "NOON") for atom in atoms) or hour > 12 or hour == 0:
        return time(hour, minute), None
    morning, afternoon = time(hour % 12, minute), time(hour % 12 + 12, minute)
    if near is None:
        # Without a clock to go by: work starts in the morning and stops in the afternoon.
        early = kind == "start" and 4 <= hour < 12
        late = kind != "start" and hour in (12, 1, 2, 3, 4, 5, 6)
        if early or late:
            return (morning if early else afternoon), None
        return (morning if kind == "start" else afternoon), "morning or afternoon?"
    return _nearest(morning, afternoon, near, kind)


def _nearest(morning: time, afternoon: time, near: datetime, kind: str) -> tuple[time, str | None]:
    """Of two times of day the one that is meant: it lies in the past, and work starts early."""

    def ahead(clock: time) -> timedelta:
        return datetime.combine(near.date(), clock, near.tzinfo) - near

    past = [clock for clock in (morning, afternoon) if ahead(clock) <= _SOON]
    if len(past) == 1:
        return past[0], None
    if not past:
        return min((morning, afternoon), key=lambda clock: abs(ahead(clock))), "not yet that late"
    if kind == "start" and morning.hour >= 4:
        return morning, None
    close = abs(ahead(afternoon) - ahead(morning)) < timedelta(hours=2)
    return afternoon, "morning or afternoon?" if close else None


_SOON = timedelta(minutes=60)
"""A clock and a recorder may differ, and "stopping at four thirty" may be said at four."""


def _clock(atoms: Sequence[Atom]) -> tuple[int, int] | None:
    numbers = [atom.value for atom in atoms if isinstance(atom.value, Number)]
    for atom in atoms:
        if atom.char == CLOCK:
            hours, _, minutes = atom.words.partition(":")
            return int(hours), int(minutes)
        if atom.words in ("noon", "midday"):
            return 12, 0
        if atom.words == "midnight":
            return 0, 0
    turn = next((atom for atom in atoms if is_a(atom, "PAST") or is_a(atom, "TO")), None)
    if turn is not None and len(numbers) == 2:
        first, second = numbers
        part = first.value * 60 if first.whole is None else first.value
        if part.denominator != 1 or second.whole is None or not 1 <= second.whole <= 12:
            return None
        if is_a(turn, "PAST"):
            return second.whole, int(part)
        return (second.whole - 1) or 12, 60 - int(part)
    wholes = [number.whole for number in numbers if number.whole is not None]
    if len(wholes) == 1 and numbers[0].value.denominator == 1:
        hour = wholes[0]
        if 100 <= hour <= 2359:
            return hour // 100, hour % 100
        return (hour, 0) if 0 < hour <= 23 else None
    if len(wholes) == 2 and 0 < wholes[0] <= 23 and wholes[1] < 60:
        oh = any(atom.words == "oh" for atom in atoms)
        if wholes[1] >= 10 or oh:
            return wholes[0], wholes[1]
    return None
