"""The planned side for a person: the catalog, a take-off with its formulas, an order list."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import groupby

from joblog.catalog.read_csv import COLUMNS, rows_of
from joblog.cutting.read_pieces import JOINTS
from joblog.form import WORDS, plain, units_of
from joblog.local import money_written
from joblog.model import (
    Amount,
    Catalog,
    Interval,
    Joints,
    OrderLine,
    Piece,
    Prediction,
    TakeOff,
)
from joblog.ordering.foresee import Foreseen, Need, most_jobs
from joblog.ordering.suppliers import SupplierOrder, by_supplier
from joblog.quantity import about, feet_and_inches, tape
from joblog.report.learned import prediction_json
from joblog.report.table import Table, as_text
from joblog.takeoff.units import shown
from joblog.takeoff.works import Work

CAUTION = (
    "Measure again before you cut or order by it. Vents, structure and work at height are for the "
    "local code and the rules of safe work to decide."
)


def catalog_table(catalog: Catalog) -> Table:
    """Every field of the catalog; as CSV it can be read back."""
    return Table(COLUMNS, rows_of(catalog))


def catalog_list(catalog: Catalog, priced: Mapping[str, str] | None = None) -> Table:
    """The catalog for a terminal: what is worth knowing of each line in one last column.

    `priced` says, by the name of an item, on which job its price was said or paid.
    """
    where = priced or {}
    rows = []
    for cells in rows_of(catalog):
        row = dict(zip(COLUMNS, cells, strict=True))
        if row["line"] == "item" and row["name"] in where:
            row["priced"] = f"as {where[row['name']]}"
        facts = [f"{_CALLED.get(column, column)} {row[column]}" for column in _FACTS if row[column]]
        rows.append((row["line"], row["name"], row["unit"], row["cost"] or "-", ", ".join(facts)))
    return Table(("line", "name", "unit", "cost", "more"), tuple(rows), frozenset(("cost",)))


_FACTS = (
    "variant of", "size", "profile", "color", "length", "other lengths", "sold by", "covers",
    "kerf", "least offcut", "priced", "per pound", "open area", "counted",
    "length costs", "supplier", "least order", "sales tax", "per hour", "said", "also",
)  # fmt: skip

_CALLED = {"least offcut": "least cutoff"}


def take_off_sheet(found: TakeOff, needs: Sequence[Need], width: int = 100) -> str:
    """A take-off as text: each line with the formula that made it, then its sums by item."""
    if not found.lines and not found.figures:
        return "nothing here yet"
    parts = []
    for (place, work), lines in groupby(found.lines, key=lambda line: (line.place, line.work)):
        parts.append(f"{place}, {work}" if place else work)
        for line in lines:
            quantities = f"net {_short(line.net)}, gross {_short(line.gross)} {line.unit}"
            parts.append(f"  {line.item}: {quantities}")
            parts += _wrapped(line.net_formula, width) + _wrapped(line.gross_formula, width)
    for task in found.tasks:
        hours = "no rate in the catalog"
        if task.hours is not None:
            hours = f"{_short(task.hours)} {WORDS['crew_hours']}"
        parts.append(f"{_at(task.place)}{task.task}: {hours}")
        parts += _wrapped(task.formula, width)
    for figure in found.figures:
        note = f" ({figure.note})" if figure.note else ""
        parts.append(f"{_at(figure.place)}{figure.name}: {shown(figure.amount)}{note}")
        parts += _wrapped(figure.formula, width)
    sums = as_text(_sums(needs), width) if needs else ""
    notes = "\n".join(textwrap.fill(f"note: {note}", width) for note in found.notes)
    caution = textwrap.fill(CAUTION, width)
    return "\n\n".join(
        filter(None, [_plain_lines("\n".join(parts)), sums, _plain_lines(notes), caution])
    )


def take_off_table(found: TakeOff) -> Table:
    """Every line of a take-off as one row, exact."""
    return Table(
        ("place", "work", "item", "unit", "net", "gross", "net formula", "gross formula"),
        tuple(
            (
                line.place,
                line.work,
                line.item,
                line.unit,
                tape(line.net),
                tape(line.gross),
                line.net_formula,
                line.gross_formula,
            )
            for line in found.lines
        ),
        frozenset(("net", "gross")),
    )


def piece_table(pieces: Sequence[Piece]) -> Table:
    """What is to be cut: length in inches, pieces, label, item; and, where there are runs among
    them, what their joints have to keep to."""
    runs = any(piece.joints for piece in pieces)
    headings = ("length", "pieces", "label", "item", *(JOINTS if runs else ()))
    return Table(
        headings,
        tuple(
            (
                tape(piece.length),
                str(piece.pieces),
                piece.label,
                piece.item or "",
                *(_joint_cells(piece.joints) if runs else ()),
            )
            for piece in pieces
        ),
        frozenset(headings) - {"label", "item", "beside"},
    )


def _joint_cells(joints: Joints | None) -> tuple[str, ...]:
    if joints is None:
        return ("",) * len(JOINTS)
    inches = (joints.spacing, joints.first, joints.clear)
    more = (tape(length) if length else "" for length in inches)
    stagger = tape(joints.stagger) if joints.stagger else ""
    return (tape(joints.lap), *more, joints.beside, stagger)


def foreseen_sheet(foreseen: Foreseen, needs: Sequence[Need], width: int = 100) -> str:
    """What earlier jobs say that a take-off will take, as text."""
    title = "what earlier jobs say of it"
    headings = ("foreseen", "unit", "at least", "expected", "4 times in 5", "from")
    rows = tuple(
        (
            one.name,
            unit,
            _float(one.sure, 3) if one.sure else "",
            _float(one.mean, 3),
            _between(most_jobs(one)),
            one.source,
        )
        for one, unit in _each_foreseen(foreseen, needs)
    )
    table = as_text(Table(headings, rows, frozenset(headings[2:5])), width)
    words = (
        "at least is the work and its cutoffs; expected is the average, waste with it; and 4 times "
        "in 5 such a job takes so much."
    )
    return "\n".join([title, "=" * len(title), table, "", textwrap.fill(words, width)])


def foreseen_table(foreseen: Foreseen, needs: Sequence[Need]) -> Table:
    """One row for each item and task that was foreseen, for a spreadsheet."""
    headings = ("foreseen", "unit", "at least", "expected", "80 % low", "80 % high", "jobs", "from")
    rows = tuple(
        (
            one.name,
            unit,
            _float(one.sure) if one.sure else "",
            _float(one.mean),
            _float(most_jobs(one).low),
            _float(most_jobs(one).high),
            str(one.n),
            one.source,
        )
        for one, unit in _each_foreseen(foreseen, needs)
    )
    return Table(headings, rows, frozenset(headings[2:7]))


def _each_foreseen(foreseen: Foreseen, needs: Sequence[Need]) -> Iterator[tuple[Prediction, str]]:
    units = {need.item.name: need.item.unit for need in needs}
    for name, prediction in foreseen.items.items():
        yield prediction, units.get(name, "")
    for prediction in foreseen.tasks.values():
        yield prediction, "hours"


def foreseen_json(foreseen: Foreseen) -> dict[str, list[dict[str, object]]]:
    """Every prediction; its distribution as the percentiles 1 to 99, not in all its thousand."""
    return {
        "items": [prediction_json(one) for one in foreseen.items.values()],
        "tasks": [prediction_json(one) for one in foreseen.tasks.values()],
    }


def order_table(lines: Sequence[OrderLine]) -> Table:
    """The order with all its numbers, exact; "cutoffs" is the waste that stock lengths force.

    What was learned (jobs, 80 %, chance of running short, left over) is empty where nothing was.
    """
    headings = (
        "item", "unit", "work", "cutoffs", "extra", "rate", "asked for", "needed", "on hand",
        "bought", "each", "cost", "buy", "extra from", "jobs", "80 % low", "80 % high",
        "runs short", "left over", "why", "anything missing", "supplier", "sales tax", "lengths",
        "cutoffs on hand",
    )  # fmt: skip
    return Table(
        headings,
        tuple(
            (
                line.item,
                line.unit,
                "" if line.net is None else tape(line.net),
                "" if line.net is None else tape(line.gross - line.net),
                tape(line.allowance),
                f"{tape(line.rate * 100)}%",
                tape(line.asked),
                tape(line.needed),
                tape(line.on_hand),
                tape(line.bought),
                _money(line.unit_cost),
                _money(line.cost),
                _bought(line),
                line.source,
                "" if line.jobs is None else str(line.jobs),
                "" if line.interval is None else _float(line.interval.low),
                "" if line.interval is None else _float(line.interval.high),
                "" if line.chance_short is None else _float(line.chance_short),
                "" if line.left_over is None else _float(line.left_over),
                "; ".join(line.why),
                "" if line.chance_any is None else _float(line.chance_any),
                line.supplier,
                "" if line.tax is None else f"{tape(line.tax * 100)}%",
                _in_lengths(line),
                "; ".join(f"{one.pieces} x {tape(one.length)} in" for one in line.cutoffs),
            )
            for line in lines
        ),
        frozenset(headings)
        - {"item", "unit", "buy", "extra from", "why", "supplier", "lengths", "cutoffs on hand"},
    )


def order_list(lines: Sequence[OrderLine]) -> Table:
    """The order for a terminal."""
    headings = ("item", "work", WORDS["offcut"], "extra", "needed", "on hand", "cost", "buy")
    return Table(
        headings,
        tuple(
            (
                line.item,
                "" if line.net is None else about(line.net, 2),
                "" if line.net is None else about(line.gross - line.net, 2),
                about(line.allowance, 2),
                about(line.needed, 2),
                about(line.on_hand, 2),
                "" if line.cost is None else money_written(line.cost, bare=True),
                _bought(line),
            )
            for line in lines
        ),
        frozenset(headings) - {"item", "buy"},
    )


def allowance_list(lines: Sequence[OrderLine]) -> Table:
    """Where the extra of each line came from, for a terminal; what it risks where it was learned.

    "4 times in 5" is the whole need, "over" what is left over on average, both in the item's own
    unit.
    """
    headings = ("item", "extra", "4 times in 5", "runs short", "over", "extra from")
    return Table(
        headings,
        tuple(
            (
                line.item,
                _percent(line.rate),
                "" if line.interval is None else _between(line.interval),
                "" if line.chance_short is None else f"{line.chance_short:.1%}",
                "" if line.left_over is None else f"{line.left_over:.2g}",
                line.source,
            )
            for line in lines
        ),
        frozenset(headings[1:5]),
    )


def order_sheet(lines: Sequence[OrderLine], notes: Sequence[str] = (), width: int = 100) -> str:
    """The order list as text, where its allowances came from, its total and what that lacks."""
    suppliers = by_supplier(lines)
    of = f"an allowance of {_rates(lines)}"
    if any(line.jobs is not None for line in lines):
        of = "the allowance"
    allowed = (
        f"extra is {of} for what cracks, is cut wrong or goes missing; "
        "cutoffs are what stock lengths and laps force, useful remainders too."
    )
    tables = [_listed(one, len(suppliers) > 1, width) for one in suppliers]
    if not lines:
        tables = [as_text(order_list(()), width)]
    if any(line.source != lines[0].source for line in lines):
        tables.append(as_text(allowance_list(lines), width))
    whys = {line.why for line in lines}
    if len(whys) > 1:
        tables.append(as_text(_why_list(lines), width))
    same = [f"all of it: {'; '.join(why)}" for why in whys if why and len(whys) == 1]
    sums = [_sum_of(one) for one in suppliers if one.supplier]
    paragraphs = [*same, *notes, *sums, _total(suppliers), allowed] if lines else list(notes)
    return "\n\n".join([*tables, *(textwrap.fill(plain(one), width) for one in paragraphs)])


def _listed(of: SupplierOrder, named: bool, width: int) -> str:
    """What is bought of one supplier, under its name where there are several."""
    table = as_text(order_list(of.lines), width)
    return f"{plain(of.supplier) or NO_SUPPLIER}\n\n{table}" if named else table


NO_SUPPLIER = "no supplier in the catalog"


def _sum_of(of: SupplierOrder) -> str:
    """What one supplier is paid, and what is lacking to its least order."""
    if of.cost is None:
        words = f"{of.supplier}: no prices in the catalog yet"
    else:
        words = f"{of.supplier}: {money_written(of.cost)}"
    if of.tax and of.total is not None:
        words += f", with {money_written(of.tax)} tax {money_written(of.total)}"
    if of.below and of.least_order is not None:
        words += (
            f"; that is {money_written(of.below)} below the least that it takes an order for, "
            f"{money_written(of.least_order)} before tax"
        )
    return words


def _total(suppliers: Sequence[SupplierOrder]) -> str:
    costs = [one.cost for one in suppliers if one.cost is not None]
    lacking = [item for one in suppliers for item in one.unpriced]
    if not costs:
        return "no prices in the catalog yet"
    cost, tax = sum(costs, Decimal()), sum((one.tax for one in suppliers), Decimal())
    total = f"total {money_written(cost)}"
    if tax:
        total += f", with {money_written(tax)} tax {money_written(cost + tax)}"
    if lacking:
        total += f", without {', '.join(lacking)}: no price in the catalog"
    return total


def _why_list(lines: Sequence[OrderLine]) -> Table:
    """Why each line is there."""
    return Table(
        ("item", "why it is here"), tuple((line.item, "; ".join(line.why)) for line in lines)
    )


def _rates(lines: Sequence[OrderLine]) -> str:
    """The commonest allowance, then those of the items that have another: "5% (fascia 10%)"."""
    counted = Counter(line.rate for line in lines).most_common()
    usual = counted[0][0] if counted else Fraction(0)
    others = [f"{line.item} {_percent(line.rate)}" for line in lines if line.rate != usual]
    return _percent(usual) + (f" ({', '.join(others)})" if others else "")


def _percent(share: Fraction) -> str:
    return f"{about(share * 100, 2)}%"


def _between(interval: Interval) -> str:
    return f"{_float(interval.low, 3)} to {_float(interval.high, 3)}"


def _float(value: float, figures: int | None = None) -> str:
    """All of it for a spreadsheet, or so many figures; never with an exponent."""
    if figures is None or value >= 1000:
        return f"{value:.4f}".rstrip("0").rstrip(".") if figures is None else f"{value:.0f}"
    return f"{value:.{figures}g}"


def works_table(works: Mapping[str, Work]) -> Table:
    """The kinds of work, what each wants to know and in what unit, and what is usual."""
    rows = []
    for work in works.values():
        rows.append((work.name, "", "", "", work.about))
        for measure in work.takes:
            usual = "needed" if measure.usual is None else tape(measure.usual)
            if measure.usual_formula:
                usual = (
                    f"as {measure.usual_formula}"
                    if measure.usual_formula.isidentifier()
                    else "worked out"
                )
            rows.append(("", measure.name, measure.unit, usual, measure.about))
    return Table(("work", "measure", "unit", "usual", "about"), tuple(rows))


def _plain_lines(text: str) -> str:
    """`plain`, but of many lines."""
    return "\n".join(map(plain, text.split("\n")))


def _sums(needs: Sequence[Need]) -> Table:
    return Table(
        ("item", "unit", "net", "gross"),
        tuple(
            (
                need.item.name,
                need.item.unit,
                "-" if need.net is None else _short(need.net),
                _short(need.gross),
            )
            for need in needs
        ),
        frozenset(("net", "gross")),
    )


def _at(place: str) -> str:
    return f"{place}, " if place else ""


def _wrapped(text: str, width: int) -> list[str]:
    indent = " " * 6
    return textwrap.wrap(
        text, width, initial_indent=indent, subsequent_indent=indent + "  ", break_long_words=False
    )


def _short(quantity: Fraction) -> str:
    return shown(Amount(quantity))


def _bought(line: OrderLine) -> str:
    if not line.packs:
        return "none"
    if line.lengths:
        return _in_lengths(line)
    bought = units_of(line.bought, line.unit, line.item)
    packs = units_of(Fraction(line.packs), line.pack_name)
    return f"{packs} ({bought})" if line.pack_name else bought


def _in_lengths(line: OrderLine) -> str:
    """What is bought in which length: "4 of 12 ft; 2 boxes of 16 ft (20)"."""
    parts = []
    for one in line.lengths:
        count = about(one.pieces)
        if line.pack_name:
            packs = units_of(Fraction(one.packs), line.pack_name)
            parts.append(f"{packs} of {feet_and_inches(one.length)} ({count})")
        else:
            parts.append(f"{count} of {feet_and_inches(one.length)}")
    return "; ".join(parts)


def _money(cost: Decimal | None) -> str:
    return "" if cost is None else f"{cost:.2f}"
