"""Extras, expenses and drives: beside the balance, and summed to the cent."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction

from joblog.model import Beside, Entry
from joblog.reconcile import reconcile
from joblog.report.figures import beside_sums, beside_table
from joblog.report.squared import squared_up
from tests.reconcile.told import BEGIN, JOB, PLAN, book, kept

PORCH = Entry("extra", note="wrap the porch beam", price=Decimal("185.50"), hours=Fraction(3))
DUMP = Entry("expense", note="the dump", price=Decimal("42.10"))
HOME = Entry("drive", miles=Fraction(32), minutes=Fraction(50))


def beside(*entries: Entry) -> Beside:
    return reconcile(JOB, PLAN, book(*entries)).beside


def test_extras_expenses_and_miles_are_summed_exactly() -> None:
    found = beside(PORCH, replace(PORCH, price=Decimal("14.45")), DUMP, DUMP, HOME, HOME)
    assert (found.to_charge, found.spent) == (Decimal("199.95"), Decimal("84.20"))
    assert (found.extra_hours, found.miles, found.driven_minutes) == (6, 64, 100)


def test_an_extra_without_a_price_is_counted_as_such() -> None:
    found = beside(PORCH, replace(PORCH, price=None, hours=None))
    assert (found.to_charge, found.unpriced) == (Decimal("185.50"), 1)
    assert beside_sums(found) == ("2 extras to charge: $185.50, 3 hours, 1 without a price",)


def test_what_is_in_doubt_or_dropped_does_not_count() -> None:
    doubted = kept(1, PORCH, "185.50 or 1,855?")
    dropped = kept(2, DUMP, standing="dropped")
    assert reconcile(JOB, PLAN, [doubted, dropped]).beside == Beside()


def test_what_is_told_of_yesterday_stands_under_yesterday() -> None:
    yesterday = BEGIN.date() - timedelta(days=1)
    [line] = beside(replace(DUMP, day=yesterday)).lines
    assert line.day == yesterday


def test_the_page_says_what_to_charge_and_only_where_there_is_something() -> None:
    page = squared_up(reconcile(JOB, PLAN, book(PORCH, DUMP, HOME)))
    assert "1 extra to charge: $185.50, 3 hours" in page
    assert "spent beside material: $42.10" in page
    assert "driven: 32 miles, 50 minutes" in page
    assert "beside the plan" not in squared_up(reconcile(JOB, PLAN, book()))


def test_every_line_is_in_the_table_with_the_entry_behind_it() -> None:
    table = beside_table(reconcile(JOB, PLAN, book(PORCH, HOME)))
    assert [row[1:3] for row in table.rows] == [
        ("extra", "wrap the porch beam"),
        ("drive", "drive: 32 miles, 50 minutes"),
    ]
    assert [row[-1] for row in table.rows] == ["1", "2"]


def test_an_extra_says_beside_its_price_whether_it_was_agreed() -> None:
    agreed = replace(PORCH, note="wrap the porch beam, she said yes", who="Mrs Hale")
    table = beside_table(reconcile(JOB, PLAN, book(PORCH, agreed, HOME)))
    assert [row[table.headings.index("agreed")] for row in table.rows] == [
        "agreement not said"
        if PORCH.who is None
        else f"asked for by {PORCH.who}, agreement not said",
        "agreed: Mrs Hale",
        "",
    ]
