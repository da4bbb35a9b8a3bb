"""One word for one thing, on the page and on the screen."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from joblog.model import Reconciliation, StockLine
from joblog.report import squared_up
from joblog.report.figures import balance_table
from joblog.report.words import SHORT, WORDS, shortened
from joblog_tui.balance import HEADS, balance

FEW = StockLine(
    item="soffit panel",
    unit="sheet",
    planned=Fraction(15),
    opening=Fraction(1),
    delivered=Fraction(16),
    returned=Fraction(1),
    on_hand=Fraction(2),
    consumed=Fraction(14),
    placed=Fraction(10),
    spoiled=Fraction(2),
    offcut=Fraction(1),
    unaccounted=Fraction(1),
    at_least=Fraction(13),
    at_most=Fraction(14),
)


def test_no_two_figures_of_one_table_are_called_alike() -> None:
    stock = [WORDS[field] for field in StockLine.__dataclass_fields__ if field in WORDS]
    assert len(stock) == len(set(stock))


def test_every_short_word_begins_its_word_or_is_part_of_it() -> None:
    assert [short for word, short in SHORT.items() if short.split("/")[0] not in word] == []


def test_screen_and_table_name_the_columns_of_the_balance_alike() -> None:
    headings = balance_table(Reconciliation("job", stock=(FEW,))).headings
    assert shortened(headings)[2:-2] == HEADS


def test_screen_and_table_show_the_same_figures() -> None:
    squared = Reconciliation("job", stock=(FEW,))
    [row] = balance_table(squared).rows
    [line] = balance(squared)
    assert line.shown.split()[3:] == list(row[2:-2])


def test_what_is_more_than_ever_came_is_in_question_on_the_page() -> None:
    line = replace(FEW, on_hand=None, consumed=None, unaccounted=None, at_most=Fraction(9))
    assert "13-?" in squared_up(Reconciliation("job", stock=(line,)))
