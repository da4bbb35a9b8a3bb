"""Kinds of work: what each takes in and what it uses, read from TOML (ours is `works.toml`)."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
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

    `pieces` and `piece`: cut to length. `along` and `lap`: end to end. `net` and `gross`: free.
    """

    item: str
    net: str
    gross: str
    pieces: str = ""
    piece: str = ""
    along: str = ""
    lap: str = ""
    task: str = ""
    """The work in which it is used up, of those in `Work.labor`; "" where nobody says."""


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


@dataclass(frozen=True, slots=True)
class Work:
    """A kind of work. `varies`, `along` and `face` are "" where it is measured once."""

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
    "about", "varies", "along", "face", "takes", "gone", "let", "uses", "labor", "figures",
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
        *(_text(table, column, "", needed=False) for column in ("varies", "along", "face")),
        tuple((measure, _text(gone, measure, ", gone")) for measure in gone),
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
    columns = ("pieces", "piece", "along", "lap", "net", "gross")
    table = _table(table, ("item", "task", *columns), where)
    item = _text(table, "item", where).lower()
    task = _text(table, "task", where, needed=False).lower()
    given = {column for column in columns if column in table}
    for way, formulas in _WAYS.items():
        if given == set(way):
            shown = {column: _text(table, column, where) for column in way}
            return Use(item, **{**formulas, **shown}, task=task)
    if given == {"net"}:
        return Use(item, _text(table, "net", where), _text(table, "net", where), task=task)
    raise _WorkError(where, "needs either pieces and piece, or along and lap, or net (and gross)")


_WAYS: dict[tuple[str, ...], dict[str, str]] = {
    ("pieces", "piece"): {
        "net": "pieces * piece / stock",
        "gross": "pieces / per_stock(stock, piece, kerf)",
    },
    ("along", "lap"): {
        "net": "along / stock",
        "gross": "(along + laps * lap) / stock",
    },
    ("net", "gross"): {},
}
"""The formulas that go with each way of using an item."""


def _labor(table: dict[str, Any], where: str) -> Labor:
    table = _table(table, ("task", "quantity"), where)
    return Labor(_text(table, "task", where).lower(), _text(table, "quantity", where))


def _figure(table: dict[str, Any], where: str) -> Sought:
    table = _table(table, ("name", "formula", "unit", "note"), where)
    unit = _text(table, "unit", where, needed=False)
    if not is_unit(unit):
        raise _WorkError(where, f"has the unit {unit!r}, which is none of {', '.join(UNITS)}")
    return Sought(
        _text(table, "name", where),
        _text(table, "formula", where),
        unit,
        _text(table, "note", where, needed=False),
    )


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
