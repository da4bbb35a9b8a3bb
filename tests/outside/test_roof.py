"""Roof lengths, nail counts and areas against published values."""

from fractions import Fraction
from math import pi

import pytest

from joblog.catalog.lines import starter, starter_catalog
from joblog.model import Amount, Run
from joblog.takeoff.formula import worked_out
from joblog.takeoff.take_off import take_off

# Source: the framing-square table "length of common rafters per foot run"; the same figures stand
# in US Navy NAVEDTRA 14044 and US Army FM 5-426.
RAFTERS = [
    (2, "12.17"), (3, "12.37"), (4, "12.65"), (5, "13.00"), (6, "13.42"), (7, "13.89"),
    (8, "14.42"), (9, "15.00"), (10, "15.62"), (11, "16.28"), (12, "16.97"), (13, "17.69"),
    (14, "18.44"), (15, "19.21"), (16, "20.00"), (17, "20.81"), (18, "21.63"),
]  # fmt: skip

# Source: the framing-square table "length of hip or valley per foot run", from memory.
HIPS = [
    (2, "17.09"), (3, "17.23"), (4, "17.44"), (5, "17.69"), (6, "18.00"), (7, "18.36"),
    (8, "18.76"), (9, "19.21"), (10, "19.70"), (11, "20.22"), (12, "20.78"),
]  # fmt: skip

# Common nails: length below the head and shank, in inches. Source: ASTM F1667, from memory; the
# lengths and all shanks but the first two also stand in public tables of penny sizes (4d and 5d
# are 12 1/2 gauge).
COMMON_NAILS = {
    4: (1.5, 0.0985), 5: (1.75, 0.0985), 6: (2.0, 0.113), 8: (2.5, 0.131), 10: (3.0, 0.148),
    12: (3.25, 0.148), 20: (4.0, 0.192),
}  # fmt: skip
# Pounds in a cubic inch of carbon steel, 7.85 g/cm3: any machinist's handbook.
STEEL = 0.2836
# The head adds about what the point lacks. What is left of both, and of the wire's own tolerance,
# is less than a shank's diameter of the length.
TOLERANCE = 0.05
# Source: a public table of penny sizes, "Typical wire nails per pound" (diydata.com, Nail sizes).
WIRE_NAILS = {4: 315, 5: 270, 6: 180, 8: 105, 10: 70, 12: 65, 20: 30}
# Source: International Library of Technology, Carpentry part 4, "Sizes and weights of nails": for
# cut nails, as it says, and some of them shorter.
CUT_NAILS = {4: 336, 5: 210, 6: 166, 8: 94, 10: 72, 12: 50, 20: 32}


def inches(formula: str) -> Fraction:
    return worked_out(formula, {}, "in").quantity


def nearest(length: Fraction, part: Fraction) -> Fraction:
    return round(length / part) * part


@pytest.mark.parametrize(("rise", "published"), RAFTERS)
def test_rafter_per_foot_of_run(rise: int, published: str) -> None:
    # Over 100 ft of run, so that rounding up to 1/64 in does not show in the second decimal.
    assert nearest(inches(f"rafter(100 * ft, {rise})") / 100, Fraction(1, 100)) == Fraction(
        published
    )


@pytest.mark.parametrize(("rise", "published"), HIPS)
def test_hip_per_foot_of_run(rise: int, published: str) -> None:
    assert nearest(inches(f"hip(100 * ft, {rise})") / 100, Fraction(1, 100)) == Fraction(published)


def test_roof_lengths_are_those_of_the_square() -> None:
    # The same two tables: 12 ft of run at 6 in 12 is 12 x 13.42 and 12 x 18.00 in, to a tenth.
    sizes = (("run", Amount(Fraction(12), "ft")), ("pitch", Amount(Fraction(6))))
    found, _ = take_off([Run("roof lengths", "main roof", sizes)], starter_catalog())
    feet = [figure.amount.quantity for figure in found.figures]
    assert [nearest(length * 12, Fraction(1, 10)) for length in feet] == [161, 216]


