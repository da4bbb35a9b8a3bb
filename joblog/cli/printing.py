"""How commands print: a table, CSV or JSON on the way out, complaints and notes beside it."""

from __future__ import annotations

import json
import shutil
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.signs import can_be_written
from joblog.form import plain, to_json

if TYPE_CHECKING:
    from joblog.model import Problem
    from joblog.report.table import Table
    from joblog.service import Desk
    from joblog.service.checking import Damage


def print_table(table: Table, nouns: object, as_json: bool, as_csv: bool) -> None:
    """The nouns as JSON where that was asked, else the table, as CSV or for the terminal."""
    from joblog.report.table import as_text

    if as_json:
        print_json(nouns)
    elif as_csv:
        print_csv(table)
    else:
        click.echo(as_text(table, width()))


def print_csv(table: Table) -> None:
    from joblog.report import as_csv

    text = as_csv(table)
    # For a program, which is to get every sign as it is.
    click.echo(text if can_be_written(text) else text.encode(), nl=False)


def print_json(value: object) -> None:
    shown = to_json(value, in_words=True)
    text = json.dumps(shown, indent=1, ensure_ascii=False)
    click.echo(text if can_be_written(text) else json.dumps(shown, indent=1, ensure_ascii=True))


def report_problems(problems: Sequence[Problem]) -> int:
    """Complains of each, alike ones together; the exit status that they make."""
    from joblog.sheet import refused, summed_up

    for problem in summed_up(problems):
        complain(f"{problem.what}: {problem.why}")
    return 1 if refused(problems) else 0


def complain_of(lines: Sequence[str]) -> None:
    """Complains of each; where there are many, once of what is said of several names."""
    if len(lines) <= _MANY:
        for line in lines:
            complain(line)
        return
    named: dict[str, list[str]] = {}
    for line in lines:
        name, colon, what = line.partition(": ")
        named.setdefault(what if colon else line, []).append(name if colon else "")
    alone_last = sorted(named.items(), key=lambda one: len(one[1]) == 1)
    for what, names in alone_last[:_MANY]:
        more = f" and {len(names) - _NAMED:,} more" if len(names) > _NAMED else ""
        who = ", ".join(filter(None, names[:_NAMED]))
        complain(f"{who}{more}: {what}" if who else what)
    if len(named) > _MANY:
        complain(f"and so on, {len(named) - _MANY:,} lines more")


_MANY, _NAMED = 12, 3


def say_which(desk: Desk, *entries: int) -> None:
    """Says which job is meant, where nobody named one, and what is damaged in the book.

    Of `entries` that are of another job it says of which; where all are, no other job is meant.
    """
    from joblog.service.desk import elsewhere

    others = elsewhere(desk, entries)
    for id, job in others.items():
        complain(f"entry {id} is of another job: {job}")
    if desk.why is not None and (not entries or len(others) < len(set(entries))):
        complain(f"job: {desk.job.name} ({desk.why}; --job or joblog use says otherwise)")
    from joblog.service.checking import seen_damage

    tell_damage(seen_damage(desk.book))


def remind(desk: Desk) -> None:
    """Says once an evening where a backup is due."""
    from joblog.service.keeping_safe import reminder

    if line := reminder(desk.book):
        complain(line)


def tell_damage(found: Sequence[Damage]) -> int:
    """Complains of each; the exit status that they make."""
    for damage in found:
        again = f"It can be had again from {damage.again}." if damage.again else damage.remedy
        complain(f"{damage.what}: {damage.why}. {again}")
    return 1 if found else 0


def write_file(file: Path, text: str) -> None:
    """Writes a page or a drawing; over an earlier one, and over no other file that is there."""
    from joblog.service.files import put

    begins = text[:_BEGINS].encode()
    try:
        if file.is_file() and file.stat().st_size:
            with file.open("rb") as there:
                # One that a kill cut off is an earlier one too.
                if not begins.startswith(there.read(len(begins))):
                    raise click.ClickException(
                        f"{file}: something else is there already; name another file"
                    )
    except OSError as error:
        raise click.ClickException(f"{file}: cannot be written: {error.strerror}") from None
    put(file, text.encode(), over=True)


_BEGINS = 30
"""Letters at the beginning by which an earlier one is known."""


def complain(line: str) -> None:
    click.echo(plain(line), err=True)


def somebody_is_there() -> bool:
    """Whether somebody at a terminal reads what is asked, and can answer."""
    return sys.stdin.isatty() and sys.stderr.isatty()


def width() -> int:
    return max(80, shutil.get_terminal_size((100, 24)).columns)
