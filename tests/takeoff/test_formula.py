"""Formulas are exact, keep their units apart, and can do nothing but arithmetic."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.model import Amount
from joblog.takeoff.formula import filled, names_in, worked_out
from joblog.takeoff.units import FormulaError, NumberError, shown

NAMES = {
    "length": Amount(Fraction(41), "ft"),
    "lap": Amount(Fraction(1), "in"),
    "stock": Amount(Fraction(144), "in/stick"),
    "area": Amount(Fraction(369), "ft2"),
    "fahrenheit": Amount(Fraction(35)),
}
NUMBERS = st.fractions(min_value=-1000, max_value=1000, max_denominator=64)


def test_a_decimal_in_a_formula_is_exact() -> None:
    assert worked_out("0.1 + 0.2", {}).quantity == Fraction(3, 10)


def test_units_are_converted_exactly() -> None:
    assert worked_out("length - lap", NAMES, "in") == Amount(Fraction(491), "in")


def test_a_length_over_inches_a_stick_is_sticks() -> None:
    assert worked_out("(length - lap) / stock", NAMES, "stick") == Amount(
        Fraction(491, 144), "stick"
    )


def test_a_square_is_a_hundred_square_feet() -> None:
    # Common practice: a roofing or siding square is 100 square feet.
    assert worked_out("area", NAMES, "square").quantity == Fraction(369, 100)


def test_a_condition_chooses_between_two_amounts() -> None:
    gap = "3/8 * inch if fahrenheit < 40 else 1/4 * inch"
    assert worked_out(gap, NAMES) == Amount(Fraction(3, 8), "in")


def test_pieces_that_one_stock_holds_have_a_kerf_between_them_and_none_at_the_end() -> None:
    # 12 x 11 7/8 + 11 x 1/8 = 143 7/8; a thirteenth does not fit into 144.
    in_one = worked_out("per_stock(stock, 11.875 * inch, 0.125 * inch)", NAMES)
    assert in_one == Amount(Fraction(12), "/stick")


def test_as_many_joints_as_it_takes_to_cover_a_length_with_laps() -> None:
    # 144 + 143 + 143 = 430 in is not enough for 492; a fourth piece makes three joints.
    assert worked_out("joints(length, stock, lap)", NAMES).quantity == 3


def test_a_length_as_long_as_the_stock_needs_no_joint() -> None:
    assert worked_out("joints(12 * ft, stock, lap)", NAMES).quantity == 0


@pytest.mark.parametrize(
    ("low", "high", "feet"),
    [
        (8, 8, 12 * 12),  # twelve courses of 8 in
        (0, 8, 78),  # 12, 11, ... 1 ft
        (4, 8, 6 * 12 + 42),  # six whole ones, then 12, 10, ... 2 ft
        (8, 4, 6 * 12 + 42),  # whichever end is which
        (0, 0, 0),
    ],
)
def test_each_course_is_as_long_as_the_wall_at_its_foot(low: int, high: int, feet: int) -> None:
    courses = worked_out(f"stepped(12 * ft, {low} * ft, {high} * ft, 8 * inch)", {}, "ft")
    assert courses.quantity == feet


@given(NUMBERS.map(abs), NUMBERS.map(abs))
def test_courses_cover_the_wall_and_less_than_one_more_is_cut_away(
    one: Fraction, other: Fraction
) -> None:
    names = {"low": Amount(min(one, other), "in"), "high": Amount(max(one, other), "in")}
    laid = worked_out("stepped(10 * ft, low, high, 8 * inch) * 8 * inch", names, "ft2").quantity
    area = (one + other) / 2 * 120 / 144
    assert area <= laid < area + Fraction(80, 12)


@pytest.mark.parametrize(
    ("formula", "why"),
    [
        ("stepped(length, lap, length, 8)", "needs a length"),
        ("length + area", "adds or compares ft and ft2"),
        ("length + 1", "adds or compares ft and a count"),
        ("length + 0", "adds or compares ft and a count"),
        ("length < area", "adds or compares ft and ft2"),
        ("min(length, area)", "adds or compares ft and ft2"),
        ("ceil(length)", "it is for counts"),
        ("rafter(area, 6)", "needs a length"),
        ("rafter(length, lap)", "needs a bare number"),
        ("lenght / 2", "uses 'lenght', which is not known here"),
        ("length < 2 * ft", "takes a comparison for an amount"),
        ("sum(length)", "uses 'sum', which is not known here"),
        ("__import__('os')", "uses '__import__', which is not known here"),
        ("import os", "cannot be read"),
        ("length.__class__", "may hold only"),
        ("().__class__.__bases__", "may hold only"),
        ("(lambda: 1)()", "may hold only"),
        ("[1 for x in 1]", "may hold only"),
        ("f'{length}'", "may hold only"),
        ("length ** 9", "may hold only"),
        ("9 // 2", "may hold only"),
        ("'a' * 9", "no plain number"),
        ("1e9", "no plain number"),
        ("0x10", "no plain number"),
        ("True + 1", "no plain number"),
        ("1j", "no plain number"),
        ("9" * 31, "no plain number"),
        ("1 + " * 100 + "1", "longer than 400 characters"),
        ("(" * 200 + "1" + ")" * 199, "cannot be read"),
        ("-" * 300 + "1", "nests more than"),
        ("9" * 30 + (" * " + "9" * 30) * 3, "comes to a number beyond reason"),
        ("1" + (" / " + "9" * 30) * 4, "comes to a number beyond reason"),
        ("ceil", "cannot be worked out"),
        ("ceil(1, 2)", "cannot be worked out"),
        ("1; 2", "cannot be read"),
        ("", "cannot be read"),
        ("\x00", "cannot be read"),
    ],
)
def test_what_is_no_sound_arithmetic_is_refused_in_words(formula: str, why: str) -> None:
    with pytest.raises(FormulaError, match=re.escape(why)) as refused:
        worked_out(formula, NAMES)
    assert not isinstance(refused.value, NumberError)


@pytest.mark.parametrize(
    ("formula", "why"),
    [
        ("length / (lap - lap)", "divides by zero: 41 ft / (1 in - 1 in)"),
        ("per_stock(stock, 13 * ft, lap)", "156 in, longer than its stock of 144 in"),
        ("per_stock(stock, lap - lap, lap)", "a piece of 0 in"),
        ("joints(length, stock, 12 * ft)", "a lap as long as the stock"),
    ],
)
def test_numbers_that_a_formula_cannot_take_are_named(formula: str, why: str) -> None:
    with pytest.raises(NumberError, match=re.escape(why)):
        worked_out(formula, NAMES)


def test_a_result_in_the_wrong_unit_is_refused() -> None:
    with pytest.raises(FormulaError, match="comes out in ft2, but must be in ft"):
        worked_out("area", NAMES, "ft")


@given(NUMBERS, NUMBERS, NUMBERS)
def test_arithmetic_is_that_of_fractions(a: Fraction, b: Fraction, c: Fraction) -> None:
    names = {"a": Amount(a), "b": Amount(b), "c": Amount(c)}
    assert worked_out("(a + b) * c - a / 3", names).quantity == (a + b) * c - a / 3


@given(st.fractions(min_value=0, max_value=500, max_denominator=16), NUMBERS.filter(bool))
def test_a_rounded_root_is_never_short_and_never_a_64th_too_long(
    run: Fraction, pitch: Fraction
) -> None:
    names = {"run": Amount(run, "in"), "pitch": Amount(abs(pitch))}
    length = worked_out("rafter(run, pitch)", names, "in").quantity
    square = run**2 * (144 + pitch**2) / 144
    assert length**2 >= square
    assert length == 0 or (length - Fraction(1, 64)) ** 2 < square


@given(st.text("()+-*/. 1aftxlength_if<else'\"[]{}:,", max_size=60))
def test_no_text_does_more_than_come_to_an_amount_or_be_refused(formula: str) -> None:
    try:
        worked_out(formula, NAMES)
    except FormulaError as refused:
        assert str(refused)


def test_a_formula_is_shown_with_its_numbers_in() -> None:
    assert filled("(length - lap) / stock", NAMES) == "(41 ft - 1 in) / 144 in/stick"


def test_a_formula_with_a_root_says_that_it_was_rounded() -> None:
    assert filled("rafter(8 * ft, 7)", NAMES) == "rafter(8 ft, 7) (rounded up to 1/64 in)"


@pytest.mark.parametrize(
    ("amount", "text"),
    [
        (Amount(Fraction(93, 8), "in"), "11 5/8 in"),
        (Amount(Fraction(2371, 256), "ft"), "9' 3 9/64\""),
        (Amount(Fraction(3), "each"), "3"),
        (Amount(Fraction(369, 100), "square"), "3.69 square"),
        (Amount(Fraction(491, 144), "stick"), "~3.4097 stick"),
    ],
)
def test_an_amount_is_exact_or_marked_as_about(amount: Amount, text: str) -> None:
    assert shown(amount) == text


def test_the_names_of_a_formula_are_those_that_it_must_be_given() -> None:
    assert names_in("ceil(length / stock) * 3 * ft") == ("length", "stock")
