"""Cut lists of all that is to be cut: one for each item, with the wishes that a person typed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from time import monotonic

from joblog.cutting.cuts import KERF, USEFUL
from joblog.cutting.joints import joints_of, plan_runs, with_joints_of
from joblog.cutting.recut import begun as stick_begun
from joblog.cutting.recut import recut
from joblog.model import Catalog, CutPlan, Item, Piece, Problem, StockLength
from joblog.named import one_named, spoken_of
from joblog.quantity import inches_of, money_of
from joblog.reason import check

TWELVE_FEET = Fraction(144)
"""Inches; common practice for soffit, channel and fascia."""


def cut_lists(
    pieces: Sequence[Piece],
    catalog: Catalog,
    *,
    stock: Sequence[str] = (),
    offcuts: Sequence[str] = (),
    kerf: str | None = None,
    useful: str | None = None,
    lap: str | None = None,
    two_up: bool = False,
    item: str | None = None,
    effort: float | None = None,
    seconds: float | None = None,
    was: Sequence[CutPlan] = (),
    done: int = 0,
    begun: int = 0,
    sure: bool = False,
) -> tuple[tuple[CutPlan, ...], tuple[Problem, ...]]:
    """A plan for each item among the pieces, in their order, and what could not be cut.

    Lengths are tape-measure text. `stock` reads like "12'", "12' x 10" (ten of it) or
    "12' @ 18.50" (its cost); `offcuts` like "63.5" or "63.5 x 2". What is not said comes from the
    item in the catalog, else it is 12 ft, 1/8 in and 24 in.

    With `was`, an earlier list of which the first `done` sticks and the first `begun` cuts of the
    next one were cut, only the rest is planned anew; kerf, useful remainder, stacking and offcuts
    are those of the earlier list, `offcuts` what came on hand since; runs keep their joints.

    `effort` is for each item, `seconds` for all of them together.

    Raises ValueError with a plain line for what cannot be read, for an item that is not there, for
    lengths that no job has unless a person is `sure`, and for offcuts that could belong to several
    items.
    """
    names = list(dict.fromkeys(piece.item for piece in pieces))
    if item is not None:
        cut_from = [name for name in names if name is not None]
        names = [one_named(item, cut_from, "this list", spoken_of(catalog.items))]
    new = [_stock(text, "--stock") for text in stock]
    old = [_stock(text, "--cutoff") for text in offcuts]
    if not sure:
        _check(new, old, kerf, useful, lap)
    for line, text in zip(old, offcuts, strict=True):
        if line.cost is not None:
            raise ValueError(f"--cutoff {text}: what is on hand has no cost any more")
    if len(names) > 1 and (old or any(line.pieces is not None for line in new)):
        raise ValueError(
            "the list has several items, and what is on hand can only be one of them; "
            "say --item for each of them by itself"
        )
    if was or done or begun:
        return _again(pieces, names, catalog, new, old, was, done, begun, lap, effort, seconds)
    called = spoken_of(catalog.items)
    known = {line.name: line for line in catalog.items}
    plans: list[CutPlan] = []
    problems: list[Problem] = []
    began = monotonic()
    for at, name in enumerate(names):
        what = known.get(called(name or "") or "")
        plan, uncut = plan_runs(
            [piece for piece in pieces if piece.item == name],
            [*(new or _usual_stock(what)), *map(_as_offcut, old)],
            kerf=_inches(kerf, "--kerf", what.kerf if what else None, KERF),
            useful=_inches(useful, "--useful", what.least_offcut if what else None, USEFUL),
            lap=None if lap is None else _inches(lap, "--lap", None, Fraction(0)),
            at_once=2 if two_up else 1,
            effort=effort,
            seconds=None if seconds is None else _share(seconds, began, len(names) - at),
            elsewhere=joints_of(plans),
        )
        plans.append(plan)
        problems += uncut
    return tuple(plans), tuple(problems)


def _share(seconds: float, began: float, plans: int) -> float:
    """What is left of the seconds, for each of so many plans."""
    return max(_LEAST_SECONDS, (seconds - (monotonic() - began)) / plans)


_LEAST_SECONDS = 1e-6


def _again(
    pieces: Sequence[Piece],
    names: Sequence[str | None],
    catalog: Catalog,
    new: Sequence[StockLength],
    old: Sequence[StockLength],
    was: Sequence[CutPlan],
    done: int,
    begun: int,
    lap: str | None,
    effort: float | None,
    seconds: float | None,
) -> tuple[tuple[CutPlan, ...], tuple[Problem, ...]]:
    if len(names) > 1:
        raise ValueError("the list has several items; say --item for the one that was begun")
    name = names[0] if names else None
    plan = next((plan for plan in was if plan.item == name), None)
    if plan is None:
        raise ValueError(f"the earlier list has no plan of {name or 'pieces without an item'}")
    if done < 0 or begun < 0 or done + (begun > 0) > len(plan.sticks):
        raise ValueError(f"the earlier list has {len(plan.sticks)} sticks; so many cannot be cut")
    cut = list(plan.sticks[:done])
    if begun:
        cut.append(stick_begun(plan, plan.sticks[done], begun))
    called = spoken_of(catalog.items)(name or "")
    what = next((line for line in catalog.items if line.name == called), None)
    again, problems = recut(
        plan,
        cut,
        with_joints_of(plan, [piece for piece in pieces if piece.item == name]),
        [*(new or _usual_stock(what)), *map(_as_offcut, old)],
        lap=None if lap is None else _inches(lap, "--lap", None, Fraction(0)),
        effort=effort,
        seconds=seconds,
    )
    wanted = {(piece.label, piece.length) for piece in pieces}
    kept = tuple(run for run in plan.runs if (run.label, run.length) in wanted)
    return (replace(again.plan, runs=kept),), problems


def _usual_stock(item: Item | None) -> Iterable[StockLength]:
    if item is None or item.stock_length is None:
        return [StockLength(TWELVE_FEET)]
    return lengths_in_stock(item)


def lengths_in_stock(item: Item) -> list[StockLength]:
    """The lengths that an item comes in, the usual one first: those that have a price, or all of
    them where none has."""
    assert item.stock_length is not None
    usual, others = item.stock_length, dict(item.length_costs)
    if item.unit_cost and others:
        priced = {usual: item.unit_cost, **others}
        return [StockLength(length, cost=cost) for length, cost in priced.items() if cost > 0]
    every = dict.fromkeys((usual, *item.other_lengths, *others))
    return [StockLength(length) for length in every]


def _as_offcut(line: StockLength) -> StockLength:
    return StockLength(line.length, line.pieces or 1, offcut=True)


_STOCK = re.compile(
    r"(?P<length>[^@]+?)(?:\s+[x×]\s*(?P<pieces>[0-9]{1,6}))?\s*(?:@\s*(?P<cost>.+))?",
    re.IGNORECASE,
)


def _stock(text: str, option: str) -> StockLength:
    found = _STOCK.fullmatch(text.strip())
    try:
        if found is None:
            raise ValueError("is not a length")
        length, pieces, cost = found["length"], found["pieces"], found["cost"]
        if pieces is not None and int(pieces) == 0:
            raise ValueError("there are none of it; leave it out")
        return StockLength(
            inches_of(length), int(pieces) if pieces else None, money_of(cost) if cost else None
        )
    except ValueError as error:
        raise ValueError(f"{option} {text}: {error}") from None


def _check(
    new: Sequence[StockLength],
    old: Sequence[StockLength],
    kerf: str | None,
    useful: str | None,
    lap: str | None,
) -> None:
    """Raises BeyondReason for a length or a price that no job has."""
    for line in new:
        check("stock length", line.length, "in")
        check("price", line.cost or 0)
    for line in old:
        check("length of a piece", line.length, "in")
    for what, text in (("kerf", kerf), ("least offcut", useful), ("lap", lap)):
        if text is not None:
            check(what, _inches(text, _OPTIONS[what], None, Fraction(0)), "in")


_OPTIONS = {"kerf": "--kerf", "least offcut": "--useful", "lap": "--lap"}


def _inches(text: str | None, option: str, usual: Fraction | None, else_: Fraction) -> Fraction:
    if text is None:
        return else_ if usual is None else usual
    try:
        return inches_of(text)
    except ValueError as error:
        raise ValueError(f"{option} {text}: {error}") from None
