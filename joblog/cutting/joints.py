"""Where the joints of runs fall, so that their stock costs least: then the fewest joints."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from joblog.cutting.cuts import KERF, USEFUL, plan_cuts
from joblog.cutting.effort import Effort
from joblog.cutting.parting import Parting, RunKind, chosen_ways, fewest_joints
from joblog.cutting.ways import Way, on_tape, ways_of
from joblog.model import CutPlan, JointedRun, Joints, Piece, Problem, StockLength
from joblog.quantity import feet_and_inches

Elsewhere = Mapping[tuple[str, str], Sequence[Fraction]]
"""By item and label of a run, where its joints fall."""


def plan_runs(
    wanted: Sequence[Piece],
    stock: Sequence[StockLength],
    *,
    kerf: Fraction = KERF,
    useful: Fraction = USEFUL,
    lap: Fraction | None = None,
    at_once: int = 1,
    effort: float | None = None,
    seconds: float | None = None,
    elsewhere: Elsewhere | None = None,
) -> tuple[CutPlan, tuple[Problem, ...]]:
    """The cut list of pieces of which some are runs: what has `joints` is parted where that takes
    the least stock, then with the fewest joints, then with the longest offcuts.

    A run keeps clear of the joints of the run beside it: one of another item with its label, where
    these are `elsewhere`, or one of the same item by its label. The rest is as in `plan_cuts`, and
    raises as that does; `at_least` holds for every choice of joints.
    """

    def cut(pieces: Sequence[Piece], effort: float | None, seconds: float | None) -> _Cut:
        return plan_cuts(
            pieces,
            stock,
            kerf=kerf,
            useful=useful,
            lap=lap,
            at_once=at_once,
            effort=effort,
            seconds=seconds,
        )

    if not any(piece.joints for piece in wanted):
        return cut(wanted, effort, seconds)
    times = _ENDLESS if effort is None and seconds is not None else 1 if effort is None else effort
    quick = min(times, _QUICK)
    work = Effort(
        max(times * _FOR_JOINTS, quick), None if seconds is None else seconds * _FOR_JOINTS
    )
    chosen = choose_joints(wanted, stock, kerf, work, elsewhere)
    one = chosen.choices[0]
    if len(chosen.choices) > 1:
        each = None if seconds is None else seconds * _FOR_JOINTS / len(chosen.choices)
        one = min(chosen.choices, key=lambda one: _order(one, *cut(one.pieces, quick, each)))
    plan, problems = cut(one.pieces, effort, None if seconds is None else seconds * _FOR_CUTS)
    least = plan.at_least if plan.short else min(plan.at_least, chosen.at_least)
    return replace(
        plan, runs=one.runs, at_least=least, joints_at_least=chosen.joints_at_least
    ), problems


_Cut = tuple[CutPlan, tuple[Problem, ...]]
_FOR_JOINTS, _QUICK = 0.1, 0.02
"""Of the usual search, or of the seconds, for the joints; and to tell one choice from another."""
_FOR_CUTS, _ENDLESS = 0.8, 200.0


def _order(one: Parted, plan: CutPlan, problems: Sequence[Problem]) -> tuple[object, ...]:
    kept = sorted(-stick.remainder for stick in plan.sticks if stick.kept)
    return len(problems), plan.spent, one.joints, kept


def joints_of(plans: Sequence[CutPlan]) -> dict[tuple[str, str], tuple[Fraction, ...]]:
    """Where the joints of all their runs fall, by item and label."""
    found: dict[tuple[str, str], tuple[Fraction, ...]] = {}
    for plan in plans:
        for run in plan.runs:
            key = plan.item or "", run.label
            found[key] = (*found.get(key, ()), *run.joints)
    return found


def with_joints_of(plan: CutPlan, wanted: Sequence[Piece]) -> list[Piece]:
    """The pieces with each run parted as it was in a plan; other runs in whole sticks."""
    left = {run: run.pieces for run in plan.runs}
    longest = max((stick.length for stick in (*plan.sticks, *plan.already)), default=Fraction(0))
    made: list[Piece] = []
    for piece in wanted:
        alike = [
            run
            for run, many in left.items()
            if many and (run.label, run.length) == (piece.label, piece.length)
        ]
        needed = piece.pieces if piece.joints else 0
        for run in alike:
            many = min(needed, left[run])
            left[run] -= many
            needed -= many
            if many:
                made += _spans(piece, run.joints, many, longest)
        if needed or not piece.joints:
            ways = ways_of(piece, [longest], None) if piece.joints and longest else None
            many = needed or piece.pieces
            whole = ways.whole_sticks() if ways else None
            joints = ways.joints(whole) if ways and whole else ()
            made += _spans(piece, joints, many, longest)
    return made


@dataclass(frozen=True, slots=True)
class Parted:
    """One choice: the pieces that are to be cut, and where the joints of the runs fall."""

    pieces: tuple[Piece, ...]
    runs: tuple[JointedRun, ...]

    @property
    def joints(self) -> int:
        return sum(len(run.joints) * run.pieces for run in self.runs)


@dataclass(frozen=True, slots=True)
class Chosen:
    """The choices worth cutting, the likeliest to be best first; and what none can do without."""

    choices: tuple[Parted, ...]
    at_least: Fraction
    """Of cost, or of inches of new sticks where they have none."""
    joints_at_least: int


def choose_joints(
    wanted: Sequence[Piece],
    stock: Sequence[StockLength],
    kerf: Fraction,
    work: Effort,
    elsewhere: Elsewhere | None = None,
) -> Chosen:
    """How the runs among the pieces of one item may be parted best.

    A run that there is no way for stays whole.
    """
    lengths = [line.length for line in stock if line.pieces != 0]
    fixed = [piece for piece in wanted if piece.joints is None and piece.length <= max(lengths)]
    choices: list[Parted] = []
    at_least, joints = Fraction(0), 0
    for step in _STEPS:
        kinds = _kinds(wanted, lengths, elsewhere or {}, step)
        many = len({length for kind in kinds for length in kind.ways.lengths})
        if not kinds or (choices and (many > _MOST_LENGTHS or work.spent)):
            break
        with work.only(0.5 if step is None else 1):
            parting = Parting(kinds, fixed, stock, kerf, work)
            found, best = chosen_ways(parting)
        if not choices:
            ways = [kind.ways.whole_sticks() for kind in kinds]
            whole = [{way: kind.count} for way, kind in zip(ways, kinds, strict=True) if way]
            choices.append(_parted(wanted, kinds, whole))
        if found is not None:
            choices.append(_parted(wanted, kinds, found))
        at_least = max(at_least, parting.at_least)
        joints = sum(fewest_joints(kind.ways, max(lengths)) * kind.count for kind in kinds)
        if best or all(kind.ways.every for kind in kinds):
            break
    if not choices:
        return Chosen((Parted(tuple(wanted), ()),), Fraction(0), 0)
    kept = [one for one in choices if _is_staggered(one, wanted)]
    return Chosen(
        tuple(dict.fromkeys(reversed(kept or [*map(_unstaggered, choices)]))), at_least, joints
    )


_STEPS = (None, Fraction(24))
"""Inches between the places that are tried where joints may fall anywhere."""
_MOST_LENGTHS = 600
"""Different pieces that all ways together may have."""


# --- runs that are alike ------------------------------------------------------------------------


def _kinds(
    wanted: Sequence[Piece],
    lengths: Sequence[Fraction],
    elsewhere: Elsewhere,
    step: Fraction | None,
) -> tuple[RunKind, ...]:
    runs = [(at, run) for at, run in enumerate(wanted) if _is_run(run)]
    labels = {run.label for _, run in runs}
    named = {run.joints.beside for _, run in runs if run.joints} & labels
    alike: dict[tuple[object, ...], list[int]] = {}
    for at, run in runs:
        pair = run.label if run.label in named or _beside(run) in labels else ""
        taken = elsewhere.get((_beside(run), run.label), ())
        # Of another item's joints only where they are matters, not whose they are.
        rule = replace(run.joints or Joints(), beside=_beside(run) if pair else "")
        alike.setdefault((run.length, rule, tuple(taken), pair), []).append(at)
    kinds = []
    for numbers in alike.values():
        run = wanted[numbers[0]]
        ways = ways_of(run, lengths, step, elsewhere.get((_beside(run), run.label), ()))
        if ways is not None:
            beside = _beside(run) if _beside(run) in labels else ""
            count = sum(wanted[at].pieces for at in numbers)
            kinds.append(RunKind(ways, tuple(numbers), count, beside))
    return tuple(kinds)


def _is_run(piece: Piece) -> bool:
    return piece.joints is not None and piece.length > 0 and piece.pieces > 0


def _beside(run: Piece) -> str:
    return run.joints.beside if run.joints else ""


# --- from ways to pieces ------------------------------------------------------------------------


def _parted(
    wanted: Sequence[Piece], kinds: Sequence[RunKind], chosen: Sequence[Mapping[Way, int]]
) -> Parted:
    ways: dict[int, list[tuple[RunKind, Way, int]]] = {}
    for kind, given in zip(kinds, chosen, strict=True):
        left = Counter(given)
        for number in kind.runs:
            needed = wanted[number].pieces
            for way in given:
                many = min(needed, left[way])
                if many:
                    ways.setdefault(number, []).append((kind, way, many))
                left[way] -= many
                needed -= many
    pieces: list[Piece] = []
    runs: list[JointedRun] = []
    longest = max(kind.ways.longest for kind in kinds)
    for at, piece in enumerate(wanted):
        if at not in ways:
            pieces.append(replace(piece, joints=None))
        for kind, way, many in ways.get(at, ()):
            lap = piece.joints.lap if piece.joints else Fraction(0)
            joints = kind.ways.joints(way)
            pieces += _spans(piece, joints, many, longest)
            if joints:
                note = kind.ways.note
                runs.append(JointedRun(piece.label, piece.length, joints, lap, many, note))
    return Parted(tuple(pieces), tuple(runs))


def _spans(run: Piece, joints: Sequence[Fraction], many: int, longest: Fraction) -> list[Piece]:
    """The pieces of a run with its joints there; the label of each says from where to where."""
    if not joints:
        return [replace(run, pieces=many, joints=None)]
    lap = run.joints.lap if run.joints else Fraction(0)
    begins = [Fraction(0), *(joint - lap for joint in joints)]
    made = []
    for begin, end in zip(begins, [*joints, run.length], strict=True):
        span = f"{feet_and_inches(begin)} to {feet_and_inches(end)}"
        label = ", ".join(filter(None, (run.label, span)))
        length = on_tape(end - begin, longest)
        made.append(replace(run, length=length, pieces=many, label=label, joints=None))
    return made


# --- staggered ----------------------------------------------------------------------------------


def _is_staggered(one: Parted, wanted: Sequence[Piece]) -> bool:
    """Whether runs of the list keep their joints away from those of the one beside them."""
    return all(
        abs(joint - other) >= run.joints.stagger
        for run in wanted
        if run.joints and run.joints.beside
        for joint in _joints_of(one, run.label)
        for other in _joints_of(one, run.joints.beside)
    )


def _joints_of(one: Parted, label: str) -> list[Fraction]:
    return [joint for run in one.runs if run.label == label for joint in run.joints]


def _unstaggered(one: Parted) -> Parted:
    note = "its joints cannot be staggered"
    return replace(one, runs=tuple(replace(run, note=run.note or note) for run in one.runs))