def test_seven_in_rise_over_a_16_ft_span() -> None:
    # Source: NAVEDTRA 14044, fig. 2-17: 13.89 x 8 = 111.12 in, called 9 ft 3 1/8 in.
    assert nearest(inches("rafter(8 * ft, 7)"), Fraction(1, 8)) == 9 * 12 + Fraction(25, 8)


def test_quarter_pitch_over_a_25_ft_span() -> None:
    # Source: Griffith, Carpentry (1916): 12.5 ft x 13.42 = 167.75 in, about 14 ft.
    assert abs(inches("rafter(12.5 * ft, 6)") - Fraction("167.75")) < Fraction(1, 16)
    assert nearest(inches("rafter(12.5 * ft, 6)"), Fraction(12)) == 14 * 12


def test_thirteen_in_rise_over_a_run_of_10_ft_4_in() -> None:
    # Source: FM 5-426, table method: 17.69 x 10 1/3 = 182.8 in, called 15 ft 3 in.
    assert nearest(inches("rafter(124 * inch, 13)"), Fraction(1)) == 15 * 12 + 3


def by_geometry(penny: int) -> float:
    """How many nails a pound of wire of this shank makes."""
    length, shank = COMMON_NAILS[penny]
    return 1 / (STEEL * pi / 4 * shank**2 * length)


@pytest.mark.parametrize("penny", COMMON_NAILS)
def test_common_nails_in_a_pound_are_those_that_its_wire_makes(penny: int) -> None:
    [nails] = [item for item in starter() if item.name == f"{penny}d common nails"]
    assert (nails.unit, nails.per_pound) == ("lb", WIRE_NAILS[penny])
    assert WIRE_NAILS[penny] == pytest.approx(by_geometry(penny), rel=TOLERANCE)


@pytest.mark.parametrize("penny", COMMON_NAILS)
def test_an_old_table_of_cut_nails_is_not_that_of_common_nails(penny: int) -> None:
    assert CUT_NAILS[penny] != pytest.approx(by_geometry(penny), rel=TOLERANCE)


@pytest.mark.parametrize(("penny", "count"), [(5, 264), (12, 63)])
def test_the_sizes_where_the_two_tables_differ_most(penny: int, count: int) -> None:
    # By hand: 1 / (0.2836 x 0.007620 x 1.75) = 264.4, 1 / (0.2836 x 0.017203 x 3.25) = 63.1.
    assert round(by_geometry(penny)) == count
    assert CUT_NAILS[penny] / by_geometry(penny) == pytest.approx(0.79, abs=0.01)


def test_a_gable_is_half_its_width_times_its_rise_in_squares_of_100_square_feet() -> None:
    # 24 ft wide at 6 in 12 rises 6 ft: half of 24 x 6 is 72 square feet. A square is 100 square
    # feet (common practice).
    width, pitch = Amount(Fraction(24), "ft"), Amount(Fraction(6))
    gable = Run("gable wall", "west", (("width", width), ("pitch", pitch)))
    found, _ = take_off([gable], starter_catalog())
    assert found.figures[0].amount == Amount(Fraction(72, 100), "square")


def test_attic_vent_area_is_a_150th_and_a_300th_of_the_floor() -> None:
    # Source: the two ratios of the residential model code, from memory. 1500 square feet.
    attic = Run("attic", "attic", (("area", Amount(Fraction(1500), "ft2")),))
    found, _ = take_off([attic], starter_catalog())
    area = [figure.amount.quantity for figure in found.figures if figure.amount.unit == "ft2"]
    assert area == [10, 5]
    # The same in feet of the starter's vented panel, 8 square inches of open area a foot.
    feet = [figure.amount.quantity for figure in found.figures if figure.amount.unit == "ft"]
    assert feet == [one * 144 / 8 for one in area]
    assert all("local code" in figure.note for figure in found.figures)
