"""One line of the squared-up job: figures in columns, what they mean, and what stands behind it."""

from __future__ import annotations

from dataclasses import dataclass

from textual.content import Content

from joblog.service.filling_in import Missing
from joblog_tui.wording import counted, in_doubt


@dataclass(frozen=True, slots=True)
class SquaredRow:
    """`head` names its columns, `meaning` explains it in words."""

    head: str
    shown: str
    meaning: Content
    entries: tuple[int, ...] = ()
    left_out: tuple[int, ...] = ()
    doubtful: bool = False
    missing: Missing | None = None
    """What can be told on the spot to fill it; None where nothing of it is missing."""


def not_counted(left_out: tuple[int, ...]) -> list[Content]:
    """That entries of a line are in no figure of it; empty where none is left out."""
    if not left_out:
        return []
    count = counted(len(left_out), "entry is", "entries are")
    return [in_doubt(f"{count} not counted: in doubt, or in another unit.")]
