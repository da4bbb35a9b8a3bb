"""The tables of a squared-up job: balance, differences from the plan, labor, places, days, gaps."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Decimal
from fractions import Fraction
from typing import TypeVar

from joblog.form import amount as exactly
from joblog.form import units_of
from joblog.model import (
    Gap,
    MoneyVariance,
    Part,
    QuantityVariance,
    Reason,
    Reconciliation,
    StockLine,
    TaskLine,
)
from joblog.quantity import about
from joblog.report.table import Table


def balance_table(result: Reconciliation) -> Table:
    """opening + delivered - returned - on hand = used up = placed + spoiled + offcut + ?"""
    headings = (
        "item", "unit", "planned", "opening", "delivered", "returned", "on hand", "used up",
        "placed", "spoiled", "offcut", "unexplained", "plan cost", "real cost",
    )  # fmt: skip
    rows = tuple(
        (
            line.item,
            line.unit,
            "-" if line.planned is None else amount(line.planned),
            amount(line.opening),
            amount(line.delivered),
            amount(line.returned),
            amount(line.on_hand),
            used_up(line),
            amount(line.placed),
            amount(line.spoiled),
            amount(line.offcut),
            _unexplained(line),
            money_shown(line.planned_cost),
            money_shown(line.actual_cost),
        )
        for line in result.stock
    )
    return Table(headings, rows, right=frozenset(headings[2:]))


def quantity_table(result: Reconciliation) -> Table:
    """work + offcut + handling + unexplained = difference, in each item's own unit."""
    headings = (
        "item", "unit", "planned", "used up", "difference", "work", "offcut", "handling",
        "unexplained",
    )  # fmt: skip
    rows = tuple(
        (
            line.item,
            line.unit,
            "-" if line.planned is None else amount(line.planned),
            used_up(line),
            *_unsure(line, map(signed, _quantities(line.variance))),
        )
        for line in result.stock
        if line.variance is not None
    )
    return Table(headings, rows, right=frozenset(headings[2:]))


def money_table(result: Reconciliation) -> Table:
    """work + offcut + handling + unexplained + price = difference, to the cent; sums at the end."""
    headings = (
        "item", "plan cost", "real cost", "difference", "work", "offcut", "handling",
        "unexplained", "price",
    )  # fmt: skip
    rows = [
        (
            line.item,
            money_shown(line.planned_cost or Decimal(0)),
            money_shown(line.actual_cost),
            *_unsure(line, map(signed_money, _amounts(line.money))),
        )
        for line in result.stock
        if line.money is not None
    ]
    if result.material is not None and len(result.material_of) > 1:
        lines = [line for line in result.stock if line.item in result.material_of]
        sums = _amounts(result.material)
        some = "" if len(lines) == len(rows) else f" {len(lines)}/{len(rows)}"
        rows.append(
            (
                f"together{some}",
                money_shown(sum((line.planned_cost or Decimal(0) for line in lines), Decimal(0))),
                money_shown(sum((line.actual_cost or Decimal(0) for line in lines), Decimal(0))),
                *map(signed_money, sums),
            )
        )
    return Table(headings, tuple(rows), right=frozenset(headings[1:]))


def labor_table(result: Reconciliation) -> Table:
    """Crew hours: more or other work + faster or slower = difference; and how much in an hour."""
    headings = (
        "task", "planned", "real", "difference", "work", "pace", "planned an hour",
        "real an hour",
    )  # fmt: skip
    rows = tuple(
        (
            line.task,
            "-" if line.planned is None else amount(line.planned),
            amount(line.actual) if line.entries else "?",
            *(
                map(signed, (parts.hours, parts.scope_hours, parts.efficiency_hours))
                if (parts := line.variance)
                else ("?", "?", "?")
            ),
            pace_shown(line.planned_rate, line.unit),
            pace_shown(line.actual_rate, line.unit),
        )
        for line in result.tasks
    )
    return Table(headings, rows, right=frozenset(headings[1:]))


