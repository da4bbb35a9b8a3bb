"""Thinking aloud between facts: "what was it", "two, three, three rolls of coil"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from joblog.dictation.grammar import FRAC, NUM, NUMBERS, Atom, has_any, is_a
from joblog.dictation.numbers import Number
from joblog.dictation.sorts import DIMENSION, EMPTY, NUMBER, PLACE, THING, UNIT, VERB, WORD, sort_of

Thought = tuple[int, int, str | None]
"""From which atom to which, and why it may be none."""


def thought_aloud(atoms: Sequence[Atom], *, corrected: bool = False) -> Thought | None:
    """The first stretch that was only thought aloud, if there is any beside a fact.

    `corrected` where something was put right already: what is said of it then is an excuse.
    """
    numbers = sum([atom.char in NUMBERS for atom in atoms])
    aside = corrected or has_any(atoms, "ASIDE", "ASIDEALONE", "GROPING")
    if numbers < 2 and not (numbers and aside):
        return None
    either = _either(atoms) or _ordinal(atoms)
    if either is not None or not any(atom.pause for atom in atoms):
        return either
    parts = list(_parts(atoms))
    for at, (start, end) in enumerate(parts):
        if _is_aside(atoms[start:end]) and not _may_change(atoms, parts, at):
            return start, end, None
        if at and at + 1 < len(parts) and _is_question(atoms[start:end]):
            return start, end, None
        if at and (corrected or numbers > 1) and is_excuse(atoms[start:end]):
            return start, end, None
        if _is_afterthought(atoms, start, end):
            return end - 1, end, None
        groping = at and end - start > 1 and is_a(atoms[start], "GROPING")
        if groping and not any(atom.char in NUMBERS for atom in atoms[start:end]):
            return start, start + 1, None  # "North eave's done, I mean soffit's done".
        if at + 1 < len(parts) and _had(atoms, start, end):
            number = atoms[end - 1].words
            return end - 2, end, f"there were {number}: does the rest tell what became of them?"
        if at and (_denies(atoms, parts, at) or _apologizes(atoms, parts, at)):
            return start, end, None
        not_so = _not_that_number(atoms, parts, at)
        if not_so is not None:
            return not_so
        broken = _broken_off(atoms, parts, at) or _grows(atoms, parts, at)
        if broken is not None:
            return broken
        if at and _repeats(atoms, parts, at):
            return start, end, None
        if at + 1 < len(parts):
            begun = (
                _begun(atoms, parts[at], parts[at + 1])
                or _clock_begun(atoms, parts[at], parts[at + 1])
                or _counted_up(atoms, parts, at)
            )
            if begun:
                return begun
    return None


def _ordinal(atoms: Sequence[Atom]) -> Thought | None:
    """ "A third one" is one more, and no third of an inch."""
    for at, (one, other) in enumerate(pairwise(atoms)):
        if one.char == FRAC and other.words == "one" and one.words in _ORDINALS:
            return at, at + 1, None
    return None


_ORDINALS = ("a third", "a fourth", "a tenth", "third", "fourth")


def _either(atoms: Sequence[Atom]) -> Thought | None:
    """ "Used four five sheets", "used four, five sheets": a number tried and another taken."""
    for at in range(1, len(atoms) - 2):
        if not atoms[at].char == atoms[at + 1].char == NUM or sort_of(atoms[at - 1].char) != VERB:
            continue
        counted = atoms[at + 2]
        lengths = has_any((counted,), "FOOT", "INCH", "METRIC", "HOURWORD", "MINUTE", "MONEY")
        if is_a(counted, "EACH") and counted.words != "piece":
            continue  # "Came, eighteen fifty each": dollars and cents.
        if sort_of(counted.char) in (UNIT, THING) and not lengths and not counted.pause:
            same = atoms[at].value == atoms[at + 1].value
            why = None if same else f"{atoms[at].words}, or {atoms[at + 1].words}?"
            return at, at + 1, why
    return None


def _parts(atoms: Sequence[Atom]) -> Iterator[tuple[int, int]]:
    """What stands between pauses."""
    start = 0
    for at in range(1, len(atoms)):
        if atoms[at].pause:
            yield start, at
            start = at
    yield start, len(atoms)


def _is_aside(part: Sequence[Atom]) -> bool:
    """ "What was it", "let me get the tape back on it": a question to himself."""
    if len(part) == 1 and is_a(part[0], "ASIDEALONE"):
        return True
    if has_any(part, "LEFTOVER"):
        return False  # "What is left, six sticks of drip" is a heading.
    first = 1 if len(part) > 1 and has_any((part[0],), "HESITATING", "AND") else 0
    if not is_a(part[first], "ASIDE"):
        return False
    return all(sort_of(atom.char) not in (NUMBER, THING, UNIT) for atom in part)


def _is_question(part: Sequence[Atom]) -> bool:
    """ "Wait is it a box or": what he asks himself, and answers."""
    first = 0
    while first < len(part) - 1 and has_any((part[first],), "EDITING", "HESITATING", "AND"):
        if part[first].words in _ASKING:
            break
        first += 1
    asked = part[first].words in _ASKING or part[-1].words == "or"
    return asked and all(sort_of(atom.char) not in (NUMBER, VERB) for atom in part)


_ASKING = ("is it", "was it", "or is it", "or was it", "is that", "was that")


def is_excuse(part: Sequence[Atom]) -> bool:
    """ "Tape is sagging", "i read it upside down": how a number came to be wrong, and no fact."""
    if part[-1].words == "mark" and len(part) <= _SHORT_EXCUSE:
        return True  # "That is the sixteen inch mark".
    if not has_any(part, "EXCUSE"):
        return False
    told = next((atom for atom in part if not has_any((atom,), "FILLER", "ARTICLE")), part[0])
    bent = VERB if told.words.startswith("tape") else EMPTY  # "Tape is bent" spoils no material.
    return all(sort_of(atom.char) in (EMPTY, WORD, bent) for atom in part)


def _may_change(atoms: Sequence[Atom], parts: Sequence[tuple[int, int]], at: int) -> bool:
    """True for "wait, nine", which changes what was said before."""
    if at or not is_a(atoms[0], "EDITING") or at + 1 >= len(parts):
        return False
    return not _is_aside(atoms[slice(*parts[at + 1])])


def _is_afterthought(atoms: Sequence[Atom], start: int, end: int) -> bool:
    """ "Quarter past four rather"."""
    return end - start > 1 and atoms[end - 1].words == "rather" and atoms[end - 2].char in NUMBERS


def _had(atoms: Sequence[Atom], start: int, end: int) -> bool:
    """ "That coil, I had six, used two": what there was before."""
    had = end - start > 1 and atoms[end - 2].words in ("i had", "we had", "had")
    return had and atoms[end - 1].char == NUM


def _broken_off(atoms: Sequence[Atom], parts: Sequence[tuple[int, int]], at: int) -> Thought | None:
    """ "Fourteen and, sorry somebody was hollering, fourteen and three eighths"."""
    start, end = parts[at]
    sides = atoms[end - 1].words in ("by", "times")
    if end - start < 2 or not (sides or has_any((atoms[end - 1],), "AND", "ARTICLE")):
        return None
    number = end - 2
    if sides and number > start and has_any((atoms[number],), "FOOT", "INCH"):
        number -= 1
    if atoms[number].char != NUM:
        return None
    for later in range(at + 1, len(parts)):
        begin = parts[later][0]
        while sides and begin + 1 < parts[later][1] and atoms[begin].char not in NUMBERS:
            begin += 1
        again = atoms[begin].value
        if isinstance(again, Number):
            same = again.whole == _whole(atoms[number])
            return (number, begin, None) if same else None
        if any(atom.char in NUMBERS for atom in atoms[slice(*parts[later])]):
            return None
    return None


def _grows(atoms: Sequence[Atom], parts: Sequence[tuple[int, int]], at: int) -> Thought | None:
    """ "Two hundred and, two hundred fourteen and a half", "a hundred thirty, hold the end, a
    hundred thirty one": a number begun."""
    start, end = parts[at]
    joined = is_a(atoms[end - 1], "AND")
    number = end - 1 - joined
    if number < start or atoms[number].char != NUM:
        return None
    begun = _whole(atoms[number])
    room = 100 if begun % 100 == 0 else 10 if begun % 10 == 0 else 0
    again = next((one for one in range(end, len(atoms)) if atoms[one].char in NUMBERS), None)
    if again is None or begun < _LEAST_BEGUN or not begun < _whole(atoms[again]) < begun + room:
        return None
    between = atoms[end:again]
    if any(sort_of(atom.char) not in (EMPTY, WORD) for atom in between):
        return None
    if joined:
        return number, end, None
    talked = sum(not is_a(atom, "FILLER") for atom in between) > 1
    why = f"{atoms[number].words}, or {atoms[again].words}?"
    return (number, end, why) if talked else None


