"""What is carried between jobs, as the balance of one of them sees it: it comes, or it goes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from joblog.form import amount, units_of
from joblog.model import BookEntry, Entry, Gap, Kind, Moved


def with_transfers(
    entries: Iterable[BookEntry], job: str, came: Sequence[Moved] = ()
) -> list[BookEntry]:
    """The entries, each transfer among them as a delivery or a return that has `from_job` or
    `to_job`, and beside them what other jobs told of this one.

    So a transfer counts wherever what came or went does. What others told was settled there.
    """
    return [*map(_here, entries), *_told_elsewhere(job, came)]


def unlike_gaps(job: str, came: Iterable[Moved]) -> Iterator[Gap]:
    """Transfers of which both ends tell, each another number: they are counted as two."""
    for one in came:
        if one.unlike is None:
            continue
        to, where = ("to", one.to_job) if one.from_job == job else ("from", one.from_job)
        here = any(told == job for told, _ in one.told)
        if here:
            many = units_of(one.quantity, one.unit, one.item)
            yield Gap(
                f"{one.item}: {many} told as moved {to} {where}, and there {amount(one.unlike)}:"
                " counted as two transfers; if it is one, drop or change what is wrong",
                "decision",
                one.item,
                one.unit,
                min(one.quantity, one.unlike),
                entries=tuple(number for told, number in one.told if told == job),
            )


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
