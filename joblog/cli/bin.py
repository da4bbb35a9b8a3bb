"""joblog bin: what counts no more, and bringing it back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from joblog.cli.completing import names
from joblog.cli.once import once
from joblog.cli.options import csv_option, job_options, json_option
from joblog.cli.printing import complain, print_table, tell_damage
from joblog.form import plain

if TYPE_CHECKING:
    from joblog.service import Place


@click.command()
@click.option("--back", "number", type=int, metavar="NUMBER", help="Let this stand as it was.")
@click.option(
    "--entry",
    "entry",
    type=int,
    metavar="ID",
    help="With --back: of this entry the version of that number, as joblog history --entry lists.",
    shell_complete=names("entries"),
)
@job_options
@json_option
@csv_option
@once()
def bin(
    number: int | None,
    entry: int | None,
    place: Place,
    job: str | None,
    as_json: bool,
    as_csv: bool,
) -> None:
    """List what counts no more, of all jobs, what went last first; or bring it back.

    \b
    joblog bin                        what was dropped, withdrawn, moved, replaced, taken back
    joblog bin --back 41              that stands again as it was, all that went with it
    joblog bin --entry 12 --back 2    entry 12 is again what it was in its version 2

    NUMBER is that of the step by which it went; any step that joblog history lists will do. What
    stands in its place goes to the bin, and joblog undo takes it back. Nothing is ever emptied out.
    """
    from joblog.report.kept import bin_list
    from joblog.service import bin as bins
    from joblog.service import opened
    from joblog.service.checking import seen_damage

    if entry is not None and number is None:
        raise click.UsageError("say with --back which version; joblog history --entry lists them")
    with opened(place) as book:
        tell_damage(seen_damage(book))
        if number is not None:
            step = (
                bins.bring_back(book, number)
                if entry is None
                else bins.bring_back_version(book, entry, number)
            )
            click.echo(plain(step.what))
            return
        found = bins.binned(book, job)
        zones = {one.name: one.zone for one in book.jobs()}
        table = bin_list(found, zones, next(iter(zones.values()), "UTC"))
        if found or as_json or as_csv:
            print_table(table, found, as_json, as_csv)
        else:
            click.echo("the bin is empty")
        for file, why in bins.put_aside(book):
            complain(f"{file}: {why}")
