"""Reads mutated tables and counts what became of them.

    python -m tests.bench.tables --tables 100000 --seed 1 --seconds 600

A table is right where no complaint was made and the rows are what was meant; refused where there
was one; WRONG where there was none and the rows are anything else. Each wrong one is printed, with
what it was, and so is whatever ended in a trace.
"""

from __future__ import annotations

import argparse
import re
import tempfile
import time
import traceback
from collections import Counter
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

from joblog.sheet import Notice
from tests.bench.tables import strict
from tests.bench.tables.grammar import RefusedError
from tests.bench.tables.held import COMMANDS, HELD, a_book, by_command, comparable
from tests.bench.tables.kinds import BY_NAME, KINDS, Kind, Row
from tests.bench.tables.written import Table, spoilt, table_of


@dataclass(frozen=True)
class Outcome:
    verdict: str
    """right, refused, WRONG, TRACE, or "as it stands": what was meant, nobody can tell."""
    table: Table
    found: bytes
    why: str
    file: Path
    strictly: str
    """What the strict reader did: read or refused."""


IN_MEMORY = Path("/dev/shm")
"""Where Linux keeps files without a disk; elsewhere it takes longer."""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--tables", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=600)
    parser.add_argument("--kind", choices=sorted(BY_NAME))
    parser.add_argument(
        "--commands", type=int, default=100, help="every so many go through the command line too"
    )
    parser.add_argument("--show", type=int, default=20, help="wrong ones to print of each sort")
    asked = parser.parse_args()
    kinds = [BY_NAME[asked.kind]] if asked.kind else list(KINDS)
    print(run(kinds, asked.tables, asked.seed, asked.seconds, asked.show, asked.commands))


def run(
    kinds: list[Kind], tables: int, seed: int, seconds: float, show: int = 20, commands: int = 100
) -> str:
    """The report, in lines."""
    started, counts, lines = time.monotonic(), Counter[str](), list[str]()
    by_doing: dict[str, Counter[str]] = {}
    shown = Counter[str]()
    with tempfile.TemporaryDirectory(dir=IN_MEMORY if IN_MEMORY.is_dir() else None) as folder:
        book = a_book(Path(folder))
        for number in range(tables):
            if time.monotonic() - started > seconds:
                break
            kind = kinds[number % len(kinds)]
            outcome = one(kind, Random(f"{seed} {number}"), Path(folder))
            if kind.name in COMMANDS and number // len(kinds) % commands == 0:
                counts["commands"] += 1
                outcome = as_told(outcome, Path(folder), book)
            counts[outcome.verdict] += 1
            counts[f"{outcome.verdict}; strictly {outcome.strictly}"] += 1
            for doing in {_sort(doing) for doing in outcome.table.done} or {"nothing"}:
                by_doing.setdefault(doing, Counter())[outcome.verdict] += 1
            if outcome.verdict in ("WRONG", "TRACE", "EXIT"):
                sort = f"{kind.name}: {'; '.join(map(_sort, outcome.table.done))}"
                shown[sort] += 1
                if shown[sort] <= 2 and len(shown) <= show:
                    done = "; ".join(outcome.table.done)
                    lines.append(f"--- {outcome.verdict} {number}, {kind.name}: {done}")
                    lines.append(f"{outcome.found[:600]!r}\n{outcome.why}")
    spent = time.monotonic() - started
    read = sum(counts[v] for v in counts if ";" not in v and v != "commands")
    lines += [f"{verdict:40} {count:8,}" for verdict, count in sorted(counts.items())]
    lines += [
        f"{doing:44} {dict(sorted(found.items()))}"
        for doing, found in sorted(by_doing.items(), key=lambda pair: (-pair[1]["WRONG"], pair[0]))
    ]
    lines.append(f"{read:,} tables in {spent:.0f} s, {read / spent:,.0f} a second, seed {seed}")
    return "\n".join(lines)


def one(kind: Kind, random: Random, folder: Path) -> Outcome:
    """A table, spoilt, and what became of it."""
    table = spoilt(table_of(kind, random), random)
    found, ending = table.bytes()
    file = folder / f"table{ending}"
    file.write_bytes(found)
    strictly: list[Row] | None
    try:
        strictly, why = strict.read(found, kind), "read"
    except RefusedError as error:
        strictly, why = None, str(error)
    told = "read" if strictly is not None else "refused"
    try:
        rows, problems = HELD[kind.name](file)
    except Exception:
        return Outcome("TRACE", table, found, traceback.format_exc(limit=-3), file, told)
    refused = [problem for problem in problems if not isinstance(problem, Notice)]
    if refused:
        return Outcome("refused", table, found, f"{refused[0].what}: {refused[0].why}", file, told)
    taken = comparable(kind.name, rows)
    meant = comparable(kind.name, table.rows) if table.meant else None
    as_it_stands = None if strictly is None else comparable(kind.name, strictly)
    difference = (
        f"taken    {_shown(taken)}\nmeant    {_shown(meant)}\nstrictly {_shown(as_it_stands)} {why}"
    )
    if taken == meant:
        return Outcome("right", table, found, difference, file, told)
    if taken == as_it_stands:
        verdict = "right" if table.unsure else "as it stands"
        return Outcome(verdict, table, found, difference, file, told)
    return Outcome("WRONG", table, found, difference, file, told)


def as_told(outcome: Outcome, folder: Path, book: Path) -> Outcome:
    """The outcome, or another where the command line says otherwise: a refused table that ends
    with 0, one that was taken and does not, or an error that was not written for a person."""
    status, said = by_command(outcome.table.kind.name, outcome.file, book)
    if outcome.verdict == "TRACE" or re.search(
        r"Traceback|^[A-Z]\w*(Error|Exception): ", said, re.M
    ):
        return replace(outcome, verdict="TRACE", why=f"exit {status}: {said[:1500]}")
    # A table that says less than it did may be read well and still be too little to work with.
    enough = not outcome.table.unsure
    if (status == 0 and outcome.verdict == "refused") or (
        status and enough and outcome.verdict == "right"
    ):
        why = f"exit {status}, though {outcome.verdict}: {said[-400:]}"
        return replace(outcome, verdict="EXIT", why=why)
    return outcome


def _sort(doing: str) -> str:
    """What was done, whatever column it was done to."""
    without = re.sub(r"'[^']*'", "...", doing)
    for column in sorted(COLUMNS, key=len, reverse=True):
        without = without.removesuffix(f" in {column}").removesuffix(f" before {column}")
    return without


COLUMNS = {column for kind in KINDS for column in kind.columns}


def _shown(rows: object) -> str:
    return "refused" if rows is None else repr(rows).replace("Fraction", "")


if __name__ == "__main__":
    main()
