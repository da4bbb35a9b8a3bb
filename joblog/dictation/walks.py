"""A walk around a house: its corners, what walls end in, openings, and what is in the way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from joblog.dictation.draft import Draft, Parts, changed, whole_in, words_of
from joblog.dictation.grammar import ITEM, Atom, Stretch, has_any, is_a
from joblog.dictation.lengths import length_of
from joblog.dictation.numbers import Number
from joblog.dictation.on_a_walk import follows_a_side, in_feet, is_side, walking
from joblog.model import Entry, OpeningKind, Top, Turn


def add_corner(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if "c" in parts:
        return draft.add(Entry("corner", corner=_turn(parts["c"][0].words)))
    if not _is_clause(draft, stretch):
        return False
    if "r" in parts:
        before = draft.context.standing
        alone = not draft.entries and bool(before) and is_side(before[-1])
        if not (walking(draft) or alone):
            return False  # "Hundred and four feet all the way around" is one length.
        return draft.add(Entry("corner", corner="around"))
    begins = parts["e"][0].words in ("starts", "begins")
    if not begins and not (walking(draft) or is_side(draft.last())):
        return False
    if begins and _names_no_wall(stretch.atoms):
        return False
    return draft.add(Entry("corner", corner="end"))


def _turn(words: str) -> Turn:
    return "outside" if words.startswith("outside") else "inside"


def _names_no_wall(atoms: Sequence[Atom]) -> bool:
    said = {word for atom in atoms for word in words_of((atom,)).split()}
    return said.isdisjoint(("wall", "house", "garage", "porch", "roof"))


def _is_clause(draft: Draft, stretch: Stretch) -> bool:
    """Whether it stands by itself, or between facts that are read by themselves."""
    before = [at for at in range(stretch.start) if not _idle(draft.atoms[at])]
    covered = {at for one in draft.stretches for at in range(one.start, one.end)}
    return all(at in covered for at in before)


def _idle(atom: Atom) -> bool:
    return has_any((atom,), "FILLER", "AND", "ARTICLE")


def add_corner_instead(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Not outside, inside"; "that was an inside corner"."""
    said = parts.get("c") or parts["d"]
    turn = _turn(said[0].words)
    last = draft.last()
    before = next((one for one in reversed(draft.standing()) if one.kind == "corner"), None)
    if before is None or before.corner == turn:
        return "c" in parts and draft.add(Entry("corner", corner=turn))
    led = [atom for atom in stretch.atoms if atom is not said[0]]
    plainly = has_any(led, "NOWAIT", "INSTEAD", "SHOULDBE", "SLIP") or any(
        atom.words in ("not", "that was", "it was") for atom in led
    )
    if not plainly and not (last is not None and last.kind == "corner"):
        return draft.add(Entry("corner", corner=turn))  # "That's an inside corner": the next one.
    draft.awaiting = True
    draft.mean(lambda one: one.kind == "corner")
    return draft.add(replace(before, corner=turn, carried=()))


