"""The stock of all jobs through their lives: what was bought and carried where, and what is left.

A costed perpetual record by first in, first out; the rule is in `layers.py`. Every delivery is a
layer with its price and day. What is used, spoiled or unexplained on a job takes its oldest, and so
does what is carried to another job or into stock, with its cost; what goes back to the supplier is
the newest of that job. What is left when a job is closed lies in stock, and is what the next one
begins with. Nothing is lost and nothing is priced twice: what came in anywhere is what was
consumed, went back, or lies somewhere, exactly, in quantity and in money.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from fractions import Fraction
from typing import Literal

from joblog.model import STOCK, Layer, Lying, Moved
from joblog.stock.account import Account, Outflow, bought, carried
from joblog.stock.layers import quantity_of
from joblog.stock.standing import Accounts

What = Literal["opening", "delivered", "returned", "consumed", "moved", "counted", "ended"]


@dataclass(frozen=True, slots=True)
class Movement:
    """One thing that happened to an item on a job, in the item's own unit."""

    job: str
    item: str
    unit: str
    what: What
    quantity: Fraction
    """Of "counted" and "ended", what is left then; when a job has ended, it lies in stock."""
    at: datetime
    each: Fraction | None = None
    """Dollars for one, of what was delivered."""
    day: date | None = None
    """The day it happened, where the job is."""
    other: str = ""
    """Of "moved", where it came from or went to; a job, or `STOCK`."""
    into: bool = False
    """Of "moved", whether it came to `job`."""
    entry: int | None = None


@dataclass(frozen=True, slots=True)
class Ledger:
    """Where everything went, and what it cost."""

    moved: tuple[Moved, ...] = ()
    """Every transfer once, and what jobs began with, in order of time."""
    consumed: tuple[tuple[str, str, tuple[Layer, ...]], ...] = ()
    """(job, item, what is gone of it there)."""
    returned: tuple[tuple[str, str, tuple[Layer, ...]], ...] = ()
    lying: tuple[Lying, ...] = ()
    found: tuple[Moved, ...] = ()
    """What was taken from somewhere that had no such thing, as far as anybody told: no price."""
    twice: tuple[tuple[Movement, Movement], ...] = ()
    """Transfers told from both ends with different numbers, on one day: one of them, or two?"""


def through_jobs(movements: Iterable[Movement], *, gone: bool = True) -> Ledger:
    """The ledger of all that happened; movements may come in any order. What is gone, consumed or
    back at the supplier, is only told where that is asked: it takes as long as all the rest.

    A transfer that both ends told, of as many on the same day or the next, is one. Of one moment
    what comes is put down before what goes. What stock is asked for and nobody ever put there was
    there before anybody told of it: it has no price.
    """
    known = [*movements]
    transfers, twice = each_once([one for one in known if one.what == "moved"])
    books = _Books()
    for _, _, event in _in_order([one for one in known if one.what != "moved"], transfers):
        books.note(event)
    return books.closed(twice, gone)


def moved_from_then_on(
    stood: Accounts,
    movements: Iterable[Movement],
    transfers: Iterable[Moved],
    stops: Iterable[datetime],
    stop_at: Callable[[datetime, Accounts], None],
) -> tuple[Moved, ...]:
    """The transfers, and what jobs began with, each with what it cost, where all accounts stood so
    before the first of these events. `movements` are all but the transfers, which come each once.

    `stop_at` is given the accounts as they stand before each of the `stops`, to be looked at alone.
    """
    books = _Books({**stood})
    waiting = sorted(set(stops), reverse=True)
    for at, _, event in _in_order(movements, transfers):
        while waiting and waiting[-1] <= at:
            stop_at(waiting.pop(), books.accounts)
        books.note(event)
    return books.all_moved()


def _in_order(
    movements: Iterable[Movement], transfers: Iterable[Moved]
) -> list[tuple[datetime, int, Movement | Moved]]:
    events: list[tuple[datetime, int, Movement | Moved]] = [
        (one.at, _ORDER[one.what], one) for one in movements
    ]
    events += [(one.at, _ORDER["moved"], one) for one in transfers]
    events.sort(key=lambda event: event[:2])
    return events


_ORDER: dict[What, int] = {
    "opening": 0, "delivered": 1, "moved": 2, "consumed": 3, "returned": 4, "counted": 5,
    "ended": 6,
}  # fmt: skip


