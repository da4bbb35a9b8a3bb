"""What was decided about entries and originals, and deciding otherwise."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from joblog.cli.completing import names
from joblog.cli.once import once
from joblog.cli.options import csv_option, day_option, job_options, json_option
from joblog.cli.printing import print_table, say_which
from joblog.form import describe, plain

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from joblog.model import BookEntry, Step
    from joblog.service import Place


@click.command()
@job_options
@once()
def undo(place: Place, job: str | None) -> None:
    """Take back the last thing that was decided about the job."""
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk)
        _tell("taken back", decide.undo(desk))


@click.command()
@job_options
@once()
def redo(place: Place, job: str | None) -> None:
    """Do again what was taken back last."""
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk)
        _tell("done again", decide.redo(desk))


@click.command()
@click.argument(
    "ids", nargs=-1, required=True, type=int, metavar="ID...", shell_complete=names("entries")
)
@job_options
@once()
def drop(ids: Sequence[int], place: Place, job: str | None) -> None:
    """Let entries count no more; they stay readable, and joblog undo brings the last one back."""
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk, *ids)
        for id in ids:
            click.echo(f"dropped: {describe(decide.drop(desk, id).entry)}")


@click.command()
@click.argument("task")
@click.argument("amount", required=False, default="")
@job_options
@once()
def done(task: str, amount: str, place: Place, job: str | None) -> None:
    """Say how much of TASK was done in all its hours, when nobody said it with them.

    \b
    joblog done "hang soffit"         all of it, as planned
    joblog done "hang soffit" 82      so much in all, in the unit of the task, or 82 ft

    Until that is said there is no pace, and those hours teach the next bid nothing.
    """
    from joblog.service import desk_at
    from joblog.service.done import say_done

    with desk_at(place, job) as desk:
        say_which(desk)
        _tell_entries("now", [say_done(desk, task, amount)])


@click.command()
@click.argument("id", type=int)
@click.argument("field")
@click.argument("value", required=False)
@job_options
@once()
def edit(id: int, field: str, value: str | None, place: Place, job: str | None) -> None:
    """Change one FIELD of entry ID to VALUE, or empty it: joblog edit 13 quantity 9.

    What was doubted of that field is settled by it; other doubts are asked on.
    """
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk, id)
        _tell_entries("now", [decide.edit(desk, id, field, value)])


@click.command()
@click.argument("id", type=int)
@click.argument("first")
@job_options
@once()
def split(id: int, first: str, place: Place, job: str | None) -> None:
    """Make two of entry ID: FIRST is how much goes into the first, the rest makes the second."""
    from joblog.service import decide, desk_at
    from joblog.service.editing import read_entry
    from joblog.service.parting import parts_of
    from joblog.service.reading import reader_instead

    with desk_at(place, job) as desk:
        say_which(desk, id)
        entry = read_entry(desk, id)
        parts = parts_of(entry.entry, first, reader_instead(desk, entry))
        _tell_entries("now", decide.split(desk, id, parts))


@click.command()
@click.argument("id", type=int)
@click.argument("other", type=int)
@job_options
@once()
def merge(id: int, other: int, place: Place, job: str | None) -> None:
    """Add entry OTHER, which says the same of another amount, to entry ID."""
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk, id, other)
        _tell_entries("now", [decide.merge(desk, id, other)])


@click.command()
@click.argument("photo")
@click.argument("id", type=int)
@click.option("--back", is_flag=True, help="It does not belong to it; it is not tied again.")
@job_options
@once()
def tie(photo: str, id: int, back: bool, place: Place, job: str | None) -> None:
    """Let the photo called PHOTO belong to entry ID."""
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk, id)
        (decide.untie if back else decide.tie)(desk, decide.original_named(desk, photo), id)
        click.echo(f"{plain(photo)}: {'untied from' if back else 'tied to'} entry {id}")


@click.command()
@click.option(
    "--entry",
    type=int,
    metavar="ID",
    help="Every version of this entry.",
    shell_complete=names("entries"),
)
@click.option(
    "--photo",
    "--recording",
    "original",
    metavar="NAME",
    shell_complete=names("originals"),
    help="What was decided of this photo or recording.",
)
@click.option("--item", metavar="NAME", help="What was decided of this item or task.")
@job_options
@json_option
@csv_option
def history(
    entry: int | None,
    original: str | None,
    item: str | None,
    place: Place,
    job: str | None,
    as_json: bool,
    as_csv: bool,
) -> None:
    """List everything that was decided about the job: when, by whom, what, and what was taken back.

    \b
    joblog history --entry 12       what an entry was, version by version
    joblog history --photo NAME     of a photo or recording, its ties too
    joblog history --item fascia    of an item or task of the catalog

    joblog bin --back brings back what went with a step, by its number.
    """
    from joblog.report.kept import change_list, decided_list
    from joblog.report.sheets import step_list
    from joblog.service import bin, decide, desk_at

    if sum(one is not None for one in (entry, original, item)) > 1:
        raise click.UsageError("one of --entry, --photo, --recording and --item")
    with desk_at(place, job) as desk:
        say_which(desk, *(() if entry is None else (entry,)))
        zone = desk.job.zone
        if entry is not None:
            changes = bin.story_of_entry(desk, entry)
            print_table(change_list(changes, zone), changes, as_json, as_csv)
        elif original is not None:
            sha256 = decide.original_named(desk, original)
            changes = bin.story_of_original(desk, sha256)
            print_table(decided_list(changes, zone), changes, as_json, as_csv)
        elif item is not None:
            changes = bin.story_of_line(desk, item)
            print_table(decided_list(changes, zone), changes, as_json, as_csv)
        else:
            found = decide.steps(desk)
            print_table(step_list(desk.job, found), found, as_json, as_csv)


@click.command()
@click.argument("name", shell_complete=names("originals"))
@click.option(
    "--to",
    "other",
    required=True,
    metavar="JOB",
    help="The job it belongs to.",
    shell_complete=names("jobs"),
)
@job_options
@once()
def move(name: str, other: str, place: Place, job: str | None) -> None:
    """Move the recording or photo called NAME to another job, with its entries and ties."""
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk)
        decide.move_original(desk, decide.original_named(desk, name), other)
        click.echo(f"{plain(name)}: moved from {plain(desk.job.name)} to {plain(other)}")


@click.command()
@click.argument("name", shell_complete=names("recordings"))
@click.option("--back", is_flag=True, help="Let it count again.")
@job_options
@once()
def withdraw(name: str, back: bool, place: Place, job: str | None) -> None:
    """Let the recording or photo called NAME count no more, with all that was said in it.

    It stays in the book and can be read.
    """
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk)
        found = decide.original_named(desk, name)
        original = (decide.bring_back if back else decide.withdraw)(desk, found)
        click.echo(f"{plain(original.name)}: {'counts again' if back else 'withdrawn'}")


@click.command()
@click.argument("camera", required=False, shell_complete=names("cameras"))
@click.option("--set", "said", metavar="SPAN", help='Add this to its times, like "+47 min".')
@click.option("--back", is_flag=True, help="Find it out again; what was set counts no more.")
@day_option
@job_options
@json_option
@csv_option
@once()
def clock(
    camera: str | None,
    said: str | None,
    back: bool,
    day: date | None,
    place: Place,
    job: str | None,
    as_json: bool,
    as_csv: bool,
) -> None:
    """List what the cameras' clocks were off by, or set the clock of CAMERA by hand.

    Its photos keep the time that it wrote; what is added, and why, is shown beside it.
    """
    from joblog.report.sheets import clock_list
    from joblog.service import clocks, desk_at, record

    if camera is None and (said is not None or back):
        raise click.UsageError("name the CAMERA; joblog clock lists them")
    if said is not None and back:
        raise click.UsageError("either --set or --back")
    with desk_at(place, job, frozenset([day] if day else [])) as desk:
        say_which(desk)
        if camera is not None and said is not None:
            found = clocks.set_clock(desk, camera, day, said)
        elif camera is not None and back:
            found = clocks.take_clock_back(desk, camera, day)
        else:
            found = record.clocks(desk, day)
            found = tuple(
                one for one in found if camera is None or camera.lower() in one.camera.lower()
            )
        print_table(clock_list(found), found, as_json, as_csv)


def _tell(what: str, steps: Sequence[Step]) -> None:
    for step in steps:
        click.echo(f"{what}: {plain(step.what)}")


def _tell_entries(how: str, entries: Sequence[BookEntry]) -> None:
    for entry in entries:
        click.echo(f"{how}: {describe(entry.entry)}  [entry {entry.id}]")
        for why in entry.doubts if entry.open else ():
            click.echo(f"  ? {plain(why)}")
