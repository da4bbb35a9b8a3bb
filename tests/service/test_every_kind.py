"""Entries of every kind, with every field: closed, reopened, copied, checked, shown, and undone."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from joblog.book import Book, closed, decisions
from joblog.form import entry_from_json, entry_to_json, from_json, to_json
from joblog.model import BookEntry, Entry, Reading, Reconciliation
from joblog.reconcile import reconcile
from joblog.report.sheets import entry_list
from joblog.report.squared import squared_up
from joblog.report.table import as_csv
from joblog.service import Desk, decide, open_desk, record
from joblog.service.checking import check, copy_book
from joblog.service.closing import close, draft_closing
from tests.book.every_kind import EVERY_KIND
from tests.service.conftest import MORNING

DAY = date(2026, 10, 5)


@pytest.fixture
def told(desk: Desk) -> tuple[int, ...]:
    at = MORNING + timedelta(hours=1)
    return tuple(
        id
        for entry in EVERY_KIND
        for id in decisions.add_typed(desk.book, desk.job.name, Reading((entry,)), "told", at)
    )


def entries(book: Book, job: str, ids: tuple[int, ...]) -> tuple[Entry, ...]:
    return tuple(kept.entry for kept in book.entries(job) if kept.id in ids)


def test_every_field_comes_back_from_the_book_as_it_went_in(
    desk: Desk, told: tuple[int, ...]
) -> None:
    assert entries(desk.book, desk.job.name, told) == EVERY_KIND


def test_every_field_stands_in_what_is_exported_and_comes_back_from_there(
    desk: Desk, told: tuple[int, ...]
) -> None:
    shown = json.loads(json.dumps(to_json(record.read_entries(desk))))
    kept = tuple(from_json(BookEntry, one) for one in map(_by_class, shown))
    assert kept == record.read_entries(desk)
    table = as_csv(entry_list(desk.job, record.read_entries(desk)))
    for told_so in ("dark bronze", "overhang", "32 1/2 miles", "for 60.00", "2026-10-02"):
        assert told_so in table


def _by_class(shown: dict[str, object]) -> dict[str, object]:
    """Entries have a shorter form of their own."""
    entry = entry_from_json(shown["entry"])  # type: ignore[arg-type]
    return {**shown, "entry": {name: to_json(getattr(entry, name)) for name in entry.__slots__}}


@pytest.mark.parametrize("entry", EVERY_KIND, ids=lambda one: one.kind)
def test_the_json_of_an_entry_holds_every_field(entry: Entry) -> None:
    assert entry_from_json(json.loads(json.dumps(entry_to_json(entry)))) == entry


def test_a_job_with_every_kind_is_closed_and_its_figures_are_frozen_as_they_were(
    desk: Desk, told: tuple[int, ...]
) -> None:
    closing, _ = close(desk, draft_closing(desk, DAY))
    assert closing.figures == record.read_balance(desk)
    assert [line.kind for line in closing.figures.beside.lines] == ["extra", "expense", "drive"]
    assert from_json(Reconciliation, to_json(closing.figures)) == closing.figures
    assert not reopened(desk)


def test_a_price_or_a_to_do_that_is_put_right_reopens_the_job_and_undone_closes_it_again(
    desk: Desk, told: tuple[int, ...]
) -> None:
    close(desk, draft_closing(desk, DAY))
    extra = told[[one.kind for one in EVERY_KIND].index("extra")]
    decide.drop(desk, extra)
    assert reopened(desk)
    decide.undo_entry(desk, extra)
    assert not reopened(desk)


def reopened(desk: Desk) -> bool:
    found = closed.closing(desk.book, desk.job.name)
    return found is not None and found.reopened


def test_a_copy_holds_every_kind_and_is_checked_as_whole(
    desk: Desk, told: tuple[int, ...], tmp_path: Path
) -> None:
    close(desk, draft_closing(desk, DAY))
    assert check(desk.book) == ()
    assert copy_book(desk.book, tmp_path / "copy") == ()
    with Book.open(tmp_path / "copy") as copied:
        assert check(copied) == ()
        assert entries(copied, desk.job.name, told) == EVERY_KIND
        again = open_desk(copied, desk.job.name)
        assert record.read_balance(again) == record.read_balance(desk)


@pytest.mark.parametrize("field", ["day", "place", "note"])
def test_a_field_of_every_kind_is_edited_and_taken_back(
    desk: Desk, told: tuple[int, ...], field: str
) -> None:
    for id, entry in zip(told, EVERY_KIND, strict=True):
        typed, new = ("Oct 3", date(2026, 10, 3)) if field == "day" else ("another", "another")
        decide.edit(desk, id, field, typed)
        assert desk.book.entry(id).entry == replace(entry, **{field: new})  # type: ignore[arg-type]
        decide.undo_entry(desk, id)
        assert desk.book.entry(id).entry == entry


def test_what_every_kind_says_can_be_shown(desk: Desk, told: tuple[int, ...]) -> None:
    page = squared_up(reconcile(desk.job, desk.plan, desk.book.entries(desk.job.name)))
    assert "1 extra to charge: $60.00" in page
    assert len(record.versions(desk, told[0])) == 1
