"""joblog backup and restore."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.options import DAY, FILE, book_option, date_of, json_option
from joblog.cli.printing import print_json
from joblog.form import plain

if TYPE_CHECKING:
    from collections.abc import Callable

    from joblog.service import Place
    from joblog.service.keeping_safe import Far


@click.command()
@click.argument("folder", type=FILE, required=False)
@click.option(
    "--keep",
    type=click.IntRange(1),
    metavar="N",
    help="Drop older backups: the newest N stay, and the last of each month.",
)
@click.option("--whole", is_flag=True, help="Read again all that lies there, not a share of it.")
@click.option("--anew", is_flag=True, help="Begin a new backup where the last one is gone.")
@book_option
@json_option
def backup(
    folder: Path | None, keep: int | None, whole: bool, anew: bool, place: Place, as_json: bool
) -> int:
    """Keep the book, as it now is, in FOLDER: a stick, or a folder that is synchronised.

    What is there already is not written again, and nothing there is overwritten. Without FOLDER it
    goes to that of the last time.
    """
    from joblog.service import keeping_safe, opened

    with opened(place) as book:
        outcome = keeping_safe.back_up(
            book, folder, keep=keep, whole=whole, anew=anew, tell=_progress()
        )
    if as_json:
        print_json(keeping_safe.short(outcome))
    else:
        for line in keeping_safe.told(outcome):
            click.echo(plain(line))
    return _complained((*outcome.damaged, *outcome.others))


@click.command()
@click.argument("folder", type=FILE)
@click.option("--at", "at", type=DAY, callback=lambda _c, _p, day: date_of(day),
              help="The book as it was at the end of that day.")  # fmt: skip
@click.option("--copy", "copy", type=click.IntRange(1), metavar="N",
              help="Where copies of the book were worked in apart, one of them.")  # fmt: skip
@click.option("--list", "as_list", is_flag=True, help="Only show which backups there are.")
@book_option
@json_option
def restore(
    folder: Path, at: date | None, copy: int | None, as_list: bool, place: Place, as_json: bool
) -> int:
    """Make the book again from the backup in FOLDER, where no book is yet."""
    from joblog.service import keeping_safe

    if as_list:
        states, damaged = keeping_safe.states(folder)
        if as_json:
            print_json([keeping_safe.short(state) for state in states])
        else:
            for one in keeping_safe.listed(states):
                click.echo(
                    plain("  ".join(filter(None, (one.when, one.what, one.lacks, one.copy))))
                )
            for line in keeping_safe.copies_told(states):
                click.echo(plain(line))
        return _complained(damaged)
    restored = keeping_safe.restore(folder, place, at, _progress(), copy=copy)
    if as_json:
        print_json(keeping_safe.short(restored))
    else:
        click.echo(plain(keeping_safe.restored_told(restored)))
    return _complained((*restored.damaged, *restored.others))


def _complained(lines: tuple[str, ...]) -> int:
    from joblog.cli.printing import complain_of

    complain_of(lines)
    return 1 if lines else 0


def _progress() -> Callable[[Far], None]:
    """On a terminal, one line that says how far it is."""
    if not sys.stderr.isatty():
        return lambda far: None
    from joblog.service.keeping_safe import far_told

    shown = [""]

    def tell(far: Far) -> None:
        line = far_told(far)
        if line != shown[0]:
            click.echo(f"\r{line:<40}\r", err=True, nl=False)
            shown[0] = line

    return tell
