"""Why the job cost more or less than planned, in money: material, then labor."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from textual.content import Content

from joblog.form import WORDS, plain
from joblog.model import (
    Gap,
    LaborVariance,
    MoneyVariance,
    Reconciliation,
    StockLine,
    TaskLine,
)
from joblog.report.differences import in_words
from joblog.report.figures import (
    in_question,
    money_parts,
    money_shown,
    signed_money,
    than_planned,
    together,
    why_in_question,
    why_not_known,
)
from joblog.report.words import short_heads
from joblog_tui.columns import in_columns
from joblog_tui.squared_row import SquaredRow, not_counted
from joblog_tui.wording import in_doubt

MATERIAL = ("total", "scope", "usage", "offcut", "handling", "unaccounted", "price")
LABOR = ("total", "scope", "efficiency", "rate")


def costs(squared: Reconciliation, width: int = 78) -> tuple[SquaredRow, ...]:
    """One line a material and a line of their sums, then the same of tasks."""
    return (*_material(squared, width), *_labor(squared, width))


# --- material ---------------------------------------------------------------------------------


def _material(squared: Reconciliation, width: int) -> Iterable[SquaredRow]:
    uncounted = {gap.name: gap for gap in squared.gaps if gap.settled_by == "count"}
    lines = [line for line in squared.stock if line.money is not None]
    names = [plain(line.item) for line in lines]
    rows = [money_parts(line, squared) for line in lines]
    summed = [line for line in lines if line.item in squared.material_of]
    if squared.material is not None and len(lines) > 1:
        names.append(together(len(summed), len(lines)))
        rows.append(_sums(squared.material))
    heads, shown = in_columns("material", short_heads(*MATERIAL), names, rows, width)
    for text, line, row in zip(shown, lines, rows, strict=False):
        meaning = _meaning(line, uncounted.get(line.item), _parts(MATERIAL, row))
        yield SquaredRow(heads, text, meaning, line.entries, line.left_out, bool(line.left_out))
    if squared.material is not None and len(lines) > 1:
        yield SquaredRow(heads, shown[-1], _all_material(squared.material, summed), _behind(summed))


def _sums(parts: MoneyVariance) -> tuple[str, ...]:
    known = (parts.scope, parts.usage, parts.offcut, parts.handling, parts.unaccounted)
    return tuple(map(signed_money, (parts.total, *known, parts.price)))


def _meaning(line: StockLine, gap: Gap | None, made: Content) -> Content:
    assert line.money is not None
    planned = "not in the plan" if line.planned is None else f"planned {_of(line.planned_cost)}"
    parts = [
        Content.assemble(
            (plain(line.item), "bold"),
            f": {planned}, actual {_of(line.actual_cost)}; {_differs(line.money.total)}",
        )
    ]
    if line.money.total is not None and not in_question(line):
        made = Content(in_words(line.money))
    if line.money.total is None:
        hidden = "" if gap is None or gap.money is None else f": up to {_of(gap.money)} of it"
        parts.append(in_doubt(f"{why_not_known(line)}, so it may have cost more{hidden}."))
    elif why := why_in_question(line):
        parts.append(in_doubt(why))
    return Content("\n").join([*parts, made, _MATERIAL_WORDS, *not_counted(line.left_out)])


_MATERIAL_WORDS = Content(
    "work: there was more or less to do. usage: more or less was installed on it. cutoffs: left of "
    "stock lengths. wasted: beyond what the plan allows. unexplained: nobody knows. price: "
    "paid other than planned."
)


def _all_material(parts: MoneyVariance, summed: list[StockLine]) -> Content:
    planned = sum((line.planned_cost or Decimal(0) for line in summed), Decimal(0))
    return Content.assemble(
        ("material together", "bold"),
        f": planned {_of(planned)}; {_differs(parts.total)}\n",
        f"Of {', '.join(plain(line.item) for line in summed)}; others are not known to the end.\n"
        if summed
        else "",
        _MATERIAL_WORDS,
    )


# --- labor ------------------------------------------------------------------------------------


def _labor(squared: Reconciliation, width: int) -> Iterable[SquaredRow]:
    missing = {gap.name: gap for gap in reversed(squared.gaps)}
    lines = [line for line in squared.tasks if _priced(line)]
    names = [plain(line.task) for line in lines]
    rows = [_labor_cells(line.variance) for line in lines]
    known = [line for line in lines if line.variance and line.variance.total is not None]
    summed = squared.labor is not None and squared.labor.total is not None and len(lines) > 1
    if summed:
        names.append(together(len(known), len(lines)))
        rows.append(_labor_cells(squared.labor))
    heads, shown = in_columns("labor", short_heads(*LABOR), names, rows, width)
    for text, line, row in zip(shown, lines, rows, strict=False):
        meaning = _labor_meaning(line, _parts(LABOR, row), missing.get(line.task))
        yield SquaredRow(heads, text, meaning, line.entries, line.left_out, bool(line.left_out))
    if summed and squared.labor is not None:
        open_ones = [line.task for line in known if line.variance and line.variance.scope is None]
        named = ", ".join(map(plain, open_ones))
        words = Content.assemble(
            ("labor together", "bold"),
            f": {_differs(squared.labor.total)}\n",
            in_doubt(f"How much was done is not known of {named}.\n") if open_ones else "",
            _LABOR_WORDS,
        )
        yield SquaredRow(heads, shown[-1], words, _behind(known))


def _priced(line: TaskLine) -> bool:
    return line.planned_cost is not None or line.actual_cost is not None


def _labor_cells(parts: LaborVariance | None) -> tuple[str, ...]:
    if parts is None:
        return ("?",) * len(LABOR)
    return tuple(map(signed_money, (parts.total, parts.scope, parts.efficiency, parts.rate)))


def _labor_meaning(line: TaskLine, made: Content, gap: Gap | None) -> Content:
    planned = "not in the plan" if line.planned is None else f"planned {_of(line.planned_cost)}"
    real = _of(line.actual_cost) if line.entries else "not said"
    total = None if line.variance is None else line.variance.total
    return Content("\n").join(
        [
            Content.assemble(
                (plain(line.task), "bold"), f": {planned}, actual {real}; {_differs(total)}"
            ),
            made,
            *([in_doubt(f"{plain(gap.text)}.")] if gap else []),
            _LABOR_WORDS,
            *not_counted(line.left_out),
        ]
    )


_LABOR_WORDS = Content(
    "work: there was more or less to do. pace: it went slower (+) or faster (-). "
    "pay: an hour cost other than planned."
)


# --- both -------------------------------------------------------------------------------------


def _parts(fields: tuple[str, ...], row: tuple[str, ...]) -> Content:
    """The figures of a line in words, for a screen too narrow for all of its columns."""
    named = zip(fields[1:], row[1:], strict=True)
    return Content(", ".join(f"{WORDS[field]} {figure}" for field, figure in named))


def _differs(total: Decimal | None) -> str:
    return than_planned(total, "" if total is None else money_shown(abs(total)))


def _of(cost: Decimal | None) -> str:
    return "at no known price" if cost is None else money_shown(cost)


def _behind(lines: Iterable[StockLine] | Iterable[TaskLine]) -> tuple[int, ...]:
    return tuple(dict.fromkeys(entry for line in lines for entry in line.entries))
