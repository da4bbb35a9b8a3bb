"""A formula of the take-off: worked out exactly, with its units, and shown with its numbers in.

A formula is arithmetic and nothing else: numbers, names, + - * /, comparisons, `a if b else c` and
the functions below. It cannot reach an attribute, a module or anything outside the names it is
given. A count ("each") is a bare number in it; a stock length is inches a stick.
"""

from __future__ import annotations

import ast
import operator
import re
from collections.abc import Callable, Mapping
from copy import deepcopy
from fractions import Fraction
from functools import cache, lru_cache
from math import ceil, floor, isqrt
from typing import Any

from simpleeval import InvalidExpression, SimpleEval

from joblog.model import Amount
from joblog.quantity import UNITS, Quantity, about, feet_and_inches, tape

Names = Mapping[str, Amount]
LONGEST = 400
"""Characters of a formula. A longer one is a mistake, or meant to do harm."""
DEEPEST = 60


class FormulaError(ValueError):
    """Why a formula cannot be worked out, in words for a person."""


class NumberError(FormulaError):
    """It is a good formula, but not for these numbers."""


def worked_out(formula: str, names: Names, unit: str | None = None) -> Amount:
    """What the formula comes to, exactly; in `unit` where one is given, else in a fitting one.

    Names of units (`ft`, `inch`, `ft2`, `square`, `lb`, `sheet` and so on) stand for one of it.
    Lengths that hold a square root are rounded up to 1/64 inch. Raises `FormulaError`.
    """
    result = _quantity_of(formula, names)
    return _amount(result, _fitting(result) if unit is None else unit)


def filled(formula: str, names: Names) -> str:
    """The formula with the value of each name in its place: "41 ft - 1 in". For a person.

    It says so where a square root in it was rounded.
    """
    tree = deepcopy(_parsed(formula))
    named = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    rounded = f" ({ROUNDED})" if named & _ROOTS else ""
    return _tidy(ast.unparse(_Fill(names).visit(tree))) + rounded


ROUNDED = "rounded up to 1/64 in"


def names_in(formula: str) -> tuple[str, ...]:
    """The names that a formula asks for, without functions and units, in order."""
    nodes = ast.walk(_parsed(formula))
    named = (node.id for node in nodes if isinstance(node, ast.Name))
    return tuple(dict.fromkeys(name for name in named if name not in (*FUNCTIONS, *UNIT_NAMES)))


def shown(amount: Amount) -> str:
    """An amount for a person: "11 5/8 in", "9' 3 9/64\"", "41", "144 in/stick", "~3.4097 stick".

    Exact where a tape shows it; with decimals and a ~ where not.
    """
    inches = amount.quantity * 12
    if amount.unit == "ft" and amount.quantity.denominator != 1 and 64 % inches.denominator == 0:
        return feet_and_inches(inches)
    unit = "" if amount.unit in ("", "each") else f" {amount.unit}"
    return f"{_readable(amount.quantity)}{unit}"


UNIT_NAMES = (
    "inch", "ft", "ft2", "lb", "gal", "square", "each", "pair", "sheet", "stick", "box", "roll",
    "bundle", "tube",
)  # fmt: skip
"""Names that formulas may use for units; an input may not be called so."""


def is_name(text: str) -> bool:
    """True for what an input or an intermediate result may be called."""
    plain = text.isidentifier() and text.isascii() and not text.startswith("_")
    return plain and text not in (*UNIT_NAMES, *FUNCTIONS, "if", "else", "and", "or", "not", "in")


def is_unit(text: str) -> bool:
    """True for "", a unit of ours, or one a piece of another: "in/stick", "ft2/roll"."""
    over, _, under = text.partition("/")
    return (over in UNITS or not over) and (under in UNITS or ("/" not in text))


# --- working it out ---------------------------------------------------------------------------


def _quantity_of(formula: str, names: Names) -> Any:
    tree = _parsed(formula)
    asked = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    known = {name: _unit_quantity(name) for name in UNIT_NAMES if name in asked}
    known |= {name: _quantity(amount) for name, amount in names.items() if name in asked}
    try:
        return _as_quantity(_Exact(known).eval(formula.strip(), tree.body))
    except FormulaError:
        raise
    except ZeroDivisionError:
        raise NumberError(f"divides by zero: {filled(formula, names)}") from None
    except InvalidExpression as error:
        raise FormulaError(_not_allowed(error)) from None
    except (TypeError, ValueError, AttributeError):
        raise FormulaError(f"cannot be worked out: {filled(formula, names)}") from None