def pay_table(result: Reconciliation) -> Table:
    """work + pace + pay = difference in what the hours cost, to the cent; the sum at the end."""
    headings = ("task", "plan cost", "real cost", "difference", "work", "pace", "pay")
    rows = [
        (
            line.task,
            money_shown(line.planned_cost),
            money_shown(line.actual_cost) if line.entries else "?",
            *(
                map(signed_money, (parts.total, parts.scope, parts.efficiency, parts.rate))
                if (parts := line.variance)
                else ("?", "?", "?", "?")
            ),
        )
        for line in result.tasks
    ]
    sums = result.labor
    if sums is not None and sums.total is not None and len(rows) > 1:
        shown = (sums.total, sums.scope, sums.efficiency, sums.rate)
        rows.append(("together", "", "", *map(signed_money, shown)))
    return Table(headings, tuple(rows), right=frozenset(headings[1:]))


def place_table(result: Reconciliation) -> Table:
    """What was told at each place; "-" is what was told of none."""
    return _parts(
        "place", (part for part in result.parts if part.place is not None), lambda part: part.place
    )


def day_table(result: Reconciliation) -> Table:
    """What was told on each day."""
    return _parts(
        "day", (part for part in result.parts if part.day), lambda part: str(part.day or "")
    )


def reason_table(result: Reconciliation, behind: Mapping[int, str] | None = None) -> Table:
    """Why material was spoiled, the dearest first, with the recordings and photos behind it."""
    headings = ("item", "spoiled", "cost", "why", "said in")
    rows = tuple(
        (
            reason.item,
            units_of(reason.quantity, reason.unit),
            money_shown(reason.cost),
            reason.text,
            evidence(reason, behind or {}),
        )
        for reason in result.reasons
    )
    return Table(headings, rows, right=frozenset(("spoiled", "cost")))


def gap_table(result: Reconciliation) -> Table:
    """What the record does not say; contradictions first, then what settles most."""
    headings = ("settled by", "width", "worth", "entries", "what is missing")
    rows = tuple(
        (
            f"{SETTLED_BY[gap.settled_by]}{' !' if gap.contradiction else ''}",
            "" if gap.width is None else units_of(gap.width, gap.unit),
            "" if gap.money is None else money_shown(gap.money),
            entries_shown(gap.entries),
            gap.text,
        )
        for gap in result.gaps
    )
    return Table(headings, rows, right=frozenset(("width", "worth")))


def since_closing(closed: Reconciliation, now: Reconciliation) -> Table:
    """What a closed job's figures were then and are now, where they differ."""
    headings = ("what", "used up then", "now", "cost then", "cost now")
    rows: list[tuple[str, ...]] = []
    for name, then, line in then_and_now(closed.stock, now.stock, lambda line: line.item):
        was, shown = _used_and_cost(then), _used_and_cost(line)
        if was != shown:
            rows.append((name, was[0], shown[0], was[1], shown[1]))
    for name, old, task in then_and_now(closed.tasks, now.tasks, lambda task: task.task):
        was, shown = _hours_and_cost(old), _hours_and_cost(task)
        if was != shown:
            rows.append((f"{name}, hours", was[0], shown[0], was[1], shown[1]))
    return Table(headings, tuple(rows), right=frozenset(headings[1:]))


Told = TypeVar("Told")


def then_and_now(
    then: Iterable[Told], now: Iterable[Told], named: Callable[[Told], str]
) -> Iterator[tuple[str, Told | None, Told | None]]:
    """Lines of the same name side by side, in the order of `now`; then those that are gone."""
    before = {named(line): line for line in then}
    for line in now:
        yield named(line), before.pop(named(line), None), line
    for name, gone in before.items():
        yield name, gone, None


def _used_and_cost(line: StockLine | None) -> tuple[str, str]:
    return ("-", "-") if line is None else (used_up(line), money_shown(line.actual_cost))


def _hours_and_cost(line: TaskLine | None) -> tuple[str, str]:
    return ("-", "-") if line is None else (amount(line.actual), money_shown(line.actual_cost))


TABLES: dict[str, Callable[[Reconciliation], Table]] = {
    "balance": balance_table,
    "quantity": quantity_table,
    "money": money_table,
    "labor": labor_table,
    "pay": pay_table,
    "places": place_table,
    "days": day_table,
    "reasons": reason_table,
    "missing": gap_table,
}

