"""The balance of one item: what came, went back, went up, broke, was cut off, and is left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence, Set
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.model import BookEntry, Item, PlannedItem, StockLine, TaskLine
from joblog.quantity import money
from joblog.reconcile.allowed import allowed_of
from joblog.reconcile.costing import Brought, consumed_cost
from joblog.reconcile.counts import IN_ONE_GO, Count, counted_with, shortest_bought, whole
from joblog.reconcile.pieces import NOTHING, CutPieces, cut_pieces
from joblog.reconcile.units import in_unit_of
from joblog.reconcile.variances import money_variance, quantity_variance

NONE = Fraction(0)
NOT_BROUGHT = Brought()


@dataclass(slots=True)
class Ledger:
    """What was told of one item, added up in its own unit."""

    delivered: Fraction = NONE
    returned: Fraction = NONE
    used: Fraction = NONE
    spoiled: Fraction = NONE
    moved_in: Fraction = NONE
    moved_out: Fraction = NONE
    flows: list[tuple[BookEntry, Fraction]] = field(default_factory=list)
    """What came and went, in order of time, with how many: what is gone cost what these did."""
    count: Count | None = None
    """The last one."""
    returned_since: Fraction = NONE
    """What went back after the last count, out of what that found."""
    moved_since: bool = False
    """Something came or was used after the last count, so that nobody knows what is left now."""
    gone_before_count: Fraction = NONE
    """Consumed up to the last count, if it is right."""
    entries: list[int] = field(default_factory=list)
    left_out: list[int] = field(default_factory=list)
    reasons: dict[str, Fraction] = field(default_factory=dict)
    reason_entries: dict[str, list[int]] = field(default_factory=dict)
    paid: list[tuple[Fraction, Fraction]] = field(default_factory=list)
    """Quantities with the price of one."""
    pieces: CutPieces = NOTHING
    last_cut: BookEntry | None = None
    all_pieces: bool = False
    """Whether the pieces may be all that the work was made of."""
    cut_unused: Fraction = NONE
    """Stock for pieces cut at places where nobody said what was used."""

    @property
    def counted_left(self) -> Fraction | None:
        """What the last count found, less what went back since."""
        return None if self.count is None else self.count.quantity - self.returned_since

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

    A count holds for the moment it was made. What went back later was out of what it found; where
    something came or was used later, it is not what is left at the end. Later is what was told more
    than half an hour after it; what is typed belongs to its day, and was in a spoken count of that
    day, but keeps its order with what is typed. What went back sooner was later all the same where
    the count cannot be right otherwise: "three left, took two back to the shop".
    """
    ledger = Ledger()
    cut: list[BookEntry] = []
    waiting = False
    used_at: set[str | None] = set()
    after: list[tuple[BookEntry, Fraction]] = []
    mine = sorted(entries, key=lambda one: (one.at, one.id))
    shortest = shortest_bought(item, mine)
    for kept in mine:
        said = kept.entry
        if said.kind == "measure":
            if kept.open:
                ledger.left_out.append(kept.id)
                waiting = True
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
            ledger.count = counted_with(ledger.count, item, kept, shortest)
            after.clear()
            continue
        after.append((kept, quantity))
        _add(ledger, kept, quantity)
        if said.kind == "used":
            used_at.add(said.place)
    _put_pieces(ledger, item, cut, used_at, waiting)
    _note_what_came_after(ledger, opening, after, zone)
    return ledger


def _put_pieces(
    ledger: Ledger, item: Item, cut: Sequence[BookEntry], used_at: Set[str | None], waiting: bool
) -> None:
    """Pieces of no place, and all where use was told of no place, are in what was told used.

    `waiting` says whether pieces of some entries are in doubt.
    """
    ledger.pieces = cut_pieces(item, cut)
    ledger.entries += ledger.pieces.entries
    cut_at = {kept.entry.place for kept in cut}
    if None not in used_at:
        apart = [kept for kept in cut if kept.entry.place not in (None, *used_at)]
        ledger.cut_unused = cut_pieces(item, apart).gross
    covered = None in cut_at or None in used_at or used_at <= cut_at
    told = bool(ledger.pieces.entries) and not ledger.pieces.too_long
    ledger.all_pieces = told and covered and not waiting
    ledger.last_cut = cut[-1] if cut else None


