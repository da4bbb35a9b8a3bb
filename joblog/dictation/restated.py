"""One fact said twice in a breath, first in part: "three hours, three hours wrapping fascia"."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

from joblog.dictation.draft import Draft
from joblog.dictation.grammar import has_any
from joblog.model import STOCK_KINDS, Entry


def leave_out_restated(draft: Draft) -> None:
    """Keeps of two entries that are one fact the fuller one, with what only the other says.

    Two whole amounts of material stay two: whether it was said twice or used twice is asked.
    """
    if len(draft.entries) < 2:
        return
    at = len(draft.entries) - 1
    while at > 0:
        earlier = next((one for one in range(at) if _is_one(draft, one, at)), None)
        if earlier is not None:
            _join(draft, earlier, at)
        at -= 1
    _leave_out_parts(draft)
    _leave_out_list(draft)
    _doubt_sums(draft)


def _doubt_sums(draft: Draft) -> None:
    """ "One tube on the porch, then another, so two tubes": two in all, or two more?"""
    doubted = {at for at, _ in draft.doubts}
    for at in range(1, len(draft.entries)):
        one = draft.entries[at]
        before = [other for other in range(at) if _is_part(draft.entries[other], one)]
        if one.kind in STOCK_KINDS and before and _summed(draft, at):
            why = "in all, or more of it?"
            draft.doubts += [(one, why) for one in (*before, at) if one not in doubted]
            return


def _leave_out_parts(draft: Draft) -> None:
    """ "I used two and one after lunch, so three, three rolls used": the sum alone stands, in
    doubt."""
    for at in range(len(draft.entries) - 1, 1, -1):
        whole = draft.entries[at]
        if whole.kind not in STOCK_KINDS or whole.quantity is None:
            continue
        first = at
        parts = Fraction(0)
        while first and parts < whole.quantity and _is_part(draft.entries[first - 1], whole):
            first -= 1
            parts += draft.entries[first].quantity or 0
        if at - first > 1 and parts == whole.quantity:
            for _ in range(at - first):
                _drop(draft, first)
            draft.doubts.append((first, "the sum of what was said before it, or more?"))
            return


def _leave_out_list(draft: Draft) -> None:
    """ "Sixteen vented and seven solid, so sixteen vented and seven solid delivered" are two
    amounts, said twice in their order."""
    facts = [(one.item, one.quantity, one.unit) for one in draft.entries]
    for length in range(len(facts) // 2, 1, -1):
        for start in range(len(facts) - 2 * length + 1):
            first, second = start, start + length
            part = facts[first:second]
            told = all(one.kind in STOCK_KINDS for one in draft.entries[first:second])
            if told and len({*part}) > 1 and part == facts[second : second + length]:
                for _ in range(length):
                    _drop(draft, start)
                draft.doubts.append((start, "said twice: is it one, or two?"))
                return


def _is_part(entry: Entry, whole: Entry) -> bool:
    same = entry.kind == whole.kind and bool(entry.quantity) and entry.item == whole.item
    return same and _agree(entry, whole, ("unit", "place"))


def _is_one(draft: Draft, earlier: int, later: int) -> bool:
    one, other = draft.entries[earlier], draft.entries[later]
    if one.kind in STOCK_KINDS:
        partly = one.item is None and one.note is None and one.quantity is not None
        if not partly and later == earlier + 1 and one.kind == other.kind:
            return (
                one.item == other.item and one.quantity == other.quantity and _summed(draft, later)
            )
        return partly and one.quantity == other.quantity and _agree(one, other, ("unit", "place"))
    if one.kind != other.kind:
        return False
    same = _SAME.get(one.kind)
    if same is None or not same(one, other):
        return False
    return one.kind != "measure" or _says_more(draft, earlier, later)


def _summed(draft: Draft, later: int) -> bool:
    """ "I count seven solid, so seven solid"."""
    stretch = draft.made_by.get(later)
    before = None if stretch is None else draft.before(stretch)
    return before is not None and before.words in ("so", "that's", "that makes")


def _says_more(draft: Draft, earlier: int, later: int) -> bool:
    """False for readings that happen to be alike: "eight and a half and again eight and a half"."""
    one, other = draft.entries[earlier], draft.entries[later]
    first, second = draft.made_by.get(earlier), draft.made_by.get(later)
    if first is None or second is None:
        return False
    if any(entry.kind != "measure" for entry in draft.entries[earlier + 1 : later]):
        return False
    between = draft.atoms[first.end : second.start]
    if has_any(between, "AGAIN") or any(atom.words == "again" for atom in between):
        return False
    if any(at in (earlier, later) for at, _ in draft.doubts):
        return True  # Each settles the other: "forty one foot three, forty one three".
    said_of = [(entry.dimension, entry.pieces, entry.place) for entry in (one, other)]
    pieces = one.pieces is not None and one.pieces == other.pieces
    return pieces or said_of[0] != said_of[1] or has_any(between, "CONFIRM", "HESITATING")


def _measures(one: Entry, other: Entry) -> bool:
    if one.inches is None or one.inches != other.inches:
        return False
    said = f"{one.as_said} {other.as_said}"
    exact = one.inches.denominator > 1 or not (one.as_said or "").isdecimal()
    shaded = "light" in said or "heavy" in said or "shy" in said
    return (
        exact
        and not shaded
        and _agree(one, other, ("place", "item", "dimension", "pieces", "note"))
    )


def _times(one: Entry, other: Entry) -> bool:
    return one.time is not None and one.time == other.time and _agree(one, other, ("workers",))


def _breaks(one: Entry, other: Entry) -> bool:
    return one.minutes is not None and one.minutes == other.minutes


def _hours(one: Entry, other: Entry) -> bool:
    same = one.task is None or (one.task == other.task and one.note == other.note)
    return same and one.hours == other.hours and _agree(one, other, ("place", "workers"))


_SAME: dict[str, Callable[[Entry, Entry], bool]] = {
    "measure": _measures,
    "start": _times,
    "stop": _times,
    "break": _breaks,
    "labor": _hours,
}


def _agree(one: Entry, other: Entry, names: Sequence[str]) -> bool:
    pairs = ((getattr(one, name), getattr(other, name)) for name in names)
    return all(mine is None or its is None or mine == its for mine, its in pairs)


def _join(draft: Draft, earlier: int, later: int) -> None:
    """Makes the later of two entries of both."""
    one, other = draft.entries[earlier], draft.entries[later]
    if one.kind == other.kind:
        kept = {
            name: getattr(one, name)
            for name in _KEPT
            if getattr(other, name) is None and not (one.kind == "labor" and name == "note")
        }
        draft.entries[later] = replace(other, **kept)
    if one.kind == "measure" and not any(at == earlier for at, _ in draft.doubts):
        # What was read beyond doubt settles the same number.
        draft.doubts = [(at, why) for at, why in draft.doubts if at != later]
    _drop(draft, earlier)


_KEPT = (
    "place", "item", "dimension", "pieces", "workers", "note", "unit", "size", "length", "profile",
    "colour",
)  # fmt: skip
"""What one of two sayings may tell alone."""


def _drop(draft: Draft, gone: int) -> None:
    """Leaves out an entry, with its doubts."""
    del draft.entries[gone]
    draft.doubts = [(at - (at > gone), why) for at, why in draft.doubts if at != gone]
    draft.made_by = {
        at - (at > gone): stretch for at, stretch in draft.made_by.items() if at != gone
    }