SETTLED_BY = {
    "count": "a count",
    "delivery": "a delivery",
    "use": "what was used",
    "decision": "a decision",
    "hours": "hours",
    "pay": "an hour's cost",
    "plan": "the plan",
}


# --- cells ------------------------------------------------------------------------------------


def amount(quantity: Fraction | None) -> str:
    """As a tape shows it, else to hundredths, marked "~"; JSON has it exactly."""
    if quantity is None or quantity.denominator <= 64:
        return exactly(quantity)
    return about(quantity, 2)


def used_up(line: StockLine) -> str:
    """What was consumed, or the range that a missing count leaves: "13 to 16"."""
    if line.consumed is not None:
        return amount(line.consumed)
    if line.at_least >= line.at_most:
        return amount(line.at_least)
    return f"{amount(line.at_least)} to {amount(line.at_most)}"


def money_shown(cost: Decimal | None) -> str:
    return "?" if cost is None else f"{cost:,.2f}"


def signed(difference: Fraction | None) -> str:
    """With its sign, so that more and less are told apart at a glance."""
    if difference is None:
        return "?"
    return f"+{amount(difference)}" if difference > 0 else amount(difference)


def signed_money(difference: Decimal | None) -> str:
    return "?" if difference is None else f"{difference:+,.2f}" if difference else "0.00"


def entries_shown(entries: tuple[int, ...], most: int = 6) -> str:
    """ "4, 9, 12", and how many more there are."""
    more = f" and {len(entries) - most} more" if len(entries) > most else ""
    return ", ".join(map(str, entries[:most])) + more


def evidence(reason: Reason, behind: Mapping[int, str]) -> str:
    """Recordings and photos behind a reason; the numbers of the entries where none is known."""
    known = dict.fromkeys(behind[entry] for entry in reason.entries if behind.get(entry))
    return "; ".join(known) if known else f"entry {entries_shown(reason.entries)}"


def gap_line(gap: Gap) -> str:
    """One line on a gap: what is missing, what it is worth, and which entries it is about."""
    worth = "" if gap.money is None else f" ({money_shown(gap.money)})"
    numbers = f" [entries {entries_shown(gap.entries)}]" if gap.entries else ""
    return f"{gap.text}{worth}{numbers}"


def _quantities(parts: QuantityVariance | None) -> tuple[Fraction | None, ...]:
    if parts is None:
        return (None,) * 5
    return (parts.total, parts.scope, parts.offcut, parts.handling, parts.unaccounted)


def _amounts(parts: MoneyVariance | None) -> tuple[Decimal | None, ...]:
    if parts is None:
        return (None,) * 6
    known = (parts.scope, parts.offcut, parts.handling, parts.unaccounted)
    return (parts.total, *known, parts.price)


def _unsure(line: StockLine, shown: Iterable[str]) -> tuple[str, ...]:
    """Marks work and unexplained where what was used is not all told: one may be the other."""
    total, work, offcut, handling, unexplained, *price = shown
    told = not line.left_out and line.consumed is not None and (line.placed or not line.consumed)
    if not told:
        work, unexplained = (f"{part.removesuffix('?')} ?".strip() for part in (work, unexplained))
    return (total, work, offcut, handling, unexplained, *price)


def _unexplained(line: StockLine) -> str:
    """With a question mark where entries that may explain it wait for a decision."""
    waiting = " ?" if line.left_out and line.unaccounted is not None else ""
    return amount(line.unaccounted) + waiting


def pace_shown(rate: Fraction | None, unit: str) -> str:
    """How much in an hour of one person: "8.5 ft"."""
    return "?" if rate is None else f"{about(rate, 1).lstrip('~')} {unit}".rstrip()


def _parts(heading: str, parts: Iterable[Part], named: Callable[[Part], str | None]) -> Table:
    moves = ("delivered", "returned", "used", "spoiled", "hours")
    rows = tuple(
        (
            named(part) or "-",
            part.name,
            part.unit,
            *(amount(value) if (value := getattr(part, move)) else "-" for move in moves),
        )
        for part in parts
    )
    return Table((heading, "what", "unit", *moves), rows, right=frozenset(moves))
