"""Runs in an order: the lengths that an item comes in, and the joints that these leave."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from joblog.catalog.lines import starter_catalog
from joblog.cutting.cut_lists import cut_lists
from joblog.cutting.read_pieces import read_pieces
from joblog.model import Amount, Catalog, OrderLine, Run, TakeOff
from joblog.ordering.needs import needs_of
from joblog.ordering.order import order
from joblog.ordering.stock_cuts import joint_notes, with_cuts
from joblog.report.cut_sheet import cut_sheet
from joblog.report.planned import piece_table
from joblog.report.table import as_csv
from joblog.takeoff.take_off import take_off

FEET = 12
SIZES = (("length", Amount(Fraction(41), "ft")), ("depth", Amount(Fraction(12), "in")))
LONGER = (Fraction(16 * FEET), Fraction(20 * FEET))


def catalog_with(**fields: object) -> Catalog:
    """The starter's catalog, with fascia also in 16 and 20 ft."""
    catalog = starter_catalog()
    items = tuple(
        replace(item, other_lengths=LONGER, **fields) if item.name == "fascia" else item  # type: ignore[arg-type]
        for item in catalog.items
    )
    return replace(catalog, items=items)


def two_eaves(catalog: Catalog, *more: tuple[str, Amount]) -> TakeOff:
    """Two eaves of 41 ft without corners."""
    runs = [Run("boxed eave", place, (*SIZES, *more)) for place in ("front", "back")]
    found, problems = take_off(runs, catalog)
    assert problems == ()
    return found


def fascia(catalog: Catalog) -> tuple[OrderLine, tuple[str, ...]]:
    found = two_eaves(catalog)
    needs = with_cuts(needs_of(found, catalog), found)
    lines = order(needs, usual_allowance=Fraction(0)).lines
    return next(line for line in lines if line.item == "fascia"), joint_notes(needs, found)


def in_feet(line: OrderLine) -> dict[int, int]:
    return {int(one.length / FEET): int(one.pieces) for one in line.lengths}


def test_without_prices_the_lengths_are_bought_that_measure_least_with_the_fewest_joints() -> None:
    line, notes = fascia(catalog_with())
    feet = sum(length * count for length, count in in_feet(line).items())
    assert (feet, line.gross, line.cost) == (84, 7, None)
    assert notes == (
        "fascia: its runs have 4 joints in this order; laps and nails are counted for 6, as with "
        "12' alone",
    )


def test_with_prices_those_are_bought_that_cost_least() -> None:
    # 84 ft and more: in 16 ft for 10.00 each it is six, for 60.00; seven of 12 ft are 84.00.
    prices = ((LONGER[0], Decimal("10.00")), (LONGER[1], Decimal("40.00")))
    line, _ = fascia(catalog_with(unit_cost=Decimal("12.00"), length_costs=prices))
    assert (in_feet(line), line.cost) == ({16: 6}, Decimal("60.00"))


def test_a_length_without_a_price_beside_one_with_it_is_told_and_not_bought() -> None:
    line, [note] = fascia(catalog_with(unit_cost=Decimal("12.00")))
    assert (line.lengths, line.packs) == ((), 7)
    assert note.startswith("fascia: it also comes in 16' and 20', which have no price")


def test_a_take_off_keeps_net_and_gross_of_the_usual_length() -> None:
    [line, _] = [one for one in two_eaves(catalog_with()).lines if one.item == "fascia"]
    # Three joints of an inch in 41 ft.
    assert (line.net, line.gross) == (Fraction(41, 12), Fraction(41 * 12 + 3, 144))


def test_runs_go_to_the_saw_with_all_that_their_joints_keep_to() -> None:
    spacing = (("joint_spacing", Amount(Fraction(16), "in")), ("drip_edge", Amount(Fraction(1))))
    found = two_eaves(catalog_with(), *spacing)
    read, problems = read_pieces(as_csv(piece_table(found.pieces)))
    assert problems == ()
    assert [replace(piece, source="") for piece in read] == list(found.pieces)
    edge = next(piece for piece in read if piece.item == "drip edge")
    assert edge.joints is not None
    assert (edge.joints.beside, edge.joints.stagger) == ("fascia", 24)


def test_a_row_with_a_spacing_and_no_lap_is_refused() -> None:
    _, [problem] = read_pieces("length,lap,spacing\n41 ft,,16\n")
    assert problem.why == "says spacing, but no lap; 0 where pieces meet end to end"


def test_the_cut_list_says_where_each_joint_falls_and_staggers_drip_edge() -> None:
    catalog = catalog_with()
    found = two_eaves(catalog, ("drip_edge", Amount(Fraction(1))))
    plans, problems = cut_lists(found.pieces, catalog, effort=0.1)
    assert problems == ()
    by_item = {plan.item: plan for plan in plans}
    for run, other in zip(by_item["fascia"].runs, by_item["drip edge"].runs, strict=True):
        assert all(abs(a - b) >= 24 for a in run.joints for b in other.joints)
    assert "4 joints, fewest; from where each run begins:\n  front, 41': " in cut_sheet(plans)
