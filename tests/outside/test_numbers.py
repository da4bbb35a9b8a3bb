"""Spoken numbers against num2words, and decimal equivalents of every 64th."""

from decimal import Decimal
from fractions import Fraction

import pytest
from num2words import num2words

from joblog.dictation import read
from joblog.dictation.numbers import number_at
from joblog.dictation.words import words_of
from joblog.model import Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan())
PARTS = {2: "half", 4: "quarter", 8: "eighth", 16: "sixteenth", 32: "thirty second",
         64: "sixty fourth"}  # fmt: skip


def test_every_cardinal_to_9999_reads_back() -> None:
    # Source: the library num2words, English cardinals.
    spoken = {number: words_of(num2words(number)) for number in range(10_000)}
    read_back = {number: number_at(words, 0) for number, words in spoken.items()}
    wrong = {
        number: found
        for number, found in read_back.items()
        if found is None or (found[0].value, found[1]) != (number, len(spoken[number]))
    }
    assert wrong == {}


@pytest.mark.parametrize("sixtyfourths", range(1, 64))
def test_every_64th_reads_back_after_a_whole_number(sixtyfourths: int) -> None:
    # Source: num2words for the numerator; the names of the parts are the ruler's own.
    part = Fraction(sixtyfourths, 64)
    plural = "s" if part.numerator > 1 else ""
    said = f"eleven and {num2words(part.numerator)} {PARTS[part.denominator]}{plural}"
    reading = read(f"north wall {said}", WORDS)
    assert [entry.inches for entry in reading.entries] == [11 + part]


@pytest.mark.parametrize("sixtyfourths", range(1, 64))
def test_every_64th_reads_back_from_its_decimal_equivalent(sixtyfourths: int) -> None:
    # Source: any machinist's handbook; the decimal equivalent of n/64 is exact in six places.
    decimal = Decimal(sixtyfourths) / 64
    digits = " ".join(num2words(int(digit)) for digit in str(decimal).split(".")[1])
    reading = read(f"north wall eleven point {digits}", WORDS)
    assert [entry.inches for entry in reading.entries] == [11 + Fraction(sixtyfourths, 64)]
