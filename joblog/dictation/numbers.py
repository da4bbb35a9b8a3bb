"""Spoken and written numbers, exactly.

`number_at` reads the longest number that starts at a word. What can be read two ways carries
both readings ("twenty five thirty seconds": 25/32 or 20 5/32), so that nobody has to guess.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

ONES = {
    word: value
    for value, word in enumerate(
        "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
        "fifteen sixteen seventeen eighteen nineteen".split()
    )
}
TENS = {
    word: 10 * value
    for value, word in enumerate("twenty thirty forty fifty sixty seventy eighty ninety".split(), 2)
}
PARTS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4,
    "fourths": 4, "eighth": 8, "eighths": 8, "tenth": 10, "tenths": 10, "sixteenth": 16,
    "sixteenths": 16,
}  # fmt: skip
LONG_PARTS = {
    ("thirty", "second"): 32, ("thirty", "seconds"): 32,
    ("sixty", "fourth"): 64, ("sixty", "fourths"): 64,
}  # fmt: skip

NUMBER_WORDS = frozenset(
    [*ONES, *TENS, *PARTS, "hundred", "thousand", "point", "second", "seconds", "oh", "dozen"]
)


@dataclass(frozen=True, slots=True)
class Number:
    """A number and how it was put together. `also` holds what else the same words could mean."""

    value: Fraction
    whole: int | None
    """The whole part; None for a fraction alone."""
    fraction: bool
    """True when a fraction of an inch, pound or hour was said."""
    also: tuple[Fraction, ...] = ()
    decimal: bool = False


MOST_DIGITS = 15
"""Characters of a number in figures; a longer one is no amount of anything on a job."""


def is_written(word: str) -> bool:
    """True for a number in figures: "41", "7/8", ".625"."""
    return word[0].isdecimal() or word[0] == "."


def may_begin(word: str) -> bool:
    """Whether a number may begin with the word."""
    return word in _FIRST or is_written(word)


def number_at(words: Sequence[str], at: int, stop: int | None = None) -> tuple[Number, int] | None:
    """The longest number beginning at `words[at]`, before `stop`, and the index after it, or None.

    None also for figures of more than `MOST_DIGITS`.
    """
    first = words[at]
    if not may_begin(first):
        return None
    # So many words are looked at, that a long utterance takes no longer by the word than a short.
    last = min(len(words) if stop is None else stop, at + _MOST_WORDS)
    end = at
    while end < last and (words[end] in _WITHIN or _is_short(words[end])):
        end += 1
    found = _longest_at_start(tuple(words[at:end]))
    return None if found is None else (found[0], at + found[1])


def _is_short(word: str) -> bool:
    return is_written(word) and len(word) <= MOST_DIGITS


_MOST_WORDS = 24


@lru_cache(maxsize=4096)
def _longest_at_start(words: tuple[str, ...]) -> tuple[Number, int] | None:
    if not words:
        return None
    start = best_end = 0
    found: list[Number] = []
    for number, end in _candidates(words, start):
        if end > best_end:
            best_end, found = end, [number]
        elif end == best_end and all(number.value != other.value for other in found):
            found.append(number)
    if not found:
        return None
    chosen, *others = found
    if not others:
        return chosen, best_end
    also = tuple(other.value for other in others)
    return Number(chosen.value, chosen.whole, chosen.fraction, also, chosen.decimal), best_end


_FIRST = frozenset([*ONES, *TENS, *PARTS, "a", "an", "point", "hundred", "thousand"])
_WITHIN = NUMBER_WORDS | {"a", "an", "and", "n", "by"}
"""Words that a number may hold, or that tell behind it what it is."""


def _candidates(words: Sequence[str], start: int) -> Iterator[tuple[Number, int]]:
    for fraction, end in _fractions(words, start):
        yield Number(fraction, None, True), end
    for whole, end in _wholes(words, start):
        yield Number(Fraction(whole), whole, False), end
        if end >= len(words):
            continue
        if words[end] == "point":
            decimals, after = _decimals(words, end + 1)
            if decimals is not None:
                yield Number(whole + decimals, whole, True, decimal=True), after
            continue
        joined = words[end] in ("and", "n")
        at = end + 1 if joined else end
        for fraction, after in _fractions(words, at, bare=joined):
            yield Number(whole + fraction, whole, True), after
    if words[start] == "point":
        decimals, after = _decimals(words, start + 1)
        if decimals is not None:
            yield Number(decimals, None, True, decimal=True), after
    elif "." in words[start] and words[start] != ".":
        value = Fraction(words[start])
        yield Number(value, int(value), value.denominator != 1, decimal=True), start + 1


def _fractions(
    words: Sequence[str], start: int, bare: bool = True
) -> Iterator[tuple[Fraction, int]]:
    """Proper fractions at `start`; `bare` lets "half" and "quarter" stand without an article."""
    if start >= len(words):
        return
    first = words[start]
    if "/" in first:
        written, _, below = first.partition("/")
        if int(below) and int(written) < int(below):
            yield Fraction(int(written), int(below)), start + 1
        return
    if bare and first in ("half", "quarter"):
        yield Fraction(1, PARTS[first]), start + 1
    if first in ("a", "an"):
        for part, end in _parts(words, start + 1):
            yield Fraction(1, part), end
        return
    for top, middle in _wholes(words, start):
        for part, end in _parts(words, middle):
            if 0 < top < part:
                yield Fraction(top, part), end


def _parts(words: Sequence[str], start: int) -> Iterator[tuple[int, int]]:
    if start >= len(words):
        return
    if words[start] in PARTS:
        yield PARTS[words[start]], start + 1
    pair = tuple(words[start : start + 2])
    if pair in LONG_PARTS:
        yield LONG_PARTS[pair], start + 2


def _decimals(words: Sequence[str], start: int) -> tuple[Fraction | None, int]:
    """Digits after "point": "six two five", "seventy five", "oh five", "625"."""
    digits = ""
    at = start
    while at < len(words) and len(digits) < MOST_DIGITS:
        word = words[at]
        if word.isdecimal():
            digits += word
        elif word in ("oh", "zero"):
            digits += "0"
        elif 0 < ONES.get(word, 0) < 10:
            digits += str(ONES[word])
        elif not digits and word in ONES:
            digits, at = str(ONES[word]), at + 1
            break
        elif not digits and word in TENS:
            more = ONES.get(words[at + 1], 0) if at + 1 < len(words) else 0
            digits = str(TENS[word] + (more if 0 < more < 10 else 0))
            at += 2 if 0 < more < 10 else 1
            break
        else:
            break
        at += 1
    return (Fraction(int(digits), 10 ** len(digits)), at) if digits else (None, start)


def _wholes(words: Sequence[str], start: int) -> Iterator[tuple[int, int]]:
    """Every whole number that can be read from `start`, shortest first: 20 and 27."""
    word = words[start] if start < len(words) else ""
    if word.isdecimal():
        yield int(word), start + 1
        return
    for value, end in _below_hundred(words, start):
        yield value, end
        yield from _scaled(words, end, value)
    spelled = _digit_by_digit(words, start)
    if spelled is not None:
        yield spelled
    if word in ("hundred", "thousand"):
        yield from _scaled(words, start, 1)
    elif word == "a" and start + 1 < len(words) and words[start + 1] in ("hundred", "thousand"):
        yield from _scaled(words, start + 1, 1)


def _digit_by_digit(words: Sequence[str], start: int) -> tuple[int, int] | None:
    """ "One four four" is 144, and "two one point five" begins with 21.

    Three digits are a number, and more where a zero is among them; two are only before a point,
    since "five eight" may be feet and inches. A digit that begins a fraction is that fraction's.
    """
    end = start
    while end < len(words) and words[end] in DIGITS:
        end += 1
    count = end - start
    after = words[end] if end < len(words) else ""
    if "oh" in words[start:end] or after in PARTS or after in ("by", "hundred"):
        return None
    zeros = 4 <= count <= MOST_DIGITS and "zero" in words[start:end]
    if count != 3 and not zeros and not (count == 2 and after == "point"):
        return None
    return int("".join(str(DIGITS[word]) for word in words[start:end])), end


DIGITS = {"oh": 0, **{word: value for word, value in ONES.items() if value < 10}}


def _scaled(words: Sequence[str], start: int, count: int) -> Iterator[tuple[int, int]]:
    if start >= len(words) or words[start] not in ("hundred", "thousand") or not count:
        return
    scale = 100 if words[start] == "hundred" else 1000
    if scale == 1000 and count >= 1000:
        return
    base, after = count * scale, start + 1
    yield base, after
    if scale == 100 and after < len(words) and words[after] == "thousand":
        yield base * 1000, after + 1
        return
    joined = after < len(words) and words[after] == "and"
    at = after + 1 if joined else after
    for rest, end in _below_hundred(words, at):
        if rest:
            yield base + rest, end
            if scale == 1000 and end < len(words) and words[end] == "hundred" and rest < 10:
                for more, last in _scaled(words, end, rest):
                    yield base + more, last


def _below_hundred(words: Sequence[str], start: int) -> Iterator[tuple[int, int]]:
    if start >= len(words):
        return
    word = words[start]
    if word in ONES:
        yield ONES[word], start + 1
    elif word in TENS:
        yield TENS[word], start + 1
        if start + 1 < len(words) and 0 < ONES.get(words[start + 1], 0) < 10:
            yield TENS[word] + ONES[words[start + 1]], start + 2


def spelled(number: int) -> str:
    """A whole number from 0 to 9999 in words, without "and"."""
    if number < 20:
        return _SPELLED_ONES[number]
    if number < 100:
        ones = spelled(number % 10) if number % 10 else ""
        return f"{_SPELLED_TENS[number // 10]} {ones}".strip()
    size, name = (100, "hundred") if number < 1000 else (1000, "thousand")
    rest = spelled(number % size) if number % size else ""
    return f"{spelled(number // size)} {name} {rest}".strip()


_SPELLED_ONES = {value: word for word, value in ONES.items()}
_SPELLED_TENS = {value // 10: word for word, value in TENS.items()}
