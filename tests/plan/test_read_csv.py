"""Plans from spreadsheets."""

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.model import Catalog, Item
from joblog.plan import read_csv

HEAD = "line,name,quantity,unit,cost,opening,said\n"


def test_items_tasks_and_places_are_read() -> None:
    plan, problems = read_csv(
        HEAD
        + "item,soffit panel,15,sheet,21.40,2,soffit; panels\n"
        + "task,hang soffit,18,hours,48,,hung soffit\n"
        + "place,North Eave,,,,,\n"
    )
    [item], [task] = plan.items, plan.tasks
    assert problems == ()
    assert (item.quantity, item.unit_cost, item.opening) == (15, Decimal("21.40"), 2)
    assert "panels" in item.item.spoken
    assert (task.hours, task.hourly_cost, task.task.spoken) == (18, 48, ("hung soffit",))
    assert plan.places == ("north eave",)


def test_columns_may_stand_in_any_order_and_case() -> None:
    plan, _ = read_csv("Name,Quantity,LINE,unit\nfascia,7 1/2,item,stick\n")
    assert plan.items[0].quantity == Fraction(15, 2)


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("item,x,3,furlong,,,", "there is no unit 'furlong'"),
        ("item,x,-1,lb,,,", "below zero"),
        ("item,x,1/0,lb,,,", "divides by zero"),
        ("item,x,many,lb,,,", "is not a number"),
        ("item,x,,lb,,,", "needs a quantity"),
        ("item,x,3,,,,", "needs a unit"),
        ("item,x,3,lb,cheap,,", "is not an amount of money"),
        ("item,,3,lb,,,", "has no name"),
        ("thing,x,3,lb,,,", "must be one of item, task, place"),
        ("task,x,3,lb,,,", "planned in hours"),
        ("task,x,3,,,2,", "opening is not for a task"),
        ("place,x,3,,,,", "quantity is not for a place"),
        ("item,x,3 1/2/4,lb,,,", "is not a number"),
        ("item,x,11 9/8,lb,,,", "is it 12 1/8?"),
        ("item,x,30000,stick,,,", "say --sure if it is so"),
        ("task,x,9999,,,,", "say --sure if it is so"),
        ("item,x,3,lb,99999,,", "say --sure if it is so"),
    ],
)
def test_a_bad_row_is_named_and_left_out(row: str, why: str) -> None:
    plan, [problem] = read_csv(HEAD + "item,fascia,7,stick,,,\n" + row + "\n")
    assert len(plan.items) == 1
    assert problem.what == "plan, row 3"
    assert why in problem.why


@pytest.mark.parametrize(
    ("unit", "meant"), [("bags", "bag"), ("Carton", "carton"), ("hods", "hod")]
)
def test_an_item_is_planned_in_what_it_is_counted_in(unit: str, meant: str) -> None:
    known = Catalog((Item("brick", "hod"),), ())
    plan, problems = read_csv(f"{HEAD}item,mortar,12,{unit},,,\n", catalog=known)
    assert (plan.items[0].item.unit, problems) == (meant, ())


def test_a_counting_unit_that_no_catalog_defines_is_refused() -> None:
    _, [problem] = read_csv(HEAD + "item,brick,12,hods,,,\n")
    assert "there is no unit 'hods'" in problem.why


def test_an_item_planned_twice_is_refused() -> None:
    _, [problem] = read_csv(HEAD + "item,fascia,7,stick,,,\nitem,Fascia,1,stick,,,\n")
    assert "planned twice" in problem.why


def test_wrong_columns_are_refused_with_the_right_ones() -> None:
    plan, [problem] = read_csv("a,b\n1,2\n")
    assert plan.items == ()
    assert "line, name, quantity" in problem.why


def test_a_missing_file_is_a_plain_line(tmp_path: Path) -> None:
    _, [problem] = read_csv(tmp_path / "none.csv")
    assert problem.what == "none.csv"
    assert "is not there" in problem.why


def test_a_picture_named_csv_is_a_plain_line(tmp_path: Path) -> None:
    file = tmp_path / "plan.csv"
    file.write_bytes(b"\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01")
    _, [problem] = read_csv(file)
    assert "is no table" in problem.why


def test_a_size_in_a_planned_name_makes_a_variant_of_what_the_catalog_holds() -> None:
    plan, problems = read_csv("line,name,quantity\nitem,fascia 1x8,9\nitem,5 in gutter,4\n")
    fascia, gutter = (line.item for line in plan.items)
    assert problems == ()
    assert (fascia.variant_of, fascia.size, fascia.unit) == ("fascia", "1x8", "stick")
    assert (gutter.variant_of, gutter.size, gutter.stock_length) == ("gutter", "5 in", 120)


def test_a_planned_variant_counted_in_another_unit_stays_a_variant() -> None:
    plan, _ = read_csv("line,name,quantity,unit\nitem,fascia 1x8,40,ft\n")
    assert (plan.items[0].item.variant_of, plan.items[0].item.size) == ("fascia", "1x8")


def test_a_name_that_is_said_for_an_item_needs_no_unit() -> None:
    plan, problems = read_csv("line,name,quantity\nitem,soffit board,9\n")
    assert (plan.items[0].item.unit, problems) == ("sheet", ())


def test_other_words_beside_a_name_make_no_variant() -> None:
    plan, [problem] = read_csv("line,name,quantity\nitem,fascia nailer,9\n")
    assert plan.items == ()
    assert "needs a unit" in problem.why
