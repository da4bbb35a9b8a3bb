"""A search that is given seconds ends in every part of it when they are up, and says so."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.cutting import effort
from joblog.cutting.cut_lists import cut_lists
from joblog.cutting.cuts import plan_cuts
from joblog.cutting.effort import Effort
from joblog.cutting.read_plan import read_plans
from joblog.cutting.saw import saw_order
from joblog.model import Catalog, Piece, StockLength
from joblog.report.cut_sheet import about_plan, cut_json
from tests.cutting.test_cuts_effort import RACK, TWELVE_FEET, long_list
from tests.cutting.test_cuts_saw import settings_counted


class Clock:
    """Stands still for so many looks at it, then it is too late."""

    def __init__(self, looks: int) -> None:
        self.looks, self.late = looks, 0

    def __call__(self) -> float:
        self.looks -= 1
        self.late += self.looks < 0
        return 0.0 if self.looks >= 0 else 1e6


@pytest.mark.parametrize("looks", [1, 2, 5, 20, 60, 200, 500])
def test_whenever_the_time_is_up_the_search_ends_soon_with_a_whole_plan(
    looks: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = Clock(looks)
    monkeypatch.setattr(effort, "monotonic", clock)
    wanted = long_list(3)
    plan, problems = plan_cuts(wanted, [TWELVE_FEET, *RACK], at_once=2, seconds=5)
    cut = Counter(cut.length for stick in plan.sticks for cut in stick.cuts)
    assert problems == ()
    assert cut == Counter({line.length: line.pieces for line in wanted})
    assert plan.at_least <= plan.spent
    assert plan.stopped == "after 5 seconds"
    # A look for each pattern that is still to be put in order, and a few on the way there.
    assert clock.late < plan.patterns + 60


def test_a_list_that_is_proved_in_time_says_nothing_of_an_end() -> None:
    plan, _ = plan_cuts([Piece(Fraction(60), 4)], [TWELVE_FEET], seconds=1000)
    assert (plan.proved, plan.patterns_proved, plan.stopped) == (True, True, "")


def test_with_seconds_alone_the_work_is_endless_and_with_both_the_first_ends_it() -> None:
    assert Effort(seconds=1000).left > 10**18
    both = Effort(0, 1000)
    assert both.spent
    assert (both.was_spent, both.was_late) == (True, False)


def test_work_that_ran_out_is_told_by_how_much_it_was() -> None:
    usual, _ = plan_cuts(long_list(1), [TWELVE_FEET], effort=0.001)
    assert usual.stopped == "after 0.001 times the usual search"


def test_a_part_of_a_search_gets_its_share_and_leaves_the_rest() -> None:
    work = Effort(1)
    with work.only(0.25):
        assert work.left == effort.USUAL // 4
        work.spend(10)
    assert work.left == effort.USUAL - 10


def test_the_order_at_the_saw_is_an_order_when_there_is_no_time_for_it() -> None:
    patterns = [
        sorted({Fraction(at % 7), Fraction(at % 5 + 10), Fraction(at % 3 + 20)}) for at in range(40)
    ]
    late = Effort(seconds=1e-9)
    turns, settings = saw_order(patterns, 10, late)
    assert sorted(turn.pattern for turn in turns) == list(range(40))
    assert {turn.pattern for turn in turns[:10]} == set(range(10))
    assert settings == settings_counted([turn.lengths for turn in turns])
    assert settings >= saw_order(patterns, 10)[1]


@pytest.mark.parametrize("seconds", [0, -1, 86_401, float("nan")])
def test_seconds_that_make_no_sense_are_refused(seconds: float) -> None:
    with pytest.raises(ValueError, match="the seconds are above 0"):
        plan_cuts([Piece(Fraction(60))], [TWELVE_FEET], seconds=seconds)


def test_several_items_share_the_seconds(monkeypatch: pytest.MonkeyPatch) -> None:
    given: list[float | None] = []

    def planned(wanted: list[Piece], stock: list[StockLength], **said: float | None) -> object:
        given.append(said["seconds"])
        return plan_cuts(wanted, stock)

    monkeypatch.setattr("joblog.cutting.cut_lists.plan_runs", planned)
    monkeypatch.setattr("joblog.cutting.cut_lists.monotonic", lambda: 0.0)
    pieces = [Piece(Fraction(60), item=item) for item in ("fascia", "soffit", "trim")]
    cut_lists(pieces, Catalog(), seconds=12)
    assert given == [4.0, 6.0, 12.0]


def test_the_sheet_and_the_printed_list_say_what_ended_the_search(tmp_path: Path) -> None:
    plan, _ = plan_cuts(long_list(1), [TWELVE_FEET], seconds=1e-6)
    unproved = replace(plan, at_least=plan.spent - 144)
    shown = about_plan(unproved)[1]
    assert shown.startswith("best found so far, at most 12' (")
    assert shown.endswith("search ended after 1e-06 seconds")
    file = tmp_path / "cuts.json"
    file.write_text(json.dumps({"plans": [cut_json(plan)]}))
    assert read_plans(file)[0].stopped == plan.stopped
