"""What choosing joints saves: stock, joints and processor seconds, of houses and invented lists.

    python -m tests.bench.joints [--lists 200] [--effort 0.05]

Each list is cut three ways: in the usual length alone, with whole sticks and what remains; so
again, but from all lengths there are; and with joints where they are least. Lengths are 12, 16 and
20 ft.
"""

from __future__ import annotations

import argparse
import random
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from pathlib import Path
from time import process_time

from joblog.catalog.lines import starter_catalog
from joblog.cutting.cuts import plan_cuts
from joblog.cutting.joints import plan_runs
from joblog.house.read_table import read_house
from joblog.house.runs import runs_of
from joblog.model import Joints, Piece, StockLength
from joblog.takeoff.for_every import for_every
from joblog.takeoff.take_off import take_off
from joblog.takeoff.works import starter_works

HOUSES = Path(__file__).parents[1] / "takeoff" / "houses"
KERF = Fraction(1, 8)
LENGTHS = (Fraction(144), Fraction(192), Fraction(240))


@dataclass
class Sums:
    lists: int = 0
    feet: Fraction = Fraction(0)
    joints: int = 0
    seconds: float = 0
    slowest: float = 0
    proved: int = 0
    fewest: int = 0

    def add(
        self, inches: Fraction, joints: int, seconds: float, proved: bool, fewest: bool
    ) -> None:
        self.lists += 1
        self.feet += inches / 12
        self.joints += joints
        self.seconds += seconds
        self.slowest = max(self.slowest, seconds)
        self.proved += proved
        self.fewest += fewest


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--lists", type=int, default=200)
    parser.add_argument("--effort", type=float, default=0.05)
    asked = parser.parse_args()
    for house in ("hip", "gable", "l_shape", "porch", "dormer"):
        show(house, of_house(house), asked.effort)
    show("invented", invented(asked.lists), asked.effort)


def show(name: str, lists: Iterable[Sequence[Piece]], effort: float) -> None:
    ways = {"usual length": Sums(), "all lengths": Sums(), "chosen": Sums()}
    for wanted in lists:
        usual = next(iter(LENGTHS))
        laid, joints = in_whole_sticks(wanted, usual)
        for way, lengths in (("usual length", LENGTHS[:1]), ("all lengths", LENGTHS)):
            began = process_time()
            plan, _ = plan_cuts(laid, [*map(StockLength, lengths)], kerf=KERF, effort=effort)
            took = process_time() - began
            ways[way].add(
                plan.spent, joints, took, plan.proved, proved_fewest(plan.joints_at_least)
            )
        began = process_time()
        plan, problems = plan_runs(wanted, [*map(StockLength, LENGTHS)], kerf=KERF, effort=effort)
        took = process_time() - began
        assert not problems
        found = sum(len(run.joints) * run.pieces for run in plan.runs)
        ways["chosen"].add(plan.spent, found, took, plan.proved, found == plan.joints_at_least)
    for way, sums in ways.items():
        print(
            f"{name:10} {way:13} {sums.lists:4} lists {float(sums.feet):9.0f} ft "
            f"{sums.joints:5} joints; least stock proved {sums.proved:4}, fewest joints "
            f"{sums.fewest:4}; {sums.seconds:6.1f} s, slowest {sums.slowest:5.2f}",
            flush=True,
        )


def proved_fewest(joints_at_least: int) -> bool:
    """Whole sticks are not chosen, so nothing is proved of their joints."""
    return joints_at_least > 0


def in_whole_sticks(wanted: Sequence[Piece], stock: Fraction) -> tuple[list[Piece], int]:
    """Each run as whole sticks and what remains, and how many joints that makes."""
    made, joints = [], 0
    for piece in wanted:
        if piece.joints is None or piece.length <= stock:
            made.append(replace(piece, joints=None))
            continue
        lap = piece.joints.lap
        many = ceil((piece.length - lap) / (stock - lap)) - 1
        last = piece.length + many * (lap - stock)
        joints += many * piece.pieces
        made.append(replace(piece, length=stock, pieces=many * piece.pieces, joints=None))
        made.append(replace(piece, length=last, joints=None))
    return made, joints


def of_house(name: str) -> Iterator[list[Piece]]:
    """Of each item of a house that has runs, all its pieces."""
    house, _ = read_house(HOUSES / f"{name}.csv")
    runs, _, _ = runs_of(house)
    catalog = starter_catalog()
    items = tuple(
        replace(item, stock_length=LENGTHS[0]) if item.stock_length else item
        for item in catalog.items
    )
    every = for_every(runs, house.every, starter_works())
    found, _ = take_off(every, replace(catalog, items=items))
    for item in dict.fromkeys(piece.item for piece in found.pieces if piece.joints):
        yield [piece for piece in found.pieces if piece.item == item]


def invented(lists: int) -> Iterator[list[Piece]]:
    """Two to eight runs of 6 to 70 ft; every other list has its joints over rafters."""
    rng = random.Random(19)
    for number in range(lists):
        lapped = Joints(lap=Fraction(1), clear=Fraction(24))
        rafters = Joints(spacing=Fraction(16), clear=Fraction(24))
        yield [
            Piece(
                Fraction(rng.randint(72, 840)), 1, f"run {at}", joints=(lapped, rafters)[number % 2]
            )
            for at in range(rng.randint(2, 8))
        ]


if __name__ == "__main__":
    main()
