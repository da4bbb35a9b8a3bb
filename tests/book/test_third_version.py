"""Books from before plans had parts and jobs were closed are brought up to date, whole or not."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import Book, schema
from joblog.book.database import Database
from joblog.model import Item, Job, Plan, PlannedItem, PlannedTask, Task

JOB = Job("Gull Point cottage", "America/New_York")
PANEL = Item("soffit panel", "sheet", ("panel",), stock_length=Fraction(144), kerf=Fraction(1, 8))
HANG = Task("hang soffit", unit="ft", per_hour=Fraction(8))


@pytest.fixture
def older(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book of the second version, with a plan in it."""
    folder = tmp_path / "older"
    with monkeypatch.context() as second:
        second.setattr(schema, "MIGRATIONS", schema.MIGRATIONS[:2])
        with Book.create(folder) as book:
            book.add_job(JOB)
            book._db.execute(
                "INSERT INTO planned_item VALUES (1, 0, 'soffit panel', 'sheet', '[\"panel\"]',"
                " '[]', '144', '15', '21.40', '2', '{\"kerf\": \"1/8\"}')"
            )
            book._db.execute(
                "INSERT INTO planned_task VALUES (1, 0, 'hang soffit', '[]', '18', '48.00',"
                ' \'{"unit": "ft", "per_hour": "8"}\')'
            )
    return folder


def test_an_older_book_keeps_its_plan_as_it_was(older: Path) -> None:
    with Book.open(older) as book:
        assert schema.version(book._db) == len(schema.MIGRATIONS)
        assert book.plan(JOB.name) == Plan(
            (PlannedItem(PANEL, Fraction(15), Decimal("21.40"), Fraction(2)),),
            (PlannedTask(HANG, Fraction(18), Decimal("48.00")),),
        )


def test_an_older_book_takes_a_plan_with_parts(older: Path) -> None:
    parted = Plan(
        (PlannedItem(PANEL, Fraction(15), None, Fraction(0), Fraction(27, 2), Fraction(1), "why"),),
        (PlannedTask(HANG, Fraction(18), None, Fraction(289, 2), "the catalog"),),
    )
    with Book.open(older) as book:
        book.set_plan(JOB.name, parted)
    with Book.open(older) as again:
        assert again.plan(JOB.name) == parted


def test_a_third_migration_that_is_cut_off_leaves_the_book_of_the_second(
    older: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cut_off(db: Database) -> None:
        schema._third(db)
        raise KeyboardInterrupt

    with monkeypatch.context() as stopping, pytest.raises(KeyboardInterrupt):
        stopping.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS[:2], cut_off))
        Book.open(older)
    with monkeypatch.context() as second:
        second.setattr(schema, "MIGRATIONS", schema.MIGRATIONS[:2])
        db = schema.database(older / "book.sqlite")
        tables = {row["name"] for row in db.query("SELECT name FROM sqlite_master")}
        assert "closing" not in tables
        assert schema.version(db) == 2
        db.close()
    with Book.open(older) as book:
        assert schema.version(book._db) == len(schema.MIGRATIONS)
        assert book.plan(JOB.name).items[0].quantity == 15
