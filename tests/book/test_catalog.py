"""The catalog lives in the book, whole, and books from before it had one are brought up to date."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import Book, BookError, decisions, schema, steps
from joblog.book.database import Database
from joblog.catalog.lines import starter_catalog, with_item, without
from joblog.model import Amount, Catalog, Item, Job, Plan, PlannedItem, PlannedTask, Task

JOB = Job("Gull Point cottage", "America/New_York")
STARTER = starter_catalog()
FASCIA = Item(
    "fascia",
    "stick",
    spoken=("fascia board",),
    also=(("box", Fraction(10)),),
    stock_length=Fraction(144),
    other_lengths=(Fraction(120), Fraction(383, 2)),
    pack=Fraction(10),
    pack_name="box",
    covers=Amount(Fraction(12), "ft"),
    kerf=Fraction(1, 8),
    least_offcut=Fraction(12),
    unit_cost=Decimal("14.90"),
    per_pound=Fraction(420),
    variant_of="trim",
    size="1x8",
    profile="smooth",
    colour="white",
)
WRAP = Task("wrap fascia", ("wrapped",), "ft", Fraction(31, 2), 2, Decimal("48.00"))


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        yield book


@pytest.fixture
def older(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book of the first version, with a plan in it."""
    folder = tmp_path / "older"
    with monkeypatch.context() as first:
        first.setattr(schema, "MIGRATIONS", schema.MIGRATIONS[:1])
        with Book.create(folder) as book:
            book.add_job(JOB)
            book._db.execute(
                "INSERT INTO planned_item VALUES"
                " (1, 0, 'fascia', 'stick', '[\"board\"]', '[]', '144', '15/2', '14.90', '2')"
            )
            book._db.execute(
                "INSERT INTO planned_task VALUES (1, 0, 'wrap fascia', '[]', '6', '48.00')"
            )
    return folder


def test_a_new_book_has_the_starter_catalog(book: Book) -> None:
    assert book.catalog() == starter_catalog()


def test_a_changed_catalog_is_kept_to_the_last_field(book: Book) -> None:
    book.change_catalog(lambda _: Catalog((FASCIA, Item("caulk", "tube")), (WRAP, Task("dig"))))
    with Book.open(book.folder) as again:
        assert again.catalog() == Catalog((FASCIA, Item("caulk", "tube")), (WRAP, Task("dig")))


def test_a_catalog_may_be_changed_again(book: Book) -> None:
    book.change_catalog(lambda now: with_item(now, FASCIA))
    changed = book.change_catalog(lambda now: without(now, "caulk"))
    assert FASCIA in changed.items
    assert book.catalog() == changed


def test_a_change_that_fails_leaves_the_catalog_as_it_was(book: Book) -> None:
    book.change_catalog(lambda now: with_item(now, FASCIA))
    before = book.catalog()
    with pytest.raises(ValueError, match="has no 'furlong'"):
        book.change_catalog(lambda now: without(now, "furlong"))
    assert book.catalog() == before


def test_a_change_that_fails_half_written_leaves_the_catalog_as_it_was(book: Book) -> None:
    before = book.change_catalog(lambda now: with_item(now, FASCIA))
    with pytest.raises(BookError):
        book.change_catalog(lambda now: replace(now, items=(*now.items, FASCIA)))
    assert book.catalog() == before


def test_a_plan_keeps_all_that_the_catalog_knows_of_its_items_and_tasks(book: Book) -> None:
    plan = Plan(
        (PlannedItem(FASCIA, Fraction(15, 2), Decimal("14.90"), Fraction(2)),),
        (PlannedTask(WRAP, Fraction(6), Decimal("48.00")),),
    )
    book.set_plan(JOB.name, plan)
    assert book.plan(JOB.name) == plan


def test_a_book_from_before_the_catalog_keeps_its_plan_and_gains_a_catalog(older: Path) -> None:
    with Book.open(older) as book:
        assert schema.version(book._db) == len(schema.MIGRATIONS)
        assert book.catalog() == starter_catalog()
        fascia = Item("fascia", "stick", ("board",), stock_length=Fraction(144))
        assert book.plan(JOB.name) == Plan(
            (PlannedItem(fascia, Fraction(15, 2), Decimal("14.90"), Fraction(2)),),
            (PlannedTask(Task("wrap fascia"), Fraction(6), Decimal("48.00")),),
        )


def test_a_migration_that_is_cut_off_leaves_the_book_as_it_was(
    older: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cut_off(_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as stopping, pytest.raises(KeyboardInterrupt):
        stopping.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS[:2], cut_off))
        Book.open(older)
    with Book.open(older) as book:
        assert book.catalog() == starter_catalog()
        assert len(book.plan(JOB.name).items) == 1


def test_a_table_of_lines_is_taken_back_and_done_again_line_for_line(book: Book) -> None:
    first = (FASCIA, *(Item(f"thing {number}", "each") for number in range(30)))
    decisions.change_catalog(book, lambda now: Catalog(first, (WRAP,)))
    changed = [replace(item, size="1x4") for item in first if item.name != "thing 7"]
    changed[4:4] = [Item(f"further thing {number}", "each") for number in range(30)]
    decisions.change_catalog(book, lambda now: Catalog(tuple(changed), ()))
    before, after = Catalog(first, (WRAP,)), book.catalog()

    steps.undo_last(book, JOB.name)
    taken_back = book.catalog()
    steps.redo_last(book, JOB.name)

    assert taken_back == before
    assert set(book.catalog().items) == set(after.items)
    assert book.damage() == ()


def test_a_table_of_lines_is_taken_back_in_one_go(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    many = tuple(Item(f"thing {number}", "each") for number in range(50))
    decisions.change_catalog(book, lambda now: Catalog(many))
    said: list[str] = []
    ask = Database.execute
    monkeypatch.setattr(
        Database, "execute", lambda db, sql, *values: (said.append(sql), ask(db, sql, *values))[1]
    )

    steps.undo_last(book, JOB.name)

    assert said.count("DELETE FROM catalog_item") == 1
    back = book.catalog()
    assert (set(back.items), set(back.tasks)) == (set(STARTER.items), set(STARTER.tasks))
