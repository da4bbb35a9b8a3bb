"""How many small mistakes in a room its tests notice: the mutation score.

    pip install -e '.[dev,mutation]'
    python -m tests.bench.mutation ROOM... [--mutants 200] [--seed 1]

A mutant is the room with one mistake: a comparison, an arithmetic or boolean operator, a number, a
condition turned round, a statement left out, a value not returned. cosmic-ray's operators make the
mistakes, but for those that it lacks. A sample, the same for the same seed (and for the most part
after a change of the code), is tried in a copy of what git knows of this tree: each mutant in a
forked process, with those of the room's tests that reach the mistaken statement, the fastest first,
until one fails. A mutant dies too when it takes ten times their processor time without a mistake.
Hypothesis draws 50 examples, the same every time, and does not shrink.

Prints the survivors, and per room the score with its 95 % interval (Wilson's). Some survivors are
equivalent: no input tells them from the room. Exit status 1 if the tests fail without a mistake.
Needs fork and processor limits, so it does not run on Windows.
"""

from __future__ import annotations

import argparse
import ast
import difflib
import hashlib
import importlib
import json
import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import islice
from math import sqrt
from pathlib import Path
from typing import Any

import coverage
import hypothesis
import parso
import pytest
from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.ast.ast_query import ASTQuery
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators.operator import Operator
from cosmic_ray.plugins import get_operator

ROOMS = {
    "quantity": ("joblog/quantity.py", "tests/test_quantity.py", "tests/outside/test_numbers.py"),
    "reconcile": (
        "joblog/reconcile",
        "tests/reconcile",
        "tests/outside/test_variances_of_textbooks.py",
    ),
    "rates": (
        "joblog/rates",
        "tests/rates",
        # Minutes of simulated jobs: too slow to run once for every mutant.
        "--ignore=tests/rates/test_calibration.py",
        "tests/outside/test_shrinkage.py",
        "tests/outside/test_learning_and_newsvendor.py",
        "tests/outside/test_hours_and_conditions.py",
    ),
    "dictation": ("joblog/dictation", "tests/dictation", "tests/outside/test_numbers.py"),
}
"""By name: the code, and the tests that are to hold it."""

TABLE = """
    ReplaceBinaryOperator_Add_Sub ReplaceBinaryOperator_Sub_Add ReplaceBinaryOperator_Mul_Div
    ReplaceBinaryOperator_Div_Mul ReplaceBinaryOperator_FloorDiv_Mul ReplaceBinaryOperator_Mod_Mul
    ReplaceBinaryOperator_Pow_Mul ReplaceBinaryOperator_Mul_Add
    ReplaceComparisonOperator_Lt_LtE ReplaceComparisonOperator_Lt_GtE
    ReplaceComparisonOperator_LtE_Lt ReplaceComparisonOperator_LtE_Gt
    ReplaceComparisonOperator_Gt_GtE ReplaceComparisonOperator_Gt_LtE
    ReplaceComparisonOperator_GtE_Gt ReplaceComparisonOperator_GtE_Lt
    ReplaceComparisonOperator_Eq_NotEq ReplaceComparisonOperator_NotEq_Eq
    ReplaceComparisonOperator_Is_IsNot ReplaceComparisonOperator_IsNot_Is
    ReplaceUnaryOperator_USub_UAdd ReplaceUnaryOperator_Delete_Not AddNot
    ReplaceTrueWithFalse ReplaceFalseWithTrue ReplaceAndWithOr ReplaceOrWithAnd
    ReplaceBreakWithContinue ReplaceContinueWithBreak ZeroIterationForLoop NumberReplacer
"""
"""cosmic-ray's operators that make a mistake somebody could make; its others only raise TypeErrors,
or change annotations."""

PATIENCE = 10
"""Times the processor time of the unmutated run after which a mutant counts as dead."""


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("rooms", nargs="+", choices=ROOMS)
    parser.add_argument("--mutants", type=int, default=200, help="of each room; 0 for all")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        _copy(Path(scratch))
        for room in given.rooms:
            code, *tests = ROOMS[room]
            reached = _unmutated(tests, code)
            if reached is None:
                print(f"{room}: its tests fail without any mistake; mend them first")
                return 1
            every = sorted(_mutants(code), key=lambda one: one.rank(given.seed))
            tried = list(islice(filter(Mutant.is_python, every), given.mutants or None))
            alive = 0
            for mutant in tried:
                if _survives(mutant, reached):
                    alive += 1
                    print(mutant, mutant.difference(), sep="\n", flush=True)
            died = len(tried) - alive
            low, high = _interval(died, len(tried))
            print(
                f"{room}: {died} of {len(tried)} mutants died, {died / len(tried):.1%} "
                f"(95 %: {low:.1%} to {high:.1%}), of {len(every)} there are; seed {given.seed}",
                flush=True,
            )
    return 0


# --- the mistakes -----------------------------------------------------------------------------


