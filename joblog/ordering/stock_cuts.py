"""What the pieces of each item are cut from: new sticks of which length, and cutoffs on hand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import combinations
from math import ceil

from joblog.model import CutPlan, Item, Piece, StockLength, TakeOff
from joblog.ordering.foresee import Need, StockCut
from joblog.ordering.lengths import cost_of, in_units, lengths_of, prices_of
from joblog.quantity import feet_and_inches
from joblog.takeoff.take_off import KERF

EFFORT = 0.05
"""Of the usual search, for each cut list that is tried."""


def with_cuts(
    needs: Sequence[Need],
    found: TakeOff,
    cutoffs: Mapping[str, Sequence[StockLength]] | None = None,
    on_hand: Mapping[str, Fraction] | None = None,
    share: Fraction = Fraction(0),
) -> tuple[Need, ...]:
    """The needs with what their pieces are cut from, by the best cut list that is soon found.

    Gross becomes the whole sticks of that list, in which the joints of runs fall where they cost
    least. `cutoffs` are lengths on hand by item; what they save is told apart, so that what earlier
    jobs took is still compared with all of the work. An item with prices of its own for other
    lengths takes those that cost least in whole packs, one with runs and no prices those that
    measure least, beside the whole sticks that are `on_hand`, and with `share` of gross more for
    what gets wasted. An item with a piece that cannot be cut, or that is also used otherwise than
    in pieces, stays as it is.
    """
    lengths, counts = cutoffs or {}, on_hand or {}
    made, plans = [], list[CutPlan]()
    for need in needs:
        name = need.item.name
        pieces = [piece for piece in found.pieces if piece.item == name]
        there = list(lengths.get(name, ()))
        whole = int(counts.get(name, Fraction(0))) if _by_length(need.item, pieces) else 0
        if whole > 0 and need.item.stock_length is not None:
            there.append(StockLength(need.item.stock_length, whole, offcut=True))
        cut, plan = _with_cut(need, pieces, there, share, plans)
        made.append(cut)
        plans += [plan] if plan else []
    return tuple(made)


def joint_notes(needs: Sequence[Need], found: TakeOff) -> tuple[str, ...]:
    """What a person should know of the joints and lengths of what is laid in runs."""
    notes = []
    for need in needs:
        item = need.item
        runs = [one for one in found.pieces if one.item == item.name and one.joints]
        if not runs or need.cut is None or item.stock_length is None:
            continue
        usual = feet_and_inches(item.stock_length)
        counted = sum(_joints_in(item.stock_length, run) * run.pieces for run in runs)
        if need.cut.joints != counted:
            joints = "1 joint" if need.cut.joints == 1 else f"{need.cut.joints} joints"
            notes.append(
                f"{item.name}: its runs have {joints} in this order; laps and nails are counted "
                f"for {counted}, as with {usual} alone"
            )
        others = [one for one in item.other_lengths if one not in dict(item.length_costs)]
        if item.unit_cost is not None and others:
            named = " and ".join(map(feet_and_inches, others))
            notes.append(
                f"{item.name}: it also comes in {named}, which have no price, so they are not in "
                f'the order; say it with joblog catalog set "{item.name}" '
                f'"length costs={feet_and_inches(others[0])} = PRICE"'
            )
    return tuple(notes)


def _joints_in(stock: Fraction, run: Piece) -> int:
    """How many there are in sticks of one length, as formulas count them."""
    lap = run.joints.lap if run.joints else Fraction(0)
    return max(0, ceil((run.length - lap) / (stock - lap)) - 1)


def is_cut(need: Need, pieces: Sequence[Piece]) -> bool:
    """Whether all that is needed of an item is cut from its sticks in these pieces."""
    length = sum((piece.length * piece.pieces for piece in pieces), Fraction(0))
    stock = need.item.stock_length
    return bool(pieces) and stock is not None and length >= (need.net or Fraction(0)) * stock


def _with_cut(
    need: Need,
    pieces: Sequence[Piece],
    cutoffs: Sequence[StockLength],
    share: Fraction,
    others: Sequence[CutPlan],
) -> tuple[Need, CutPlan | None]:
    if not is_cut(need, pieces):
        return need, None
    without = _cheapest(need.item, pieces, (), share, others)
    if without is None:
        return need, None
    gross = _in_units(need.item, without)
    plan = None
    if cutoffs:
        plan = _cheapest(need.item, pieces, cutoffs, share, others)
    plan = plan or without
    with_them, taken = _in_units(need.item, plan), _taken(plan)
    cut = StockCut(
        gross=max(gross, with_them),
        saved=max(gross - with_them, Fraction(0)),
        cutoffs=tuple(one for one in taken if one.length != need.item.stock_length),
        whole=sum(one.pieces or 0 for one in taken if one.length == need.item.stock_length),
        sticks=_sticks(plan) if _by_length(need.item, pieces) else (),
        longest=_longest(need.item, pieces),
        joints=plan.joints,
    )
    return replace(need, gross=cut.gross, cut=cut), plan


def _cheapest(
    item: Item,
    pieces: Sequence[Piece],
    cutoffs: Sequence[StockLength],
    share: Fraction,
    others: Sequence[CutPlan],
) -> CutPlan | None:
    """With the joints of other items' plans, which those of these may be kept away from."""
    plans = [
        plan
        for stock in _stocks(item, pieces)
        if (plan := _plan(item, pieces, [*stock, *cutoffs], others))
    ]
    return min(plans, key=lambda plan: _money(item, pieces, plan, share), default=None)


