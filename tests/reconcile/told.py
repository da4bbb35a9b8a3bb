"""Entries of an invented job, told one a minute."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from fractions import Fraction

from joblog.model import BookEntry, Entry, Item, Job, Plan, PlannedItem, PlannedTask, Task

JOB = Job("invented", "America/New_York")
BEGIN = datetime(2026, 10, 5, 12, tzinfo=UTC)
PANEL = Item("panel", "sheet", stock_length=Fraction(144), kerf=Fraction(1, 8))
HANG = Task("hang", unit="ft")
PLAN = Plan(
    items=(PlannedItem(PANEL, Fraction(10), Decimal("20.00"), Fraction(1)),),
    tasks=(PlannedTask(HANG, Fraction(8), Decimal("50.00"), Fraction(80)),),
)


def kept(
    number: int,
    entry: Entry,
    *doubts: str,
    standing: str = "heard",
    minutes: int | None = None,
    typed: bool = False,
) -> BookEntry:
    """One entry of the book, told so many minutes after the begin (its number, unless said)."""
    at = BEGIN + timedelta(minutes=number if minutes is None else minutes)
    heard_in = None if typed else 1
    return BookEntry(number, 1, at, entry, doubts, standing, "heard", at, "", heard_in)  # type: ignore[arg-type]


def book(*entries: Entry) -> list[BookEntry]:
    return [kept(number, entry) for number, entry in enumerate(entries, 1)]


def stock(kind: str, quantity: object, unit: str = "sheet", **more: object) -> Entry:
    return Entry(kind, item="panel", quantity=Fraction(str(quantity)), unit=unit, **more)  # type: ignore[arg-type]


def cut(pieces: int, inches: object, **more: object) -> Entry:
    length = Fraction(str(inches))
    return Entry("measure", item="panel", inches=length, pieces=pieces, **more)  # type: ignore[arg-type]


def hours(worked: object, **more: object) -> Entry:
    return Entry("labor", hours=Fraction(str(worked)), task="hang", **more)  # type: ignore[arg-type]
