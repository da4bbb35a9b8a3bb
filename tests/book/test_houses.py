"""Houses in the book: every version, what was taken back, and nothing of the job beside it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from joblog.book import Book, houses, schema, steps, verify
from joblog.house.read_table import read_house
from joblog.model import House, Plan
from tests.book.two_jobs import JOB, OTHER, PLAN, a_book

TABLE = """what,name,length,height,top,corner,depth,pitch,at,sill,count,gutter,area
side,front,42 ft,9 ft,eave,outside,12,,,,,yes,
window,kitchen,3 ft,4 ft,,,,,6 ft,3 ft,2,,
side,left,28 ft,9 ft,gable,outside,14 3/4,6/12,,,,,
side,back,42 ft,9 ft,eave,outside,12,,,,,,
side,right,28 ft,9 ft,gable,outside,14 3/4,6/12,,,,,
attic,,,,,,,,,,,,1176 ft2
"""


def house(table: str = TABLE) -> House:
    found, problems = read_house(table)
    assert problems == ()
    return found


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with a_book(tmp_path) as made:
        yield made


def test_a_house_is_kept_with_its_job_and_no_other(book: Book) -> None:
    houses.keep_house(book, JOB.name, house())

    assert houses.house_of(book, JOB.name) == house()
    assert houses.house_of(book, OTHER.name) is None
    assert book.plan(JOB.name) == PLAN
    last = steps.steps(book, JOB.name)[-1]
    assert last.what == "described the house: 4 sides, an attic"


def test_every_thing_still_knows_the_row_it_came_from(book: Book) -> None:
    houses.keep_house(book, JOB.name, house())

    kept = houses.house_of(book, JOB.name)

    assert kept is not None
    assert kept.bodies[0].sides[0].openings[0].row == "house, row 3"


def test_undo_brings_the_house_of_before_back_and_redo_the_later_one(book: Book) -> None:
    longer = house(TABLE.replace("42 ft", "44 ft"))
    houses.keep_house(book, JOB.name, house())
    houses.keep_house(book, JOB.name, longer)

    steps.undo_last(book, JOB.name)
    assert houses.house_of(book, JOB.name) == house()
    steps.undo_last(book, JOB.name)
    assert houses.house_of(book, JOB.name) is None
    steps.redo_last(book, JOB.name)
    steps.redo_last(book, JOB.name)
    assert houses.house_of(book, JOB.name) == longer


def test_the_same_house_again_is_no_step(book: Book) -> None:
    houses.keep_house(book, JOB.name, house())
    before = steps.steps(book, JOB.name)

    houses.keep_house(book, JOB.name, house())

    assert steps.steps(book, JOB.name) == before


def test_a_copy_of_the_book_has_the_houses_too(book: Book, tmp_path: Path) -> None:
    houses.keep_house(book, JOB.name, house())

    assert verify.copy(book, tmp_path / "monday") == ()

    with Book.open(tmp_path / "monday") as copied:
        assert houses.house_of(copied, JOB.name) == house()


def test_a_house_is_never_overwritten(book: Book) -> None:
    houses.keep_house(book, JOB.name, house())

    with pytest.raises(sqlite3.IntegrityError, match="never overwritten"):
        book._db.execute("UPDATE house SET content = ''")
    with pytest.raises(sqlite3.IntegrityError, match="never deleted"):
        book._db.execute("DELETE FROM house")


def test_a_damaged_house_is_not_shown_for_a_good_one(tmp_path: Path) -> None:
    with a_book(tmp_path) as book:
        houses.keep_house(book, JOB.name, house())
        folder = book.folder
    beside = sqlite3.connect(folder / "book.sqlite")
    with beside:
        beside.execute("DROP TRIGGER a_house_is_never_overwritten")
        beside.execute("UPDATE house SET content = replace(content, '504', '904')")
    beside.close()
    with Book.open(folder) as book:
        assert houses.house_of(book, JOB.name) is None


def test_a_book_of_before_has_no_houses_and_takes_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = schema.MIGRATIONS.index(schema.schema_of_houses.houses)
    with monkeypatch.context() as older:
        older.setattr(schema, "MIGRATIONS", schema.MIGRATIONS[:place])
        with Book.create(tmp_path / "older") as book:
            book.add_job(JOB)
            book.set_plan(JOB.name, Plan(places=("barn",)))
    with Book.open(tmp_path / "older") as book:
        assert houses.house_of(book, JOB.name) is None
        houses.keep_house(book, JOB.name, house())
        assert houses.house_of(book, JOB.name) == house()
        assert book.plan(JOB.name) == Plan(places=("barn",))
