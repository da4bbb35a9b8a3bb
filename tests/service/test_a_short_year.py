"""Three jobs typed in day by day: every figure is as a ledger of its own has it."""

from pathlib import Path

import pytest

from joblog.book import Book
from tests.bench.year.ledger import fewest_sticks
from tests.bench.year.year import lived


def test_three_jobs_come_out_as_the_independent_ledger_has_them(tmp_path: Path) -> None:
    with Book.create(tmp_path / "book") as book:
        year = lived(book, seed=1, jobs=3, folder=tmp_path)
    assert year.differences == ()
    assert year.entered.unread == []
    assert year.figures > 600


def test_the_comparison_sees_a_figure_that_is_off(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The same job, but for a ledger that takes every stick to be a foot shorter.
    monkeypatch.setitem(fewest_sticks.__globals__["STOCK_INCHES"], "F channel", 132)
    with Book.create(tmp_path / "book") as book:
        year = lived(book, seed=1, jobs=1, folder=tmp_path)
    assert any("F channel" in line for line in year.differences)
