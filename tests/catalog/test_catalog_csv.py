"""The catalog goes out to a spreadsheet and comes back the same; bad rows are named."""

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.catalog.lines import starter_catalog
from joblog.catalog.read_csv import merged, read_catalog, with_fields
from joblog.model import Amount, Catalog, Item, Task
from joblog.report import as_csv
from joblog.report.planned import catalog_table
from joblog.sheet import Reading

HEAD = "line,name,unit,said,also,length,other lengths,sold by,covers,kerf,cost,per pound,per hour\n"

NAMES = st.text("abcdefghij=+-@' ", min_size=1, max_size=12).map(
    lambda text: "a" + " ".join(text.split())
)
LENGTHS = st.fractions(Fraction(1, 16), 720, max_denominator=64)
NUMBERS = st.fractions(Fraction(1, 100), 1000, max_denominator=100)
MONEY = st.decimals(0, 10_000, places=2)
ITEMS = st.builds(
    Item,
    name=NAMES,
    unit=st.sampled_from(["sheet", "stick", "each", "roll", "bag", "hod"]),
    spoken=st.lists(NAMES, max_size=3, unique=True).map(tuple),
    also=st.lists(st.tuples(st.sampled_from(["box", "ft2", "skid"]), NUMBERS), max_size=2).map(
        tuple
    ),
    stock_length=LENGTHS,
    other_lengths=st.lists(LENGTHS, max_size=2, unique=True).map(tuple),
    pack=NUMBERS,
    pack_name=st.sampled_from(["box", "pack", "half pallet"]),
    covers=st.none() | st.builds(Amount, NUMBERS, st.sampled_from(["ft2", "ft"])),
    kerf=st.none() | st.fractions(0, 1, max_denominator=64),
    least_offcut=st.none() | LENGTHS,
    unit_cost=st.none() | MONEY,
    variant_of=st.sampled_from(["", "post"]),
    size=st.sampled_from(["", "1x8", "5 in", "1 1/2 in", "8d", "#8", "29 ga", "5/4x6"]),
    profile=st.sampled_from(["", "vented", "dutch lap"]),
    colour=st.sampled_from(["", "white", "dark bronze"]),
).filter(lambda item: item.stock_length not in item.other_lengths)
TASKS = st.builds(
    Task,
    name=NAMES,
    spoken=st.lists(NAMES, max_size=3, unique=True).map(tuple),
    unit=st.just("ft"),
    per_hour=st.none() | NUMBERS,
    crew=st.integers(1, 9),
    hourly_cost=st.none() | MONEY,
)


def test_the_starter_catalog_goes_out_and_comes_back_the_same() -> None:
    assert read_catalog(as_csv(catalog_table(starter_catalog()))) == (starter_catalog(), ())


@given(
    st.lists(ITEMS, min_size=1, max_size=4, unique_by=lambda item: item.name),
    st.lists(TASKS, max_size=3, unique_by=lambda task: task.name),
)
def test_any_catalog_goes_out_and_comes_back_the_same(items: list[Item], tasks: list[Task]) -> None:
    catalog = Catalog(tuple(items), tuple(tasks))
    # Lengths and prices that no shop has are among them.
    sure = Reading(sure=True)
    assert read_catalog(as_csv(catalog_table(catalog)), sure) == (catalog, ())


def test_a_name_that_a_spreadsheet_would_calculate_goes_out_harmless_and_comes_back() -> None:
    catalog = Catalog((Item("=1+1", "each"),))
    written = as_csv(catalog_table(catalog))
    assert "item,'=1+1,each" in written
    assert read_catalog(written) == (catalog, ())


