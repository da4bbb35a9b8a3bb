"""What a speaker puts right in mid-sentence: "used four, no, five sheets".

After Shriberg ("Preliminaries to a Theory of Speech Disfluencies", 1994) a self-repair has three
parts: the reparandum, which is taken back ("four"), the interregnum ("no"), which may be missing,
and the repair ("five"). Here the first two are taken out before anything is read, so that what
was begun and given up never becomes a fact. The repair is always of the sort of what it replaces:
a number for a number, a place for a place, an item, a verb.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from joblog.dictation.attributes import with_attributes
from joblog.dictation.grammar import (
    CLOCK,
    FRAC,
    ITEM,
    MIX,
    NUM,
    NUMBERS,
    SPOT,
    Atom,
    atoms_among,
    has_any,
    is_a,
)
from joblog.dictation.language import WORDS
from joblog.dictation.numbers import NUMBER_WORDS, ONES, TENS, Number, is_written
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
    words = _without_repetitions(words)
    atoms = atoms_among(words, vocabulary)
    for _ in range(MOST_REPAIRS):
        repair = _first_repair(atoms)
        if repair is None:
            break
        words, unsure = _applied(repair, words, atoms, unsure)
        words = _without_repetitions(words)
        atoms = atoms_among(words, vocabulary)
    kept, twice = _without_restarts(with_attributes(atoms))
    return Repaired(kept, twice, dict(_by_atom(kept, unsure)) if unsure else {})


MOST_REPAIRS = 8
"""In one breath; a person who takes back more is not understood by people either."""


# --- said again at once -----------------------------------------------------------------------

_LONGEST_RETRACE = 6
"""Words; people go back a few words, not a sentence."""
_ALIKE = {"an": "a"}
_MAY_DOUBLE = frozenset("no cool that had very really bye so knock".split())
_ARTICLES = ("a", "an", "the")
_LEADING = frozenset("and on of at in for to with".split())


def _without_repetitions(words: Marked) -> Marked:
    """Without words that are said again at once: "the the north eave", "forty forty one"."""
    if len({_ALIKE.get(word, word) for word, _ in words}) == len(words):
        return words
    words = list(words)
    at = 0
    while at < len(words):
        length = _retraced(words, at)
        if length:
            words[at + length] = (words[at + length][0], words[at][1])
            del words[at : at + length]
            at = max(0, at - _LONGEST_RETRACE)
        else:
            at += 1
    return words


def _retraced(words: Marked, at: int) -> int:
    """How many words from `at` on are said again right behind them; 0 where none are."""
    first = _ALIKE.get(words[at][0], words[at][0])
    for length in range(min(_LONGEST_RETRACE, (len(words) - at) // 2), 0, -1):
        again = words[at + length][0]
        if _ALIKE.get(again, again) != first:
            continue
        same = all(
            _ALIKE.get(one, one) == _ALIKE.get(other, other)
            for (one, _), (other, _) in zip(
                words[at : at + length], words[at + length : at + 2 * length], strict=True
            )
        )
        if same and _is_a_retrace(words, at, length):
            return length
    # "Forty two and a, and an eighth".
    if first in _LEADING and at + 2 < len(words) and words[at + 1][0] in _ARTICLES:
        return 2 if words[at + 2][0] == first else 0
    return 0


def _is_a_retrace(words: Marked, at: int, length: int) -> bool:
    """False where the same words twice may be two facts, or one number: "two sheets, two sheets",
    "five five"."""
    said = [word for word, _ in words[at : at + length]]
    if not any(map(_is_number_word, said)):
        return length > 1 or not (words[at + 1][1] or said[0] in _MAY_DOUBLE)
    end = at + 2 * length
    goes_on = end < len(words) and not words[end][1]
    paused = any(pause for _, pause in words[at + 1 : at + length])
    if paused or ("and" in said and not all(map(_is_of_length, said))):
        return False
    within = at and _is_number_word(words[at - 1][0]) and said[0] != "and"
    if not goes_on or within:
        return False
    following = words[end][0]
    if length == 1:
        ones = said[0] in TENS and 0 < ONES.get(following, 0) < 10
        return ones or (following in _counted_by() and not words[at + 1][1])
    return not all(word in ONES for word in said)


def _is_of_length(word: str) -> bool:
    """True for the words of one number: "forty two and an eighth"."""
    return _is_number_word(word) or word in _IN_NUMBERS


_IN_NUMBERS = frozenset(("and", "a", "an", "foot", "feet", "inch", "inches"))


def _is_number_word(word: str) -> bool:
    return word in NUMBER_WORDS or is_written(word)


@cache
def _counted_by() -> frozenset[str]:
    """Words behind a count that are no lengths."""
    units = {unit.strip() for unit in WORDS["UNIT"].split(",")}
    lengths = {unit.strip() for name in ("FOOT", "INCH") for unit in WORDS[name].split(",")}
    return frozenset(units - lengths)


# --- taken back by a word ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Repair:
    """Atoms from `start` to `end` become the words `instead`."""

    start: int
    end: int
    instead: Marked
    why: str | None = None


_NUMBER, _PLACE, _THING, _VERB, _UNIT, _DIMENSION, _EMPTY, _WORD = range(8)
"""The sorts of atoms; an empty one only leads to another: "on the"."""

_SORTS: tuple[tuple[int, tuple[str, ...]], ...] = (
    (_EMPTY, ("ARTICLE", "IN", "AND", "LINK")),
    (_UNIT, ("UNIT", "FOOT", "INCH", "HOURWORD", "MINUTE", "METRIC", "OCLOCK", "MONEY")),
    (_DIMENSION, ("NAMEDDIMENSION",)),
    (_VERB, ("USED", "DELIVER", "RETURN", "SPOIL", "NEED", "START", "STOP")),
    (_PLACE, ("COMPASS", "SIDE", "PART")),
)
_EVENTS = (("USED", "DELIVER", "RETURN", "SPOIL", "NEED"), ("START", "STOP"))
"""Verbs that may replace each other."""
_FAR_BACK = 14
"""Atoms between a reparandum and its repair."""


@cache
def _sort_of(char: str) -> int:
    if char in NUMBERS:
        return _NUMBER
    if char == ITEM:
        return _THING
    if char == SPOT:
        return _PLACE
    atom = (Atom(char, ""),)
    return next((sort for sort, names in _SORTS if has_any(atom, *names)), _WORD)


def _first_repair(atoms: Sequence[Atom]) -> _Repair | None:
    at = 1
    while at < len(atoms) - 1:
        if has_any((atoms[at],), "EDITING", "HEDGING"):
            end = _interregnum(atoms, at)
            repair = _around(atoms, at, end)
            if repair is not None:
                return repair
            at = end
        else:
            at += 1
    return None


def _interregnum(atoms: Sequence[Atom], at: int) -> int:
    """Where the words end that only take back: "no, wait, I mean"."""
    end = at
    while end < len(atoms) and has_any((atoms[end],), "EDITING", "HEDGING", "HESITATING"):
        end += 1
    return end


def _around(atoms: Sequence[Atom], at: int, end: int) -> _Repair | None:
    """The repair that an interregnum from `at` to `end` stands before, if it is one."""
    said_by = atoms[at:end]
    start = at
    while start > 1 and has_any((atoms[start - 1],), "HESITATING"):
        start -= 1
    anchor = _content(atoms, end, len(atoms))
    if anchor is None or start == 0:
        return None
    if said_by[0].words in _ADVERBS and atoms[start - 1].words in ("is", "was", "are", "were"):
        return None  # "That fascia was actually frieze".
    sort = _sort_of(atoms[anchor].char)
    if sort in (_UNIT, _EMPTY, _WORD):
        return None
    stop = _phrase_end(atoms, anchor, sort)
    hedged = has_any(said_by, "HEDGING")
    if hedged and sort != _NUMBER:
        return None
    before = _reparandum(atoms, start, anchor, stop, sort)
    if before is None:
        return None
    first, last = before
    tail = range(last, start)
    if not _may_replace(atoms, (first, last), (anchor, stop), tail, said_by):
        return None
    lead, tail = _part_kept(atoms, before, (anchor, stop), tail)
    behind, stop_of_all = _merged(atoms, tail, stop, sort)
    phrase = _words_at(atoms, range(end if sort == _PLACE else anchor, stop))
    phrase[0] = (phrase[0][0], False)
    why = None
    if hedged:
        phrase = [*_words_at(atoms, range(*before)), ("or", False), *phrase]
    elif sort == _THING and said_by[-1].words == "no" and not atoms[end].pause:
        why = f"{_text(atoms, before)}, or {_text(atoms, (anchor, stop))}?"
    instead = [*lead, *phrase, *behind]
    instead[0] = (instead[0][0], atoms[before[0]].pause)
    return _Repair(before[0], stop_of_all, instead, why)


def _words_at(atoms: Sequence[Atom], places: Iterable[int]) -> Marked:
    return [
        (word, atoms[at].pause and not number)
        for at in places
        for number, word in enumerate(atoms[at].words.split())
    ]


def _text(atoms: Sequence[Atom], part: tuple[int, int]) -> str:
    return " ".join(atom.words for atom in atoms[slice(*part)])


def _part_kept(
    atoms: Sequence[Atom], before: tuple[int, int], repair: tuple[int, int], tail: range
) -> tuple[Marked, range]:
    """What of the reparandum itself still holds before and behind the repair.

    "Twenty minutes, no, thirty": minutes. "Eleven foot six, no, eight": eleven foot. "Fourteen and
    a half, no, five eighths": fourteen.
    """
    numbers = [at for at in range(*before) if atoms[at].char in NUMBERS]
    if not numbers or any(atoms[at].char not in NUMBERS for at in range(*repair)):
        return [], tail
    new = atoms[repair[0]]
    if len(numbers) == 1:
        if new.char == FRAC and atoms[numbers[0]].char == MIX:
            words = atoms[numbers[0]].words.split()
            whole = len(words) - words[::-1].index("and") if "and" in words else 1
            return [(word, False) for word in words[:whole]], tail
        return [], range(numbers[0] + 1, tail.stop)
    short = isinstance(new.value, Number) and new.value.value < 12
    if short and any(is_a(atoms[at], "FOOT") for at in range(*before)):
        return _words_at(atoms, range(before[0], numbers[-1])), tail
    return [], tail


_ADVERBS = ("actually", "maybe", "possibly", "perhaps", "well")


def _words(atoms: Sequence[Atom], part: tuple[int, int]) -> str:
    return " ".join(atom.words for atom in atoms[slice(*part)])


def _content(atoms: Sequence[Atom], start: int, end: int) -> int | None:
    """The first atom that is more than a word leading to another."""
    return next((at for at in range(start, end) if _sort_of(atoms[at].char) != _EMPTY), None)


def _phrase_end(atoms: Sequence[Atom], at: int, sort: int) -> int:
    """Where the number, place, item or verb ends that begins at `at`."""
    end = at + 1
    if sort == _NUMBER:
        while end < len(atoms) and _goes_on(atoms, end):
            end += 1
    elif sort == _PLACE:
        while end < len(atoms) and _sort_of(atoms[end].char) == _PLACE and not atoms[end].pause:
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
    joins = is_a(atom, "AND") or atom.words == "oh"
    return joins and following is not None and following.char in (FRAC, NUM, MIX)


def _reparandum(
    atoms: Sequence[Atom], end: int, anchor: int, stop: int, sort: int
) -> tuple[int, int] | None:
    """The phrase before `end` that the one from `anchor` to `stop` stands for: the one that goes on
    alike where several do, else the nearest."""
    best: tuple[int, int] | None = None
    best_score = 0.0
    for first, last in _phrases(atoms, max(0, end - _FAR_BACK), end, sort):
        if first and is_a(atoms[first - 1], "SAID"):
            continue  # "I said five, I meant nine" speaks of what was said before.
        if not _same_kind(atoms, (first, last), (anchor, stop), sort):
            continue
        score = 1.0 + 0.05 * first
        if last < end and stop < len(atoms) and _alike(atoms[last], atoms[stop]):
            score += 2
        if atoms[first].char == atoms[anchor].char:
            score += 0.5
        if score > best_score:
            best, best_score = (first, last), score
    return best


def _phrases(atoms: Sequence[Atom], start: int, end: int, sort: int) -> Iterator[tuple[int, int]]:
    at = start
    while at < end:
        if _sort_of(atoms[at].char) != sort:
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
    if sort == _VERB:
        one, other = (atoms[before[0]],), (atoms[repair[0]],)
        return any(has_any(one, *names) and has_any(other, *names) for names in _EVENTS)
    if sort != _NUMBER:
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
    atoms: Sequence[Atom],
    before: tuple[int, int],
    repair: tuple[int, int],
    tail: range,
    said_by: Sequence[Atom],
) -> bool:
    """Whether what is said behind the interregnum is a repair, and no fact of its own."""
    sort = _sort_of(atoms[repair[0]].char)
    between = [_sort_of(atoms[at].char) for at in tail]
    following = _content(atoms, repair[1], len(atoms))
    goes_on = None if following is None else _sort_of(atoms[following].char)
    if sort != _VERB and _VERB in between:
        return False
    if sort == _PLACE and goes_on in (_NUMBER, _VERB):
        # "Used four on the east wall, no, north eave fourteen and a half" is another fact.
        told = any(_sort_of(atoms[at].char) in (_NUMBER, _VERB) for at in range(before[0]))
        return not told
    none_of = said_by[-1].words == "no" and sort in (_THING, _NUMBER)
    if none_of and not atoms[repair[0]].pause:
        # "... , no nails left" says that there are none.
        left = any(is_a(atom, "LEFTOVER") for atom in atoms[repair[1] : repair[1] + 3])
        many = sort == _THING and atoms[repair[0]].words.endswith("s")
        return not left and not many and (sort == _NUMBER or not tail)
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
    facts = [at for at in tail if _sort_of(atoms[at].char) in (_NUMBER, _VERB)]
    mine = sort != _NUMBER or any(other == _NUMBER for other, _ in behind)
    others = facts[mine] if len(facts) > mine else tail.stop
    while others > tail.start and others < tail.stop and _is_empty(atoms[others - 1]):
        others -= 1
    rest = _words_at(atoms, range(others, tail.stop)) if tail else []
    before = list(_segments(atoms, tail.start, others, all_of_it=True)) if tail else []
    if not before:
        return rest, stop
    sorts = {other for other, _ in behind}
    if _THING in sorts and any(other == _THING for other, _ in before):
        sorts.add(_UNIT)  # What it is counted by goes with what it is.
    kept = [(other, part) for other, part in before if other not in sorts]
    both = sorted([*kept, *behind], key=lambda segment: _ORDER[segment[0]])
    words = _words_at(atoms, [at for _, part in both for at in part])
    return [*words, *rest], behind[-1][1].stop if behind else stop


def _is_empty(atom: Atom) -> bool:
    return _sort_of(atom.char) == _EMPTY


_ORDER = {_VERB: 0, _NUMBER: 0, _UNIT: 1, _THING: 2, _WORD: 3, _DIMENSION: 3, _PLACE: 3}
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
        sort = _sort_of(atoms[content].char)
        if not all_of_it:
            joined = any(is_a(atom, "AND") for atom in atoms[at:content])
            paused = any(atom.pause for atom in atoms[at : content + 1]) and sort != _PLACE
            if joined or paused or (at > start and sort in (_NUMBER, _VERB)):
                return
        last = min(_phrase_end(atoms, content, sort), end)
        yield sort, range(at, last)
        at = last


def _applied(
    repair: _Repair, words: Marked, atoms: Sequence[Atom], unsure: list[tuple[int, str]]
) -> tuple[Marked, list[tuple[int, str]]]:
    """The words after the repair, and where the unsure ones stand among them."""
    starts = _starts(atoms)
    begin, end = starts[repair.start], starts[repair.end]
    less = end - begin - len(repair.instead)
    moved = [(place if place < end else place - less, why) for place, why in unsure]
    if repair.why:
        moved.append((begin, repair.why))
    return [*words[:begin], *repair.instead, *words[end:]], moved


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


# --- said again a little later ----------------------------------------------------------------


def _without_restarts(atoms: Sequence[Atom]) -> tuple[list[Atom], dict[int, str]]:
    """The atoms without numbers that were begun and said again, whole, right after.

    Also which of the numbers that stay could be a second one after all: where it now stands, and
    what was dropped before it. Dropped are a whole number said again alone or with its fraction,
    where a pause, "and" or mere talk stands between, and a number that is said again to confirm.
    """
    kept: list[Atom] = []
    unsure: dict[int, str] = {}
    at = 0
    while at < len(atoms):
        again = _said_again(atoms, at)
        if again is None:
            kept.append(atoms[at])
            at += 1
            continue
        end, sure = again
        if not sure:
            unsure[len(kept)] = atoms[at].words
        at = end
    return kept, unsure


def _said_again(atoms: Sequence[Atom], at: int) -> tuple[int, bool] | None:
    """Where the number is said again, and whether that is beyond doubt."""
    first = atoms[at]
    if first.char not in (NUM, MIX):
        return None
    end = at + 1
    while end < len(atoms) and end - at <= _FAR and _is_between(atoms[end]):
        end += 1
    if end == len(atoms) or atoms[end].char not in (NUM, MIX):
        return None
    last = atoms[end]
    one, other = first.value, last.value
    assert isinstance(one, Number) and isinstance(other, Number)
    if one.whole != other.whole or one.whole is None:
        return None
    between = atoms[at + 1 : end]
    confirmed = any(is_a(atom, "CONFIRM") for atom in between)
    if first.char == MIX:
        return (end, True) if one.value == other.value and confirmed else None
    apart = last.pause or bool(between)
    broken_off = any(atom.words == "and" for atom in between) or confirmed
    if not apart and (last.char == NUM or one.whole < 12):
        return None
    more = any(isinstance(atom.value, Number) and atom.value.whole != one.whole for atom in atoms)
    if last.char == MIX and more and not broken_off:
        return None  # "Nine, nine and a half, ten and a quarter" are three.
    return end, last.char == NUM or broken_off


_FAR = 7
_JOINS = ("to", "of", "plus", "also", "in", "is", "or", "over", "by")
"""Words that make two equal numbers two: "twelve to twelve thirty"."""


def _is_between(atom: Atom) -> bool:
    """Words that may stand between a number and its saying again."""
    return atom.words not in _JOINS and any(
        is_a(atom, name) for name in ("FILLER", "AND", "ARTICLE", "CONFIRM", "OTHER", "WAS")
    )
