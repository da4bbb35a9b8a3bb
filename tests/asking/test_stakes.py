"""What it would cost if an entry were wrong: only for the order of questions."""

from __future__ import annotations

import sys
from datetime import time
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from joblog.asking.countable import counts
from joblog.asking.doubts import told_apart
from joblog.asking.stakes import COVERED, at_stake, prices
from joblog.model import Entry

sys.path.append(str(Path(__file__).parent))
from asked import CHANNEL, FASCIA, PANEL, PLAN, used

ITEMS = {item.name: item for item in (PANEL, FASCIA, CHANNEL)}
PRICES = prices(PLAN, None, ITEMS)


def cost(entry: Entry, *whys: str) -> Decimal:
    return at_stake([entry], told_apart(whys), PRICES)


def test_of_two_numbers_what_lies_between_them_is_at_stake() -> None:
    # (60 - 16) / 60 of 60 panels at 21.40, the plan's price above.
    assert cost(used(60), "which number: 60 sheets or 16 sheets?") == Decimal("941.60")


def test_which_item_it_is_stakes_all_of_it() -> None:
    assert cost(used(8), "which item: soffit panel or fascia?") == Decimal("171.20")


def test_sheets_of_something_may_be_the_dearest_that_come_in_sheets() -> None:
    assert cost(used(8, None), "of what? No item was said") == Decimal("171.20")


def test_hours_cost_what_the_plan_pays_for_everybody() -> None:
    labor = Entry("labor", hours=Fraction(7), workers=2, task="hang soffit")
    assert cost(labor, "'hanging' is no task of this job") == 7 * 2 * 40


def test_covered_work_ranks_high_whatever_is_asked() -> None:
    assert cost(Entry("covered", note="the wire"), "the words are not clear") == COVERED


def test_a_note_costs_nothing() -> None:
    assert cost(Entry("note", note="hot"), "the words are not clear") == 0


def test_a_place_costs_next_to_nothing() -> None:
    assert cost(used(8), "which place: porch or north eave?") < 5


def test_several_together_cost_what_they_do_alone() -> None:
    why = told_apart(["which item: soffit panel or fascia?"])
    assert at_stake([used(8), used(2)], why, PRICES) == Decimal("214.00")


def test_what_counts_nowhere_cannot_be_kept() -> None:
    lacking = [
        used(8, None),
        used(None),
        used(8, "soffit panel", unit="box"),
        Entry("stop"),
        Entry("break", time=time(12)),
        Entry("labor", task="hang soffit"),
        Entry("price", item="fascia"),
        Entry("measure", as_said="about"),
    ]
    assert [entry for entry in lacking if counts(entry, ITEMS)] == []


def test_what_says_enough_can_be_kept() -> None:
    enough = [
        used(8),
        used(8, "cedar shakes", unit="bundle"),
        used(24, "fascia", unit="stick"),
        Entry("needed", note="more of the brown"),
        Entry("note", note="hot"),
        Entry("stop", time=time(16, 30)),
        Entry("correction", action="drop"),
    ]
    assert [entry for entry in enough if not counts(entry, ITEMS)] == []


def test_of_two_prices_what_tells_them_apart_is_at_stake() -> None:
    # (606 - 6) / 606 of 7 panels at 21.40.
    why = "which number: 7 sheets, 6.00 or 7 sheets, 606.00?"
    assert cost(used(7), why) == Decimal("148.32")


def test_whatever_a_figure_hangs_on_costs_something() -> None:
    assert cost(Entry("measure", inches=Fraction(12)), "which place: porch or rake?") > 0


def test_words_that_may_hold_an_amount_are_not_kept_with_mere_words() -> None:
    assert cost(Entry("note", note="six on hand"), "an amount in a note: is it one?") > 0
