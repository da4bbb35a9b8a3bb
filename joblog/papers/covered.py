"""The record of covered work: a paper for whoever has to believe what nobody can see any more."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from joblog.local import clock_written, day_written
from joblog.model import CoveredWork, Job, Proof
from joblog.papers.blocks import Block, Facts, Heading, Paper, Picture, Pictures, Text, Warning
from joblog.papers.leaving_out import left_out
from joblog.papers.record import Copy, Shot, local
from joblog.papers.told import words_of
from joblog.report.sheets import position_words


def covered_paper(
    job: Job, work: Sequence[CoveredWork], shots: Mapping[str, Shot], copy: Copy
) -> Paper:
    """Each entry, its photos with time, place and hash, and what is missing."""
    lacking = sum(bool(one.lacks) for one in work)
    placed = any(proof.placed for one in work for proof in one.proofs)
    about = [("entries", f"{len(work)}, {len(work) - lacking} complete")]
    days = sorted({local(job, one.entry.at).date() for one in work})
    if days:
        about.insert(0, ("days", " to ".join(dict.fromkeys(map(day_written, (days[0], days[-1]))))))
    return Paper(
        f"{job.name}: covered work",
        about=tuple(about),
        blocks=(
            *left_out(copy, photos=placed),
            *covered_blocks(job, work, shots, copy),
            *((Text(_HOW, small=True),) if work else ()),
        ),
        footer=f"{job.name}, covered work",
    )


_HOW = (
    "The photos here are small copies of the pixels alone. The originals are kept as they came from"
    " the camera; each can be told by its SHA-256, which any later change would change."
)


def covered_blocks(
    job: Job, work: Sequence[CoveredWork], shots: Mapping[str, Shot], copy: Copy
) -> tuple[Block, ...]:
    """The same without its head, as a part of a larger paper."""
    if not work:
        return (Text("Nothing was said to be covered."),)
    return tuple(block for one in work for block in _entry(job, one, shots, copy))


def _entry(job: Job, one: CoveredWork, shots: Mapping[str, Shot], copy: Copy) -> Iterator[Block]:
    at = local(job, one.entry.at)
    yield Heading(words_of(one.entry.entry, copy).removeprefix("covered: "), 2)
    told = f"{day_written(at.date())}, {clock_written(at)}"
    how = f"said in {one.heard_in}" if one.heard_in else "typed"
    facts = [("told", told), ("where", one.entry.entry.place or "no place said")]
    if not copy.handed_out:
        facts.append(("from", f"entry {one.entry.id}, {how}"))
    yield Facts(tuple(facts))
    if one.lacks:
        yield Warning(f"It lacks: {', '.join(one.lacks)}.")
    shown = [_picture(job, proof, shots.get(proof.photo.sha256), copy) for proof in one.proofs]
    drawn = tuple(picture for picture in shown if picture is not None)
    if drawn:
        yield Pictures(drawn, across=1 if len(drawn) == 1 else 2)
    lost = [
        _caption(job, proof, copy)
        for proof, picture in zip(one.proofs, shown, strict=True)
        if picture is None
    ]
    if lost:
        yield Text("\n".join(["These photos cannot be shown here:", *lost]), small=True)


def _picture(job: Job, proof: Proof, shot: Shot | None, copy: Copy) -> Picture | None:
    if shot is None or shot.image is None:
        return None
    at = clock_written(local(job, proof.taken), seconds=True)
    return Picture(shot.image, f"{proof.photo.name}, taken at {at}", _caption(job, proof, copy))


def _caption(job: Job, proof: Proof, copy: Copy) -> str:
    taken = local(job, proof.taken)
    at = f"{day_written(taken.date())}, {clock_written(taken, seconds=True)}"
    lines = [proof.photo.name, f"taken {at}; the time is from {proof.photo.taken.source}"]
    if proof.correction:
        wrote = clock_written(local(job, proof.photo.taken.at), seconds=True)
        lines.append(f"the camera wrote {wrote}; its clock was {proof.correction}")
    if copy.positions:
        lines.append(position_words(proof.photo, proof.placed) or "position not known")
    lines.append(f"it belongs here: {proof.tie.reason}")
    lines.append(f"SHA-256 {proof.photo.sha256}")
    return "\n".join(lines)
