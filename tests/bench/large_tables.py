"""How long the commands that take in a table need where the table is a large one.

    python -m tests.bench.large_tables [--small] [--only "plan"] [--profile]

Invented tables in a folder of their own: a plan, a catalog and earlier plans of 20,000 rows, runs
of 5,000, a house of 200 sides; with --small a tenth of each. Names are of two sorts: made of a few
words of the trade and a size, as an export of a supplier has them, and with a word of its own in
each. Prints the processor seconds of each command, a process of its own as a person starts it, and
how many lines it said; with --profile where the time of each went.
"""

from __future__ import annotations

import argparse
import csv
import os
import random
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path

ROWS, RUNS, SIDES = 20_000, 5_000, 200
SEED = 1907


def main() -> None:
    asked = argparse.ArgumentParser()
    asked.add_argument("--small", action="store_true")
    asked.add_argument("--only", default="", help="commands of which the name has this in it")
    asked.add_argument("--profile", action="store_true")
    given = asked.parse_args()
    share = 10 if given.small else 1
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        for name, write in TABLES.items():
            _write(folder / f"{name}.csv", write(share))
        print(f"{'':<44}{'processor, s':>14}{'lines':>10}{'exit':>6}")
        for called, before, command in COMMANDS:
            if given.only not in called:
                continue
            book = folder / called.replace(" ", "-")
            for words in (("new", "Gull Point"), *before):
                _run(folder, book, words, None)
            profiled = folder / "profile" if given.profile else None
            seconds, lines, status = _run(folder, book, command, profiled)
            print(f"{called:<44}{seconds:>14.2f}{lines:>10,}{status:>6}", flush=True)
            if profiled is not None:
                _show(profiled)


def _run(
    folder: Path, book: Path, words: Iterable[str], profiled: Path | None
) -> tuple[float, int, int]:
    """Processor seconds of the command, lines that it said, and its exit status."""
    command = [sys.executable]
    if profiled is not None:
        command += ["-m", "cProfile", "-o", str(profiled)]
    command += ["-m", "joblog", *(word.format(folder) for word in words)]
    told = {**os.environ, "JOBLOG_BOOK": str(book)}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(command, capture_output=True, text=True, timeout=600, env=told)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    spent = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return spent, len((done.stdout + done.stderr).splitlines()), done.returncode


def _show(profiled: Path) -> None:
    import pstats

    pstats.Stats(str(profiled)).sort_stats("cumulative").print_stats(45)
    pstats.Stats(str(profiled)).sort_stats("tottime").print_stats(25)


# --- the tables -------------------------------------------------------------------------------

Rows = Iterable[tuple[object, ...]]

STUFF = "white brown black clear gray vented solid primed galvanized aluminum vinyl copper".split()
THINGS = (
    "soffit panel;F channel;J channel;gutter;downspout;fascia;drip edge;starter strip;trim nail;"
    "frieze board;undersill trim;corner post;siding;coil;hanger;elbow;outlet;end cap;sealant;strap"
).split(";")
SYLLABLES = [one + two for one in "bdfgklmnprstvz" for two in "aeiou"]


def _of_few_words(at: int) -> str:
    """Another name for each number, of few words: "white soffit panel 4x12"."""
    at, thing = divmod(at, len(THINGS))
    at, stuff = divmod(at, len(STUFF))
    return f"{STUFF[stuff]} {THINGS[thing]} {at // 40 + 1}x{at % 40 + 1}"


def _of_own_words(at: int, *, wrong: bool = False) -> str:
    """Another name for each number, with a word of its own; `wrong` by a letter more."""
    dice = random.Random(at * SEED)
    own = "".join(dice.choices(SYLLABLES, k=2)) + _word_of(at)
    return f"{own + 'x' * wrong} {THINGS[at % len(THINGS)]}"


def _word_of(at: int) -> str:
    digits = []
    while at or not digits:
        at, digit = divmod(at, len(SYLLABLES))
        digits.append(SYLLABLES[digit])
    return "".join(digits)


