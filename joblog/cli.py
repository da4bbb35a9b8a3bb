"""The command line: thin commands over the rooms. What prints also prints JSON with --json."""

from __future__ import annotations

import json
import os
import shutil
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from joblog.book import Book
    from joblog.book.intake import Intake
    from joblog.model import (
        BookEntry,
        Catalog,
        History,
        Job,
        Plan,
        Problem,
        Run,
        TakeOff,
        Task,
        Vocabulary,
    )
    from joblog.ordering.foresee import Foreseen, Need
    from joblog.report.table import Table
    from joblog.takeoff.works import Works

    Known = tuple[History, tuple[str, ...], tuple[Problem, ...], dict[str, Fraction]]
    """Closed jobs, notes on them, rows that could not be read, and hours of a unit as estimated."""

Command = TypeVar("Command", bound=Callable[..., Any])
Answer = TypeVar("Answer")


def main() -> None:
    """Runs the command line. Whatever goes wrong ends in one plain line and exit status 1."""
    try:
        status = commands(standalone_mode=False)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except (click.Abort, KeyboardInterrupt):
        _complain("stopped.")
        sys.exit(130)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(1)
    except Exception as error:
        if os.environ.get("JOBLOG_TRACE"):
            raise
        _complain(str(error) if _told(error) else f"{type(error).__name__}: {error}")
        sys.exit(1)
    sys.exit(status if isinstance(status, int) else 0)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="joblog")
def commands() -> None:
    """Voice-and-photo job log: what was planned, used, wasted, and how long it took."""


def _json_option(command: Command) -> Command:
    return click.option("--json", "as_json", is_flag=True, help="Print JSON.")(command)


def _csv_option(command: Command) -> Command:
    return click.option("--csv", "as_csv", is_flag=True, help="Print CSV for a spreadsheet.")(
        command
    )


def _book_options(command: Command) -> Command:
    command = click.option(
        "--book",
        "folder",
        type=click.Path(path_type=Path),
        envvar="JOBLOG_BOOK",
        help="The book's folder. Else this folder if it holds a book, else joblog in your home.",
    )(command)
    return click.option("--job", "job_name", help="The job. Not needed while there is one.")(
        command
    )


def _day_option(command: Command) -> Command:
    return click.option(
        "--day", type=click.DateTime(["%Y-%m-%d"]), help="Only this day, such as 2026-10-05."
    )(command)


# --- the demo ---------------------------------------------------------------------------------


@commands.command()
@click.argument("folder", required=False, type=click.Path(path_type=Path))
@click.option("--no-ui", is_flag=True, help="Stop before the day review opens.")
@_json_option
def demo(folder: Path | None, no_ui: bool, as_json: bool) -> int:
    """Take in an invented job, three days of it, and square it up.

    FOLDER is a new folder for the demo's book; a temporary one unless named.
    """
    import tempfile

    from joblog.book import Book
    from joblog.model import Job

    if folder is not None and folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise click.ClickException(f"{folder}: is there already; name a new folder.")
    place = folder or Path(tempfile.mkdtemp(prefix="joblog-demo-"))
    files = _demo_files()
    job = Job("Gull Point cottage", "America/New_York")
    with Book.create(place) as book:
        book.add_job(job)
        plan, problems = _plan_from(files / "plan.csv")
        book.set_plan(job.name, plan)
        _say(as_json, f"A demo job in {place}")
        intake = _take_in(book, job.name, [files / "recordings", files / "photos"], not as_json)
        if as_json:
            _print_json(_everything(book, job))
        else:
            for day in book.days(job.name):
                click.echo(_day_sheet(book, job, day) + "\n")
            click.echo(_squared_up(book, job))
            again = f"joblog review --book {place}"
            click.echo(f"\nReview it with: {again}   (all voices are synthetic)")
        status = _report_problems([*problems, *intake.problems])
        if not no_ui and not as_json and sys.stdin.isatty() and sys.stdout.isatty():
            _open_review(book, job.name, None)
    return status


def _demo_files() -> Path:
    shipped = Path(__file__).parent / "demo_files"
    return shipped if shipped.is_dir() else Path(__file__).parents[1] / "fixtures" / "demo"


# --- jobs and plans ---------------------------------------------------------------------------


@commands.command()
@click.argument("name")
@click.option("--zone", help="Time zone of the job, such as America/New_York. Else this machine's.")
@click.option("--place", "places", multiple=True, help="A place on the job; may be repeated.")
@click.option("--plan", "plan_file", type=click.Path(path_type=Path), help="A plan as CSV.")
@click.option("--book", "folder", type=click.Path(path_type=Path), envvar="JOBLOG_BOOK")
def new(
    name: str, zone: str | None, places: Sequence[str], plan_file: Path | None, folder: Path | None
) -> int:
    """Begin a job called NAME, making the book if there is none yet."""
    from zoneinfo import available_timezones

    from joblog.book import Book
    from joblog.model import Job

    if zone is not None and zone not in available_timezones():
        raise click.ClickException(
            f"there is no time zone {zone!r}; write it like America/New_York"
        )
    place = _book_folder(folder)
    found = (place / "book.sqlite").is_file()
    job = Job(name, zone or _own_zone(), tuple(place.lower() for place in places))
    with Book.open(place) if found else Book.create(place) as book:
        book.add_job(job)
        click.echo(f"{name}: begun in {place}, time zone {job.zone}")
        return _load_plan(book, name, plan_file) if plan_file else 0


@commands.command()
@click.option("--book", "folder", type=click.Path(path_type=Path), envvar="JOBLOG_BOOK")
@_json_option
@_csv_option
def jobs(folder: Path | None, as_json: bool, as_csv: bool) -> None:
    """List the jobs of the book: open, closed, or reopened and by which entries."""
    from joblog.report.sheets import job_json, job_list

    with _open(folder) as book:
        found, closings = book.jobs(), book.closings()
        _print(job_list(found, closings), job_json(found, closings), as_json, as_csv)


