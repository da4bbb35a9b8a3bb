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
from functools import lru_cache
from typing import Any

from simpleeval import InvalidExpression, SimpleEval

from joblog.model import Amount
from joblog.takeoff.functions import FUNCTIONS
from joblog.takeoff.units import (
    UNIT_NAMES,
    FormulaError,
    NumberError,
    amount_in,
    as_quantity,
    fitting_unit,
    our_unit,
    quantity_of,
    shown,
    unit_quantity,
    unlike,
)

Names = Mapping[str, Amount]
LONGEST = 400
"""Characters of a formula. A longer one is a mistake, or meant to do harm."""
DEEPEST = 60


def worked_out(formula: str, names: Names, unit: str | None = None) -> Amount:
    """What the formula comes to, exactly; in `unit` where one is given, else in a fitting one.

    Names of units (`ft`, `inch`, `ft2`, `square`, `lb`, `sheet` and so on) stand for one of it.
    Lengths that hold a square root are rounded up to 1/64 inch. Raises `FormulaError`.
    """
    result = _quantity_of(formula, names)
    return amount_in(result, fitting_unit(result) if unit is None else unit)


def filled(formula: str, names: Names) -> str:
    """The formula with the value of each name in its place: "41 ft - 1 in". For a person.

    It says so where a square root in it was rounded.
    """
    text, rounded = _template(formula)

    def value(found: re.Match[str]) -> str:
        amount = names.get(found[1])
        return shown(amount) if amount else found[1]

    return _NAMED.sub(value, text) + (f" ({ROUNDED})" if rounded else "")


ROUNDED = "rounded up to 1/64 in"


def names_in(formula: str) -> tuple[str, ...]:
    """The names that a formula asks for, without functions and units, in order."""
    return tuple(name for name in _asked(formula) if name not in (*FUNCTIONS, *UNIT_NAMES))


@lru_cache(maxsize=1024)
def _asked(formula: str) -> tuple[str, ...]:
    """All names in a formula, those of functions and units too."""
    nodes = ast.walk(_parsed(formula))
    return tuple(dict.fromkeys(node.id for node in nodes if isinstance(node, ast.Name)))


def is_name(text: str) -> bool:
    """True for what an input or an intermediate result may be called."""
    plain = text.isidentifier() and text.isascii() and not text.startswith("_")
    return plain and text not in (*UNIT_NAMES, *FUNCTIONS, "if", "else", "and", "or", "not", "in")


# --- working it out ---------------------------------------------------------------------------


def _quantity_of(formula: str, names: Names) -> Any:
    tree = _parsed(formula)
    known: dict[str, Any] = {}
    for name in _asked(formula):
        if name in names:
            known[name] = quantity_of(names[name])
        elif name in UNIT_NAMES:
            known[name] = unit_quantity(name)
    try:
        return as_quantity(_Exact(known).eval(formula.strip(), tree.body))
    except FormulaError:
        raise
    except ZeroDivisionError:
        raise NumberError(f"divides by zero: {filled(formula, names)}") from None
    except InvalidExpression as error:
        raise FormulaError(_not_allowed(error)) from None
    except (TypeError, ValueError, AttributeError):
        raise FormulaError(f"cannot be worked out: {filled(formula, names)}") from None


@lru_cache(maxsize=1024)
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
        super().__init__(operators=_OPERATORS, functions=FUNCTIONS, names=names)
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
        one, other = as_quantity(a), as_quantity(b)
        if one.dimensions != other.dimensions:
            raise FormulaError(unlike(our_unit(one), our_unit(other)))
        return work(one, other)

    return guarded


def _bounded(work: Callable[[Any, Any], Any]) -> Callable[[Any, Any], Any]:
    """A few squarings, one on the other, come to more digits than any machine can hold."""

    def bounded(a: Any, b: Any) -> Any:
        result = work(a, b)
        number = as_quantity(result).number
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


def _not_allowed(error: InvalidExpression) -> str:
    name = getattr(error, "name", None) or getattr(error, "func_name", None)
    if name:
        functions = ", ".join(FUNCTIONS)
        return f"uses {name!r}, which is not known here; functions are {functions}"
    return "may hold only numbers, names, + - * /, comparisons and the functions named in the table"


# --- showing it -------------------------------------------------------------------------------

_ROOTS = {"rafter", "hip", "diagonal"}


@lru_cache(maxsize=1024)
def _template(formula: str) -> tuple[str, bool]:
    """The formula as a person reads it, with its names marked, and whether it holds a root."""
    marked = _Marked().visit(deepcopy(_parsed(formula)))
    units = "|".join(UNIT_NAMES)
    # A number and the unit named behind it read as one: "3 * ft" as "3 ft".
    text = re.sub(rf"\b(\d+(?: / \d+)?) \* ({units})\b", _joined, ast.unparse(marked))
    return text.replace("*", "x"), bool(_ROOTS & set(_asked(formula)))


class _Marked(ast.NodeTransformer):
    def visit_Call(self, node: ast.Call) -> ast.AST:
        return ast.Call(node.func, [self.visit(part) for part in node.args], [])

    def visit_Name(self, node: ast.Name) -> ast.AST:
        return node if node.id in UNIT_NAMES else ast.Name(f"\u2039{node.id}\u203a")


_NAMED = re.compile("\u2039([^\u203a]*)\u203a")


def _joined(found: re.Match[str]) -> str:
    return f"{found[1].replace(' / ', '/')} {'in' if found[2] == 'inch' else found[2]}"
