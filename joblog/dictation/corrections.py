"""Taking back, changing and repeating what was said last."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import cast

from joblog.dictation.draft import Draft, Parts
from joblog.dictation.grammar import NUMBERS, Stretch, is_a
from joblog.dictation.labor import time_of
from joblog.dictation.lengths import new_number
from joblog.dictation.numbers import Number
from joblog.model import Entry
from joblog.quantity import tape


def add_drop(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    last = draft.last()
    why = None if last is not None else "says to take back the last one, and there is none before"
    if len(stretch.atoms) == 1 and stretch.atoms[0].words in _NEEDS_LAST:
        return False
    draft.entries.append(Entry("correction", action="drop"))
    draft.taken_back = True
    if why:
        draft.doubts.append((len(draft.entries) - 1, why))
    return True


_NEEDS_LAST = ("scratch", "strike", "delete", "erase")


def add_instead(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    following = draft.atoms[stretch.end] if stretch.end < len(draft.atoms) else None
    if following is None or following.words == "to":
        return False
    draft.awaiting = True
    return True


def add_maybe_instead(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "No", "wait" and "sorry" take something back only when a number follows."""
    following = draft.atoms[stretch.end] if stretch.end < len(draft.atoms) else None
    if following is None or (following.char not in NUMBERS and not is_a(following, "INSTEAD")):
        return False
    draft.awaiting = draft.awaiting or following.char in NUMBERS
    return True


def add_not_this(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Not nine, eight"."""
    draft.awaiting = True
    return new_number(draft, cast(Number, parts["b"][0].value).value)


def add_adjust(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Make it light": a sixteenth less than the last one."""
    last = draft.last()
    if not draft.awaiting or last is None or last.inches is None:
        return False
    sixteenth = Fraction(1, 16) if is_a(stretch.atoms[0], "HEAVY") else -Fraction(1, 16)
    as_said = f"{last.as_said or tape(last.inches)} {stretch.atoms[0].words}"
    return draft.add(replace(last, inches=last.inches + sixteenth, as_said=as_said, carried=()))


def add_time_instead(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "No wait, 7:45": another time for a start, a stop or a break."""
    last = draft.last()
    if not draft.awaiting or last is None or last.kind not in ("start", "stop", "break"):
        return False
    clock, why = time_of(parts["t"], draft.context.at, last.kind)
    if clock is None:
        return False
    return draft.add(replace(last, time=clock, carried=()), why)


def add_again(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    last = draft.last()
    if last is None or last.kind == "correction":
        return False
    return draft.add(replace(last, place=draft.place or last.place, carried=()))
