"""The tables of a squared-up job: balance, differences from the plan, labor, places, days, gaps."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import TypeVar

from joblog.form import WORDS, on_a_tape, unit_shown, units_of
from joblog.form import amount as in_words
from joblog.local import day_written, money_written
from joblog.model import (
    Beside,
    BesideLine,
    Gap,
    MoneyVariance,
    Part,
    QuantityVariance,
    Reason,
    Reconciliation,
    StockLine,
    TaskLine,
)
from joblog.quantity import about, tape
from joblog.reconcile.agreed import agreement as agreement
from joblog.reconcile.allowed import AS_PLANNED, LEAST
from joblog.report.table import Shown, Table
from joblog.report.words import SETTLED_BY, heads


def balance_table(result: Reconciliation) -> Table:
    """What was had, came, went and is left of every item: the balance of `form.WORDS`."""
    carried = is_carried(result)
    fields = (*_CAME, *(_CARRIED if carried else ()), *_LEFT)
    headings = ("item", "unit", *heads(*fields))
    rows = tuple(
        (
            line.item,
            unit_cell(line.unit, line.item),
            "-" if line.planned is None else amount(line.planned),
            amount(line.opening),
            amount(line.delivered),
            amount(line.returned),
            *((amount(line.moved_in), amount(line.moved_out)) if carried else ()),
            amount(line.on_hand),
            gone(line),
            amount(line.placed),
            amount(line.spoiled),
            amount(line.offcut),
            unexplained(line),
            cost_cell(line.planned_cost),
            cost_cell(line.actual_cost),
        )
        for line in result.stock
    )
    return _explained(Table(headings, rows, right=frozenset(headings[2:])), result)


def is_carried(result: Reconciliation) -> bool:
    """Whether anything was carried between this job and others: else no figure tells of it."""
    return any(line.moved_in or line.moved_out for line in result.stock)


def quantity_table(result: Reconciliation) -> Table:
    """What an item differs by from the plan and its parts, in its own unit; and what the plan
    allows for the output that was made."""
    headings = ("item", "unit", *heads("planned", "allowed", "consumed", *_PARTS, "allowed_by"))
    rows = tuple(
        (
            line.item,
            unit_cell(line.unit, line.item),
            "-" if line.planned is None else amount(line.planned),
            allowed(line),
            gone(line),
            *_unsure(line, map(signed, _quantities(line.variance))),
            line.allowed_by,
        )
        for line in result.stock
        if line.variance is not None
    )
    return _explained(Table(headings, rows, right=frozenset(headings[2:-1])), result)


def allowed_lines(result: Reconciliation) -> tuple[str, ...]:
    """One line for each item whose output was told otherwise than planned, and for each offcut that
    was kept of what was told installed."""
    lines = []
    for line in result.stock:
        if line.allowed is not None and line.allowed_by != AS_PLANNED:
            net = units_of(line.allowed, line.unit, line.item)
            lines.append(f"{line.item}: {net} {WORDS['allowed']} for the work: {line.allowed_by}")
        if line.kept:
            kept = units_of(line.kept, line.unit, line.item)
            lines.append(
                f"{line.item}: {kept} of those told installed were kept and counted as left"
            )
    return tuple(lines)


def money_table(result: Reconciliation) -> Table:
    """What a material's cost differs by and its parts, to the cent; sums at the end."""
    headings = ("item", *heads("planned_cost", "actual_cost", *_PARTS, "price"))
    rows = [
        (
            line.item,
            cost_cell(line.planned_cost or Decimal(0)),
            cost_cell(line.actual_cost),
            *money_parts(line, result),
        )
        for line in result.stock
        if line.money is not None
    ]
    if result.material is not None and len(result.material_of) > 1:
        lines = [line for line in result.stock if line.item in result.material_of]
        sums = _amounts(result.material)
        rows.append(
            (
                together(len(lines), len(rows)),
                cost_cell(sum((line.planned_cost or Decimal(0) for line in lines), Decimal(0))),
                cost_cell(sum((line.actual_cost or Decimal(0) for line in lines), Decimal(0))),
                *map(signed_money, sums),
            )
        )
    return _explained(Table(headings, tuple(rows), right=frozenset(headings[1:])), result)


def together(known: int, every: int) -> str:
    """What a sum is called: of all, or of those that are known."""
    return "together" if known == every else f"together, {known} of {every}"