@commands.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@_book_options
@_json_option
@_csv_option
def plan(
    file: Path | None, folder: Path | None, job_name: str | None, as_json: bool, as_csv: bool
) -> int:
    """Load the plan of a job from FILE, or show the plan it has.

    FILE is a spreadsheet (CSV) with the columns line (item, task or place), name, quantity and
    unit, and what else is known: cost, opening, net, offcut, amount, said, source. What --csv and
    --json print can be loaded again.
    """
    from joblog.report.sheets import plan_list, plan_table

    with _open_job(folder, job_name) as (book, job):
        status = _load_plan(book, job.name, file) if file else 0
        if as_json or as_csv or not file:
            found = book.plan(job.name)
            _print(plan_table(found) if as_csv else plan_list(found), found, as_json, as_csv)
        return status


def _load_plan(book: Book, job: str, file: Path) -> int:
    found, problems = _plan_from(file, book.catalog())
    if not (found.items or found.tasks or found.places):
        return _report_problems(problems) or 1
    book.set_plan(job, found)
    click.echo(
        f"{job}: {len(found.items)} items, {len(found.tasks)} tasks and {len(found.places)} "
        f"places planned",
        err=True,
    )
    return _report_problems(problems)


def _plan_from(file: Path, catalog: Catalog | None = None) -> tuple[Plan, tuple[Problem, ...]]:
    from joblog.plan import read_csv, read_json

    return read_json(file) if file.suffix.lower() == ".json" else read_csv(file, catalog)


# --- from measures to an order ----------------------------------------------------------------


@commands.command()
@click.argument("words", nargs=-1)
@click.option("--book", "folder", type=click.Path(path_type=Path), envvar="JOBLOG_BOOK")
@_json_option
@_csv_option
def catalog(words: Sequence[str], folder: Path | None, as_json: bool, as_csv: bool) -> int:
    """List what you buy and do, take it in from a spreadsheet, or change it.

    \b
    joblog catalog                                 list it
    joblog catalog --csv > catalog.csv             write it for a spreadsheet
    joblog catalog catalog.csv                     take that in: adds and replaces lines
    joblog catalog set fascia cost=14.90 "length=12 ft"
    joblog catalog set "dig holes" line=task unit=each "per hour=3"
    joblog catalog drop fascia
    """
    from joblog.report.planned import catalog_list, catalog_table

    if words:
        return _change_catalog(words, folder)
    found = _catalog(folder)
    _print(catalog_table(found) if as_csv else catalog_list(found), found, as_json, as_csv)
    return 0


def _change_catalog(words: Sequence[str], folder: Path | None) -> int:
    from joblog.catalog.lines import without
    from joblog.catalog.read_csv import merged, read_catalog, with_fields

    first, rest = words[0], words[1:]
    problems: Sequence[Problem] = ()
    with _open(folder) as book:
        if first == "set" and len(rest) > 1:
            fields = dict(_named_values(rest[1:]))
            _worded(lambda: book.change_catalog(lambda now: with_fields(now, rest[0], fields)))
            click.echo(f"{_plain(rest[0])}: changed")
        elif first == "drop" and len(rest) == 1:
            _worded(lambda: book.change_catalog(lambda now: without(now, rest[0])))
            click.echo(f"{_plain(rest[0])}: dropped")
        elif first not in ("set", "drop") and not rest:
            read, problems = read_catalog(Path(first))
            if read.items or read.tasks:
                book.change_catalog(lambda now: merged(now, read))
            click.echo(f"{len(read.items)} items and {len(read.tasks)} tasks taken in", err=True)
        else:
            raise click.UsageError("say FILE.csv, set NAME FIELD=VALUE ..., or drop NAME")
    return _report_problems(problems)


def _measuring_options(command: Command) -> Command:
    for option in (
        click.option("--work", help="Instead of FILE: the kind of work of one run."),
        click.option("--place", default="", help="With --work: where it is."),
        click.option(
            "--set", "values", multiple=True, help="With --work: a measure, like length=41ft."
        ),
        click.option(
            "--measured", is_flag=True, help="Fill in what was dictated at the places of the job."
        ),
        click.option("--fahrenheit", type=int, help="When it will be cut, for all runs."),
        click.option("--tolerance", default="1/8", help="Inches by which depths may differ."),
        click.option(
            "--works",
            "works_file",
            type=click.Path(path_type=Path),
            help="More kinds of work (TOML). The book's own works.toml is read anyway.",
        ),
    ):
        command = option(command)
    return command


def _learning_options(command: Command) -> Command:
    for option in (
        click.option("--learned", is_flag=True, help="Take waste and hours from your closed jobs."),
        click.option(
            "--from",
            "paper",
            type=click.Path(path_type=Path),
            help="Earlier jobs as CSV, as for joblog rates; implies --learned.",
        ),
        click.option("--half-life", type=float, metavar="DAYS", help="Jobs this old count half."),
        click.option(
            "--crew", type=click.IntRange(1), help="With --learned: how many people will work."
        ),
    ):
        command = option(command)
    return command


