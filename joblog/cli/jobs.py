"""joblog new, jobs, use and plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from joblog.cli.completing import names
from joblog.cli.naming import ask_names, tell_names
from joblog.cli.once import once
from joblog.cli.options import FILE, book_option, csv_option, job_options, json_option
from joblog.cli.printing import complain, complain_of, print_table, report_problems, say_which
from joblog.cli.tables import nothing_taken, settled, table_options

if TYPE_CHECKING:
    from joblog.service import Desk, Place
    from joblog.sheet import Reading


@click.command()
@click.argument("name")
@click.option("--zone", help="Time zone of the job, such as America/New_York. Else this machine's.")
@click.option("--place", "spots", multiple=True, help="A place on the job; may be repeated.")
@click.option("--plan", "plan_file", type=FILE, help="A plan, as for joblog plan.")
@table_options
@book_option
def new(name: str, plan_file: Path | None, place: Place, **said: Any) -> int:
    """Begin a job called NAME, making the book if there is none yet."""
    status = _new(name=name, plan_file=plan_file, place=place, **said)
    if plan_file is not None:
        ask_names(place, name)
    return status


@once()
def _new(
    name: str,
    zone: str | None,
    spots: Sequence[str],
    plan_file: Path | None,
    reading: Reading,
    place: Place,
) -> int:
    from joblog.service import open_desk, places
    from joblog.service.jobs import begin_job, check_zone

    check_zone(zone)
    # Asked before anything is written; of a book that is not there yet, the starter's catalog.
    reading = settled(replace(place, asked=False), "plan", plan_file, reading)
    with places.made_or_opened(place) as book:
        job = begin_job(book, name, zone, spots)
        click.echo(f"{name}: begun in {place.folder}, time zone {job.zone}")
        if plan_file is None:
            return 0
        status = _load(open_desk(book, name), place, plan_file, reading)
        if status:
            complain(f"{name} has no plan yet; then say joblog plan {plan_file}")
        return status


@click.command()
@book_option
@json_option
@csv_option
def jobs(place: Place, as_json: bool, as_csv: bool) -> None:
    """List the jobs of the book: open, closed, or reopened and by which entries."""
    from joblog.report.sheets import job_json, job_list
    from joblog.service import opened
    from joblog.service.jobs import list_jobs

    with opened(place) as book:
        found = list_jobs(book)
        table = job_list(found.jobs, found.closings)
        print_table(table, job_json(found.jobs, found.closings), as_json, as_csv)
        if found.settled and not (as_json or as_csv):
            click.echo(f"in use: {found.settled}")


@click.command()
@click.argument("name", required=False, shell_complete=names("jobs"))
@click.option("--none", "unsettle", is_flag=True, help="Choose again by what is open and used.")
@book_option
@once()
def use(name: str | None, unsettle: bool, place: Place) -> None:
    """Settle that NAME is the job that is meant where no --job is said."""
    from joblog.service import opened
    from joblog.service.desk import use_job

    if (name is None) != unsettle:
        raise click.UsageError("say the NAME of a job, or --none")
    with opened(place) as book:
        settled = use_job(book, name)
    click.echo(f"in use: {settled}" if settled else "no job is settled any more")


@click.command()
@click.argument("file", required=False, type=FILE)
@table_options
@job_options
@json_option
@csv_option
def plan(file: Path | None, place: Place, job: str | None, **said: Any) -> int:
    """Load the plan of a job from FILE, or show the plan it has.

    FILE is a spreadsheet (CSV or .xlsx) with the columns line (item, task or place), name, quantity
    and unit, and what else is known: cost, opening, net, offcut, amount, said, source, task. What
    --csv and --json print can be loaded again.
    """
    status = _plan(file=file, place=place, job=job, **said)
    if file is not None:
        ask_names(place, job)
    return status


@once()
def _plan(
    file: Path | None,
    reading: Reading,
    place: Place,
    job: str | None,
    as_json: bool,
    as_csv: bool,
) -> int:
    from joblog.report.sheets import plan_list, plan_table
    from joblog.service import desk_at

    with desk_at(place, job) as desk:
        say_which(desk)
        status = _load(desk, place, file, reading) if file else 0
        if as_json or as_csv or not file:
            table = plan_table(desk.plan) if as_csv else plan_list(desk.plan)
            print_table(table, desk.plan, as_json, as_csv)
        return status


def _load(desk: Desk, place: Place, file: Path, reading: Reading) -> int:
    from joblog.service.planning import load_plan

    loaded = load_plan(desk, file, settled(place, "plan", file, reading))
    if loaded.plan is None:
        return nothing_taken("The plan was not loaded", loaded.problems)
    plan = loaded.plan
    counts = ((plan.items, "item"), (plan.tasks, "task"), (plan.places, "place"))
    many = ", ".join(f"{len(some)} {one}{'s' * (len(some) != 1)}" for some, one in counts)
    complain(f"{desk.job.name}: {many} planned")
    complain_of(loaded.notes)
    tell_names(desk)
    _tell_of_stock(desk)
    return report_problems(loaded.problems)


def _tell_of_stock(desk: Desk) -> None:
    """What lies in stock of the plan's items, which the job may begin with."""
    from joblog.form import plain, units_of
    from joblog.service.stock import offered

    lying = [one.lying for one in offered(desk)]
    if lying:
        named = ", ".join(
            f"{units_of(one.quantity, one.unit, one.item)} of {plain(one.item)}" for one in lying
        )
        complain(f"in stock: {named}; joblog stock take puts that down as what the job begins with")