def labor_table(result: Reconciliation) -> Table:
    """Man-hours: work + pace = what they differ by; and how much is done in an hour."""
    fields = ("planned", "actual", "total", "scope", "efficiency", "planned_rate", "actual_rate")
    headings = ("task", *heads(*fields))
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
    return _explained(Table(headings, rows, right=frozenset(headings[1:])), result)


def pay_table(result: Reconciliation) -> Table:
    """work + pace + pay = what the hours' cost differs by, to the cent; the sum at the end."""
    fields = ("planned_cost", "actual_cost", "total", "scope", "efficiency", "rate")
    headings = ("task", *heads(*fields))
    rows = [
        (
            line.task,
            cost_cell(line.planned_cost),
            cost_cell(line.actual_cost) if line.entries else "?",
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
        known = sum(line.variance is not None for line in result.tasks)
        rows.append((together(known, len(rows)), "", "", *map(signed_money, shown)))
    return _explained(Table(headings, tuple(rows), right=frozenset(headings[1:])), result)


def _explained(table: Table, result: Reconciliation) -> Table:
    """The table with a line below it for every "?" in it: what is missing, and what settles it."""
    notes: dict[str, None] = {}
    stock = {line.item: line for line in result.stock}
    for name, *cells in table.rows:
        if any("?" in cell for cell in cells):
            gaps = [f"? {gap_line(gap)}" for gap in result.gaps if gap.name == name]
            why = why_in_question(stock[name]) if name in stock else ""
            notes |= dict.fromkeys(gaps or ([f"? {name}: {why}"] if why else ()))
    return replace(table, notes=tuple(notes) or _NOT_TOLD * ("?" in _flat(table)))


def _flat(table: Table) -> str:
    return "".join(cell for row in table.rows for cell in row)


_NOT_TOLD = ("? is not known: it was not told",)


def hours_table(result: Reconciliation) -> Table:
    """Hours and what they cost, one line a task: what they differ by, and how much is done in an
    hour."""
    headings = (
        "task", *heads("planned", "actual", "total"), "in money",
        *heads("planned_rate", "actual_rate"),
    )  # fmt: skip
    rows = tuple(
        (
            line.task,
            "-" if line.planned is None else amount(line.planned),
            amount(line.actual) if line.entries else "?",
            signed(parts.hours) if (parts := line.variance) else "?",
            signed_money(parts.total) if parts else "?",
            "-" if line.planned_rate is None else pace_shown(line.planned_rate, line.unit),
            pace_shown(line.actual_rate, line.unit),
        )
        for line in result.tasks
    )
    return Table(headings, rows, right=frozenset(headings[1:]))


def place_table(result: Reconciliation) -> Table:
    """What was told at each place; "-" is what was told of none."""
    return _parts(
        "place", (part for part in result.parts if part.place is not None), lambda part: part.place
    )


def day_table(result: Reconciliation) -> Table:
    """What was told on each day."""
    return _parts(
        "day", (part for part in result.parts if part.day), lambda part: day_cell(part.day)
    )


def reason_table(result: Reconciliation, behind: Mapping[int, str] | None = None) -> Table:
    """Why material was wasted, the dearest first, with the recordings and photos behind it."""
    headings = ("item", *heads("spoiled"), "cost", "why", "said in")
    rows = tuple(
        (
            reason.item,
            units_cell(reason.quantity, reason.unit, reason.item),
            cost_cell(reason.cost),
            reason.text,
            evidence(reason, behind or {}),
        )
        for reason in result.reasons
    )
    return Table(headings, rows, right=frozenset((*heads("spoiled"), "cost")))


def gap_table(result: Reconciliation) -> Table:
    """What the record does not say; contradictions first, then what settles most."""
    headings = ("settled by", "width", "worth", "entries", "what is missing")
    rows = tuple(
        (
            f"{SETTLED_BY[gap.settled_by]}{' !' if gap.contradiction else ''}",
            "" if gap.width is None else units_cell(gap.width, gap.unit, gap.name),
            "" if gap.money is None else cost_cell(gap.money),
            entries_shown(gap.entries),
            gap.text,
        )
        for gap in result.gaps
    )
    return Table(headings, rows, right=frozenset(("width", "worth")))


def since_closing(closed: Reconciliation, now: Reconciliation) -> Table:
    """What a closed job's figures were then and are now, where they differ."""
    headings = ("what", f"{WORDS['consumed']} then", "now", "cost then", "cost now")
    rows: list[tuple[str, ...]] = []
    for name, then, line in then_and_now(closed.stock, now.stock, lambda line: line.item):
        was, shown = _used_and_cost(then), _used_and_cost(line)
        if was != shown:
            rows.append((name, was[0], shown[0], was[1], shown[1]))
    for name, old, task in then_and_now(closed.tasks, now.tasks, lambda task: task.task):
        was, shown = _hours_and_cost(old), _hours_and_cost(task)
        if was != shown:
            rows.append((f"{name}, {WORDS['crew_hours']}", was[0], shown[0], was[1], shown[1]))
    return Table(headings, tuple(rows), right=frozenset(headings[1:]))


Figure = TypeVar("Figure")


def then_and_now(
    then: Iterable[Figure], now: Iterable[Figure], named: Callable[[Figure], str]
) -> Iterator[tuple[str, Figure | None, Figure | None]]:
    """Lines of the same name side by side, in the order of `now`; then those that are gone."""
    before = {named(line): line for line in then}
    for line in now:
        yield named(line), before.pop(named(line), None), line
    for name, gone in before.items():
        yield name, gone, None


def _used_and_cost(line: StockLine | None) -> tuple[str, str]:
    return ("-", "-") if line is None else (gone(line), cost_cell(line.actual_cost))


def _hours_and_cost(line: TaskLine | None) -> tuple[str, str]:
    return ("-", "-") if line is None else (amount(line.actual), cost_cell(line.actual_cost))


def beside_table(result: Reconciliation) -> Table:
    """Extras, expenses and drives, one a row."""
    headings = (
        "day", "what", "in words", "who", "agreed", "price", "hours", "miles", "minutes", "entry",
    )  # fmt: skip
    rows = tuple(
        (
            day_cell(line.day),
            line.kind,
            line.text,
            line.who or "",
            agreement(line) if line.kind == "extra" else "",
            "" if line.price is None else cost_cell(line.price),
            *("" if number is None else amount(number) for number in _numbers(line)),
            str(line.entry),
        )
        for line in result.beside.lines
    )
    return Table(headings, rows, right=frozenset(headings[5:]))


def _numbers(line: BesideLine) -> tuple[Fraction | None, ...]:
    return line.hours, line.miles, line.minutes


def beside_sums(beside: Beside) -> tuple[str, ...]:
    """What it all comes to, one line each for a person; nothing where there is none."""
    extras = [line for line in beside.lines if line.kind == "extra"]
    lines = []
    if extras:
        counted = f"{len(extras)} extra{'s' * (len(extras) > 1)}"
        hours = f", {amount(beside.extra_hours)} hours" if beside.extra_hours else ""
        open_ones = f", {beside.unpriced} without a price" if beside.unpriced else ""
        lines.append(f"{counted} to charge: {money_shown(beside.to_charge)}{hours}{open_ones}")
    if beside.spent:
        lines.append(f"spent beside material: {money_shown(beside.spent)}")
    if beside.miles or beside.driven_minutes:
        told = (
            f"{amount(beside.miles)} miles" if beside.miles else "",
            f"{amount(beside.driven_minutes)} minutes" if beside.driven_minutes else "",
        )
        lines.append(f"driven: {', '.join(filter(None, told))}")
    return tuple(lines)


TABLES: dict[str, Callable[[Reconciliation], Table]] = {
    "balance": balance_table,
    "quantity": quantity_table,
    "money": money_table,
    "labor": labor_table,
    "pay": pay_table,
    "places": place_table,
    "days": day_table,
    "reasons": reason_table,
    "beside": beside_table,
    "missing": gap_table,
}

_CAME = ("planned", "opening", "delivered", "returned")
_CARRIED = ("moved_in", "moved_out")
_LEFT = (
    "on_hand", "consumed", "placed", "spoiled", "offcut", "unaccounted", "planned_cost",
    "actual_cost",
)  # fmt: skip
_PARTS = ("total", "scope", "usage", "offcut", "handling", "unaccounted")

# --- cells ------------------------------------------------------------------------------------


def amount(quantity: Fraction | None) -> str:
    """As a tape shows it, else to hundredths, marked "~"; CSV and JSON have it exactly."""
    if quantity is None:
        return in_words(None)
    shown = tape(quantity) if on_a_tape(quantity) else about(quantity, 2)
    return Shown(shown, tape(quantity))


def unit_cell(unit: str, item: str) -> str:
    """What a unit of the item is called: "panel"; its name in the book for CSV."""
    return Shown(unit_shown(unit, item), unit)


def units_cell(quantity: Fraction, unit: str, item: str) -> str:
    """An amount with its unit: "3 panels", and "3 sheets" for CSV."""
    many = quantity > 1 or quantity == 0
    exact = f"{tape(quantity)} {unit_shown(unit, many=many)}"
    return Shown(units_of(quantity, unit, item), exact)


def day_cell(day: date | None) -> str:
    """ "Oct 5"; the day as ISO 8601 for CSV."""
    return "" if day is None else Shown(day_written(day, short=True), day.isoformat())


def or_dash(quantity: Fraction | None) -> str:
    """An amount; nothing at all is a dash, which is quieter than a figure."""
    return amount(quantity) if quantity else "-"


def gone(line: StockLine) -> str:
    """What was consumed, or the range that a missing count leaves: "13-16?"; "13-?" where more is
    gone than ever came."""
    if line.consumed is not None:
        return amount(line.consumed)
    return between(line.at_least, line.at_most)


def unexplained(line: StockLine) -> str:
    """What nobody accounts for, or from nothing to how much a missing count may hide; in question
    where entries that may explain it wait for a decision."""
    if line.unaccounted is not None:
        return f"{amount(line.unaccounted)}{'?' if line.left_out else ''}"
    if line.at_least > line.at_most:
        return "?"
    return between(Fraction(0), line.at_most - line.at_least)


def between(low: Fraction, high: Fraction) -> str:
    """An amount that is not known, with its range: "13-16?"; "13-?" when the record has a gap."""
    if low > high:
        return f"{amount(low)}-?"
    if low == high:
        return f"{amount(low)}?"
    return f"{amount(low)}-{amount(high)}?"


def allowed(line: StockLine) -> str:
    """What the plan allows for the output that was made, with its offcuts; in question where far
    less was installed and nobody said that less of the work was done."""
    if line.allowed is None:
        return "-"
    return f"{amount(line.allowed + line.allowed_offcut)}{'?' if _not_done(line) else ''}"


def _not_done(line: StockLine) -> bool:
    """Whether the work counts as done as planned, though far less was installed than that takes."""
    if line.allowed is None or line.allowed_by != AS_PLANNED:
        return False
    return line.placed + line.offcut < LEAST * (line.allowed + line.allowed_offcut)


def in_question(line: StockLine) -> frozenset[str]:
    """Parts of its differences that may be each other's: usage and what nobody explains, where not
    all that was used is said; work and usage, where nobody said that less was done."""
    found = frozenset[str]()
    if not all_said(line):
        found |= {"scope" if line.allowed is None else "usage", "unaccounted"}
    return found | {"scope", "usage"} if _not_done(line) else found


def why_in_question(line: StockLine) -> str:
    """What would settle those, in a sentence; "" where nothing is in question."""
    if line.left_out:
        return f"{_either(line)}: a decision on {entries_named(line.left_out)} settles it."
    if line.consumed is None:
        return f"{why_not_known(line)}: a count settles it."
    if not all_said(line):
        return f"{_either(line)}: saying how much was installed settles it."
    if _not_done(line):
        return (
            "Work and usage may be one another: it is not known how much of the work was done, so "
            "it counts as done as planned."
        )
    return ""


def _either(line: StockLine) -> str:
    one = WORDS["scope" if line.allowed is None else "usage"]
    return f"{one.capitalize()} and {WORDS['unaccounted']} may be one another"


def why_not_known(line: StockLine) -> str:
    """Why it is not known what is left."""
    if line.last_count is None:
        return "Nobody counted what was left"
    counted = amount(line.last_count)
    return f"{counted} counted as left, and more came or was used since"


def entries_named(ids: tuple[int, ...]) -> str:
    return f"{'entry' if len(ids) == 1 else 'entries'} {entries_shown(ids)}"


def all_said(line: StockLine) -> bool:
    """False where what was used may not all be said: then usage and unexplained may be each
    other's, and both are in question."""
    return (
        not line.left_out and line.consumed is not None and bool(line.placed or not line.consumed)
    )


def money_parts(line: StockLine, result: Reconciliation) -> tuple[str, ...]:
    """What a material's cost differs by, then its parts: work, usage, cut off, handling,
    unexplained and price. What a missing count may hide is shown as a range."""
    hidden = next(
        (gap.money for gap in result.gaps if gap.name == line.item and gap.settled_by == "count"),
        None,
    )
    shown = _unsure(line, map(signed_money, _amounts(line.money)))
    if line.money is not None and line.money.unaccounted is None and hidden is not None:
        return (*shown[:5], f"0-{cost_cell(hidden)}?", shown[6])
    return shown


def than_planned(difference: Fraction | Decimal | None, size: str) -> str:
    """Such as "2 more than planned", of a difference and how its size is shown."""
    if difference is None:
        return "how much more or less than planned is not known"
    if not difference:
        return "just as planned"
    return f"{size} {'more' if difference > 0 else 'less'} than planned"


def hours_of_no_task(result: Reconciliation) -> str:
    """One line; empty where all hours at work are those of tasks."""
    if not result.untold_hours:
        return ""
    many = f"{amount(abs(result.untold_hours))}"
    if result.untold_hours < 0:
        return f"{many} more {WORDS['crew_hours']} were put to tasks than were worked"
    return f"{many} {WORDS['crew_hours']} were worked that nobody put to a task"


def money_shown(cost: Decimal | None) -> str:
    """Money in a sentence: "$21.40"."""
    return "?" if cost is None else money_written(cost)


def cost_cell(cost: Decimal | None) -> str:
    """Money in a column: "1,021.40", and "1021.40" for CSV."""
    return "?" if cost is None else Shown(money_written(cost, bare=True), _cents(cost))


def signed(difference: Fraction | None) -> str:
    """With its sign, so that more and less are told apart at a glance."""
    if difference is None:
        return "?"
    shown = amount(difference)
    return Shown(f"+{shown}", tape(difference)) if difference > 0 else shown


def signed_money(difference: Decimal | None) -> str:
    """Money in a column, with its sign."""
    if difference is None:
        return "?"
    return Shown(money_written(difference, bare=True, sign=True), _cents(difference))


def _cents(money: Decimal) -> str:
    exponent = money.as_tuple().exponent
    return f"{money:.2f}" if isinstance(exponent, int) and exponent > -2 else f"{money:f}"


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
    named = "entry" if len(gap.entries) == 1 else "entries"
    numbers = f" [{named} {entries_shown(gap.entries)}]" if gap.entries else ""
    return f"{gap.text}{worth}{numbers}"


def _quantities(parts: QuantityVariance | None) -> tuple[Fraction | None, ...]:
    if parts is None:
        return (None,) * 6
    known = (parts.scope, parts.usage, parts.offcut, parts.handling)
    return (parts.total, *known, parts.unaccounted)


def _amounts(parts: MoneyVariance | None) -> tuple[Decimal | None, ...]:
    if parts is None:
        return (None,) * 7
    known = (parts.scope, parts.usage, parts.offcut, parts.handling, parts.unaccounted)
    return (parts.total, *known, parts.price)


def _unsure(line: StockLine, shown: Iterable[str]) -> tuple[str, ...]:
    """Marks the parts that are in question: one may be the other."""
    marked = in_question(line)
    return tuple(
        f"{part.removesuffix('?')}?" if name in marked else part
        for name, part in zip((*_PARTS, "price"), shown, strict=False)
    )


def pace_shown(rate: Fraction | None, unit: str) -> str:
    """How much in an hour of one person: "8.5 ft"."""
    return "?" if rate is None else f"{about(rate, 1).lstrip('~')} {unit}".rstrip()


def _parts(heading: str, parts: Iterable[Part], named: Callable[[Part], str | None]) -> Table:
    moves = ("delivered", "returned", "used", "spoiled", "hours")
    rows = tuple(
        (
            named(part) or "-",
            part.name,
            unit_cell(part.unit, part.name),
            *(or_dash(getattr(part, move)) for move in moves),
        )
        for part in parts
    )
    shown = heads(*moves)
    return Table((heading, "what", "unit", *shown), rows, right=frozenset(shown))
