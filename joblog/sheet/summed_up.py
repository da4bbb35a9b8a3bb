"""Many problems in a few lines."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from joblog.model import Problem

SHOWN = 3
"""Rows that a line names; it counts the others."""


def summed_up(problems: Sequence[Problem], most: int = 12) -> tuple[Problem, ...]:
    """The problems in their order; where there are more than `most`, alike ones of a file are one
    line with their rows, and the kinds beyond `most` are counted in the last."""
    if len(problems) <= most:
        return tuple(problems)
    kinds: dict[tuple[object, ...], list[Problem]] = {}
    for problem in problems:
        kinds.setdefault(_kind(problem), []).append(problem)
    lines = [_one(alike) for alike in kinds.values()]
    if len(lines) <= most:
        return tuple(lines)
    beyond = list(kinds.values())[most - 1 :]
    count = sum(map(len, beyond))
    return (*lines[: most - 1], replace(beyond[0][0], why=f"{count:,} problems more like this one"))


def _kind(problem: Problem) -> tuple[object, ...]:
    """What alike problems share: all but the row, the name before the colon, and what was read."""
    file = _ROW.sub("", problem.what)
    why = _NAMED.sub("", problem.why)
    return type(problem), file, bool(_ROW.search(problem.what)), _READ.sub("", why)


def _one(alike: Sequence[Problem]) -> Problem:
    first, *others = alike
    rows = [found[1] for problem in others if (found := _ROW.search(problem.what))]
    if not rows:
        return first if not others else replace(first, why=f"{first.why} ({len(others):,} more)")
    if len({problem.why for problem in alike}) == 1 and (own := _ROW.search(first.what)):
        file = _ROW.sub("", first.what)
        return replace(first, what=f"{file}, rows {_listed([own[1], *rows])}")
    row = "row" if len(rows) == 1 else "rows"
    return replace(first, why=f"{first.why}; so it is in {row} {_listed(rows)}")


def _listed(rows: Sequence[str]) -> str:
    more = len(rows) - SHOWN
    if more > 0:
        return f"{', '.join(rows[:SHOWN])} and {more:,} more"
    *before, last = rows
    return f"{', '.join(before)} and {last}" if before else last


_ROW = re.compile(r", row (\d+)$")
_NAMED = re.compile(r"^[^:]*: ")
_READ = re.compile(r"'[^']*'|\"[^\"]*\"|\d[\d,./ ]*")
