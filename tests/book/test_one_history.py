"""Undo and redo walk over everything that was decided: plan, catalog, closing, photos too."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from joblog.book import Book, BookError, closed, decisions, signing, steps
from joblog.catalog.lines import with_item, without
from joblog.model import Item, Plan
from tests.book.two_jobs import AT, JOB, OTHER, PLAN, USED, a_book, balance, wrote

FASCIA = Item("fascia 1x6", "stick", unit_cost=Decimal("14.90"))


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with a_book(tmp_path) as made:
        yield made


def item(book: Book, name: str) -> Item | None:
    return next((one for one in book.catalog().items if one.name == name), None)


def whats(book: Book, job: str = JOB.name) -> list[str]:
    return [step.what for step in steps.steps(book, job)]


def test_a_plan_that_was_loaded_is_taken_back_and_loaded_again(book: Book) -> None:
    decisions.load_plan(book, JOB.name, Plan(places=("barn",)))
    assert whats(book)[-1] == "loaded another plan: 1 place"
    steps.undo_last(book, JOB.name)
    assert book.plan(JOB.name) == PLAN
    steps.redo_last(book, JOB.name)
    assert book.plan(JOB.name) == Plan(places=("barn",))


def test_the_same_plan_loaded_again_is_no_step(book: Book) -> None:
    before = whats(book)
    decisions.load_plan(book, JOB.name, PLAN)
    assert whats(book) == before


def test_the_catalog_is_in_the_history_of_every_job(book: Book) -> None:
    was = book.catalog()
    decisions.change_catalog(book, lambda now: with_item(now, FASCIA))
    assert item(book, FASCIA.name) == FASCIA
    assert whats(book, JOB.name)[-1] == whats(book, OTHER.name)[-1]
    steps.undo_last(book, OTHER.name)
    assert book.catalog() == was
    steps.redo_last(book, JOB.name)
    assert item(book, FASCIA.name) == FASCIA


def test_taking_one_line_of_the_catalog_back_leaves_the_others(book: Book) -> None:
    tar = Item("tar paper", "roll")
    decisions.change_catalog(book, lambda now: with_item(now, tar))
    first = steps.steps(book, JOB.name)[-1]
    decisions.change_catalog(book, lambda now: with_item(now, FASCIA))
    steps.take_back(book, first.id)
    assert item(book, tar.name) is None and item(book, FASCIA.name) == FASCIA


def test_a_line_that_was_dropped_comes_back_where_it_stood(book: Book) -> None:
    was = book.catalog()
    decisions.change_catalog(book, lambda now: without(now, was.items[3].name))
    assert whats(book)[-1] == f"catalog: dropped {was.items[3].name}"
    steps.undo_last(book, JOB.name)
    assert book.catalog() == was


def test_something_decided_in_one_job_ends_the_redoing_of_the_catalog(book: Book) -> None:
    decisions.change_catalog(book, lambda now: with_item(now, FASCIA))
    steps.undo_last(book, JOB.name)
    wrote(book, USED, job=OTHER)
    with pytest.raises(BookError, match="nothing to redo"):
        steps.redo_last(book, JOB.name)


def test_a_closing_is_taken_back_and_stands_again(book: Book) -> None:
    closed.close_job(book, JOB.name, AT.date(), balance(book, JOB))  # type: ignore[arg-type]
    steps.undo_last(book, JOB.name)
    assert closed.closing(book, JOB.name) is None and not closed.closed_jobs(book)
    steps.redo_last(book, JOB.name)
    assert closed.closed_jobs(book) == {JOB.name}


def test_a_job_that_is_reopened_teaches_nothing_until_that_is_undone(book: Book) -> None:
    closed.close_job(book, JOB.name, AT.date(), balance(book, JOB))  # type: ignore[arg-type]
    taught, _ = closed.history(book)
    closed.reopen(book, JOB.name)
    assert not closed.closed_jobs(book) and closed.history(book)[0].uses == ()
    with pytest.raises(BookError, match="not closed"):
        closed.reopen(book, JOB.name)
    steps.undo_last(book, JOB.name)
    assert closed.closed_jobs(book) == {JOB.name} and closed.history(book)[0] == taught


def test_a_photo_that_is_withdrawn_belongs_to_nothing_until_it_is_back(book: Book) -> None:
    [tie] = [one for one in book.ties(JOB.name) if book.photo(one.photo).name == "wall.jpg"]
    decisions.tie(book, tie.photo, tie.entry)
    decisions.withdraw_photo(book, tie.photo)
    assert tie.photo not in {one.sha256 for one in book.photos(JOB.name)}
    assert tie.photo not in {one.photo for one in book.ties(JOB.name)}
    assert book.holds(tie.photo) == JOB.name
    with pytest.raises(BookError, match="withdrawn"):
        decisions.tie(book, tie.photo, tie.entry)
    steps.undo_last(book, JOB.name)
    assert (tie.photo, tie.entry) in {(one.photo, one.entry) for one in book.ties(JOB.name)}


def test_every_step_says_in_words_what_it_was(book: Book) -> None:
    decisions.load_plan(book, JOB.name, Plan())
    decisions.change_catalog(book, lambda now: with_item(now, FASCIA))
    signing.sign_off(book, JOB.name, AT.date())
    closed.close_job(book, JOB.name, AT.date(), balance(book, JOB))  # type: ignore[arg-type]
    closed.reopen(book, JOB.name)
    assert all(whats(book)) and "catalog: added fascia 1x6" in whats(book)
