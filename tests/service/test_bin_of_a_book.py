"""What counts no more and comes back, and what became of one thing, as every face asks for it."""

from __future__ import annotations

import pytest

from joblog.book import decisions, spool
from joblog.model import Plan
from joblog.service import Desk, ServiceError, bin, decide
from joblog.service.desk import refresh


def test_what_a_person_dropped_comes_back(desk: Desk) -> None:
    first = desk.book.entries(desk.job.name)[0]
    decide.drop(desk, first.id)
    [one] = bin.binned(desk.book)
    assert one.entries == (first.id,)
    assert bin.bring_back(desk.book, one.step.id).what.startswith("brought back: ")
    assert desk.book.entry(first.id).entry == first.entry
    with pytest.raises(ServiceError, match="stands as it was"):
        bin.bring_back(desk.book, one.step.id)


def test_a_plan_that_comes_back_lies_on_the_desk(desk: Desk) -> None:
    was = desk.plan
    decisions.load_plan(desk.book, desk.job.name, Plan(places=("barn",)))
    refresh(desk)
    [one] = bin.binned(desk.book, desk.job.name)
    bin.bring_back_here(desk, one.step.id)
    assert desk.plan == was


def test_an_entry_is_told_from_how_it_was_heard_on_and_any_version_comes_back(desk: Desk) -> None:
    first = desk.book.entries(desk.job.name)[0]
    decide.edit(desk, first.id, "quantity", "4")
    story = bin.story_of_entry(desk, first.id)
    assert [(one.version, one.how, one.who) for one in story] == [
        (1, "heard", "you, aloud"),
        (2, "edited", "you"),
    ]
    assert bin.bring_back_version(desk.book, first.id, 1).entries == (first.id,)
    assert desk.book.entry(first.id).entry == first.entry
    with pytest.raises(ServiceError, match="did not stand in version 9"):
        bin.bring_back_version(desk.book, first.id, 9)


def test_an_original_is_told_with_its_ties(desk: Desk) -> None:
    [photo] = desk.book.photos(desk.job.name)
    first = desk.book.entries(desk.job.name)[0]
    decide.tie(desk, photo.sha256, first.id)
    decide.withdraw(desk, photo.sha256)
    decide.undo(desk)
    story = bin.story_of_original(desk, photo.sha256)
    assert [one.how for one in story] == ["came in", "decided", "decided", "taken back"]
    assert [one.what for one in story[2:]] == ["withdrew: eave.jpg"] * 2
    with pytest.raises(ServiceError, match="no recording or photo"):
        bin.story_of_original(desk, "0" * 64)


def test_a_line_of_the_catalog_is_told_by_what_it_is_called(desk: Desk) -> None:
    assert bin.story_of_line(desk, "soffit panel") == ()
    with pytest.raises(ServiceError, match="nothing in the catalog is called"):
        bin.story_of_line(desk, "gravel bags")


def test_files_that_nothing_stands_on_are_told(desk: Desk) -> None:
    assert bin.put_aside(desk.book) == ()
    damaged = desk.book.store / "damaged"
    damaged.mkdir()
    (damaged / "0.jpg").write_bytes(b"torn")
    cut = spool.folder_of(desk.book) / spool.ASIDE
    cut.mkdir(parents=True)
    (cut / "0.wav").write_bytes(b"half")
    assert [file.name for file, _ in bin.put_aside(desk.book)] == ["0.jpg", "0.wav"]
