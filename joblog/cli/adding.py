"""joblog add and write: what comes in."""

from __future__ import annotations

import re
import shlex
import sys
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, suppress
from datetime import date, datetime, time
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from joblog.cli.counting import counting_along
from joblog.cli.once import once
from joblog.cli.options import DAY, FILE, date_of, job_options, json_option
from joblog.cli.printing import print_json, report_problems, say_which
from joblog.form import describe, plain

if TYPE_CHECKING:
    from joblog.model import BookEntry
    from joblog.service import Desk, Place
    from joblog.service.taking_in import Intake, Written


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
    with ExitStack() as open_:
        with counting_along(not as_json):
            from joblog.service import desk_at
            from joblog.service.taking_in import days_of, take_in

            desk = open_.enter_context(desk_at(place, job, days_of(paths)))
        say_which(desk)
        with counting_along(not as_json) as progress:
            intake = take_in(desk, paths, model=model, progress=progress)
        if as_json:
            print_json(intake)
        else:
            for line in _what_came(intake):
                click.echo(plain(line))
        status = report_problems(intake.problems)
        if not as_json:
            for line in _what_next(desk, intake, _how_to_name(place)):
                click.echo(plain(line))
        return 130 if intake.stopped else status


def _what_came(intake: Intake) -> Iterator[str]:
    yield (
        f"{_many(intake.recordings, 'recording')} and {_many(intake.photos, 'photo')} taken in, "
        f"{intake.already_there} were there already"
    )
    if intake.tracks:
        yield (
            f"{_many(intake.tracks, 'track log')} taken in; photos without a position get theirs"
            " from them"
        )
    for name in intake.healed:
        yield f"whole again, it was damaged in the book: {name}"
    for note in (*intake.notes, *intake.troubles):
        yield f"{note.what}: {note.why}"
    for name in intake.left_out:
        yield f"left alone, neither recording nor photo: {name}"


def _what_next(desk: Desk, intake: Intake, naming: str) -> Iterator[str]:
    """What is to be done now: go on with the files, answer what waits, look at what was left."""
    from joblog.service import record
    from joblog.service.questions import questions

    if intake.stopped:
        yield (
            f"Stopped. What is in the book stays; {_many(intake.left, 'file')} still to come:"
            " say the same again, and it goes on with them."
        )
    tied = {tie.photo for tie in record.ties(desk)}
    loose = sum(photo.sha256 not in tied for photo in record.photos(desk))
    if loose:
        belong = "1 photo belongs" if loose == 1 else f"{loose} photos belong"
        yield f"{belong} to nothing that was said: joblog photos{naming}"
    waiting = len(questions(desk))
    if waiting:
        waits = "1 question waits" if waiting == 1 else f"{waiting} questions wait"
        yield f"{waits}: joblog review{naming}"
    elif not intake.stopped:
        yield f"Nothing waits for an answer. The job as it stands: joblog squareup{naming}"


def _how_to_name(place: Place) -> str:
    """What the next command needs to find the same book."""
    return f" --book {shlex.quote(str(place.folder))}" if place.asked else ""


def _many(count: int, what: str) -> str:
    return f"1 {what}" if count == 1 else f"{count} {what}s"


def _when(
    context: click.Context, parameter: click.Parameter, words: str | None
) -> tuple[date | None, time | None]:
    """A time, with its day or alone."""
    if words is None:
        return None, None
    from joblog.local import clock_read, day_read

    parts = re.sub(r"(?<=\d)T(?=\d)|,", " ", words).split()
    # The day, if there is one, comes first: however many words it has.
    for at in range(len(parts)):
        day, clock = " ".join(parts[:at]), " ".join(parts[at:])
        with suppress(ValueError):
            return (day_read(day, date.today()) if day else None), clock_read(clock)
    raise click.BadParameter(f"{words!r} is no time; write 14:30, 2:30pm or 2026-10-05 14:30")


@click.command()
@click.argument("text", required=False)
@click.option("--at", "when", callback=_when, help="When it was: 14:30, or 2026-10-05 14:30.")
@click.option("--day", "day", type=DAY, help="Which day it is told of, if not today.")
@job_options
@json_option
def write(text: str | None, **said: Any) -> int:
    """Write down TEXT as if it had been said, now or --at 14:30.

    Without TEXT, or for "-", it is read from what is piped in, or line by line until an empty one:
    whole paragraphs, sentence by sentence. What was said earlier that day counts: "same on the
    south eave", "no, that was seven", "scratch that". joblog undo takes all of it back.
    """
    return _written(words=_read_in() if text in (None, "-") else str(text), **said)


@once()
def _written(
    words: str,
    when: tuple[date | None, time | None],
    day: datetime | None,
    place: Place,
    job: str | None,
    as_json: bool,
) -> int:
    from joblog.service import desk_at
    from joblog.service.taking_in import write_notes

    named, clock = when
    if day is not None and named not in (None, day.date()):
        raise click.UsageError(f"--at says {named} and --day says {day.date()}: which one?")
    told_of = named or date_of(day)
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
