"""What was read of jobs: after a decision, only what it changed is read anew."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from joblog.model import BookEntry

Placed = tuple[tuple[str, int, int], BookEntry]
"""An entry with what it stands in order by: its moment, its place in the utterance, its number."""
Read = Callable[[Iterable[int] | None], Iterable[Placed]]
"""Reads those of a job that are asked for, or with None all, in their order."""


@dataclass(slots=True)
class _Job:
    elsewhere: int
    """How far others had written when it was read."""
    placed: dict[int, Placed]
    changed: set[int] = field(default_factory=set)
    all: tuple[BookEntry, ...] = ()


class Remembered:
    """What was read of some jobs. An entry is changed by a new version of it and nothing else."""

    def __init__(self) -> None:
        self._jobs: dict[int, _Job] = {}
        self._plans: tuple[int, dict[int, str]] = (0, {})

    def of(self, job: int, elsewhere: int, read: Read) -> tuple[BookEntry, ...]:
        """The entries of a job, in order. `elsewhere` is how far others have written by now."""
        known = self._jobs.get(job)
        if known is None or known.elsewhere != elsewhere:
            placed = {one[1].id: one for one in read(None)}
            known = self._jobs[job] = _Job(elsewhere, placed)
            known.all = tuple(one for _, one in placed.values())
            return known.all
        elif known.changed:
            for id in known.changed:  # It may be in another job by now.
                known.placed.pop(id, None)
            known.placed.update((one[1].id, one) for one in read(known.changed))
        else:
            return known.all
        known.changed = set()
        known.all = tuple(one for _, one in sorted(known.placed.values(), key=_place))
        return known.all

    def changes(self, id: int) -> None:
        """Notes that an entry was written."""
        for known in self._jobs.values():
            known.changed.add(id)

    def plan_marks(self, elsewhere: int) -> dict[int, str]:
        """By job, what was put here as the mark of its plan and still holds."""
        if self._plans[0] != elsewhere:
            self._plans = (elsewhere, {})
        return self._plans[1]

    def changes_plan(self, job: int) -> None:
        """Notes that the plan of a job was written."""
        self._plans[1].pop(job, None)

    def forget(self) -> None:
        """Forgets all, where what was read may never have come about."""
        self._jobs.clear()
        self._plans[1].clear()


def _place(placed: Placed) -> tuple[str, int, int]:
    return placed[0]
