"""Why material was wasted, in the words it was told, the dearest first."""

from __future__ import annotations

from textual.content import Content

from joblog.form import plain, units_of
from joblog.model import Reason, Reconciliation
from joblog.report.figures import money_shown
from joblog_tui.columns import in_columns
from joblog_tui.squared_row import SquaredRow


def why(squared: Reconciliation, width: int = 78) -> tuple[SquaredRow, ...]:
    """One line a reason."""
    names = [f"{plain(one.item)}: {plain(one.text)}" for one in squared.reasons]
    rows = [
        (units_of(one.quantity, plain(one.unit), one.item), money_shown(one.cost))
        for one in squared.reasons
    ]
    heads, shown = in_columns("why it was wasted", ("how much", "cost"), names, rows, width)
    return tuple(
        SquaredRow(heads, text, _meaning(one), one.entries)
        for text, one in zip(shown, squared.reasons, strict=True)
    )


def _meaning(one: Reason) -> Content:
    cost = "no price is known" if one.cost is None else f"it cost {money_shown(one.cost)}"
    return Content.assemble(
        (plain(one.text), "bold"),
        f"\n{units_of(one.quantity, plain(one.unit), one.item)} of {plain(one.item)}; {cost}",
    )
