"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, time
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from joblog.cli.completing import names

if TYPE_CHECKING:
    from joblog.service import Place

Command = TypeVar("Command", bound=Callable[..., Any])
FILE = click.Path(path_type=Path)


def json_option(command: Command) -> Command:
    return click.option("--json", "as_json", is_flag=True, help="Print JSON.")(command)


def csv_option(command: Command) -> Command:
    return click.option("--csv", "as_csv", is_flag=True, help="Print CSV for a spreadsheet.")(
        command
    )


def book_option(command: Command) -> Command:
    """Gives the command its `place`: where the book is or is to be."""
    return click.option(
        "--book",
        "place",
        type=FILE,
        envvar="JOBLOG_BOOK",
        callback=_place,
        help="The book's folder. Else this folder if it holds a book, else joblog in your home.",
    )(command)


def job_options(command: Command) -> Command:
    """Gives the command its `place` and its `job`, None where nobody named one."""
    return book_option(
        click.option(
            "--job",
            help="The job. Not needed while it is clear which; joblog use settles it.",
            shell_complete=names("jobs"),
        )(command)
    )


class _Day(click.DateTime):
    """A day as a person types it: "Oct 5", "5 Oct", "2026-10-05", "yesterday"."""

    name = "day"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> datetime:
        if isinstance(value, datetime):
            return value
        from joblog.local import day_read

        try:
            return datetime.combine(day_read(str(value), date.today()), time())
        except ValueError as error:
            self.fail(str(error), param, ctx)

    def get_metavar(self, param: click.Parameter, ctx: click.Context) -> str:
        return "DAY"


DAY = _Day()


def day_option(command: Command) -> Command:
    """Gives the command its `day`, None where nobody named one."""
    return click.option(
        "--day",
        type=DAY,
        callback=lambda _context, _parameter, moment: date_of(moment),
        shell_complete=names("days"),
        help="Only this day: 2026-10-05, Oct 5, yesterday.",
    )(command)


def measuring_options(command: Command) -> Command:
    """What a take-off is made of: `measuring_of` makes the nouns of what they give."""
    for option in (
        click.option("--house", is_flag=True, help="Instead of FILE: the job's own house."),
        click.option("--work", help="Instead of FILE: the kind of work of one run."),
        click.option(
            "--place",
            "at",
            default="",
            help="With --work: where it is.",
            shell_complete=names("places"),
        ),
        click.option(
            "--set",
            "values",
            multiple=True,
            help="With --work: a measure, like length=41ft. Else of every run that takes it, like"
            " drip_edge=1.",
        ),
        click.option(
            "--measured", is_flag=True, help="Fill in what was dictated at the places of the job."
        ),
        click.option("--fahrenheit", type=int, help="When it will be cut, for all runs."),
        click.option("--tolerance", default="1/8", help="Inches by which depths may differ."),
        click.option(
            "--works",
            "works_file",
            type=FILE,
            help="More kinds of work (TOML). The book's own works.toml is read anyway.",
        ),
    ):
        command = option(command)
    return command


def learning_options(command: Command) -> Command:
    for option in (
        click.option("--learned", is_flag=True, help="Take waste and hours from your closed jobs."),
        click.option(
            "--from",
            "paper",
            type=FILE,
            help="Earlier jobs as CSV, as for joblog rates; implies --learned.",
        ),
        click.option("--half-life", type=float, metavar="DAYS", help="Jobs this old count half."),
        click.option(
            "--crew", type=click.IntRange(1), help="With --learned: how many people will work."
        ),
    ):
        command = option(command)
    return command


def named_values(words: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    """NAME=VALUE words as pairs. Raises UsageError for one that is written otherwise."""
    pairs = []
    for word in words:
        name, equals, value = word.partition("=")
        if not equals or not name.strip():
            raise click.UsageError(f"{word!r} is written NAME=VALUE")
        pairs.append((name.strip(), value.strip()))
    return tuple(pairs)


def date_of(moment: datetime | None) -> date | None:
    return moment.date() if moment else None


def _place(context: click.Context, parameter: click.Parameter, folder: Path | None) -> Place:
    from joblog.service import place_of

    source = context.get_parameter_source(str(parameter.name))
    return place_of(folder, asked=source is click.core.ParameterSource.COMMANDLINE)
