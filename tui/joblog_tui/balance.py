"""The balance of every material in lines that fit the screen, each explained in words."""

from __future__ import annotations

from textual.content import Content

from joblog.form import WORDS, plain, unit_shown
from joblog.form import amount as in_words
from joblog.model import QuantityVariance, Reconciliation, StockLine
from joblog.report.differences import in_words as parts_in_words
from joblog.report.figures import (
    allowed,
    amount,
    gone,
    in_question,
    is_carried,
    or_dash,
    signed,
    than_planned,
    unexplained,
    why_in_question,
    why_not_known,
)
from joblog.report.words import short_heads
from joblog.service.filling_in import Missing
from joblog_tui.columns import in_columns
from joblog_tui.squared_row import SquaredRow, not_counted
from joblog_tui.wording import in_doubt

CAME = ("planned", "opening", "delivered", "returned")
CARRIED = ("moved_in", "moved_out")
"""Only where anything was carried between this job and others."""
GONE = ("on_hand", "consumed", "placed", "spoiled", "offcut", "unaccounted")
HEADS = short_heads(*CAME, *GONE)


def balance(squared: Reconciliation, width: int = 78) -> tuple[SquaredRow, ...]:
    """One line a material; none is wider than `width`."""
    names = [f"{plain(line.item)}, {_unit(line)}" for line in squared.stock]
    carried = is_carried(squared)
    fields = (*CAME, *(CARRIED if carried else ()), *GONE)
    rows = [_cells(line, carried) for line in squared.stock]
    heads, shown = in_columns("material", short_heads(*fields), names, rows, width)
    return tuple(
        SquaredRow(
            heads,
            text,
            _meaning(line),
            line.entries,
            line.left_out,
            bool(line.left_out),
            Missing("count", line.item, line.unit) if line.on_hand is None else None,
        )
        for text, line in zip(shown, squared.stock, strict=True)
    )


def _cells(line: StockLine, carried: bool) -> tuple[str, ...]:
    moved = (line.opening, line.delivered, line.returned)
    between = (line.moved_in, line.moved_out) if carried else ()
    accounted = (line.placed, line.spoiled, line.offcut)
    return (
        amount(line.planned) if line.planned is not None else "-",
        *map(or_dash, (*moved, *between)),
        amount(line.on_hand),
        gone(line),
        *map(or_dash, accounted),
        unexplained(line),
    )


def _meaning(line: StockLine) -> Content:
    parts: list[Content] = [
        Content.assemble(
            (plain(line.item), "bold"),
            f", in {_unit(line, many=True)}: ",
            "not in the plan" if line.planned is None else f"planned {in_words(line.planned)}",
        ),
        Content(_sum(line)),
        _accounted(line),
    ]
    if line.kept:
        kept = in_words(line.kept)
        parts.append(
            Content(f"{WORDS['on_hand']}: {kept} of it offcuts of what was told installed")
        )
    if line.variance is not None and line.planned is not None:
        if line.allowed is not None:
            parts.append(_allowed(line))
        parts.append(_against_the_plan(line.variance, in_question(line)))
        if line.consumed is not None and (why := why_in_question(line)):
            parts.append(in_doubt(why))
    if line.consumed is not None and 0 < line.unpriced < line.consumed:
        many = in_words(line.unpriced)
        parts.append(
            in_doubt(
                f"Nobody told what {many} of them cost: they are taken at the plan's price,"
                " or at what the others cost."
            )
        )
    if line.reasons:
        why = "; ".join(f"{in_words(count)} {plain(reason)}" for reason, count in line.reasons)
        parts.append(Content(f"{WORDS['spoiled']}: {why}"))
    return Content("\n").join([*parts, *not_counted(line.left_out)])


def _unit(line: StockLine, *, many: bool = False) -> str:
    return plain(unit_shown(line.unit, line.item, many=many))


def _said(line: StockLine, field: str) -> str:
    return f"{WORDS[field]} {in_words(getattr(line, field))}"


def _sum(line: StockLine) -> str:
    came = f"{_said(line, 'opening')} + {_said(line, 'delivered')}{_between(line, 'moved_in', '+')}"
    went = f"{_said(line, 'returned')}{_between(line, 'moved_out', '-')}"
    return f"{came} - {went} - {_said(line, 'on_hand')} = {_said(line, 'consumed')}"


def _between(line: StockLine, field: str, sign: str) -> str:
    """What was carried between this job and others, where anything was."""
    return f" {sign} {_said(line, field)}" if getattr(line, field) else ""


def _accounted(line: StockLine) -> Content:
    accounted = " + ".join(_said(line, part) for part in ("placed", "spoiled", "offcut"))
    if line.consumed is not None:
        return Content(f"{_said(line, 'consumed')} = {accounted} + {_said(line, 'unaccounted')}")
    if line.at_least > line.at_most:
        return in_doubt(
            f"More is gone ({accounted}) than ever came ({in_words(line.at_most)}):"
            " a delivery was not said, or a count is wrong."
        )
    return in_doubt(
        f"{why_not_known(line)}, so what is gone is not known: "
        f"at least {in_words(line.at_least)} ({accounted}), at most {in_words(line.at_most)}."
    )


def _allowed(line: StockLine) -> Content:
    return Content(f"{WORDS['allowed']} {allowed(line)}: {line.allowed_by}")


def _against_the_plan(parts: QuantityVariance, unsure: frozenset[str]) -> Content:
    total = parts.total
    whole = than_planned(total, in_words(abs(total)) if total else "")
    if not unsure and total is not None:
        return Content(": ".join(filter(None, (whole, parts_in_words(parts)))))
    made = (
        f"{WORDS[part]} {signed(getattr(parts, part)).rstrip('?')}"
        f"{'?' if part in unsure or getattr(parts, part) is None else ''}"
        for part in ("scope", "usage", "offcut", "handling", "unaccounted")
    )
    return Content(f"{whole}: {', '.join(made)}")
