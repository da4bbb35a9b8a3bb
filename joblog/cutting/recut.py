"""A new cut list in the middle of the cutting: what was cut stays as it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from joblog.cutting.cuts import plan_cuts
from joblog.model import CutPlan, Piece, Problem, Stick, StockLength


@dataclass(frozen=True, slots=True)
class Recut:
    """The new plan, and what became of the pieces that were cut before it."""

    plan: CutPlan
    """Of what is still to be cut; `already` holds the sticks that were cut."""
    served: tuple[Piece, ...]
    """Wanted pieces that were cut already, under the label that they now have."""
    in_vain: tuple[Piece, ...]
    """Cut pieces that nothing on the new list asks for, and that are too short to keep."""


def recut(
    plan: CutPlan,
    done: Sequence[Stick],
    wanted: Sequence[Piece],
    stock: Sequence[StockLength],
    *,
    lap: Fraction | None = None,
    effort: float | None = None,
    seconds: float | None = None,
) -> tuple[Recut, tuple[Problem, ...]]:
    """The rest of `wanted` from what is left, after the sticks `done` of `plan` were cut.

    `done` are sticks of the plan, whole or with the first of their cuts only (see `begun`);
    `wanted` is the whole new list. `stock` is the new stock as it was before the first cut, and
    offcuts that the plan does not know. A piece that was cut serves a wanted one of its length,
    first under its own label, else under another. What nobody wants any more, and the rest of each
    stick that was cut, is an offcut on hand if it is long enough to keep. Problems as in
    `plan_cuts`; raises ValueError as it does, and when sticks are said to be done that the plan
    does not have.
    """
    undone = _undone(plan, done)
    rest, served, unwanted = _matched(wanted, [*plan.made, *_pieces_of(done)])
    in_vain = [piece for piece in unwanted if piece.length < plan.useful]
    left = [
        *_stock_left(stock, (*plan.already, *done)),
        *plan.spare,
        *(_offcut(stick.length, stick.label) for stick in undone if stick.offcut),
        *(_offcut(piece.length, f"cut as {piece.label or 'a piece'}", piece.pieces)
          for piece in unwanted if piece.length >= plan.useful),
        *(_offcut(stick.remainder, "rest of a stick that was cut")
          for stick in done if stick.kept),
    ]  # fmt: skip
    problems: tuple[Problem, ...] = ()
    if not rest or any(line.pieces != 0 for line in left):
        again, problems = plan_cuts(
            rest,
            left,
            kerf=plan.kerf,
            useful=plan.useful,
            lap=lap,
            at_once=plan.at_once,
            effort=effort,
            seconds=seconds,
        )
    else:
        again = CutPlan((), plan.kerf, plan.useful, Fraction(0), Fraction(0), short=tuple(rest))
        problems = tuple(
            Problem(line.source or line.label or "cut list", _USED_UP) for line in rest
        )
    again = replace(
        again,
        already=(*plan.already, *done),
        made=(*served, *in_vain),
        item=again.item or plan.item,
    )
    return Recut(again, tuple(served), tuple(in_vain)), problems


_USED_UP = "no stock is left to cut it from"


def begun(plan: CutPlan, stick: Stick, cuts: int) -> Stick:
    """The stick after the first `cuts` of its cuts. Raises ValueError when it has not so many."""
    if not 0 < cuts <= len(stick.cuts):
        raise ValueError(f"this stick has {len(stick.cuts)} cuts; {cuts} cannot be done")
    if cuts == len(stick.cuts):
        return stick
    made = stick.cuts[:cuts]
    kerf = cuts * plan.kerf
    remainder = stick.length - kerf - sum((cut.length for cut in made), Fraction(0))
    kept = remainder >= plan.useful
    return replace(stick, cuts=made, kerf=kerf, remainder=remainder, kept=kept)


def _undone(plan: CutPlan, done: Sequence[Stick]) -> list[Stick]:
    """The plan's sticks that were not begun. Raises ValueError when one is done that it has not."""
    undone = list(plan.sticks)
    for stick in done:
        planned = next(
            (
                other
                for other in undone
                if (other.length, other.offcut, other.label)
                == (stick.length, stick.offcut, stick.label)
                and other.cuts[: len(stick.cuts)] == stick.cuts
            ),
            None,
        )
        if planned is None:
            raise ValueError("a stick is said to be cut that is not on the plan")
        undone.remove(planned)
    return undone


def _pieces_of(sticks: Sequence[Stick]) -> list[Piece]:
    return [Piece(cut.length, 1, cut.label) for stick in sticks for cut in stick.cuts]


def _matched(
    wanted: Sequence[Piece], made: Sequence[Piece]
) -> tuple[list[Piece], list[Piece], list[Piece]]:
    """What is still to be cut, what was cut already for it, and what was cut and is unwanted."""
    cut: Counter[tuple[Fraction, str]] = Counter()
    for piece in made:
        cut[piece.length, piece.label] += piece.pieces
    served: list[Piece] = []
    rest = list(wanted)
    for own_label in (True, False):
        for at, line in enumerate(rest):
            for length, label in sorted(cut):
                if length != line.length or (own_label and label != line.label):
                    continue
                taken = max(0, min(rest[at].pieces, cut[length, label]))
                if taken:
                    cut[length, label] -= taken
                    served.append(replace(line, pieces=taken))
                    rest[at] = replace(rest[at], pieces=rest[at].pieces - taken)
    unwanted = [Piece(length, count, label) for (length, label), count in cut.items() if count]
    # A line that never asked for a piece is kept, so that it is named as the problem it is.
    still = [line for line, old in zip(rest, wanted, strict=True) if line.pieces or not old.pieces]
    return still, served, unwanted


def _stock_left(stock: Sequence[StockLength], used: Sequence[Stick]) -> list[StockLength]:
    taken = Counter(stick.length for stick in used if not stick.offcut)
    left = []
    for line in stock:
        if line.pieces is not None and not line.offcut:
            gone = min(line.pieces, taken[line.length])
            taken[line.length] -= gone
            line = replace(line, pieces=line.pieces - gone)
        left.append(line)
    return left


def _offcut(length: Fraction, label: str, pieces: int = 1) -> StockLength:
    return StockLength(length, pieces, offcut=True, label=label)
