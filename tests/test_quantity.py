"""Exact quantities."""

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.quantity import (
    UNITS,
    Quantity,
    convert,
    feet_and_inches,
    fraction_of,
    inches_of,
    money,
    money_of,
    tape,
    unit_defined,
    unit_named,
)


@given(st.fractions(min_value=-5000, max_value=5000, max_denominator=64))
def test_tape_text_reads_back_exactly(length: Fraction) -> None:
    written = tape(abs(length))
    assert fraction_of(written) == abs(length)


@pytest.mark.parametrize(
    ("quantity", "unit", "into", "expected"),
    [
        ("3", "square", "ft2", "300"),  # common practice: a square is 100 square feet
        ("1/3", "ft", "in", "4"),
        ("2", "pair", "each", "4"),
    ],
)
def test_units_convert_exactly(quantity: str, unit: str, into: str, expected: str) -> None:
    assert convert(Fraction(quantity), unit, into) == Fraction(expected)


@pytest.mark.parametrize(
    ("unit", "into", "expected"),
    [  # NIST Handbook 44, appendix C: 1 foot = 12 inches, 1 square foot = 144 square inches,
        # 1 gallon = 231 cubic inches. Both ways, so that no factor is upside down.
        ("ft", "in", "12"),
        ("in", "ft", "1/12"),
        ("ft2", "square", "1/100"),
    ],
)
def test_one_of_a_unit_is_as_published(unit: str, into: str, expected: str) -> None:
    assert convert(Fraction(1), unit, into) == Fraction(expected)


@pytest.mark.parametrize(
    ("unit", "inches", "power"),
    [("ft2", 144, 2), ("gal", 231, 3)],  # NIST Handbook 44, appendix C
)
def test_areas_and_volumes_are_products_of_lengths(unit: str, inches: int, power: int) -> None:
    inch = Quantity.of(Fraction(1), "in")
    product = inch * inch if power == 2 else inch * inch * inch
    assert Quantity.of(Fraction(1), unit) == inches * product


@pytest.mark.parametrize(
    ("unit", "into"),
    [
        ("box", "lb"),
        ("bag", "carton"),
        ("bag", "each"),
        ("ft", "ft2"),
        ("gal", "lb"),
        ("hod", "ft"),
    ],
)
def test_units_that_do_not_mix_give_nothing(unit: str, into: str) -> None:
    assert convert(Fraction(2), unit, into) is None


def test_a_unit_is_always_itself_even_one_that_only_a_catalog_knows() -> None:
    assert convert(Fraction(2), "hod", "hod") == 2


def test_quantities_of_unlike_units_are_not_added() -> None:
    with pytest.raises(TypeError):
        Quantity.of(Fraction(1), "ft") + Quantity.of(Fraction(1), "lb")


@given(
    st.fractions(max_denominator=64),
    st.fractions(max_denominator=64).filter(bool),
    st.sampled_from(UNITS),
    st.sampled_from(UNITS),
)
def test_what_is_multiplied_by_a_quantity_and_divided_by_it_is_as_before(
    number: Fraction, other: Fraction, unit: str, by: str
) -> None:
    before, factor = Quantity.of(number, unit), Quantity.of(other, by)
    after = before * factor / factor
    assert (after, after.dimensions) == (before, before.dimensions)


@pytest.mark.parametrize(
    ("written", "unit"),
    [("Bags", "bag"), ("carton", "carton"), ("hods", "hod"), ("ft", "ft"), ("glass", "glass")],
)
def test_a_catalog_may_count_by_any_word(written: str, unit: str) -> None:
    assert unit_defined(written) == unit


@pytest.mark.parametrize("written", ["furlong", "yards", "kg", "3 ft", "a/b", "x", ""])
def test_a_measure_that_is_not_ours_is_no_counting_unit(written: str) -> None:
    assert unit_defined(written) is None


def test_a_length_is_shown_in_feet_and_inches() -> None:
    assert feet_and_inches(Fraction(297, 2)) == "12' 4 1/2\""


@pytest.mark.parametrize("text", ["", "two", "1/0", "--3", "1e5", "nan", "inf"])
def test_what_is_no_number_is_refused_in_words(text: str) -> None:
    with pytest.raises(ValueError, match=r"is not a number|divides by zero"):
        fraction_of(text)


@pytest.mark.parametrize("text", ["", "abc", "NaN", "Infinity"])
def test_what_is_no_money_is_refused_in_words(text: str) -> None:
    with pytest.raises(ValueError, match="is not an amount of money"):
        money_of(text)


def test_money_is_rounded_to_the_cent_halves_to_even() -> None:
    assert (money(Fraction(1, 8)), money(Fraction(3, 8))) == (Decimal("0.12"), Decimal("0.38"))


def test_units_are_known_by_their_usual_spellings() -> None:
    assert [unit_named(text) for text in ("Sheets", "sq ft", "LBS.", "furlong")] == [
        "sheet", "ft2", "lb", None,
    ]  # fmt: skip


def test_a_unit_that_nobody_defined_is_not_known() -> None:
    assert (unit_named("hods"), unit_named("hods", {"hod"})) == (None, "hod")


@pytest.mark.parametrize("read", [fraction_of, inches_of, money_of])
@pytest.mark.parametrize("text", ["7" * 5000, "7" * 31, f".{'7' * 5000}", f"1/{'7' * 5000}"])
def test_more_digits_than_anything_on_a_job_has_are_refused_in_one_short_line(
    read: Callable[[str], object], text: str
) -> None:
    with pytest.raises(ValueError, match=r"^'[.\d/]*'(\.\.\.)? is (not )?an? ") as refused:
        read(text)
    assert len(str(refused.value)) < 120


def test_money_of_any_size_is_exact_to_the_cent() -> None:
    price = int("1" * 31)
    assert money(Fraction(price)) == Decimal(f"{price}.00")
    assert money(-Fraction(price) / 8) == Decimal(f"{-price // 8}.00") + Decimal("0.12")


def test_sums_of_an_old_price_without_bounds_lose_no_cent() -> None:
    assert Decimal("1" * 31) + Decimal("0.01") - Decimal("1" * 31) == Decimal("0.01")


@pytest.mark.parametrize("text", ["1e-999999", "1e999999", "nan", "Infinity"])
def test_what_no_purse_holds_is_no_money(text: str) -> None:
    with pytest.raises(ValueError, match="not an amount of money"):
        money_of(text)
