"""Jobs that were bid on, worked and closed, for tests: ten, thirty days apart, each slower than the
one before."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.bid.planned import plan_of
from joblog.bid.said import with_said
from joblog.bid.work_out import names_of, work_out
from joblog.book import Book, bids, decisions
from joblog.model import Entry, Job, Reading
from joblog.service import closing, open_desk
from tests.bid.a_basis import basis

ZONE = "America/Chicago"
FIRST = date(2026, 1, 12)
SAID = (("margin", "20%"), ("miles", "100"), ("mile rate", "0.70"))


def fill_closed(book: Book, jobs: int = 10) -> None:
    """Job n of them took 12 + n man-hours of the 13 that were bid, and spoiled n panels of 20."""
    for number in range(jobs):
        house = ("Mill house", "Hale", "Barn")[number % 3]
        close_one(book, f"{house}, job {number + 1}", FIRST + timedelta(days=30 * number), number)


def close_one(book: Book, name: str, day: date, number: int) -> None:
    book.add_job(Job(name, ZONE))
    of = basis()
    bid = work_out(name, day, of, with_said((), SAID, names_of(of)))
    bids.keep_bid(book, bid, plan_of(bid))
    evening = datetime(day.year, day.month, day.day, 18, tzinfo=ZoneInfo(ZONE))
    decisions.add_typed(book, name, Reading(told(number)), "told", evening)
    desk = open_desk(book, name)
    closing.close(desk, closing.draft_closing(desk))


def told(number: int) -> tuple[Entry, ...]:
    def stock(kind: str, item: str, unit: str, quantity: int, **more: object) -> Entry:
        return Entry(kind, item=item, quantity=Fraction(quantity), unit=unit, **more)  # type: ignore[arg-type]

    hours = Entry(
        "labor", hours=Fraction(12 + number, 1 + number % 2), workers=1 + number % 2,
        task="hang soffit", quantity=Fraction(65), unit="ft",
    )  # fmt: skip
    panels = [
        stock("delivered", "soffit panel", "sheet", 20, unit_cost=Decimal("31.25")),
        stock("used", "soffit panel", "sheet", 20 - number),
        stock("on_hand", "soffit panel", "sheet", 0),
        stock("delivered", "trim nails", "each", 820, unit_cost=Decimal("0.015")),
        stock("used", "trim nails", "each", 820),
        stock("on_hand", "trim nails", "each", 0),
    ]
    if number:
        panels.append(stock("spoiled", "soffit panel", "sheet", number, reason="cut too short"))
    extra = Entry("extra", note="gutter guards, she agreed", price=Decimal("450"), who="Mrs Hale")
    return (*panels, hours, extra, Entry("expense", note="permit", price=Decimal("85")))