@lru_cache(maxsize=512)
def _parsed(formula: str) -> ast.Expression:
    if len(formula) > LONGEST:
        raise FormulaError(f"is longer than {LONGEST} characters")
    try:
        tree = ast.parse(formula.strip(), mode="eval")
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        raise FormulaError("cannot be read; write it like (length - lap) / stock") from None
    if _levels(tree) > DEEPEST:
        raise FormulaError(f"nests more than {DEEPEST} deep")
    return tree


def _levels(tree: ast.AST) -> int:
    level, nodes = 0, [tree]
    while nodes:
        level, nodes = level + 1, [part for node in nodes for part in ast.iter_child_nodes(node)]
    return level


class _Exact(SimpleEval):  # type: ignore[misc]
    """Arithmetic on exact quantities; every other kind of syntax is refused."""

    nodes: dict[type[ast.AST], Callable[..., Any]]

    def __init__(self, names: dict[str, Any]) -> None:
        super().__init__(operators=_OPERATORS, functions=dict(FUNCTIONS), names=names)
        self.nodes = {kind: how for kind, how in self.nodes.items() if kind in _SYNTAX}
        self.nodes[ast.Constant] = self._number

    def _number(self, node: ast.Constant) -> Fraction:
        text = ast.get_source_segment(self.expr, node) or ""
        if not _NUMBER.fullmatch(text):
            raise FormulaError(f"holds {text or 'something'}, which is no plain number")
        return Fraction(text)


_NUMBER = re.compile(r"\d{1,30}(\.\d{1,30})?|\.\d{1,30}")
_SYNTAX = {
    ast.Expr, ast.Name, ast.BinOp, ast.UnaryOp, ast.BoolOp, ast.Compare, ast.IfExp, ast.Call,
}  # fmt: skip


def _guarded(work: Callable[[Any, Any], Any]) -> Callable[[Any, Any], Any]:
    def guarded(a: Any, b: Any) -> Any:
        one, other = _as_quantity(a), _as_quantity(b)
        if one.dimensions != other.dimensions:
            raise FormulaError(_unlike(_our_unit(one), _our_unit(other)))
        return work(one, other)

    return guarded


def _bounded(work: Callable[[Any, Any], Any]) -> Callable[[Any, Any], Any]:
    """A few squarings, one on the other, come to more digits than any machine can hold."""

    def bounded(a: Any, b: Any) -> Any:
        result = work(a, b)
        number = _as_quantity(result).number
        if max(abs(number.numerator), number.denominator) > _LARGEST:
            raise FormulaError("comes to a number beyond reason")
        return result

    return bounded


_LARGEST = 10**100
"""Above and below the line of a fraction; sums over many odd lengths stay far under it."""

_OPERATORS: dict[type[ast.AST], Callable[..., Any]] = {
    ast.Add: _bounded(_guarded(operator.add)),
    ast.Sub: _bounded(_guarded(operator.sub)),
    ast.Mult: _bounded(operator.mul),
    ast.Div: _bounded(operator.truediv),
    ast.UAdd: operator.pos,
    ast.USub: operator.neg,
    ast.Not: operator.not_,
    ast.Lt: _guarded(operator.lt),
    ast.LtE: _guarded(operator.le),
    ast.Gt: _guarded(operator.gt),
    ast.GtE: _guarded(operator.ge),
    ast.Eq: _guarded(operator.eq),
    ast.NotEq: _guarded(operator.ne),
}


# --- the functions of a formula ---------------------------------------------------------------


def _ceil(count: Any) -> Any:
    number, unit = _countable(count, "ceil")
    return Quantity(Fraction(ceil(number)), unit)


def _floor(count: Any) -> Any:
    number, unit = _countable(count, "floor")
    return Quantity(Fraction(floor(number)), unit)


def _smallest(*amounts: Any) -> Any:
    return min(_alike(amounts))


def _largest(*amounts: Any) -> Any:
    return max(_alike(amounts))


def _rafter(run: Any, pitch: Any) -> Any:
    """Length of a slope over a level `run`, rising `pitch` inches in 12."""
    return _root(_inches(run) ** 2 * (144 + _bare_number(pitch) ** 2) / 144)


