"""From measured runs to what they need: net and gross of every item, hours, pieces to cut."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import groupby
from math import ceil

from joblog.catalog.lines import starter
from joblog.model import (
    Amount,
    Catalog,
    Figure,
    Item,
    Joints,
    Piece,
    Problem,
    Run,
    TakeOff,
    TakeOffLine,
    TakeOffTask,
)
from joblog.named import spoken_of, suggested
from joblog.quantity import down_to, tape
from joblog.takeoff.depths import DepthError, Profile
from joblog.takeoff.formula import filled, names_in, worked_out
from joblog.takeoff.units import FormulaError, NumberError, shown
from joblog.takeoff.works import Sought, Use, Work, Works, starter_works

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
    found, problems = TakeOff(), list[Problem]()
    later: list[tuple[str, _Draft, Sought]] = []
    alike = Counter[tuple[str, str]]()
    for run in runs:
        where = run.row or run.place or run.work
        name = run.label or run.place or run.work
        alike[name, run.work] += 1
        times = alike[name, run.work]
        # Two slopes of one gable: what is cut for the second must not be taken for the first.
        label = name + (f" ({times})" if times > 1 else "")
        try:
            draft = _one_run(run, label, catalog, known, tolerance)
            found = _joined(found, draft.taken())
            later += [(where, draft, sought) for sought in draft.later]
        except (FormulaError, DepthError) as error:
            problems.append(Problem(where, f"{run.work}: {error}"))
    for where, draft, sought in later:
        try:
            own = TakeOff(figures=tuple(_figures(draft, [sought], found)))
            found = _joined(found, own)
        except FormulaError as error:
            problems.append(Problem(where, f"{draft.run.work}: {error}"))
    return replace(found, notes=tuple(dict.fromkeys(found.notes))), tuple(problems)


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
            draft = _one_run(Run(work.name, "", measures), work.name, catalog, works, TOLERANCE)
            list(_figures(draft, draft.later))
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
    told: dict[str, list[str]] = field(default_factory=dict)
    """By the results between, how each came about, written out."""
    profile: Profile | None = None
    places: dict[str, list[int]] = field(default_factory=dict)
    """By what they are counted by, the places along the run that no piece was put on yet."""
    lines: list[TakeOffLine] = field(default_factory=list)
    tasks: list[TakeOffTask] = field(default_factory=list)
    figures: list[Figure] = field(default_factory=list)
    later: list[Sought] = field(default_factory=list)
    """Figures that can only be worked out when all runs are."""
    pieces: list[Piece] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def taken(self) -> TakeOff:
        return TakeOff(
            tuple(self.lines),
            tuple(self.tasks),
            tuple(self.figures),
            tuple(self.pieces),
            tuple(self.notes),
        )


def _one_run(run: Run, label: str, catalog: Catalog, works: Works, tolerance: Fraction) -> _Draft:
    work = works.get(run.work)
    if work is None:
        raise FormulaError(f"is no kind of work; there are {', '.join(works)}")
    draft = _Draft(run, label, work, catalog)
    _measure(draft, tolerance)
    usual = _stand_ins(run, work, catalog)
    for use in work.uses:
        stand_in, before = usual.get(use.item), len(draft.lines)
        item = _item(draft, use.item) if stand_in is None else _own_item(draft, stand_in)
        _use(draft, use, item)
        if len(draft.lines) > before and item not in catalog.items:
            draft.notes.append(f"{item.name} is not in the catalog; it is taken as it usually is")
    draft.tasks += _tasks(draft)
    draft.later += [sought for sought in work.figures if HUNG in names_in(sought.formula)]
    draft.figures += _figures(draft, [one for one in work.figures if one not in draft.later])
    for remark in work.notes:
        if _worked(draft, "a note", remark.when, draft.names).quantity > 0:
            draft.notes.append(f"{work.name}: {remark.say}")
    return draft


def _stand_ins(run: Run, work: Work, catalog: Catalog) -> dict[str, str]:
    """The catalog's items that stand in for the usual ones, by the names of these.

    Either may be named by what it is spoken of as. Raises FormulaError, with the nearest names.
    """
    spoken, used = spoken_of(catalog.items), [use.item for use in work.uses]
    has = [item.name for item in catalog.items]
    found: dict[str, str] = {}
    for typed, other in run.instead:
        usual = typed if typed in used else (spoken(typed) or "").lower()
        if usual not in used:
            raise FormulaError(
                f"uses no {typed}, so nothing can stand in for it; {suggested(typed, used)}"
            )
        stand_in = spoken(other)
        if stand_in is None:
            raise FormulaError(
                f"uses {other}, which is not in the catalog; {suggested(other, has)}"
            )
        if usual in found:
            raise FormulaError(f"has two items that stand in for {usual}")
        found[usual] = stand_in
    return found


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
    """Works them out; what comes to nothing, and what is the same as another, needs no showing."""
    draft.told.clear()
    given = {name for name, _ in draft.run.measures}
    for measure in draft.work.takes:
        if measure.usual_formula and measure.name not in given:
            name, formula = measure.name, measure.usual_formula
            amount = draft.names[name] = _worked(draft, name, formula, draft.names, measure.unit)
            if amount.quantity and not formula.isidentifier():
                draft.let[name] = formula
            else:
                draft.let.pop(name, None)
    for name, formula in draft.work.let:
        draft.names[name] = _worked(draft, name, formula, draft.names)
        if draft.names[name].quantity:
            draft.let[name] = formula
        else:
            draft.let.pop(name, None)


def _profile(draft: _Draft, tolerance: Fraction) -> Profile:
    along = _inches(_worked(draft, "along", draft.work.along, draft.names), "along")
    face = _inches(_worked(draft, "face", draft.work.face, draft.names), "face")
    ahead = Fraction(0)
    if draft.work.ahead:
        ahead = _inches(_worked(draft, "ahead", draft.work.ahead, draft.names), "ahead")
    return Profile.of(draft.run.depths, along, face, tolerance, ahead)


# --- what it uses -----------------------------------------------------------------------------


def _use(draft: _Draft, use: Use, item: Item) -> None:
    names = {"one": Amount(Fraction(1), item.unit), **draft.names, **_own(item)}
    slug = use.item.replace(" ", "_")
    steps: list[str] = []
    if use.pieces:
        in_a_row = _step(draft, steps, "pieces", use.pieces, names)
        rows = Amount(Fraction(1))
        if use.rows:
            _check_own(f"rows of {item.name}", use.rows, names, item)
            rows = _step(draft, steps, "rows", use.rows, names)
        count = Amount(in_a_row.quantity * rows.quantity)
        draft.names[f"{slug}_pieces"] = names["pieces"] = count
        draft.names[f"{slug}_rows"] = names["rows"] = rows
        if _whole(count):
            _cut_across(draft, steps, use, item, names)
        return
    if use.lines:
        covered = _lines(draft, steps, use, item, names)
        draft.names[f"{slug}_joints"] = names["laps"]
        if not covered:
            return
    _add_line(draft, steps, use, item, names)


def _lines(draft: _Draft, steps: list[str], use: Use, item: Item, names: dict[str, Amount]) -> bool:
    """Works out `along` and `laps` of all lines, and adds the pieces of each line by itself; False
    where there is nothing to cover."""
    if "stock" not in names:
        raise FormulaError(f"needs the stock length of {item.name} in the catalog")
    names["lap"] = _worked(draft, "lap", use.lap, names)
    lines = []
    for many, long in use.lines:
        count = _whole(_worked(draft, "along", many, names))
        length = _worked(draft, "along", long, names)
        if count and length.quantity:
            lines.append((count, long, length))
    if len(lines) == 1 and lines[0][0] == 1:
        names["along"] = _step(draft, steps, "along", lines[0][1], names)
        names["laps"] = _step(draft, steps, "laps", _LAPS, names)
        _end_to_end(draft, use, item, names)
        return True
    along = laps = Fraction(0)
    for count, long, length in lines:
        how = _written_out(f"{count} x" if count > 1 else "line", long, names, length)
        steps += [line for line in [*_before(draft, long), how] if line not in steps]
        one = {**names, "along": length}
        one["laps"] = _worked(draft, "laps", _LAPS, one)
        _end_to_end(draft, use, item, one, count)
        along += _inches(length, "along") * count
        laps += one["laps"].quantity * count
    names["along"], names["laps"] = Amount(along / 12, "ft"), Amount(laps)
    parts = " + ".join(f"{count} x {shown(length)}" for count, _, length in lines)
    steps.append(f"along = {parts} = {shown(names['along'])}")
    steps.append(f"laps = joints in them = {shown(names['laps'])}")
    return bool(lines)


_LAPS = "joints(along, stock, lap)"


def _cut_across(
    draft: _Draft, steps: list[str], use: Use, item: Item, names: dict[str, Amount]
) -> None:
    count, rows = _whole(names["pieces"]), _whole(names["rows"])
    profile, varies = draft.profile, draft.work.varies
    places = _places(draft, use, names, count // rows)
    if profile is None or profile.agree or varies not in names_in(use.piece):
        own = names if profile is None else {**names, varies: Amount(profile.least, "in")}
        exact = _step(draft, steps, "piece", use.piece, own)
        piece = _for_the_tape(draft, exact)
        names["piece"] = Amount(piece, "in")
        _add_line(draft, steps, use, item, names)
        draft.pieces.append(_piece(draft, item, piece, range(1, count + 1)))
        return
    depths = list(profile.of_pieces(max(places) + 1))
    cuts = []
    for depth in [depths[place] for place in places] * rows:
        own = {**names, varies: Amount(depth, "in")}
        cuts.append(_for_the_tape(draft, _worked(draft, "piece", use.piece, own)))
    numbers = [row * len(places) + place + 1 for row in range(rows) for place in places]
    _add_own_cuts(draft, steps, use, item, names, list(zip(numbers, cuts, strict=True)))


def _places(draft: _Draft, use: Use, names: dict[str, Amount], count: int) -> list[int]:
    """Where along the run its pieces go, counted from 0: spread evenly over the places that are
    left, where there are more of them than pieces."""
    if not use.among:
        return list(range(count))
    if use.among not in draft.places:
        draft.places[use.among] = list(range(_whole(_worked(draft, "among", use.among, names))))
    left = draft.places[use.among]
    many = len(left)
    if count > many:
        raise FormulaError(f"puts {count} pieces of {use.item} on {many} places")
    taken = [
        place for at, place in enumerate(left) if (at + 1) * count // many > at * count // many
    ]
    draft.places[use.among] = [place for place in left if place not in set(taken)]
    return taken


def _add_own_cuts(
    draft: _Draft,
    steps: list[str],
    use: Use,
    item: Item,
    names: dict[str, Amount],
    cuts: list[tuple[int, Fraction]],
) -> None:
    """Each piece to its own length: the formulas of one piece, summed over them. `cuts` are the
    number of each piece and its length."""
    net = gross = Fraction(0)
    for length, alike in groupby(cuts, key=lambda cut: cut[1]):
        numbers = [number for number, _ in alike]
        one = {
            **names,
            "pieces": Amount(Fraction(len(numbers))),
            "piece": Amount(length, "in"),
        }
        net += _worked(draft, f"net of {item.name}", use.net, one, item.unit).quantity
        gross += _worked(draft, f"gross of {item.name}", use.gross, one, item.unit).quantity
        draft.pieces.append(_piece(draft, item, length, numbers))
    lengths = [length for _, length in cuts]
    span = f"{tape(min(lengths))} to {tape(max(lengths))} in"
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
            use.counted or item.counted,
        )
    )


def _end_to_end(
    draft: _Draft, use: Use, item: Item, names: dict[str, Amount], count: int = 1
) -> None:
    """Adds what covers a length, `count` times: one piece where a usual stick is long enough, else
    a run with what its joints have to keep to."""
    along = _inches(names["along"], "along")
    if not along:
        return
    on_tape = Fraction(ceil(along * 16), 16)
    stock = item.stock_length or Fraction(0)
    if along <= stock:
        draft.pieces.append(Piece(min(stock, on_tape), count, draft.label, item.name))
        return
    if _whole(names["laps"]) >= MOST_PIECES:
        raise NumberError(f"comes to more than {MOST_PIECES:,} pieces; check the length")
    joints = Joints(
        _inches(names["lap"], "lap"),
        _of_joints(draft, use.spacing, names) or None,
        _of_joints(draft, use.first, names),
        _of_joints(draft, use.clear, names),
        _called_here(draft, use.beside) if use.beside else "",
        _of_joints(draft, use.stagger, names),
    )
    draft.pieces.append(Piece(on_tape, count, draft.label, item.name, joints=joints))


def _called_here(draft: _Draft, usual: str) -> str:
    """The name of what this run takes for a usual item."""
    instead = _stand_ins(draft.run, draft.work, draft.catalog).get(usual)
    return instead or _item(draft, usual).name


def _of_joints(draft: _Draft, formula: str, names: dict[str, Amount]) -> Fraction:
    if not formula:
        return Fraction(0)
    return _inches(_worked(draft, "joints", formula, names), "joints")


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
                use.counted or item.counted,
            )
        )


def _piece(draft: _Draft, item: Item, length: Fraction, numbers: Sequence[int]) -> Piece:
    if length <= 0:
        raise NumberError(f"asks for a piece of {tape(length)} in")
    first, last, many = numbers[0], numbers[-1], len(numbers)
    between = "-" if last - first == many - 1 else " to "
    span = f"{first}{between}{last}" if many > 1 else f"{first}"
    return Piece(length, many, f"{draft.label} {span}", item.name)


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
        if not amount.quantity:
            continue
        yield TakeOffTask(draft.run.place, draft.work.name, labor.task, amount, hours, text)


def _figures(
    draft: _Draft, those: Sequence[Sought], found: TakeOff | None = None
) -> Iterator[Figure]:
    for sought in those:
        names, unit = draft.names, sought.unit
        if sought.item:
            item = _item(draft, sought.item)
            unit = unit or item.unit
            names = {"one": Amount(Fraction(1), item.unit), **names, **_own(item)}
            lacking = [_OWN[one] for one in names_in(sought.formula) if one in {*_OWN} - {*names}]
            if lacking:
                draft.notes.append(
                    f"{draft.label}: {sought.name} is left out: {item.name} has no "
                    f"{lacking[0].removeprefix('the ')} in the catalog"
                )
                continue
            names[HUNG] = _hung(found or TakeOff(), item)
            if found is not None and not names[HUNG].quantity:
                continue
        amount = _worked(draft, sought.name, sought.formula, names, unit)
        how = _written_out("", sought.formula, names, amount)
        text = "; ".join([*_before(draft, sought.formula), how])
        yield Figure(draft.run.place, draft.work.name, sought.name, amount, text, sought.note)


HUNG = "hung"
"""Stands in the formula of a figure for the length of all pieces of its item in the take-off."""


def _hung(found: TakeOff, item: Item) -> Amount:
    pieces = (one.length * one.pieces for one in found.pieces if one.item == item.name)
    return Amount(sum(pieces, Fraction(0)) / 12, "ft")


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
    if item:
        _check_own(of, formula, names, item)
    amount = _worked(draft, of, formula, names, item.unit if item else None)
    for line in _before(draft, formula):
        if line not in steps:
            steps.append(line)
    steps.append(_written_out(what, formula, names, amount))
    return amount


def _check_own(of: str, formula: str, names: dict[str, Amount], item: Item) -> None:
    """Raises FormulaError where the catalog does not say of the item what the formula asks for."""
    for name in names_in(formula):
        if name in _OWN and name not in names:
            raise FormulaError(f"{of} ({formula}) needs {_OWN[name]} of {item.name} in the catalog")


def _written_out(what: str, formula: str, names: dict[str, Amount], amount: Amount) -> str:
    """A formula, with its numbers, and what it comes to; nothing said twice."""
    parts = [what, formula, filled(formula, names), shown(amount)]
    return " = ".join(part for part, _ in groupby(part for part in parts if part))


def _before(draft: _Draft, formula: str) -> list[str]:
    """The results between on which a formula stands, each with its numbers filled in."""
    lines: dict[str, None] = {}
    for name in names_in(formula):
        if name in draft.let:
            if name not in draft.told:
                own = draft.let[name]
                how = _written_out(name, own, draft.names, draft.names[name])
                draft.told[name] = [*_before(draft, own), how]
            lines.update(dict.fromkeys(draft.told[name]))
    return list(lines)


_OWN = {
    "stock": "the stock length",
    "covers": "the coverage",
    "per_pound": "the number in a pound",
    "open_area": "the open area",
}


def _own(item: Item) -> dict[str, Amount]:
    """What formulas may know of an item: stock length, kerf, coverage, number in a pound, open
    area."""
    known = {"kerf": Amount(KERF if item.kerf is None else item.kerf, "in")}
    if item.per_pound and item.unit == "lb":
        known["per_pound"] = Amount(item.per_pound, "/lb")
    if item.unit in ("in", "ft", "ft2", "square", "lb", "gal"):
        return known
    if item.stock_length:
        known["stock"] = Amount(item.stock_length, f"in/{item.unit}")
    if item.open_area:
        known["open_area"] = Amount(item.open_area / 144, "ft2/ft")
    if item.covers:
        known["covers"] = Amount(item.covers.quantity, f"{item.covers.unit}/{item.unit}")
    return known


def _item(draft: _Draft, name: str) -> Item:
    """The catalog's item of that name; where it has none, the starter's, with a note."""
    try:
        return _own_item(draft, name)
    except FormulaError:
        for item in starter():
            if item.name.lower() == name:
                return item
        raise


def _own_item(draft: _Draft, name: str) -> Item:
    for item in draft.catalog.items:
        if item.name.lower() == name.lower():
            return item
    # A catalog of earlier days may call it otherwise, and know this name as one that is said.
    for item in draft.catalog.items:
        if name.lower() in map(str.lower, item.spoken):
            return item
    raise FormulaError(f"uses {name}, which is not in the catalog")


def _of(name: str, amount: Amount, unit: str) -> Amount:
    if amount.unit == unit:
        return amount
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
