"""What a planned name is in the catalog: asked on a terminal, else told with what settles it."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest
from running import Say

PLAN = "line,name,quantity,unit\nitem,perforated soffit,5,sheet\nitem,door opener,1,each\n"


@pytest.fixture
def plan() -> str:
    Path("plan.csv").write_text(PLAN)
    return "plan.csv"


class Terminal(io.StringIO):
    """Somebody who types."""

    def isatty(self) -> bool:
        return True


def typing(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setattr(sys, "stdin", Terminal(text))
    monkeypatch.setattr(type(sys.stderr), "isatty", lambda _: True, raising=False)


def planned(say: Say) -> str:
    return say("plan", "--csv", "--book", "book")[1]


def test_without_a_terminal_a_line_says_which_command_settles_it(porch: Say, plan: str) -> None:
    status, _, told = porch("plan", plan, "--book", "book")
    assert status == 0
    assert "perforated soffit: may be your catalog's soffit panel or vented soffit panel" in told
    assert 'joblog catalog same "perforated soffit" "soffit panel"' in told
    assert "door opener: is not in your catalog; it learns nothing from other jobs" in told
    shown = porch("catalog", "same", "perforated soffit", "soffit panel", "--book", "book")[1]
    assert shown == "perforated soffit: is soffit panel from now on\n"
    assert "item,soffit panel,5,sheet" in planned(porch)
    assert porch("plan", plan, "--book", "book")[2].count("perforated soffit: taken for") == 1


def test_a_thing_of_its_own_is_settled_by_a_command_too(porch: Say, plan: str) -> None:
    porch("plan", plan, "--book", "book")
    shown = porch("catalog", "own", "door opener", "--book", "book")[1]
    assert shown == "door opener: is in the catalog, counted in each\n"
    assert "door opener" not in porch("plan", plan, "--book", "book")[2]


def test_on_a_terminal_it_is_asked_with_a_digit_for_each(
    porch: Say, plan: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    typing(monkeypatch, "9\n1\n")
    _, _, told = porch("plan", plan, "--book", "book")
    assert "perforated soffit: which of your catalog is it?" in told
    assert "  1  soffit panel\n" in told
    assert "9 is none of these digits." in told
    assert "item,soffit panel,5,sheet" in planned(porch)
    assert "may be your catalog's" not in told


@pytest.mark.parametrize(("typed", "left_open"), [("0\n", False), ("\n", True)])
def test_none_of_these_makes_it_a_thing_of_its_own_and_enter_leaves_it_open(
    porch: Say, plan: str, monkeypatch: pytest.MonkeyPatch, typed: str, left_open: bool
) -> None:
    typing(monkeypatch, typed)
    _, _, told = porch("plan", plan, "--book", "book")
    assert ("may be your catalog's" in told) == left_open
    assert "item,perforated soffit,5,sheet" in planned(porch)
    assert ("item,perforated soffit" in porch("catalog", "--csv", "--book", "book")[1]) != left_open


def test_a_new_job_asks_of_the_plan_that_it_begins_with(say: Say) -> None:
    Path("plan.csv").write_text(PLAN)
    _, _, told = say("new", "barn", "--plan", "plan.csv", "--book", "book")
    assert "perforated soffit: may be your catalog's soffit panel" in told


def test_an_order_says_why_each_line_is_there(porch: Say) -> None:
    Path("plan.csv").write_text("line,name,quantity,unit\nitem,soffit panel,5,sheet\n")
    porch("plan", "plan.csv", "--book", "book")
    porch("write", "need two tubes of caulk", "--at", "2026-10-05 15:00", "--book", "book")
    shown = " ".join(porch("order", "--book", "book")[1].split())
    assert "soffit panel the plan of Corner porch" in shown
    assert "caulk asked for on Corner porch: 2 tubes" in shown
