"""What is filled in line by line: a new fact, and what the record turned out to miss."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Literal

from joblog.book import decisions
from joblog.form import describe
from joblog.model import BookEntry, Doubt, Entry, Gap, Kind, Reading, Reconciliation
from joblog.service.desk import Desk, remember
from joblog.service.editing import change_of, in_its_own_unit, names, not_known, read_entry
from joblog.service.errors import FieldError, ServiceError, use_case


@use_case
def filled_in(desk: Desk, kind: Kind, values: Mapping[str, str], at: datetime) -> Entry:
    """The fact of that kind which these lines come to, by the names of its fields.

    Raises `FieldError`, which names the line, for what it cannot hold and for what it needs.
    """
    entry = Entry(kind)
    for field in names(kind):
        if field != "kind" and values.get(field, "").strip():
            draft = BookEntry(0, 1, at, entry, (), "heard", "typed", at, "")
            try:
                entry = change_of(desk, draft, field, values[field]).becomes
            except ServiceError as wrong:
                raise FieldError(str(wrong), field) from None
    needed = _NEEDS.get(kind, ())
    for wanted in needed:
        if all(getattr(entry, field) is None for field in wanted):
            raise FieldError(_ASKS[wanted[0]], wanted[0])
    if entry == Entry(kind):
        raise FieldError("nothing is filled in yet", "note")
    return in_its_own_unit(desk, entry)


_NEEDS: Mapping[str, tuple[tuple[str, ...], ...]] = {
    **dict.fromkeys(
        ("used", "spoiled", "delivered", "returned", "on_hand"), (("item",), ("quantity",))
    ),
    "moved": (("item",), ("quantity",), ("from_job", "to_job")),
    "needed": (("item", "note"),),
    "measure": (("inches", "square_inches", "pitch", "top"),),
    "corner": (("corner",),),
    "wall_opening": (("width",), ("height",)),
    "interruption": (("at",), ("length",)),
    "start": (("time",),),
    "stop": (("time",),),
    "break": (("minutes",),),
    "labor": (("hours", "quantity"),),
    "weather": (("fahrenheit", "note"),),
    "todo": (("note", "item"),),
    "extra": (("note", "price", "hours"),),
    "price": (("item",), ("unit_cost",)),
    "expense": (("price",),),
    "drive": (("miles", "minutes"),),
    "note": (("note",),),
    "problem": (("note",),),
}
"""Without which of its fields a kind says nothing; of several one is enough."""
_ASKS = {
    "item": "of what?",
    "quantity": "how many?",
    "from_job": "from which job, or to which?",
    "inches": "what did it measure?",
    "corner": "outside, inside, end or around?",
    "width": "how wide?",
    "height": "how high?",
    "at": "how far along the side does it begin?",
    "length": "how long is it along the side?",
    "time": "when?",
    "minutes": "how many minutes?",
    "hours": "how many hours?",
    "fahrenheit": "how warm was it?",
    "note": "in what words?",
    "unit_cost": "what does one cost?",
    "price": "how much was it?",
    "miles": "how many miles?",
}


@use_case
def keep_filled_in(desk: Desk, entries: Sequence[Entry], at: datetime) -> tuple[BookEntry, ...]:
    """Keeps facts that were filled in, at a moment of the job, in one step; the entries."""
    remember(desk)
    said = [
        (Reading((entry,), tuple(Doubt(0, why) for why in not_known(desk, entry))), _words(entry))
        for entry in entries
    ]
    ids = decisions.write_down(desk.book, desk.job.name, said, at.astimezone(UTC))
    return tuple(read_entry(desk, id) for theirs in ids for id in theirs)


def _words(entry: Entry) -> str:
    return describe(entry).replace(": ", " ", 1)


# --- what the record misses -------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that the squared-up job misses and that can be told on the spot."""

    what: Literal["count", "hours", "done", "turns"]
    """A count of what is left, the hours of a task, how much was done in them, when work of a day
    started and stopped."""
    name: str = ""
    """The item or the task."""
    unit: str = ""
    """That it is counted in."""
    day: date | None = None


def missing_of(gap: Gap, squared: Reconciliation) -> Missing | None:
    """What would fill a gap of the record; None where nothing told would do."""
    if gap.contradiction:
        return None
    if gap.settled_by == "count" and gap.name:
        return Missing("count", gap.name, gap.unit)
    if gap.settled_by == "done":
        return Missing("done", gap.name, gap.unit)
    if gap.settled_by == "hours" and gap.name:
        unit = next((one.unit for one in squared.tasks if one.task == gap.name), "")
        return Missing("hours", gap.name, unit)
    if gap.settled_by == "hours":
        without = (line for line in squared.days if line.crew_hours is None)
        day = next((line.day for line in without if line.entries == gap.entries), None)
        return None if day is None else Missing("turns", day=day)
    return None


@use_case
def filling(
    desk: Desk, missing: Missing, values: Mapping[str, str], at: datetime
) -> tuple[Entry, ...]:
    """The facts that these lines come to: "quantity" and "unit" of a count; "hours", "workers" and
    "quantity" done of a task; "start", "stop" and "workers" of a day.

    Raises `FieldError` as `filled_in`.
    """
    if missing.what == "count":
        return (filled_in(desk, "on_hand", {**values, "item": missing.name}, at),)
    if missing.what == "hours":
        unit = {"unit": missing.unit} if missing.unit and values.get("quantity") else {}
        return (filled_in(desk, "labor", {**values, "task": missing.name, **unit}, at),)
    told: list[Entry] = []
    for kind in _TURNS:
        if values.get(kind, "").strip():
            turn = {"time": values[kind], "workers": values.get("workers", "")}
            try:
                told.append(filled_in(desk, kind, turn, at))
            except FieldError as wrong:
                field = "workers" if wrong.field == "workers" else kind
                raise FieldError(str(wrong), field) from None
    if not told:
        raise FieldError("when did work start, or stop?", "start")
    return tuple(told)


_TURNS: tuple[Kind, ...] = ("start", "stop")
