"""Edges, gables, dormers and attics of houses against published worked examples."""

from fractions import Fraction

import pytest

from joblog.catalog.lines import starter_catalog
from joblog.house.read_table import read_house
from joblog.house.runs import runs_of
from joblog.model import Amount, Run
from joblog.takeoff.for_every import for_every
from joblog.takeoff.take_off import take_off
from joblog.takeoff.works import starter_works

# Source: a worked answer to a roof framing problem of a construction estimating textbook
# (sciemce.com, qa/3lp35NPIzr72): an office of 72 by 50 ft, eaves all around, 1 ft 8 in beyond the
# walls. Edges of 75 ft 4 in and 53 ft 4 in; fascia 257 ft 4 in, sill 244 ft.
OFFICE = """what,name,length,height,top,corner,depth
every,drip_edge=1,,,,,
body,office,,,,,
side,front,72 ft,9 ft,eave,outside,20
side,left,50 ft,9 ft,eave,outside,20
side,back,72 ft,9 ft,eave,outside,20
side,right,50 ft,9 ft,eave,outside,20
"""
EDGES = [Fraction(226, 3), Fraction(160, 3)] * 2
FASCIA, SILL = Fraction(772, 3), Fraction(244)
# Source: a lumber dealer's printed page "Estimating siding and accessories" (page 70 of its
# catalog): a gable end 28 ft wide and 4 ft high, and one side of a dormer 6 ft along and 4 ft high.
GABLE_END = (Fraction(28), Fraction(4), Fraction(56))
DORMER_SIDE = (Fraction(6), Fraction(4), Fraction(12))
# Source: a vent maker's page on net free area: 20 by 30 ft of attic at 1/150 want 4 square feet,
# 576 square inches.
ATTIC = (Fraction(20) * 30, Fraction(4), Fraction(576))
# Source: hunker.com, "Roof slope multiplying factors": a house 28 ft wide at 4 in 12, factor
# 1.0541, 14 ft 9 in from the base to the ridge.
SLOPE = (Fraction(28), Fraction(4), Fraction("1.0541"), Fraction("14.75"))
# Source: a shake maker's public page "How many", slope factors of roof areas.
FACTORS = [
    (2, "1.02"),
    (3, "1.03"),
    (4, "1.06"),
    (5, "1.08"),
    (6, "1.12"),
    (7, "1.16"),
    (8, "1.20"),
]


def test_the_edges_of_the_office_go_beyond_its_walls_by_the_depth_around_each_corner() -> None:
    edges = feet_of("drip edge", OFFICE)
    assert (edges, sum(edges)) == (EDGES, FASCIA)


def test_the_wall_channel_of_the_office_is_as_long_as_its_sill() -> None:
    assert sum(feet_of("F channel", OFFICE)) == SILL


def test_the_gable_end_of_the_lumber_dealer_as_the_side_of_a_house() -> None:
    # A wall of one foot under the triangle, which adds as many square feet as it is wide.
    width, rise, area = GABLE_END
    table = f"""what,length,height,top,corner,pitch,depth
body,,,,end,,
side,{width} ft,1 ft,gable,end,{rise / (width / 2) * 12}/12,12
"""
    assert siding_of(table) == area + width


def test_the_side_of_the_dormer_of_the_lumber_dealer_as_a_cheek() -> None:
    along, high, area = DORMER_SIDE
    table = f"""what,length,height,height_end,top,corner
body,,,,,end
side,{along} ft,0,{high} ft,open,end
"""
    assert siding_of(table) == area


def runs_in(table: str) -> tuple[Run, ...]:
    house, unread = read_house(table)
    runs, _, impossible = runs_of(house)
    assert not (*unread, *impossible)
    return for_every(runs, house.every, starter_works())


def feet_of(item: str, table: str) -> list[Fraction]:
    stock = {known.name: known.stock_length for known in starter_catalog().items}[item]
    found, problems = take_off(runs_in(table), starter_catalog())
    assert stock and not problems
    return [line.net * stock / 12 for line in found.lines if line.item == item]


def siding_of(table: str) -> Fraction:
    """Square feet."""
    found, problems = take_off(runs_in(table), starter_catalog())
    assert not problems
    return (
        sum(
            (figure.amount.quantity for figure in found.figures if figure.name == "siding"),
            Fraction(0),
        )
        * 100
    )


def test_the_gable_end_of_the_lumber_dealer() -> None:
    # A rise of 4 ft over half of 28 ft is 3 3/7 in 12.
    width, rise, area = GABLE_END
    pitch = rise / (width / 2) * 12
    measures = (("width", Amount(width, "ft")), ("pitch", Amount(pitch)))
    found, _ = take_off([Run("gable wall", "left", measures)], starter_catalog())
    [siding] = [figure for figure in found.figures if figure.name == "siding"]
    assert siding.amount == Amount(area / 100, "square")


def test_the_attic_of_the_vent_maker() -> None:
    area, feet, inches = ATTIC
    found, _ = take_off(
        [Run("attic", "attic", (("area", Amount(area, "ft2")),))], starter_catalog()
    )
    [vents] = [figure for figure in found.figures if figure.name == "vent area at 1/150"]
    assert vents.amount == Amount(feet, "ft2")
    assert feet * 144 == inches


def slope_of(run: Fraction, pitch: Fraction) -> Fraction:
    measures = (("run", Amount(run, "ft")), ("pitch", Amount(pitch)))
    found, _ = take_off([Run("roof lengths", "roof", measures)], starter_catalog())
    return found.figures[0].amount.quantity


def test_the_slope_of_the_house_28_ft_wide() -> None:
    width, pitch, factor, length = SLOPE
    found = slope_of(width / 2, pitch)
    assert found / (width / 2) == pytest.approx(factor, abs=0.0001)
    assert round(found * 4) / Fraction(4) == length


@pytest.mark.parametrize(("pitch", "factor"), FACTORS)
def test_slope_factors_of_roof_areas(pitch: int, factor: str) -> None:
    # Published to two decimals, some of them rounded up.
    found = slope_of(Fraction(100), Fraction(pitch)) / 100
    assert Fraction(factor) - Fraction(1, 100) < found <= Fraction(factor) + Fraction(1, 200)
