"""The record of covered work: what was said, and the photos that show it before it was covered."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from joblog.form import describe, plain
from joblog.local import clock_written, day_written
from joblog.model import CoveredWork, Job, Proof
from joblog.report.sheets import moment_cell, position_words, told_cell
from joblog.report.table import Table

HEADINGS = (
    "entry", "said", "what", "place", "heard in", "photo", "taken", "clock", "latitude",
    "longitude", "within (m)", "position by", "tied because", "sha256", "lacks",
)  # fmt: skip


def covered_record(job: Job, work: Sequence[CoveredWork]) -> str:
    """One page to show: each entry, its photos with time, place and hash, and what is missing."""
    title = f"{plain(job.name)}, covered work"
    if not work:
        return f"{title}\n{'=' * len(title)}\nnothing was said to be covered"
    lacking = [one for one in work if one.lacks]
    shown = len(work) - len(lacking)
    lines = [title, "=" * len(title), f"{shown} of {len(work)} can be shown as they stand"]
    for one in work:
        lines += ["", *_entry(job, one)]
    return "\n".join(lines)


def covered_table(job: Job, work: Sequence[CoveredWork]) -> Table:
    """One row for each photo; an entry without one has a row of its own. Times are the job's."""
    rows = [row for one in work for row in _rows(job, one)]
    return Table(HEADINGS, tuple(rows), right=frozenset(("entry", "within (m)")))


def lacking_lines(work: Sequence[CoveredWork]) -> list[str]:
    """What is missing, one line for each entry that lacks something."""
    return [
        f"entry {one.entry.id}, {describe(one.entry.entry)}: {', '.join(one.lacks)}"
        for one in work
        if one.lacks
    ]


def _entry(job: Job, one: CoveredWork) -> list[str]:
    heard = f"said in {plain(one.heard_in)}" if one.heard_in else "typed"
    at = _local(job, one.entry.at)
    when = f"{day_written(at.date())}, {clock_written(at)}"
    lines = [f"{when}  {describe(one.entry.entry)}  (entry {one.entry.id}, {heard})"]
    if one.lacks:
        lines.append(f"  ! {', '.join(one.lacks)}")
    for proof in one.proofs:
        lines += _proof(job, proof)
    return lines


def _proof(job: Job, proof: Proof) -> list[str]:
    at = clock_written(_local(job, proof.taken), seconds=True)
    taken = f"taken {at} by {proof.photo.taken.source}"
    if proof.correction:
        written = clock_written(_local(job, proof.photo.taken.at), seconds=True)
        taken += f"; the camera wrote {written}, its clock was {proof.correction}"
    where = position_words(proof.photo, proof.placed)
    lines = [
        f"  {proof.photo.name}  {taken}",
        f"    {where or 'no position'}; tied: {proof.tie.reason}",
        f"    SHA-256 of the original {proof.photo.sha256}",
    ]
    return [plain(line) for line in lines]


def _rows(job: Job, one: CoveredWork) -> list[tuple[str, ...]]:
    head = (
        str(one.entry.id),
        moment_cell(_local(job, one.entry.at)),
        told_cell(one.entry.entry),
        one.entry.entry.place or "",
        one.heard_in or "",
    )
    lacks = "; ".join(one.lacks)
    if not one.proofs:
        return [(*head, *[""] * (len(HEADINGS) - len(head) - 1), lacks)]
    return [(*head, *_cells(job, proof), lacks) for proof in one.proofs]


def _cells(job: Job, proof: Proof) -> tuple[str, ...]:
    placed = proof.placed
    position = placed.position if placed else None
    error = position.error if position else None
    return (
        proof.photo.name,
        moment_cell(_local(job, proof.taken)),
        proof.correction,
        f"{position.latitude:.6f}" if position else "",
        f"{position.longitude:.6f}" if position else "",
        "" if error is None else f"{error:.0f}",
        placed.source if placed else "",
        proof.tie.reason,
        proof.photo.sha256,
    )


def _local(job: Job, at: datetime) -> datetime:
    return at.astimezone(ZoneInfo(job.zone))