def _hip(run: Any, pitch: Any) -> Any:
    """Length of a hip or valley rafter, for the level `run` of its common rafters."""
    return _root(_inches(run) ** 2 * (288 + _bare_number(pitch) ** 2) / 144)


def _diagonal(across: Any, along: Any) -> Any:
    return _root(_inches(across) ** 2 + _inches(along) ** 2)


def _per_stock(stock: Any, piece: Any, kerf: Any) -> Any:
    """How many pieces one stock length yields, with a saw kerf between them."""
    unit = _stock_unit(stock)
    whole, each, lost = _inches(stock * unit), _inches(piece), _inches(kerf)
    if each <= 0:
        raise NumberError(f"asks for a piece of {_readable(each)} in")
    count = (whole + lost) // (each + lost)
    if not count:
        raise NumberError(
            f"asks for a piece of {_readable(each)} in, longer than its stock of "
            f"{_readable(whole)} in"
        )
    return Fraction(count) / unit


def _joints(length: Any, stock: Any, lap: Any) -> Any:
    """How many joints it takes to cover `length`, each lapping by `lap`."""
    covered, whole = _inches(length), _inches(stock * _stock_unit(stock))
    lapped = _inches(lap)
    if whole <= lapped:
        raise NumberError("has a lap as long as the stock")
    return _bare(Fraction(max(0, ceil((covered - lapped) / (whole - lapped)) - 1)))


FUNCTIONS: dict[str, Callable[..., Any]] = {
    "ceil": _ceil,
    "floor": _floor,
    "min": _smallest,
    "max": _largest,
    "rafter": _rafter,
    "hip": _hip,
    "diagonal": _diagonal,
    "per_stock": _per_stock,
    "joints": _joints,
}


def _root(square: Fraction) -> Any:
    """The square root of square inches, rounded up to 1/64 inch, so that nothing is cut short."""
    least = ceil(square * 64 * 64)
    return Quantity.of(Fraction(isqrt(least - 1) + 1 if least > 0 else 0, 64), "in")


def _countable(value: Any, function: str) -> tuple[Fraction, Any]:
    quantity = _as_quantity(value)
    if {"length", "mass"} & set(quantity.dimensions):
        unit = _our_unit(quantity)
        raise FormulaError(f"uses {function} on {unit}; it is for counts, so divide first")
    return quantity.number, quantity.units


def _alike(amounts: tuple[Any, ...]) -> list[Any]:
    if not amounts:
        raise FormulaError("uses min or max on nothing")
    quantities = [_as_quantity(amount) for amount in amounts]
    for other in quantities[1:]:
        if other.dimensions != quantities[0].dimensions:
            raise FormulaError(_unlike(_our_unit(quantities[0]), _our_unit(other)))
    return quantities


def _inches(value: Any) -> Fraction:
    quantity = _as_quantity(value)
    if quantity.dimensions != {"length": 1}:
        raise FormulaError(f"needs a length, but {_our_unit(quantity)} came")
    return quantity.number


def _bare_number(value: Any) -> Fraction:
    quantity = _as_quantity(value)
    if quantity.dimensions:
        raise FormulaError(f"needs a bare number, but {_our_unit(quantity)} came")
    return quantity.number


def _stock_unit(stock: Any) -> Quantity:
    """One of what the stock length is of: a stick, a sheet; a bare one for a bare length."""
    powers = _as_quantity(stock).dimensions
    per = next((unit for unit in powers if powers == {"length": 1, unit: -1}), "")
    return Quantity.of(Fraction(1), per)


_MEASURED = ("length", "mass")


# --- our units --------------------------------------------------------------------------------


@cache
def _unit_quantity(name: str) -> Any:
    return _quantity(Amount(Fraction(1), "in" if name == "inch" else name))


def _quantity(amount: Amount) -> Quantity:
    """An amount of one of our units, or of one a piece of another, such as "in/stick"."""
    over, _, under = amount.unit.partition("/")
    return amount.quantity * _one(over) / _one(under)


def _one(unit: str) -> Quantity:
    # A count stands alone in a formula: twelve pieces of a foot are twelve feet.
    if unit in ("", "each", "pair"):
        return _bare(Fraction(2 if unit == "pair" else 1))
    if not unit.isidentifier():
        raise FormulaError(f"there is no unit {unit!r}")
    return Quantity.of(Fraction(1), unit)


