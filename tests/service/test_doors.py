"""The service is one door: nothing behind it leaks, and no face goes round it."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
from pathlib import Path

import pytest

import joblog.service
from joblog.book import Book, BookError
from joblog.service import ServiceError, open_desk, places, showing
from joblog.service.errors import use_case

ROOMS = [name for _, name, _ in pkgutil.iter_modules(joblog.service.__path__)]
HERE = Path(__file__).parent


def test_what_the_book_refuses_comes_out_as_the_service_s_own_error(tmp_path: Path) -> None:
    with Book.create(tmp_path) as book, pytest.raises(ServiceError, match="no job called 'Attic'"):
        open_desk(book, "Attic")


def test_an_error_that_is_a_mistake_of_the_program_is_not_dressed_up() -> None:
    @use_case
    def broken() -> None:
        raise KeyError("place")

    with pytest.raises(KeyError):
        broken()


def test_a_book_that_is_not_there_is_refused_in_words(tmp_path: Path) -> None:
    with (
        pytest.raises(ServiceError, match="there is no book here"),
        places.opened(places.Place(tmp_path)),
    ):
        pass


def test_a_folder_that_holds_anything_is_no_place_for_a_new_book(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("dear")
    plan = tmp_path / "plan.csv"
    with (
        pytest.raises(ServiceError, match="is there already; name a new folder"),
        showing.shown(tmp_path, "Corner porch", "America/Chicago", plan),
    ):
        pass


def test_an_invented_job_is_gone_on_with_until_it_was_shown(tmp_path: Path) -> None:
    plan = tmp_path / "plan.csv"
    plan.write_text("line,name,quantity,unit\nitem,soffit panel,5,sheet\n")
    invented = tmp_path / "new", "Corner porch", "America/Chicago", plan
    for _ in range(2):
        with showing.shown(*invented) as desk:
            assert len(desk.plan.items) == 1
    with showing.shown(*invented) as desk:
        showing.finished(desk.book)
    with pytest.raises(ServiceError, match="name a new folder"), showing.shown(*invented):
        pass


def test_no_error_of_the_book_is_a_service_error() -> None:
    assert not issubclass(BookError, ServiceError)


def _use_cases() -> set[str]:
    return {
        name
        for room in ROOMS
        for name, work in inspect.getmembers(importlib.import_module(f"joblog.service.{room}"))
        if inspect.isfunction(work)
        and work.__module__ == f"joblog.service.{room}"
        and not inspect.isgeneratorfunction(inspect.unwrap(work))
        and hasattr(work, "__wrapped__")
    }


def test_every_use_case_is_asked_for_in_the_tests_of_the_service() -> None:
    asked: set[str] = set()
    for file in HERE.glob("test_*.py"):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                asked.add(getattr(node.func, "attr", getattr(node.func, "id", "")))
    assert _use_cases() - asked == set()