@commands.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--kinds", is_flag=True, help="List the kinds of work and what each wants to know.")
@click.option("--pieces", is_flag=True, help="Print the pieces to cut, as CSV for joblog cuts.")
@click.option("--to-plan", is_flag=True, help="Make it the plan of the job.")
@_learning_options
@_measuring_options
@_book_options
@_json_option
@_csv_option
def takeoff(
    file: Path | None,
    kinds: bool,
    pieces: bool,
    to_plan: bool,
    learned: bool,
    paper: Path | None,
    half_life: float | None,
    crew: int | None,
    folder: Path | None,
    job_name: str | None,
    as_json: bool,
    as_csv: bool,
    **measuring: Any,
) -> int:
    """Work out what measured runs need. FILE is a spreadsheet of runs (CSV).

    \b
    joblog takeoff runs.csv
    joblog takeoff --work "boxed eave" --place "north eave" --set length=41 --set depth=12
    joblog takeoff runs.csv --to-plan --learned
    """
    from joblog.ordering.order import cut_from, needs_of
    from joblog.report import as_csv as csv_of
    from joblog.report.planned import (
        foreseen_json,
        foreseen_sheet,
        foreseen_table,
        piece_table,
        take_off_sheet,
        take_off_table,
        works_table,
    )

    if kinds:
        works, problems = _works(folder, measuring["works_file"])
        _print(works_table(works), works, as_json, as_csv)
        return _report_problems(problems)
    found, problems = _taken_off(file, folder, job_name, **measuring)
    known = _catalog(folder)
    cut = cut_from(found, known) if to_plan or learned or paper else {}
    needs = needs_of(found, known, cut)
    foreseen: Foreseen | None = None
    untold: tuple[Problem, ...] = ()
    if learned or paper:
        degrees = measuring["fahrenheit"]
        work = _work_of(found, known)
        foreseen, notes, untold = _foreseen(needs, work, folder, paper, half_life, degrees, crew)
        found = replace(found, notes=(*notes, *found.notes))
    if to_plan and problems:
        _complain("The plan of the job was not changed; mend these first:")
    elif to_plan:
        _make_plan(found, cut, foreseen, folder, job_name)
    if as_json:
        _print_json(
            found if foreseen is None else {"take_off": found, "learned": foreseen_json(foreseen)}
        )
    elif pieces or as_csv:
        table = take_off_table(found) if foreseen is None else foreseen_table(foreseen, needs)
        click.echo(csv_of(piece_table(found.pieces) if pieces else table), nl=False)
    else:
        click.echo(take_off_sheet(found, needs, _width()))
        if foreseen is not None:
            click.echo("\n" + foreseen_sheet(foreseen, needs, _width()))
    return _report_problems((*problems, *untold))


@commands.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option(
    "--allowance",
    "allowances",
    multiple=True,
    help='For what gets spoiled: 7%, or "fascia=10%" for one item. 5% unless said.',
)
@click.option("--on-hand", "on_hand", multiple=True, help='Like "soffit panel=3"; may be repeated.')
@click.option(
    "--risk", help="With --learned: the chance of running short of an item. 10% unless said."
)
@click.option(
    "--trip", help="Instead of --risk: what a second trip costs, for all that an item lacks."
)
@click.option("--missing", help="Instead of --trip: what each pack missing costs.")
@click.option("--left-over", help="With --trip or --missing: what each pack left over costs.")
@_learning_options
@_measuring_options
@_book_options
@_json_option
@_csv_option
def order(
    file: Path | None,
    allowances: Sequence[str],
    on_hand: Sequence[str],
    risk: str | None,
    trip: str | None,
    missing: str | None,
    left_over: str | None,
    learned: bool,
    paper: Path | None,
    half_life: float | None,
    crew: int | None,
    folder: Path | None,
    job_name: str | None,
    as_json: bool,
    as_csv: bool,
    **measuring: Any,
) -> int:
    """What to buy for the runs in FILE, or without one for the plan of the job, in whole packs.

    What is cut from stock is counted by its cut list. With --job, what was counted on hand is
    deducted.

    \b
    joblog order runs.csv --allowance 7%
    joblog order runs.csv --learned --risk 5%
    joblog order runs.csv --learned --trip 60 --left-over 8
    """
    from joblog.ordering import order as ordering
    from joblog.report import as_csv as csv_of
    from joblog.report.planned import order_sheet, order_table

    said = _worded(lambda: ordering.shares_of(allowances))
    chance, costs = _worded(lambda: ordering.stakes_of(risk, trip, missing, left_over))
    learning = learned or paper is not None
    if (chance is not None or costs is not None) and not learning:
        raise click.UsageError("what running short may cost is only known with --learned")
    if learning and said.usual is not None:
        raise click.UsageError('with --learned, --allowance is for one item, like "fascia=10%"')
    problems: Sequence[Problem] = ()
    if file or measuring["work"]:
        found, problems = _taken_off(file, folder, job_name, **measuring)
        known = _catalog(folder)
        needs = ordering.needs_of(found, known, ordering.cut_from(found, known))
        kept, notes = _on_hand(folder, job_name) if job_name else ({}, ())
    else:
        with _open_job(folder, job_name) as (book, job):
            needs = ordering.needs_of_plan(book.plan(job.name), book.catalog())
            job_name = job.name
        kept, notes = _on_hand(folder, job_name)
    foreseen = None
    if learning:
        degrees = measuring["fahrenheit"]
        foreseen, told, untold = _foreseen(needs, {}, folder, paper, half_life, degrees, crew)
        notes, problems = (*told, *notes), (*problems, *untold)
    elif said.usual is None and any(need.allowance is not None for need in needs):
        notes = (*notes, ordering.NO_RESERVE)
    counted = _worded(lambda: ordering.counts_of(on_hand))
    lines = _worded(
        lambda: ordering.order(
            needs,
            {**kept, **counted},
            said.items,
            said.usual,
            foreseen,
            risk=chance,
            costs=costs,
        )
    )
    if as_json:
        _print_json(lines)
    elif as_csv:
        click.echo(csv_of(order_table(lines)), nl=False)
    else:
        asked = ordering.stakes_told(chance, costs) if learning else ""
        click.echo(order_sheet(lines, (*notes, *filter(None, [asked])), _width()))
    return _report_problems(problems)


def _taken_off(
    file: Path | None,
    folder: Path | None,
    job_name: str | None,
    *,
    work: str | None,
    place: str,
    values: Sequence[str],
    measured: bool,
    fahrenheit: int | None,
    tolerance: str,
    works_file: Path | None,
) -> tuple[TakeOff, tuple[Problem, ...]]:
    from joblog.quantity import fraction_of
    from joblog.takeoff import runs as reading
    from joblog.takeoff.take_off import take_off

    works, wrong = _works(folder, works_file)
    if file is not None and work is not None:
        raise click.UsageError("name a FILE of runs or one run with --work, not both")
    if work is not None:
        cells = {"work": work, "place": place, **dict(_named_values(values))}
        runs: tuple[Run, ...] = (_worded(lambda: reading.run_of(cells, works)),)
        unread: tuple[Problem, ...] = ()
    elif file is not None:
        runs, unread = reading.read_runs(file, works)
    else:
        raise click.UsageError("name a FILE of runs, or one run with --work, --place and --set")
    told: tuple[str, ...] = ()
    if measured:
        with _open_job(folder, job_name) as (book, job):
            runs, told = reading.as_dictated(runs, _sensed(book, job), works)
    if fahrenheit is not None:
        runs = reading.with_usual(runs, works, fahrenheit=fahrenheit)
    allowed = _worded(lambda: fraction_of(tolerance))
    if allowed < 0:
        raise click.ClickException(f"a tolerance of {tolerance} is below zero")
    found, problems = take_off(runs, _catalog(folder), works, allowed)
    return replace(found, notes=(*told, *found.notes)), (*wrong, *unread, *problems)