def _plan(name: Callable[[int], str]) -> Callable[[int], Rows]:
    def rows(share: int) -> Rows:
        yield "line", "name", "quantity", "unit", "cost", "source"
        for at in range(ROWS // share):
            quantity = f"{at % 90 + 1} {('1/2', '1/4', '')[at % 3]}".strip()
            yield "item", name(at), quantity, "each", f"{at % 80}.{at % 100:02}", "by hand"

    return rows


def _catalog(name: Callable[[int], str]) -> Callable[[int], Rows]:
    def rows(share: int) -> Rows:
        yield "line", "name", "unit", "length", "sold by", "cost", "supplier"
        for at in range(ROWS // share):
            long = ("12 ft", "")[at % 2]
            yield "item", name(at), "each", long, "box of 20", f"{at % 80}.{at % 100:02}", "yard"

    return rows


def _runs(share: int) -> Rows:
    yield "work", "place", "length", "depth", "run", "pitch", "width", "height", "drop"
    for at in range(RUNS // share):
        place, feet = f"place {at}", f"{at % 60 + 4}' {at % 12} {at % 8 * 2 + 1}/16\""
        yield (
            ("boxed eave", place, feet, f"{11 + at % 3} 3/4", "", "", "", "", ""),
            ("rake", place, "", "12", f"{at % 9 + 6}' 4\"", "6/12", "", "", ""),
            ("wall", place, "", "", "", "", feet, "9 ft", ""),
            ("gutter run", place, feet, "", "", "", "", "", "10 ft"),
        )[at % 4]


def _house(share: int) -> Rows:
    """A flight of steps seen from above, which closes: out and back in one long side each."""
    steps = SIDES // share // 2 - 1
    yield "what", "name", "length", "height", "top", "corner", "depth", "at", "sill", "gutter"
    yield "side", "front", f"{steps * 4} ft", "9 ft", "eave", "outside", 12, "", "", "yes"
    yield "side", "left", f"{steps * 4} ft", "9 ft", "eave", "outside", 12, "", "", "yes"
    for at in range(steps):
        behind = "outside" if at == steps - 1 else "inside"
        yield "side", f"back {at}", "4 ft", "9 ft", "eave", "outside", 12, "", "", "yes"
        yield "window", f"window {at}", "2 ft", "3 ft", "", "", "", "1 ft", "3 ft", ""
        yield "side", f"right {at}", "4 ft", "9 ft", "eave", behind, 12, "", "", "yes"


TABLES: dict[str, Callable[[int], Rows]] = {
    "plan": _plan(_of_few_words),
    "plan-own": _plan(_of_own_words),
    "plan-alike": _plan(lambda at: f"{_of_few_words(at)} stock"),
    "plan-alike-own": _plan(lambda at: _of_own_words(at, wrong=True)),
    "catalog": _catalog(_of_few_words),
    "catalog-own": _catalog(_of_own_words),
    "runs": _runs,
    "house": _house,
}

Command = tuple[str, ...]
CATALOG: Command = ("catalog", "{0}/catalog.csv", "--sure")
CATALOG_OWN: Command = ("catalog", "{0}/catalog-own.csv", "--sure")
PLAN: Command = ("plan", "{0}/plan.csv", "--sure")

COMMANDS: tuple[tuple[str, tuple[Command, ...], Command], ...] = (
    ("plan", (), PLAN),
    ("plan, own words", (), ("plan", "{0}/plan-own.csv", "--sure")),
    ("plan, again", (PLAN,), PLAN),
    ("plan, shown", (PLAN,), ("plan",)),
    ("catalog", (), CATALOG),
    ("catalog, own words", (), CATALOG_OWN),
    ("catalog, again", (CATALOG,), CATALOG),
    ("catalog, with a plan", (PLAN,), CATALOG),
    ("catalog, one price set", (CATALOG, PLAN), ("catalog", "set", "fascia", "cost=14.90")),
    ("catalog, undone", (CATALOG,), ("undo",)),
    ("plan of the catalog", (CATALOG,), PLAN),
    ("plan nearly of the catalog", (CATALOG,), ("plan", "{0}/plan-alike.csv", "--sure")),
    ("plan nearly of own words", (CATALOG_OWN,), ("plan", "{0}/plan-alike-own.csv", "--sure")),
    ("plan, undone", (PLAN,), ("undo",)),
    ("order of the plan", (CATALOG, PLAN), ("order",)),
    ("takeoff", (), ("takeoff", "{0}/runs.csv", "--sure")),
    ("takeoff into the plan", (), ("takeoff", "{0}/runs.csv", "--sure", "--to-plan")),
    ("order of runs", (), ("order", "{0}/runs.csv", "--sure")),
    ("house", (), ("house", "{0}/house.csv")),
    ("house, shown", (("house", "{0}/house.csv"),), ("house",)),
    ("takeoff of the house", (("house", "{0}/house.csv"),), ("takeoff", "--house")),
    ("order of the house", (("house", "{0}/house.csv"),), ("order", "--house")),
)
"""What each is called, what comes before it, and the command itself."""


def _write(file: Path, rows: Rows) -> None:
    with file.open("w", newline="", encoding="utf-8") as out:
        csv.writer(out).writerows(rows)


if __name__ == "__main__":
    main()
