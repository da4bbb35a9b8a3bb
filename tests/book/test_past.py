"""Earlier jobs from paper are kept in the book, each line once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.book import Book, closed, paper
from joblog.book.closing import taught_from, taught_text
from joblog.model import History, PastUse, PastWork

DAY = date(2025, 3, 5)
USE = PastUse(
    "Heron house", DAY, "soffit panel", Fraction(40), Fraction(133, 3), Fraction(3, 2), "panels",
    Fraction(61), Fraction(95, 8), 2,
)  # fmt: skip
WORK = PastWork("Heron house", DAY, "hang soffit", Fraction(180), Fraction(37, 2))


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as book:
        yield book


def test_lines_from_paper_come_back_exactly(book: Book) -> None:
    assert paper.keep_past(book, History((USE,), (WORK,))) == 2
    with Book.open(book.folder) as again:
        assert paper.past(again) == History((USE,), (WORK,))
        assert closed.history(again) == (History((USE,), (WORK,)), ())


def test_keeping_the_same_twice_changes_nothing(book: Book) -> None:
    paper.keep_past(book, History((USE,), (WORK,)))
    assert paper.keep_past(book, History((USE,), (WORK,))) == 0
    assert paper.past(book) == History((USE,), (WORK,))


def test_a_line_takes_the_place_of_the_one_of_its_job_day_and_item(book: Book) -> None:
    paper.keep_past(book, History((USE,)))
    better = replace(USE, job="heron  HOUSE", item="Soffit Panel", consumed=Fraction(45))
    assert paper.keep_past(book, History((better,))) == 1
    assert paper.past(book).uses == (better,)


def test_the_same_item_of_another_day_is_a_line_of_its_own(book: Book) -> None:
    later = replace(USE, day=DAY + timedelta(days=1))
    assert paper.keep_past(book, History((later, USE))) == 2
    assert paper.past(book).uses == (USE, later)


def test_an_earlier_job_can_be_dropped_with_all_its_lines(book: Book) -> None:
    other = replace(USE, job="boathouse")
    paper.keep_past(book, History((USE, other), (WORK,)))
    assert paper.drop_past(book, "heron house") == 2
    assert paper.past(book) == History((other,))
    assert paper.drop_past(book, "heron house") == 0


NUMBERS = st.fractions(0, 9999, max_denominator=360)
PEOPLE = st.none() | st.integers(1, 9)
NAMES = st.text(min_size=1, max_size=9)
USES = st.builds(
    PastUse, st.just("job"), st.just(DAY), NAMES, NUMBERS, NUMBERS, st.none() | NUMBERS,
    st.none() | NAMES, st.none() | NUMBERS, st.none() | NUMBERS, PEOPLE,
)  # fmt: skip
WORKS = st.builds(
    PastWork, st.just("job"), st.just(DAY), NAMES, NUMBERS, NUMBERS, st.none() | NUMBERS,
    st.none() | NUMBERS, PEOPLE,
)  # fmt: skip


@settings(deadline=None)
@given(st.builds(History, st.lists(USES).map(tuple), st.lists(WORKS).map(tuple)))
def test_any_lines_of_a_closed_job_come_back_exactly(history: History) -> None:
    assert taught_from("job", DAY, taught_text(history)) == history
