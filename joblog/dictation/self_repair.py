"""What a speaker puts right in mid-sentence: "used four, no, five sheets".

After Shriberg ("Preliminaries to a Theory of Speech Disfluencies", 1994) a self-repair has three
parts: the reparandum, which is taken back ("four"), the interregnum ("no"), which may be missing,
and the repair ("five"). Here the first two are taken out before anything is read, so that what
was begun and given up never becomes a fact. The repair is always of the sort of what it replaces:
a number for a number, a place for a place, an item, a verb.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from joblog.dictation.attributes import with_attributes
from joblog.dictation.grammar import (
    CLOCK,
    FRAC,
    ITEM,
    MIX,
    NUM,
    NUMBERS,
    Atom,
    atoms_among,
    has_any,
    is_a,
)
from joblog.dictation.numbers import Number
from joblog.dictation.retraces import without_repetitions, without_restarts
from joblog.dictation.sorts import (
    DIMENSION,
    EMPTY,
    NUMBER,
    PLACE,
    THING,
    UNIT,
    VERB,
    WORD,
    sort_of,
)
from joblog.dictation.strangers import with_strangers
from joblog.dictation.thinking import is_excuse, thought_aloud
from joblog.dictation.words import Marked
from joblog.model import Vocabulary


@dataclass(frozen=True, slots=True)
class Repaired:
    """What is left to be read of an utterance."""

    atoms: list[Atom]
    twice: dict[int, str]
    """What was dropped before a number that says it again and could be a second one after all, by
    where that number stands."""
    unsure: dict[int, str]
    """Why a repair may be none, by where it stands among the atoms."""


def repaired(words: Marked, vocabulary: Vocabulary) -> Repaired:
    """The utterance without what was begun and given up."""
    unsure: list[tuple[int, str]] = []
    words = without_repetitions(words)
    atoms = with_strangers(atoms_among(words, vocabulary), vocabulary)
    corrected = False
    for _ in range(MOST_REPAIRS):
        repair = _first_repair(atoms)
        corrected = corrected or repair is not None
        repair = repair or _thought(atoms, corrected=corrected)
        if repair is None:
            break
        words, unsure = _applied(repair, words, atoms, unsure)
        words = without_repetitions(words)
        atoms = with_strangers(atoms_among(words, vocabulary), vocabulary)
    kept, twice = without_restarts(with_attributes(atoms))
    return Repaired(kept, twice, dict(_by_atom(kept, unsure)) if unsure else {})


def _thought(atoms: Sequence[Atom], *, corrected: bool) -> _Repair | None:
    found = thought_aloud(atoms, corrected=corrected)
    if found is None:
        return None
    start, end, why = found
    if start > 1 and end < len(atoms) and is_a(atoms[start - 1], "AND"):
        if (atoms[start - 2].char, atoms[end].char) == (NUM, FRAC):
            # "Thirty one and, give me a second, five eighths".
            instead = [(word, False) for word, _ in _words_at(atoms, (start - 1, end))]
            return _Repair(start - 1, end + 1, instead, why)
        return _Repair(start, end, [], why)
    return _Repair(start, end, [], why)


MOST_REPAIRS = 12
"""In one breath; a person who takes back more is not understood by people either."""


# --- taken back by a word ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Repair:
    """Atoms from `start` to `end` become the words `instead`."""

    start: int
    end: int
    instead: Marked
    why: str | None = None


_EVENTS = (("USED", "DELIVER", "RETURN", "SPOIL", "NEED"), ("START", "STOP"))
"""Verbs that may replace each other."""
_FAR_BACK = 14
"""Atoms between a reparandum and its repair."""


def _first_repair(atoms: Sequence[Atom]) -> _Repair | None:
    if not has_any(atoms, "EDITING", "HEDGING", "LESS"):
        return None
    atoms = _counting_articles(atoms)
    at = 1
    while at < len(atoms) - 1:
        if has_any((atoms[at],), "EDITING", "HEDGING") or _sums_up(atoms, at):
            end = _interregnum(atoms, at)
            repair = _around(atoms, at, end)
            if repair is not None:
                return repair
            at = end
        else:
            at += 1
    return None


def _counting_articles(atoms: Sequence[Atom]) -> Sequence[Atom]:
    """The atoms with "a" as a number where it counts: "a roll, call it a roll and a half"."""
    counting = [one.words in ("a", "an") and is_a(other, "UNIT") for one, other in pairwise(atoms)]
    if not any(counting):
        return atoms
    return [
        replace(atom, char=NUM, value=Number(Fraction(1), 1, False)) if counts else atom
        for atom, counts in zip(atoms, [*counting, False], strict=True)
    ]


def _sums_up(atoms: Sequence[Atom], at: int) -> bool:
    """True for the "so" of "thirty foot, minus the corner, so twenty nine foot eight"."""
    if atoms[at].words not in ("so", "that's") or not atoms[at].pause:
        return False
    less = next((one for one in range(at - 1, 0, -1) if is_a(atoms[one], "LESS")), None)
    if less is None or (atoms[less - 1].char not in NUMBERS and not is_a(atoms[less - 1], "FOOT")):
        return False
    return not any(atom.char in NUMBERS for atom in atoms[less:at])


def _interregnum(atoms: Sequence[Atom], at: int) -> int:
    """Where the words end that only take back: "no, wait, I mean"."""
    end = at
    while end < len(atoms) and has_any((atoms[end],), "EDITING", "HEDGING", "HESITATING"):
        end += 1
    if end < len(atoms) and atoms[end].words.partition(" ")[0] == "not":
        # "No, not a box, a pound of nails".
        denied = range(end + 1, min(len(atoms), end + _DENIED))
        return next((one for one in denied if atoms[one].pause), end)
    return _behind_excuses(atoms, end)


def _behind_excuses(atoms: Sequence[Atom], start: int) -> int:
    """Where it goes on behind "tape is sagging", "he says", said of how it came to be wrong."""
    first = start
    while start < len(atoms):
        stops = (one for one in range(start + 1, len(atoms)) if atoms[one].pause)
        end = next(stops, len(atoms))
        part = atoms[start:end]
        idle = all(is_a(atom, "FILLER") for atom in part)
        if end == len(atoms) or not (is_excuse(part) or (idle and start > first)):
            return start
        start = end
        while start < len(atoms) and has_any((atoms[start],), "EDITING", "HESITATING"):
            start += 1
    return start


_DENIED = 5
"""Atoms from "not" to the pause before what is meant."""


def _around(atoms: Sequence[Atom], at: int, end: int) -> _Repair | None:
    """The repair that an interregnum from `at` to `end` stands before, if it is one."""
    said_by = atoms[at:end]
    start = at
    while start > 1 and has_any((atoms[start - 1],), "HESITATING"):
        start -= 1
    anchor = _content(atoms, end, len(atoms))
    if anchor is None or start == 0:
        return None
    begun = _same_words_before(atoms, start, anchor)
    if begun is not None:
        return _Repair(begun, anchor, [])
    if said_by[0].words in _ADVERBS and atoms[start - 1].words in ("is", "was", "are", "were"):
        return None  # "That fascia was actually frieze".
    hedged = has_any(said_by, "HEDGING")
    found = _found(atoms, start, anchor)
    if found is None or (hedged and found.sort != NUMBER):
        return None
    tail = range(found.before[1], start)
    if not _may_replace(atoms, found, tail, said_by):
        return None
    if found.sort in (DIMENSION, PLACE) and _text(atoms, found.before) == _text(atoms, found.new):
        tail = range(0)  # "And the depth, same as the porch, but no, depth is nine".
    if found.sort == PLACE and _tells_again(atoms, found.new[1]):
        tail = range(0)  # "Used six, no, that was the south eave, south eave used six sheets".
    lead, tail = _part_kept(atoms, found, tail)
    behind, stop = _merged(atoms, tail, found.new[1], found.sort)
    with_verb = sort_of(atoms[anchor].char) == VERB
    begin = end if found.sort == PLACE else anchor if with_verb else found.new[0]
    phrase = _words_at(atoms, range(begin, found.new[1]))
    phrase[0] = (phrase[0][0], False)
    why = None
    if hedged:
        first = range(
            found.before[0], min(tail.start, found.before[1]) if tail else found.before[1]
        )
        phrase = [*_words_at(atoms, first), ("or", False), *phrase]
    elif found.sort == THING and said_by[-1].words == "no" and not atoms[end].pause:
        why = f"{_text(atoms, found.before)}, or {_text(atoms, found.new)}?"
    instead = [*lead, *phrase, *behind]
    # A repair that brings its verb begins a clause of its own.
    anew = with_verb and found.sort == NUMBER
    instead[0] = (instead[0][0], anew or atoms[found.before[0]].pause)
    return _Repair(found.before[0], stop, instead, why)


def _same_words_before(atoms: Sequence[Atom], start: int, anchor: int) -> int | None:
    """Where "put four, no, put five" begins that is gone back to: at the same word, a number
    behind it."""
    if sort_of(atoms[anchor].char) != WORD or anchor + 1 == len(atoms):
        return None
    if atoms[anchor + 1].char not in NUMBERS:
        return None
    for at in range(start - 1, max(0, start - _FAR_BACK) - 1, -1):
        if sort_of(atoms[at].char) in (VERB, THING):
            return None
        if atoms[at].words == atoms[anchor].words:
            return at if atoms[at + 1].char in NUMBERS else None
    return None


def _tells_again(atoms: Sequence[Atom], stop: int) -> bool:
    following = _content(atoms, stop, len(atoms))
    return following is not None and sort_of(atoms[following].char) in (NUMBER, VERB)


@dataclass(frozen=True, slots=True)
class _Found:
    """A reparandum and its repair: from which atom to which."""

    sort: int
    before: tuple[int, int]
    new: tuple[int, int]


def _found(atoms: Sequence[Atom], end: int, anchor: int) -> _Found | None:
    """What the phrase that begins at `anchor` stands for, before `end`."""
    sort = sort_of(atoms[anchor].char)
    if sort in (UNIT, EMPTY, WORD):
        return None
    if sort in (PLACE, THING) and not any(sort_of(one.char) in (NUMBER, VERB) for one in atoms):
        return None  # "West gable, no, that was the east wall" speaks of what was said before.
    stop = _phrase_end(atoms, anchor, sort)
    while stop < len(atoms) and atoms[stop].pause and _begins(atoms, stop, (anchor, stop)):
        anchor, stop = stop, 2 * stop - anchor  # "No nine, nine sheets left".
    before = _reparandum(atoms, end, anchor, stop, sort)
    if before is not None:
        return _Found(sort, before, (anchor, stop))
    following = _content(atoms, stop, len(atoms)) if sort == VERB else None
    if following is not None and atoms[following].char in NUMBERS:
        return _found(atoms, end, following)  # "Nine sticks, no, used ten sticks".
    return None


def _begins(atoms: Sequence[Atom], at: int, part: tuple[int, int]) -> bool:
    """True where the part is said again at `at`."""
    words = [atom.words for atom in atoms[slice(*part)]]
    return [atom.words for atom in atoms[at : at + len(words)]] == words


def _words_at(atoms: Sequence[Atom], places: Iterable[int]) -> Marked:
    return [
        (word, atoms[at].pause and not number)
        for at in places
        for number, word in enumerate(atoms[at].words.split())
    ]


def _text(atoms: Sequence[Atom], part: tuple[int, int]) -> str:
    return " ".join(atom.words for atom in atoms[slice(*part)])


def _part_kept(atoms: Sequence[Atom], found: _Found, tail: range) -> tuple[Marked, range]:
    """What of the reparandum itself still holds before and behind the repair.

    "Twenty minutes, no, thirty": minutes. "Eleven foot six, no, eight": eleven foot. "Fourteen and
    a half, no, five eighths": fourteen.
    """
    numbers = [at for at in range(*found.before) if atoms[at].char in NUMBERS]
    if not numbers or any(atoms[at].char not in NUMBERS for at in range(*found.new)):
        return [], tail
    new = atoms[found.new[0]]
    if len(numbers) == 1 and found.new[1] - found.new[0] > 1:
        return [], tail  # "Twenty four foot, no, twenty four six".
    if len(numbers) == 1:
        if new.char == FRAC and atoms[numbers[0]].char == MIX:
            words = atoms[numbers[0]].words.split()
            whole = len(words) - words[::-1].index("and") if "and" in words else 1
            return [(word, False) for word in words[:whole]], tail
        return [], range(numbers[0] + 1, tail.stop)
    short = isinstance(new.value, Number) and new.value.value < 12
    if short and any(is_a(atoms[at], "FOOT") for at in range(*found.before)):
        return _words_at(atoms, range(found.before[0], numbers[-1])), tail
    return [], tail


_ADVERBS = ("actually", "maybe", "possibly", "perhaps", "well")


def _words(atoms: Sequence[Atom], part: tuple[int, int]) -> str:
    return " ".join(atom.words for atom in atoms[slice(*part)])


def _content(atoms: Sequence[Atom], start: int, end: int) -> int | None:
    """The first atom that is more than a word leading to another."""
    return next((at for at in range(start, end) if sort_of(atoms[at].char) != EMPTY), None)


def _phrase_end(atoms: Sequence[Atom], at: int, sort: int) -> int:
    """Where the number, place, item or verb ends that begins at `at`."""
    end = at + 1
    if sort == NUMBER:
        while end < len(atoms) and _goes_on(atoms, end):
            end += 1
    elif sort == PLACE:
        while end < len(atoms) and sort_of(atoms[end].char) == PLACE and not atoms[end].pause:
            end += 1
    return end


def _goes_on(atoms: Sequence[Atom], at: int) -> bool:
    """True for what belongs to the number before it: "foot six", "and a half", "thirty"."""
    atom = atoms[at]
    if atom.char in NUMBERS:
        return not atom.pause
    if has_any((atom,), "FOOT", "INCH", "METRIC", "HOURWORD", "MINUTE", "DAYPARTS", "OCLOCK"):
        return True
    following = atoms[at + 1] if at + 1 < len(atoms) else None
    if is_a(atom, "ARTICLE"):
        return following is not None and has_any((following,), "HOURWORD", "INCH")
    if following is None or not (is_a(atom, "AND") or atom.words == "oh"):
        return False
    # "Two foot and six" is one length, "eleven and a half and two" are two numbers.
    whole = following.char in (NUM, MIX)
    parted = has_any((atoms[at - 1],), "FOOT", "HOURWORD") or atom.words == "oh"
    return following.char == FRAC or (whole and parted)


def _reparandum(
    atoms: Sequence[Atom], end: int, anchor: int, stop: int, sort: int
) -> tuple[int, int] | None:
    """The phrase before `end` that the one from `anchor` to `stop` stands for: the one that goes on
    alike where several do, else the nearest."""
    best: tuple[int, int] | None = None
    best_score = 0.0
    for first, last in _phrases(atoms, max(0, end - _FAR_BACK), end, sort):
        if first and is_a(atoms[first - 1], "SAID") and atoms[first - 1].words != "i had":
            return None  # "I said five, I meant nine" speaks of what was said before.
        if not _same_kind(atoms, (first, last), (anchor, stop), sort):
            continue
        score = 1.0 + 0.05 * first
        if last < end and stop < len(atoms) and _alike(atoms[last], atoms[stop]):
            score += 2
        if atoms[first].char == atoms[anchor].char:
            score += 2.5 if last == end else 0.5
        if score > best_score:
            best, best_score = (first, last), score
    return best


def _phrases(atoms: Sequence[Atom], start: int, end: int, sort: int) -> Iterator[tuple[int, int]]:
    at = start
    while at < end:
        if sort_of(atoms[at].char) != sort:
            at += 1
            continue
        last = min(_phrase_end(atoms, at, sort), end)
        yield at, last
        at = last


def _alike(one: Atom, other: Atom) -> bool:
    if one.words.removesuffix("s") == other.words.removesuffix("s"):
        return True
    return one.char == other.char == ITEM and one.value == other.value


def _same_kind(
    atoms: Sequence[Atom], before: tuple[int, int], repair: tuple[int, int], sort: int
) -> bool:
    if sort == VERB:
        one, other = (atoms[before[0]],), (atoms[repair[0]],)
        return any(has_any(one, *names) and has_any(other, *names) for names in _EVENTS)
    if sort != NUMBER:
        return True
    kinds = {_kind_of_number(atoms, *before), _kind_of_number(atoms, *repair)}
    if "bare" in kinds:
        return True
    if kinds == {"mixed", "count"}:
        return False  # "Fourteen and a half, no, six pieces": how long, and how many.
    return len(kinds) == 1 or "mixed" in kinds


def _kind_of_number(atoms: Sequence[Atom], start: int, end: int) -> str:
    number = atoms[start:end]
    if has_any(number, "HOURWORD", "MINUTE", "OCLOCK", "DAYPARTS") or number[0].char == CLOCK:
        return "time"
    if has_any(number, "FOOT", "INCH", "METRIC"):
        return "length"
    following = atoms[end] if end < len(atoms) else None
    if following is not None and not following.pause:
        if is_a(following, "MONEY"):
            return "money"
        if following.char == ITEM or is_a(following, "UNIT"):
            return "count"
    return "mixed" if any(atom.char in (MIX, FRAC) for atom in number) else "bare"


def _may_replace(
    atoms: Sequence[Atom], found: _Found, tail: range, said_by: Sequence[Atom]
) -> bool:
    """Whether what is said behind the interregnum is a repair, and no fact of its own."""
    sort, before, repair = found.sort, found.before, found.new
    between = [sort_of(atoms[at].char) for at in tail]
    following = _content(atoms, repair[1], len(atoms))
    goes_on = None if following is None else sort_of(atoms[following].char)
    if sort == PLACE and goes_on in (NUMBER, VERB):
        # "Used four on the east wall, no, north eave fourteen and a half" is another fact.
        told = [atom for atom in atoms[: before[0]] if sort_of(atom.char) in (NUMBER, VERB)]
        again = atoms[following or 0].words
        return not told or any(atom.words == again for atom in told)
    if sort != VERB and VERB in between:
        return False
    none_of = said_by[-1].words == "no" and sort in (THING, NUMBER)
    if none_of and not atoms[repair[0]].pause:
        # "... , no nails left" says that there are none.
        left = any(is_a(atom, "LEFTOVER") for atom in atoms[repair[1] : repair[1] + 3])
        many = sort == THING and atoms[repair[0]].words.endswith("s")
        return not left and not many and (sort == NUMBER or not tail)
    return True


def _merged(atoms: Sequence[Atom], tail: range, stop: int, sort: int) -> tuple[Marked, int]:
    """What stands behind the number, place, item or verb of the repair, and where that ends.

    What was said between reparandum and interregnum still holds, where the repair says nothing else
    of that sort: "four sheets of soffit, no, five of fascia" are sheets, "ten sticks of channel, I
    mean twelve sticks" are channel.
    """
    if tail and has_any((atoms[tail[0]],), "LESS", "HEAVY", "LIGHT"):
        tail = range(0)  # "Eleven foot eight minus the corner, call it ...".
    behind = list(_segments(atoms, stop, len(atoms)))
    facts = [at for at in tail if sort_of(atoms[at].char) in (NUMBER, VERB)]
    mine = sort != NUMBER or any(other == NUMBER for other, _ in behind)
    others = facts[mine] if len(facts) > mine else tail.stop
    while others > tail.start and others < tail.stop and _is_empty(atoms[others - 1]):
        others -= 1
    rest = _words_at(atoms, range(others, tail.stop)) if tail else []
    before = list(_segments(atoms, tail.start, others, all_of_it=True)) if tail else []
    if not before:
        return rest, stop
    sorts = {other for other, _ in behind if other != WORD}
    if THING in sorts and any(other == THING for other, _ in before):
        sorts.add(UNIT)  # What it is counted by goes with what it is.
    if sorts & {THING, UNIT}:
        sorts.add(WORD)  # "Twelve on the ticket, but I count eleven fascia".
    kept = [(other, part) for other, part in before if other not in sorts]
    both = sorted([*kept, *behind], key=lambda segment: _ORDER[segment[0]])
    words = _words_at(atoms, [at for _, part in both for at in part])
    return [*words, *rest], behind[-1][1].stop if behind else stop


def _is_empty(atom: Atom) -> bool:
    return sort_of(atom.char) == EMPTY


_ORDER = {VERB: 0, NUMBER: 0, UNIT: 1, THING: 2, WORD: 3, DIMENSION: 3, PLACE: 3}
"""How a fact is said: "four sheets of soffit on the north eave"."""


def _segments(
    atoms: Sequence[Atom], start: int, end: int, *, all_of_it: bool = False
) -> Iterator[tuple[int, range]]:
    """Words of one sort each, with what leads to them, up to where another fact may begin."""
    at = start
    while at < end:
        content = _content(atoms, at, end)
        if content is None:
            return
        content = _led_to(atoms, content, end)
        sort = sort_of(atoms[content].char)
        if not all_of_it:
            joined = any(is_a(atom, "AND") for atom in atoms[at:content])
            paused = any(atom.pause for atom in atoms[at : content + 1]) and sort != PLACE
            if joined or paused or (at > start and sort in (NUMBER, VERB)):
                return
        last = min(_phrase_end(atoms, content, sort), end)
        yield sort, range(at, last)
        at = last


def _led_to(atoms: Sequence[Atom], at: int, end: int) -> int:
    """What words that are of no sort lead to: "for all that fascia" is of the fascia."""
    named = next((one for one in range(at, end) if sort_of(atoms[one].char) not in _LEADS), at)
    return named if sort_of(atoms[named].char) in (THING, PLACE) else at


_LEADS = (EMPTY, WORD)


def _applied(
    repair: _Repair, words: Marked, atoms: Sequence[Atom], unsure: list[tuple[int, str]]
) -> tuple[Marked, list[tuple[int, str]]]:
    """The words after the repair, and where the unsure ones stand among them."""
    starts = _starts(atoms)
    begin, end = starts[repair.start], starts[repair.end]
    rest = list(words[end:])
    if not repair.instead and rest and words[begin][1]:
        rest[0] = (rest[0][0], True)
    less = end - begin - len(repair.instead)
    moved = [(place if place < end else place - less, why) for place, why in unsure]
    if repair.why:
        moved.append((begin, repair.why))
    return [*words[:begin], *repair.instead, *rest], moved


def _starts(atoms: Sequence[Atom]) -> list[int]:
    """At which word each atom begins, and where the last one ends."""
    starts = [0]
    for atom in atoms:
        starts.append(starts[-1] + len(atom.words.split()))
    return starts


def _by_atom(atoms: Sequence[Atom], unsure: list[tuple[int, str]]) -> Iterator[tuple[int, str]]:
    starts = _starts(atoms)
    for place, why in unsure:
        yield next((at for at in range(len(atoms)) if starts[at + 1] > place), 0), why