def _work_of(found: TakeOff, catalog: Catalog) -> dict[Task, Fraction]:
    from joblog.ordering.order import work_of

    return work_of(found, catalog)


def _foreseen(
    needs: Sequence[Need],
    work: dict[Task, Fraction],
    folder: Path | None,
    paper: Path | None,
    half_life: float | None,
    fahrenheit: int | None,
    crew: int | None,
) -> tuple[Foreseen, tuple[str, ...], tuple[Problem, ...]]:
    """What the closed jobs of the book and those on paper foretell, notes, and unread rows."""
    from joblog.ordering.foresee import foresee
    from joblog.rates import learn

    if half_life is not None and not half_life > 0:
        raise click.ClickException("--half-life must be more than zero days.")
    history, notes, problems = _history(folder, paper)
    estimate = {task.name: 1 / task.per_hour for task in work if task.per_hour}
    learned = learn(history, half_life=half_life, as_of=date.today(), estimate=estimate)
    warm = None if fahrenheit is None else Fraction(fahrenheit)
    foreseen = _worded(lambda: foresee(needs, work, learned, fahrenheit=warm, crew=crew))
    return foreseen, (*notes, *learned.rates.notes), problems


def _history(
    folder: Path | None, paper: Path | None
) -> tuple[History, tuple[str, ...], tuple[Problem, ...]]:
    """The closed jobs of the book, if there is one, and those of a file, if one was named."""
    from joblog.model import History
    from joblog.rates import joined, read_history_csv

    book_jobs, notes = History(), tuple[str, ...]()
    if folder is not None or (_book_folder(None) / "book.sqlite").is_file():
        with _open(folder) as book:
            book_jobs, notes = book.history()
    on_paper, problems = (
        read_history_csv(paper, today=date.today()) if paper is not None else (History(), ())
    )
    both, twice = joined(book_jobs, on_paper)
    return both, (*notes, *twice), problems


def _make_plan(
    found: TakeOff,
    cut: dict[str, Fraction],
    foreseen: Foreseen | None,
    folder: Path | None,
    job_name: str | None,
) -> None:
    from joblog.ordering.order import planned

    with _open_job(folder, job_name) as (book, job):
        before = book.plan(job.name)
        plan = _worded(lambda: planned(found, book.catalog(), before, cut, foreseen))
        book.set_plan(job.name, plan)
        new = dict.fromkeys(line.item for line in found.lines)
        kept = [line.item.name for line in plan.items if line.item.name not in new]
        stayed = f"; as before: {', '.join(kept)}" if kept else ""
        click.echo(f"{job.name}: planned {', '.join(new)}{stayed}", err=True)


def _works(folder: Path | None, file: Path | None) -> tuple[Works, tuple[Problem, ...]]:
    """Our kinds of work, then the book's own, then those of `file`; the later ones count."""
    from joblog.takeoff.take_off import check
    from joblog.takeoff.works import read_works, starter_works

    works = dict(starter_works())
    problems: list[Problem] = []
    own = _book_folder(folder) / "works.toml"
    for source in ([own] if own.is_file() else []) + ([file] if file else []):
        read, unread = read_works(source)
        wrong = check(read, _catalog(folder))
        problems += [*unread, *wrong]
        works.update(
            {name: kind for name, kind in read.items() if name not in [p.what for p in wrong]}
        )
    return works, tuple(problems)


def _catalog(folder: Path | None) -> Catalog:
    """The book's catalog; the starter's where there is no book and none was named."""
    from joblog.catalog.lines import starter_catalog

    if folder is None and not (_book_folder(None) / "book.sqlite").is_file():
        return starter_catalog()
    with _open(folder) as book:
        return book.catalog()


def _on_hand(
    folder: Path | None, job_name: str | None
) -> tuple[dict[str, Fraction], tuple[str, ...]]:
    from joblog.ordering.order import on_hand_of

    with _open_job(folder, job_name) as (book, job):
        return on_hand_of(_reconciled(book, job))


def _named_values(words: Sequence[str]) -> Iterator[tuple[str, str]]:
    for word in words:
        name, equals, value = word.partition("=")
        if not equals or not name.strip():
            raise click.UsageError(f"{word!r} is written NAME=VALUE")
        yield name.strip(), value.strip()


def _worded(work: Callable[[], Answer]) -> Answer:
    """What `work` gives; a ValueError written for a person becomes the command's own message."""
    try:
        return work()
    except ValueError as error:
        raise click.ClickException(str(error)) from None


# --- taking in --------------------------------------------------------------------------------


@commands.command()
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--model", type=click.Path(path_type=Path), help="Another Vosk model folder.")
@_book_options
@_json_option
def add(
    paths: Sequence[Path],
    model: Path | None,
    folder: Path | None,
    job_name: str | None,
    as_json: bool,
) -> int:
    """Take in recordings and photos: files, or folders of them. Originals are copied."""
    with _open_job(folder, job_name) as (book, job):
        intake = _take_in(book, job.name, paths, not as_json, model)
        if as_json:
            _print_json(intake)
        else:
            doubts = sum(entry.open for entry in _sensed(book, job))
            click.echo(
                f"{intake.recordings} recordings and {intake.photos} photos taken in, "
                f"{intake.already_there} were there already; {doubts} doubts to settle"
            )
            for name in intake.left_out:
                click.echo(f"left alone, neither recording nor photo: {_plain(name)}")
        status = _report_problems(intake.problems)
        return 130 if intake.stopped else status


