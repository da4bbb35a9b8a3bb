"""Whether a number said digit by digit is the number that was read, with all of its zeros.

A row of digits is one number: "one zero six seven" is 1067, "two oh five" 205. It is never read
with a digit less: neither as 167, nor "four four" as a stammered four. Where no entry holds the
number of the row, and where the row begins with a zero, as no amount does, entries are asked about.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from joblog.dictation.numbers import DIGITS, LONG_PARTS, PARTS
from joblog.dictation.words import Marked
from joblog.model import Doubt, Entry


def digits_lost(words: Marked, entries: Sequence[Entry]) -> list[Doubt]:
    """A doubt on every entry with a number, for the first row of digits that none of them holds."""
    numbers = [(at, set(_numbers_of(entry))) for at, entry in enumerate(entries)]
    counting = [(at, held) for at, held in numbers if held]
    held = {number for _, some in counting for number in some}
    clocks = {number for entry in entries for number in _clock_of(entry)}
    for row in _rows(words):
        value = int("".join(str(DIGITS[word]) for word in row))
        timed = len(row) == 4 and value in clocks  # "Zero seven hundred" in digits.
        kept = value in held or _is_of_two(row) or any(_holds_each(one, row) for one in entries)
        if timed or (DIGITS[row[0]] and kept):
            continue
        said = " ".join(row)
        why = _LEADS if not DIGITS[row[0]] else _LOST
        return [Doubt(at, why.format(said)) for at, _ in counting]
    return []


_LEADS = "{!r} begins with a zero: is a digit before it missing?"
_LOST = "{!r}: one number, digit by digit?"


def _rows(words: Marked) -> Iterator[list[str]]:
    """Two or more digits said in one breath, without one that begins a fraction or a size, and
    without decimals: those stand as they were said."""
    row: list[str] = []
    decimals = False
    for at, (word, pause) in enumerate([*words, ("", True)]):
        if word in DIGITS and not (pause and row):
            row.append(word)
            continue
        if row and not pause and _takes_the_digit_before(words, at):
            row.pop()
        if len(row) > 1 and not (decimals or _is_thought_aloud(words, at, row)):
            yield row
        decimals = word == "point"
        row = [word] if word in DIGITS else []


def _is_thought_aloud(words: Marked, end: int, row: Sequence[str]) -> bool:
    """ "One two three four, four sticks" counts aloud; "no five five" stammers."""
    digits = [DIGITS[word] for word in row]
    counted = digits == [*range(1, len(row) + 1)] and words[end : end + 1] == [(row[-1], True)]
    before = end - len(row) - 1
    return counted or (len({*row}) == 1 and before >= 0 and words[before][0] == "no")


def _takes_the_digit_before(words: Marked, at: int) -> bool:
    """ "Nine five eighths" is nine and five eighths, "two one by sixes" two of them."""
    pair = tuple(word for word, _ in words[at : at + 2])
    return pair[0] in PARTS or pair[0] == "by" or pair in LONG_PARTS


def _is_of_two(row: Sequence[str]) -> bool:
    """ "Five eight" may be feet and inches or two numbers, which others ask about; "four four" and
    "five zero" are neither."""
    return len(row) == 2 and row[0] != row[1] and DIGITS[row[1]] > 0


def _holds_each(entry: Entry, row: Sequence[str]) -> bool:
    """Whether it holds both digits of two: "eight eight foot studs" are eight, and eight long."""
    entry = entry.replacement or entry
    amounts = [entry.quantity, entry.pieces]
    long = [length and length // 12 for length in (entry.length, entry.inches)]
    first, *more = (DIGITS[word] for word in row)
    return first in amounts and len(more) == 1 and more[0] in (*long, entry.length, entry.inches)


def _numbers_of(entry: Entry) -> Iterator[Fraction]:
    """Its whole numbers as they may have been said: a length in inches, feet or hundreds of feet,
    a time by the clock."""
    entry = entry.replacement or entry
    for name in _COUNTS:
        value = getattr(entry, name)
        if value is not None:
            yield Fraction(Fraction(value) // 1)
    for length in (entry.inches, entry.length):
        if length is not None:
            yield from (Fraction(length // 1), Fraction(length // 12))
    for side in (entry.width, entry.height):
        if side is not None and entry.kind == "wall_opening":
            feet, inches = divmod(side, 12)
            yield 10 * feet + inches  # "Three oh by six eight".
    yield from _clock_of(entry)


def _clock_of(entry: Entry) -> Iterator[Fraction]:
    """Its time as digits: 705 and 1905 for five past seven in the evening."""
    time = (entry.replacement or entry).time
    if time is not None:
        yield from (
            Fraction(100 * hour + time.minute) for hour in (time.hour, time.hour % 12 or 12)
        )


_COUNTS = (
    "quantity", "square_inches", "pieces", "minutes", "hours", "fahrenheit", "workers", "miles",
    "unit_cost", "price",
)  # fmt: skip