def _amount(quantity: Quantity, unit: str) -> Amount:
    share = quantity / _quantity(Amount(Fraction(1), unit))
    if share.dimensions:
        raise FormulaError(f"comes out in {_our_unit(quantity)}, but must be in {unit or 'counts'}")
    return Amount(share.number, unit)


def _fitting(quantity: Quantity) -> str:
    """Inches for a short length, feet for a long one, our own name for anything else."""
    if quantity.dimensions == {"length": 1}:
        return "in" if abs(quantity.number) < 48 else "ft"
    unit = _unit_with(quantity.dimensions)
    if unit is None:
        raise FormulaError(
            f"comes out in {_our_unit(quantity)}, which is no unit that anything has"
        )
    return unit


def _unit_with(powers: Mapping[str, int]) -> str | None:
    """Our unit of these dimensions: one measured, counted, or measured a piece of one counted."""
    over = _OVERS.get(tuple((name, powers[name]) for name in _MEASURED if name in powers))
    counted = [(unit, power) for unit, power in powers.items() if unit not in _MEASURED]
    if over is None or len(counted) > 1:
        return None
    if not counted:
        return over
    ((unit, power),) = counted
    if power == 1 and not over:
        return unit
    return f"{over}/{unit}" if power == -1 and over != "/lb" else None


_OVERS: Mapping[tuple[tuple[str, int], ...], str] = {
    (): "",
    (("length", 1),): "in",
    (("length", 2),): "ft2",
    (("length", 3),): "gal",
    (("mass", 1),): "lb",
    (("mass", -1),): "/lb",
}


def _our_unit(quantity: Quantity) -> str:
    """The unit in the words of the trade, for a message."""
    parts = quantity.units if quantity.dimensions else ()
    over = [_power(name, power) for name, power in parts if power > 0]
    under = [_power(name, -power) for name, power in parts if power < 0]
    return " ".join(over or ["a count"]) + (f" per {' '.join(under)}" if under else "")


def _power(name: str, power: int) -> str:
    return name if power == 1 else f"{name}{power}"


def _unlike(one: str, other: str) -> str:
    return f"adds or compares {one} and {other}, which do not mix"


def _as_quantity(value: Any) -> Quantity:
    if isinstance(value, bool):
        raise FormulaError("takes a comparison for an amount")
    return value if isinstance(value, Quantity) else _bare(Fraction(value))


def _bare(number: Fraction) -> Quantity:
    return Quantity(number)


def _not_allowed(error: InvalidExpression) -> str:
    name = getattr(error, "name", None) or getattr(error, "func_name", None)
    if name:
        functions = ", ".join(FUNCTIONS)
        return f"uses {name!r}, which is not known here; functions are {functions}"
    return "may hold only numbers, names, + - * /, comparisons and the functions named in the table"


# --- showing it -------------------------------------------------------------------------------

_ROOTS = {"rafter", "hip", "diagonal"}


class _Fill(ast.NodeTransformer):
    def __init__(self, names: Names) -> None:
        self.names = names

    def visit_Call(self, node: ast.Call) -> ast.AST:
        return ast.Call(node.func, [self.visit(part) for part in node.args], [])

    def visit_Name(self, node: ast.Name) -> ast.AST:
        amount = self.names.get(node.id)
        return ast.Name(f"{_OPEN}{shown(amount)}{_CLOSE}") if amount else node


_OPEN, _CLOSE = "\u2039", "\u203a"


def _tidy(text: str) -> str:
    """A number and the unit named behind it read as one: "3 * ft" as "3 ft"."""
    units = "|".join(UNIT_NAMES)
    joined = re.sub(rf"\b(\d+(?: / \d+)?) \* ({units})\b", _joined, text)
    return joined.replace(_OPEN, "").replace(_CLOSE, "").replace("*", "x")


def _joined(found: re.Match[str]) -> str:
    return f"{found[1].replace(' / ', '/')} {'in' if found[2] == 'inch' else found[2]}"


def _readable(number: Fraction) -> str:
    """As a tape reads where it is of the tape; else with decimals, marked as about."""
    if number.denominator in (1, 2, 4, 8, 16, 32, 64):
        return tape(number)
    return about(number)
