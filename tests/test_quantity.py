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
    about,
    convert,
    down_to,
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
    assert fraction_of(tape(length)) == length


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


# --- numbers, lengths and money as people write them


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("3", "3"),
        (" 0.625 ", "5/8"),
        (".5", "1/2"),
        ("95/8", "95/8"),
        ("95 / 8", "95/8"),
        ("11 7/8", "95/8"),
        ("11  7\N{FRACTION SLASH}8", "95/8"),
        ("-11 7/8", "-95/8"),
        ("-1/2", "-1/2"),
        ("+5", "5"),
        ("-0.25", "-1/4"),
        ("1,200", "1200"),
        ("12,345,678.5", "24691357/2"),
        ("1,200 1/2", "2401/2"),
    ],
)
def test_a_number_is_read_as_people_write_it(text: str, number: str) -> None:
    assert fraction_of(text) == Fraction(number)


@pytest.mark.parametrize(
    "text", ["12,5", "1200,50", "1,2,3", "1,20", ",200", "1.5 3/4", "3-1/2", "4."]
)
def test_what_may_be_two_numbers_is_refused_not_guessed(text: str) -> None:
    with pytest.raises(ValueError, match="is not a number"):
        fraction_of(text)


def test_a_number_beyond_any_job_is_refused() -> None:
    assert fraction_of("1,000,000,000,000") == 10**12
    assert fraction_of("-1000000000000") == -(10**12)
    with pytest.raises(ValueError, match="is a number beyond reason"):
        fraction_of("1000000000000.5")
    assert fraction_of("0" * 39 + "1") == 1
    with pytest.raises(ValueError, match="is a number beyond reason"):
        fraction_of("0" * 40 + "1")


def test_what_is_refused_is_shown_up_to_its_fortieth_character() -> None:
    with pytest.raises(ValueError, match=f"^'{'x' * 40}' is not a number"):
        fraction_of("x" * 40)
    with pytest.raises(ValueError, match=f"^'{'x' * 40}'[.]{{3}} is not a number"):
        fraction_of("x" * 41)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("12' 4 1/2\"", "297/2"),
        ("12'4-1/2\"", "297/2"),
        ("12' - 4 1/2 in.", "297/2"),
        ("147-3/8", "1179/8"),
        ("14.625", "117/8"),
        ("5 ft 3 in", "63"),
        ("5 feet 3 inches", "63"),
        ("1 foot", "12"),
        ("5 1/2 ft", "66"),
        ("1,200 ft", "14400"),
        ("5''", "5"),
        ("7/8", "7/8"),
        ("4\N{VULGAR FRACTION ONE QUARTER}", "17/4"),
        ("4\N{VULGAR FRACTION ONE HALF}", "9/2"),
        ("4\N{VULGAR FRACTION THREE QUARTERS}", "19/4"),
        ("4\N{VULGAR FRACTION ONE EIGHTH}", "33/8"),
        ("4\N{VULGAR FRACTION THREE EIGHTHS}", "35/8"),
        ("4\N{VULGAR FRACTION FIVE EIGHTHS}", "37/8"),
        ("\N{VULGAR FRACTION SEVEN EIGHTHS} in", "7/8"),
        ("3\N{PRIME} 2\N{DOUBLE PRIME}", "38"),
        ("3\N{RIGHT SINGLE QUOTATION MARK}2\N{RIGHT DOUBLE QUOTATION MARK}", "38"),
        ("3\N{LEFT SINGLE QUOTATION MARK}2\N{LEFT DOUBLE QUOTATION MARK}", "38"),
        ("1\N{FRACTION SLASH}2 in", "1/2"),
        ("5' 11 7/8\"", "575/8"),
        ("0", "0"),
    ],
)
def test_a_length_is_read_as_a_tape_or_a_drawing_has_it(text: str, inches: str) -> None:
    assert inches_of(text) == Fraction(inches)


@pytest.mark.parametrize("text", ["", "feet", "-3", "12,5", "3 4", "3 1/2 1/4", "5' 3' ", "12 x 4"])
def test_what_is_no_length_is_refused_in_words(text: str) -> None:
    with pytest.raises(ValueError, match="is not a length"):
        inches_of(text)


