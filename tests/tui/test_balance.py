"""The balance of materials in lines of 80 columns."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from joblog.model import QuantityVariance, Reconciliation, StockLine
from joblog_tui.balance import balance

COUNTED = StockLine(
    item="soffit panel",
    unit="sheet",
    planned=Fraction(15),
    opening=Fraction(0),
    delivered=Fraction(16),
    returned=Fraction(1),
    on_hand=Fraction(1),
    consumed=Fraction(14),
    placed=Fraction(11),
    spoiled=Fraction(2),
    offcut=Fraction(0),
    unaccounted=Fraction(1),
    at_least=Fraction(13),
    at_most=Fraction(15),
    reasons=(("cracked", Fraction(2)),),
)
UNCOUNTED = replace(COUNTED, on_hand=None, consumed=None, unaccounted=None)
amounts = st.fractions(min_value=-999, max_value=9999, max_denominator=16)


def meaning(line: StockLine) -> str:
    return balance(Reconciliation("job", stock=(line,)))[0].meaning.plain


def test_every_figure_of_a_counted_item_is_on_its_line() -> None:
    [line] = balance(Reconciliation("job", stock=(COUNTED,)))
    assert line.shown.split() == "soffit panel, panel 15 - 16 1 1 14 11 2 - 1".split()


def test_nothing_left_is_a_figure_and_not_a_blank() -> None:
    [line] = balance(Reconciliation("job", stock=(replace(COUNTED, on_hand=Fraction(0)),)))
    assert line.shown.split()[7] == "0"


def test_the_columns_are_named() -> None:
    [line] = balance(Reconciliation("job", stock=(COUNTED,)))
    names = "material plan had deliv return left gone inst waste cutoff unexp"
    assert line.head.split() == names.split()


def test_the_balance_is_said_in_words() -> None:
    said = meaning(COUNTED)
    assert "had 0 + delivered 16 - returned 1 - left 1 = gone 14" in said
    assert "gone 14 = installed 11 + wasted 2 + cutoffs 0 + unexplained 1" in said


def test_why_it_was_wasted_is_said() -> None:
    assert "wasted: 2 cracked" in meaning(COUNTED)


def test_what_is_not_known_is_a_question_mark_with_its_range() -> None:
    [line] = balance(Reconciliation("job", stock=(UNCOUNTED,)))
    assert line.shown.split() == "soffit panel, panel 15 - 16 1 ? 13-15? 11 2 - 0-2?".split()


def test_an_uncounted_item_says_that_nobody_counted() -> None:
    assert "Nobody counted what was left" in meaning(UNCOUNTED)


def test_more_gone_than_ever_came_is_a_gap_in_the_record() -> None:
    line = replace(UNCOUNTED, at_most=Fraction(9))
    [shown] = balance(Reconciliation("job", stock=(line,)))
    assert "13-?" in shown.shown
    assert "than ever came (9)" in shown.meaning.plain


def test_entries_left_out_are_counted_out_loud() -> None:
    assert "2 entries are not counted" in meaning(replace(COUNTED, left_out=(4, 9)))


def test_an_item_that_was_never_planned_says_so() -> None:
    assert "not in the plan" in meaning(replace(COUNTED, planned=None))


def test_why_it_differs_from_the_plan_is_said_in_parts() -> None:
    parts = QuantityVariance(Fraction(-2), Fraction(0), Fraction(1), Fraction(1), total=Fraction(0))
    said = meaning(replace(COUNTED, variance=parts))
    assert (
        "just as planned: 2 saved by less work, 1 more wasted than allowed, 1 unexplained" in said
    )


def test_work_is_in_question_while_not_all_that_was_used_is_said() -> None:
    parts = QuantityVariance(Fraction(-2), Fraction(0), Fraction(1), None, None)
    said = meaning(replace(UNCOUNTED, variance=parts))
    assert "work -2?, usage 0, cutoffs 0, wasted +1, unexplained ?" in said


def test_the_unexplained_is_in_question_while_entries_wait() -> None:
    [line] = balance(Reconciliation("job", stock=(replace(COUNTED, left_out=(4,)),)))
    assert line.shown.split()[-1] == "1?"


@given(name=st.text(min_size=1, max_size=40), planned=amounts, gone=amounts)
def test_no_line_is_wider_than_the_screen(name: str, planned: Fraction, gone: Fraction) -> None:
    line = replace(COUNTED, item=name, planned=planned, consumed=gone, unaccounted=gone)
    [shown] = balance(Reconciliation("job", stock=(line,)))
    assert len(shown.shown) <= 78
    assert len(shown.head) <= 78