_LEAST_BEGUN = 20


_SHORT_EXCUSE = 6
"""Atoms of "that is the sixteen inch mark"."""


def _denies(atoms: Sequence[Atom], parts: Sequence[tuple[int, int]], at: int) -> bool:
    """ "Undersill, not J": what it was not, beside what it was."""
    start, end = parts[at]
    part = [atom for atom in atoms[start:end] if not is_a(atom, "ARTICLE")]
    denied = len(part) == 2 and part[0].words == "not" and sort_of(part[1].char) == THING
    before = atoms[slice(*parts[at - 1])]
    return denied and any(sort_of(atom.char) == THING for atom in before) and bool(_amounts(before))


def _apologizes(atoms: Sequence[Atom], parts: Sequence[tuple[int, int]], at: int) -> bool:
    """ "My bad, tape was hooked wrong"."""
    part = atoms[slice(*parts[at])]
    sorry = len(part) == 1 and part[0].words in _SORRY
    return sorry and at + 1 < len(parts) and is_excuse(atoms[slice(*parts[at + 1])])


_SORRY = ("my bad", "my mistake", "sorry", "i'm sorry", "i am sorry", "excuse me", "oops", "whoops")


def _not_that_number(
    atoms: Sequence[Atom], parts: Sequence[tuple[int, int]], at: int
) -> Thought | None:
    """ "Is not thirty two, it is twenty three sheets"."""
    start, end = parts[at]
    denied = end - start > 1 and atoms[end - 2].words in _IS_NOT and atoms[end - 1].char == NUM
    if not denied or at + 1 == len(parts):
        return None
    first, last = parts[at + 1]
    meant = last - first > 1 and atoms[first].words in _IT_IS and atoms[first + 1].char in NUMBERS
    return (end - 2, end, None) if meant else None