def _take_in(
    book: Book, job: str, paths: Sequence[Path], shown: bool, model: Path | None = None
) -> Intake:
    from joblog.book.intake import take_in
    from joblog.speech import recognizers

    chosen = recognizers(model) if model else None
    with _progress(shown) as progress:
        return take_in(book, job, paths, recognizers=chosen, progress=progress)


@contextmanager
def _progress(shown: bool) -> Iterator[Callable[[int, int, str], None] | None]:
    """One line that counts along on a terminal; nothing where nobody watches."""
    if not shown or not sys.stderr.isatty():
        yield None
        return
    width = shutil.get_terminal_size().columns - 1

    def tell(done: int, total: int, doing: str) -> None:
        line = f"  {done} of {total}  {_plain(doing)}"[:width]
        click.echo(f"\r{line.ljust(width)}", nl=False, err=True)

    try:
        yield tell
    finally:
        click.echo("\r" + " " * width + "\r", nl=False, err=True)


@commands.command()
@click.argument("text")
@click.option("--at", "at", type=click.DateTime(["%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M"]))
@_book_options
@_json_option
def write(
    text: str, at: datetime | None, folder: Path | None, job_name: str | None, as_json: bool
) -> int:
    """Write down TEXT as if it had been said, now or --at "2026-10-05 14:30"."""
    from zoneinfo import ZoneInfo

    from joblog.dictation import Context, read
    from joblog.plan import vocabulary

    with _open_job(folder, job_name) as (book, job):
        local = at.replace(tzinfo=ZoneInfo(job.zone)) if at else datetime.now(ZoneInfo(job.zone))
        words = vocabulary(book.plan(job.name), job, book.catalog())
        reading = read(text, words, Context(at=local.replace(tzinfo=None)))
        ids = book.add_typed(job.name, reading, text, local.astimezone(UTC))
        made = [entry for entry in _sensed(book, job) if entry.id in ids]
        _print_entries(book, job, made, as_json, False)
        return 0 if ids else 1


# --- looking ----------------------------------------------------------------------------------


@commands.command()
@click.option("--doubtful", is_flag=True, help="Only those that wait for a decision.")
@_day_option
@_book_options
@_json_option
@_csv_option
def entries(
    doubtful: bool,
    day: datetime | None,
    folder: Path | None,
    job_name: str | None,
    as_json: bool,
    as_csv: bool,
) -> None:
    """List what was said."""
    with _open_job(folder, job_name) as (book, job):
        found = _sensed(book, job, _date(day))
        wanted = [entry for entry in found if entry.open or not doubtful]
        _print_entries(book, job, wanted, as_json, as_csv)


@commands.command()
@_day_option
@_book_options
@_json_option
@_csv_option
def photos(
    day: datetime | None, folder: Path | None, job_name: str | None, as_json: bool, as_csv: bool
) -> None:
    """List the photos and the entries they belong to."""
    from joblog.report import photo_list

    with _open_job(folder, job_name) as (book, job):
        found, ties = book.photos(job.name, _date(day)), book.ties(job.name)
        shown = {"photos": found, "ties": ties}
        _print(photo_list(job, found, ties), shown, as_json, as_csv)


@commands.command()
@_book_options
@_json_option
@_csv_option
def recordings(folder: Path | None, job_name: str | None, as_json: bool, as_csv: bool) -> None:
    """List the recordings, when each was made and how that is known."""
    from joblog.report import recording_list

    with _open_job(folder, job_name) as (book, job):
        found = book.recordings(job.name)
        _print(recording_list(job, found), found, as_json, as_csv)


@commands.command()
@click.argument("day", required=False, type=click.DateTime(["%Y-%m-%d"]))
@_book_options
@_json_option
def day(day: datetime | None, folder: Path | None, job_name: str | None, as_json: bool) -> None:
    """Print the sheet of one DAY, the last one unless named."""
    with _open_job(folder, job_name) as (book, job):
        days = book.days(job.name)
        wanted = _date(day) or (days[-1] if days else None)
        if wanted is None:
            raise click.ClickException(f"{job.name}: nothing was said yet; add recordings first.")
        if as_json:
            _print_json({"day": wanted, "entries": _sensed(book, job, wanted)})
        else:
            click.echo(_day_sheet(book, job, wanted))


_TABLES = (
    "balance", "quantity", "money", "labor", "pay", "places", "days", "reasons", "missing",
)  # fmt: skip


@commands.command()
@click.option("--table", type=click.Choice(_TABLES), help="Only this table, all of it.")
@_book_options
@_json_option
@_csv_option
def squareup(
    table: str | None, folder: Path | None, job_name: str | None, as_json: bool, as_csv: bool
) -> None:
    """Compare what was planned with what was used: material, hours, money, and why."""
    from joblog.report.figures import TABLES, reason_table

    with _open_job(folder, job_name) as (book, job):
        result = _reconciled(book, job)
        if as_json:
            _print_json(result)
        elif table == "reasons":
            _print(reason_table(result, _behind(book, job)), result, False, as_csv)
        elif as_csv or table:
            _print(TABLES[table or "balance"](result), result, False, as_csv)
        else:
            click.echo(_squared_up(book, job))


