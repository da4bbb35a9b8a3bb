"""Cut lists of the classes that are usual for bin packing, beside HiGHS and CP-SAT, in one run.

    python -m tests.bench.cutting_table [--seconds 10] [--of 3] [--only CLASS ...] [--file F]

Every list gets the same seconds of processor time on one core from each solver; HiGHS and CP-SAT
are given an arc-flow model (`tests/bench/arc_flow.py`), joblog the list. A row a class: lists whose
answer was proved the best, sticks above the best lower bound that anybody proved, summed, and the
seconds of processor time, summed. Where two solvers prove different answers, the run stops.

The lists are made by the rules of the classes, not copied: uniform 20 to 100 into 150, and
triplets of 1000, by Falkenauer (1996); the cutting stock generator of Gau and Waescher (1995), from
memory; "hard" as in Hard28 by its ranges, from memory (160 to 200 pieces of 1 to 800 into 1000);
"exact" are bins that are filled exactly, beside the list of 2 x 44, 3 x 33 and 6 x 12 into 132 that
needs one stick more than its relaxation rounded up (Fieldhouse 1990, from memory);
"prices" are our own: 120 pieces over 20 lengths, 10 to 40 cutoffs, two to four lengths for sale.

`--file` takes a folder of published lists, as text files: how many pieces, what a bin holds, then
one weight a line, or a weight and how many.
"""

from __future__ import annotations

import argparse
import random
import time
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from joblog.cutting import effort as clock
from joblog.cutting.columns import Bin
from joblog.cutting.effort import Effort
from joblog.cutting.packing import pack
from tests.bench.arc_flow import Answer, by_cp_sat, by_highs


@dataclass(frozen=True)
class List:
    name: str
    pieces: Counter[int]
    bins: tuple[Bin, ...]

    @property
    def weights(self) -> list[int]:
        return sorted(self.pieces, reverse=True)

    @property
    def demands(self) -> list[int]:
        return [self.pieces[weight] for weight in self.weights]


Solver = Callable[[Sequence[int], Sequence[int], Sequence[Bin], float], Answer]


def main(seconds: float, of_each: int, only: Sequence[str], folder: Path | None) -> None:
    classes = {"published": list(_published(folder))} if folder else _classes(of_each, only)
    solvers: dict[str, Solver] = {"joblog": by_joblog, "HiGHS": by_highs, "CP-SAT": by_cp_sat}
    print(f"{seconds:g} s of processor time for each list; proved / sticks (cost) above / seconds")
    print(f"{'class':16}{'lists':>6}" + "".join(f"{name:>28}" for name in solvers))
    for name, lists in classes.items():
        rows = []
        for each in lists:
            answers = []
            for solver in solvers.values():
                began = time.process_time()
                answer = solver(each.weights, each.demands, each.bins, seconds)
                answers.append((answer, time.process_time() - began))
            rows.append(answers)
            shown = "  ".join(f"{a.cost}>={a.bound} {spent:.1f}s" for a, spent in answers)
            print(f"    {each.name:24}{shown}", flush=True)
            _agree(each, [answer for answer, _ in answers])
        least = [max(answer.bound for answer, _ in row) for row in rows]
        cells = []
        for at in range(len(solvers)):
            proved = sum(row[at][0].cost == row[at][0].bound for row in rows)
            found = [row[at][0].cost for row in rows]
            above = sum(cost - low for cost, low in zip(found, least, strict=True) if cost)
            none = sum(cost is None for cost in found)
            spent = sum(row[at][1] for row in rows)
            without = f" ({none} without)" if none else ""
            cells.append(f"{proved} / {above}{without} / {spent:.1f}")
        print(f"{name:16}{len(rows):6}" + "".join(f"{cell:>28}" for cell in cells), flush=True)


def _agree(each: List, answers: Sequence[Answer]) -> None:
    best = min(answer.cost for answer in answers if answer.cost is not None)
    for answer in answers:
        if answer.bound > best:
            raise SystemExit(f"{each.name}: {answer.bound} was proved, and {best} is possible")


def by_joblog(
    weights: Sequence[int], demands: Sequence[int], bins: Sequence[Bin], seconds: float
) -> Answer:
    # What others take of a busy machine is no part of the comparison.
    clock.monotonic = time.process_time  # type: ignore[attr-defined]
    packing = pack(weights, demands, bins, Effort(seconds=seconds))
    return Answer(packing.cost, packing.bound)


