"""Entries on a paper: what was told, in the order of time, with the photos that belong to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from joblog.form import describe
from joblog.local import clock_written, day_written
from joblog.model import BookEntry, Entry, Job
from joblog.papers.blocks import Block, Table, Text
from joblog.papers.record import Copy, kept_back, local


def told(
    job: Job, entries: Sequence[BookEntry], numbers: Mapping[int, Sequence[int]], copy: Copy
) -> tuple[Block, ...]:
    """The entries of a day; `numbers` are those of the photos that belong to each.

    What is in doubt is marked and says why. What was taken back stands below, as such.
    """
    hidden = {one.id for one in kept_back(entries)} if copy.handed_out else set()
    standing = [one for one in entries if one.standing != "dropped" and one.id not in hidden]
    dropped = [one for one in entries if one.standing == "dropped" and not copy.handed_out]
    blocks: list[Block] = [_table(job, standing, numbers, copy)] if standing else []
    if not standing:
        blocks.append(Text("Nothing that stands was told."))
    if dropped:
        lines = [f"{_clock(job, one)}  {describe(one.entry)}" for one in dropped]
        blocks.append(Text("\n".join(["Taken back, and counted nowhere:", *lines]), small=True))
    return tuple(blocks)


def words_of(entry: Entry, copy: Copy) -> str:
    """An entry in one line; in a copy that is handed out without money."""
    return describe(_without_money(entry) if copy.handed_out else entry)


def _without_money(entry: Entry) -> Entry:
    inner = None if entry.replacement is None else _without_money(entry.replacement)
    return replace(entry, unit_cost=None, price=None, hours=None, replacement=inner)


def of_another_day(job: Job, one: BookEntry, copy: Copy) -> str:
    """What an entry that was told on another day says, and when it was told."""
    said = words_of(replace(one.entry, day=None), copy)
    doubt = ", in doubt" if one.open else ""
    return f"{said} (told on {day_written(local(job, one.at).date())}{doubt})"


def _table(
    job: Job, entries: Sequence[BookEntry], numbers: Mapping[int, Sequence[int]], copy: Copy
) -> Table:
    doubtful = any(one.open for one in entries)
    pictured = any(numbers.get(one.id) for one in entries)
    rows = []
    for one in entries:
        cells = [_clock(job, one), _words(one, copy)]
        if doubtful:
            cells.insert(1, "?" if one.open else "")
        if pictured:
            cells.append(_runs(numbers.get(one.id, ())))
        rows.append(tuple(cells))
    headings = ["time", "what was told"]
    if doubtful:
        headings.insert(1, "sure")
    if pictured:
        headings.append("photos")
    return Table(tuple(headings), tuple(rows))


def _runs(numbers: Sequence[int]) -> str:
    """Such as "1-17, 20"."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(f"{one}" if one == last else f"{one}-{last}" for one, last in runs)


def _words(one: BookEntry, copy: Copy) -> str:
    line = words_of(one.entry, copy)
    if not one.open:
        return line
    return "\n".join([f"{line}  (in doubt, counted nowhere)", *(f"- {why}" for why in one.doubts)])


def _clock(job: Job, one: BookEntry) -> str:
    return clock_written(local(job, one.at))
