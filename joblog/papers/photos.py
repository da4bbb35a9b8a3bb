"""Photos on a paper: numbered, small, with when each was taken and what it belongs to."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from joblog.form import describe
from joblog.local import clock_written
from joblog.model import BookEntry, Job
from joblog.papers.blocks import Block, Picture, Pictures, Text
from joblog.papers.record import Copy, Shot, local
from joblog.papers.told import words_of
from joblog.report.sheets import position_words


def numbered(shots: Sequence[Shot]) -> dict[int, list[int]]:
    """The numbers of the photos, counted from 1, by the entry that they belong to."""
    found: dict[int, list[int]] = {}
    for number, shot in enumerate(shots, 1):
        for tie in shot.ties:
            found.setdefault(tie.entry, []).append(number)
    return found


def pictures(
    job: Job, shots: Sequence[Shot], entries: Mapping[int, BookEntry], copy: Copy
) -> tuple[Block, ...]:
    """The photos in rows, and below them the names of those that cannot be drawn, and why."""
    shown = [
        _picture(job, number, shot, shot.image, entries, copy)
        for number, shot in enumerate(shots, 1)
        if shot.image is not None
    ]
    blocks: list[Block] = [Pictures(tuple(shown))] if shown else []
    lost = [
        f"{number}. {shot.photo.name}: not shown; it {shot.trouble or 'cannot be drawn'}"
        for number, shot in enumerate(shots, 1)
        if shot.image is None
    ]
    if lost:
        blocks.append(Text("\n".join(lost), small=True))
    return tuple(blocks)


def where(shot: Shot, copy: Copy) -> str:
    """Where it was taken, in a copy that says so; else ""."""
    if not copy.positions:
        return ""
    return position_words(shot.photo, shot.placed) or "position not known"


def _picture(
    job: Job,
    number: int,
    shot: Shot,
    image: bytes,
    entries: Mapping[int, BookEntry],
    copy: Copy,
) -> Picture:
    at = clock_written(local(job, shot.taken), seconds=True)
    of = _belongs(shot, entries, copy)
    lines = [f"{number}. {at}  {shot.photo.name}", of, where(shot, copy), _others(shot)]
    alt = f"Photo {number}, {shot.photo.name}, taken at {at}{f', {of}' if of else ''}"
    return Picture(image, alt, "\n".join(filter(None, lines)))


def _belongs(shot: Shot, entries: Mapping[int, BookEntry], copy: Copy) -> str:
    for tie in shot.ties:
        one = entries.get(tie.entry)
        if one is None or one.standing == "dropped" or (copy.handed_out and one.open):
            continue
        said = words_of(one.entry, copy) if copy.handed_out else describe(one.entry)
        return said if tie.sure else f"{said} (not sure)"
    return ""


def _others(shot: Shot) -> str:
    if not shot.stands_for:
        return ""
    named = ", ".join(photo.name for photo in shot.stands_for[:3])
    more = len(shot.stands_for) - 3
    return f"shows the same as {named}{f' and {more} more' if more > 0 else ''}"