@commands.command()
@click.option(
    "--day",
    type=click.DateTime(["%Y-%m-%d"]),
    help="The day it counts for when rates are learned. Else the last day of the job.",
)
@click.option("--anyway", is_flag=True, help="Close it though something is in the way.")
@_book_options
@_json_option
def close(
    day: datetime | None, anyway: bool, folder: Path | None, job_name: str | None, as_json: bool
) -> int:
    """Close a job: freeze its figures, so that the next bid can learn from them.

    What is missing is frozen as missing. Entries that wait for a decision, that contradict each
    other, or a job without a plan are in the way; --anyway closes over them, and what they are
    about teaches nothing. A later change reopens the job by itself, and it can be closed again.
    """
    from joblog.book.closing import in_the_way, taught
    from joblog.reconcile import sensed
    from joblog.report.closed import closed_sheet

    with _open_job(folder, job_name) as (book, job):
        wanted = _closing_day(book, job, day)
        found, planned, known = book.entries(job.name), book.plan(job.name), book.catalog()
        figures = _reconciled(book, job)
        obstacles = in_the_way(planned, figures, sensed(job, planned, found, known))
        if obstacles and not anyway:
            _complain(f"{job.name} was not closed:")
            for obstacle in obstacles:
                _complain(f"  {obstacle.why}")
            _complain("Settle that first, or close it --anyway.")
            return 1
        closing = book.close_job(job.name, wanted, figures, found)
        lessons = taught(wanted, closing.figures)
        if as_json:
            _print_json({"closing": closing, "taught": lessons, "closed_over": obstacles})
            return 0
        click.echo(closed_sheet(closing, lessons, _width()))
        for obstacle in obstacles:
            _complain(f"closed over: {obstacle.why}")
        return 0


def _closing_day(book: Book, job: Job, day: datetime | None) -> date:
    from zoneinfo import ZoneInfo

    days = book.days(job.name)
    if not days:
        raise click.ClickException(
            f"{job.name}: nothing was said yet, so there is nothing to close."
        )
    wanted = _date(day) or days[-1]
    if wanted > max(datetime.now(ZoneInfo(job.zone)).date(), days[-1]):
        raise click.ClickException(f"--day {wanted} has not come yet.")
    return wanted


@commands.command()
@click.option(
    "--add",
    "added",
    type=click.Path(path_type=Path),
    help="Keep earlier jobs in the book, from CSV: job, date, item, net, consumed, and what else "
    "is known. A line that is there already is replaced.",
)
@click.option("--drop", "dropped", metavar="JOB", help="Drop an earlier job that was added.")
@click.option(
    "--from",
    "file",
    type=click.Path(path_type=Path),
    help="Look at such a file alone, without any book.",
)
@click.option("--half-life", type=float, metavar="DAYS", help="Jobs this old count half.")
@click.option("--backtest", is_flag=True, help="How well each job would have been predicted.")
@click.option("--book", "folder", type=click.Path(path_type=Path), envvar="JOBLOG_BOOK")
@_json_option
@_csv_option
def rates(
    added: Path | None,
    dropped: str | None,
    file: Path | None,
    half_life: float | None,
    backtest: bool,
    folder: Path | None,
    as_json: bool,
    as_csv: bool,
) -> int:
    """Show what earlier jobs teach: waste of every item, hours of every task, and how sure.

    \b
    joblog rates                          closed jobs of the book, and those added from paper
    joblog rates --add earlier.csv        keep earlier jobs from paper in the book
    joblog rates --from earlier.csv       look at a file alone
    """
    from joblog.rates import back_test, learn
    from joblog.report import as_csv as csv_of
    from joblog.report import back_tested, learned
    from joblog.report.learned import cost_table, coverage_table, rate_table

    if half_life is not None and not half_life > 0:
        raise click.ClickException("--half-life must be more than zero days.")
    if file is not None and (added is not None or dropped is not None):
        raise click.UsageError("--from looks at a file alone; to keep it in the book say --add")
    history, notes, problems, estimate = (
        _history_alone(file) if file is not None else _history_kept(folder, added, dropped)
    )
    if file is not None and not (history.uses or history.work):
        return _report_problems(problems) or 1
    if backtest:
        tested = back_test(history, half_life=half_life)
        tested = replace(tested, notes=(*notes, *tested.notes))
        tables = [coverage_table(tested), cost_table(tested)]
        text = back_tested(tested, _width())
    else:
        found = learn(history, half_life=half_life, as_of=date.today(), estimate=estimate).rates
        found = replace(found, notes=(*notes, *found.notes))
        tables, text = [rate_table(found)], learned(found, _width())
    if as_json:
        _print_json(tested if backtest else found)
    elif as_csv:
        click.echo("\n".join(map(csv_of, tables)), nl=False)
    else:
        click.echo(text)
    return _report_problems(problems)


def _history_alone(file: Path) -> Known:
    from joblog.rates import read_history_csv

    history, problems = read_history_csv(file, today=date.today())
    return history, (), problems, {}


def _history_kept(folder: Path | None, added: Path | None, dropped: str | None) -> Known:
    """What the book knows, after what was to be added to it or dropped from it."""
    from joblog.rates import read_history_csv

    problems: tuple[Problem, ...] = ()
    with _open(folder) as book:
        if dropped is not None:
            lines = book.drop_past(dropped)
            if not lines:
                past = book.past()
                known = [use.job for use in past.uses] + [work.job for work in past.work]
                names = ", ".join(dict.fromkeys(known))
                raise click.ClickException(
                    f"no earlier job called {_plain(dropped)!r} was added; those that were: "
                    f"{_plain(names) or 'none'}"
                )
            click.echo(f"{_plain(dropped)}: dropped, with {lines} of its lines", err=True)
        if added is not None:
            earlier, problems = read_history_csv(added, today=date.today())
            new = book.keep_past(earlier)
            lines = len(earlier.uses) + len(earlier.work)
            click.echo(f"{lines} lines of earlier jobs kept, {new} of them new", err=True)
        history, notes = book.history()
        tasks = book.catalog().tasks
    return (
        history,
        notes,
        problems,
        {task.name: 1 / task.per_hour for task in tasks if task.per_hour},
    )


@commands.command()
@_day_option
@_book_options
def review(day: datetime | None, folder: Path | None, job_name: str | None) -> None:
    """Go through the day on the terminal: settle doubts, correct, square up."""
    # The screen is drawn on standard error.
    if not all(stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr)):
        raise click.ClickException(
            "review needs a terminal, with keys to press and a screen to look at. "
            "Without one: joblog day, joblog entries, joblog squareup."
        )
    with _open_job(folder, job_name) as (book, job):
        _open_review(book, job.name, _date(day))


