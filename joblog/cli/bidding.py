"""joblog bid: what to ask for a job, and what became of it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.completing import bid_numbers
from joblog.cli.once import once
from joblog.cli.options import FILE, csv_option, job_options, json_option, named_values
from joblog.cli.printing import (
    complain,
    print_csv,
    print_json,
    report_problems,
    say_which,
    width,
)
from joblog.cli.tables import apart, settled, table_options
from joblog.form import plain

if TYPE_CHECKING:
    from joblog.model import Bid
    from joblog.papers.blocks import Paper
    from joblog.service import Desk, Place
    from joblog.service.bidding import MadeBid
    from joblog.service.planning import Learning, Measured
    from joblog.sheet import Reading


@click.command()
@click.argument("file", required=False, type=FILE)
@click.option("--from-plan", is_flag=True, help="Bid on the plan that the job has.")
@click.option("--house", is_flag=True, help="Bid on the house that the job has.")
@click.option(
    "--set",
    "numbers",
    multiple=True,
    shell_complete=bid_numbers,
    help='A number as you want it, like margin=20% or "soffit panel.price=31.50"; with nothing '
    "behind the = it is worked out again.",
)
@click.option("--customer", is_flag=True, help="What the customer sees: no cost, hours or margin.")
@click.option("--by-place", is_flag=True, help="With --customer: a price for each place.")
@click.option("--outcome", is_flag=True, help="The bid beside what the job came to.")
@click.option("--jobs", is_flag=True, help="All closed jobs beside their bids, and over time.")
@click.option("--versions", is_flag=True, help="Every bid that was made for the job.")
@click.option("--html", type=FILE, help="Write it as one page for a browser there.")
@click.option("--pdf", type=FILE, help="Write it as PDF there.")
@click.option("--over", is_flag=True, help="Write over a file that is there already.")
@click.option("--zone", help="Time zone of a new job. Else this machine's.")
@click.option("--measured", is_flag=True, help="Fill in what was dictated at the job's places.")
@click.option("--fahrenheit", type=int, help="When it will be cut, for all runs.")
@click.option("--crew", type=click.IntRange(1), help="How many people will work.")
@click.option("--works", "works_file", type=FILE, help="More kinds of work (TOML).")
@click.option("--from", "paper", type=FILE, help="Earlier jobs, as for joblog rates.")
@click.option("--half-life", type=float, metavar="DAYS", help="Jobs this old count half.")
@table_options
@job_options
@json_option
@csv_option
@once("html", "pdf")
def bid(
    file: Path | None,
    from_plan: bool,
    house: bool,
    numbers: tuple[str, ...],
    customer: bool,
    by_place: bool,
    outcome: bool,
    jobs: bool,
    versions: bool,
    html: Path | None,
    pdf: Path | None,
    over: bool,
    zone: str | None,
    measured: bool,
    fahrenheit: int | None,
    crew: int | None,
    works_file: Path | None,
    paper: Path | None,
    half_life: float | None,
    reading: Reading,
    place: Place,
    job: str | None,
    as_json: bool,
    as_csv: bool,
) -> int:
    """Bid on a job: what it will cost, by what your closed jobs taught, and what to ask for it.

    FILE is a spreadsheet of runs or of a house, as for joblog takeoff. The bid is kept with the
    job, a new one too, and becomes its plan. Without FILE the last bid is shown. Your overhead,
    margin, tax and pay are taken from your last bid.

    \b
    joblog bid runs.csv --job "Mill house" --set "hourly cost=42" --set overhead=12%
    joblog bid --set margin=20% --set round=10 --set tax=6.25%
    joblog bid --set "soffit panel.price=31.50"    change a number; the rest follows
    joblog bid --set price=4200                    what margin does that leave?
    joblog bid --set "expense.permit=85" --set "extra.gutter guards=450"
    joblog bid --set miles=120 --set "mile rate=0.70"
    joblog bid --customer --pdf bid.pdf            to hand over
    joblog bid --outcome                           after the job: where was it lost?
    joblog bid --jobs                              all jobs: earned an hour, by season, crew, house
    """
    from joblog.service import desk_at
    from joblog.service.bidding import begin_bid, newest
    from joblog.service.planning import Learning, Measured

    made_of = (file is not None) + from_plan + house
    _check(made_of, numbers, customer, by_place, outcome or versions or jobs)
    if jobs:
        return _over_jobs(place, as_json, as_csv)
    pairs = named_values(numbers)
    # Asked before anything is written, also a new job.
    there = replace(place, asked=False)
    asked = settled(there, "runs", file, reading, works_file)
    on_paper = settled(there, "earlier jobs", paper, reading if file is None else apart(reading))
    if file is not None and job is not None and begin_bid(place, job, zone):
        complain(f"{job}: begun in {place.folder}")
    with desk_at(place, job) as desk:
        say_which(desk)
        if outcome:
            return _outcome(desk, as_json, as_csv)
        if versions:
            return _versions(desk, as_json, as_csv)
        learning = Learning(True, paper, half_life, crew, on_paper)
        runs = None
        if file is not None or house:
            runs = Measured(
                file,
                dictated=measured,
                fahrenheit=fahrenheit,
                works_file=works_file,
                reading=asked,
                house=house,
            )
        made = _made(desk, runs, from_plan, pairs, learning, sure=reading.sure)
        shown = made.bid if made is not None else newest(desk)
        notes = made.notes if made is not None else ()
        if html is not None or pdf is not None:
            _write(shown, customer, by_place, html, pdf, over)
        elif customer:
            _show_offer(shown, by_place, as_json, as_csv)
        else:
            _show(shown, notes, as_json, as_csv)
        if made is not None and not made.kept:
            complain("The bid was not kept, and the plan not changed; mend these first:")
        return report_problems(made.problems) if made is not None else 0


def _check(
    made_of: int,
    numbers: tuple[str, ...],
    customer: bool,
    by_place: bool,
    only_shows: bool,
) -> None:
    if made_of > 1:
        raise click.UsageError("bid on a FILE of runs, --house or --from-plan, not on two of them")
    if by_place and not customer:
        raise click.UsageError("--by-place goes with --customer")
    if only_shows and (made_of or numbers or customer):
        raise click.UsageError("--outcome, --versions and --jobs only show; say them alone")


def _made(
    desk: Desk,
    runs: Measured | None,
    from_plan: bool,
    numbers: tuple[tuple[str, str], ...],
    learning: Learning,
    *,
    sure: bool,
) -> MadeBid | None:
    """The bid that was made or changed now; None where it is only to be shown."""
    from joblog.service import bidding

    if runs is not None:
        return bidding.bid_on_runs(desk, runs, numbers, learning, sure=sure)
    if from_plan:
        return bidding.bid_on_plan(desk, numbers, learning, sure=sure)
    return bidding.change_bid(desk, numbers, sure=sure) if numbers else None


def _show(shown: Bid, notes: tuple[str, ...], as_json: bool, as_csv: bool) -> None:
    from joblog.report import bid as report

    if as_json:
        print_json(report.bid_json(shown))
    elif as_csv:
        print_csv(report.bid_table(shown))
    else:
        click.echo(report.bid_sheet(shown, notes, width()))


def _show_offer(shown: Bid, by_place: bool, as_json: bool, as_csv: bool) -> None:
    from joblog.report import bid as report
    from joblog.service.bidding import offer

    made = offer(shown, by_place=by_place)
    if as_json:
        print_json(made)
    elif as_csv:
        print_csv(report.offer_csv(made))
    else:
        click.echo(report.offer_sheet(made, width()))


def _write(
    shown: Bid, customer: bool, by_place: bool, html: Path | None, pdf: Path | None, over: bool
) -> None:
    from joblog.papers.bid import bid_paper, offer_paper
    from joblog.service.bidding import offer
    from joblog.service.papers import write_paper

    made: Paper = offer_paper(offer(shown, by_place=by_place)) if customer else bid_paper(shown)
    if pdf is not None and pdf.suffix.lower() != ".pdf":
        raise click.UsageError(f"--pdf writes a PDF; {plain(str(pdf))} does not end in .pdf")
    for file in filter(None, (html, pdf)):
        write_paper(made, file, over=over)
        click.echo(f"{plain(str(file))}: written")


def _versions(desk: Desk, as_json: bool, as_csv: bool) -> int:
    from joblog.cli.printing import print_table
    from joblog.report import bid as report
    from joblog.service.bidding import versions

    kept = versions(desk)
    nouns = [{"made": made, "bid": report.bid_json(one)} for made, one in kept]
    print_table(report.version_table(kept), nouns, as_json, as_csv)
    return 0


def _outcome(desk: Desk, as_json: bool, as_csv: bool) -> int:
    from joblog.report import bid as report
    from joblog.service.bidding import what_became

    found = what_became(desk)
    if as_json:
        print_json(found)
    elif as_csv:
        print_csv(report.outcome_table(found))
    else:
        click.echo(report.outcome_sheet(found, width()))
    return 0


def _over_jobs(place: Place, as_json: bool, as_csv: bool) -> int:
    from joblog.report import over_jobs as report
    from joblog.service import opened
    from joblog.service.over_jobs import compared

    with opened(place) as book:
        found = compared(book)
    if as_json:
        print_json(found)
    elif as_csv:
        print_csv(report.jobs_csv(found))
    else:
        click.echo(report.jobs_sheet(found, width()))
    return 0
