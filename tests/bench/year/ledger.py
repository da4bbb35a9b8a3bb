"""The independent ledger of a year: every figure, from the facts alone.

It imports nothing of joblog. It was written from what README and the nouns say a figure is, and
from textbooks: first in, first out under a perpetual system, and standard costs with flexed
allowances (Warren and others, Accounting). Every figure stands under a key of words:
(job, "stock", item, "consumed"). Where money must be rounded the exact amount stands here, and
`MONEY` names such figures: what is shown may differ from it by less than a cent.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

Fact = tuple[Any, ...]
Key = tuple[str, ...]
SHOP = "shop"
KERF = Fraction(1, 8)
STOCK_INCHES = {"soffit panel": 144, "F channel": 144, "fascia": 144, "drip edge": 120}
MONEY = frozenset(
    "planned_cost actual_cost money.scope money.usage money.offcut money.handling"
    " money.unaccounted money.price money.total labor.scope labor.efficiency labor.rate"
    " labor.total cost".split()
)


@dataclass(slots=True)
class Layer:
    """So many that were bought together."""

    quantity: Fraction
    each: Fraction | None
    day: date | None
    number: int


@dataclass(slots=True)
class Ledger:
    """All figures, and the stores at the end."""

    figures: dict[Key, Any] = field(default_factory=dict)
    lies: dict[tuple[str, str], list[Layer]] = field(default_factory=dict)
    costs: dict[str, Fraction] = field(default_factory=dict)
    """What each job really cost: material, hours, money spent; without driving."""


def ledger_of(facts: Iterable[Fact], plans: dict[str, Fact] | None = None) -> Ledger:
    """The ledger of a year. `plans` are those that stood at the end, where they were changed."""
    told = sorted(facts, key=lambda fact: fact[2])
    stores = Stores()
    by_job: dict[str, list[Fact]] = defaultdict(list)
    for fact in told:
        by_job[fact[1]].append(fact)
        if fact[0] in ("moved", "brought") and fact[5] != SHOP:
            other = "came from" if fact[0] == "moved" else "went to"
            by_job[fact[5]].append((other, fact[5], *fact[2:5], fact[1]))
        stores.tell(fact)
    ledger = Ledger()
    for job, theirs in by_job.items():
        if any(fact[0] == "plan" for fact in theirs):
            plan = (plans or {}).get(job) or next(fact for fact in theirs if fact[0] == "plan")
            JobFigures(ledger, stores, job, theirs, plan).all()
    for (end, item), layers in stores.lies.items():
        if layers:
            ledger.lies[end, item] = together(layers)
    return ledger


# --- first in, first out ------------------------------------------------------------------------


class Stores:
    """What lies at each end, by layers, and what each job took of it.

    First in is what came there first, whenever it was bought; what goes back to the supplier is
    what came last.
    """

    def __init__(self) -> None:
        self.lies: dict[tuple[str, str], list[Layer]] = defaultdict(list)
        self.consumed: dict[tuple[str, str], list[Layer]] = defaultdict(list)
        self.pieces: dict[tuple[str, str], list[tuple[Fraction, int]]] = defaultdict(list)
        self.known: set[tuple[str, str]] = set()
        """What a count still says the truth of."""
        self.number = 0

    def tell(self, fact: Fact) -> None:
        if fact[0] == "counted":
            self.known.add((fact[1], fact[3]))
        elif fact[0] in STOCK_FACTS and fact[0] not in ("moved", "returned"):
            self.known.discard((fact[1], fact[3]))
        if fact[0] == "moved":
            self.known.discard((fact[5], fact[3]))
        if does := getattr(self, f"_{fact[0]}", None):
            does(*fact[1:])

    def _opening(self, job: str, at: datetime, item: str, quantity: Fraction) -> None:
        there = sum((layer.quantity for layer in self.lies[SHOP, item]), Fraction(0))
        self._carry(SHOP, job, item, min(there, quantity))
        if quantity > there:
            self._add(job, item, quantity - there, None, None)

    def _delivered(
        self, job: str, at: datetime, item: str, quantity: Fraction, price: Decimal | None
    ) -> None:
        each = None if price is None else Fraction(price)
        self._add(job, item, quantity, each, at.date())

    def _used(self, job: str, at: datetime, item: str, quantity: Fraction, *_: Any) -> None:
        self._consume(job, item, quantity)

    _spoiled = _used

    def _cut(
        self, job: str, at: datetime, item: str, pieces: int, inches: Fraction, place: str
    ) -> None:
        before = fewest_sticks(item, self.pieces[job, item])
        self.pieces[job, item].append((inches, pieces))
        self._consume(job, item, fewest_sticks(item, self.pieces[job, item]) - before)

    def _counted(self, job: str, at: datetime, item: str, quantity: Fraction) -> None:
        there = sum((layer.quantity for layer in self.lies[job, item]), Fraction(0))
        if quantity <= there:
            self._consume(job, item, there - quantity)
        else:
            self._give_back(job, item, quantity - there)

    def _give_back(self, job: str, item: str, quantity: Fraction) -> None:
        """Offcuts of what was put down as gone that were kept: the last of it."""
        gone = self.consumed[job, item]
        while quantity:
            layer = gone.pop()
            part = min(layer.quantity, quantity)
            if part < layer.quantity:
                gone.append(Layer(layer.quantity - part, layer.each, layer.day, layer.number))
            self.lies[job, item].insert(0, Layer(part, layer.each, layer.day, layer.number))
            quantity -= part

    def _returned(self, job: str, at: datetime, item: str, quantity: Fraction) -> None:
        self._take(job, item, quantity, newest_first=True)

    def _moved(self, job: str, at: datetime, item: str, quantity: Fraction, end: str) -> None:
        self._carry(job, end, item, quantity)

    def _brought(self, job: str, at: datetime, item: str, quantity: Fraction, end: str) -> None:
        self._carry(end, job, item, quantity)

    def _closed(self, job: str, at: datetime) -> None:
        for end, item in list(self.lies):
            if (end, item) in self.known and end == job:
                # What nobody counted stays where it was: nobody knows that it is there.
                left = sum((layer.quantity for layer in self.lies[job, item]), Fraction(0))
                self._carry(job, SHOP, item, left)

    def _consume(self, job: str, item: str, quantity: Fraction) -> None:
        assert quantity >= 0, f"{job}, {item}: more was counted than there was"
        self.consumed[job, item] += self._take(job, item, quantity)

    def _carry(self, start: str, end: str, item: str, quantity: Fraction) -> None:
        self.lies[end, item] += self._take(start, item, quantity)

    def _add(
        self, end: str, item: str, quantity: Fraction, each: Fraction | None, day: date | None
    ) -> None:
        self.number += 1
        self.lies[end, item].append(Layer(quantity, each, day, self.number))

    def _take(
        self, end: str, item: str, quantity: Fraction, *, newest_first: bool = False
    ) -> list[Layer]:
        there = self.lies[end, item][:: -1 if newest_first else 1]
        taken = []
        for layer in there:
            part = min(layer.quantity, quantity)
            if part:
                taken.append(Layer(part, layer.each, layer.day, layer.number))
                layer.quantity -= part
                quantity -= part
        assert not quantity, f"{end}, {item}: {quantity} more were taken than lay there"
        self.lies[end, item] = [layer for layer in self.lies[end, item] if layer.quantity]
        return taken


def together(layers: Sequence[Layer]) -> list[Layer]:
    """Parts of one layer that went different ways and lie together again are one."""
    joined: list[Layer] = []
    for layer in layers:
        if joined and joined[-1].number == layer.number:
            joined[-1].quantity += layer.quantity
        else:
            joined.append(Layer(layer.quantity, layer.each, layer.day, layer.number))
    return joined


# --- pieces -------------------------------------------------------------------------------------


def fewest_sticks(item: str, pieces: Iterable[tuple[Fraction, int]]) -> Fraction:
    """How many sticks hold these pieces, with a kerf between two, at the least."""
    counts: dict[Fraction, int] = defaultdict(int)
    for inches, number in pieces:
        counts[inches] += number
    lengths = tuple(sorted(counts))
    return Fraction(_fewest(lengths, tuple(counts[one] for one in lengths), STOCK_INCHES[item]))


@cache
def _fewest(lengths: tuple[Fraction, ...], counts: tuple[int, ...], stock: int) -> int:
    """Of one length, or of two; of two by the most short ones that find room beside the long."""
    if not counts:
        return 0
    room = stock + KERF
    if len(lengths) == 1:
        return -(-counts[0] // int(room // (lengths[0] + KERF)))
    short, long = (length + KERF for length in lengths)
    # fills[b]: how many short ones fit beside b long ones.
    fills = [int((room - b * long) // short) for b in range(int(room // long) + 1)]
    best = {0: 0}  # By how many long ones are cut: the most short ones beside them.
    sticks = 0
    while True:
        if best.get(counts[1], -1) >= counts[0]:
            return sticks
        following: dict[int, int] = {}
        for done, beside in best.items():
            for b, fit in enumerate(fills):
                now = min(done + b, counts[1])
                following[now] = max(following.get(now, -1), beside + fit)
        best, sticks = following, sticks + 1


# --- one job ------------------------------------------------------------------------------------


class JobFigures:
    """Every figure of one job, put into the ledger."""

    def __init__(
        self, ledger: Ledger, stores: Stores, job: str, facts: Sequence[Fact], plan: Fact
    ) -> None:
        self.ledger, self.stores, self.job, self.facts = ledger, stores, job, facts
        self.items = {line[0]: line[1:] for line in plan[3]}
        self.tasks = {line[0]: line[1:] for line in plan[4]}
        self.closed = next((fact[2].date() for fact in facts if fact[0] == "closed"), None)
        self.cost = Fraction(0)

    def all(self) -> None:
        self.conditions()
        self.hours()
        for task in sorted({*self.tasks, *(fact[3] for fact in self.of("labor"))}):
            self.task(task)
        told = {fact[3] for fact in self.facts if fact[0] in STOCK_FACTS}
        self.told_items = sorted({*self.items, *told})
        for item in self.told_items:
            self.item(item)
        self.sums()
        self.beside()
        self.ledger.costs[self.job] = self.cost

    def put(self, *key_and_value: Any) -> None:
        *key, value = key_and_value
        self.ledger.figures[(self.job, *key)] = value

    def of(self, *kinds: str, item: str | None = None) -> list[Fact]:
        return [
            fact for fact in self.facts if fact[0] in kinds and (item is None or fact[3] == item)
        ]

    def total(self, *kinds: str, item: str) -> Fraction:
        return sum((fact[4] for fact in self.of(*kinds, item=item)), Fraction(0))

    # --- material

    def item(self, item: str) -> None:
        put = lambda name, value: self.put("stock", item, name, value)  # noqa: E731
        opening = self.total("opening", item=item)
        delivered = self.total("delivered", item=item)
        moved_in = self.total("brought", "came from", item=item)
        moved_out = self.total("moved", "went to", item=item)
        returned = self.total("returned", item=item)
        spoiled = self.total("spoiled", item=item)
        came = opening + delivered + moved_in - returned - moved_out
        pieces = [(fact[5], fact[4]) for fact in self.of("cut", item=item)]
        net_cut = (
            sum((inches * number for inches, number in pieces), Fraction(0)) / STOCK_INCHES[item]
            if pieces
            else None
        )
        sticks = fewest_sticks(item, pieces) if pieces else Fraction(0)
        placed = self.total("used", item=item) + (net_cut or 0)
        offcut = sticks - (net_cut or 0)
        told = placed + spoiled + offcut
        on_hand = self.left(item)
        kept = Fraction(0)
        if on_hand is not None and came - on_hand < told:
            # Sticks are told whole, or by their pieces; what is left of one was kept.
            kept = told - (came - on_hand)
            offcut, told = offcut - kept, told - kept
        if on_hand is None and told == came:
            on_hand = Fraction(0)  # All that came is told of: nothing else can be.
        consumed = None if on_hand is None else came - on_hand
        unaccounted = None if consumed is None else consumed - told
        for name, value in (
            ("opening", opening), ("delivered", delivered), ("returned", returned),
            ("moved_in", moved_in), ("moved_out", moved_out), ("on_hand", on_hand),
            ("consumed", consumed), ("placed", placed), ("spoiled", spoiled), ("offcut", offcut),
            ("unaccounted", unaccounted), ("pieces", net_cut), ("kept", kept),
            ("at_least", told if consumed is not None else max(told, self.gone_by_count(item))),
            ("at_most", came),
        ):  # fmt: skip
            put(name, value)
        reasons: dict[str, Fraction] = defaultdict(Fraction)
        for fact in self.of("spoiled", item=item):
            reasons[fact[5]] += fact[4]
        put("reasons", tuple(sorted(reasons.items())))
        plan = self.items.get(item)
        put("planned", plan[0] if plan else None)
        allowed, allowed_offcut, by = self.allowed(item, net_cut, offcut)
        put("allowed", allowed)
        put("allowed_offcut", allowed_offcut)
        put("allowed_by", by)
        variance = self.quantity_variance(
            plan, placed, spoiled, offcut, unaccounted, consumed, allowed, allowed_offcut, pieces
        )
        for name, value in variance.items():
            put(f"variance.{name}", value)
        self.money(item, plan, variance, consumed)
        self.teaches(item, placed, consumed, allowed, allowed_offcut, by, net_cut)

    def left(self, item: str) -> Fraction | None:
        """The last count, and what went away since; None where more came or was used since."""
        left = None
        for fact in sorted(self.of(*STOCK_FACTS, item=item), key=lambda fact: fact[2]):
            if fact[0] == "counted":
                left = fact[4]
            elif left is not None and fact[0] in ("returned", "moved", "went to"):
                left -= fact[4]
            else:
                left = None
        return left

    def gone_by_count(self, item: str) -> Fraction:
        """What the last count says was gone by then, and what is told since."""
        gone, came, since = Fraction(0), Fraction(0), Fraction(0)
        for fact in sorted(self.of(*STOCK_FACTS, item=item), key=lambda fact: fact[2]):
            if fact[0] in ("opening", "delivered", "brought", "came from"):
                came += fact[4]
            elif fact[0] in ("returned", "moved", "went to"):
                came -= fact[4]
            elif fact[0] in ("used", "spoiled"):
                since += fact[4]
            elif fact[0] == "counted":
                gone, since = came - fact[4], Fraction(0)
        return gone + since

    def allowed(
        self, item: str, net_cut: Fraction | None, offcut: Fraction
    ) -> tuple[Fraction | None, Fraction, str]:
        """Standard quantity allowed for the output that was really made."""
        plan = self.items.get(item)
        if net_cut is not None:
            return net_cut, offcut, "pieces cut"
        if plan is None:
            return None, Fraction(0), ""
        quantity, _, net, planned_offcut, task = plan
        net = quantity if net is None else net
        amount = self.tasks[task][2] if task in self.tasks else None
        done = self.done(task) if amount else None
        if done is None or not self.all_amounts(task):
            return net, planned_offcut, "as planned"
        flexed = done / amount
        return net * flexed, planned_offcut * flexed, f"{done} of {amount} ft done"

    @staticmethod
    def quantity_variance(
        plan: Fact | None,
        placed: Fraction,
        spoiled: Fraction,
        offcut: Fraction,
        unaccounted: Fraction | None,
        consumed: Fraction | None,
        allowed: Fraction | None,
        allowed_offcut: Fraction,
        pieces: Sequence[Any],
    ) -> dict[str, Fraction | None]:
        if plan is None:
            quantity = net = planned_offcut = Fraction(0)
        else:
            quantity, _, net, planned_offcut, _ = plan
            net = quantity if net is None else net
        made = placed if allowed is None else allowed
        if pieces:
            scope, geometric = made - net, offcut - planned_offcut
            usage = placed - made
        else:
            # Nobody said what pieces were cut: their offcuts are in what was placed.
            scope, geometric = made + allowed_offcut - net - planned_offcut, Fraction(0)
            usage = placed - made - allowed_offcut
        return {
            "scope": scope,
            "usage": usage,
            "offcut": geometric,
            "handling": spoiled - (quantity - net - planned_offcut),
            "unaccounted": unaccounted,
            "total": None if consumed is None else consumed - quantity,
        }

    def money(
        self,
        item: str,
        plan: Fact | None,
        variance: dict[str, Fraction | None],
        consumed: Fraction | None,
    ) -> None:
        put = lambda name, value: self.put("stock", item, name, value)  # noqa: E731
        layers = self.stores.consumed[self.job, item]
        unpriced = sum((one.quantity for one in layers if one.each is None), Fraction(0))
        paid = [(fact[4], Fraction(fact[5])) for fact in self.of("delivered", item=item) if fact[5]]
        standard = Fraction(plan[1]) if plan and plan[1] is not None else None
        known = sum(
            (one.quantity * one.each for one in layers if one.each is not None), Fraction(0)
        )
        if consumed is not None:
            put("unpriced", unpriced)
        average = (
            sum(many * each for many, each in paid) / sum(many for many, _ in paid)
            if paid
            else None
        )
        actual: Fraction | None = known
        for layer in layers:
            if layer.each is None:
                # Bought here or elsewhere at a price that nobody told: as paid here, else as
                # planned. What was there before anybody told of it: as planned, else as paid.
                either = (average, standard) if layer.day else (standard, average)
                each = next((one for one in either if one is not None), None)
                actual = None if each is None or actual is None else actual + layer.quantity * each
        if consumed is None:
            actual = None
        put("actual_cost", actual)
        if actual is not None:
            self.cost += actual
        else:  # Where nobody counted what is left, it cost at least what was told, as planned.
            self.cost += self.ledger.figures[self.job, "stock", item, "at_least"] * (standard or 0)
        if plan is not None and standard is not None:
            put("planned_cost", plan[0] * standard)
        elif consumed and actual is not None:
            standard = actual / consumed  # Not planned: what was paid is all more work.
        else:
            return
        for name in ("scope", "usage", "offcut", "handling", "unaccounted"):
            part = variance[name]
            put(f"money.{name}", None if part is None else part * standard)
        price = None if actual is None or consumed is None else actual - consumed * standard
        put("money.price", price)
        planned = plan[0] if plan is not None else Fraction(0)
        put("money.total", None if actual is None else actual - planned * standard)

    def teaches(
        self,
        item: str,
        placed: Fraction,
        consumed: Fraction | None,
        allowed: Fraction | None,
        allowed_offcut: Fraction,
        by: str,
        net_cut: Fraction | None,
    ) -> None:
        if self.closed is None:
            return
        if consumed is None or allowed is None or not placed:
            self.put("teaches", item, "teaches", False)
            return
        if by == "as planned" and consumed < Fraction(9, 10) * (allowed + allowed_offcut):
            # So much less cannot be the work that was planned.
            allowed, allowed_offcut, by = placed, Fraction(0), "as installed"
        plan = self.items.get(item)
        parted = net_cut is not None or (plan is not None and plan[2] is not None)
        self.put("teaches", item, "teaches", True)
        self.put("teaches", item, "net", allowed)
        self.put("teaches", item, "consumed", consumed)
        if parted:
            self.put("teaches", item, "geometric", allowed_offcut)
        self.put("teaches", item, "allowed_by", by)

    # --- hours

    def done(self, task: str) -> Fraction | None:
        """How much was told to be done; what was said of all hours stands for all of them."""
        in_all = self.of("done", item=task)
        if in_all:
            return Fraction(in_all[-1][4])
        amounts = [fact[4] for fact in self.of("labor", item=task) if fact[4] is not None]
        return sum(amounts, Fraction(0)) if amounts else None

    def all_amounts(self, task: str) -> bool:
        lacking = any(fact[4] is None for fact in self.of("labor", item=task))
        return not lacking or bool(self.of("done", item=task))

    def task(self, task: str) -> None:
        put = lambda name, value: self.put("task", task, name, value)  # noqa: E731
        planned, pay, amount = self.tasks.get(task, (None, None, None))
        told = self.of("labor", item=task)
        actual = sum((fact[5] * fact[6] for fact in told), Fraction(0))
        whole = self.all_amounts(task)
        with_amount = told if self.of("done", item=task) else [f for f in told if f[4] is not None]
        done, done_hours = self.done(task), sum((f[5] * f[6] for f in with_amount), Fraction(0))
        cost = sum((labor_cost(fact, Fraction(pay or 0)) for fact in told), Fraction(0))
        self.cost += cost
        put("planned", planned)
        put("actual", actual)
        put("done", done)
        put("done_hours", done_hours)
        put("planned_quantity", amount)
        put("planned_rate", amount / planned if planned else None)
        put("actual_rate", None if done is None or not done_hours else done / done_hours)
        put("without_amount", 0 if whole else sum(fact[4] is None for fact in told))
        put("planned_cost", planned * Fraction(pay))
        put("actual_cost", cost)
        if told:
            allows = planned * done / amount if whole and done is not None else None
            rate = Fraction(pay)
            put("labor.hours", actual - planned)
            put("labor.scope_hours", None if allows is None else allows - planned)
            put("labor.efficiency_hours", None if allows is None else actual - allows)
            put("labor.scope", None if allows is None else (allows - planned) * rate)
            put("labor.efficiency", None if allows is None else (actual - allows) * rate)
            put("labor.rate", cost - actual * rate)
            put("labor.total", cost - planned * rate)
        if self.closed is not None:
            self.put("teaches", task, "quantity", done)
            self.put("teaches", task, "crew_hours", done_hours if done is not None else None)

    def hours(self) -> None:
        """Attendance, day by day; what of it was told to no task."""
        untold = Fraction(0)
        by_day: dict[date, list[Fact]] = defaultdict(list)
        for fact in self.of("start", "stop", "break", "labor"):
            by_day[fact[2].date()].append(fact)
        for day, facts in sorted(by_day.items()):
            [start] = [fact for fact in facts if fact[0] == "start"]
            [stop] = [fact for fact in facts if fact[0] == "stop"]
            rest = sum((Fraction(fact[3]) for fact in facts if fact[0] == "break"), Fraction(0))
            minutes = Fraction(int((stop[2] - start[2]).total_seconds()), 60) - rest
            there = minutes / 60 * start[3]
            on_tasks = sum((fact[5] * fact[6] for fact in facts if fact[0] == "labor"), Fraction(0))
            untold += there - on_tasks
            for name, value in (
                ("started", start[2].time()), ("stopped", stop[2].time()),
                ("break_minutes", rest), ("crew_hours", there), ("on_tasks", on_tasks),
            ):  # fmt: skip
                self.put("day", day.isoformat(), name, value)
        self.put("sum", "untold_hours", untold)

    def conditions(self) -> None:
        for kind, name in (("weather", "fahrenheit"), ("depth", "depth")):
            told = [Fraction(fact[3]) for fact in self.of(kind)]
            self.put("conditions", name, sum(told, Fraction(0)) / len(told) if told else None)

    # --- all of it

    def sums(self) -> None:
        figures = self.ledger.figures
        for key in ("scope", "usage", "offcut", "handling", "unaccounted", "price", "total"):
            whole = [
                item
                for item in self.told_items
                if figures.get((self.job, "stock", item, "money.total")) is not None
            ]
            amounts = [figures[self.job, "stock", item, f"money.{key}"] for item in whole]
            self.put("sum", "material", key, sum(amounts, Fraction(0)))
        for key in ("hours", "scope_hours", "efficiency_hours", "scope", "efficiency", "rate",
                    "total"):  # fmt: skip
            found = [figures.get((self.job, "task", task, f"labor.{key}")) for task in self.tasks]
            self.put("sum", "labor", key, None if None in found else sum(found, Fraction(0)))
        for place_or_day in ("place", "day"):
            self.parts(place_or_day)

    def parts(self, by: str) -> None:
        where: Callable[[Fact], str]
        if by == "place":
            where = lambda fact: (fact[-1] or "") if fact[0] in ("used", "spoiled") else ""  # noqa: E731
        else:
            where = lambda fact: fact[2].date().isoformat()  # noqa: E731
        sums: dict[Key, Fraction] = defaultdict(Fraction)
        for fact in self.of("delivered", "returned", "used", "spoiled"):
            sums["parts", by, where(fact), fact[3], fact[0]] += fact[4]
        for fact in self.of("labor"):
            sums["parts", by, where(fact), fact[3], "hours"] += fact[5] * fact[6]
        for key, value in sums.items():
            self.put(*key, value)

    def beside(self) -> None:
        spent = sum((Fraction(fact[3]) for fact in self.of("expense")), Fraction(0))
        self.cost += spent
        self.put("beside", "spent", spent)
        self.put(
            "beside", "to_charge", sum((Fraction(f[3]) for f in self.of("extra")), Fraction(0))
        )
        self.put("beside", "miles", sum((Fraction(f[3]) for f in self.of("drive")), Fraction(0)))
        self.put("beside", "lines", len(self.of("expense", "extra", "drive")))


STOCK_FACTS = (
    "opening", "delivered", "brought", "came from", "used", "cut", "spoiled", "counted",
    "returned", "moved", "went to",
)  # fmt: skip


def labor_cost(fact: Fact, pay: Fraction) -> Fraction:
    """The helper's pay is his alone."""
    _, _, _, _, _, hours, people, helper_pay = fact
    if helper_pay is None:
        return Fraction(hours * people * pay)
    return Fraction(hours * (pay + (people - 1) * Fraction(helper_pay)))
