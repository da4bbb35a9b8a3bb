"""The entries of jobs that were read: after a decision, only what it changed is read anew."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from joblog.model import BookEntry

Placed = tuple[tuple[str, int, int], BookEntry]
"""An entry with what it stands in order by: its moment, its place in the utterance, its number."""
Read = Callable[[Iterable[int] | None], Iterable[Placed]]
"""Reads those of a job that are asked for, or all with None."""


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

    def of(self, job: int, elsewhere: int, read: Read) -> tuple[BookEntry, ...]:
        """The entries of a job, in order. `elsewhere` is how far others have written by now."""
        known = self._jobs.get(job)
        if known is None or known.elsewhere != elsewhere:
            placed = {one.id: (place, one) for place, one in read(None)}
            known = self._jobs[job] = _Job(elsewhere, placed)
        elif known.changed:
            for id in known.changed:  # It may be in another job by now.
                known.placed.pop(id, None)
            known.placed.update((one.id, (place, one)) for place, one in read(known.changed))
        else:
            return known.all
        known.changed = set()
        known.all = tuple(one for _, one in sorted(known.placed.values(), key=_place))
        return known.all

    def changes(self, id: int) -> None:
        """Notes that an entry was written."""
        for known in self._jobs.values():
            known.changed.add(id)

    def forget(self) -> None:
        """Forgets all, where what was read may never have come about."""
        self._jobs.clear()


def _place(placed: Placed) -> tuple[str, int, int]:
    return placed[0]
