"""What holds of every run that takes it: drip edge on all eaves, one board in place of another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rapidfuzz import fuzz, process

from joblog.model import Amount, Run
from joblog.takeoff.runs import AS_TYPED, How, amount_given
from joblog.takeoff.works import Measure, Work, Works, starter_works


def for_every(
    runs: Sequence[Run],
    values: Sequence[tuple[str, str]],
    works: Works | None = None,
    how: How = AS_TYPED,
) -> tuple[Run, ...]:
    """The runs with these measures, as they were typed, where their work takes such and the run
    does not say otherwise; "items" is a stand-in, "fascia: fascia 1x8", of all that use it.

    Raises ValueError, in words, for what cannot be read, and for what none of the runs takes.
    """
    known = starter_works() if works is None else works
    found = tuple(runs)
    for name, text in values:
        if name == "items":
            found = _with_stand_in(found, known, text)
        else:
            found = _with_measure(found, known, name, text, how)
    return found


def _with_measure(
    runs: Sequence[Run], works: Works, name: str, text: str, how: How
) -> tuple[Run, ...]:
    name = "_".join(name.lower().split())
    taking = {run.work for run in runs if _taken(works[run.work], name)}
    if runs and not taking:
        every = sorted({one.name for run in runs for one in works[run.work].takes})
        raise ValueError(f"none of the runs takes {name}{_nearest(name, every)}")
    amounts = {work: _amount(_taken(works[work], name), text, how) for work in taking}
    return tuple(
        replace(run, measures=(*run.measures, (name, amounts[run.work])))
        if run.work in taking and name not in dict(run.measures)
        else run
        for run in runs
    )


def _taken(work: Work, name: str) -> Measure | None:
    return next((measure for measure in work.takes if measure.name == name), None)


def _amount(measure: Measure | None, text: str, how: How) -> Amount:
    if measure is None:
        raise ValueError(f"{text} is of no measure")
    return amount_given(measure, text, how)


def _with_stand_in(runs: Sequence[Run], works: Works, text: str) -> tuple[Run, ...]:
    usual, colon, other = (" ".join(part.split()) for part in text.partition(":"))
    if not colon or not usual or not other:
        raise ValueError(f"items: {text!r} is written like soffit panel: vented soffit panel")
    used = {run.work: {use.item.lower(): use.item for use in works[run.work].uses} for run in runs}
    if runs and not any(usual.lower() in items for items in used.values()):
        every = sorted({item for items in used.values() for item in items.values()})
        raise ValueError(f"none of the runs uses {usual}{_nearest(usual, every)}")
    return tuple(
        replace(run, instead=(*run.instead, (used[run.work][usual.lower()], other)))
        if usual.lower() in used[run.work]
        else run
        for run in runs
    )


def _nearest(name: str, known: Sequence[str]) -> str:
    near = [one for one, _, _ in process.extract(name, known, scorer=fuzz.ratio, score_cutoff=60)]
    return f"; did you mean {' or '.join(near[:2])}?" if near else ""
