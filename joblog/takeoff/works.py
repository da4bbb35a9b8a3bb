"""Kinds of work: what each takes in and what it uses, read from TOML (ours is `works.toml`)."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from joblog.model import Problem
from joblog.quantity import MOST, UNITS, fraction_of
from joblog.takeoff.formula import is_name, names_in
from joblog.takeoff.units import FormulaError, is_unit


@dataclass(frozen=True, slots=True)
class Measure:
    """What a kind of work wants to know of a run."""

    name: str
    unit: str
    usual: Fraction | None
    about: str
    zero: bool = False
    """It may be zero."""
    usual_formula: str = ""
    """What it usually is, of other measures, where that is no number: "height"."""
    least: Fraction | None = None
    """In its unit; what is below is asked about. So is what is above `most`. None where the bounds
    of everything measured so hold."""
    most: Fraction | None = None

    @property
    def needed(self) -> bool:
        """Whether it must be given."""
        return self.usual is None and not self.usual_formula


@dataclass(frozen=True, slots=True)
class Use:
    """An item that a kind of work uses, with the formulas of one of three ways.

    `pieces` and `piece`: cut to length. `lines` and `lap`: end to end. `net` and `gross`: free.
    """

    item: str
    net: str
    gross: str
    pieces: str = ""
    piece: str = ""
    rows: str = ""
    """Rows of such pieces, one beside the other; "" for one."""
    among: str = ""
    """How many places there are that these pieces are spread over; those of the next use with the
    same `among` take what is left. "" where they take all."""
    lines: tuple[tuple[str, str], ...] = ()
    """(how many, how long), each covered by itself."""
    lap: str = ""
    spacing: str = ""
    """From one place to the next where a joint of a line may fall; "" or nothing for anywhere."""
    first: str = ""
    """The first such place, from where the line begins."""
    clear: str = ""
    """How far joints stay from both ends and from each other."""
    beside: str = ""
    """The item whose joints at the same place these are kept away from, by `stagger`."""
    stagger: str = ""
    task: str = ""
    """The work in which it is used up, of those in `Work.labor`; "" where nobody says."""
    counted: bool = False
    """Counted whole: no allowance for waste buys one more."""


@dataclass(frozen=True, slots=True)
class Labor:
    task: str
    quantity: str


@dataclass(frozen=True, slots=True)
class Sought:
    """A figure that is shown and not ordered."""

    name: str
    formula: str
    unit: str
    note: str
    item: str = ""
    """Whose stock length, open area and so on the formula asks for; then the unit may be its own,
    and the figure is left out where the catalog does not say what it asks for."""


@dataclass(frozen=True, slots=True)
class Remark:
    """What a person should know of a run; said where `when` comes to more than zero."""

    when: str
    say: str


@dataclass(frozen=True, slots=True)
class Work:
    """A kind of work. `varies`, `along` and `face` are "" where it is measured once, `ahead` where
    its pieces begin where it does."""

    name: str
    about: str
    takes: tuple[Measure, ...]
    let: tuple[tuple[str, str], ...] = ()
    uses: tuple[Use, ...] = ()
    labor: tuple[Labor, ...] = ()
    figures: tuple[Sought, ...] = ()
    varies: str = ""
    along: str = ""
    face: str = ""
    ahead: str = ""
    notes: tuple[Remark, ...] = ()
    gone: tuple[tuple[str, str], ...] = ()
    """Measures that were taken once, each with what to say in its place."""

    def takes_no(self, name: str) -> str:
        """Why a measure cannot be given, in words."""
        instead = dict(self.gone).get(name)
        if instead:
            return f"takes no {name} any more; {instead}"
        return f"takes no {name}; it takes {', '.join(measure.name for measure in self.takes)}"


Works = Mapping[str, Work]


@cache
def starter_works() -> Works:
    """The kinds of work that come with joblog, by name."""
    works, _ = read_works(Path(__file__).with_name("works.toml"))
    return works


def read_works(source: str | Path) -> tuple[Works, tuple[Problem, ...]]:
    """Kinds of work by name, and a problem for each that cannot be read, naming its place.

    `source` is the text itself or a file. A kind with a problem is left out whole. Formulas are
    read here but worked out when they are used; `take_off.check` tries them on.
    """
    name = source.name if isinstance(source, Path) else "works"
    try:
        text = source.read_text("utf-8-sig") if isinstance(source, Path) else source
        if _ENDLESS.search(text):
            return {}, (Problem(name, "holds a number beyond reason"),)
        table = tomllib.loads(text, parse_float=fraction_of)
    except OSError as error:
        return {}, (Problem(name, f"cannot be read: {error.strerror}"),)
    except (UnicodeDecodeError, RecursionError):
        return {}, (Problem(name, "cannot be read: it is no TOML text"),)
    except ValueError as error:
        return {}, (Problem(name, f"is no TOML: {error}"),)
    works: dict[str, Work] = {}
    problems = []
    for kind, content in table.items():
        called = " ".join(kind.lower().split())
        try:
            if set(_table(content, None, "")) == {"usual"}:
                works[called] = _with_usual(called, _table(content["usual"], None, ", usual"))
            else:
                works[called] = _work(called, _table(content, _KINDS, ""))
        except _WorkError as wrong:
            problems.append(Problem(f"{name}, {called}{wrong.where}", wrong.why))
    return works, tuple(problems)


# Digits of a whole number; Python reads no more than some thousands.
_ENDLESS = re.compile(r"[\d_]{400}")


class _WorkError(Exception):
    def __init__(self, where: str, why: str) -> None:
        self.where, self.why = where, why


_KINDS = (
    "about", "varies", "along", "face", "ahead", "takes", "gone", "let", "uses", "labor", "figures",
    "notes",
)  # fmt: skip


def _work(name: str, table: dict[str, Any]) -> Work:
    takes = tuple(
        _measure(measure, f", takes {measure}", content)
        for measure, content in _table(table.get("takes", {}), None, ", takes").items()
    )
    let = _table(table.get("let", {}), None, ", let")
    gone = _table(table.get("gone", {}), None, ", gone")
    for result in let:
        _named(result, f", let {result}")
    work = Work(
        name,
        _text(table, "about", "", needed=False),
        takes,
        tuple((result, _text(let, result, ", let")) for result in let),
        tuple(_each(table, "uses", _use)),
        tuple(_each(table, "labor", _labor)),
        tuple(_each(table, "figures", _figure)),
        varies=_text(table, "varies", "", needed=False),
        along=_text(table, "along", "", needed=False),
        face=_text(table, "face", "", needed=False),
        ahead=_text(table, "ahead", "", needed=False),
        notes=tuple(_each(table, "notes", _remark)),
        gone=tuple((measure, _text(gone, measure, ", gone")) for measure in gone),
    )
    for measure in takes:
        if set(_asked(measure)) - {other.name for other in takes}:
            why = "has a usual value that is no number, and no formula of what it takes"
            raise _WorkError(f", takes {measure.name}", why)
    tasks = [labor.task for labor in work.labor]
    for use in work.uses:
        if use.task and use.task not in tasks:
            raise _WorkError("", f"uses {use.item} in {use.task}, which is none of its labor")
    if work.varies and (not work.along or not work.face):
        raise _WorkError("", "says what varies, so it must also say along and face")
    if work.varies and work.varies not in [measure.name for measure in takes]:
        raise _WorkError("", f"lets {work.varies} vary, which it does not take")
    return work


def _with_usual(name: str, usual: dict[str, Any]) -> Work:
    """Our own work of that name, with other usual values."""
    work = starter_works().get(name)
    if work is None:
        raise _WorkError(
            ", usual", f"is of no work of ours; there are {', '.join(starter_works())}"
        )
    known = [measure.name for measure in work.takes]
    for name_of in usual:
        if name_of not in known:
            raise _WorkError(f", usual {name_of}", work.takes_no(name_of))
    takes = []
    for measure in work.takes:
        where = f", usual {measure.name}"
        number = _number(usual, measure.name, "a usual value", where)
        if number == 0 and not measure.zero:
            raise _WorkError(where, "cannot be zero")
        takes.append(
            measure if number is None else replace(measure, usual=number, usual_formula="")
        )
    return replace(work, takes=tuple(takes))


def _measure(name: str, where: str, content: object) -> Measure:
    table = _table(content, ("unit", "usual", "zero", "least", "most", "about"), where)
    _named(name, where)
    unit = _text(table, "unit", where, needed=False)
    if not is_unit(unit):
        raise _WorkError(where, f"has the unit {unit!r}, which is none of {', '.join(UNITS)}")
    formula = " ".join(table["usual"].split()) if isinstance(table.get("usual"), str) else ""
    if "usual" in table and not formula and isinstance(table["usual"], str):
        raise _WorkError(where, "has a usual value that is no number")
    usual = None if formula else _number(table, "usual", "a usual value", where)
    least = _number(table, "least", "a least value", where)
    most = _number(table, "most", "a most", where)
    about = _text(table, "about", where, needed=False)
    zero = table.get("zero", False)
    if not isinstance(zero, bool):
        raise _WorkError(where, "has a zero that is neither true nor false")
    return Measure(name, unit, usual, about, zero or usual == 0, formula, least, most)


def _asked(measure: Measure) -> tuple[str, ...]:
    """The names that its usual value is made of."""
    try:
        return names_in(measure.usual_formula) if measure.usual_formula else ()
    except FormulaError as error:
        raise _WorkError(f", takes {measure.name}", f"usual {error}") from None


def _number(table: dict[str, Any], column: str, called: str, where: str) -> Fraction | None:
    number = table.get(column)
    if number is None:
        return None
    if isinstance(number, bool) or not isinstance(number, int | Fraction):
        raise _WorkError(where, f"has {called} that is no number")
    if number < 0:
        raise _WorkError(where, f"has {called} below zero")
    if number > MOST:
        raise _WorkError(where, f"has {called} beyond reason")
    return Fraction(number)


def _use(table: dict[str, Any], where: str) -> Use:
    table = _table(table, ("item", "task", "counted", "beside", *_FORMULAS), where)
    item = _text(table, "item", where).lower()
    task = _text(table, "task", where, needed=False).lower()
    counted = table.get("counted", False)
    if not isinstance(counted, bool):
        raise _WorkError(where, "has a counted that is neither true nor false")
    given = {column for column in _FORMULAS if column in table}
    beside = _text(table, "beside", where, needed=False).lower()
    if bool(beside) != ("stagger" in given):
        raise _WorkError(where, "says beside and stagger together, or neither")
    for needed, may, usual in _WAYS:
        if needed <= given <= needed | may:
            said = {column: _text(table, column, where) for column in given - {"along"}}
            formulas = {**usual, **said}
            formulas.setdefault("gross", formulas["net"])
            lines = _lines(table["along"], where) if "along" in given else ()
            return Use(item, **formulas, lines=lines, beside=beside, task=task, counted=counted)
    raise _WorkError(where, "needs either pieces and piece, or along and lap, or net (and gross)")


_JOINTS = ("spacing", "first", "clear", "stagger")
_FORMULAS = ("pieces", "piece", "rows", "among", "along", "lap", *_JOINTS, "net", "gross")
_WAYS: tuple[tuple[set[str], set[str], dict[str, str]], ...] = (
    (
        {"pieces", "piece"},
        {"rows", "among", "net"},
        {"net": "pieces * piece / stock", "gross": "pieces / per_stock(stock, piece, kerf)"},
    ),
    (
        {"along", "lap"},
        {*_JOINTS},
        {"net": "along / stock", "gross": "(along + laps * lap) / stock"},
    ),
    ({"net"}, {"gross"}, {}),
)
"""What each way of using an item must say, may say, and what holds where it does not."""


def _lines(along: object, where: str) -> tuple[tuple[str, str], ...]:
    """One line, or several: [["2", "length"], ["2", "width"]]."""
    if isinstance(along, str):
        return (("1", _text({"along": along}, "along", where)),)
    if not isinstance(along, list) or not along:
        raise _WorkError(where, _LINES)
    lines = []
    for line in along:
        if not isinstance(line, list) or len(line) != 2:
            raise _WorkError(where, _LINES)
        many, long = (_text({"along": part}, "along", where) for part in line)
        lines.append((many, long))
    return tuple(lines)


_LINES = (
    'along is one formula, or pairs of how many and how long: [["2", "width"], ["1", "height"]]'
)


def _labor(table: dict[str, Any], where: str) -> Labor:
    table = _table(table, ("task", "quantity"), where)
    return Labor(_text(table, "task", where).lower(), _text(table, "quantity", where))


def _figure(table: dict[str, Any], where: str) -> Sought:
    table = _table(table, ("name", "formula", "unit", "note", "item"), where)
    unit = _text(table, "unit", where, needed=False)
    if not is_unit(unit):
        raise _WorkError(where, f"has the unit {unit!r}, which is none of {', '.join(UNITS)}")
    return Sought(
        _text(table, "name", where),
        _text(table, "formula", where),
        unit,
        _text(table, "note", where, needed=False),
        _text(table, "item", where, needed=False).lower(),
    )


def _remark(table: dict[str, Any], where: str) -> Remark:
    table = _table(table, ("when", "say"), where)
    return Remark(_text(table, "when", where), _text(table, "say", where))


def _each(
    table: dict[str, Any], column: str, read: Callable[[dict[str, Any], str], Any]
) -> Iterator[Any]:
    rows = table.get(column, [])
    if not isinstance(rows, list):
        raise _WorkError(f", {column}", f"is written [[kind.{column}]], once for each")
    for number, row in enumerate(rows, 1):
        yield read(row, f", {column} {number}")


def _table(content: object, columns: tuple[str, ...] | None, where: str) -> dict[str, Any]:
    if not isinstance(content, dict):
        raise _WorkError(where, "is no table")
    for column in content:
        if columns is not None and column not in columns:
            raise _WorkError(where, f"has {column!r}, which is none of {', '.join(columns)}")
    return content


def _text(table: dict[str, Any], column: str, where: str, *, needed: bool = True) -> str:
    value = table.get(column, "")
    if not isinstance(value, str):
        raise _WorkError(where, f"{column} must be text in quotes")
    if needed and not value.strip():
        raise _WorkError(where, f"has no {column}")
    return " ".join(value.split())


def _named(name: str, where: str) -> None:
    if not is_name(name):
        raise _WorkError(where, "cannot be called so; take one word that is no unit or function")
    if name in _TAKEN:
        raise _WorkError(where, f"cannot be called so; {', '.join(_TAKEN)} mean something already")


_TAKEN = ("stock", "kerf", "covers", "per_pound", "pieces", "piece", "along", "laps")