@dataclass(frozen=True)
class Mutant:
    """One mistake. `nth` counts the places where its operator could make one in its file."""

    path: str
    operator: Operator
    nth: int
    line: int
    column: int
    function: str
    source: str
    """Of the file, without the mistake."""

    def __str__(self) -> str:
        text = self.source.splitlines()[self.line - 1].strip()
        return f"{self.path}:{self.line}:{self.column} {self.name}: {text}"

    def rank(self, seed: int) -> str:
        """Where it stands in the draw: the same wherever its line moves to."""
        text = self.source.splitlines()[self.line - 1].strip()
        # A number is made one more, and one less.
        twin = self.nth % 2 if self.name == "NumberReplacer" else 0
        key = (seed, self.path, self.function, self.name, text, self.column, twin)
        return hashlib.sha256(repr(key).encode()).hexdigest()

    @property
    def name(self) -> str:
        return type(self.operator).__name__

    def mutated(self) -> str:
        return str(mutate_code(self.source, self.operator, self.nth))

    def is_python(self) -> bool:
        """False of the few that an operator makes of a star or a walrus it does not know."""
        try:
            compile(self.mutated(), self.path, "exec")
        except SyntaxError:
            return False
        return True

    def difference(self) -> str:
        before, after = self.source.splitlines(), self.mutated().splitlines()
        lines = list(difflib.unified_diff(before, after, lineterm="", n=0))[2:]
        return "\n".join(f"    {line}" for line in lines)


class LeftOut(Operator):  # type: ignore[misc]
    """Leaves out a statement that is a call or an assignment to something already there."""

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        if node.type != "simple_stmt":
            return
        statement = node.children[0]
        calls = statement.type in ("power", "atom_expr")
        adds = statement.type == "expr_stmt" and statement.children[1].type == "operator"
        adds = adds and statement.children[1].value != "="
        adds = adds or (statement.type == "expr_stmt" and statement.children[1].type == "augassign")
        keeps = statement.type == "expr_stmt" and statement.children[0].type in (
            "power",
            "atom_expr",
        )
        if calls or adds or keeps:
            yield node.start_pos, node.end_pos

    def mutate(self, node: Any, index: int) -> Any:
        return _in_place_of(node, "pass\n")

    @classmethod
    def examples(cls) -> Sequence[Any]:
        return ()


class Lost(Operator):  # type: ignore[misc]
    """Returns None instead of a value."""

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        if node.type == "return_stmt" and node.children[1].get_code().strip() != "None":
            yield node.start_pos, node.end_pos

    def mutate(self, node: Any, index: int) -> Any:
        return _in_place_of(node, "return None")

    @classmethod
    def examples(cls) -> Sequence[Any]:
        return ()


def _in_place_of(node: Any, code: str) -> Any:
    other = parso.parse(code).children[0]
    other.get_first_leaf().prefix = node.get_first_leaf().prefix
    return other


class Inside(Operator):  # type: ignore[misc]
    """Turns `in` round, and `not in`."""

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        if node.type == "comparison" and self._word(node) in ("in", "not in"):
            yield node.start_pos, node.end_pos

    def mutate(self, node: Any, index: int) -> Any:
        other = {"in": " not in", "not in": " in"}[self._word(node)]
        node.children[1] = parso.python.tree.Operator(other, node.children[1].start_pos)
        return node

    def _word(self, node: Any) -> str:
        return " ".join(str(node.children[1].get_code()).split())

    @classmethod
    def examples(cls) -> Sequence[Any]:
        return ()


def _mutants(code: str) -> Iterator[Mutant]:
    operators = [get_operator(f"core/{name}")() for name in TABLE.split()]
    for path in sorted(Path(code).rglob("*.py")) if Path(code).is_dir() else [Path(code)]:
        source = path.read_text()
        nodes = list(ast_nodes(get_ast(source)))
        for operator in (*operators, LeftOut(), Lost(), Inside()):
            places = (
                (node, place) for node in nodes for place in operator.mutation_positions(node)
            )
            for nth, (node, place) in enumerate(places):
                where = ASTQuery(node).get_definition_name() or ""
                if source.splitlines()[place[0][0] - 1].lstrip().startswith("@dataclass("):
                    continue  # no test can need that a noun may not be changed
                yield Mutant(str(path), operator, nth, *place[0], where, source)


# --- trying them ------------------------------------------------------------------------------


@dataclass(frozen=True)
class Reached:
    """What the unmutated run found out."""

    seconds: dict[str, float]
    """Of each test."""
    lines: dict[str, dict[int, list[str]]]
    """By file and line: the tests that ran it; "" while it was imported."""
    start: float
    """Seconds of processor time that importing and collecting took."""


