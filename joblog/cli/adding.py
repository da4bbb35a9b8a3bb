"""joblog add and write: what comes in."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime, time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.options import FILE, date_of, job_options, json_option
from joblog.cli.printing import print_json, report_problems, say_which
from joblog.form import describe, plain

if TYPE_CHECKING:
    from joblog.model import BookEntry
    from joblog.service import Place
    from joblog.service.taking_in import Written


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


def _when(
    context: click.Context, parameter: click.Parameter, words: str | None
) -> tuple[date | None, time | None]:
    """A time, with its day or alone."""
    if words is None:
        return None, None
    for form in _FORMS:
        try:
            found = datetime.strptime(words.strip().upper().replace(".", ""), form)
        except ValueError:
            continue
        return (found.date() if "%d" in form else None), found.time()
    raise click.BadParameter(f"{words!r} is no time; write 14:30, 2:30pm or 2026-10-05 14:30")


_FORMS = (
    "%H:%M", "%I:%M%p", "%I:%M %p", "%I%p", "%I %p",
    "%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M", "%Y-%m-%d %I:%M%p", "%Y-%m-%d %I:%M %p",
)  # fmt: skip


@click.command()
@click.argument("text", required=False)
@click.option("--at", "when", callback=_when, help="When it was: 14:30, or 2026-10-05 14:30.")
@click.option(
    "--day", "day", type=click.DateTime(["%Y-%m-%d"]), help="Which day it is told of, if not today."
)
@job_options
@json_option
def write(
    text: str | None,
    when: tuple[date | None, time | None],
    day: datetime | None,
    place: Place,
    job: str | None,
    as_json: bool,
) -> int:
    """Write down TEXT as if it had been said, now or --at 14:30.

    Without TEXT, or for "-", it is read from what is piped in, or line by line until an empty one:
    whole paragraphs, sentence by sentence. What was said earlier that day counts: "same on the
    south eave", "no, that was seven", "scratch that". joblog undo takes all of it back.
    """
    from joblog.service import desk_at
    from joblog.service.taking_in import write_notes

    named, clock = when
    if day is not None and named not in (None, day.date()):
        raise click.UsageError(f"--at says {named} and --day says {day.date()}: which one?")
    told_of = named or date_of(day)
    words = _read_in() if text in (None, "-") else str(text)
    with desk_at(place, job, frozenset([told_of] if told_of else [])) as desk:
        say_which(desk)
        written = write_notes(desk, words, told_of, clock)
        if as_json:
            print_json(written)
        else:
            _tell(written)
        return 0 if any(one.entries for one in written) else 1


def _read_in() -> str:
    """What is piped in; at a terminal the lines until an empty one."""
    if not sys.stdin.isatty():
        piped: bytes = sys.stdin.buffer.read()
        return piped.decode("utf-8", "replace").removeprefix("\ufeff")
    click.echo("Write what there is to note; an empty line ends it.", err=True)
    lines = []
    while line := sys.stdin.readline().strip():
        lines.append(line)
    return "\n".join(lines)


def _tell(written: Sequence[Written]) -> None:
    """Each sentence with its facts, why they are doubtful, and what of it was not read."""
    entries = {entry.id: entry for one in written for entry in one.entries}
    for one in written:
        click.echo(plain(one.said))
        for entry in dict.fromkeys(one.entries):
            if entry.entry.kind == "correction" and not entry.open:
                continue  # What it changed is told.
            click.echo(f"{entry.id:6}  {_NOW.get(entry.change, '')}{describe(entry.entry)}")
            for why in entry.doubts if entry.open else ():
                click.echo(plain(f"        doubtful: {why}"))
        if one.unread:
            click.echo(plain(f"        not read: {one.unread}"))
        elif not one.entries:
            click.echo("        nothing to note in it")
    if entries:
        doubts = sum(entry.open for entry in entries.values())
        kept = sum(_is_fact(entry) for entry in entries.values())
        facts = "1 fact" if kept == 1 else f"{kept} facts"
        click.echo(
            f"{facts}, {doubts} doubtful; joblog undo takes it all back, joblog drop ID one of it"
        )


_NOW = {"dropped": "taken back: ", "corrected": "now "}


def _is_fact(entry: BookEntry) -> bool:
    return entry.standing != "dropped" and entry.entry.kind != "correction"


COMMANDS = (add, write)
