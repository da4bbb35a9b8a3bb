"""Which recordings are new, and which sound like one that is there already."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

from joblog.book.copies import KeptSound, Shorter
from joblog.book.hearing import Found, Met
from joblog.model import Moment

PERHAPS = 0.4
"""From this share on a person is asked."""
SLACK = 0.4
"""Seconds that coding anew adds or takes at the ends."""
BROKEN = ("ends early", "is damaged")
"""What the trouble of a recording says of which some is missing."""
CLOCKS = ("container", "file name", "file time")
"""Where a recording's time is from, the best evidence first."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a recording that comes in is, beside those that are there.

    `same_as` names one that has all of its sound already, `elsewhere` the job of that one where it
    is another; `shorter` are those of which it has all; `perhaps` says what it may be. `made` is
    when it was made, by the best of their clocks.
    """

    made: Moment
    same_as: str | None = None
    elsewhere: str | None = None
    shorter: tuple[Shorter, ...] = ()
    perhaps: str | None = None


def compared(
    found: Sequence[tuple[Found, Met]], kept: Sequence[KeptSound], job: str
) -> tuple[Verdict, ...]:
    """A verdict for each, in the same order.

    The longest are looked at first, and of these the unbroken, so that of copies that come together
    the whole one is taken in, however often the intake was stopped in between.
    """
    from joblog.audio.sameness import Prints

    there = {
        one.sha256: one for one in kept if one.sound is not None and one.standing != "withdrawn"
    }
    prints = {sha256: one.sound for sha256, one in there.items() if one.sound is not None}
    coming = {task.stowed.sha256: met.sound for task, met in found if met.sound is not None}
    everything = Prints({**prints, **coming})
    verdicts = {task.stowed.sha256: Verdict(met.made) for task, met in found}
    taken = dict(there)
    for task, met in sorted(found, key=_longest_first):
        if met.sound is None:
            continue
        sha256 = task.stowed.sha256
        verdict = Verdict(met.made)
        for like in everything.like(met.sound):
            if like.other != sha256 and (other := taken.get(like.other)):
                verdict = _weighed(verdict, met, other, like.mine, like.theirs, like.begins, job)
        verdicts[sha256] = verdict
        if verdict.same_as is None:
            taken[sha256] = KeptSound(
                sha256, job, task.source.name, met.made, met.sound.seconds,
                None, "kept", None, met.sound,
            )  # fmt: skip
    return tuple(verdicts[task.stowed.sha256] for task, _ in found)


def _longest_first(one: tuple[Found, Met]) -> tuple[float, bool, str, str]:
    task, met = one
    seconds = met.sound.seconds if met.sound else 0.0
    return -round(seconds), met.broken, met.made.at.isoformat(), task.stowed.sha256


def _weighed(
    verdict: Verdict,
    met: Met,
    other: KeptSound,
    mine: float,
    theirs: float,
    begins: float,
    job: str,
) -> Verdict:
    """The verdict so far, with one more that has some of the sound."""
    from joblog.audio.sameness import ALIKE

    assert met.sound is not None and other.sound is not None
    more = max(-begins, begins + met.sound.seconds - other.sound.seconds)
    less = max(begins, other.sound.seconds - met.sound.seconds - begins)
    torn = any(word in (other.trouble or "") for word in BROKEN)
    mends = torn and not met.broken and less <= SLACK and theirs >= ALIKE
    if mine >= ALIKE and more <= SLACK and not mends:
        if not other.counts or verdict.same_as:
            return verdict
        return replace(
            verdict, same_as=other.name, elsewhere=other.job if other.job != job else None
        )
    if theirs >= ALIKE and less <= SLACK and other.job == job:
        made = verdict.made
        if CLOCKS.index(other.made.source) < CLOCKS.index(made.source):
            made = Moment(other.made.at + timedelta(seconds=begins), other.made.source)
        return replace(
            verdict, shorter=(*verdict.shorter, Shorter(other.sha256, begins)), made=made
        )
    if max(mine, theirs) >= PERHAPS and other.counts and verdict.perhaps is None:
        of = "" if other.job == job else f" of the job {other.job}"
        why = (
            f"may be the same sound as {other.name}{of}; keep one of the two, and withdraw the"
            " other if it is"
        )
        return replace(verdict, perhaps=why)
    return verdict
