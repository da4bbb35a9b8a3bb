"""The balance of every material in lines that fit the screen, each explained in words."""

from __future__ import annotations

from fractions import Fraction

from textual.content import Content

from joblog.form import amount, plain
from joblog.model import QuantityVariance, Reconciliation, StockLine
from joblog.report.figures import signed
from joblog_tui.columns import in_columns
from joblog_tui.line import Line, all_told, not_counted, or_dash, than_planned
from joblog_tui.wording import in_doubt

HEADS = (
    "plan", "had", "came", "back", "left", "gone", "used", "spoil", "cut", "unexp",
)  # fmt: skip


def balance(squared: Reconciliation, width: int = 78) -> tuple[Line, ...]:
    """One line a material; none is wider than `width`."""
    names = [f"{plain(line.item)}, {plain(line.unit)}" for line in squared.stock]
    rows = [_cells(line) for line in squared.stock]
    heads, shown = in_columns("material", HEADS, names, rows, width)
    return tuple(
        Line(heads, text, _meaning(line), line.entries, line.left_out, bool(line.left_out))
        for text, line in zip(shown, squared.stock, strict=True)
    )


def between(low: Fraction, high: Fraction) -> str:
    """An amount that is not known, with its range: "13-16?"; "13-?" when the record has a gap."""
    if low > high:
        return f"{amount(low)}-?"
    if low == high:
        return f"{amount(low)}?"
    return f"{amount(low)}-{amount(high)}?"


def unexplained(line: StockLine) -> str:
    """What nobody accounts for, or from nothing to how much a missing count may hide."""
    if line.unaccounted is not None:
        return f"{amount(line.unaccounted)}{'?' if line.left_out else ''}"
    return between(Fraction(0), line.at_most - line.at_least) if _counts_agree(line) else "?"


def _counts_agree(line: StockLine) -> bool:
    return line.at_least <= line.at_most


def _cells(line: StockLine) -> tuple[str, ...]:
    gone = amount(line.consumed)
    if line.consumed is None:
        gone = between(line.at_least, line.at_most)
    moved = (line.opening, line.delivered, line.returned)
    accounted = (line.placed, line.spoiled, line.offcut)
    return (
        amount(line.planned) if line.planned is not None else "-",
        *map(or_dash, moved),
        amount(line.on_hand),
        gone,
        *map(or_dash, accounted),
        unexplained(line),
    )


def _meaning(line: StockLine) -> Content:
    unit = plain(line.unit)
    parts: list[Content] = [
        Content.assemble(
            (plain(line.item), "bold"),
            f", in {unit}: ",
            "not in the plan" if line.planned is None else f"planned {amount(line.planned)}",
        ),
        Content(
            f"had {amount(line.opening)} + came {amount(line.delivered)}"
            f" - went back {amount(line.returned)} - left {amount(line.on_hand)}"
            f" = gone {amount(line.consumed)}"
        ),
        _accounted(line),
    ]
    if line.variance is not None and line.planned is not None:
        parts.append(_against_the_plan(line.variance, all_told(line)))
    if line.reasons:
        why = "; ".join(f"{amount(count)} {plain(reason)}" for reason, count in line.reasons)
        parts.append(Content(f"spoiled: {why}"))
    return Content("\n").join([*parts, *not_counted(line.left_out)])


def _accounted(line: StockLine) -> Content:
    accounted = (
        f"used {amount(line.placed)} + spoiled {amount(line.spoiled)}"
        f" + cut off {amount(line.offcut)}"
    )
    if line.consumed is not None:
        return Content(
            f"gone {amount(line.consumed)} = {accounted} + unexplained {amount(line.unaccounted)}"
        )
    if not _counts_agree(line):
        return in_doubt(
            f"More is gone ({accounted}) than ever came ({amount(line.at_most)}):"
            " a delivery was not said, or a count is wrong."
        )
    return in_doubt(
        "Nobody counted what was left, so what is gone is not known: "
        f"at least {amount(line.at_least)} ({accounted}), at most {amount(line.at_most)}."
    )


def _against_the_plan(parts: QuantityVariance, told: bool) -> Content:
    total, unsure = parts.total, "" if told else "?"
    whole = than_planned(total, amount(abs(total)) if total else "")
    return Content(
        f"{whole}: work {signed(parts.scope)}{unsure}, "
        f"cut off {signed(parts.offcut)}, handling {signed(parts.handling)}, "
        f"unexplained {signed(parts.unaccounted).rstrip('?')}{unsure}"
    )
