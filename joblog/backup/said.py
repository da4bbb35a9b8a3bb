"""What is said of a backup, in words for a person."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from joblog.backup.nouns import State
from joblog.local import moment_written

_SIZES = ((10**9, "GB"), (10**6, "MB"), (10**3, "KB"))


def size_told(length: int) -> str:
    """Such as "1.2 GB"."""
    for unit, name in _SIZES:
        if length >= unit:
            return (
                f"{length / unit:,.1f} {name}"
                if length < 10 * unit
                else f"{length // unit:,} {name}"
            )
    return f"{length} bytes"


def counts_told(state: State) -> str:
    """Such as "3 jobs, 120 entries, 40 photos"."""
    return ", ".join(counted(count, sort) for sort, count in state.counts.items() if count) or (
        "nothing in it yet"
    )


def counted(count: int, sort: str) -> str:
    """Such as "1 job" of 1 and "jobs"."""
    one = {"entries": "entry"}.get(sort, sort.removesuffix("s"))
    return f"{count:,} {sort if count != 1 else one}"


def others_told(folder: Path, others: Iterable[State], ends: Sequence[State]) -> tuple[str, ...]:
    """What is said where there is work of other copies of the book; `ends` as `parted` has them."""
    return tuple(
        f"{folder}: work of another copy of this book lies there as well, of"
        f" {moment_written(one.at.astimezone(), year=True)}"
        f"{f', from {one.of}' if one.of else ''} ({counts_told(one)}); it is kept, and is not in"
        f" this one. joblog restore {folder} --copy {ends.index(one) + 1} --book NEW makes a book"
        " of it, to be looked at; go on in one of the two alone"
        for one in others
    )


def joined(words: Iterable[str]) -> str:
    """The parts of a line that has some."""
    return ", ".join(filter(None, words))
