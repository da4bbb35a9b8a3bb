"""joblog stock: what lies where, and taking it to a job."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from joblog.cli.once import once
from joblog.cli.options import csv_option, job_options, json_option
from joblog.cli.printing import complain, print_table, say_which
from joblog.form import plain, units_of

if TYPE_CHECKING:
    from joblog.service import Place


@click.command()
@click.argument("words", nargs=-1)
@job_options
@json_option
@csv_option
@once()
def stock(words: Sequence[str], place: Place, job: str | None, as_json: bool, as_csv: bool) -> int:
    """List what lies in the shop and on open jobs, its cost and since when; or take it to a job.

    \b
    joblog stock                            list it
    joblog stock take fascia "trim coil"    all that lies in stock of these goes to this job
    joblog stock take                       so does all that this job plans and has nothing of yet

    What leaves takes the cost of what has lain longest (first in, first out).
    """
    if words:
        return _take(words, place, job)
    from joblog.report.figures import money_shown
    from joblog.report.stock import stock_table
    from joblog.service import opened
    from joblog.service.stock import what_lies

    with opened(place) as book:
        lies = what_lies(book)
    table = stock_table([(one.lying, one.cost, one.unpriced, one.since) for one in lies.items])
    print_table(table, lies, as_json, as_csv)
    if lies.items and not (as_json or as_csv):
        click.echo(f"together {money_shown(lies.cost)}, as far as anybody told what it cost")
    for note in lies.notes:
        complain(note)
    return 0


def _take(words: Sequence[str], place: Place, job: str | None) -> int:
    from joblog.service import desk_at
    from joblog.service.stock import offered, take

    if words[0] != "take":
        raise click.UsageError("say nothing to list it, or take ITEM ...")
    with desk_at(place, job) as desk:
        say_which(desk)
        items = words[1:] or [one.lying.item for one in offered(desk)]
        if not items:
            complain(f"{desk.job.name}: nothing lies in stock of what it plans and has not yet")
            return 0
        for one in take(desk, items):
            many = units_of(one.lying.quantity, one.lying.unit, one.lying.item)
            click.echo(f"{plain(one.lying.item)}: {many} from stock to {plain(desk.job.name)}")
    return 0
