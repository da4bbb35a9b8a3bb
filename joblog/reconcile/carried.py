"""What is carried between jobs, as the balance of one of them sees it: it comes, or it goes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from joblog.model import BookEntry, Entry, Kind, Moved


def with_transfers(
    entries: Iterable[BookEntry], job: str, came: Sequence[Moved] = ()
) -> list[BookEntry]:
    """The entries, each transfer among them as a delivery or a return that has `from_job` or
    `to_job`, and beside them what other jobs told of this one.

    So a transfer counts wherever what came or went does. What others told was settled there.
    """
    return [*map(_here, entries), *_told_elsewhere(job, came)]


def told_elsewhere(job: str, came: Iterable[Moved]) -> frozenset[int]:
    """The entries of other jobs that tell of this one."""
    return frozenset(kept.id for kept in _told_elsewhere(job, came))


def _here(kept: BookEntry) -> BookEntry:
    said = kept.entry
    if said.kind != "moved":
        return kept
    kind: Kind = "delivered" if said.from_job is not None else "returned"
    return replace(kept, entry=replace(said, kind=kind))


def _told_elsewhere(job: str, came: Iterable[Moved]) -> Iterator[BookEntry]:
    for one in came:
        if one.opening or any(told == job for told, _ in one.told):
            continue
        into = one.to_job == job
        entry = Entry(
            "delivered" if into else "returned",
            item=one.item,
            quantity=one.quantity,
            unit=one.unit,
            from_job=one.from_job if into else None,
            to_job=None if into else one.to_job,
        )
        for _, number in one.told[:1]:
            yield BookEntry(
                number, 1, one.at, entry, (), "accepted", "accepted", one.at, "", utterance=None
            )
