"""A bid's sums, by hand and as properties."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.bid.offer import offer_of
from joblog.bid.planned import plan_of
from joblog.bid.said import Said, with_said
from joblog.bid.work_out import names_of, parted, work_out
from joblog.catalog.naming import surely_called
from joblog.form import from_json, to_json
from joblog.model import Bid, BidBasis, Item
from joblog.reason import BeyondReason
from joblog.report.bid import bid_json, bid_sheet, bid_table, sum_table
from tests.bid.a_basis import basis

DAY = date(2026, 11, 2)


def bid_with(*said: tuple[str, str], of: BidBasis | None = None) -> Bid:
    made = of or basis()
    return work_out("maple street", DAY, made, with_said((), said, names_of(made), sure=True))


def test_a_bid_worked_by_hand() -> None:
    bid = bid_with(
        ("overhead", "12%"),
        ("margin", "20%"),
        ("expense.permit", "85"),
        ("miles", "120"),
        ("mile rate", "0.70"),
        ("extra.gutter guards", "450"),
        ("tax", "6.25%"),
    )

    # material: 9 x 31.25 = 281.25; 820 x 0.015 = 12.30; together 293.55
    assert [item.cost for item in bid.items] == [Decimal("281.25"), Decimal("12.30")]
    assert bid.material == Decimal("293.55")
    # labor: 13 x 40 = 520.00
    assert bid.labor == Decimal("520.00")
    # beside: 85 + 120 x 0.70 = 169.00
    assert bid.besides == Decimal("169.00")
    # cost: 293.55 + 520 + 169 = 982.55; overhead 12 % of it is 117.906, so 117.91
    assert bid.cost == Decimal("982.55")
    assert bid.overhead == Decimal("117.91")
    assert bid.all_cost == Decimal("1100.46")
    # price: 1,100.46 / (1 - 0.20) = 1,375.575; the margin 275.115 to the even cent is 275.12
    assert bid.margin == Decimal("275.12")
    assert bid.price == Decimal("1375.58")
    # tax: 6.25 % of 1,375.58 is 85.97375, so 85.97
    assert bid.tax == Decimal("85.97")
    assert bid.total == Decimal("1461.55")
    # an option is not in the price
    assert bid.taken == Decimal("0.00")


def test_a_margin_is_a_share_of_the_price_and_a_markup_one_of_the_cost() -> None:
    # Cost 80, selling price 100: a margin of 20 % is a markup of 25 % (retail and construction
    # accounting; margin = (price - cost) / price, markup = (price - cost) / cost).
    bid = bid_with(
        ("expense.all", "80"),
        ("margin", "20%"),
        of=BidBasis(replace(basis().plan, items=(), tasks=())),
    )
    assert bid.price == Decimal("100.00")
    assert bid.margin_share == Fraction(1, 5)
    assert bid.markup_share == Fraction(1, 4)


def test_a_price_that_is_said_says_what_margin_it_leaves() -> None:
    bid = bid_with(("overhead", "12%"), ("price", "4,200"))
    # cost 293.55 + 520 = 813.55, overhead 97.626 to the cent 97.63: 911.18; 4,200 - 911.18
    assert bid.price == Decimal("4200.00")
    assert bid.margin == Decimal("3288.82")
    assert bid.margin_share == Fraction(328882, 420000)


def test_a_price_below_the_cost_leaves_a_margin_below_zero() -> None:
    assert bid_with(("price", "800")).margin == Decimal("-13.55")


def test_saying_a_margin_takes_the_place_of_a_price_that_was_said() -> None:
    said = with_said((("price", "4200"),), [("margin", "20%")], ())
    assert said == (("margin", "20%"),)


def test_a_price_rounds_up_and_the_rounding_is_a_line_of_its_own() -> None:
    bid = bid_with(("margin", "20%"), ("round", "25"))
    # 813.55 / 0.8 = 1,016.9375: margin 203.3875 to the cent 203.39, 1,016.94; up to 1,025
    assert bid.margin == Decimal("203.39")
    assert bid.rounding == Decimal("8.06")
    assert bid.price == Decimal("1025.00")


def test_tax_on_material_is_on_its_part_of_the_price() -> None:
    bid = bid_with(("margin", "20%"), ("tax", "8%"), ("tax on", "material"))
    # 1,016.94 x 293.55 / 813.55 = 366.94 (366.9389...); 8 % of it is 29.3552, so 29.36
    assert bid.tax == Decimal("29.36")
    assert bid.tax_on == "material"


def test_whole_packs_are_charged_where_that_is_said() -> None:
    bid = bid_with(("trim nails.packs", "yes"))
    [_, nails] = bid.items
    # 820 nails are two boxes of 500: 1,000 x 0.015
    assert (nails.packs, nails.charged, nails.cost) == (2, Fraction(1000), Decimal("15.00"))
    assert nails.changed == ("packs",)


def test_every_number_of_a_line_can_be_said() -> None:
    bid = bid_with(
        ("soffit panel.price", "33"),
        ("soffit panel.waste", "20%"),
        ("hang soffit.pace", "10"),
        ("hang soffit.hourly cost", "55"),
    )
    panel, task = bid.items[0], bid.tasks[0]
    # 8.5 + 20 % of it = 10.2 sheets at 33; 65 ft at 10 an hour are 6.5 hours at 55
    assert (panel.quantity, panel.waste) == (Fraction("10.2"), Fraction("1.7"))
    assert panel.cost == Decimal("336.60")
    assert panel.changed == ("price", "waste")
    assert (task.hours, task.cost) == (Fraction(13, 2), Decimal("357.50"))
    assert task.changed == ("pace", "hourly cost")


def test_more_to_do_takes_more_hours_at_the_same_pace() -> None:
    bid = bid_with(("hang soffit.amount", "130"))
    # Thirteen hours are for 65 ft.
    assert (bid.tasks[0].amount, bid.tasks[0].hours) == (Fraction(130), Fraction(26))
    assert plan_of(bid).tasks[0].quantity == 130


def test_other_hours_are_as_on_earlier_jobs_until_they_are_said() -> None:
    of = replace(basis(), other_share=Fraction(1, 5), other_jobs=4)
    [other] = bid_with(of=of).beside
    # A fifth of 13 hours, to the quarter, at the forty of the only task.
    assert (other.hours, other.cost) == (Fraction(5, 2), Decimal("100.00"))
    assert bid_with(("other hours", "0"), of=of).beside == ()
    [other] = bid_with(("other hours", "6"), ("hourly cost", "30"), of=of).beside
    assert other.cost == Decimal("180.00")


def test_money_is_kept_as_joblog_writes_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LC_ALL", "de_DE.UTF-8")
    said = with_said(
        (),
        [
            ("soffit panel.price", "31,50 €"),
            ("extra.guards", "450,00 taken"),
            ("price", "4.200,00"),
        ],
        ["soffit panel"],
    )
    assert said == (
        ("soffit panel.price", "31.50"),
        ("extra.guards", "450.00 taken"),
        ("price", "4200.00"),
    )


def test_an_empty_number_is_as_it_was_worked_out() -> None:
    said = with_said(
        (("soffit panel.price", "33"),), [("soffit panel.price", "")], ["soffit panel"]
    )
    assert said == ()


@pytest.mark.parametrize(
    ("name", "text", "why"),
    [
        ("soffit.hue", "3", "a bid has no number called"),
        ("shingle.price", "3", "no line of the bid"),
        ("margin", "100%", "not between 0 and 100%"),
        ("margin", "0.2", "may be 0.2% or 20%"),
        ("overhead", "12", "may be 12% or \\$12"),
        ("soffit panel.price", "-3", "below zero"),
        ("soffit panel.quantity", "many", "is not a number"),
        ("hang soffit.pace", "0", "more than zero"),
        ("hang soffit.amount", "0", "more than zero"),
        ("price", "12.345", "parts of a cent"),
        ("tax on", "labor", "neither material nor all"),
        ("valid", "soon", "is no day"),
        ("packs", "2", "neither yes nor no"),
    ],
)
def test_what_cannot_be_is_refused_in_words(name: str, text: str, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        with_said((), [(name, text)], ["soffit panel", "trim nails", "hang soffit"])


@pytest.mark.parametrize(
    ("name", "text", "why"),
    [
        (
            "soffit panel.price",
            "3125000",
            "soffit panel.price: price 3,125,000 is more than 20,000",
        ),
        ("hang soffit.hours", "13000", "hang soffit.hours: hours 13,000 is more than 5,000"),
        ("trim nails.quantity", "999999999", "quantity 999,999,999 is more than 20,000"),
        ("hourly cost", "42000", "hourly cost 42,000 is more than 1,000"),
        ("mile rate", "67", "mile rate 67 is more than 20"),
        ("expense.permit", "85000000", "sum 85,000,000.00 is more than 5,000,000"),
    ],
)
def test_a_number_that_no_bid_has_is_asked_about(name: str, text: str, why: str) -> None:
    names = ["soffit panel", "trim nails", "hang soffit"]
    with pytest.raises(BeyondReason) as refused:
        with_said((), [(name, text)], names)
    assert why in str(refused.value)
    assert with_said((), [(name, text)], names, sure=True) == ((name, text),)
    # What was said before and taken is not asked about again.
    assert with_said(((name, text),), [], names) == ((name, text),)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("fasica.price", "'fasica' is no line of the bid; is it fascia?"),
        ("fas.price", "'fas' is no line of the bid"),
        ("ladder.price", "is no line of the bid; it has soffit panel, fascia"),
    ],
)
def test_a_line_that_there_is_not_is_refused_with_the_nearest(typed: str, why: str) -> None:
    with pytest.raises(ValueError) as refused:
        with_said((), [(typed, "3")], ["soffit panel", "fascia"])
    assert why in str(refused.value)


def test_a_line_is_found_by_what_its_item_is_spoken_of_as() -> None:
    also = surely_called([Item("fascia", "stick", ("fascia board",))])
    said = with_said((), [("fascia boards.price", "3")], ["soffit panel", "fascia"], also)
    assert said == (("fascia.price", "3"),)


def test_a_line_is_found_by_some_of_its_words_if_no_other_has_them() -> None:
    names = ["soffit panel", "soffit channel", "hang soffit"]
    assert with_said((), [("panel.price", "3")], names) == (("soffit panel.price", "3"),)
    with pytest.raises(ValueError, match="more than one line"):
        with_said((), [("soffit.price", "3")], names)


def test_a_line_without_a_price_is_told_and_no_offer_is_made_of_it() -> None:
    bid = bid_with(of=basis(panel_price=None, hourly=None))
    assert bid.lacks == (
        "nobody knows what this costs: soffit panel; say soffit panel.price",
        "nobody says what an hour of this costs: hang soffit; say hourly cost",
    )
    with pytest.raises(ValueError, match="is no offer yet"):
        offer_of(bid)


def test_sums_that_lack_a_cost_say_so_and_no_price_is_shown() -> None:
    bid = bid_with(("overhead", "10%"), ("margin", "20%"), of=basis(panel_price=None))
    shown = dict(sum_table(bid).rows)
    # 820 nails at 0.015, and 13 hours at 40; 10 % of both, 53.23.
    assert shown == {
        "material": "at least 12.30",
        "hours": "520.00",
        "cost": "at least 532.30",
        "overhead, 10 % of the cost": "at least 53.23",
        "cost with overhead": "at least 585.53",
        "margin, 20 % of the price": "?",
        "price": "?",
    }
    sheet = bid_sheet(bid)
    assert f"{bid.price:,.2f}" not in sheet
    assert "markup" not in sheet
    as_json = bid_json(bid)
    assert (as_json["price"], as_json["cost"], as_json["labor"]) == (None, None, "520.00")
    rows = {row[1]: row[11] for row in bid_table(bid).rows if row[0] == "sum"}
    assert (rows["price"], rows["material"], rows["hours"]) == ("", "", "520.00")


def test_a_price_that_was_said_is_one_though_a_cost_is_not_known() -> None:
    bid = bid_with(("price", "4200"), of=basis(panel_price=None))
    shown = dict(sum_table(bid).rows)
    assert (shown["price"], shown["margin"]) == ("4,200.00", "?")


def test_hours_that_nobody_knows_are_no_hours_for_nothing() -> None:
    of = basis()
    [task] = of.plan.tasks
    untimed = replace(of, plan=replace(of.plan, tasks=(replace(task, hours=Fraction(0)),)))
    shown = dict(sum_table(bid_with(of=untimed)).rows)
    assert (shown["hours"], shown["price"]) == ("?", "?")


def test_a_cent_that_cannot_be_parted_goes_to_one_part() -> None:
    third = Fraction(1, 3)
    assert parted(Decimal("100.00"), (third, third, third)) == (
        Decimal("33.34"),
        Decimal("33.33"),
        Decimal("33.33"),
    )


def test_the_plan_of_a_bid_holds_the_numbers_that_were_said() -> None:
    plan = plan_of(bid_with(("soffit panel.quantity", "11"), ("hang soffit.hours", "15")))
    assert plan.items[0].quantity == 11
    assert plan.items[0].source == "you said so in the bid"
    assert plan.tasks[0].hours == 15
    assert plan.items[1].source == ""


def test_a_foot_is_priced_by_its_kind_of_work() -> None:
    bid = bid_with(("margin", "20%"))
    assert sum(foot.price for foot in bid.feet) == bid.price
    eave = bid.feet[0]
    assert (eave.work, eave.feet) == ("boxed eave", Fraction(41))
    assert eave.a_foot == round(eave.price / 41, 2)


money = st.decimals(min_value=0, max_value=5000, places=2).map(str)
share = st.decimals(min_value=0, max_value=60, places=2).map(lambda number: f"{number}%")
quantity = st.fractions(min_value=0, max_value=300, max_denominator=64).map(str)
wishes = st.fixed_dictionaries(
    {},
    optional={
        "overhead": st.one_of(share, money.map(lambda text: f"${text}")),
        "margin": share,
        "round": st.sampled_from(["1", "5", "10", "0.50", "100"]),
        "tax": share,
        "tax on": st.sampled_from(["material", "all"]),
        "miles": quantity,
        "other hours": quantity,
        "mile rate": money,
        "packs": st.sampled_from(["yes", "no"]),
        "expense.permit": money,
        "extra.guards": money.map(lambda text: f"{text} taken"),
        "soffit panel.price": st.decimals(min_value=0, max_value=90, places=4).map(str),
        "soffit panel.quantity": quantity,
        "trim nails.waste": share,
        "hang soffit.hours": quantity,
        "hang soffit.hourly cost": money,
    },
)


@settings(max_examples=150, deadline=None)
@given(wishes)
def test_every_sum_is_the_sum_of_its_lines_to_the_cent(said: dict[str, str]) -> None:
    bid = bid_with(*said.items(), of=basis(chances=False))

    assert sum(item.cost or 0 for item in bid.items) == bid.material
    assert sum(task.cost or 0 for task in bid.tasks) == bid.labor
    assert sum(one.cost or 0 for one in bid.beside) == bid.besides
    assert bid.material + bid.labor + bid.besides == bid.cost
    assert bid.cost + bid.overhead == bid.all_cost
    assert bid.all_cost + bid.margin + bid.rounding + bid.taken == bid.price
    assert bid.price + bid.tax == bid.total
    assert sum(place.price for place in bid.places) + bid.taken == bid.price
    assert sum(place.cost for place in bid.places) == bid.material + bid.labor
    assert sum(foot.price for foot in bid.feet) <= bid.price
    for line in (*bid.items, *bid.tasks):
        assert sum(line.by_part) == (line.cost or 0)
    for item in bid.items:
        assert (item.net or 0) + item.offcut + item.waste == item.quantity
    sums = (bid.material, bid.labor, bid.cost, bid.overhead, bid.price, bid.tax, bid.total)
    assert all(one.as_tuple().exponent == -2 for one in sums)


@settings(max_examples=60, deadline=None)
@given(wishes)
def test_a_bid_is_read_back_as_it_was_written(said: dict[str, str]) -> None:
    bid = bid_with(*said.items())
    assert from_json(Bid, to_json(bid)) == bid


@settings(max_examples=60, deadline=None)
@given(st.decimals(min_value=-9000, max_value=9000, places=2), st.lists(
    st.fractions(min_value=0, max_value=9), min_size=1, max_size=9))  # fmt: skip
def test_parts_add_up_to_the_whole(amount: Decimal, shares: list[Fraction]) -> None:
    assert sum(parted(amount, shares)) == amount


def test_what_was_said_does_not_depend_on_its_order_but_for_the_later_one() -> None:
    one: Said = (("margin", "20%"), ("overhead", "12%"))
    assert bid_with(*one).price == bid_with(*reversed(one)).price
