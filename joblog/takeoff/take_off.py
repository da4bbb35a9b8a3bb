"""From measured runs to what they need: net and gross of every item, hours, pieces to cut."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import groupby
from math import ceil

from joblog.model import (
    Amount,
    Catalog,
    Figure,
    Item,
    Piece,
    Problem,
    Run,
    TakeOff,
    TakeOffLine,
    TakeOffTask,
)
from joblog.quantity import down_to, tape
from joblog.takeoff.depths import DepthError, Profile
from joblog.takeoff.formula import filled, names_in, worked_out
from joblog.takeoff.units import FormulaError, NumberError, shown
from joblog.takeoff.works import Use, Work, Works, starter_works

TOLERANCE = Fraction(1, 8)
"""Inches by which depths may differ and still be cut as one batch (common practice)."""
KERF = Fraction(1, 8)
"""Inches that a cut takes where the catalog does not say (common practice)."""
MOST_PIECES = 20_000
"""More than that in one run is a slip of the pen."""

MOST = 1_000_000
"""Of any measure, in its own unit."""


def take_off(
    runs: Sequence[Run],
    catalog: Catalog,
    works: Works | None = None,
    tolerance: Fraction = TOLERANCE,
) -> tuple[TakeOff, tuple[Problem, ...]]:
    """What the runs need, line by line, and a problem for each run that cannot be taken off.

    Quantities are exact and in the item's own unit; gross is net with laps, and with what is cut
    off because a stock length holds a whole number of pieces. Nothing is rounded to packs. A run
    with a problem is left out whole. Pieces that fit between two edges are rounded down to 1/16
    inch for the tape, pieces that lap rounded up to it.
    """
    known = starter_works() if works is None else works
    found, problems = TakeOff(), []
    alike = Counter[tuple[str, str]]()
    for run in runs:
        where = run.row or run.place or run.work
        name = run.label or run.place or run.work
        alike[name, run.work] += 1
        times = alike[name, run.work]
        # Two slopes of one gable: what is cut for the second must not be taken for the first.
        label = name + (f" ({times})" if times > 1 else "")
        try:
            found = _joined(found, _one_run(run, label, catalog, known, tolerance))
        except (FormulaError, DepthError) as error:
            problems.append(Problem(where, f"{run.work}: {error}"))
    return found, tuple(problems)


def check(works: Works, catalog: Catalog) -> tuple[Problem, ...]:
    """A problem for each kind of work whose formulas do not hold together: units that do not mix,
    names that nobody gives, what is not allowed in a formula."""
    problems = []
    for work in works.values():
        measures = tuple(
            (measure.name, Amount(Fraction(10), measure.unit))
            for measure in work.takes
            if measure.needed
        )
        try:
            _one_run(Run(work.name, "", measures), work.name, catalog, works, TOLERANCE)
        except NumberError:
            continue
        except FormulaError as error:
            problems.append(Problem(work.name, str(error)))
    return tuple(problems)


def _joined(one: TakeOff, other: TakeOff) -> TakeOff:
    return TakeOff(
        one.lines + other.lines,
        one.tasks + other.tasks,
        one.figures + other.figures,
        one.pieces + other.pieces,
        one.notes + other.notes,
    )


# --- one run ----------------------------------------------------------------------------------


@dataclass
class _Draft:
    """A run on its way: what is known so far, and what it came from."""

    run: Run
    label: str
    """What its pieces and notes are called by."""
    work: Work
    catalog: Catalog
    names: dict[str, Amount] = field(default_factory=dict)
    let: dict[str, str] = field(default_factory=dict)
    profile: Profile | None = None
    lines: list[TakeOffLine] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def _one_run(run: Run, label: str, catalog: Catalog, works: Works, tolerance: Fraction) -> TakeOff:
    work = works.get(run.work)
    if work is None:
        raise FormulaError(f"is no kind of work; there are {', '.join(works)}")
    draft = _Draft(run, label, work, catalog)
    _measure(draft, tolerance)
    usual = dict(run.instead)
    for name in usual:
        if name not in [use.item for use in work.uses]:
            raise FormulaError(f"uses no {name}, so nothing can stand in for it")
    for use in work.uses:
        _use(draft, use, _item(catalog, usual.get(use.item, use.item)))
    return TakeOff(
        tuple(draft.lines),
        tuple(_tasks(draft)),
        tuple(_figures(draft)),
        tuple(draft.pieces),
        tuple(draft.notes),
    )


def _measure(draft: _Draft, tolerance: Fraction) -> None:
    work, given = draft.work, dict(draft.run.measures)
    taken = {measure.name for measure in work.takes}
    for name in given:
        if name not in taken:
            raise FormulaError(work.takes_no(name))
    if draft.run.depths:
        if not work.varies:
            raise FormulaError("is measured once, but several depths came")
        given[work.varies] = Amount(draft.run.depths[0].depth, "in")
    for measure in work.takes:
        amount = given.get(measure.name)
        if amount is None and measure.usual is not None:
            amount = Amount(measure.usual, measure.unit)
        if amount is None and measure.usual_formula:
            continue
        if amount is None:
            raise FormulaError(f"needs {measure.name} ({measure.unit}, {measure.about})")
        draft.names[measure.name] = _of(measure.name, amount, measure.unit)
        if amount.quantity < 0:
            raise FormulaError(f"{measure.name} is {shown(amount)}, below zero")
        if amount.quantity > MOST:
            raise FormulaError(f"{measure.name} is more than {MOST:,} {measure.unit}")
        if not amount.quantity and not measure.zero:
            raise FormulaError(f"{measure.name} is zero")
    _results_between(draft)
    if draft.run.depths:
        draft.profile = _profile(draft, tolerance)
        draft.names[work.varies] = Amount(draft.profile.mean, "in")
        _results_between(draft)
        draft.notes.append(f"{draft.label}: {draft.profile.summary}")


def _results_between(draft: _Draft) -> None:
    given = {name for name, _ in draft.run.measures}
    for measure in draft.work.takes:
        if measure.usual_formula and measure.name not in given:
            name, formula = measure.name, measure.usual_formula
            draft.names[name] = _worked(draft, name, formula, draft.names, measure.unit)
            draft.let[name] = formula
    for name, formula in draft.work.let:
        draft.names[name] = _worked(draft, name, formula, draft.names)
        draft.let[name] = formula


def _profile(draft: _Draft, tolerance: Fraction) -> Profile:
    along = _inches(_worked(draft, "along", draft.work.along, draft.names), "along")
    face = _inches(_worked(draft, "face", draft.work.face, draft.names), "face")
    return Profile.of(draft.run.depths, along, face, tolerance)


# --- what it uses -----------------------------------------------------------------------------


def _use(draft: _Draft, use: Use, item: Item) -> None:
    names = {**draft.names, **_own(item)}
    slug = use.item.replace(" ", "_")
    steps: list[str] = []
    if use.pieces:
        count = _step(draft, steps, "pieces", use.pieces, names)
        draft.names[f"{slug}_pieces"] = names["pieces"] = count
        _cut_across(draft, steps, use, item, names)
        return
    if use.along:
        names["along"] = _step(draft, steps, "along", use.along, names)
        names["lap"] = _worked(draft, "lap", use.lap, names)
        if "stock" not in names:
            raise FormulaError(f"needs the stock length of {item.name} in the catalog")
        laps = _step(draft, steps, "laps", "joints(along, stock, lap)", names)
        draft.names[f"{slug}_joints"] = names["laps"] = laps
        _end_to_end(draft, item, names)
    _add_line(draft, steps, use, item, names)


def _cut_across(
    draft: _Draft, steps: list[str], use: Use, item: Item, names: dict[str, Amount]
) -> None:
    count = _whole(names["pieces"])
    profile, varies = draft.profile, draft.work.varies
    if profile is None or profile.agree or varies not in names_in(use.piece):
        own = names if profile is None else {**names, varies: Amount(profile.least, "in")}
        exact = _step(draft, steps, "piece", use.piece, own)
        piece = _for_the_tape(draft, exact)
        names["piece"] = Amount(piece, "in")
        _add_line(draft, steps, use, item, names)
        if count:
            draft.pieces.append(_piece(draft, item, piece, 1, count))
        return
    cuts = []
    for depth in profile.of_pieces(count):
        own = {**names, varies: Amount(depth, "in")}
        cuts.append(_for_the_tape(draft, _worked(draft, "piece", use.piece, own)))
    _add_own_cuts(draft, steps, use, item, names, cuts)


def _add_own_cuts(
    draft: _Draft,
    steps: list[str],
    use: Use,
    item: Item,
    names: dict[str, Amount],
    cuts: list[Fraction],
) -> None:
    """Each piece to its own length: the formulas of one piece, summed over them."""
    net = gross = Fraction(0)
    number = 1
    for length, alike in groupby(cuts):
        many = len(list(alike))
        one = {
            **names,
            "pieces": Amount(Fraction(many)),
            "piece": Amount(length, "in"),
        }
        net += _worked(draft, f"net of {item.name}", use.net, one, item.unit).quantity
        gross += _worked(draft, f"gross of {item.name}", use.gross, one, item.unit).quantity
        draft.pieces.append(_piece(draft, item, length, number, many))
        number += many
    span = f"{tape(min(cuts))} to {tape(max(cuts))} in"
    each = f"summed over {len(cuts)} pieces, each {use.piece} at its own place, {span},"
    chain = "; ".join(dict.fromkeys([*steps, *_before(draft, use.piece)]))
    draft.lines.append(
        TakeOffLine(
            draft.run.place,
            draft.work.name,
            item.name,
            item.unit,
            net,
            gross,
            f"{chain}; net = {use.net} {each} = {shown(Amount(net, item.unit))}",
            f"gross = {use.gross} {each} = {shown(Amount(gross, item.unit))}",
            use.task,
        )
    )


def _end_to_end(draft: _Draft, item: Item, names: dict[str, Amount]) -> None:
    """Adds the pieces that cover a length: whole ones, and the last with what remains."""
    along, lap = _inches(names["along"], "along"), _inches(names["lap"], "lap")
    if not along:
        return
    stock, whole = item.stock_length or Fraction(0), _whole(names["laps"])
    if whole:
        draft.pieces.append(Piece(stock, whole, draft.label, item.name))
    last = along + whole * lap - whole * stock
    on_tape = min(stock, Fraction(ceil(last * 16), 16))
    draft.pieces.append(Piece(on_tape, 1, draft.label, item.name))


def _add_line(
    draft: _Draft, steps: list[str], use: Use, item: Item, names: dict[str, Amount]
) -> None:
    net_steps, gross_steps = list(steps), list[str]()
    net = _step(draft, net_steps, "net", use.net, names, item)
    gross = net
    if use.gross != use.net:
        gross = _step(draft, gross_steps, "gross", use.gross, names, item)
    if net.quantity < 0 or gross.quantity < 0:
        raise NumberError(f"{item.name} comes out below zero: {net_steps[-1]}")
    if gross.quantity < net.quantity:
        raise NumberError(f"{item.name} comes out with less gross than net: {gross_steps[-1]}")
    if gross.quantity:
        draft.lines.append(
            TakeOffLine(
                draft.run.place,
                draft.work.name,
                item.name,
                item.unit,
                net.quantity,
                gross.quantity,
                "; ".join(net_steps),
                "; ".join(step for step in gross_steps if step not in net_steps) or "gross = net",
                use.task,
            )
        )


def _piece(draft: _Draft, item: Item, length: Fraction, first: int, many: int) -> Piece:
    if length <= 0:
        raise NumberError(f"asks for a piece of {tape(length)} in")
    numbers = f"{first}-{first + many - 1}" if many > 1 else f"{first}"
    return Piece(length, many, f"{draft.label} {numbers}", item.name)


def _for_the_tape(draft: _Draft, exact: Amount) -> Fraction:
    inches = _inches(exact, "piece")
    rounded = down_to(inches, 16)
    note = f"{draft.label}: pieces are rounded down to 1/16 in for the tape"
    if rounded != inches and note not in draft.notes:
        draft.notes.append(note)
    return rounded


# --- hours and figures ------------------------------------------------------------------------


def _tasks(draft: _Draft) -> Iterator[TakeOffTask]:
    known = {task.name: task for task in draft.catalog.tasks}
    for labor in draft.work.labor:
        task = known.get(labor.task)
        unit = task.unit if task and task.unit else None
        amount = _worked(draft, labor.task, labor.quantity, draft.names, unit)
        how = _written_out("", labor.quantity, draft.names, amount)
        text = "; ".join([*_before(draft, labor.quantity), how])
        hours = None
        if task and task.per_hour:
            hours = amount.quantity / task.per_hour
            rate = shown(Amount(task.per_hour, task.unit))
            text += f"; {shown(amount)} / {rate} an hour = {shown(Amount(hours))} man-hours"
        if amount.quantity < 0:
            raise NumberError(f"{labor.task} comes out below zero: {text}")
        yield TakeOffTask(draft.run.place, draft.work.name, labor.task, amount, hours, text)


def _figures(draft: _Draft) -> Iterator[Figure]:
    for sought in draft.work.figures:
        amount = _worked(draft, sought.name, sought.formula, draft.names, sought.unit)
        how = _written_out("", sought.formula, draft.names, amount)
        text = "; ".join([*_before(draft, sought.formula), how])
        yield Figure(draft.run.place, draft.work.name, sought.name, amount, text, sought.note)


# --- pieces -----------------------------------------------------------------------------------


def _worked(
    draft: _Draft,
    what: str,
    formula: str,
    names: dict[str, Amount],
    unit: str | None = None,
) -> Amount:
    try:
        return worked_out(formula, names, unit)
    except FormulaError as error:
        raise type(error)(f"{what} ({formula}) {error}") from None


def _step(
    draft: _Draft,
    steps: list[str],
    what: str,
    formula: str,
    names: dict[str, Amount],
    item: Item | None = None,
) -> Amount:
    """Works a formula out and writes down how, with the results between that it stands on."""
    of = f"{what} of {item.name}" if item else what
    for name in names_in(formula):
        if item and name in _OWN and name not in names:
            raise FormulaError(f"{of} ({formula}) needs {_OWN[name]} of {item.name} in the catalog")
    amount = _worked(draft, of, formula, names, item.unit if item else None)
    for line in _before(draft, formula):
        if line not in steps:
            steps.append(line)
    steps.append(_written_out(what, formula, names, amount))
    return amount


def _written_out(what: str, formula: str, names: dict[str, Amount], amount: Amount) -> str:
    """A formula, with its numbers, and what it comes to; nothing said twice."""
    parts = [what, formula, filled(formula, names), shown(amount)]
    return " = ".join(part for part, _ in groupby(part for part in parts if part))


def _before(draft: _Draft, formula: str) -> list[str]:
    """The results between on which a formula stands, each with its numbers filled in."""
    lines: dict[str, None] = {}
    for name in names_in(formula):
        if name in draft.let:
            own = draft.let[name]
            lines.update(dict.fromkeys(_before(draft, own)))
            lines[_written_out(name, own, draft.names, draft.names[name])] = None
    return list(lines)


_OWN = {
    "stock": "the stock length",
    "covers": "the coverage",
    "per_pound": "the number in a pound",
}


def _own(item: Item) -> dict[str, Amount]:
    """What formulas may know of an item: stock length, kerf, coverage, number in a pound."""
    known = {"kerf": Amount(KERF if item.kerf is None else item.kerf, "in")}
    if item.per_pound and item.unit == "lb":
        known["per_pound"] = Amount(item.per_pound, "/lb")
    if item.unit in ("in", "ft", "ft2", "square", "lb", "gal"):
        return known
    if item.stock_length:
        known["stock"] = Amount(item.stock_length, f"in/{item.unit}")
    if item.covers:
        known["covers"] = Amount(item.covers.quantity, f"{item.covers.unit}/{item.unit}")
    return known


def _item(catalog: Catalog, name: str) -> Item:
    for item in catalog.items:
        if item.name == name:
            return item
    # A catalog of earlier days may call it otherwise, and know this name as one that is said.
    for item in catalog.items:
        if name.lower() in (item.name.lower(), *map(str.lower, item.spoken)):
            return item
    raise FormulaError(f"uses {name}, which is not in the catalog")


def _of(name: str, amount: Amount, unit: str) -> Amount:
    try:
        return worked_out("it", {"it": amount}, unit)
    except FormulaError as error:
        raise FormulaError(f"{name} {error}") from None


def _inches(amount: Amount, what: str) -> Fraction:
    return _of(what, amount, "in").quantity


def _whole(count: Amount) -> int:
    number = _of("pieces", count, "").quantity
    if number.denominator != 1:
        raise FormulaError(f"comes to {shown(count)} pieces; round them up with ceil(...)")
    if not 0 <= number <= MOST_PIECES:
        raise NumberError(f"comes to {shown(count)} pieces; check the length")
    return int(number)