def _open_review(book: Book, job: str, day: date | None) -> None:
    # The terminal interface stands on this package; it is only reached from here.
    from joblog_tui.app import review

    review(book, job, day)


@commands.command()
@click.option(
    "--from",
    "file",
    type=click.Path(path_type=Path, allow_dash=True),
    help="A spreadsheet (CSV) with the columns length, pieces, label, and item if several. Without "
    "it, or with -, what is piped in.",
)
@click.option(
    "--stock",
    "stock",
    multiple=True,
    help='A stock length: 12\', "12\' x 10" for ten of it, "12\' @ 18.50" for its cost. May be '
    "repeated. Else the item's own, else 12'.",
)
@click.option("--offcut", "offcuts", multiple=True, help='On hand, used first: 63.5 or "63.5 x 2".')
@click.option("--kerf", help="What the blade takes. Else the item's own, else 1/8.")
@click.option("--useful", help="The shortest offcut worth keeping. Else the item's own, else 24.")
@click.option("--lap", help="Pieces longer than any stock are runs of sticks that lap so much.")
@click.option("--two-up", is_flag=True, help="Two sticks are stacked and cut at once.")
@click.option("--item", help="Only the pieces of this item.")
@click.option(
    "--was",
    type=click.Path(path_type=Path),
    help="An earlier list (JSON) that was begun: what was cut of it stays, the rest is new.",
)
@click.option("--done", type=int, default=0, help="Sticks of the earlier list that were cut.")
@click.option("--begun", type=int, default=0, help="Cuts made on the stick after those.")
@click.option(
    "--seconds", type=click.FloatRange(0, 3600), default=20.0, show_default=True, help="To search."
)
@click.option("--html", type=click.Path(path_type=Path), help="Write a page for phone or printer.")
@click.option("--book", "folder", type=click.Path(path_type=Path), envvar="JOBLOG_BOOK")
@_json_option
@_csv_option
def cuts(
    file: Path | None,
    folder: Path | None,
    html: Path | None,
    was: Path | None,
    as_json: bool,
    as_csv: bool,
    **wishes: Any,
) -> int:
    """List what to cut from which stick, with the least stock. Needs no job.

    \b
    joblog cuts --from pieces.csv --stock 12' --stock 16' --kerf 1/8 --offcut 63.5
    joblog takeoff runs.csv --pieces | joblog cuts --two-up
    joblog cuts --from pieces.csv --json > cuts.json
    joblog cuts --from changed.csv --was cuts.json --done 3 --begun 2
    """
    from joblog.cutting.cut_lists import cut_lists
    from joblog.cutting.read_pieces import read_pieces
    from joblog.cutting.read_plan import read_plans
    from joblog.report import as_csv as csv_of
    from joblog.report.cut_sheet import cut_json, cut_page, cut_sheet, cut_table

    pieces, problems = read_pieces(_piped_in() if file is None or str(file) == "-" else file)
    try:
        earlier = read_plans(was) if was else ()
        plans, uncut = cut_lists(pieces, _catalog(folder), was=earlier, **wishes)
    except ValueError as error:
        raise click.ClickException(str(error)) from None
    problems = (*problems, *uncut)
    if html is not None:
        of = "" if file is None or str(file) == "-" else f" of {file.stem}"
        _write(html, cut_page(plans, f"Cut list{of}"))
    if as_json:
        _print_json({"plans": [cut_json(plan) for plan in plans], "problems": problems})
    elif as_csv:
        click.echo(csv_of(cut_table(plans)), nl=False)
    else:
        click.echo(cut_sheet(plans, _width()), nl=bool(plans))
    return _report_problems(problems)


def _piped_in() -> str:
    if sys.stdin.isatty():
        raise click.UsageError("name a FILE of pieces with --from, or pipe one in")
    try:
        return sys.stdin.buffer.read().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise click.ClickException("what was piped in is no UTF-8 text") from None


def _write(file: Path, text: str) -> None:
    try:
        file.write_text(text, "utf-8")
    except OSError as error:
        raise click.ClickException(f"{file}: cannot be written: {error.strerror}") from None


# --- without a book ---------------------------------------------------------------------------


@commands.command()
@click.argument("text")
@_book_options
@_json_option
def parse(text: str, folder: Path | None, job_name: str | None, as_json: bool) -> None:
    """Show what TEXT would be read as. Stores nothing.

    With --book or --job the words of that job are known too.
    """
    from joblog.dictation import competing, read
    from joblog.form import describe, reading_to_json

    words = _words(folder, job_name)
    reading, others = read(text, words), competing(text, words)
    if as_json:
        _print_json(reading_to_json(reading, others))
        return
    for entry in reading.entries:
        click.echo(describe(entry))
    for doubt in reading.doubts:
        click.echo(f"doubt about entry {doubt.entry + 1}: {_plain(doubt.why)}")
    if reading.unread:
        click.echo(f"not read: {_plain(reading.unread)}")
    for other in others:
        facts = "; ".join(describe(entry) for entry in other.reading.entries)
        click.echo(f"or: {facts}\n    {_plain(other.why)}")


@commands.command()
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--model", type=click.Path(path_type=Path), help="Another Vosk model folder.")
@click.option("--zone", help="Time zone of the recordings. Else this machine's.")
@_book_options
@_json_option
def hear(
    files: Sequence[Path],
    model: Path | None,
    zone: str | None,
    folder: Path | None,
    job_name: str | None,
    as_json: bool,
) -> int:
    """Show what is heard in recordings, and read as what. Stores nothing."""
    from joblog.book.hearing import heard_in
    from joblog.form import describe
    from joblog.model import Problem
    from joblog.speech import recognizers

    words = _words(folder, job_name)
    ears = recognizers(model) if model else recognizers()
    shown, problems = [], []
    for file in files:
        result = heard_in(file, zone or _own_zone(), words, ears)
        if isinstance(result, Problem):
            problems.append(result)
            continue
        shown.append({"file": str(file), "recording": result.recording, "heard": result.heard})
        if as_json:
            continue
        recording = result.recording
        trouble = f"  ({_plain(recording.trouble)})" if recording.trouble else ""
        click.echo(f"{_plain(str(file))}  {recording.seconds:.1f} s{trouble}")
        for one in result.heard:
            click.echo(f"  {one.utterance.start:6.1f} s")
            for hearing in one.utterance.hearings:
                click.echo(f"      {hearing.recognizer:20} {_plain(hearing.text)}")
            for at, entry in enumerate(one.reading.entries):
                click.echo(f"    = {describe(entry)}")
                for doubt in one.reading.doubts:
                    if doubt.entry == at:
                        click.echo(f"      doubt: {_plain(doubt.why)}")
    if as_json:
        _print_json(shown)
    return _report_problems(problems)


