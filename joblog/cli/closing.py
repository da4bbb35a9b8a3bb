"""joblog close and rates: what a job teaches the next ones."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.once import once
from joblog.cli.options import (
    DAY,
    FILE,
    book_option,
    csv_option,
    date_of,
    job_options,
    json_option,
)
from joblog.cli.printing import complain, print_json, report_problems, say_which, width
from joblog.cli.tables import (
    nothing_taken,
    settled,
    table_options,
    without_what_was_refused,
)
from joblog.form import plain
from joblog.sheet import refused

if TYPE_CHECKING:
    from joblog.service import Place
    from joblog.service.learning import Past
    from joblog.sheet import Reading


@click.command()
@click.option(
    "--day",
    type=DAY,
    help="The day it counts for when rates are learned. Else the last day of the job.",
)
@click.option("--anyway", is_flag=True, help="Close it though something is in the way.")
@click.option("--back", is_flag=True, help="Take the last closing back: the job is open again.")
@job_options
@json_option
@once()
def close(
    day: datetime | None, anyway: bool, back: bool, place: Place, job: str | None, as_json: bool
) -> int:
    """Close a job: freeze its figures, so that the next bid can learn from them.

    What is missing is frozen as missing. Entries that wait for a decision, that contradict each
    other, or a job without a plan are in the way; --anyway closes over them, and what they are
    about teaches nothing. A later change reopens the job by itself, and it can be closed again.
    """
    from joblog.report.bid import outcome_sheet
    from joblog.report.closed import closed_sheet
    from joblog.service import closing as closings
    from joblog.service import desk_at
    from joblog.service.bidding import newest_if_any, what_became

    with desk_at(place, job) as desk:
        say_which(desk)
        if back:
            closings.reopen(desk)
            click.echo(f"{plain(desk.job.name)}: open again")
            return 0
        draft = closings.draft_closing(desk, date_of(day))
        if draft.obstacles and not anyway:
            complain(f"{desk.job.name} was not closed:")
            for obstacle in draft.obstacles:
                complain(f"  {obstacle.why}")
            complain("Settle that first, or close it --anyway.")
            return 1
        closed, lessons = closings.close(desk, draft)
        bid = what_became(desk) if newest_if_any(desk) else None
        if as_json:
            told = {"closing": closed, "taught": lessons, "closed_over": draft.obstacles}
            print_json(told | ({"bid": bid} if bid else {}))
            return 0
        click.echo(closed_sheet(closed, lessons, width()))
        if bid is not None:
            click.echo(f"\n{outcome_sheet(bid, width())}")
        for obstacle in draft.obstacles:
            complain(f"closed over: {obstacle.why}")
        return 0


@click.command()
@click.option(
    "--add",
    "added",
    type=FILE,
    help="Keep earlier jobs in the book, from a spreadsheet: job, date, item, work, gone, and what "
    "else is known. A line that is there already is replaced.",
)
@click.option("--drop", "dropped", metavar="JOB", help="Drop an earlier job that was added.")
@click.option("--from", "file", type=FILE, help="Look at such a file alone, without any book.")
@click.option("--half-life", type=float, metavar="DAYS", help="Jobs this old count half.")
@click.option("--backtest", is_flag=True, help="How well each job would have been predicted.")
@table_options
@book_option
@json_option
@csv_option
@once()
def rates(
    added: Path | None,
    dropped: str | None,
    file: Path | None,
    half_life: float | None,
    backtest: bool,
    reading: Reading,
    place: Place,
    as_json: bool,
    as_csv: bool,
) -> int:
    """Show what earlier jobs teach: waste of every item, hours of every task, and how sure.

    \b
    joblog rates                          closed jobs of the book, and those added from paper
    joblog rates --add earlier.csv        keep earlier jobs from paper in the book
    joblog rates --from earlier.csv       look at a file alone
    """
    from joblog.report import as_csv as csv_of
    from joblog.report import back_tested, learned
    from joblog.report.learned import cost_table, coverage_table, rate_table, rates_json
    from joblog.service import learning

    if half_life is not None and not half_life > 0:
        raise click.ClickException("--half-life must be more than zero days.")
    if file is not None and (added is not None or dropped is not None):
        raise click.UsageError("--from looks at a file alone; to keep it in the book say --add")
    if file is not None:
        past = learning.past_in_file(file, settled(place, "earlier jobs", file, reading))
        if past.empty:
            return report_problems(past.problems) or 1
        status = without_what_was_refused(past.problems)
    else:
        past, status = _kept(place, added, dropped, reading)
    if backtest:
        tested = learning.back_tested(past, half_life)
        found: object = tested
        tables, text = [coverage_table(tested), cost_table(tested)], back_tested(tested, width())
    else:
        known = learning.rates_of(past, half_life)
        found = rates_json(known)
        tables, text = [rate_table(known)], learned(known, width())
    if as_json:
        print_json(found)
    elif as_csv:
        click.echo("\n".join(map(csv_of, tables)), nl=False)
    else:
        click.echo(text)
    return status


def _kept(
    place: Place, added: Path | None, dropped: str | None, reading: Reading
) -> tuple[Past, int]:
    """What the book knows, after what was to be added to it or dropped from it; the exit status."""
    from joblog.service import learning, opened

    status = 0
    asked = settled(place, "earlier jobs", added, reading)
    with opened(place) as book:
        if dropped is not None:
            lines = learning.drop_past(book, dropped)
            complain(f"{plain(dropped)}: dropped, with {lines} of its lines")
        if added is not None:
            lines, new, problems = learning.keep_past(book, added, asked)
            if refused(problems):
                status = nothing_taken("No earlier job was kept", problems)
            else:
                complain(f"{lines} lines of earlier jobs kept, {new} of them new")
                report_problems(problems)
        return learning.past_in_book(book), status