_IS_NOT = ("not", "is not", "isn't", "ain't", "was not", "wasn't")
_IT_IS = ("it is", "it's", "but", "it was", "that's", "it")


def _clock_begun(
    atoms: Sequence[Atom], one: tuple[int, int], other: tuple[int, int]
) -> Thought | None:
    """ "Quarter to, it's quarter past four": a time without its hour."""
    at = one[1] - 2
    if at < one[0] or atoms[at].char != FRAC or not has_any((atoms[at + 1],), "TO", "PAST"):
        return None
    part = atoms[slice(*other)]
    full = any(mine.char == FRAC and has_any((its,), "TO", "PAST") for mine, its in pairwise(part))
    return (at, one[1], None) if full else None


def _begun(atoms: Sequence[Atom], one: tuple[int, int], other: tuple[int, int]) -> Thought | None:
    """ "Used five, used six sheets of siding", "three hours, three and a half hours"."""
    number = one[1] - 1
    unit = sort_of(atoms[number].char) == UNIT
    number -= unit
    if number < one[0] or atoms[number].char != NUM:
        return None
    start = number
    if start > one[0] and sort_of(atoms[start - 1].char) == VERB:
        start -= 1
    if start > one[0] and is_a(atoms[start - 1], "AND"):
        return None
    again = other[0]
    lead = atoms[start:number]
    same = all(mine.words == its.words for mine, its in zip(lead, atoms[again:], strict=False))
    again += len(lead)
    if not same or again + 1 >= other[1] or atoms[again].char not in NUMBERS:
        return None
    following = atoms[again + 1]
    if unit:
        its_unit = atoms[number + 1].words
        counted = following.words.removesuffix("s") == its_unit.removesuffix("s")
        lengths = has_any((following,), "FOOT", "INCH", "METRIC")
        if not counted or lengths:
            return None
    elif not lead:
        return None
    mine, its = atoms[number].value, atoms[again].value
    assert isinstance(mine, Number)
    sure = bool(lead) or (isinstance(its, Number) and mine.whole == its.whole)
    why = None if sure else f"{atoms[number].words}, or {atoms[again].words}?"
    return start, one[1], why