def test_a_row_is_read_with_its_units() -> None:
    catalog, problems = read_catalog(
        HEAD + "item,Fascia,sticks,board; trim,box = 10,12' 6\",10; 8 ft,box of 10,12 ft,1/8,"
        "$14.90,,\n"
    )
    assert problems == ()
    assert catalog.items == (
        Item(
            "fascia",
            "stick",
            ("board", "trim"),
            (("box", Fraction(10)),),
            Fraction(150),
            (Fraction(120), Fraction(96)),
            Fraction(10),
            "box",
            Amount(Fraction(12), "ft"),
            Fraction(1, 8),
            None,
            Decimal("14.90"),
        ),
    )


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("thing,x,lb", "it must be item or task"),
        ("item,,lb", "this item has no name"),
        ("item,x", "needs a unit"),
        ("item,x,furlong", "there is no unit 'furlong'"),
        ("item,good,lb", "is there twice"),
        ("item,x,lb,,box", "write a unit and its number"),
        ("item,x,lb,,box = 0", "must be more than zero"),
        ("item,x,stick,,,0", "no length of a stick"),
        ("item,x,stick,,,144", "a bare number is in feet"),
        ("item,x,stick,,,,10 ft", "has other lengths, but no length"),
        ("item,x,stick,,,,,box of -1", "must be more than zero"),
        ("item,x,stick,,,,,box", "is not a number"),
        ("item,x,stick,,,,,,much", "write it like 900 ft2"),
        ("item,x,stick,,,,,,,-1", "below zero"),
        ("item,x,stick,,,,,,,,cheap", "not an amount of money"),
        ("item,x,stick,,,,,,,,-1", "from zero to 1,000,000"),
        ("item,x,stick,,,,,,,,10000000", "from zero to 1,000,000"),
        ("item,x,stick,,,,,,,,1e300", "not an amount of money"),
        (f"item,x,stick,,,,,{'9' * 9}", "up to 1,000,000"),
        (f"item,x,stick,,,,,{'9' * 5000}", "a number beyond reason"),
        ("item,x,stick,,,,,,,,,94", "counted in lb"),
        ("item,x,lb,,,,,,,,,0", "must be more than zero"),
        ("item,x,lb,,,,,,,,,,8", "per hour is not for an item"),
        ("task,x,ft,,,12", "length is not for a task"),
        ("task,x,,,,,,,,,,,8", "per hour needs a unit"),
        ("task,x,ft,,,,,,,,,,1/0", "divides by zero"),
    ],
)
def test_a_bad_row_is_named_and_left_out(row: str, why: str) -> None:
    catalog, [problem] = read_catalog(HEAD + "item,good,lb\n" + row + "\n")
    assert [item.name for item in catalog.items] == ["good"]
    assert problem.what == "catalog, row 3"
    assert why in problem.why


def test_a_day_without_a_price_is_refused() -> None:
    catalog, [problem] = read_catalog("line,name,unit,priced\nitem,fascia,stick,2026-10-05\n")
    assert catalog == Catalog()
    assert "no cost" in problem.why


def test_prices_by_length_supplier_least_order_and_tax_go_out_and_come_back() -> None:
    text = (
        "line,name,unit,length,cost,length costs,supplier,least order,sales tax\n"
        "item,fascia,stick,12 ft,14.90,16 ft = 21.50; 20 ft = 30,Harbor Yard,250,8.25%\n"
    )
    catalog, problems = read_catalog(text)
    [item] = catalog.items
    assert problems == ()
    assert item.length_costs == (
        (Fraction(192), Decimal("21.50")),
        (Fraction(240), Decimal("30.00")),
    )
    assert item.other_lengths == (192, 240)
    assert (item.supplier, item.least_order, item.tax) == (
        "Harbor Yard", Decimal("250.00"), Fraction(33, 400),
    )  # fmt: skip
    assert read_catalog(as_csv(catalog_table(catalog))) == (catalog, ())


@pytest.mark.parametrize(
    ("cells", "why"),
    [
        ("12 ft,,16 ft = 20,,", "no cost of it"),
        (",14.90,16 ft = 20,,", "no length"),
        ("12 ft,14.90,12 ft = 20,,", "name others"),
        ("12 ft,14.90,16 ft,,", "write it like 16 ft = 24.10"),
        ("12 ft,14.90,,,31%", "from 0 to 30%"),
        ("12 ft,14.90,,,-1%", "from 0 to 30%"),
    ],
)
def test_prices_that_cannot_be_are_refused(cells: str, why: str) -> None:
    header = "line,name,unit,length,cost,length costs,supplier,sales tax\n"
    catalog, [problem] = read_catalog(f"{header}item,fascia,stick,{cells}\n")
    assert catalog == Catalog()
    assert why in problem.why


def test_a_table_with_other_columns_is_refused_with_the_right_ones() -> None:
    catalog, [problem] = read_catalog("line,name,weight\nitem,x,3\n")
    assert catalog == Catalog()
    assert "'weight' is no column of a catalog" in problem.why
    assert "the columns are line, name, unit" in problem.why


def test_a_missing_file_is_a_plain_line(tmp_path: Path) -> None:
    _, [problem] = read_catalog(tmp_path / "none.csv")
    assert (problem.what, "is not there" in problem.why) == ("none.csv", True)