def _stocks(item: Item, pieces: Sequence[Piece]) -> Iterator[list[StockLength]]:
    """The lengths to try together: the usual one, or, where others have their prices, all of them,
    each by itself and each with each other, for packs may make a plain choice the cheaper one."""
    from joblog.cutting.cut_lists import lengths_in_stock

    assert item.stock_length is not None
    if not _by_length(item, pieces):
        yield [StockLength(item.stock_length)]
        return
    every = lengths_in_stock(item)
    sizes = sorted({len(every), 1, 2} if item.length_costs else {len(every), 1})
    for size in sizes:
        yield from map(list, combinations(every, min(size, len(every))))


def _by_length(item: Item, pieces: Sequence[Piece]) -> bool:
    """Whether it is bought in several lengths: each costs its own price, or, of what is laid in
    runs, none has a price."""
    if item.unit_cost is not None:
        return bool(item.length_costs)
    return bool(item.other_lengths) and any(piece.joints for piece in pieces)


def _plan(
    item: Item,
    pieces: Sequence[Piece],
    stock: Sequence[StockLength],
    others: Sequence[CutPlan],
) -> CutPlan | None:
    """None where a piece cannot be cut from these lengths."""
    from joblog.cutting.joints import joints_of, plan_runs

    plan, problems = plan_runs(
        pieces,
        stock,
        kerf=KERF if item.kerf is None else item.kerf,
        useful=item.least_offcut or Fraction(0),
        effort=EFFORT,
        elsewhere=joints_of(others),
    )
    return None if problems or plan.short else plan


def _sticks(plan: CutPlan) -> tuple[tuple[Fraction, int], ...]:
    counts = Counter(stick.length for stick in plan.sticks if not stick.offcut)
    return tuple(sorted(counts.items()))


def _taken(plan: CutPlan) -> tuple[StockLength, ...]:
    counts = Counter(stick.length for stick in plan.sticks if stick.offcut)
    return tuple(
        StockLength(length, count, offcut=True) for length, count in sorted(counts.items())
    )


def _in_units(item: Item, plan: CutPlan) -> Fraction:
    """All new sticks, each of another length as so much of a usual one."""
    assert item.stock_length is not None
    inches = sum((length * count for length, count in _sticks(plan)), Fraction(0))
    return inches / item.stock_length


def _money(
    item: Item, pieces: Sequence[Piece], plan: CutPlan, share: Fraction
) -> tuple[Decimal, Fraction, int]:
    """What its packs cost with `share` more; then how much it is, and how many joints it has."""
    gross = _in_units(item, plan)
    if not _by_length(item, pieces):
        return Decimal(0), gross, plan.joints
    cut = StockCut(gross, sticks=_sticks(plan), longest=_longest(item, pieces))
    lengths = lengths_of(item, cut, gross * (1 + share))
    return cost_of(lengths) or Decimal(0), in_units(item, lengths), plan.joints


def _longest(item: Item, pieces: Sequence[Piece]) -> Fraction:
    """Inches of what a spare stick has to be as long as; a run is parted otherwise, if need be."""
    whole = (piece.length for piece in pieces if not piece.joints)
    return max(whole, default=min(prices_of(item)))
