"""One word for one thing, on the page and on the screen."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from fractions import Fraction
from typing import get_args

import pytest

from joblog.form import WORDS, describe, from_json, to_json
from joblog.model import (
    Entry,
    Kind,
    LaborVariance,
    MoneyVariance,
    QuantityVariance,
    Reconciliation,
    StockLine,
)
from joblog.report import squared_up
from joblog.report.figures import balance_table
from joblog.report.table import as_csv
from joblog.report.words import SHORT, shortened
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


def test_every_kind_of_entry_has_a_word_or_is_one() -> None:
    shown = [describe(Entry(kind)).partition(":")[0] for kind in get_args(Kind)]
    assert len(shown) == len(set(shown))
    assert not {"used", "spoiled", "labor", "on_hand", "todo"} & set(shown)


@pytest.mark.parametrize(
    ("entry", "line"),
    [
        (Entry("used", item="soffit panel", quantity=Fraction(6), unit="sheet"), "6 soffit panels"),
        (Entry("used", item="soffit panel", quantity=Fraction(1), unit="sheet"), "1 soffit panel"),
        (Entry("used", item="plywood", quantity=Fraction(6), unit="sheet"), "6 sheets of plywood"),
        (Entry("used", quantity=Fraction(6), unit="sheet"), "6 sheets of something"),
        # 407/48 of a sheet: no tape has it.
        (Entry("used", item="plywood", quantity=Fraction(407, 48), unit="sheet"),
         "about 8.48 sheets of plywood"),
        (Entry("used", item="plywood", quantity=Fraction(17, 2), unit="sheet"),
         "8 1/2 sheets of plywood"),
    ],
)  # fmt: skip
def test_material_is_counted_as_a_crew_counts_it(entry: Entry, line: str) -> None:
    assert describe(entry) == f"installed: {line}"


def test_a_line_of_csv_has_the_names_of_the_book_and_iso() -> None:
    entry = Entry("price", item="soffit panel", unit="sheet", unit_cost=Decimal("21.40"),
                  day=date(2026, 10, 9))  # fmt: skip
    assert describe(entry) == "price: soffit panel, at $21.40 a panel, Fri, Oct 9, 2026"
    used = Entry(
        "used", item="soffit panel", quantity=Fraction(407, 48), unit="sheet", time=time(16, 30)
    )
    assert describe(used, exact=True) == "used: 8 23/48 sheets of soffit panel, 16:30"


def test_csv_keeps_its_columns_and_figures_whatever_is_shown(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("LC_ALL", "de_DE.UTF-8")
    line = replace(FEW, consumed=Fraction(407, 48), planned_cost=Decimal("1021.40"))
    table = balance_table(Reconciliation("job", stock=(line,)))
    shown = dict(zip(table.headings, table.rows[0], strict=True))
    assert (shown["gone"], shown["plan cost"], shown["unit"]) == ("~8.48", "1.021,40", "panel")
    [row] = csv.DictReader(io.StringIO(as_csv(table)))
    assert (row["gone"], row["plan cost"], row["unit"]) == ("8 23/48", "1021.40", "sheet")
    assert list(row) == [
        "item", "unit", "planned", "had", "delivered", "returned", "left", "gone", "installed",
        "wasted", "cutoffs", "unexplained", "plan cost", "actual cost",
    ]  # fmt: skip


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


def test_json_calls_a_figure_as_the_page_does() -> None:
    shown = to_json(FEW, in_words=True)
    page = balance_table(Reconciliation("job", stock=(FEW,)))
    keys = [heading.replace(" ", "_") for heading in page.headings]
    assert [key for key in keys if key not in shown] == []
    assert (shown["installed"], shown["wasted"], shown["left"]) == ("10", "2", "2")
    assert not {"placed", "spoiled", "offcut", "unaccounted", "consumed", "on_hand"} & set(shown)


def test_kinds_of_entries_and_what_the_book_keeps_have_the_names_of_the_model() -> None:
    used = Entry("used", item="soffit panel", quantity=Fraction(6), unit="sheet")
    assert to_json([used], in_words=True)[0]["kind"] == "used"
    assert from_json(StockLine, to_json(FEW)) == FEW


@pytest.mark.parametrize(
    "noun",
    [
        QuantityVariance(*map(Fraction, (1, 2, 3, 4, 10))),
        MoneyVariance(*map(Decimal, ("1", "2", "3", "4", "5", "15"))),
        LaborVariance(*map(Fraction, (1, 2, 3))),
    ],
)
def test_the_parts_of_a_difference_are_called_alike_in_json(noun: object) -> None:
    shown = to_json(noun, in_words=True)
    assert len(shown) == len(noun.__dataclass_fields__)  # type: ignore[attr-defined]
    assert "differs" in shown
    assert not {"scope", "efficiency", "handling", "unaccounted", "total", "rate"} & set(shown)