def _copy(scratch: Path) -> None:
    """A copy of what git knows, which is the current folder from here on."""
    names = subprocess.check_output(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"], text=True
    )
    for name in filter(None, names.split("\0")):
        if Path(name).is_file():
            (scratch / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(name, scratch / name)
    os.chdir(scratch)
    sys.path[:0] = [str(scratch), str(scratch / "tui")]
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
        os.environ[name] = "1"


def _unmutated(tests: Sequence[str], code: str) -> Reached | None:
    """Runs all tests once under coverage; None where one fails."""
    found = Path("reached.json")

    def run() -> int:
        measure = coverage.Coverage(data_file=None, include=[f"{code}/*", code], messages=False)
        watch = _Watch(measure)
        measure.start()
        status = _pytest(tests, watch)
        measure.stop()
        kept = measure.get_data()
        lines = {
            str(Path(name).relative_to(Path.cwd())): kept.contexts_by_lineno(name)
            for name in kept.measured_files()
        }
        loaded = [name for name in sys.modules if not name.startswith(OWN)]
        found.write_text(json.dumps([watch.seconds, lines, time.process_time(), loaded]))
        return status

    if _forked(run, None) != 0:
        return None
    seconds, lines, processor, loaded = json.loads(found.read_text())
    for name in loaded:
        # Imported here, once, so that no mutant has to.
        with suppress(Exception):
            importlib.import_module(name)
    by_number = {
        path: {int(line): names for line, names in mine.items()} for path, mine in lines.items()
    }
    return Reached(seconds, by_number, processor - sum(seconds.values()))


OWN = ("joblog", "tests", "tui", "fixtures", "conftest", "test_", "__main__")
"""Modules that a mutant must import anew."""


class _Watch:
    """Tells coverage which test runs, and keeps how long it took."""

    def __init__(self, measure: coverage.Coverage) -> None:
        self.measure = measure
        self.seconds: dict[str, float] = {}

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        self.measure.switch_context(item.nodeid)
        begin = time.process_time()
        result = yield
        self.seconds[item.nodeid] = time.process_time() - begin
        self.measure.switch_context("")
        return result  # type: ignore[return-value]


def _survives(mutant: Mutant, reached: Reached) -> bool:
    mistaken = mutant.mutated()
    mine = _tests_of(mutant, reached)
    if not mine:
        return True
    path = Path(mutant.path)
    times = path.stat()
    path.write_text(mistaken)
    try:
        work = reached.start + sum(reached.seconds[name] for name in mine)
        return _forked(lambda: _pytest(mine), work) == 0
    finally:
        path.write_text(mutant.source)
        os.utime(path, (times.st_atime, times.st_mtime))


def _tests_of(mutant: Mutant, reached: Reached) -> list[str]:
    """Those that run the mistaken statement, the fastest first; all where it is run on import, or
    where a cache may keep a later test from running it."""
    by_line = reached.lines.get(mutant.path, {})
    names = {name for line in _statement(mutant) for name in by_line.get(line, ())}
    if "" in names or "cache" in mutant.source:
        names = set(reached.seconds)
    return sorted(names, key=lambda name: (reached.seconds[name], name))


def _statement(mutant: Mutant) -> range:
    """The lines of the innermost statement that holds the mistake; of one with a body, its head."""
    best = range(mutant.line, mutant.line + 1)
    for node in ast.walk(ast.parse(mutant.source)):
        if not isinstance(node, ast.stmt) or not node.lineno <= mutant.line <= (
            node.end_lineno or node.lineno
        ):
            continue
        body = getattr(node, "body", None)
        end = (
            body[0].lineno if body and body[0].lineno > node.lineno else (node.end_lineno or 0) + 1
        )
        lines = range(node.lineno, end)
        if mutant.line in lines and (len(best) == 1 or len(lines) <= len(best)):
            best = lines
    return best


def _pytest(tests: Sequence[str], *plugins: object) -> int:
    settings: dict[str, Any] = {
        "derandomize": True,
        "database": None,
        "deadline": None,
        "max_examples": 50,
        "phases": (hypothesis.Phase.explicit, hypothesis.Phase.generate),
    }
    hypothesis.settings.register_profile("mutation", **settings)
    hypothesis.settings.load_profile("mutation")
    options = ["-x", "-q", "-n", "0", "-p", "no:cacheprovider", "--tb=no", "--no-header"]
    return int(pytest.main([*options, *tests], plugins=list(plugins)))


def _forked(run: Any, processor: float | None) -> int:
    """The exit status of `run` in a process of its own; -1 where it was ended."""
    sys.stdout.flush()
    child = os.fork()
    if child:
        status = os.waitpid(child, 0)[1]
        return os.waitstatus_to_exitcode(status)
    try:
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        if processor is not None:
            sys.dont_write_bytecode = True
            most = int(PATIENCE * processor) + 1
            resource.setrlimit(resource.RLIMIT_CPU, (most, most + 1))
            # For one that only waits.
            signal.alarm(10 * most)
        os._exit(run())
    except BaseException:
        os._exit(70)


def _interval(hits: int, of: int) -> tuple[float, float]:
    """Wilson's score interval at 95 %."""
    share, z = hits / of, 1.96
    middle = share + z * z / (2 * of)
    width = z * sqrt(share * (1 - share) / of + z * z / (4 * of * of))
    return (middle - width) / (1 + z * z / of), (middle + width) / (1 + z * z / of)


if __name__ == "__main__":
    sys.exit(main())
