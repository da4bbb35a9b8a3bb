"""A take-off by hand and the program's of the same house, line beside line."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

from joblog.catalog.lines import starter_catalog
from joblog.house.read_table import read_house
from joblog.house.runs import runs_of
from joblog.model import Piece, TakeOff, TakeOffLine
from joblog.quantity import about
from joblog.takeoff.for_every import for_every
from joblog.takeoff.take_off import take_off
from joblog.takeoff.works import starter_works
from tests.takeoff.laid import laid_end_to_end

HOUSES = Path(__file__).parent / "houses"
NAMES = ("hip", "gable", "l_shape", "porch", "dormer")
TAPE = 0.006
"""Feet: slopes and dividers are rounded up to 1/64 in, and amounts stand with four decimals."""


WITHOUT_LAPS = (("siding lap", "0"), ("wrap lap", "0"), ("wrap end", "0"))
"""By hand they were left out of siding and house wrap."""


@dataclass(frozen=True)
class ByHand:
    house: str
    place: str
    item: str
    amount: float
    unit: str
    pieces: str
    how: str


@cache
def lines_of(house: str) -> tuple[ByHand, ...]:
    """What was worked out by hand."""
    rows = csv.DictReader((HOUSES / f"{house}_by_hand.csv").read_text("utf-8").splitlines())
    return tuple(
        ByHand(
            house, row["place"], row["item"], float(row["amount"]), row["unit"], row["pieces"],
            row["how"],
        )
        for row in rows
    )  # fmt: skip


@cache
def taken_off(house: str) -> TakeOff:
    """What the program makes of the table of the same house."""
    found, unread = read_house(HOUSES / f"{house}.csv")
    runs, notes, impossible = runs_of(found)
    runs = for_every(runs, (*found.every, *WITHOUT_LAPS), starter_works())
    made, untaken = take_off(runs, starter_catalog())
    assert not (*unread, *notes, *impossible, *untaken)
    return made


@cache
def groups_of(house: str) -> tuple[tuple[ByHand, ...], ...]:
    """Lines that the program has as one: openings of a side, the parts of an interrupted one."""
    together: dict[tuple[str, str, bool], list[ByHand]] = {}
    for line in lines_of(house):
        place = line.place if line.place == "all" else _place(line)
        together.setdefault((line.item, place, opening(line)), []).append(line)
    return tuple(map(tuple, together.values()))


def amount(line: ByHand) -> float:
    """The program's amount of what was taken off by hand at the same place, in the same unit."""
    found = taken_off(line.house)
    if line.item.startswith("vented panel"):
        sought = line.item.replace("vented panel at", "vented panel for it at")
        return float(sum(one.amount.quantity for one in found.figures if one.name == sought))
    if line.item == "soffit panel":
        return float(sum(piece.pieces for piece in pieces(line)))
    measured = MEASURED.get(line.item, _length)
    return float(sum(measured(one) for one in _lines(found, line)))


def pieces(line: ByHand) -> Iterator[Piece]:
    """What the program cuts at the place of a line, of its item."""
    found = taken_off(line.house)
    item = ITEMS.get(line.item, line.item)
    place = line.place if opening(line) else _place(line)
    for piece in laid_end_to_end(found.pieces):
        if piece.item == item and place in ("all", _place_of(piece.label)):
            yield piece


def sticks(lines: tuple[ByHand, ...]) -> list[float]:
    """The sticks of straight lines by hand, each laid end to end and lapped at its joints: whole
    ones, and the last to what remains."""
    stock, lap = float(STOCK[ITEMS.get(lines[0].item, lines[0].item)] or 0), LAPS[lines[0].item]
    cut: list[float] = []
    for line in lines:
        for written in filter(None, line.pieces.split(";")):
            left = float(written)
            while left > stock + TAPE:
                cut.append(stock)
                left -= stock - lap
            cut.append(left)
    return sorted(cut)


def beyond(house: str) -> list[str]:
    """What the program has at a place where nothing was found by hand, of the items of the five."""
    known = {ITEMS.get(line.item, line.item) for name in NAMES for line in lines_of(name)}
    by_hand = {
        (place, ITEMS.get(line.item, line.item))
        for group in groups_of(house)
        for line in group
        for place in (_place(line), line.place)
    }
    everywhere = {item for place, item in by_hand if place == "all"}
    return [
        f"{one.place}: {one.item}, {about(one.net)} {one.unit}"
        for one in taken_off(house).lines
        if one.item in known - everywhere - {"caulk"} and (one.place, one.item) not in by_hand
    ]


def inches(text: str) -> float:
    """A length on paper: 11 3/4."""
    return float(sum(map(Fraction, text.split())))


def _lines(found: TakeOff, line: ByHand) -> Iterator[TakeOffLine]:
    item = ITEMS.get(line.item, line.item)
    for one in found.lines:
        if one.item != item or (line.place != "all" and one.place != _place(line)):
            continue
        if item in ("J channel", "undersill trim") and _at_opening(one) != opening(line):
            continue
        if item == "caulk" and one.work != "gutter run":
            continue
        if line.item == "divider" and one.work != "boxed eave":
            continue
        yield one


def _at_opening(one: TakeOffLine) -> bool:
    return one.work in ("window", "door")


def opening(line: ByHand) -> bool:
    """Whether it is of a window, a door or a louver, which have pieces of their own."""
    return _place(line) != line.place and not line.place[-1].isdigit()


def _place(line: ByHand) -> str:
    """The side; the two parts of an interrupted one are one place, and so are its openings."""
    words = line.place.split()
    if line.place.startswith(("wing back", "porch ", "dormer ")):
        return " ".join(words[:2])
    return words[0] if words[0] in ("front", "left", "back", "right", "inner") else line.place


def _place_of(label: str) -> str:
    words = label.split()
    while words and (words[-1][0].isdigit() or words[-1].startswith("(")):
        words.pop()
    return " ".join(words)


STOCK = {item.name: item.stock_length for item in starter_catalog().items}


def _length(one: TakeOffLine) -> Fraction:
    """Feet of what is measured by its length, as it is where it is counted."""
    stock = STOCK.get(one.item)
    return one.net * stock / 12 if stock and one.unit != "each" else one.net


def _laid(one: TakeOffLine) -> Fraction:
    return one.gross * (STOCK[one.item] or 0) / 12


def _area(one: TakeOffLine) -> Fraction:
    return one.net * (STOCK[one.item] or 0) / 12 * Fraction(8, 12)


def _of_rolls(one: TakeOffLine) -> Fraction:
    return one.gross * 900


MEASURED: dict[str, Callable[[TakeOffLine], Fraction]] = {
    "siding net": _area,
    "siding laid": _laid,
    "house wrap": _of_rolls,
    "seams": lambda one: one.net * SEAMS,
}
SEAMS = 24
"""Of a gutter to a tube of sealant (common practice)."""
ITEMS = {
    "divider": "H trim",
    "outside corner post": "corner post",
    "siding net": "siding panel",
    "siding laid": "siding panel",
    "outlet": "gutter outlet",
    "seams": "caulk",
}
LAPS = {
    "F channel": 0.75, "fascia": 1, "J channel": 1, "undersill trim": 1, "drip edge": 2,
    "frieze board": 0, "gutter": 1, "outside corner post": 1, "inside corner post": 1,
    "downspout": 1, "H trim": 0.75, "divider": 0.75,
}  # fmt: skip
"""Inches at each joint."""
