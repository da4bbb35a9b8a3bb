"""Cutoffs on hand, and lengths that have their own prices, in an order."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import product
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.model import (
    History,
    Item,
    OrderCosts,
    OrderLine,
    Piece,
    StockLength,
    TakeOff,
    TakeOffLine,
    Wanted,
)
from joblog.ordering.foresee import Need, foresee
from joblog.ordering.order import order, with_wanted
from joblog.ordering.stock_cuts import with_cuts
from joblog.ordering.wishes import cutoffs_of
from joblog.rates import learn

NONE = Fraction(0)
FEET = 12
BOARD = Item(
    "fascia", "stick", stock_length=Fraction(12 * FEET), kerf=NONE, unit_cost=Decimal("12.00")
)
BY_LENGTH = replace(
    BOARD,
    length_costs=((Fraction(16 * FEET), Decimal("17.00")), (Fraction(20 * FEET), Decimal("26.00"))),
)


def take_off(item: Item, *lengths: int) -> tuple[Need, TakeOff]:
    """Pieces of so many inches, and what they need without cutoffs of their sticks."""
    assert item.stock_length is not None
    net = sum(map(Fraction, lengths)) / item.stock_length
    line = TakeOffLine("north", "eave", item.name, item.unit, net, net, "", "")
    pieces = tuple(Piece(Fraction(length), 1, "", item.name) for length in lengths)
    return Need(item, net, net), TakeOff(lines=(line,), pieces=pieces)


def ordered(
    item: Item, lengths: list[int], cutoffs: list[StockLength], on_hand: Fraction = NONE
) -> OrderLine:
    need, found = take_off(item, *lengths)
    there = {item.name: on_hand}
    [cut] = with_cuts([need], found, {item.name: cutoffs}, there)
    [line] = order([cut], there, usual_allowance=NONE).lines
    return line


def of(length: int, pieces: int = 1) -> StockLength:
    return StockLength(Fraction(length), pieces, offcut=True)


def test_a_cutoff_that_holds_a_piece_saves_what_the_cut_list_says() -> None:
    # Pieces of 100 and 60: a stick each. The cutoff of 63 1/2 takes the 60, so one is enough.
    assert ordered(BOARD, [100, 60], []).packs == 2
    line = ordered(BOARD, [100, 60], [StockLength(Fraction(127, 2), 2, offcut=True)])
    assert (line.packs, line.on_hand) == (1, 1)
    assert line.cutoffs == (StockLength(Fraction(127, 2), 1, offcut=True),)


def test_cutoffs_too_short_for_any_piece_save_nothing_though_together_they_are_a_stick() -> None:
    line = ordered(BOARD, [100, 100], [of(72, 2)])
    assert (line.packs, line.on_hand, line.cutoffs) == (2, 0, ())


def test_what_earlier_jobs_took_is_compared_with_all_of_the_work() -> None:
    need, found = take_off(BOARD, 100, 60)
    [cut] = with_cuts([need], found, {"fascia": [of(64)]})
    assert (cut.gross, cut.cut.saved if cut.cut else None) == (2, 1)


def test_an_item_that_is_used_without_pieces_too_takes_no_cutoffs() -> None:
    need, found = take_off(BOARD, 100)
    loose = replace(need, net=Fraction(9), gross=Fraction(9))
    [same] = with_cuts([loose], found, {"fascia": [of(110)]})
    assert same == loose


# --- lengths with their own prices ----------------------------------------------------------------


def in_feet(line: OrderLine) -> dict[int, int]:
    return {int(one.length / FEET): int(one.pieces) for one in line.lengths}


def test_the_lengths_that_cost_least_are_bought() -> None:
    # Four pieces of 8 ft: four sticks of 12 ft are 48.00, two of 16 ft 34.00, two of 20 ft 52.00.
    line = ordered(BY_LENGTH, [96] * 4, [])
    assert in_feet(line) == {16: 2}
    assert (line.cost, line.bought) == (Decimal("34.00"), Fraction(2 * 16, 12))


def test_lengths_are_mixed_where_that_costs_less() -> None:
    # 12 ft and two of 8 ft: 12.00 and 17.00.
    line = ordered(BY_LENGTH, [144, 96, 96], [])
    assert (in_feet(line), line.cost) == ({12: 1, 16: 1}, Decimal("29.00"))


def test_whole_packs_may_make_one_length_the_cheaper() -> None:
    # In bundles of ten, ten of 12 ft hold all of it: 120.00; with 16 ft it would be two bundles.
    bundled = replace(BY_LENGTH, pack=Fraction(10), pack_name="bundle")
    line = ordered(bundled, [144, 96, 96], [])
    assert (in_feet(line), line.cost, line.packs) == ({12: 10}, Decimal("120.00"), 1)


def test_the_usual_length_alone_has_no_choice_without_prices_of_its_own() -> None:
    line = ordered(replace(BOARD, other_lengths=(Fraction(192),)), [96] * 4, [])
    assert (line.lengths, line.packs) == ((), 4)


def test_whole_sticks_on_hand_are_cut_first_and_not_bought_again() -> None:
    line = ordered(BY_LENGTH, [144, 96, 96], [], on_hand=Fraction(1))
    assert (in_feet(line), line.cost) == ({16: 1}, Decimal("17.00"))


def test_what_may_be_wasted_comes_in_a_length_that_any_piece_can_be_cut_from() -> None:
    need, found = take_off(BY_LENGTH, 180, 96, 96)
    [cut] = with_cuts([need], found, share=Fraction(1, 2))
    [line] = order([cut], usual_allowance=Fraction(1, 2)).lines
    assert min(one.length for one in line.lengths) == 192
    assert line.bought >= line.needed


def test_one_stick_to_spare_is_the_cheapest_stick_and_not_the_cheapest_foot() -> None:
    # Seven of 12 ft; the half stick to spare is 12.00 in 12 ft, 17.00 in 16 ft.
    need, found = take_off(BY_LENGTH, *[144] * 7)
    [cut] = with_cuts([need], found, share=Fraction(1, 20))
    [line] = order([cut], usual_allowance=Fraction(1, 20)).lines
    assert (in_feet(line), line.cost) == ({12: 8}, Decimal("96.00"))


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.integers(30, 240), min_size=1, max_size=5),
    st.fractions(1, 4, max_denominator=1),
    st.lists(st.integers(40, 130), max_size=2),
)
def test_no_plain_choice_of_lengths_costs_less(
    lengths: list[int], pack: Fraction, cutoffs: list[int]
) -> None:
    item = replace(BY_LENGTH, pack=pack)
    line = ordered(item, lengths, [of(one) for one in cutoffs])
    prices = {144: Decimal(12), 192: Decimal(17), 240: Decimal(26)}
    singles = [
        ceil(Fraction(_first_fit(lengths, size)) / pack) * pack * Fraction(price)
        for size, price in prices.items()
        if size >= max(lengths)
    ]
    assert Fraction(line.cost or 0) <= min(singles)
    assert line.cost == sum((one.cost or Decimal() for one in line.lengths), Decimal())
    assert line.bought + line.on_hand >= line.needed


def _first_fit(lengths: list[int], size: int) -> int:
    """The fewest sticks of one size that first fit finds over every order of so few pieces."""
    best = len(lengths)
    for seats in product(range(len(lengths)), repeat=len(lengths)):
        room = [0] * len(lengths)
        for seat, length in zip(seats, lengths, strict=True):
            room[seat] += length
        if max(room) <= size:
            best = min(best, len(set(seats)))
    return best


def test_what_another_job_asked_for_is_added_in_lengths_too() -> None:
    line = ordered(BY_LENGTH, [96] * 4, [])
    asked = Wanted("fascia", "stick", Fraction(2), (), job="barn")
    [raised], _ = with_wanted([line], [asked], {"fascia": BY_LENGTH}, "house")
    assert raised.bought >= line.needed + 2
    assert raised.cost == sum((one.cost or Decimal() for one in raised.lengths), Decimal())


def test_an_order_by_what_was_learned_adds_its_reserve_in_lengths() -> None:
    need, found = take_off(BY_LENGTH, *[96] * 8)
    [cut] = with_cuts([need], found, share=Fraction(1, 20))
    foreseen = foresee([cut], {}, learn(History()))
    careful, bold = (order([cut], foreseen=foreseen, risk=risk).lines[0] for risk in (0.01, 0.5))
    assert careful.bought > bold.bought >= cut.gross
    assert careful.bought == sum(
        (one.pieces * one.length / 144 for one in careful.lengths), Fraction(0)
    )
    assert careful.chance_any is not None and careful.chance_any <= 0.01
    trip = OrderCosts(Decimal(80), Decimal(5), once=True)
    [by_trip] = order([cut], foreseen=foreseen, costs=trip).lines
    assert by_trip.bought >= by_trip.needed - by_trip.on_hand


# --- as a person says them ------------------------------------------------------------------------


def test_cutoffs_are_said_by_length_and_number() -> None:
    said = cutoffs_of(["F Channel=63.5 x 2", "f channel=5' 4\"", "fascia=70"])
    assert said == {
        "f channel": (StockLength(Fraction(127, 2), 2, offcut=True), of(64)),
        "fascia": (of(70),),
    }


@pytest.mark.parametrize("text", ["63.5", "fascia=", "fascia=0", "fascia=70 x 0", "fascia=long"])
def test_what_is_no_cutoff_is_refused(text: str) -> None:
    with pytest.raises(ValueError):
        cutoffs_of([text])