# --- the lists ----------------------------------------------------------------------------------


def _classes(of_each: int, only: Sequence[str]) -> dict[str, list[List]]:
    made: dict[str, Callable[[int], List]] = {
        **{
            f"u{count}": lambda seed, count=count: uniform(count, seed) for count in (120, 250, 500)
        },
        **{
            f"triplets{count}": lambda seed, count=count: triplets(count, seed)
            for count in (60, 120, 249)
        },
        "gau": gau,
        "hard": hard,
        "exact": exact,
        "prices": prices,
    }
    return {
        name: [make(seed) for seed in range(of_each)]
        for name, make in made.items()
        if not only or name in only
    }


def uniform(count: int, seed: int) -> List:
    chance = random.Random(seed)
    pieces = Counter(chance.randint(20, 100) for _ in range(count))
    return List(f"u{count} {seed}", pieces, (Bin(150, 1),))


def triplets(count: int, seed: int) -> List:
    chance = random.Random(seed)
    pieces: Counter[int] = Counter()
    for _ in range(count // 3):
        first = chance.randint(380, 490)
        second = chance.randint(250, (1000 - first) // 2)
        pieces.update((first, second, 1000 - first - second))
    return List(f"triplets{count} {seed}", pieces, (Bin(1000, 1),))


def gau(seed: int) -> List:
    chance = random.Random(seed)
    longest = chance.choice((2500, 5000, 7500, 10_000))
    lengths = [chance.randint(1, longest) for _ in range(chance.choice((20, 30, 40, 50)))]
    shares = [chance.random() for _ in lengths]
    pieces: Counter[int] = Counter()
    for length, share in zip(lengths, shares, strict=True):
        pieces[length] += max(1, round(10 * len(lengths) * share / sum(shares)))
    return List(f"gau {seed}", pieces, (Bin(10_000, 1),))


def hard(seed: int) -> List:
    chance = random.Random(seed)
    count = chance.choice((160, 180, 200))
    pieces = Counter(chance.randint(1, 800) for _ in range(count))
    return List(f"hard {seed}", pieces, (Bin(1000, 1),))


def exact(seed: int) -> List:
    chance = random.Random(seed)
    scale = chance.choice((50, 53, 57, 61))
    room = 132 * scale
    pieces = Counter({44 * scale: 2, 33 * scale: 3, 12 * scale: 6})
    for _ in range(chance.randint(15, 40)):
        cuts = sorted(chance.sample(range(room // 12, room - room // 12), chance.choice((2, 3, 4))))
        parts = [end - begin for begin, end in zip([0, *cuts], [*cuts, room], strict=True)]
        if min(parts) >= room // 14:
            pieces.update(parts)
    return List(f"exact {seed}", pieces, (Bin(room, 1),))


def prices(seed: int) -> List:
    """Weights in sixteenths with a kerf of 1/8; costs in tens of cents."""
    chance = random.Random(seed)
    lengths = [length + 2 for length in chance.sample(range(12 * 16, 96 * 16 + 1), 20)]
    pieces = Counter(lengths) + Counter(chance.choices(lengths, k=100))
    cutoffs = [
        Bin(chance.randint(24 * 16, 120 * 16) + 2, 0, 1) for _ in range(chance.choice((10, 20, 40)))
    ]
    sold = [(144, 185), (192, 264), (240, 341), (120, 151)][: chance.choice((2, 3, 4))]
    bins = (*cutoffs, *(Bin(feet * 16 + 2, cost) for feet, cost in sold))
    return List(f"prices {seed}", pieces, bins)


def _published(folder: Path) -> Iterator[List]:
    for file in sorted(folder.glob("*.txt")):
        numbers = [list(map(int, line.split())) for line in file.read_text().splitlines() if line]
        pieces: Counter[int] = Counter()
        for weight, *count in numbers[2:]:
            pieces[weight] += count[0] if count else 1
        yield List(file.stem, pieces, (Bin(numbers[1][0], 1),))


if __name__ == "__main__":
    options = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    options.add_argument("--seconds", type=float, default=10.0)
    options.add_argument("--of", type=int, default=3, help="lists of each class")
    options.add_argument("--only", nargs="*", default=[], help="classes")
    options.add_argument("--file", type=Path, help="a folder of published lists")
    asked = options.parse_args()
    main(asked.seconds, asked.of, asked.only, asked.file)