def stock_line(
    item: Item,
    line: PlannedItem | None,
    ledger: Ledger,
    task: TaskLine | None = None,
    brought: Brought = NOT_BROUGHT,
) -> StockLine:
    """The balance, and how it differs from the plan; `task` is the one that the plan names of it.

    What was told used holds its offcuts: placed = used - offcut. Sticks are told used whole; where
    a count then finds a part of one, that is an offcut kept of them, and is in no waste. Where
    everything that came was told used or spoiled, nothing can be left, counted or not.
    """
    opening = line.opening if line else NONE
    came = opening + ledger.delivered + ledger.moved_in
    at_most = came - ledger.returned - ledger.moved_out
    accounted = ledger.used_up + ledger.spoiled
    on_hand = None if ledger.moved_since or _back_too_many(ledger) else ledger.counted_left
    at_least = max(accounted, ledger.gone_before_count) if ledger.moved_since else accounted
    if on_hand is None and 0 < at_least == at_most:
        on_hand = NONE
    consumed = None if on_hand is None else at_most - on_hand
    kept = _kept(item, ledger, consumed, accounted)
    forced = ledger.pieces.gross - ledger.pieces.net
    offcut = max(NONE, forced - kept)
    placed = ledger.used_up - kept - offcut
    unaccounted = None if consumed is None else consumed - (accounted - kept)
    planned_price = Fraction(line.unit_cost) if line and line.unit_cost is not None else None
    price = ledger.price if ledger.price is not None else planned_price
    unpriced = NONE
    if consumed is not None and on_hand is not None and consumed > 0:
        paid = ledger.price
        flows = [*ledger.flows, *_gone_untold(ledger, kept, unaccounted)]
        cost = consumed_cost(opening, flows, on_hand, brought, planned_price, paid)
        unpriced = cost.unpriced
        if cost.dollars is not None and cost.quantity:
            price = cost.dollars / cost.quantity
    planned_cost = None if line is None else _cost(line.quantity, planned_price)
    actual_cost = _cost(consumed, price if consumed else NONE)
    pieces = ledger.pieces.net if ledger.pieces.entries else None
    enough = 2 * ledger.pieces.gross >= ledger.used_up
    allowed = allowed_of(line, pieces if ledger.all_pieces and enough else None, offcut, task)
    variance = quantity_variance(line, allowed, placed, offcut, ledger.spoiled, unaccounted)
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
        at_least=at_least - kept,
        at_most=at_most,
        planned_cost=planned_cost,
        actual_cost=actual_cost,
        reasons=tuple(ledger.reasons.items()),
        entries=tuple(ledger.entries),
        left_out=tuple(ledger.left_out),
        pieces=pieces,
        variance=variance,
        money=money_variance(variance, consumed, line is not None, planned_price, price),
        allowed=allowed.net if allowed else None,
        allowed_offcut=allowed.offcut if allowed else NONE,
        allowed_by=allowed.by if allowed else "",
        last_count=ledger.count.quantity if ledger.count else None,
        kept=kept,
        moved_in=ledger.moved_in,
        moved_out=ledger.moved_out,
        unpriced=unpriced,
    )


def _gone_untold(
    ledger: Ledger, kept: Fraction, unaccounted: Fraction | None
) -> Iterator[tuple[BookEntry, Fraction]]:
    """What pieces took beyond what was told used went with the last of them, less the offcuts kept;
    what a count could not find was gone by then."""
    by_pieces = ledger.used_up - ledger.used - kept
    if ledger.last_cut is not None and by_pieces > 0:
        yield ledger.last_cut, by_pieces
    if ledger.count is not None and unaccounted is not None and unaccounted > 0:
        yield ledger.count.last, unaccounted


def _back_too_many(ledger: Ledger) -> bool:
    """Whether more went back after the last count than that found."""
    return ledger.counted_left is not None and ledger.returned_since > 0 > ledger.counted_left


def _kept(item: Item, ledger: Ledger, consumed: Fraction | None, accounted: Fraction) -> Fraction:
    """Offcuts of what was told used that were counted as left, where only they explain the count.

    At most the parts of sticks that it found, and what the pieces left of their sticks. Where an
    offcut was there from before, "3 1/6" may be that one with the new one and two whole sticks.
    """
    one = whole(item)
    if consumed is None or ledger.count is None or one is None or consumed >= accounted:
        return NONE
    over = accounted - consumed
    told_whole = ledger.used_up % one == 0
    parts = ledger.count.parts
    if before := (consumed + (ledger.counted_left or NONE)) % one:
        parts = max(parts, (parts - before) % one)
    can_be = min(parts, ledger.used_up - ledger.pieces.net)
    return over if told_whole and over <= can_be else NONE


def _add(ledger: Ledger, kept: BookEntry, quantity: Fraction) -> None:
    said = kept.entry
    ledger.flows.append((kept, quantity))
    if said.from_job is not None:
        ledger.moved_in += quantity
    elif said.to_job is not None:
        ledger.moved_out += quantity
    elif said.kind == "delivered":
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
    ledger: Ledger,
    opening: Fraction,
    after: Sequence[tuple[BookEntry, Fraction]],
    zone: ZoneInfo,
) -> None:
    """Whether the last count can be rolled forward to the end, by what went back since; if not,
    what is gone at least: what it says was gone by then, and what was told used and spoiled since.
    """
    if ledger.count is None:
        return
    late = dict.fromkeys(("delivered", "returned", "used", "spoiled"), NONE)
    told, back_soon = False, NONE
    for kept, quantity in after:
        if kept.entry.kind in late and _is_late(kept, ledger.count, zone):
            late[kept.entry.kind] += quantity
            told |= kept.entry.kind != "returned"
        elif kept.entry.kind == "returned":
            back_soon += quantity
    came = opening + ledger.delivered + ledger.moved_in - ledger.returned - ledger.moved_out
    gone = came - late["delivered"] + late["returned"] - ledger.count.quantity
    told_gone = ledger.used_up + ledger.spoiled - late["used"] - late["spoiled"]
    # An offcut that the count found may be of what was told.
    if 0 < told_gone - gone - ledger.count.parts <= back_soon:
        late["returned"] += back_soon
        gone += back_soon
    ledger.returned_since, ledger.moved_since = late["returned"], told
    ledger.gone_before_count = gone + late["used"] + late["spoiled"]


def _is_late(kept: BookEntry, count: Count, zone: ZoneInfo) -> bool:
    counted = count.last
    typed, spoken = kept.utterance is None, counted.utterance is not None
    if typed and spoken and _day(kept, zone) == _day(counted, zone):
        return False
    return kept.at - counted.at > IN_ONE_GO


def _day(kept: BookEntry, zone: ZoneInfo) -> date:
    return kept.at.astimezone(zone).date()


def _cost(quantity: Fraction | None, price: Fraction | None) -> Decimal | None:
    return None if quantity is None or price is None else money(quantity * price)