def test_twelve_inches_beside_feet_are_no_length_and_without_feet_they_are() -> None:
    with pytest.raises(ValueError, match="it has 12 inches beside its feet"):
        inches_of("5' 12\"")
    assert inches_of("5' 11 15/16\"") == Fraction(1151, 16)
    assert inches_of('12"') == 12


def test_a_length_of_more_than_forty_characters_is_none() -> None:
    assert inches_of("0" * 39 + "1") == 1
    with pytest.raises(ValueError, match="is not a length"):
        inches_of("0" * 40 + "1")


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("13.50", "13.50"),
        ("$1,250", "1250"),
        (" $5 ", "5"),
        ("-$5", "-5"),
        (".75", "0.75"),
        ("12.", "12"),
        ("0.000001", "0.000001"),
        ("999999999999", "999999999999"),
        ("1,234,567.89", "1234567.89"),
    ],
)
def test_money_is_read_as_people_write_it(text: str, amount: str) -> None:
    assert money_of(text) == Decimal(amount)


@pytest.mark.parametrize(
    "text", ["13,50", "1,2,3.5", "$$5", "1_000", "1e3", "0.0000001", "1000000000000", "$", "."]
)
def test_what_may_be_another_amount_is_refused_not_guessed(text: str) -> None:
    with pytest.raises(ValueError, match="is not an amount of money"):
        money_of(text)


@given(st.integers(min_value=-(10**40), max_value=10**40))
def test_money_is_exact_however_much_it_is(cents: int) -> None:
    amount = money(Fraction(cents, 100))
    assert (Fraction(amount), amount.as_tuple().exponent) == (Fraction(cents, 100), -2)


@pytest.mark.parametrize(
    ("cents", "amount"), [(0, "0.00"), (-1, "-0.01"), (1, "0.01"), (-12345, "-123.45")]
)
def test_money_is_shown_with_its_cents_and_nothing_is_not_below_zero(
    cents: int, amount: str
) -> None:
    assert str(money(Fraction(cents, 100))) == amount


# --- as they are shown


@pytest.mark.parametrize(
    ("inches", "shown"),
    [
        ("95/8", '11 7/8"'),
        ("1/2", '1/2"'),
        ("0", '0"'),
        ("12", "1'"),
        ("25/2", "1' 1/2\""),
        ("-25/2", "-1' 1/2\""),
        ("-1/2", '-1/2"'),
        ("-24", "-2'"),
    ],
)
def test_feet_are_shown_only_where_there_are_any(inches: str, shown: str) -> None:
    assert feet_and_inches(Fraction(inches)) == shown


@pytest.mark.parametrize(
    ("number", "shown"),
    [("95/8", "11 7/8"), ("41", "41"), ("-1/2", "-1/2"), ("-95/8", "-11 7/8"), ("0", "0")],
)
def test_a_number_is_shown_as_a_tape_has_it(number: str, shown: str) -> None:
    assert tape(Fraction(number)) == shown


@pytest.mark.parametrize(
    ("number", "places", "shown"),
    [
        ("41/100", 4, "0.41"),
        ("10342/3000", 4, "~3.4473"),
        ("1/3", 2, "~0.33"),
        ("-1/3", 1, "~-0.3"),
        ("12", 4, "12"),
        ("1/20000", 4, "~0"),
    ],
)
def test_decimals_say_where_there_are_more(number: str, places: int, shown: str) -> None:
    assert about(Fraction(number), places) == shown


def test_four_decimals_are_shown_unless_asked_otherwise() -> None:
    assert about(Fraction(1, 3)) == "~0.3333"


@pytest.mark.parametrize(
    ("inches", "part", "down"), [("2", 16, "2"), ("95/64", 16, "23/16"), ("10/3", 8, "13/4")]
)
def test_a_length_goes_down_to_the_next_mark_of_the_tape(inches: str, part: int, down: str) -> None:
    assert down_to(Fraction(inches), part) == Fraction(down)