def _counted_up(atoms: Sequence[Atom], parts: Sequence[tuple[int, int]], at: int) -> Thought | None:
    """ "Two, three, about three rolls of coil": the numbers before the one that counts."""
    run: list[int] = []
    said: set[int] = set()
    others = 0
    for later in range(at, len(parts)):
        part = atoms[slice(*parts[later])]
        loose = _loose(part)
        if loose and not (later and _measured(atoms[slice(*parts[later - 1])])):
            run.append(later)
            said |= loose
        elif not run:
            return None
        elif amount := _amounts(part):
            if said & amount:
                return parts[run[0]][0], parts[run[-1]][1], None
            return _nearly(atoms, parts, run, later)
        else:
            others += 1
            if others > 2 or len(part) > _SHORT:
                return None
    return None


def _nearly(
    atoms: Sequence[Atom], parts: Sequence[tuple[int, int]], run: Sequence[int], amount: int
) -> Thought | None:
    """ "Eight, nine sticks": one of the two, and who knows which."""
    if _counts_on(atoms, parts, run, amount):
        return parts[run[0]][0], parts[run[-1]][1], None
    start, end = parts[run[-1]]
    counted = atoms[parts[amount][0]]
    tried = atoms[start]
    if run[-1] + 1 != amount or end - start > 1 or counted.char != NUM or tried.char != NUM:
        return None
    near = abs(_whole(tried) - _whole(counted)) <= _NEAR
    return (start, end, f"{tried.words}, or {counted.words}?") if near else None


def _counts_on(
    atoms: Sequence[Atom], parts: Sequence[tuple[int, int]], run: Sequence[int], amount: int
) -> bool:
    """ "Three, five, six sticks of drip": piece after piece, counted out loud."""
    if len(run) < _LEAST_COUNTED or [*run[1:], amount] != [one + 1 for one in run]:
        return False
    said = [atoms[parts[at][0]] for at in (*run, amount)]
    if any(atom.char != NUM for atom in said) or any(parts[at][1] - parts[at][0] > 1 for at in run):
        return False
    return all(0 < _whole(other) - _whole(one) <= _STEP for one, other in pairwise(said))


_LEAST_COUNTED = 2
_STEP = 3
"""How many pieces are counted at one look."""


def _whole(atom: Atom) -> int:
    """Its whole number; 0 for a fraction and for what is no amount, such as 9:45."""
    return (atom.value.whole or 0) if isinstance(atom.value, Number) else 0


_NEAR = 2
_SHORT = 12
"""Atoms of what may be said between a number and the amount that repeats it."""


def _repeats(atoms: Sequence[Atom], parts: Sequence[tuple[int, int]], at: int) -> bool:
    """ "Put up nine sticks of J on the east wall, nine": the count again, to be sure."""
    loose = _loose(atoms[slice(*parts[at])])
    before = atoms[slice(*parts[at - 1])]
    if not loose or (_measured(before) and not _amounts(before)):
        return False
    counted = [one for part in parts[:at] for one in _amounts(atoms[slice(*part)])]
    return bool(counted) and loose == {counted[-1]}


def _loose(part: Sequence[Atom]) -> set[int]:
    """The numbers of a part that counts nothing and measures nothing."""
    if any(sort_of(atom.char) in (THING, UNIT, PLACE, DIMENSION, VERB) for atom in part):
        return set()
    if has_any(part, "MEN"):
        return set()
    numbers = [atom for atom in part if atom.char in NUMBERS]
    if any(atom.char != NUM for atom in numbers):
        return set()
    return _wholes(numbers)


def _measured(part: Sequence[Atom]) -> bool:
    """True for a place or a dimension, of which the next number is."""
    told = [atom for atom in part if sort_of(atom.char) != EMPTY]
    return bool(told) and sort_of(told[-1].char) in (PLACE, DIMENSION)


def _amounts(part: Sequence[Atom]) -> set[int]:
    """The numbers of a part that count something."""
    counts = [
        atom
        for atom, following in pairwise(part)
        if atom.char == NUM
        and (sort_of(following.char) in (THING, UNIT) or following.words == "or")
    ]
    return _wholes(counts)


def _wholes(numbers: Sequence[Atom]) -> set[int]:
    return {
        atom.value.whole
        for atom in numbers
        if isinstance(atom.value, Number) and atom.value.whole is not None
    }