def test_one_field_is_changed_and_the_others_stay() -> None:
    changed = with_fields(starter_catalog(), "Trim  Nails", {"cost": "8.75"})
    [before] = [item for item in starter_catalog().items if item.name == "trim nails"]
    [after] = [item for item in changed.items if item.name == "trim nails"]
    assert after.unit_cost == Decimal("8.75")
    assert (after.per_pound, after.spoken) == (before.per_pound, before.spoken)


def test_an_empty_value_takes_a_field_away() -> None:
    changed = with_fields(starter_catalog(), "trim nails", {"per_pound": ""})
    [after] = [item for item in changed.items if item.name == "trim nails"]
    assert after.per_pound is None


def test_a_new_name_with_a_rate_is_a_task() -> None:
    changed = with_fields(Catalog(), "dig", {"per hour": "3", "unit": "each", "crew": "2"})
    assert changed == Catalog((), (Task("dig", (), "each", Fraction(3), 2),))


@pytest.mark.parametrize(
    ("fields", "why"),
    [({"weight": "3"}, "no field 'weight'"), ({"name": "x"}, "no field"), ({}, "needs a unit")],
)
def test_a_change_that_cannot_be_is_refused_in_words(fields: dict[str, str], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        with_fields(Catalog(), "dig", fields)


def test_what_is_taken_in_replaces_lines_of_its_name_and_leaves_the_others() -> None:
    old = Catalog((Item("fascia", "stick"), Item("caulk", "tube")))
    new = Catalog((Item("fascia", "each"), Item("felt", "roll")))
    assert merged(old, new).items == (
        Item("fascia", "each"),
        Item("caulk", "tube"),
        Item("felt", "roll"),
    )


VARIANTS = "line,name,unit,variant of,size,profile,color\n"


def test_what_tells_a_variant_from_others_is_read() -> None:
    catalog, problems = read_catalog(VARIANTS + "item,fascia 1x8,stick,Fascia,1 X 8,Smooth,White\n")
    assert problems == ()
    assert catalog.items == (
        Item(
            "fascia 1x8",
            "stick",
            variant_of="fascia",
            size="1x8",
            profile="smooth",
            colour="white",
        ),
    )


@pytest.mark.parametrize(
    ("written", "size"),
    [
        ("1 by 8", "1x8"),
        ('5"', "5 in"),
        ("1 1/2 inch", "1 1/2 in"),
        ("3/8-in.", "3/8 in"),
        ("8 penny", "8d"),
        ("29 gauge", "29 ga"),
        ("#8", "#8"),
        ("large", "large"),
    ],
)
def test_a_size_is_kept_as_entries_hold_it(written: str, size: str) -> None:
    catalog = with_fields(Catalog(), "thing", {"unit": "each", "size": written})
    assert [item.size for item in catalog.items] == [size]


def test_a_variant_of_itself_is_refused() -> None:
    with pytest.raises(ValueError, match="no variant of itself"):
        with_fields(Catalog(), "fascia", {"unit": "stick", "variant of": "Fascia"})


def test_a_task_has_no_size() -> None:
    with pytest.raises(ValueError, match="size is not for a task"):
        with_fields(Catalog(), "hang", {"line": "task", "size": "1x8"})


def test_colour_may_be_spelled_in_both_ways() -> None:
    catalog = with_fields(Catalog(), "coil", {"unit": "roll", "colour": "white"})
    assert [item.colour for item in catalog.items] == ["white"]


def test_the_starter_holds_soffit_and_nails_in_variants_and_lumber_by_its_size() -> None:
    lines = {item.name: item for item in starter_catalog().items}
    assert lines["vented soffit panel"].variant_of == "soffit panel"
    assert lines["vented soffit panel"].profile == "vented"
    assert (lines["8d common nails"].variant_of, lines["8d common nails"].size) == (
        "common nails",
        "8d",
    )
    assert (lines["two by ten"].size, lines["two by ten"].stock_length) == ("2x10", 96)


def test_capitals_make_no_other_item() -> None:
    began = starter_catalog()
    changed = with_fields(began, "j CHANNEL", {"cost": "9.40"})
    assert [item.name for item in changed.items] == [item.name for item in began.items]
    [priced] = [item for item in changed.items if item.name == "J channel"]
    assert str(priced.unit_cost) == "9.40"
