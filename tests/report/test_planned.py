"""The planned side on paper: it fits the terminal, says what is missing, and is harmless."""

from decimal import Decimal
from fractions import Fraction

from joblog.catalog.lines import starter_catalog
from joblog.model import Amount, Item, Piece, Run
from joblog.ordering.foresee import Need
from joblog.ordering.needs import needs_of
from joblog.ordering.order import order
from joblog.report import as_csv
from joblog.report.planned import (
    catalog_list,
    order_sheet,
    order_table,
    piece_table,
    take_off_sheet,
    take_off_table,
    works_table,
)
from joblog.report.table import as_text
from joblog.takeoff.take_off import take_off
from joblog.takeoff.works import starter_works

CATALOG = starter_catalog()
SIZES = (("length", Amount(Fraction(41), "ft")), ("depth", Amount(Fraction(12), "in")))
FOUND, _ = take_off([Run("boxed eave", "north\x1b[31m eave", SIZES)], CATALOG)
NEEDS = needs_of(FOUND, CATALOG)
PRICED = Item("fascia", "stick", pack=Fraction(10), pack_name="box", unit_cost=Decimal("14.90"))


def test_a_take_off_fits_eighty_columns() -> None:
    assert max(map(len, take_off_sheet(FOUND, NEEDS, 80).splitlines())) <= 80


def test_a_take_off_says_net_gross_and_formula_and_whose_word_counts() -> None:
    sheet = take_off_sheet(FOUND, NEEDS)
    assert "  soffit panel: net ~3.3455, gross ~3.4167 sheet\n" in sheet
    assert "(41 - 0 x 41 / 41) x 11 3/4 in / 144 in/sheet" in " ".join(sheet.split())
    assert "for the local code" in " ".join(sheet.split())


def test_control_characters_of_a_place_never_reach_the_terminal() -> None:
    assert "\x1b" not in take_off_sheet(FOUND, NEEDS)


def test_a_take_off_for_a_spreadsheet_is_exact() -> None:
    assert ",fascia,stick,3 5/12,3 7/16," in as_csv(take_off_table(FOUND))


def test_pieces_for_the_saw_are_in_inches_with_their_place_and_item() -> None:
    pieces = [Piece(Fraction(187, 16), 25, "north eave 1-25", "soffit panel")]
    assert as_csv(piece_table(pieces)).splitlines() == [
        "length,pieces,label,item",
        "11 11/16,25,north eave 1-25,soffit panel",
    ]


FELT = Need(Item("felt", "roll"), None, Fraction(1))
BOTH = order(
    [Need(PRICED, Fraction(11), Fraction(12)), FELT], allowance={"felt": Fraction(1, 10)}
).lines


def test_an_order_shows_offcuts_apart_from_the_allowance_and_sums_its_cost() -> None:
    sheet = " ".join(order_sheet(BOTH, ["felt: nobody counted what is left"]).split())
    assert "fascia 11 1 0.6 12.6 0 298.00 2 boxes (20 sticks)" in sheet
    assert "total $298.00, without felt: no price in the catalog" in sheet
    assert "felt: nobody counted" in sheet


def test_an_order_names_its_allowances() -> None:
    assert "an allowance of 5% (felt 10%) for what cracks" in order_sheet(BOTH)


def test_an_order_fits_eighty_columns() -> None:
    assert max(map(len, order_sheet(BOTH, width=80).splitlines())) <= 80


def test_an_order_without_any_price_says_so() -> None:
    assert "no prices in the catalog" in order_sheet(order([FELT]).lines)


def test_an_order_of_nothing_says_so() -> None:
    assert order_sheet(()) == "nothing here yet"


def test_an_order_for_a_spreadsheet_is_exact() -> None:
    lines = order([Need(PRICED, Fraction(1, 3), Fraction(1, 3))]).lines
    assert "fascia,stick,1/3,0,1/60,5%,0,7/20,0,10,14.90,149.00,1 box (10 sticks)" in as_csv(
        order_table(lines)
    )


def test_the_catalog_and_the_kinds_of_work_fit_a_hundred_columns() -> None:
    shown = as_text(catalog_list(CATALOG)) + "\n" + as_text(works_table(starter_works()))
    assert max(map(len, shown.splitlines())) <= 100
    assert "per pound 105" in shown
