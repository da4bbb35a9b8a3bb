"""What all commands that read a table share: how it is to be read, what is asked, what is told."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from joblog.cli.once import can_ask
from joblog.cli.printing import complain, report_problems
from joblog.form import plain
from joblog.sheet import SURE, Question, Reading, refused

if TYPE_CHECKING:
    from joblog.model import Problem
    from joblog.service import Place
    from joblog.service.tables import Kind

Command = TypeVar("Command", bound=Callable[..., Any])


def table_options(command: Command) -> Command:
    """Gives the command its `reading`: how the table in its file is to be read."""

    @wraps(command)
    def read(
        *, columns: Sequence[str], decimal: str | None, sure: bool, others: bool, **rest: Any
    ) -> Any:
        return command(reading=Reading(_named(columns), decimal, sure, others), **rest)

    options: Any = read
    for option in (
        click.option(
            "--column",
            "columns",
            multiple=True,
            metavar="THEIRS=OURS",
            help="What a column of the table is: price=cost; price= leaves it out. May be "
            "repeated.",
        ),
        click.option(
            "--decimal",
            type=click.Choice([".", ","]),
            help="The sign before the decimals in the table. Else the table tells, or it is asked.",
        ),
        click.option(
            "--sure", is_flag=True, help="Numbers that are beyond reason are meant as they are."
        ),
        click.option(
            "--without-bad-rows",
            "others",
            is_flag=True,
            help="Take the rows that can be read, without the others.",
        ),
    ):
        options = option(options)
    return options  # type: ignore[no-any-return]


def settled(
    place: Place, kind: Kind, file: Path | None, reading: Reading, works_file: Path | None = None
) -> Reading:
    """How a table is to be read, after what somebody at a terminal was asked about it."""
    if file is None or not can_ask():
        return reading
    from joblog.service.tables import to_settle

    asked: set[str] = set()
    while True:
        open_ones = to_settle(place, kind, file, reading, works_file)
        question = next((one for one in open_ones if one.why not in asked), None)
        if question is None:
            return reading
        alike = [one for one in open_ones if one.ways == question.ways]
        asked |= {one.why for one in alike}
        reading = _asked(alike, reading)


def _asked(alike: Sequence[Question], reading: Reading) -> Reading:
    """Asks about what one answer settles."""
    report_problems(alike)
    for way in alike[0].ways:
        if click.confirm(plain(way.asks), default=False, err=True):
            return way.settle(reading)
    return reading


def apart(reading: Reading) -> Reading:
    """How a second table of a command is read: columns and decimals are said of the first."""
    return replace(reading, named={}, decimal=None)


def without_what_was_refused(problems: Sequence[Problem]) -> int:
    """Complains of the problems, before a report that does without what they are about; the exit
    status that they make."""
    status = report_problems(problems)
    if refused(problems):
        complain("What follows is without that.")
    return status


def nothing_taken(what: str, problems: Sequence[Problem]) -> int:
    """Says that nothing was taken in, and why; the exit status."""
    to_mend_first(what, problems)
    if any(map(_of_one_row, refused(problems))):
        complain("Or say --without-bad-rows to take the other rows.")
    return 1


def to_mend_first(what: str, problems: Sequence[Problem]) -> int:
    """Says what was read and how, and then what is wrong; the exit status."""
    wrong = refused(problems)
    report_problems([problem for problem in problems if problem not in wrong])
    complain(f"{what}; mend these first:")
    return report_problems(wrong)


def _of_one_row(problem: Problem) -> bool:
    """Whether it is of a row, so that the others may be taken; a sign is the whole table's."""
    whole = isinstance(problem, Question) and SURE not in problem.ways
    return ", row " in problem.what and not whole


def _named(columns: Sequence[str]) -> dict[str, str]:
    named: dict[str, str] = {}
    for word in columns:
        theirs, equals, ours = word.rpartition("=")
        if not equals or not theirs.strip():
            raise click.UsageError(f"--column {word!r} is written THEIRS=OURS")
        if theirs.strip() in named:
            raise click.UsageError(f"--column names {theirs.strip()!r} twice")
        named[theirs.strip()] = ours.strip()
    return named
