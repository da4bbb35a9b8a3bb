"""The balance of one item: what came, went back, went up, broke, was cut off, and is left."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.model import BookEntry, Item, PlannedItem, StockLine
from joblog.quantity import money
from joblog.reconcile.counts import IN_ONE_GO
from joblog.reconcile.pieces import NOTHING, CutPieces, cut_pieces
from joblog.reconcile.units import in_unit_of
from joblog.reconcile.variances import money_variance, quantity_variance

NONE = Fraction(0)


@dataclass(slots=True)
class Ledger:
    """What was told of one item, added up in its own unit."""

    delivered: Fraction = NONE
    returned: Fraction = NONE
    used: Fraction = NONE
    spoiled: Fraction = NONE
    counted_left: Fraction | None = None
    """What the last count found."""
    counted_at: datetime | None = None
    moved_since: bool = False
    """Something came or went after the last count, so that it is not what is left now."""
    gone_before_count: Fraction = NONE
    """Consumed up to the last count, if it is right."""
    entries: list[int] = field(default_factory=list)
    left_out: list[int] = field(default_factory=list)
    reasons: dict[str, Fraction] = field(default_factory=dict)
    reason_entries: dict[str, list[int]] = field(default_factory=dict)
    paid: list[tuple[Fraction, Fraction]] = field(default_factory=list)
    """Quantities with the price of one."""
    pieces: CutPieces = NOTHING
    cut_unused: Fraction = NONE
    """Stock for pieces cut at places where nobody said what was used."""

    @property
    def used_up(self) -> Fraction:
        """What went into the work with its offcuts: as told, or what the pieces need at least."""
        return max(self.used + self.cut_unused, self.pieces.gross)

    @property
    def price(self) -> Fraction | None:
        """What one cost on average, of what was delivered with a price."""
        quantity = sum((amount for amount, _ in self.paid), NONE)
        total = sum((amount * each for amount, each in self.paid), NONE)
        return total / quantity if quantity else None


def ledger_of(
    item: Item, opening: Fraction, entries: Iterable[BookEntry], zone: ZoneInfo
) -> Ledger:
    """Adds up what was told of an item, and the pieces that were cut from it: of measures, only
    those of a number of pieces are given here.

    A count holds for the moment it was made. It is what is left at the end unless something came
    or went later, told more than half an hour after it; what is typed belongs to its day, and
    comes before the counts of that day.
    """
    ledger = Ledger()
    cut: list[BookEntry] = []
    used_at: set[str | None] = set()
    after: list[tuple[BookEntry, Fraction]] = []
    for kept in sorted(entries, key=lambda one: (one.at, one.id)):
        said = kept.entry
        if said.kind == "measure":
            if kept.open:
                ledger.left_out.append(kept.id)
            else:
                cut.append(kept)
            continue
        if said.kind == "needed":
            continue
        quantity = in_unit_of(item, said.quantity, said.unit)
        if kept.open or quantity is None or quantity < 0:
            ledger.left_out.append(kept.id)
            continue
        ledger.entries.append(kept.id)
        if said.kind == "on_hand":
            ledger.counted_left, ledger.counted_at = quantity, kept.at
            came = opening + ledger.delivered - ledger.returned
            ledger.gone_before_count = came - quantity
            after.clear()
            continue
        after.append((kept, quantity))
        _add(ledger, kept, quantity)
        if said.kind == "used":
            used_at.add(said.place)
    _note_what_came_after(ledger, after, zone)
    ledger.pieces = cut_pieces(item, cut)
    ledger.entries += ledger.pieces.entries
    if None not in used_at:
        apart = [kept for kept in cut if kept.entry.place not in used_at]
        ledger.cut_unused = cut_pieces(item, apart).gross
    return ledger


def stock_line(item: Item, line: PlannedItem | None, ledger: Ledger) -> StockLine:
    """The balance, and how it differs from the plan.

    What was told used holds its offcuts: placed = used - offcut. Where everything that came was
    told used or spoiled, nothing can be left, counted or not.
    """
    opening = line.opening if line else NONE
    offcut = ledger.pieces.gross - ledger.pieces.net
    placed = ledger.used_up - offcut
    at_most = opening + ledger.delivered - ledger.returned
    at_least = ledger.used_up + ledger.spoiled
    on_hand = None if ledger.moved_since else ledger.counted_left
    if ledger.moved_since:
        at_least = max(at_least, ledger.gone_before_count)
    elif on_hand is None and 0 < at_least == at_most:
        on_hand = NONE
    consumed = None if on_hand is None else at_most - on_hand
    accounted = ledger.used_up + ledger.spoiled
    unaccounted = None if consumed is None else consumed - accounted
    planned_price = Fraction(line.unit_cost) if line and line.unit_cost is not None else None
    price = ledger.price if ledger.price is not None else planned_price
    planned_cost = None if line is None else _cost(line.quantity, planned_price)
    actual_cost = _cost(consumed, price)
    cut = bool(ledger.pieces.entries)
    variance = quantity_variance(line, placed, offcut, ledger.spoiled, unaccounted, cut)
    return StockLine(
        item=item.name,
        unit=item.unit,
        planned=line.quantity if line else None,
        opening=opening,
        delivered=ledger.delivered,
        returned=ledger.returned,
        on_hand=on_hand,
        consumed=consumed,
        placed=placed,
        spoiled=ledger.spoiled,
        offcut=offcut,
        unaccounted=unaccounted,
        at_least=at_least,
        at_most=at_most,
        planned_cost=planned_cost,
        actual_cost=actual_cost,
        reasons=tuple(ledger.reasons.items()),
        entries=tuple(ledger.entries),
        left_out=tuple(ledger.left_out),
        pieces=ledger.pieces.net if cut else None,
        variance=variance,
        money=money_variance(variance, consumed, line is not None, planned_price, price),
    )


def _add(ledger: Ledger, kept: BookEntry, quantity: Fraction) -> None:
    said = kept.entry
    if said.kind == "delivered":
        ledger.delivered += quantity
        if said.unit_cost is not None and quantity and said.quantity:
            # The price is that of the unit it was told in.
            each = Fraction(said.unit_cost) * said.quantity / quantity
            ledger.paid.append((quantity, each))
    elif said.kind == "returned":
        ledger.returned += quantity
    elif said.kind == "used":
        ledger.used += quantity
    elif said.kind == "spoiled":
        ledger.spoiled += quantity
        reason = said.reason or NO_REASON
        ledger.reasons[reason] = ledger.reasons.get(reason, NONE) + quantity
        ledger.reason_entries.setdefault(reason, []).append(kept.id)


NO_REASON = "no reason said"


def _note_what_came_after(
    ledger: Ledger, after: Sequence[tuple[BookEntry, Fraction]], zone: ZoneInfo
) -> None:
    """Whether the last count is still what is left; if not, what is gone at least since the begin.

    At least what the count says was gone by then, and what was told used and spoiled since.
    """
    if ledger.counted_at is None:
        return
    late = [(kept, quantity) for kept, quantity in after if _is_late(kept, ledger.counted_at, zone)]
    ledger.moved_since = bool(late)
    for kept, quantity in after:
        in_the_count = not _is_late(kept, ledger.counted_at, zone)
        # What the count knew of already came or went before it.
        if in_the_count and kept.entry.kind == "delivered":
            ledger.gone_before_count += quantity
        elif in_the_count and kept.entry.kind == "returned":
            ledger.gone_before_count -= quantity
        elif not in_the_count and kept.entry.kind in ("used", "spoiled"):
            ledger.gone_before_count += quantity


def _is_late(kept: BookEntry, counted: datetime, zone: ZoneInfo) -> bool:
    if (
        kept.utterance is None
        and kept.at.astimezone(zone).date() == counted.astimezone(zone).date()
    ):
        return False
    return kept.at - counted > IN_ONE_GO


def _cost(quantity: Fraction | None, price: Fraction | None) -> Decimal | None:
    return None if quantity is None or price is None else money(quantity * price)