@commands.command("fetch-model")
def fetch_model() -> None:
    """Fetch the general English Vosk model from its makers, over the network.

    The only command that goes online. joblog works without it.
    """
    from joblog.speech import fetch_general_model

    click.echo(f"It is in {fetch_general_model()}; name it with --model.")


# --- pieces -----------------------------------------------------------------------------------


def _words(folder: Path | None, job_name: str | None) -> Vocabulary:
    """The words of a job where one is named, those of the catalog alone otherwise."""
    from joblog.model import Plan
    from joblog.plan import vocabulary

    if folder is None and job_name is None:
        return vocabulary(Plan())
    with _open_job(folder, job_name) as (book, job):
        return vocabulary(book.plan(job.name), job, book.catalog())


def _book_folder(folder: Path | None) -> Path:
    if folder is not None:
        return folder
    return Path() if Path("book.sqlite").is_file() else Path.home() / "joblog"


def _open(folder: Path | None) -> Book:
    from joblog.book import Book

    return Book.open(_book_folder(folder))


@contextmanager
def _open_job(folder: Path | None, job_name: str | None) -> Iterator[tuple[Book, Job]]:
    with _open(folder) as book:
        if job_name is not None:
            yield book, book.job(job_name)
            return
        known = book.jobs()
        if len(known) != 1:
            names = ", ".join(job.name for job in known)
            raise click.ClickException(
                f"which job? Say --job with one of: {names}"
                if known
                else "this book has no job yet; begin one with: joblog new NAME"
            )
        yield book, known[0]


def _own_zone() -> str:
    from joblog.zone import own_zone

    return own_zone()


def _date(day: datetime | None) -> date | None:
    return day.date() if day else None


def _sensed(book: Book, job: Job, day: date | None = None) -> Sequence[BookEntry]:
    """The entries of a day, or of the job, with the doubts that the whole job casts on them."""
    from joblog.reconcile import sensed

    wanted = None if day is None else {entry.id for entry in book.entries(job.name, day)}
    every = sensed(job, book.plan(job.name), book.entries(job.name), book.catalog())
    return [entry for entry in every if wanted is None or entry.id in wanted]


def _reconciled(book: Book, job: Job) -> Any:
    from joblog.reconcile import reconcile

    return reconcile(job, book.plan(job.name), book.entries(job.name), book.catalog())


def _squared_up(book: Book, job: Job) -> str:
    from joblog.report import squared_up

    result, closing = _reconciled(book, job), book.closing(job.name)
    return squared_up(result, _width(), _behind(book, job), closing)


def _behind(book: Book, job: Job) -> dict[int, str]:
    """The recording, with the time in it, and the photos behind each entry."""
    names = {one.sha256: one.name for one in book.recordings(job.name)}
    names |= {one.sha256: one.name for one in book.photos(job.name)}
    heard = {one.id: one for one in book.utterances(job.name)}
    told: dict[int, list[str]] = {}
    for kept in book.entries(job.name):
        if kept.utterance in heard:
            one = heard[kept.utterance]
            minutes, seconds = divmod(int(one.utterance.start), 60)
            told[kept.id] = [f"{names[one.recording]} at {minutes}:{seconds:02}"]
    for tie in book.ties(job.name):
        told.setdefault(tie.entry, []).append(f"photo {names[tie.photo]}")
    return {entry: ", ".join(parts) for entry, parts in told.items()}


def _day_sheet(book: Book, job: Job, day: date) -> str:
    from joblog.report import day_sheet

    hours = {line.day: line for line in _reconciled(book, job).days}
    return day_sheet(
        job,
        day,
        _sensed(book, job, day),
        book.photos(job.name, day),
        book.ties(job.name),
        hours.get(day),
    )


def _everything(book: Book, job: Job) -> dict[str, Any]:
    return {
        "job": job,
        "entries": _sensed(book, job),
        "photos": book.photos(job.name),
        "ties": book.ties(job.name),
        "reconciliation": _reconciled(book, job),
    }


def _print_entries(book: Book, job: Job, found: Sequence[Any], as_json: bool, as_csv: bool) -> None:
    from joblog.report import entry_list

    _print(entry_list(job, found), found, as_json, as_csv)


def _print(table: Table, nouns: object, as_json: bool, as_csv: bool) -> None:
    from joblog.report import as_csv as csv_of
    from joblog.report.table import as_text

    if as_json:
        _print_json(nouns)
    elif as_csv:
        click.echo(csv_of(table), nl=False)
    else:
        click.echo(as_text(table, _width()))


def _print_json(value: object) -> None:
    from joblog.form import to_json

    click.echo(json.dumps(to_json(value), indent=1, ensure_ascii=False))


def _report_problems(problems: Sequence[Problem]) -> int:
    for problem in problems:
        _complain(f"{problem.what}: {problem.why}")
    return 1 if problems else 0


def _say(quiet: bool, line: str) -> None:
    if not quiet:
        click.echo(line + "\n")


def _complain(line: str) -> None:
    click.echo(_plain(line), err=True)


def _told(error: Exception) -> bool:
    """True for errors that were written for a person to read."""
    return type(error).__module__.startswith(("joblog.", "joblog_tui."))


def _plain(text: str) -> str:
    from joblog.form import plain

    return plain(text)


def _width() -> int:
    return max(80, shutil.get_terminal_size((100, 24)).columns)
