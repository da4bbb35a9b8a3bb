"""Over any life of several jobs nothing is lost and nothing priced twice, to the cent.

The ledger is held against one that is told as naively as can be: every single panel is a thing
with its price, lying in a row at its end, and is carried by hand.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.model import STOCK, Layer
from joblog.stock import Ledger, Movement, cost_of, through_jobs
from tests.stock.told_in_days import on

JOBS = ("first", "second", "third")
Panel = int | None
"""What one panel cost, in cents; None where nobody knows."""
Step = tuple[str, str, str, int, int]
"""What happens, on which job, with which other end, how many, and at how many cents."""

STEPS = st.lists(
    st.tuples(
        st.sampled_from(
            ("delivered", "delivered", "consumed", "returned", "given", "taken", "both", "ended")
        ),
        st.sampled_from(JOBS),
        st.sampled_from((*JOBS, STOCK)),
        st.integers(1, 9),
        st.integers(1, 9999),
    ),
    max_size=25,
)


class Naive:
    """Panels one by one."""

    def __init__(self) -> None:
        self.ends: dict[str, list[Panel]] = {end: [] for end in (*JOBS, STOCK)}
        self.consumed: Counter[tuple[str, Panel]] = Counter()
        self.returned: Counter[tuple[str, Panel]] = Counter()
        self.over: set[str] = set()
        self.told: list[Movement] = []

    def step(self, day: int, step: Step) -> None:
        """Does what can be done of it, and tells of it."""
        what, job, other, many, cents = step
        row = self.ends[job]
        if job in self.over:
            return
        if what == "delivered":
            row += [cents] * many
            self.told.append(on(day, job, what, many, f"{cents / 100:.2f}"))
        elif what in ("consumed", "returned") and len(row) >= many:
            for _ in range(many):
                gone = row.pop(0) if what == "consumed" else row.pop()
                (self.consumed if what == "consumed" else self.returned)[job, gone] += 1
            self.told.append(on(day, job, what, many))
        elif what == "ended":
            left = min(many, len(row))
            for _ in range(len(row) - left):
                self.consumed[job, row.pop(0)] += 1
            self.ends[STOCK] += row
            self.ends[job] = []
            self.over.add(job)
            self.told.append(on(day, job, what, left))
        elif what in ("given", "taken", "both"):
            self._carry(day, what, (job, other) if what != "taken" else (other, job), many)

    def _carry(self, day: int, what: str, ends: tuple[str, str], many: int) -> None:
        giver, taker = ends
        if giver == taker or {giver, taker} & self.over:
            return
        row = self.ends[giver]
        if giver == STOCK:
            row += [None] * (many - len(row))
        if len(row) < many:
            return
        self.ends[taker] += row[:many]
        del row[:many]
        if giver != STOCK and (what != "taken" or taker == STOCK):
            self.told.append(on(day, giver, "moved", many, other=taker, entry=2 * day))
        if taker != STOCK and (what != "given" or giver == STOCK):
            told = on(day, taker, "moved", many, other=giver, into=True, entry=2 * day + 1)
            self.told.append(told)


def panels(layers: tuple[Layer, ...]) -> list[Panel]:
    """Layers as panels one by one, in their order."""
    return [
        None if layer.each is None else int(layer.each * 100)
        for layer in layers
        for _ in range(int(layer.quantity))
    ]


@settings(max_examples=300, deadline=None)
@given(STEPS)
def test_every_panel_is_where_it_was_carried_and_costs_what_was_paid_for_it(
    steps: list[Step],
) -> None:
    naive = Naive()
    for number, step in enumerate(steps):
        naive.step(3 * number + 1, step)
    ledger = through_jobs(naive.told)
    lying = {one.where: panels(one.layers) for one in ledger.lying}
    assert lying == {end: row for end, row in naive.ends.items() if row}
    assert counted(ledger.consumed) == naive.consumed
    assert counted(ledger.returned) == naive.returned


def counted(
    layers: tuple[tuple[str, str, tuple[Layer, ...]], ...],
) -> Counter[tuple[str, Panel]]:
    return Counter((job, one) for job, _, found in layers for one in panels(found))


@settings(max_examples=300, deadline=None)
@given(STEPS, st.randoms(use_true_random=False))
def test_whatever_is_told_in_whatever_order_what_was_bought_is_somewhere_once(
    steps: list[Step], draw: object
) -> None:
    told = [movement(number + 1, step) for number, step in enumerate(steps) if step[1] != step[2]]
    draw.shuffle(told)  # type: ignore[attr-defined]
    ledger = through_jobs(told)
    bought = [one for one in told if one.what == "delivered"]
    everywhere = layers_of(ledger)
    priced = [layer for layer in everywhere if layer.each is not None]
    assert cost_of(everywhere) == sum(
        (one.quantity * (one.each or 0) for one in bought), Fraction(0)
    )
    assert sum(layer.quantity for layer in priced) == sum(one.quantity for one in bought)


def movement(day: int, step: Step) -> Movement:
    """What a step tells, whether it can be or not; in ninths of a panel."""
    what, job, other, many, cents = step
    each = f"{cents / 100:.2f}" if what == "delivered" else None
    kind = "moved" if what in ("given", "taken", "both") else what
    return on(
        day // 2, job, kind, Fraction(many, 9), each, other=other, into=what == "taken", entry=day
    )


def layers_of(ledger: Ledger) -> list[Layer]:
    gone = [layer for _, _, found in (*ledger.consumed, *ledger.returned) for layer in found]
    return gone + [layer for one in ledger.lying for layer in one.layers]
