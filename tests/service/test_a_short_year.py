"""Three jobs typed in day by day: every figure is as a ledger of its own has it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from joblog.book import Book
from joblog.book.moves import came_to
from tests.bench.packed_year import each_alone
from tests.bench.year.ledger import fewest_sticks
from tests.bench.year.year import Year, lived


@pytest.fixture(scope="module")
def three_jobs(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Book, Year]]:
    folder = tmp_path_factory.mktemp("year")
    with Book.create(folder / "book") as book:
        yield book, lived(book, seed=1, jobs=3, folder=folder)


def test_three_jobs_come_out_as_the_independent_ledger_has_them(
    three_jobs: tuple[Book, Year],
) -> None:
    _, year = three_jobs
    assert year.differences == ()
    assert year.entered.unread == []
    assert year.figures > 600


def test_a_job_that_was_brought_material_from_another_is_the_same_in_another_book(
    three_jobs: tuple[Book, Year], tmp_path: Path
) -> None:
    book, _ = three_jobs
    [first, second, _] = book.jobs()
    assert first.name in {one.from_job for one in came_to(book, second.name)}
    assert list(each_alone(book, tmp_path, [second])) == []


def test_the_comparison_sees_a_figure_that_is_off(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The same job, but for a ledger that takes every stick to be a foot shorter.
    monkeypatch.setitem(fewest_sticks.__globals__["STOCK_INCHES"], "F channel", 132)
    with Book.create(tmp_path / "book") as book:
        year = lived(book, seed=1, jobs=1, folder=tmp_path)
    assert any("F channel" in line for line in year.differences)
