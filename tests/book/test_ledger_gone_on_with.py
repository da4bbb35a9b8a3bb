"""Going on with the stock ledger from where it stood tells what going through all jobs again does.

Random lives of several jobs, with all that can change one afterwards; after each step every job is
asked, in the book at hand and now and then in one that was opened anew. All of it is invented.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from random import Random

import pytest

from joblog.book import Book, BookError, closed, decisions, moves, steps, stood
from joblog.book.making import FILE
from joblog.book.moves import came_to, ledger_of_all
from joblog.book.transfers import came_told
from joblog.model import STOCK, Entry, Item, Job, Moved, Plan, PlannedItem, Reading
from joblog.reconcile import reconcile

ITEMS = (Item("soffit panel", "sheet"), Item("rafter vent", "each"))
NAMES = ("Mill porch", "Oak Street", "Elm barn", "Ash yard", "Birch shed")
UNKNOWN = "nobody's"
BEGIN = datetime(2026, 3, 2, 14, tzinfo=UTC)


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Book]:
    # As if the jobs were many: how all stood is noted at many moments, and written every time.
    monkeypatch.setattr(moves, "FEW", 0)
    with Book.create(tmp_path / "book") as new:
        for name in NAMES[:-1]:
            begin(new, name)
        begin(new, NAMES[0], 2)
        yield new


def begin(book: Book, name: str, opening: int = 0) -> None:
    if name not in book.names_of_jobs():
        book.add_job(Job(name, "America/New_York"))
    lines = (PlannedItem(item, Fraction(10), opening=Fraction(opening)) for item in ITEMS)
    decisions.load_plan(book, name, Plan(tuple(lines)))


@pytest.mark.parametrize("seed", range(10))
def test_what_came_is_the_same_as_worked_out_anew_after_any_change(book: Book, seed: int) -> None:
    draw = Random(seed)
    add(book, draw, NAMES[0])
    gone_on = 0
    for _ in range(35):
        with suppress(BookError):  # Not everything can be done at any time.
            step(book, draw)
        check(book)
        gone_on += len(stood.kept_of(book, repr(book.catalog().items)).moments)
        if not draw.randrange(5):
            with Book.open(book.folder) as anew:
                check(anew)
    assert gone_on
    assert (book.folder / f"{FILE}{stood.ENDING}").is_file()


def check(book: Book) -> None:
    every = ledger_of_all(book).moved
    for job in book.names_of_jobs():
        anew = [one for one in every if job in (one.from_job, one.to_job)]
        assert told(came_to(book, job)) == told(anew), job


def told(moved: object) -> list[Moved]:
    """Where nothing else was told of a job, what it began with is of the moment of asking."""
    assert isinstance(moved, tuple | list)
    return [replace(one, at=BEGIN) if one.opening else one for one in moved]


def step(book: Book, draw: Random) -> None:
    """Something that happens in a life, or changes what was told before."""
    job = draw.choice(book.names_of_jobs())
    entries = [kept.id for name in book.names_of_jobs() for kept in book.entries(name)]
    entry = draw.choice(entries) if entries else 0
    match draw.randrange(20):
        case 0:
            decisions.drop(book, entry)
        case 1:
            decisions.undo(book, entry)
        case 2:
            decisions.edit(book, entry, "quantity", Fraction(draw.randrange(1, 9)))
        case 3:
            decisions.edit(book, entry, "unit_cost", Decimal(draw.randrange(100, 900)) / 100)
        case 4:
            decisions.move(book, entry, at=moment(draw))
        case 5:
            decisions.move(book, entry, job=job)
        case 6:
            steps.undo_last(book, job)
        case 7:
            closed.reopen(book, job)
        case 8 | 9 | 10:
            close(book, job)
        case 11:
            begin(book, job, draw.randrange(4))
        case 12:
            begin(book, NAMES[-1])
        case 13:
            decisions.edit(book, entry, "note", f"seen {draw.random()}")
        case _:
            add(book, draw, job)


def add(book: Book, draw: Random, job: str) -> None:
    kind = draw.choice(("delivered", "delivered", "used", "on_hand", "returned", "moved", "moved"))
    item, more = draw.choice(ITEMS), {}
    if kind == "delivered" and draw.random() < 0.8:
        more["unit_cost"] = Decimal(draw.randrange(100, 900)) / 100
    if kind == "moved":
        ends = [STOCK, UNKNOWN, NAMES[-1], *book.names_of_jobs()]
        more[draw.choice(("from_job", "to_job"))] = draw.choice([one for one in ends if one != job])
    quantity = Fraction(draw.randrange(1, 12))
    said = Entry(kind, item=item.name, quantity=quantity, unit=item.unit, **more)  # type: ignore[arg-type]
    decisions.add_typed(book, job, Reading((said,)), "as written", moment(draw))


def moment(draw: Random) -> datetime:
    """Few of them, so that much happens at the same one."""
    return BEGIN + timedelta(days=draw.randrange(40), hours=draw.randrange(2))


def close(book: Book, job: str) -> None:
    entries = book.entries(job)
    came = came_told(book, job)
    figures = reconcile(book.job(job), book.plan(job), entries, book.catalog(), came)
    closed.close_job(book, job, date(2026, 6, 1), figures)


@pytest.mark.parametrize(("told_on", "put_right"), ((10, 5), (5, 11)))
def test_a_delivery_that_is_put_earlier_or_later_counts_once_where_it_now_is(
    book: Book, told_on: int, put_right: int
) -> None:
    def tell(day: int, kind: str, quantity: int, job: str = NAMES[1], **more: object) -> int:
        said = Entry(kind, item=ITEMS[0].name, quantity=Fraction(quantity), unit="sheet", **more)  # type: ignore[arg-type]
        at = BEGIN + timedelta(days=day)
        [id] = decisions.add_typed(book, job, Reading((said,)), "as written", at)
        return id

    tell(8, "moved", 1, NAMES[3], from_job=STOCK)
    first = tell(told_on, "delivered", 4, unit_cost=Decimal("4.75"))
    tell(10, "delivered", 4, unit_cost=Decimal("5.25"))
    tell(12, "moved", 6, to_job=NAMES[2])
    check(book)
    decisions.move(book, first, at=BEGIN + timedelta(days=put_right))
    check(book)
    [one] = came_to(book, NAMES[2])
    each = [layer.each for layer in one.layers]
    cheap, dear = Fraction("4.75"), Fraction("5.25")
    assert each == ([cheap, dear] if put_right < 10 else [dear, cheap])


def test_what_is_kept_beside_the_book_is_not_believed_once_it_is_damaged(book: Book) -> None:
    lived(book)
    kept = book.folder / f"{FILE}{stood.ENDING}"
    text = kept.read_text("utf-8")
    kept.write_text(text.replace("12", "13"), "utf-8")
    assert kept.read_text("utf-8") != text
    with Book.open(book.folder) as anew:
        check(anew)


def test_what_is_kept_of_another_catalog_is_worked_out_again(book: Book) -> None:
    lived(book)
    before = came_to(book, NAMES[1])
    panel = replace(ITEMS[0], also=(("box", Fraction(6)),))
    book.change_catalog(lambda catalog: replace(catalog, items=(panel,)))
    assert not stood.kept_of(book, repr(book.catalog().items)).moments
    check(book)
    assert [one.quantity for one in came_to(book, NAMES[1])] != [one.quantity for one in before]


def lived(book: Book) -> None:
    """One job with a box of panels that went to the next, and back in part."""
    for kind, quantity, unit, more in (
        ("delivered", 12, "sheet", {"unit_cost": Decimal("4.75")}),
        ("moved", 8, "sheet", {"to_job": NAMES[1]}),
        ("moved", 1, "box", {"to_job": NAMES[1]}),
        ("used", 4, "sheet", {}),
    ):
        said = Entry(kind, item=ITEMS[0].name, quantity=Fraction(quantity), unit=unit, **more)  # type: ignore[arg-type]
        at = BEGIN + timedelta(days=quantity % 5)
        decisions.add_typed(book, NAMES[0], Reading((said,)), "as written", at)
    for name in NAMES[:2]:
        came_to(book, name)
