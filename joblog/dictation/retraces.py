"""Words that are said again: begun, broken off and gone back to, or repeated to be sure."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from joblog.dictation.grammar import MIX, NUM, Atom, is_a
from joblog.dictation.language import WORDS
from joblog.dictation.numbers import NUMBER_WORDS, ONES, TENS, Number, is_written
from joblog.dictation.words import Marked


def without_repetitions(words: Marked) -> Marked:
    """Without words that are said again at once: "the the north eave", "forty forty one"."""
    if len({_ALIKE.get(word, word) for word, _ in words}) == len(words):
        return words
    words = list(words)
    at = 0
    while at < len(words):
        length = _retraced(words, at) or _counted_up(words, at)
        if length:
            words[at + length] = (words[at + length][0], words[at][1])
            del words[at : at + length]
            at = max(0, at - _LONGEST_RETRACE)
        else:
            at += 1
    return words


_LONGEST_RETRACE = 6
"""Words; people go back a few words, not a sentence."""
_ALIKE = {"an": "a"}
_MAY_DOUBLE = frozenset("no cool that had very really bye so knock".split())
_ARTICLES = ("a", "an", "the")
_LEADING = frozenset("and on of at in for to with".split())


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


def _counted_up(words: Marked, at: int) -> int:
    """How many words of "one two three four, four sheets" only count up."""
    end = at
    while end < len(words) and ONES.get(words[end][0]) == end - at + 1:
        end += 1
    length = end - at
    again = length >= _LEAST_COUNTED and end < len(words) and words[end][0] == words[end - 1][0]
    return length if again else 0


_LEAST_COUNTED = 3


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
        ones = ones and not _of_money(words, at, end)
        return ones or (following in _counted_by() and not words[at + 1][1])
    return not all(word in ONES for word in said)


def _of_money(words: Marked, at: int, end: int) -> bool:
    """ "At thirty thirty five a sheet": dollars and cents."""
    pieces = not _CUT.isdisjoint(word for word, _ in words[:at])
    led = at and words[at - 1][0] in _LEADS_TO_MONEY and not pieces
    behind = [word for word, _ in words[end + 1 : end + 3]]
    return bool(led) or behind[:1] in (["each"], ["apiece"]) or _a_unit(behind)


def _a_unit(words: Sequence[str]) -> bool:
    return len(words) == 2 and words[0] in _ARTICLES and words[1] in _counted_by()


_CUT = frozenset("cut cuts piece pieces rip rips ripped".split())
_LEADS_TO_MONEY = ("at", "paid", "costs", "cost", "price", "for")


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


# --- said again a little later ----------------------------------------------------------------


def without_restarts(atoms: Sequence[Atom]) -> tuple[list[Atom], dict[int, str]]:
    """The atoms without numbers that were begun and said again, whole, right after.

    Also which of the numbers that stay could be a second one after all: where it now stands, and
    what was dropped before it. Dropped are a whole number said again alone or with its fraction,
    where a pause, "and" or mere talk stands between, and a number that is said again to confirm.
    """
    if sum([atom.char in (NUM, MIX) for atom in atoms]) < 2:
        return list(atoms), {}
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