def each_once(
    told: Sequence[Movement],
) -> tuple[list[Moved], tuple[tuple[Movement, Movement], ...]]:
    """The transfers, each once and without what it cost, and pairs of which nobody knows whether
    they are one: both ends told of one on the same day or the next, with different numbers."""
    between: dict[tuple[str, str, str], tuple[list[Movement], list[Movement]]] = {}
    for one in sorted(told, key=lambda one: (one.at, one.entry or 0)):
        ends = (one.other, one.job) if one.into else (one.job, one.other)
        between.setdefault((one.item, *ends), ([], []))[one.into].append(one)
    found: list[Moved] = []
    twice: list[tuple[Movement, Movement]] = []
    for (item, giver, taker), (given, taken) in between.items():
        left = [*taken]
        alone: list[Movement] = []
        for one in given:
            same = next((other for other in left if _is_same(one, other)), None)
            if same is None:
                alone.append(one)
            else:
                left.remove(same)
                found.append(_transfer(item, giver, taker, one, same))
        unpaired, unlike = [*left], dict[int, Fraction]()
        for one in alone:
            other = next((other for other in unpaired if _near(one, other)), None)
            if other is not None:
                unpaired.remove(other)
                twice.append((one, other))
                unlike |= {id(one): other.quantity, id(other): one.quantity}
        for one in (*alone, *left):
            moved = _transfer(item, giver, taker, one)
            found.append(replace(moved, unlike=unlike.get(id(one))))
    return found, tuple(twice)


def _is_same(one: Movement, other: Movement) -> bool:
    return one.quantity == other.quantity and _near(one, other)


def _near(one: Movement, other: Movement) -> bool:
    return abs(_day(one) - _day(other)) <= timedelta(days=1)


def _day(one: Movement) -> date:
    return one.day or one.at.date()


def _transfer(item: str, giver: str, taker: str, *told: Movement) -> Moved:
    first = min(told, key=lambda one: one.at)
    ids = tuple((one.job, one.entry) for one in told if one.entry is not None)
    return Moved(item, first.unit, first.quantity, giver, taker, first.at, ids)


@dataclass(slots=True)
class _Books:
    """All accounts while they are written."""

    accounts: dict[tuple[str, str], Account] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)
    moved: list[tuple[Moved, Outflow]] = field(default_factory=list)
    returned: list[tuple[str, str, Outflow]] = field(default_factory=list)
    found: list[Moved] = field(default_factory=list)
    counted: set[tuple[str, str]] = field(default_factory=set)

    def note(self, event: Movement | Moved) -> None:
        self.units.setdefault(event.item, event.unit)
        if isinstance(event, Moved):
            self._carry(event)
            return
        account = self._account(event.job, event.item)
        if event.what == "opening":
            ends = (STOCK, event.job)
            self._carry(
                Moved(event.item, event.unit, event.quantity, *ends, event.at, opening=True)
            )
        elif event.what == "delivered":
            account.put([bought(Layer(event.quantity, event.each, _day(event)))])
        elif event.what == "consumed":
            account.consume(event.quantity)
        elif event.what == "returned":
            outflow = account.take(event.quantity, newest=True)
            self.returned.append((event.job, event.item, outflow))
        elif event.what == "counted":
            account.leave(event.quantity)
            self.counted.add((event.job, event.item))
        else:
            account.leave(event.quantity)
            left = account.everything()
            self._account(STOCK, event.item).put(carried(left))

    def _carry(self, one: Moved) -> None:
        giver = self._account(one.from_job, one.item)
        if one.from_job == STOCK:
            missing = one.quantity - sum((part.quantity for part in giver.lying), Fraction(0))
            if missing > 0:
                layer = Layer(missing, None)
                giver.put([bought(layer)])
                self.found.append(replace(one, quantity=missing, layers=(layer,)))
        outflow = giver.take(one.quantity)
        self.moved.append((one, outflow))
        self._account(one.to_job, one.item).put(carried(outflow))

    def _account(self, end: str, item: str) -> Account:
        return self.accounts.setdefault((end, item), Account())

    def all_moved(self) -> tuple[Moved, ...]:
        return tuple(replace(one, layers=outflow.layers()) for one, outflow in self.moved)

    def closed(self, twice: tuple[tuple[Movement, Movement], ...], gone: bool) -> Ledger:
        consumed, lying = [], []
        for (end, item), account in self.accounts.items():
            if gone and (layers := account.consumed_layers()):
                consumed.append((end, item, layers))
            if layers := account.lying_layers():
                counted = end == STOCK or (end, item) in self.counted
                unit, many = self.units[item], quantity_of(layers)
                lying.append(Lying(end, item, unit, many, layers, counted))
        return Ledger(
            moved=self.all_moved(),
            consumed=tuple(consumed),
            returned=tuple(
                (job, item, outflow.layers()) for job, item, outflow in self.returned if gone
            ),
            lying=tuple(sorted(lying, key=lambda one: (one.where != STOCK, one.where, one.item))),
            found=tuple(self.found),
            twice=twice,
        )