@given(st.fractions(0, 500), st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_down_to_a_mark_is_never_longer_and_less_than_a_mark_shorter(
    inches: Fraction, part: int
) -> None:
    assert 0 <= inches - down_to(inches, part) < Fraction(1, part)


# --- units


@pytest.mark.parametrize(
    "text", ["square feet", "Square  Foot", "sq ft.", "sq. ft", "ft2", "SF", "sqft"]
)
def test_square_feet_have_many_spellings(text: str) -> None:
    assert unit_named(text) == "ft2"


def test_every_unit_is_known_by_its_own_name() -> None:
    assert [unit_named(unit) for unit in UNITS] == list(UNITS)


@pytest.mark.parametrize(
    ("text", "unit"), [("hods", "hod"), ("hod", "hod"), ("boxes", "box"), ("batches", "batch")]
)
def test_the_plural_of_a_defined_unit_is_that_unit(text: str, unit: str) -> None:
    assert unit_named(text, {"hod", "batch"}) == unit


def test_a_unit_to_count_by_is_a_word_of_two_to_twenty_letters() -> None:
    assert (unit_defined("ab"), unit_defined("a" * 20)) == ("ab", "a" * 20)
    assert (unit_defined("q"), unit_defined("a" * 21)) == (None, None)


# --- quantities


def of(number: object, unit: str = "") -> Quantity:
    return Quantity.of(Fraction(str(number)), unit)


def test_sums_and_differences_of_one_dimension() -> None:
    assert of(1, "ft") + of(3, "in") == of(15, "in")
    assert of(1, "ft") - of(3, "in") == of("3/4", "ft")
    assert -of(1, "ft") + of(3, "ft") == +of(2, "ft")


def test_products_and_quotients_carry_their_units() -> None:
    assert of(2, "ft") * of(3, "ft") == of(6, "ft2")
    assert of(6, "ft2") / of(2, "ft") == of(3, "ft")
    assert of(6, "ft") / 2 == 3 * of(1, "ft") == of(1, "ft") * 3
    assert 6 / of(2, "ft") == of(6) / of(2, "ft")
    assert (6 / of(2, "ft") * of(1, "ft")) == of(3)
    assert (of(6, "ft") / of(2, "ft")).dimensions == {}


def test_dimensions_are_those_of_what_is_measured_and_of_what_is_counted() -> None:
    assert of(1, "ft2").dimensions == of(1, "square").dimensions == {"length": 2}
    assert of(1, "gal").dimensions == {"length": 3}
    assert (of(1, "lb") / of(1, "hod")).dimensions == {"mass": 1, "hod": -1}
    assert of(1, "pair").dimensions == {"count": 1}


def test_a_quantity_keeps_the_units_it_was_written_in() -> None:
    assert (of(2, "ft2").units, of(2, "square").units, of(2).units) == (
        (("ft", 2),),
        (("square", 1),),
        (),
    )
    assert (of(1, "ft") * of(1, "ft")).units == (("ft", 2),)
    assert (of(1, "ft") / of(1, "ft")).units == ()
    assert (of(1, "lb") * of(1, "ft2")).units == (("lb", 1), ("ft", 2))


@pytest.mark.parametrize(
    ("unit", "number"), [("lb", 1), ("hod", 1), ("ft", 12), ("pair", 2), ("gal", 231), ("", 1)]
)
def test_the_number_is_in_inches_pounds_and_pieces(unit: str, number: int) -> None:
    # NIST Handbook 44, appendix C.
    assert of(1, unit).number == number


def test_quantities_are_compared_exactly() -> None:
    foot, inches = of(1, "ft"), of(12, "in")
    assert foot == inches and foot <= inches and foot >= inches
    assert not foot < inches and not foot > inches
    assert of(11, "in") < foot and of(11, "in") <= foot and not of(11, "in") >= foot
    assert of(13, "in") > foot and of(13, "in") >= foot and not of(13, "in") <= foot
    assert of(12, "in") != of(13, "in")
    assert of(12, "in") != 12


def test_nothing_of_a_unit_is_false() -> None:
    assert not of(0, "ft")
    assert of("1/64", "in")


@pytest.mark.parametrize("compare", ["__eq__", "__lt__", "__le__", "__gt__", "__ge__", "__sub__"])
def test_unlike_units_are_never_compared(compare: str) -> None:
    with pytest.raises(TypeError, match="do not mix"):
        getattr(of(1, "ft"), compare)(of(1, "ft2"))


def test_a_quantity_is_no_key() -> None:
    with pytest.raises(TypeError):
        hash(of(1, "ft"))
