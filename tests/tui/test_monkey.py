"""Whatever is pressed, the review goes on and what was decided stays."""

from __future__ import annotations

from pathlib import Path

import pytest

from joblog.book import Book
from joblog.book import decisions as deciding
from joblog_tui.app import ReviewApp
from tests.tui.evening import tell_too_much
from tests.tui.monkey import press_at_random

MEASURED = 2


@pytest.mark.parametrize("seed", [1, 2])
async def test_random_keys_break_nothing_and_change_no_decision(
    book: Book, tmp_path: Path, seed: int
) -> None:
    tell_too_much(book, tmp_path)
    evening = await press_at_random(book, seed, presses=60)
    assert evening.wrong is None
    assert sum(evening.screens.values()) == 60


async def test_a_decision_that_a_harmless_key_changes_is_noticed(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    deciding.accept(book, MEASURED)
    monkeypatch.setattr(ReviewApp, "action_help", lambda _: deciding.drop(book, MEASURED))
    found = (await press_at_random(book, seed=3, presses=200)).wrong
    assert found is not None
    assert found.startswith(f"entries [{MEASURED}] changed, after ")


async def test_what_is_gone_from_the_history_is_noticed(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    def lose(_app: ReviewApp) -> None:
        with book._writing():
            book._db.execute("UPDATE step SET what = ''")

    monkeypatch.setattr(ReviewApp, "action_help", lose)
    deciding.accept(book, MEASURED)
    found = (await press_at_random(book, seed=3, presses=200)).wrong
    assert found is not None
    assert found.startswith("lost from the history: ")


async def test_a_fault_is_noticed(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(_app: ReviewApp) -> None:
        raise KeyError("soffit")

    monkeypatch.setattr(ReviewApp, "action_help", fail)
    found = (await press_at_random(book, seed=3, presses=200)).wrong
    assert found is not None
    assert found.startswith("KeyError: 'soffit', after ")
