"""joblog add and write: what comes in."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.options import FILE, job_options, json_option
from joblog.cli.printing import print_json, print_table, report_problems, say_which
from joblog.form import plain

if TYPE_CHECKING:
    from joblog.service import Place


@click.command()
@click.argument("paths", nargs=-1, required=True, type=FILE)
@click.option("--model", type=FILE, help="Another Vosk model folder.")
@job_options
@json_option
def add(
    paths: Sequence[Path], model: Path | None, place: Place, job: str | None, as_json: bool
) -> int:
    """Take in recordings, photos and track logs (GPX): files, or folders of them.

    Originals are copied.
    """
    from joblog.service import desk_at
    from joblog.service.record import read_entries
    from joblog.service.taking_in import days_of, take_in

    with desk_at(place, job, days_of(paths)) as desk:
        say_which(desk)
        with counting_along(not as_json) as progress:
            intake = take_in(desk, paths, model=model, progress=progress)
        if as_json:
            print_json(intake)
        else:
            doubts = sum(entry.open for entry in read_entries(desk))
            click.echo(
                f"{intake.recordings} recordings and {intake.photos} photos taken in, "
                f"{intake.already_there} were there already; {doubts} doubts to settle"
            )
            if intake.tracks:
                many = "1 track log" if intake.tracks == 1 else f"{intake.tracks} track logs"
                click.echo(f"{many} taken in; photos without a position get theirs from them")
            for name in intake.healed:
                click.echo(f"whole again, it was damaged in the book: {plain(name)}")
            for note in intake.notes:
                click.echo(plain(f"{note.what}: {note.why}"))
            for name in intake.left_out:
                click.echo(f"left alone, neither recording nor photo: {plain(name)}")
        status = report_problems(intake.problems)
        return 130 if intake.stopped else status


@contextmanager
def counting_along(shown: bool) -> Iterator[Callable[[int, int, str], None] | None]:
    """One line that counts along on a terminal; nothing where nobody watches."""
    if not shown or not sys.stderr.isatty():
        yield None
        return
    room = shutil.get_terminal_size().columns - 1

    def tell(done: int, total: int, doing: str) -> None:
        line = f"  {done} of {total}  {plain(doing)}"[:room]
        click.echo(f"\r{line.ljust(room)}", nl=False, err=True)

    try:
        yield tell
    finally:
        click.echo("\r" + " " * room + "\r", nl=False, err=True)


@click.command()
@click.argument("text")
@click.option("--at", "at", type=click.DateTime(["%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M"]))
@job_options
@json_option
def write(text: str, at: datetime | None, place: Place, job: str | None, as_json: bool) -> int:
    """Write down TEXT as if it had been said, now or --at "2026-10-05 14:30"."""
    from joblog.report import entry_list
    from joblog.service import desk_at
    from joblog.service.taking_in import write_down

    with desk_at(place, job, frozenset([at.date()] if at else [])) as desk:
        say_which(desk)
        made = write_down(desk, text, at)
        print_table(entry_list(desk.job, made), made, as_json, False)
        return 0 if made else 1


COMMANDS = (add, write)
