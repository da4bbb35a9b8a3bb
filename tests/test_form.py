"""The JSON form and the plain line of an entry."""

from datetime import date, time
from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.form import describe, entry_from_json, entry_to_json, plain
from joblog.model import Entry


def test_a_measure_has_the_form_of_the_design() -> None:
    entry = Entry("measure", place="north wall", inches=Fraction(191, 16), as_said="11 7/8 heavy")
    assert entry_to_json(entry) == {
        "kind": "measure",
        "item": None,
        "place": "north wall",
        "inches": "191/16",
        "as_said": "11 7/8 heavy",
        "pieces": None,
    }


def test_a_stock_entry_has_the_form_of_the_design() -> None:
    entry = Entry("used", item="soffit panel", quantity=Fraction(3), unit="sheet")
    assert entry_to_json(entry) == {
        "kind": "used",
        "item": "soffit panel",
        "quantity": "3",
        "unit": "sheet",
        "place": None,
    }


@pytest.mark.parametrize(
    "entry",
    [
        Entry("measure", pitch=Fraction(8), as_said="8 in 12"),
        Entry("measure", square_inches=Fraction(126)),
        Entry("delivered", item="fascia", quantity=Fraction(7, 2), unit_cost=Decimal("13.50")),
        Entry("start", time=time(7, 30), workers=2),
        Entry("correction", action="replace", replacement=Entry("break", minutes=Fraction(30))),
        Entry("measure", inches=Fraction(9), place="north eave", carried=("place",)),
        Entry("measure", inches=Fraction(9, 8), dimension="reveal"),
        Entry(
            "used",
            item="fascia 1x8",
            size="1x8",
            length=Fraction(144),
            profile="smooth",
            colour="white",
            day=date(2026, 10, 5),
        ),
        Entry("todo", note="call about the dumpster", day=date(2026, 10, 9), who="the yard"),
        Entry("extra", note="wrap the beam", price=Decimal("185.50"), hours=Fraction(3)),
        Entry("price", item="fascia", unit="stick", unit_cost=Decimal("14.90")),
        Entry("expense", price=Decimal("42.10"), note="the dump"),
        Entry("drive", miles=Fraction(65, 2), minutes=Fraction(50)),
        Entry("inspection", time=time(10), who="the inspector"),
        Entry("visit", note="the neighbors", day=date(2026, 10, 5)),
    ],
)
def test_an_entry_reads_back_from_its_json(entry: Entry) -> None:
    assert entry_from_json(entry_to_json(entry)) == entry


def test_an_unknown_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="no entry of kind"):
        entry_from_json({"kind": "rumour"})


@pytest.mark.parametrize(
    ("entry", "line"),
    [
        (
            Entry(
                "used", item="soffit panel", quantity=Fraction(3), unit="sheet", place="north eave"
            ),
            "installed: 3 soffit panels, north eave",
        ),
        (
            Entry("delivered", item="elbow", quantity=Fraction(12), unit="each"),
            "delivered: 12 elbow",
        ),
        (Entry("spoiled", item="fascia", unit="stick"), "wasted: ? sticks of fascia"),
        (Entry("correction", action="drop"), "change: take back the last one"),
        (
            Entry("used", item="fascia 1x8", size="1x8", quantity=Fraction(3), unit="stick"),
            "installed: 3 sticks of fascia 1x8",
        ),
        (
            Entry(
                "used",
                item="one by eight",
                size="1x8",
                length=Fraction(144),
                quantity=Fraction(3),
                unit="stick",
            ),
            "installed: 3 sticks of one by eight 12' long",
        ),
        (
            Entry(
                "on_hand",
                item="trim coil",
                colour="white",
                size="24 in",
                quantity=Fraction(1),
                unit="roll",
            ),
            "left: 1 roll of 24 in white trim coil",
        ),
        (
            Entry("measure", inches=Fraction(9, 8), dimension="reveal", place="porch"),
            "measure: reveal 1 1/8 in, porch",
        ),
        (Entry("measure", inches=Fraction(49, 4), as_said="12 1/4"), "measure: 12 1/4 in"),
        (
            Entry("measure", inches=Fraction(492), as_said="41 feet"),
            "measure: 492 in = 41'",
        ),
        (
            Entry("measure", inches=Fraction(191, 16), as_said="11 7/8 heavy"),
            "measure: 11 15/16 in (said: 11 7/8 heavy)",
        ),
        (
            Entry("covered", note="the wire behind the south soffit", place="behind south soffit"),
            "covered: the wire behind the south soffit",
        ),
        (
            Entry("note", note="the gable end is open", place="gable"),
            "note: the gable end is open",
        ),
        (
            Entry("note", note="the gables are open", place="gable"),
            "note: the gables are open, gable",
        ),
        (
            Entry("price", item="fascia", unit="stick", unit_cost=Decimal("14.90")),
            "price: fascia, at $14.90 a stick",
        ),
        (
            Entry(
                "todo",
                note="bring two rolls of coil",
                item="trim coil",
                quantity=Fraction(2),
                unit="roll",
                day=date(2026, 10, 9),
            ),
            "to do: bring two rolls of coil, Fri, Oct 9, 2026",
        ),
    ],
)
def test_an_entry_is_described_in_one_plain_line(entry: Entry, line: str) -> None:
    assert describe(entry) == line


def test_control_characters_are_not_printed() -> None:
    assert plain("a\x1b[2Jb\u202ec") == "a [2Jb c"
