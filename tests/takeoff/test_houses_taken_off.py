"""Five houses taken off side by side, against the take-offs that were made of them by hand before
any program could read their tables.

The tables and sums stand in `houses/`, with how each was worked out. By hand the laps of siding and
house wrap were left out, so they are here.
"""

import csv
from collections import Counter, defaultdict
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from joblog.catalog.lines import starter_catalog
from joblog.house.read_table import read_house
from joblog.house.runs import runs_of
from joblog.model import TakeOff
from joblog.takeoff.for_every import for_every
from joblog.takeoff.take_off import take_off

HOUSES = Path(__file__).parent / "houses"
NAMES = ("hip", "gable", "l_shape", "porch", "dormer")
CATALOG = starter_catalog()
STOCK = {item.name: item.stock_length for item in CATALOG.items}
EVERY = [
    ("drip edge", "1"),
    ("frieze", "1"),
    ("siding lap", "0"),
    ("wrap lap", "0"),
    ("wrap end", "0"),
]
OURS = {"divider": "H trim", "outside corner post": "corner post", "outlet": "gutter outlet"}
"""What an item of the sums is called here, where it is called otherwise."""
ROUNDED = Fraction(1, 64)
"""Inches: each square root is rounded up by as much, and there are no more than four to a line."""

Amounts = Mapping[tuple[str, str], Fraction]
Row = dict[str, str]


@cache
def taken(name: str) -> TakeOff:
    house, unread = read_house(HOUSES / f"{name}.csv")
    runs, _, problems = runs_of(house)
    found, refused = take_off(for_every(runs, EVERY), CATALOG)
    assert (unread, problems, refused) == ((), (), ())
    return found


@cache
def by_hand(name: str) -> tuple[Row, ...]:
    with (HOUSES / f"{name}_by_hand.csv").open(encoding="utf-8", newline="") as text:
        return tuple(csv.DictReader(text))


def side_of(place: str, found: TakeOff) -> str:
    """The side that a line of the sums is about: the window of a side, a part of an eave too."""
    sides = {line.place for line in found.lines}
    fitting = [side for side in sides if f"{place} ".startswith(f"{side} ")]
    return max(fitting, key=len, default=place)


def summed(rows: tuple[Row, ...], found: TakeOff) -> Amounts:
    total: dict[tuple[str, str], Fraction] = defaultdict(Fraction)
    for row in rows:
        item = OURS.get(row["item"], row["item"])
        place = "all" if item in OF_THE_HOUSE else side_of(row["place"], found)
        total[place, item] += Fraction(row["amount"])
    return {key: amount for key, amount in total.items() if amount}


OF_THE_HOUSE = {
    "outside gutter corner", "inside gutter corner", "end cap", "gutter outlet", "downspout",
    "elbow", "downspout strap", "seams", "return", "vented panel at 1/150", "vented panel at 1/300",
}  # fmt: skip
BESIDE = {"caulk", "drip cap", "siding nails", "trim nails", "trim coil", "siding panel"}
"""What the sums do not have, or have by another name."""


def ours(found: TakeOff) -> Amounts:
    """The take-off in the units of the sums: feet, square feet, pieces."""
    total: dict[tuple[str, str], Fraction] = defaultdict(Fraction)
    for line in found.lines:
        place = "all" if line.item in OF_THE_HOUSE else line.place
        stock = STOCK[line.item]
        if line.item == "siding panel":
            # A panel of 12 ft in courses of 8 in covers 8 square feet.
            total[place, "siding net"] += line.net * 8
            total[place, "siding laid"] += line.gross * 12
        elif line.item == "house wrap":
            total[place, line.item] += line.gross * 900
        elif line.item == "caulk" and line.work == "gutter run":
            total["all", "seams"] += line.net * 24
        elif line.item == "trim coil":
            total["all", "return"] += line.net * 50 / 2
        elif line.item not in BESIDE | {"soffit panel"}:
            total[place, line.item] += line.net * (stock / 12 if stock else 1)
    for piece in found.pieces:
        if piece.item == "soffit panel":
            total[side_of(piece.label, found), "soffit panel"] += piece.pieces
    for figure in found.figures:
        if figure.name.startswith("vented panel for it"):
            total["all", figure.name.replace(" for it", "")] += figure.amount.quantity
    return {key: amount for key, amount in total.items() if amount}


@pytest.mark.parametrize("name", NAMES)
def test_every_line_of_the_take_off_by_hand_comes_out(name: str) -> None:
    found = taken(name)
    assert ours(found) == pytest.approx(summed(by_hand(name), found), abs=float(4 * ROUNDED / 12))


@pytest.mark.parametrize("name", NAMES)
def test_soffit_pieces_are_as_long_as_by_hand(name: str) -> None:
    found, expected = taken(name), Counter[tuple[str, Fraction]]()
    for row in by_hand(name):
        if row["item"] == "soffit panel":
            many, long = row["pieces"].split(" x ")
            length = sum(map(Fraction, long.split()))
            expected[side_of(row["place"], found), Fraction(length)] += int(many)
    cut = Counter[tuple[str, Fraction]]()
    for piece in found.pieces:
        if piece.item == "soffit panel":
            cut[side_of(piece.label, found), piece.length] += piece.pieces
    assert cut == expected


LAPS = {
    "J channel": 1, "undersill trim": 1, "F channel": Fraction(3, 4), "fascia": 1, "drip edge": 2,
    "frieze board": 0, "gutter": 1, "corner post": 1, "inside corner post": 1, "downspout": 1,
}  # fmt: skip
"""Inches that a joint takes, as `houses/README.md` says."""


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("item", LAPS)
def test_each_line_is_made_up_of_pieces_by_itself(name: str, item: str) -> None:
    found, stock = taken(name), STOCK[item] or Fraction(0)
    expected: dict[str, list[Fraction]] = defaultdict(list)
    for row in by_hand(name):
        if OURS.get(row["item"], row["item"]) == item and row["pieces"]:
            place = "all" if item in OF_THE_HOUSE else side_of(row["place"], found)
            for line in map(Fraction, row["pieces"].split(";")):
                expected[place] += made_up(line, stock, Fraction(LAPS[item]))
    cut: dict[str, list[Fraction]] = defaultdict(list)
    for piece in found.pieces:
        if piece.item == item:
            place = "all" if item in OF_THE_HOUSE else side_of(piece.label, found)
            cut[place] += [piece.length] * piece.pieces
    assert {place: sorted(lines) for place, lines in cut.items()} == {
        # A sixteenth of an inch is what a tape shows; a root is rounded up before that.
        place: pytest.approx(sorted(map(float, lines)), abs=float(Fraction(1, 16) + ROUNDED))
        for place, lines in expected.items()
    }


def made_up(line: Fraction, stock: Fraction, lap: Fraction) -> list[Fraction]:
    """Whole sticks, each lapping the next, and what is left of the line."""
    if line <= stock:
        return [line]
    return [stock, *made_up(line - stock + lap, stock, lap)]
