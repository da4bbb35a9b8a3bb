"""What is in the bin, and what became of one thing, as tables."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from itertools import pairwise
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from joblog.local import moment_written
from joblog.report.table import Shown, Table

if TYPE_CHECKING:
    from joblog.book.bin import Binned
    from joblog.book.changes import Changed


def bin_list(found: Sequence[Binned], zones: Mapping[str, str], zone: str) -> Table:
    """What is in the bin, a row for each step that took anything away, what went last first."""
    return Table(
        ("number", "when", "job", "how", "what"),
        tuple(
            (
                str(one.step.id),
                _minute(one.at, zones.get(next(iter(one.step.jobs), ""), zone)),
                ", ".join(one.step.jobs) or "all",
                how_it_went(one),
                _things(one.things),
            )
            for one in found
        ),
        frozenset({"number"}),
    )


def _things(things: Sequence[str]) -> str:
    more = f" and {len(things) - _FEW} more" if len(things) > _FEW else ""
    return Shown("; ".join(things[:_FEW]) + more, "; ".join(things))


_FEW = 4


def how_it_went(one: Binned) -> str:
    """The step by which it went, in few words: "dropped", "taken back: wrote"."""
    what = one.step.what.partition(": ")[0]
    return what if one.step.state == "done" else f"taken back: {what}"


def change_list(found: Sequence[Changed], zone: str) -> Table:
    """What became of an entry, oldest first; a "?" stands before its doubts."""
    return Table(
        ("version", "when", "who", "how", "step", "what"),
        tuple(
            (
                str(one.version),
                _minute(one.at, zone),
                one.who,
                one.how,
                "" if one.step is None else str(one.step),
                f"{_counted(one)}{_beside(before, one, zone)}{_doubts(one)}",
            )
            for before, one in pairwise((None, *found))
            if one is not None
        ),
        frozenset({"version", "step"}),
    )


def decided_list(found: Sequence[Changed], zone: str) -> Table:
    """What was decided of an original or a line of the catalog, oldest first."""
    return Table(
        ("step", "when", "who", "how", "what"),
        tuple(
            (
                "" if one.step is None else str(one.step),
                _minute(one.at, zone),
                one.who,
                one.how,
                one.what,
            )
            for one in found
        ),
        frozenset({"step"}),
    )


def _counted(one: Changed) -> str:
    return one.what if one.stands else f"counts no more: {one.what}"


def _beside(before: Changed | None, one: Changed, zone: str) -> str:
    """What else is otherwise than before, and by what where the word for it does not tell."""
    parts = (
        [f"said: {one.said}"] if one.said and (before is None or one.said != before.said) else []
    )
    if before is not None:
        parts += [f"in {one.job}"] if one.job != before.job else []
        if one.moment != before.moment and one.moment is not None:
            parts.append(f"at {_minute(one.moment, zone)}")
    parts += [one.why] if one.how in _BY and one.why else []
    return f" ({'; '.join(parts)})" if parts else ""


_BY = frozenset({"undone", "redone", "restored", "withdrawn", "merged", "split"})


def _doubts(one: Changed) -> str:
    return f" ? {'; '.join(one.doubts)}" if one.doubts else ""


def _minute(at: datetime, zone: str) -> str:
    local = at.astimezone(ZoneInfo(zone))
    return Shown(moment_written(local), f"{local:%Y-%m-%d %H:%M}")
