"""joblog catalog, takeoff and order: from measures to what to buy."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from joblog.cli.completing import catalog_words
from joblog.cli.naming import ask_names, tell_names
from joblog.cli.once import once
from joblog.cli.options import (
    FILE,
    book_option,
    csv_option,
    job_options,
    json_option,
    learning_options,
    measuring_options,
    named_values,
)
from joblog.cli.printing import (
    complain,
    print_csv,
    print_json,
    print_table,
    report_problems,
    width,
)
from joblog.cli.tables import (
    apart,
    nothing_taken,
    settled,
    table_options,
    without_what_was_refused,
)
from joblog.form import plain
from joblog.sheet import refused

if TYPE_CHECKING:
    from joblog.model import Problem
    from joblog.service import Place
    from joblog.service.planning import Learning, Measured, TakenOff
    from joblog.sheet import Reading


@click.command()
@click.argument("words", nargs=-1, shell_complete=catalog_words)
@table_options
@book_option
@json_option
@csv_option
@once()
def catalog(
    words: Sequence[str], reading: Reading, place: Place, as_json: bool, as_csv: bool
) -> int:
    """List what you buy and do, take it in from a spreadsheet, or change it.

    \b
    joblog catalog                                 list it
    joblog catalog --csv > catalog.csv             write it for a spreadsheet
    joblog catalog catalog.csv                     take that in: adds and replaces lines
    joblog catalog set fascia cost=14.90 "length=12 ft"
    joblog catalog set "fascia 1x8" "variant of=fascia" size=1x8 unit=stick
    joblog catalog set "dig holes" line=task unit=each "per hour=3"
    joblog catalog drop fascia
    joblog catalog same "vented soffit" "soffit panel"   what a plan calls so is that item
    joblog catalog own "vented soffit"                   no, it is a thing of its own
    """
    from joblog.report.planned import catalog_list, catalog_table
    from joblog.service.catalog import catalog_at
    from joblog.service.prices import beside_catalog, newest_at, prices_at, where_priced

    if words:
        return _change_catalog(words, place, reading)
    kept, prices = catalog_at(place), prices_at(place)
    found = newest_at(place)
    table = catalog_table(found) if as_csv else catalog_list(found, where_priced(prices, kept))
    print_table(table, found, as_json, as_csv)
    for note in beside_catalog(prices, kept):
        complain(note)
    return 0


def _change_catalog(words: Sequence[str], place: Place, reading: Reading) -> int:
    from joblog.service import opened
    from joblog.service.catalog import drop_line, set_line, take_in_catalog
    from joblog.service.naming import own_thing, same_as

    first, rest = words[0], words[1:]
    problems: Sequence[Problem] = ()
    with opened(place) as book:
        if first == "set" and len(rest) > 1:
            set_line(book, rest[0], dict(named_values(tuple(rest[1:]))))
            click.echo(f"{plain(rest[0])}: changed")
        elif first == "drop" and len(rest) == 1:
            drop_line(book, rest[0])
            click.echo(f"{plain(rest[0])}: dropped")
        elif first == "same" and len(rest) == 2:
            told = same_as(book, *rest)
            click.echo(f"{plain(rest[0])}: is {plain(rest[1])} from now on")
            for line in told:
                complain(line)
        elif first == "own" and len(rest) in (1, 2):
            item = own_thing(book, *rest)
            click.echo(f"{plain(item.name)}: is in the catalog, counted in {plain(item.unit)}")
        elif first not in ("set", "drop", "same", "own") and not rest:
            file = Path(first)
            asked = settled(place, "catalog", file, reading)
            read, problems = take_in_catalog(book, file, asked)
            if refused(problems):
                return nothing_taken("The catalog was not changed", problems)
            complain(f"{len(read.items)} items and {len(read.tasks)} tasks taken in")
        else:
            raise click.UsageError(
                "say FILE.csv, set NAME FIELD=VALUE ..., drop NAME, same NAME ITEM, or own NAME"
            )
    return report_problems(problems)


@click.command()
@click.argument("file", required=False, type=FILE)
@click.option("--kinds", is_flag=True, help="List the kinds of work and what each wants to know.")
@click.option("--pieces", is_flag=True, help="Print the pieces to cut, as CSV for joblog cuts.")
@click.option("--to-plan", is_flag=True, help="Make it the plan of the job.")
@learning_options
@measuring_options
@table_options
@job_options
@json_option
@csv_option
def takeoff(to_plan: bool, place: Place, job: str | None, **asked: Any) -> int:
    """Work out what measured runs need. FILE is a spreadsheet of runs, or of a house by its sides
    as for joblog house; without one it is the house of the job.

    \b
    joblog takeoff runs.csv
    joblog takeoff --work "boxed eave" --place "north eave" --set length=41 --set depth=12
    joblog takeoff runs.csv --to-plan --learned
    """
    status = _take_off(to_plan=to_plan, place=place, job=job, **asked)
    if to_plan:
        ask_names(place, job)
    return status


@once()
def _take_off(
    kinds: bool,
    pieces: bool,
    to_plan: bool,
    place: Place,
    job: str | None,
    as_json: bool,
    as_csv: bool,
    **asked: Any,
) -> int:
    from joblog.report.planned import works_table
    from joblog.service.planning import take_off, works_at

    if kinds:
        works, problems = works_at(place, asked["works_file"])
        print_table(works_table(works), works, as_json, as_csv)
        return report_problems(problems)
    measured, learning = _asked(place, **asked)
    taken = take_off(place, job, measured, learning, to_plan=to_plan)
    problems = (*taken.problems, *taken.unread)
    if to_plan and refused(taken.problems):
        status = nothing_taken("The plan of the job was not changed", problems)
    else:
        status = without_what_was_refused(problems)
        if to_plan:
            _make_plan(place, job, taken)
    _show(taken, pieces, as_json, as_csv)
    return status


def _make_plan(place: Place, job: str | None, taken: TakenOff) -> None:
    from joblog.service import desk_at
    from joblog.service.planning import make_plan

    with desk_at(place, job) as desk:
        new, kept = make_plan(desk, taken)
        stayed = f"; as before: {', '.join(kept)}" if kept else ""
        complain(f"{desk.job.name}: planned {', '.join(new)}{stayed}")
        tell_names(desk)


def _show(taken: TakenOff, pieces: bool, as_json: bool, as_csv: bool) -> None:
    from joblog.report import planned

    found, foreseen = taken.found, taken.foreseen
    if as_json and foreseen is None:
        print_json(found)
    elif as_json and foreseen is not None:
        print_json({"take_off": found, "learned": planned.foreseen_json(foreseen)})
    elif pieces:
        print_csv(planned.piece_table(found.pieces))
    elif as_csv and foreseen is None:
        print_csv(planned.take_off_table(found))
    elif as_csv and foreseen is not None:
        print_csv(planned.foreseen_table(foreseen, taken.needs))
    else:
        click.echo(planned.take_off_sheet(found, taken.needs, width()))
        if foreseen is not None:
            click.echo("\n" + planned.foreseen_sheet(foreseen, taken.needs, width()))


@click.command()
@click.argument("file", required=False, type=FILE)
@click.option(
    "--allowance",
    "allowances",
    multiple=True,
    help='For what gets wasted: 7%, or "fascia=10%" for one item. 5% unless said.',
)
@click.option("--on-hand", "on_hand", multiple=True, help='Like "soffit panel=3"; may be repeated.')
@click.option(
    "--cutoff",
    "cutoffs",
    multiple=True,
    help='A cutoff on hand by its length, like "F channel=63.5 x 2"; may be repeated.',
)
@click.option("--tax", help="Sales tax on what has none in the catalog, like 8.25%.")
@click.option(
    "--risk", help="With --learned: the chance that anything at all is missing. 10% unless said."
)
@click.option(
    "--trip", help="Instead of --risk: what a second trip costs, for all that is missing."
)
@click.option("--missing", help="Instead of --trip: what each pack missing costs.")
@click.option("--left-over", help="With --trip or --missing: what each pack left over costs.")
@learning_options
@measuring_options
@table_options
@job_options
@json_option
@csv_option
def order(
    allowances: Sequence[str],
    on_hand: Sequence[str],
    cutoffs: Sequence[str],
    tax: str | None,
    risk: str | None,
    trip: str | None,
    missing: str | None,
    left_over: str | None,
    place: Place,
    job: str | None,
    as_json: bool,
    as_csv: bool,
    **asked: Any,
) -> int:
    """What to buy for the runs in FILE, or without one for the plan of the job, in whole packs.
    FILE may be a house by its sides, as for joblog house; --house is the job's own.

    What is cut from stock is counted by its cut list. With --job, what was counted on hand is
    deducted.

    \b
    joblog order runs.csv --allowance 7%
    joblog order runs.csv --learned --risk 5%
    joblog order runs.csv --cutoff "F channel=63.5 x 2" --tax 8.25%
    joblog order runs.csv --learned --trip 60 --left-over 8
    """
    from joblog.report.planned import order_sheet, order_table
    from joblog.service.planning import what_to_buy

    measured, learning = _asked(place, **asked)
    bought = what_to_buy(
        place,
        job,
        measured,
        learning,
        allowances=allowances,
        on_hand=on_hand,
        cutoffs=cutoffs,
        tax=tax,
        risk=risk,
        trip=trip,
        missing=missing,
        left_over=left_over,
    )
    status = without_what_was_refused(bought.problems)
    if as_json:
        print_json(bought.lines)
    elif as_csv:
        print_csv(order_table(bought.lines))
    else:
        click.echo(order_sheet(bought.lines, bought.notes, width()))
    return status


def _asked(
    place: Place,
    *,
    file: Path | None,
    house: bool,
    work: str | None,
    at: str,
    values: tuple[str, ...],
    measured: bool,
    fahrenheit: int | None,
    tolerance: str,
    works_file: Path | None,
    learned: bool,
    paper: Path | None,
    half_life: float | None,
    crew: int | None,
    reading: Reading,
) -> tuple[Measured, Learning]:
    from joblog.service.planning import Learning, Measured

    asked = settled(place, "runs", file, reading, works_file)
    of_paper = reading if file is None else apart(reading)
    runs = Measured(
        file,
        work,
        at,
        named_values(values),
        measured,
        fahrenheit,
        tolerance,
        works_file,
        house,
        asked,
    )
    on_paper = settled(place, "earlier jobs", paper, of_paper)
    return runs, Learning(learned, paper, half_life, crew, on_paper)
