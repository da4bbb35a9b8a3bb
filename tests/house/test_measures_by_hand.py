"""Five houses whose take-offs were made by hand before any program could read their tables: what
their sides, corners and gables measure, line by line.

The tables and the sums stand in `tests/takeoff/houses/`, with how each was worked out.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterator
from math import sqrt
from pathlib import Path

import pytest

from joblog.house.read_table import read_house
from joblog.house.runs import runs_of
from joblog.model import Run

HOUSES = Path(__file__).parents[1] / "takeoff" / "houses"
NAMES = ("hip", "gable", "l_shape", "porch", "dormer")
Measured = Iterator[tuple[str, str, float]]


def of_eaves(run: Run, said: dict[str, float]) -> Measured:
    yield run.place, "drip edge", (12 * said["length"] + said["beyond"] - said["short"]) / 12
    yield "all", "return", said.get("returns", 0)


def of_rakes(run: Run, said: dict[str, float]) -> Measured:
    yield run.place, "drip edge", said["run"] * sqrt(1 + (said["pitch"] / 12) ** 2)


def of_walls(run: Run, said: dict[str, float]) -> Measured:
    low = said.get("height_end", said["height"])
    area = said["width"] * (said["height"] + low) / 2
    yield run.place, "starter strip", (said["width"] if low else 0) - said.get("door_width", 0)
    yield run.place, "outside corner post", said.get("corners", 0) * said["height"]
    yield run.place, "inside corner post", said.get("inside_corners", 0) * said["height"]
    yield run.place, "siding net", area - said.get("openings", 0)
    yield run.place, "house wrap", area


def of_gables(run: Run, said: dict[str, float]) -> Measured:
    area = said["width"] ** 2 / 4 * said["pitch"] / 12
    yield run.place, "siding net", area - said.get("openings", 0)
    yield run.place, "house wrap", area


def of_gutters(run: Run, said: dict[str, float]) -> Measured:
    yield run.place, "gutter", said["length"]
    yield "all", "end cap", said["end_caps"]
    yield "all", "outside gutter corner", said.get("outside_corners", 0)
    yield "all", "inside gutter corner", said.get("inside_corners", 0)


OF_WORK = {
    "boxed eave": of_eaves,
    "rake": of_rakes,
    "wall": of_walls,
    "gable wall": of_gables,
    "gutter run": of_gutters,
}
ITEMS = (
    "drip edge", "return", "starter strip", "outside corner post", "inside corner post",
    "siding net", "house wrap", "gutter", "end cap", "outside gutter corner",
    "inside gutter corner",
)  # fmt: skip


def measured(name: str) -> Counter[tuple[str, str]]:
    house, unread = read_house(HOUSES / f"{name}.csv")
    runs, _, problems = runs_of(house)
    assert (unread, problems) == ((), ())
    total: Counter[tuple[str, str]] = Counter()
    for run in runs:
        said = {measure: float(amount.quantity) for measure, amount in run.measures}
        for place, item, amount in OF_WORK.get(run.work, nothing)(run, said):
            total[place, item] += amount  # type: ignore[assignment]
    return total


def nothing(run: Run, said: dict[str, float]) -> Measured:
    yield from ()


def by_hand(name: str) -> Counter[tuple[str, str]]:
    """By place and item; the two parts of an interrupted eave belong to one side."""
    total: Counter[tuple[str, str]] = Counter()
    with (HOUSES / f"{name}_by_hand.csv").open(encoding="utf-8", newline="") as text:
        for row in csv.DictReader(text):
            if row["item"] in ITEMS:
                place = re.sub(r" \d$", "", row["place"])
                total[place, row["item"]] += float(row["amount"])  # type: ignore[assignment]
    return total


@pytest.mark.parametrize("name", NAMES)
def test_a_house_measures_what_was_worked_out_by_hand(name: str) -> None:
    ours = {key: amount for key, amount in measured(name).items() if amount}
    theirs = {key: amount for key, amount in by_hand(name).items() if amount}

    assert ours == pytest.approx(theirs, abs=0.001)


@pytest.mark.parametrize("name", NAMES)
def test_the_hand_made_take_off_tells_of_each_of_these_items(name: str) -> None:
    assert len(by_hand(name)) > 20
