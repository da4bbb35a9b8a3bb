"""What is said of a backup, in words for a person."""

from __future__ import annotations

from collections.abc import Iterable

from joblog.backup.nouns import State

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


def joined(words: Iterable[str]) -> str:
    """The parts of a line that has some."""
    return ", ".join(filter(None, words))
