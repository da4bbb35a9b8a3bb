"""An order by supplier: sums to the cent, sales tax, and what is below the least order."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.model import Catalog, Item, OrderLine
from joblog.ordering.foresee import Need
from joblog.ordering.order import order
from joblog.ordering.suppliers import by_supplier, with_tax
from joblog.ordering.wishes import tax_of
from joblog.report.planned import order_sheet, order_table


def line(name: str, cost: str | None, supplier: str = "", **more: object) -> OrderLine:
    unit_cost = None if cost is None else Decimal(cost)
    item = Item(name, "each", unit_cost=unit_cost, supplier=supplier, **more)  # type: ignore[arg-type]
    [made] = order([Need(item, None, Fraction(1))], usual_allowance=Fraction(0)).lines
    return made


def test_lines_are_summed_by_supplier_and_what_has_none_comes_last() -> None:
    lines = [line("felt", "9.99"), line("fascia", "14.90", "yard"), line("nails", "3.05", "yard")]
    yard, nobody = by_supplier(lines)
    assert (yard.supplier, yard.cost, nobody.supplier, nobody.cost) == (
        "yard", Decimal("17.95"), "", Decimal("9.99"),
    )  # fmt: skip


def test_tax_is_rounded_once_on_the_sum_of_what_bears_it() -> None:
    # Three times 0.10 at 5 % is 0.015, 0.02 on one bill; by line it would be 0.01 three times.
    tenths = [line(name, "0.10", "yard", tax=Fraction(5, 100)) for name in "abc"]
    free = line("food", "7.00", "yard", tax=Fraction(0))
    [yard] = by_supplier([*tenths, free])
    assert (yard.cost, yard.tax, yard.total) == (Decimal("7.30"), Decimal("0.02"), Decimal("7.32"))


def test_what_is_below_the_least_order_is_told_with_what_is_lacking() -> None:
    lines = [line("fascia", "14.90", "yard", least_order=Decimal("50"), tax=Fraction(1, 10))]
    [yard] = by_supplier(lines)
    assert yard.below == Decimal("35.10")
    shown = " ".join(order_sheet(lines).split())
    assert "yard: $14.90, with $1.49 tax $16.39" in shown
    assert "$35.10 below the least that it takes an order for, $50.00 before tax" in shown


def test_where_nothing_is_bought_nothing_is_below() -> None:
    item = Item("fascia", "each", unit_cost=Decimal(1), supplier="yard", least_order=Decimal(50))
    lines = order([Need(item, None, Fraction(1))], {"fascia": Fraction(9)}).lines
    assert by_supplier(lines)[0].below == 0


def test_the_sheet_parts_the_order_by_supplier_only_where_there_are_several() -> None:
    one, two = line("fascia", "14.90", "yard"), line("felt", "9.99", "depot")
    shown = order_sheet([one, two])
    assert shown.index("yard\n") < shown.index("fascia") < shown.index("depot\n")
    assert "yard\n" not in order_sheet([one])
    assert "total $24.89" in shown


def test_a_supplier_is_text_and_never_reaches_the_terminal_as_more() -> None:
    assert "\x1b" not in order_sheet([line("felt", "1", "y\x1b[31m"), line("nails", "1")])


def test_a_spreadsheet_has_supplier_and_tax_beside_all_it_had() -> None:
    table = order_table([line("felt", "9.99", "yard", tax=Fraction(33, 400))])
    row = dict(zip(table.headings, table.rows[0], strict=True))
    assert (row["supplier"], row["sales tax"], row["cost"]) == ("yard", "8 1/4%", "9.99")


def test_a_tax_for_all_stands_back_where_an_item_has_its_own() -> None:
    known = Catalog((Item("felt", "roll"), Item("food", "each", tax=Fraction(0))))
    assert [item.tax for item in with_tax(known, Fraction(1, 10)).items] == [Fraction(1, 10), 0]
    assert with_tax(known, None) == known


@pytest.mark.parametrize(("text", "share"), [("8.25%", Fraction(33, 400)), ("0", Fraction(0))])
def test_a_tax_is_said_in_percent(text: str, share: Fraction) -> None:
    assert tax_of(text) == share


@pytest.mark.parametrize("text", ["-1%", "31%", "825", "much"])
def test_what_is_no_tax_is_refused(text: str) -> None:
    with pytest.raises(ValueError):
        tax_of(text)


MONEY = st.decimals("0.01", "999.99", places=2)


@given(
    st.lists(
        st.tuples(MONEY, st.sampled_from(["", "yard", "depot"]), st.sampled_from([None, 0, 7, 8])),
        min_size=1,
        max_size=12,
    )
)
def test_the_sums_of_the_suppliers_are_the_sum_of_the_lines(
    said: list[tuple[Decimal, str, int | None]],
) -> None:
    lines = [
        line(f"item {at}", str(cost), supplier, tax=None if tax is None else Fraction(tax, 100))
        for at, (cost, supplier, tax) in enumerate(said)
    ]
    parts = by_supplier(lines)
    assert sum(part.cost or Decimal() for part in parts) == sum(cost for cost, _, _ in said)
    assert sorted(one.item for part in parts for one in part.lines) == sorted(
        one.item for one in lines
    )
    exact = sum(Fraction(cost) * (tax or 0) / 100 for cost, _, tax in said)
    assert abs(sum(Fraction(part.tax) for part in parts) - exact) <= Fraction(len(said), 200)