def add_drop_walked(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Scratch that last window"."""
    word = parts["w"][0].words
    draft.aim = None
    if draft.mean(lambda one: _is_called(one, word)) is None:
        return False
    aim = draft.aim
    assert aim is not None
    draft.entries.append(Entry("correction", action="drop", back=aim.back))
    draft.taken_back = True
    return True


def _is_called(entry: Entry, word: str) -> bool:
    if word == "side":
        return is_side(entry)
    if word == "corner":
        return entry.kind == "corner"
    return entry.kind == "wall_opening" and (
        word == "opening" or word.startswith(entry.opening or "opening")
    )


def add_top(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Left side twenty eight, gable": what the wall of that side ends in."""
    top: Top = "open"
    if "t" in parts:
        top = "gable" if parts["t"][0].words.startswith("gable") else "eave"
    behind = draft.behind(stretch)
    next_one = next((one for one in draft.stretches if one.start == stretch.end), None)
    ends = behind is None or behind.pause or _idle(behind)
    before_it = draft.before(stretch)
    if before_it is not None and before_it.words == "of":
        return False  # "Eighteen feet of eave".
    if not ends and (next_one is None or next_one.meaning not in _BEHIND_A_TOP):
        return False  # "Gable seven and a half": where that is.
    last = draft.newest()
    if last is not None and last.replacement is None:
        if not is_side(last) or last.top is not None:
            return False
        if not (walking(draft) or in_feet(last)):
            return False
        draft.entries[-1] = changed(last, top=top)
        return True
    alone = all(
        _idle(atom) for at, atom in enumerate(draft.atoms) if not stretch.start <= at < stretch.end
    )
    before = draft.context.standing[-1] if draft.context.standing else None
    fits = is_side(before) or (before is not None and walking(draft))
    if draft.entries or not alone or not fits or not draft.context.place:
        return False
    return draft.add(Entry("measure", top=top))


_BEHIND_A_TOP = ("corner", "wall opening", "interruption", "pitch", "place")


def add_wall_opening(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    width, height = _side_of(parts["a"]), _side_of(parts["b"])
    if width is None or height is None:
        return False
    word = parts["o"][0]
    first = stretch.atoms.index(word) < stretch.atoms.index(parts["a"][0])
    if not walking(draft) and not (first and follows_a_side(draft)):
        return False  # Where nobody walks it is a size of something, as it always was.
    kind: OpeningKind = "door"
    if word.char == ITEM and not (walking(draft) and word.words.endswith(("vent", "vents"))):
        return False
    if is_a(word, "VENTWORD") or word.char == ITEM:
        kind = "vent"
    elif is_a(word, "WINDOWWORD"):
        kind = "window"
    why = None
    sides = [width, height]
    if all(is_a(atom, "INCH") for atom in parts["b"][-1:]) and not _has_unit(parts["a"]):
        pass  # "Eighteen by twenty four inches".
    elif not (_has_unit(parts["a"]) or _has_unit(parts["b"])):
        sides, why = _bare_sides(parts["a"], parts["b"], sides, kind)
    elif has_any(parts["b"], "FOOT") and not _has_unit(parts["a"]):
        sides[0] = _as_feet_and_inches(parts["a"])
    elif has_any(parts["a"], "FOOT") and not _has_unit(parts["b"]):
        sides[1] = _as_feet_and_inches(parts["b"])
    if not all(sides):
        return False
    count = whole_in(parts["n"]) if "n" in parts else None
    if count is None and has_any(parts.get("n", ()), "COUPLE"):
        count = 2
    along = length_of(parts["x"]) if "x" in parts else None
    at = along[0] if along else None
    if along and not _has_unit(parts["x"]):
        at, why = along[0], why or "inches, or feet?"
    entry = Entry(
        "wall_opening",
        opening=kind,
        width=sides[0],
        height=sides[1],
        pieces=count,
        at=at,
        note=_called(stretch, word),
    )
    return draft.add(entry, why, along[2] if along else None)


def _called(stretch: Stretch, word: Atom) -> str | None:
    """What it is called besides what it is: "bedroom window", "slider"."""
    at = stretch.atoms.index(word)
    numbers = [
        place for place, atom in enumerate(stretch.atoms[:at]) if isinstance(atom.value, Number)
    ]
    sized = "by" in [atom.words for atom in stretch.atoms[:at]]
    named = [
        atom
        for atom in stretch.atoms[numbers[-1] + 1 if sized else 0 : at + 1]
        if not isinstance(atom.value, Number) and not has_any((atom,), *_COUNTS, "FOOT", "INCH")
    ]
    words = words_of(named)
    return None if words in _PLAIN else words


_COUNTS = ("ARTICLE", "ONEMORE", "COUPLE", "FILLER", "AND")
_PLAIN = ("window", "windows", "door", "doors", "vent", "vents")


def _has_unit(atoms: Sequence[Atom]) -> bool:
    return has_any(atoms, "FOOT", "INCH")


def _side_of(atoms: Sequence[Atom]) -> Fraction | None:
    """One side of an opening as it was said, in inches where it has a unit."""
    if _has_unit(atoms):
        found = length_of(atoms)
        return found[0] if found else None
    numbers = _numbers(atoms)
    return numbers[0] if numbers else None


def _bare_sides(
    first: Sequence[Atom], second: Sequence[Atom], sides: list[Fraction], kind: OpeningKind
) -> tuple[list[Fraction], str | None]:
    """Both sides without a unit, and why they are unsure: a window of three by four is one of feet,
    one of thirty six by forty eight of inches, and no other can be meant (common practice)."""
    in_feet = [_as_feet_and_inches(first), _as_feet_and_inches(second)]
    if len(_numbers(first)) > 1 or len(_numbers(second)) > 1:
        return in_feet, None  # "Three by six eight".
    if all(side <= LARGEST_FEET for side in sides):
        if kind == "vent" and max(sides) >= 4:
            return sides, "inches, or feet?"
        return in_feet, None
    if kind == "door" and sides[0] <= WIDEST_DOOR and sides[1] <= LARGEST_FEET:
        return in_feet, None  # "Garage door sixteen by seven".
    if all(side >= LEAST_INCHES for side in sides):
        return sides, None
    return sides, "inches, or feet?"


LARGEST_FEET, WIDEST_DOOR, LEAST_INCHES = 10, 20, 12
"""Of a side of an opening; common practice: a garage door is up to 20 feet wide, and no window is
narrower than a foot."""


def _numbers(atoms: Sequence[Atom]) -> list[Fraction]:
    return [atom.value.value for atom in atoms if isinstance(atom.value, Number)]


def _as_feet_and_inches(atoms: Sequence[Atom]) -> Fraction:
    """ "Six eight" as six feet eight, "three" and "three oh" as three feet; 0 where it is none."""
    numbers = _numbers(atoms)
    if len(numbers) == 2 and numbers[1] < 12 and numbers[0].denominator == 1:
        return numbers[0] * 12 + numbers[1]
    return numbers[0] * 12 if len(numbers) == 1 else Fraction(0)


def add_interruption(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    first, second = length_of(parts["a"]), length_of(parts["b"])
    if first is None or second is None:
        return False
    begins, ends = first[0], second[0]
    whys = [first[2], second[2]]
    if has_any(parts["b"], "FOOT") and not _has_unit(parts["a"]):
        begins *= 12
    elif not (_has_unit(parts["a"]) or _has_unit(parts["b"])):
        begins, ends = begins * 12, ends * 12
        whys.append("inches, or feet?")
    if ends <= begins:
        return False
    what = words_of([atom for atom in parts["w"] if not is_a(atom, "ARTICLE")])
    entry = Entry("interruption", at=begins, length=ends - begins, note=what)
    return draft.add(entry, *whys)
