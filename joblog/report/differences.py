"""What material and hours differ by from the plan, and why: a line each, in a crew's words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction

from joblog.form import WORDS, amount
from joblog.local import money_written
from joblog.model import (
    LaborVariance,
    MoneyVariance,
    QuantityVariance,
    Reconciliation,
    Record,
    StockLine,
    TaskLine,
)
from joblog.report.figures import (
    in_question,
    signed,
    signed_money,
    together,
    why_in_question,
)
from joblog.report.table import Table

_PHRASES = {
    "scope": ("{} for more work", "{} saved by less work"),
    "usage": ("{} more on the same work", "{} less on the same work"),
    "offcut": ("{} more of cutoffs", "{} less of cutoffs"),
    "handling": ("{} more wasted than allowed", "{} less wasted than allowed"),
    "unaccounted": ("{} unexplained", "{} more left than explained"),
    "price": ("{} for dearer prices", "{} saved by lower prices"),
    "efficiency": ("{} lost to a slower pace", "{} saved by a faster pace"),
    "rate": ("{} for higher pay", "{} saved by lower pay"),
}
"""Every part of a difference: where it is more than planned, and where it is less."""


def difference_table(result: Reconciliation) -> Table:
    """One line a material that is known: by how much and by what money it differs, and why; their
    sum last."""
    headings = ("item", WORDS["total"], "in money", "why")
    rows = [
        (line.item, _differs(line), _in_money(line.money), why_line(line))
        for line in result.stock
        if line.variance is not None and line.planned is not None and line.consumed is not None
    ]
    if result.material is not None and len(result.material_of) > 1:
        called = together(len(result.material_of), len(result.stock))
        rows.append((called, "", _in_money(result.material), in_words(result.material)))
    return Table(headings, tuple(rows), right=frozenset(headings[1:3]))


def why_line(line: StockLine) -> str:
    """What an item differs by, part for part; what would settle it, where that is in question."""
    if line.variance is None:
        return ""
    price = line.money.price if line.money is not None else None
    parts = _joined((in_words(line.variance), in_words(price, "price")))
    question = _closed_with(why_in_question(line)) if in_question(line) else ""
    return "; ".join(filter(None, (parts, question))) or "as planned"


def in_words(
    parts: QuantityVariance | MoneyVariance | LaborVariance | Decimal | None, name: str = ""
) -> str:
    """The parts that are not nought, the largest first: "2 more wasted than allowed, 1 less on the
    same work". A single amount is the part of that name."""
    if isinstance(parts, Decimal) or parts is None:
        return _phrase(name, parts) if parts else ""
    found = [(field, getattr(parts, field, None)) for field in _PHRASES]
    some = [(field, part) for field, part in found if part]
    return ", ".join(
        _phrase(field, part) for field, part in sorted(some, key=lambda one: -abs(one[1]))
    )


def hours_lines(tasks: Iterable[TaskLine]) -> Iterator[str]:
    """Why the hours of each task differ, where it is known: "hang soffit: 1 for more work"."""
    for line in tasks:
        parts = line.variance
        if parts is None or parts.scope_hours is None or not parts.hours:
            continue
        hours = [("scope", parts.scope_hours), ("efficiency", parts.efficiency_hours)]
        told = ", ".join(_phrase(name, part) for name, part in hours if part)
        money = in_words(parts) if parts.total else ""
        whole = f"{told} {WORDS['crew_hours']}"
        yield f"{line.task}: {f'{whole}; {money}' if money else whole}"


def known_line(record: Record) -> str:
    """How much of a job the record tells: "3 of 5 items (65% of planned cost), 2 of 2 tasks,
    3 of 3 days"; "" where there is nothing to tell."""
    share = record.cost_settled
    cost = f" ({float(share):.0%} of planned cost)" if share else ""
    return ", ".join(
        f"{_of(some, every, one)}{after}"
        for some, every, one, after in (
            (record.items_settled, record.items, "item", cost),
            (record.tasks_settled, record.tasks, "task", ""),
            (record.days_settled, record.days, "day", ""),
        )
        if every
    )


def _of(some: int, every: int, one: str) -> str:
    return f"{some or 'none'} of {every} {one}{'s' * (every != 1)}"


def _differs(line: StockLine) -> str:
    assert line.variance is not None
    shown = signed(line.variance.total)
    return f"{shown}?" if line.left_out else shown


def _in_money(parts: MoneyVariance | None) -> str:
    if parts is None:
        return ""
    return signed_money(parts.total) if parts.total is not None else "?"


def _phrase(name: str, part: Fraction | Decimal) -> str:
    size = money_written(abs(part)) if isinstance(part, Decimal) else amount(abs(part))
    more, less = _PHRASES[name]
    return (more if part > 0 else less).format(size)


def _joined(parts: Iterable[str]) -> str:
    return ", ".join(part for part in parts if part)


def _closed_with(sentence: str) -> str:
    """A sentence as a part of another."""
    return f"{sentence[:1].lower()}{sentence[1:]}".removesuffix(".")
