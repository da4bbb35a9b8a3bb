"""joblog entries, search, photos, recordings, day, sign, covered, squareup: what there is."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.completing import names
from joblog.cli.once import once
from joblog.cli.options import DAY, FILE, csv_option, date_of, day_option, job_options, json_option
from joblog.cli.printing import (
    complain,
    print_json,
    print_table,
    remind,
    report_problems,
    say_which,
    width,
    write_file,
)
from joblog.form import plain

if TYPE_CHECKING:
    from joblog.service import Desk, Place


@click.command()
@click.option("--doubtful", is_flag=True, help="Only those that wait for a decision.")
@day_option
@job_options
@json_option
@csv_option
def entries(
    doubtful: bool,
    day: date | None,
    place: Place,
    job: str | None,
    as_json: bool,
    as_csv: bool,
) -> None:
    """List what was said."""
    from joblog.report import entry_list
    from joblog.service import desk_at
    from joblog.service.record import read_entries

    with desk_at(place, job, _days(day)) as desk:
        say_which(desk)
        wanted = [entry for entry in read_entries(desk, day) if entry.open or not doubtful]
        print_table(entry_list(desk.job, wanted), wanted, as_json, as_csv)


@click.command()
@click.argument("words", nargs=-1, required=True)
@click.option("--here", is_flag=True, help="Only in this job, not in all.")
@job_options
@json_option
@csv_option
def search(
    words: tuple[str, ...],
    here: bool,
    place: Place,
    job: str | None,
    as_json: bool,
    as_csv: bool,
) -> None:
    """Find WORDS in everything that was ever said, in all jobs.

    Entries, what was heard beside them, what was typed, and names of recordings and photos.
    """
    from joblog.report.sheets import found_list
    from joblog.service import desk_at
    from joblog.service.search import search, slow_search

    with desk_at(place, job) as desk:
        say_which(desk)
        if slow := slow_search(desk):
            complain(slow)
        found = search(desk, " ".join(words), every_job=not here)
        if found or as_json or as_csv:
            print_table(found_list(found), found, as_json, as_csv)
        else:
            click.echo("nothing was found")


@click.command()
@job_options
@json_option
@csv_option
def todo(place: Place, job: str | None, as_json: bool, as_csv: bool) -> None:
    """List what is still to do, and what was said to be needed and has not come.

    Drop what is done in joblog review; a delivery takes what was needed off by itself.
    """
    from joblog.report.sheets import errand_list
    from joblog.service import desk_at
    from joblog.service.errands import to_do, wanted

    with desk_at(place, job) as desk:
        say_which(desk)
        errands, asked_for = to_do(desk), wanted(desk)
        shown = {"to_do": errands, "wanted": asked_for}
        print_table(errand_list(desk.job, errands, asked_for), shown, as_json, as_csv)


@click.command()
@day_option
@job_options
@json_option
@csv_option
def photos(day: date | None, place: Place, job: str | None, as_json: bool, as_csv: bool) -> None:
    """List the photos and the entries they belong to."""
    from joblog.report.sheets import about_photos, clock_lines, photo_list
    from joblog.service import desk_at, ground, record
    from joblog.service.record import read_entries

    with desk_at(place, job, _days(day)) as desk:
        say_which(desk)
        found, ties = record.photos(desk, day), record.ties(desk)
        right, alike = record.put_right(desk), record.alike(desk, day)
        placed, astray = ground.placed(desk, day), ground.astray(desk, day)
        unspoken = record.unspoken(found, ties)
        unanswered = record.unanswered(read_entries(desk, day), ties)
        shown = {
            "photos": found,
            "ties": ties,
            "clocks": record.clocks(desk, day),
            "put_right": {sha256: at for sha256, (at, _) in right.items()},
            "unspoken": [photo.sha256 for photo in unspoken],
            "unanswered": [one.id for one in unanswered],
            "alike": alike,
            "placed": placed,
            "astray": astray,
        }
        table = photo_list(desk.job, found, ties, alike, placed, astray, right)
        print_table(table, shown, as_json, as_csv)
        if not (as_json or as_csv):
            for line in clock_lines(record.clocks(desk, day)):
                click.echo(plain(line))
            for line in about_photos(found, ties, unspoken, unanswered):
                click.echo(line.strip())


@click.command()
@job_options
@json_option
@csv_option
def recordings(place: Place, job: str | None, as_json: bool, as_csv: bool) -> None:
    """List the recordings, when each was made and how that is known."""
    from joblog.report import recording_list
    from joblog.service import desk_at, ground, record

    with desk_at(place, job) as desk:
        say_which(desk)
        found = record.recordings(desk)
        table = recording_list(desk.job, found, ground.placed_recordings(desk))
        print_table(table, found, as_json, as_csv)


@click.command()
@click.argument(
    "day",
    required=False,
    type=DAY,
    shell_complete=names("days"),
)
@job_options
@json_option
def day(day: datetime | None, place: Place, job: str | None, as_json: bool) -> None:
    """Print the sheet of one DAY, the last one unless named."""
    from joblog.service import desk_at
    from joblog.service.record import day_named, due, read_entries, told_later
    from joblog.service.signing import signed

    with desk_at(place, job, _days(date_of(day))) as desk:
        say_which(desk)
        wanted = day_named(desk, date_of(day))
        if as_json:
            shown = {"day": wanted, "entries": read_entries(desk, wanted)}
            others = {
                "due": due(desk, wanted),
                "told_later": told_later(desk, wanted),
                "signed": signed(desk, wanted).get(wanted),
            }
            print_json({**shown, **others})
        else:
            click.echo(day_text(desk, wanted))
            remind(desk)


def day_text(desk: Desk, day: date) -> str:
    """The sheet of one day."""
    from joblog.report import day_sheet
    from joblog.service import record
    from joblog.service.signing import signed

    hours = {line.day: line for line in record.read_balance(desk).days}
    entries, photos = record.read_entries(desk, day), record.photos(desk, day)
    ties = record.ties(desk)
    return day_sheet(
        desk.job,
        day,
        entries,
        photos,
        ties,
        hours.get(day),
        record.recordings(desk),
        record.clocks(desk, day),
        record.unspoken(photos, ties),
        record.unanswered(entries, ties),
        alike=record.alike(desk, day),
        due=record.due(desk, day),
        told_later=record.told_later(desk, day),
        signed=signed(desk, day).get(day),
    )


@click.command()
@click.argument("day", required=False, type=DAY)
@job_options
@once()
def sign(day: datetime | None, place: Place, job: str | None) -> None:
    """Sign off one DAY, the last one unless named: you have looked at it, and all of it is right.

    What changes on it afterwards is told by joblog day; joblog undo takes the signature back.
    """
    from joblog.service import desk_at
    from joblog.service.record import day_named
    from joblog.service.signing import sign_off

    with desk_at(place, job, _days(date_of(day))) as desk:
        say_which(desk)
        wanted = day_named(desk, date_of(day))
        sign_off(desk, wanted)
        click.echo(f"{plain(desk.job.name)}: signed off {wanted}")


_TABLES = (
    "balance", "quantity", "money", "labor", "pay", "places", "days", "reasons", "beside",
    "missing",
)  # fmt: skip


@click.command()
@click.option("--table", type=click.Choice(_TABLES), help="Only this table, all of it.")
@job_options
@json_option
@csv_option
def squareup(table: str | None, place: Place, job: str | None, as_json: bool, as_csv: bool) -> None:
    """Compare what was planned with what happened: material, hours, money, and why."""
    from joblog.report.figures import TABLES, reason_table
    from joblog.service import desk_at, record

    with desk_at(place, job) as desk:
        say_which(desk)
        if not (as_json or as_csv or table):
            click.echo(squared_text(desk))
            return
        result = record.read_balance(desk)
        chosen = (
            reason_table(result, record.behind(desk))
            if table == "reasons"
            else TABLES[table or "balance"](result)
        )
        print_table(chosen, result, as_json, as_csv)


def squared_text(desk: Desk) -> str:
    """The job squared up, as it is printed."""
    from joblog.report import squared_up
    from joblog.service import record
    from joblog.service.covered import covered as covered_work

    return squared_up(
        record.read_balance(desk),
        width(),
        record.behind(desk),
        record.last_closing(desk),
        covered_work(desk),
    )


@click.command()
@click.argument(
    "day",
    required=False,
    type=DAY,
    shell_complete=names("days"),
)
@click.option("--into", type=FILE, metavar="FOLDER", help="Write it with its photos there.")
@click.option("--originals", is_flag=True, help="With --into: the photos with all their metadata.")
@job_options
@json_option
@csv_option
def covered(
    day: datetime | None,
    into: Path | None,
    originals: bool,
    place: Place,
    job: str | None,
    as_json: bool,
    as_csv: bool,
) -> int:
    """Print the record of covered work, of the whole job or of one DAY.

    Each entry with its photos: when each was taken, where, and the hash of its original, so that it
    can be shown to an inspector; and what is missing. Photos that are written --into a folder carry
    no metadata unless that is asked for.
    """
    from joblog.report.covered import covered_record, covered_table
    from joblog.service import desk_at
    from joblog.service.covered import RECORD, hand_out
    from joblog.service.covered import covered as covered_work

    if originals and into is None:
        raise click.UsageError("--originals says what to write --into a folder; name one")
    with desk_at(place, job, _days(date_of(day))) as desk:
        say_which(desk)
        work = covered_work(desk, date_of(day))
        if into is not None:
            problems = hand_out(desk, work, into, originals=originals)
            write_file(into / RECORD, covered_record(desk.job, work) + "\n")
            click.echo(f"{into}: written")
            return report_problems(problems)
        if as_json or as_csv:
            print_table(covered_table(desk.job, work), work, as_json, as_csv)
        else:
            click.echo(covered_record(desk.job, work))
        return 0


def _days(day: date | None) -> frozenset[date]:
    return frozenset([day] if day else [])
