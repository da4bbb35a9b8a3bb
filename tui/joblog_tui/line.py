"""One line of the squared-up job: figures in columns, what they mean, and what stands behind it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from textual.content import Content

from joblog.form import amount
from joblog.model import StockLine
from joblog_tui.wording import counted, in_doubt


@dataclass(frozen=True, slots=True)
class Line:
    """`head` names its columns, `meaning` explains it in words."""

    head: str
    shown: str
    meaning: Content
    entries: tuple[int, ...] = ()
    left_out: tuple[int, ...] = ()
    doubtful: bool = False


def not_counted(left_out: tuple[int, ...]) -> list[Content]:
    """That entries of a line are in no figure of it; empty where none is left out."""
    if not left_out:
        return []
    count = counted(len(left_out), "entry is", "entries are")
    return [in_doubt(f"{count} not counted: in doubt, or in another unit.")]


def all_told(line: StockLine) -> bool:
    """False where what was used may not all be told: then work and unexplained may be each other's,
    and both are in question."""
    return (
        not line.left_out and line.consumed is not None and bool(line.placed or not line.consumed)
    )


def or_dash(quantity: Fraction) -> str:
    """An amount; nothing that came or went is a dash, which is quieter than a figure."""
    return amount(quantity) if quantity else "-"


def than_planned(difference: Fraction | Decimal | None, size: str) -> str:
    """Such as "2 more than planned", of a difference and how its size is shown."""
    if difference is None:
        return "how much more or less than planned is not known"
    if not difference:
        return "just as planned"
    return f"{size} {'more' if difference > 0 else 'less'} than planned"
