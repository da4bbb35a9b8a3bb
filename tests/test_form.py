"""The JSON form and the plain line of an entry."""

from datetime import time
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
            "used: 3 sheets of soffit panel, north eave",
        ),
        (
            Entry("delivered", item="elbow", quantity=Fraction(12), unit="each"),
            "delivered: 12 elbow",
        ),
        (Entry("spoiled", item="fascia", unit="stick"), "spoiled: ? sticks of fascia"),
        (Entry("correction", action="drop"), "change: take back the last one"),
    ],
)
def test_an_entry_is_described_in_one_plain_line(entry: Entry, line: str) -> None:
    assert describe(entry) == line


def test_control_characters_are_not_printed() -> None:
    assert plain("a\x1b[2Jb\u202ec") == "a [2Jb c"
