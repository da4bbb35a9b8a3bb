"""From a house to its runs, side by side: what each of them measures, as `takeoff` takes it."""

from __future__ import annotations

from joblog.model import House, Problem, Run


def runs_of(house: House) -> tuple[tuple[Run, ...], tuple[str, ...], tuple[Problem, ...]]:
    """The runs of a house in the order of its walk, notes on what was left out and why, and what
    cannot be as it is told.

    A run's place is its body and side ("front", "dormer left"), its row the row of the side.
    """
    raise NotImplementedError
